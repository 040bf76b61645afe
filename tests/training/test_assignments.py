"""Assigning a module to a person or a crew, and what then falls on whom."""

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction
from django.test import Client
from django.urls import reverse

from tests import factories
from trainer.base import clock
from trainer.base.errors import Refused
from trainer.base.models import JournalEntry
from trainer.people import services as people
from trainer.people.access import Member
from trainer.people.models import Company, Crew, CrewPlace, Role
from trainer.training import queries, services
from trainer.training.models import Assignment

MODULE = "base-sheet-layout"


def test_it_falls_on_everybody_on_the_crew_today(
    lessons: Company, trainer: Member, trainee: Member, foreman: Member, crew: Crew
) -> None:
    """A crew's assignment falls on those who are on it now: who joins has it, who leaves is rid of it."""
    services.assign(company=lessons, module=MODULE, due=lessons.today(), by=trainer.account, crew=crew)
    joined = factories.member(lessons, Role.TRAINEE, crew=crew)

    falls_on = {due.account for due in queries.assignments_due(lessons, on=lessons.today())}

    assert falls_on == {trainee.account, foreman.account, joined.account}
    people.place_on_crew(crew=crew, account=joined.account, part=CrewPlace.Part.LEFT, by=None)
    assert [due.module for due in queries.due_for(trainee)] == [MODULE]
    assert queries.due_for(joined) == []


def test_it_does_not_make_who_joins_later_late(lessons: Company, trainer: Member, trainee: Member, crew: Crew) -> None:
    """An assignment whose day is past falls on who was on the crew that day, not on who joined since."""
    with clock.fixed(clock.now() - timedelta(days=30)):
        services.assign(
            company=lessons, module=MODULE, due=lessons.today() + timedelta(days=5), by=trainer.account, crew=crew
        )
    joined = factories.member(lessons, Role.TRAINEE, crew=crew, effective_from=lessons.today() - timedelta(days=2))

    assert queries.due_for(joined) == []
    assert [row.module for row in queries.due_for(trainee)] == [MODULE]
    assert {due.account for due in queries.assignments_due(lessons, on=lessons.today())} == {trainee.account}


def test_it_lists_a_module_once_with_the_earliest_due_day(
    lessons: Company, trainer: Member, trainee: Member, crew: Crew
) -> None:
    """Assigned twice, alone and with the crew, a module stands once, with the day that comes first."""
    later, sooner = lessons.today() + timedelta(days=9), lessons.today() + timedelta(days=2)
    services.assign(company=lessons, module=MODULE, due=later, by=trainer.account, crew=crew)
    services.assign(company=lessons, module=MODULE, due=sooner, by=trainer.account, account=trainee.account)

    assert [row.due for row in queries.due_for(trainee)] == [sooner]


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"due": timedelta(days=-1)}, "day is past"),
        ({"module": "no-such-module"}, "no such module"),
        ({"both": True}, "one person or one crew"),
        ({"neither": True}, "one person or one crew"),
    ],
    ids=["yesterday", "unknown module", "person and crew", "nobody"],
)
def test_it_refuses_what_cannot_be_assigned(
    lessons: Company, trainer: Member, trainee: Member, crew: Crew, change: dict[str, object], says: str
) -> None:
    """A past day, an unknown module, two addressees or none are refused with a sentence that says so."""
    days = change.get("due", timedelta(days=1))
    assert isinstance(days, timedelta)

    with pytest.raises(Refused, match=says):
        services.assign(
            company=lessons,
            module=str(change.get("module", MODULE)),
            due=lessons.today() + days,
            by=trainer.account,
            crew=None if "neither" in change else crew,
            account=trainee.account if "both" in change else None,
        )
    assert not Assignment.objects.exists()


def test_it_refuses_the_same_assignment_twice(lessons: Company, trainer: Member, crew: Crew) -> None:
    """The same module, crew and day are assigned once."""
    services.assign(company=lessons, module=MODULE, due=lessons.today(), by=trainer.account, crew=crew)

    with pytest.raises(Refused, match="assigned already"):
        services.assign(company=lessons, module=MODULE, due=lessons.today(), by=trainer.account, crew=crew)


def test_it_keeps_the_database_from_holding_an_assignment_to_nobody(lessons: Company, trainer: Member) -> None:
    """The constraint holds below the service."""
    with pytest.raises(IntegrityError), transaction.atomic():
        Assignment.objects.create(company=lessons, module=MODULE, due=lessons.today(), made_by=trainer.account)


def test_it_withdraws_once_and_journals_it(lessons: Company, trainer: Member, trainee: Member) -> None:
    """A withdrawn assignment falls on nobody; withdrawing again changes nothing."""
    made = services.assign(
        company=lessons, module=MODULE, due=lessons.today(), by=trainer.account, account=trainee.account
    )
    first = services.withdraw(assignment=made, by=trainer.account)

    assert services.withdraw(assignment=made, by=trainer.account) == first
    assert queries.due_for(trainee) == []
    assert JournalEntry.objects.filter(verb="assignment-withdrawn").count() == 1


def test_it_assigns_from_the_page_and_gives_a_message_to_copy(
    lessons: Company, trainer: Member, trainee: Member, crew: Crew, sign_in: Callable[[Member], Client]
) -> None:
    """A trainer assigns to a crew; the next page holds the message with the lesson's link, and everybody's progress."""
    client = sign_in(trainer)
    due = lessons.today() + timedelta(days=3)
    sent = {"module": MODULE, "crew": str(crew.ref), "person": "", "due": due.isoformat()}

    response = client.post(reverse("assign", kwargs={"company": lessons.slug}), sent, follow=True)

    page = response.content.decode()
    assert reverse("lesson", kwargs={"slug": MODULE}) in page
    assert trainee.account.name in page
    assert Assignment.objects.get().crew == crew


def test_it_keeps_what_was_entered_when_it_refuses(
    lessons: Company, trainer: Member, crew: Crew, sign_in: Callable[[Member], Client]
) -> None:
    """A past day is refused beside its field and the form still holds what was chosen."""
    yesterday = lessons.today() - timedelta(days=1)
    sent = {"module": MODULE, "crew": str(crew.ref), "person": "", "due": yesterday.isoformat()}

    page = sign_in(trainer).post(reverse("assign", kwargs={"company": lessons.slug}), sent).content.decode()

    assert "The day is past" in page
    assert yesterday.isoformat() in page
    assert f'value="{crew.ref}" selected' in page


def test_it_offers_no_crew_or_person_of_another_company(
    lessons: Company, trainer: Member, outsider: Member, sign_in: Callable[[Member], Client]
) -> None:
    """A crew of another company cannot be assigned to, even by its ref."""
    theirs = factories.crew(outsider.company, "Their crew")
    sent = {"module": MODULE, "crew": str(theirs.ref), "person": "", "due": lessons.today().isoformat()}

    page = sign_in(trainer).post(reverse("assign", kwargs={"company": lessons.slug}), sent)

    assert page.status_code == 200
    assert not Assignment.objects.exists()
    assert "Their crew" not in page.content.decode()


def test_it_asks_the_same_number_of_queries_for_few_and_many(
    lessons: Company, trainer: Member, crew: Crew, django_assert_max_num_queries: Callable[[int], object]
) -> None:
    """Progress on an assignment takes a bounded number of queries."""
    from trainer.training.progress import progress_of

    made = services.assign(company=lessons, module=MODULE, due=lessons.today(), by=trainer.account, crew=crew)
    for _number in range(12):
        factories.member(lessons, Role.TRAINEE, crew=crew)
    with django_assert_max_num_queries(6):  # type: ignore[attr-defined]
        assert len(progress_of(made, on=clock.now().date())) == 12
