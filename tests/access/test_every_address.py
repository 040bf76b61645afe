"""Every address, tried as every role of the own and of another company, against the written table."""

from collections.abc import Iterator
from typing import Any, cast
from unittest import mock

import pytest
from django.conf import settings
from django.db import transaction
from django.http import HttpResponse, StreamingHttpResponse
from django.test import Client
from django.urls import reverse

from tests.access.table import Entry, addresses, read_table
from tests.access.world import World, make_world
from tests.factories import client_for
from tests.inline import inline_parts
from trainer.people.access import Member

pytestmark = pytest.mark.django_db  # without it, a run of these tests alone would not use the test database
TABLE = read_table()
LISTED = sorted(set(TABLE) & set(addresses()))


@pytest.fixture(scope="module")
def world(django_db_setup: None, django_db_blocker: Any) -> Iterator[World]:
    """Make the world once; each request is rolled back, and the world at the end."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield make_world()
        transaction.set_rollback(True)


def url_of(entry: Entry, world: World) -> str:
    """Give the address with its parts filled in from the world."""
    parts = {name: world.objects[key] for name, key in entry.args.items()}
    filled = {name: getattr(value, "ref", value) for name, value in parts.items()}
    if "company" in addresses()[entry.name].parts and "company" not in filled:
        filled["company"] = world.company.slug
    return reverse(entry.name, kwargs=filled)


def data_of(entry: Entry, world: World) -> dict[str, Any]:
    """Give what a post sends; a value that is the name of an object stands for the object."""
    values = {name: world.objects.get(value, value) for name, value in entry.data.items()}
    return {name: getattr(value, "ref", value) for name, value in values.items()}


def ask(client: Client, method: str, url: str, data: dict[str, Any]) -> HttpResponse:
    """Send one request and undo all that it changed."""
    with transaction.atomic():
        response = cast(HttpResponse, client.get(url) if method == "get" else getattr(client, method)(url, data))
        if isinstance(response, StreamingHttpResponse):
            list(response)
        transaction.set_rollback(True)
    return response


def got_in(response: HttpResponse) -> bool:
    """Tell whether the page was reached: not refused, and not sent to sign in."""
    if response.status_code in (301, 302, 303):
        return not response.headers["Location"].startswith(reverse(settings.LOGIN_URL))
    return response.status_code not in (401, 403, 404, 405)


def sent_to_sign_in(response: HttpResponse) -> bool:
    """Tell whether the visitor was asked to sign in."""
    return response.status_code == 302 and response.headers["Location"].startswith(reverse(settings.LOGIN_URL))


def tries(entry: Entry, world: World, member: Member | None) -> Iterator[tuple[str, HttpResponse]]:
    """Try each method as a member, or as a stranger."""
    for method in entry.methods:
        client = client_for(member) if member is not None else Client()
        yield method, ask(client, method, url_of(entry, world), data_of(entry, world))


def test_it_lists_every_address() -> None:
    """An address that the table lacks is one that nobody thought about."""
    missing = sorted(set(addresses()) - set(TABLE))
    gone = sorted(f"{entry.file}: {name}" for name, entry in TABLE.items() if name not in addresses())

    assert (missing, gone) == ([], []), "addresses that the table lacks, and lines of the table without an address"


@pytest.mark.parametrize("name", LISTED)
def test_it_gives_no_more_than_the_view_is_wrapped_in(name: str) -> None:
    """The table gives nobody more than the view is wrapped in."""
    declared = getattr(addresses()[name].view, "roles", None)

    if declared is None:
        assert not TABLE[name].roles or TABLE[name].public or name.startswith(("account_", "mfa_")) or name == "home"
    else:
        assert TABLE[name].roles <= declared


@pytest.mark.parametrize("name", LISTED)
def test_it_lets_in_the_roles_of_the_table_and_no_other(name: str, world: World) -> None:
    """Somebody of the own company gets in with a role of the table and gets 404 without."""
    entry = TABLE[name]
    wrong = []
    for role, member in world.members.items():
        for method, response in tries(entry, world, member):
            expected = role in entry.roles or entry.public
            refused = response.status_code == 404
            if response.status_code >= 500 or got_in(response) != expected or (not expected and not refused):
                wrong.append(f"{role} {method}: {response.status_code} {response.headers.get('Location', '')}")

    assert wrong == []


@pytest.mark.parametrize("name", LISTED)
def test_it_shows_the_other_company_nothing(name: str, world: World) -> None:
    """Somebody of another company gets 404 where the address names anything of this one, and never reads its name."""
    entry = TABLE[name]
    if entry.public:
        pytest.skip("open to everybody")
    names_ours = bool(addresses()[name].parts) and not entry.shared
    wrong = []
    for role, member in world.outsiders.items():
        for method, response in tries(entry, world, member):
            if response.status_code >= 500 or (names_ours and response.status_code != 404):
                wrong.append(f"{role} {method}: {response.status_code}")
            if not response.streaming and world.company.name in response.content.decode(errors="replace"):
                wrong.append(f"{role} {method}: reads “{world.company.name}”")

    assert wrong == []


@pytest.mark.parametrize("name", LISTED)
def test_it_sends_strangers_to_sign_in(name: str, world: World) -> None:
    """A stranger reads public pages alone."""
    entry = TABLE[name]
    wrong = []
    for method, response in tries(entry, world, None):
        expected = got_in(response) if entry.public else sent_to_sign_in(response)
        if response.status_code >= 500 or not expected:
            wrong.append(f"{method}: {response.status_code} {response.headers.get('Location', '')}")

    assert wrong == []


@pytest.mark.parametrize("name", [name for name in LISTED if "get" in TABLE[name].methods])
def test_it_sends_no_script_or_style_inside_a_page(name: str, world: World) -> None:
    """The content security policy has nothing to refuse, whoever looks."""
    entry = TABLE[name]
    for role in sorted(entry.roles):
        response = ask(client_for(world.members[role]), "get", url_of(entry, world), {})
        if response.headers.get("Content-Type", "").startswith("text/html") and not response.streaming:
            assert inline_parts(response.content.decode()) == []
            assert "default-src 'self'" in response.headers["Content-Security-Policy"]


@pytest.mark.parametrize("name", [name for name in LISTED if TABLE[name].private])
def test_it_keeps_private_addresses_to_the_person_and_the_crew(name: str, world: World) -> None:
    """Another trainee of the company, or the foreman of another crew, gets 404."""
    entry = TABLE[name]
    for member in (world.other_trainee, world.other_foreman):
        for method, response in tries(entry, world, member):
            assert response.status_code == 404, f"{member.account} {method}"


def test_it_would_notice_a_view_without_a_guard(world: World) -> None:
    """The walk itself fails when a guard is taken away."""
    entry = TABLE["roster"]
    member = world.members["trainee"]
    with mock.patch("trainer.people.access.Member.has", return_value=True):
        unguarded = [got_in(response) for _method, response in tries(entry, world, member)]
    guarded = [got_in(response) for _method, response in tries(entry, world, member)]

    assert all(unguarded)
    assert not any(guarded)
