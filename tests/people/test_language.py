"""The language switch."""

import pytest
from django.test import Client

from tests.factories import client_for
from trainer.people.access import Member

pytestmark = pytest.mark.django_db


def test_it_turns_a_strangers_pages_spanish() -> None:
    """A stranger's choice is kept by the browser."""
    client = Client()
    client.post("/language/", {"language": "es-us", "next": "/account/login/"})

    page = client.get("/account/login/")

    assert '<html lang="es-us">' in page.content.decode()
    assert page.headers["Content-Language"] == "es-us"


def test_it_keeps_the_choice_with_the_account(trainee: Member) -> None:
    """A member's choice follows the member to another phone."""
    client_for(trainee).post("/language/", {"language": "es-us"})

    trainee.account.refresh_from_db()

    assert trainee.account.language == "es-us"


@pytest.mark.parametrize("elsewhere", ["https://elsewhere.example/", "//elsewhere.example", "javascript:alert(1)"])
def test_it_leads_to_no_other_site(elsewhere: str) -> None:
    """The address to go back to cannot lead off the site."""
    answer = Client().post("/language/", {"language": "es-us", "next": elsewhere})

    assert answer.headers["Location"] == "/"


def test_it_ignores_a_language_that_it_does_not_have(trainee: Member) -> None:
    """An unknown language changes nothing."""
    client_for(trainee).post("/language/", {"language": "xx"})

    trainee.account.refresh_from_db()

    assert trainee.account.language == "en-us"
