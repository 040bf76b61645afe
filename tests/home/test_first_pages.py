"""The first page of each role."""

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from django.test import Client
from django.urls import reverse

from tests import factories
from trainer.base import clock
from trainer.library import queries as library
from trainer.library.services import adopt_specification, load_lessons
from trainer.people import services as people
from trainer.people.access import Member
from trainer.people.models import Company, Crew, Role
from trainer.training import progress
from trainer.training import services as training

MODULE = "base-sheet-layout"


@pytest.mark.django_db
def test_it_shows_strangers_where_to_sign_in_and_where_to_check_a_record() -> None:
    """The root needs no sign-in and leads on."""
    page = Client().get("/").content.decode()

    assert 'href="/account/login/"' in page
    assert 'href="/V/"' in page


@pytest.mark.parametrize(
    ("roles", "leads_to"),
    [
        ([Role.TRAINEE], "/today/"),
        ([Role.FOREMAN, Role.TRAINEE], "/c/own/my-crew/"),
        ([Role.TRAINER], "/c/own/today/"),
        ([Role.EVALUATOR], "/c/own/today/"),
        ([Role.OFFICE, Role.TRAINER], "/c/own/matrix/"),
        ([Role.ADMINISTRATOR], "/c/own/people/"),
    ],
    ids=["trainee", "foreman", "trainer", "evaluator", "office", "administrator"],
)
def test_it_sends_each_role_to_its_own_page(
    company: Company, sign_in: Callable[[Member], Client], roles: list[Role], leads_to: str
) -> None:
    """The root leads to the first page of the role, and that page opens."""
    client = sign_in(factories.member(company, *roles))

    response = client.get("/")

    assert response.headers["Location"] == leads_to
    assert client.get(leads_to).status_code == 200


def test_it_lets_who_works_for_two_companies_choose(company: Company, other_company: Company) -> None:
    """A trainer of two companies sees both, with the first page in each."""
    both = factories.member(company, Role.TRAINER)
    people.add_person(company=other_company, name="x", email=both.account.email, roles=["office"], by=None)

    client = factories.client_for(both.account)
    page = client.get("/").content.decode()
    led = {}
    for each in (company, other_company):
        assert each.name in page
        led[each.slug] = client.post(reverse("company-choice"), {"company": str(each.ref)}, follow=True).redirect_chain

    assert led["own"][-1] == ("/c/own/today/", 302)
    assert led["other"][-1] == ("/c/other/matrix/", 302)


def test_it_shows_a_trainee_what_is_due_and_what_is_done(
    company: Company,
    crew: Crew,
    trainee: Member,
    trainer: Member,
    sign_in: Callable[[Member], Client],
    few_lessons: Path,
) -> None:
    """An assignment shows its title, who assigned it, and the three things to do."""
    load_lessons(folder=few_lessons)
    adopt_specification(company=company, revision=library.revisions()[0], on=company.today())
    due = company.today() + timedelta(days=2)
    training.assign(company=company, module=MODULE, due=due, by=trainer.account, crew=crew)

    page = sign_in(trainee).get("/today/").content.decode()

    assert "Base sheet layout and laps" in page
    assert trainer.account.name in page
    assert f"/lessons/{MODULE}/" in page
    assert f"/practice/{MODULE}/draw/" in page
    assert f"/exams/{MODULE}/start/" in page


def test_it_shows_a_trainer_how_many_have_completed(
    company: Company,
    crew: Crew,
    trainee: Member,
    trainer: Member,
    sign_in: Callable[[Member], Client],
    few_lessons: Path,
) -> None:
    """An assignment due soon stands on the trainer's page with its count; one due in a month does not."""
    load_lessons(folder=few_lessons)
    for days, module in ((3, MODULE), (40, "edge-metal")):
        due = company.today() + timedelta(days=days)
        training.assign(company=company, module=module, due=due, by=trainer.account, crew=crew)

    page = sign_in(trainer).get("/c/own/today/").content.decode()

    assert "Base sheet layout and laps" in page
    assert "0 of 1" in page
    assert "Edge metal" not in page


@pytest.mark.parametrize(
    ("held_until", "counts"),
    [(None, True), (-1, False), (0, True), (60, True)],
    ids=["for good", "had lapsed", "held that day", "lapsed since"],
)
def test_it_counts_a_completion_that_held_when_it_was_asked_or_later(
    company: Company,
    crew: Crew,
    trainee: Member,
    trainer: Member,
    held_until: int | None,
    counts: bool,
    few_lessons: Path,
) -> None:
    """What was done when it was asked is done, also when the record has lapsed by now; what had lapsed is not."""
    load_lessons(folder=few_lessons)
    with clock.fixed(clock.now() - timedelta(days=90)):
        asked = company.today()
        row = training.assign(company=company, module=MODULE, due=asked, by=trainer.account, crew=crew)
    last = None if held_until is None else asked + timedelta(days=held_until)
    held_from = asked - timedelta(days=30)
    done = progress.completed_days(row, [progress.Completion(trainee.account.pk, MODULE, held_from, last)])

    assert done == ({trainee.account.pk: held_from} if counts else {})


def test_it_drops_what_was_assigned_to_somebody_who_has_left(
    company: Company, trainee: Member, trainer: Member, sign_in: Callable[[Member], Client], few_lessons: Path
) -> None:
    """A person who no longer belongs to the company is not overdue."""
    load_lessons(folder=few_lessons)
    training.assign(company=company, module=MODULE, due=company.today(), by=trainer.account, account=trainee.account)
    before = sign_in(trainer).get("/c/own/today/").content.decode()
    people.end_membership(company=company, account=trainee.account, by=None)
    after = sign_in(trainer).get("/c/own/today/").content.decode()

    assert trainee.account.name in before
    assert "0 of 1" in before
    assert "0 of 1" not in after
