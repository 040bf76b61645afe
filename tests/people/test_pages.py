"""The staff pages of people and crews."""

from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.factories import client_for, crew, member
from trainer.people import queries
from trainer.people.access import Member, member_of
from trainer.people.models import Account, Company, Crew, Role

pytestmark = pytest.mark.django_db


def html_of(member: Member, name: str, *args: Any, **filters: str) -> str:
    """Give a page of the member's company as text."""
    page = client_for(member).get(reverse(name, args=[member.company.slug, *args]), filters)
    assert page.status_code == 200
    return page.content.decode()


def test_it_lists_the_company_to_the_office(office: Member, trainee: Member, foreman: Member, outsider: Member) -> None:
    """Everybody of the own company, nobody of another."""
    html = html_of(office, "people")

    assert trainee.account.name in html
    assert foreman.account.name in html
    assert outsider.account.name not in html


def test_it_lists_the_own_crew_to_the_foreman(company: Company, foreman: Member, trainee: Member) -> None:
    """A foreman sees the own crew and themself."""
    elsewhere = member(company, Role.TRAINEE, crew=crew(company, "Crew B"), name="Elsewhere")
    html = html_of(foreman, "people")

    assert trainee.account.name in html
    assert elsewhere.account.name not in html


def test_it_searches_names_and_numbers(company: Company, office: Member) -> None:
    """One field; every word of it must fit."""
    member(company, Role.TRAINEE, name="Ana Ruiz", number="41")
    member(company, Role.TRAINEE, name="Ana Olsen", number="42")

    assert [row.account.name for row in queries.people_page(office, search="ana 42")] == ["Ana Olsen"]
    assert [row.account.name for row in queries.people_page(office, search="ruiz")] == ["Ana Ruiz"]
    assert "Nobody fits this search." in html_of(office, "people", search="zzz")


@pytest.mark.parametrize("address", ["{people}?search=a%00", "{people}?page=%00", "/card/%00/", "/v/A%00"])
def test_it_has_no_page_whose_address_holds_a_nul(office: Member, address: str) -> None:
    """PostgreSQL refuses to look for such a text; people get the page that says so."""
    people = reverse("people", args=[office.company.slug])

    assert client_for(office).get(address.format(people=people)).status_code == 404


@pytest.mark.parametrize(
    ("language", "says"), [("en-us", "load the page again"), ("es-us", "vuelva a cargar la página")]
)
def test_it_says_what_to_do_with_a_page_that_was_open_too_long(language: str, says: str) -> None:
    """A form without this browser's token is refused on a page of ours, in the reader's language."""
    client = Client(enforce_csrf_checks=True)
    client.cookies["language"] = language
    answer = client.post(reverse("language"), {"language": "en-us"})

    assert answer.status_code == 403
    assert says in answer.content.decode()
    assert "<style" not in answer.content.decode()


def test_it_filters_by_role_and_crew(
    company: Company, crew: Crew, office: Member, foreman: Member, trainee: Member
) -> None:
    """Role and crew narrow the list, alone and together."""
    by_role = queries.people_page(office, role="foreman")
    by_crew = queries.people_page(office, crew=crew.name)
    by_both = queries.people_page(office, crew=crew.name, role="trainee")

    assert [row.account for row in by_role] == [foreman.account]
    assert {row.account for row in by_crew} == {foreman.account, trainee.account}
    assert [row.account for row in by_both] == [trainee.account]


def test_it_shows_50_a_page_in_as_many_queries_as_one(company: Company, office: Member) -> None:
    """The list asks the database as often for 50 people as for one."""

    def asked() -> int:
        with CaptureQueriesContext(connection) as seen:
            rows = queries.people_page(office)
            assert all(row.roles and row.crews is not None for row in rows)
        return len(seen)

    few = asked()
    team = crew(company, "Large crew")
    for number in range(55):
        member(company, Role.TRAINEE, crew=team, name=f"Hand {number:02}")

    assert asked() == few
    assert len(list(queries.people_page(office))) == 50
    assert len(list(queries.people_page(office, number="2"))) == 6
    assert "page 1 of 2" in html_of(office, "people")


def test_it_adds_a_person_to_a_crew(company: Company, crew: Crew, office: Member) -> None:
    """One form: who, which roles, which crew, from when."""
    answer = client_for(office).post(
        reverse("person-new", args=[company.slug]),
        {
            "name": "Ana Ruiz",
            "number": "41",
            "language": "es-us",
            "roles": ["trainee"],
            "crew": crew.pk,
            "effective_from": company.today().isoformat(),
        },
    )
    person = Account.objects.get(name="Ana Ruiz")

    assert answer.headers["Location"] == reverse("person", args=[company.slug, person.ref])
    assert [place.account for place in queries.crew_places(crew, company.today())] == [person]


def test_it_keeps_what_was_entered_when_refusing(company: Company, office: Member, trainee: Member) -> None:
    """A refusal stands beside its field, and nothing has to be typed again."""
    page = client_for(office).post(
        reverse("person-new", args=[company.slug]),
        {
            "name": "Ana Ruiz",
            "email": trainee.account.email,
            "language": "es-us",
            "roles": ["trainee"],
            "effective_from": company.today().isoformat(),
        },
    )
    html = page.content.decode()

    assert "already belongs to the company" in html
    assert 'value="Ana Ruiz"' in html


def test_it_chooses_crews_of_the_own_company_alone(company: Company, other_company: Company, office: Member) -> None:
    """A crew of another company is no choice, even when its number is typed in."""
    theirs = crew(other_company, "Crew Z")
    page = client_for(office).post(
        reverse("person-new", args=[company.slug]),
        {
            "name": "Ana",
            "language": "en-us",
            "roles": ["trainee"],
            "crew": theirs.pk,
            "effective_from": company.today().isoformat(),
        },
    )

    assert page.status_code == 200
    assert "Select a valid choice" in page.content.decode()
    assert not Account.objects.filter(name="Ana").exists()


def test_it_shows_who_somebody_was(company: Company, office: Member, trainee: Member) -> None:
    """The person page keeps the earlier roles beside the present ones; after the end it still opens."""
    client = client_for(office)
    args = [company.slug, trainee.account.ref]
    today = company.today().isoformat()
    client.post(reverse("person-roles", args=args), {"roles": ["foreman"], "effective_from": today})
    client.post(reverse("person-end", args=args), {"effective_from": today})

    html = html_of(office, "person", trainee.account.ref)

    assert "no longer in the company" in html
    assert html.count("<td>foreman</td>") == 1
    assert html.count("<td>trainee</td>") == 1
    assert member_of(trainee.account, company) is None


def test_it_ends_a_membership_on_a_later_day(company: Company, office: Member, trainee: Member) -> None:
    """An end that is planned leaves today as it is."""
    day = company.today() + timedelta(days=14)
    client_for(office).post(
        reverse("person-end", args=[company.slug, trainee.account.ref]), {"effective_from": day.isoformat()}
    )

    assert member_of(trainee.account, company) is not None
    assert not queries.members_on(company, day).filter(account=trainee.account).exists()


def test_it_places_people_from_both_pages(company: Company, office: Member, trainee: Member, foreman: Member) -> None:
    """From the person's page and from the crew's."""
    client, today = client_for(office), company.today()
    second = crew(company, "Crew B")
    client.post(
        reverse("person-crew", args=[company.slug, trainee.account.ref]),
        {"crew": second.pk, "part": "member", "effective_from": today.isoformat()},
    )
    client.post(
        reverse("crew", args=[company.slug, second.ref]),
        {"account": foreman.account.pk, "part": "lead", "effective_from": today.isoformat()},
    )

    places = [(place.account, place.part) for place in queries.crew_places(second, today)]

    assert places == [(foreman.account, "lead"), (trainee.account, "member")]


def test_it_lets_a_foreman_look_but_not_place(company: Company, crew: Crew, foreman: Member, trainee: Member) -> None:
    """The crew's page is read-only for its foreman."""
    html = html_of(foreman, "crew", crew.ref)
    answer = client_for(foreman).post(
        reverse("crew", args=[company.slug, crew.ref]),
        {"account": trainee.account.pk, "part": "left", "effective_from": company.today().isoformat()},
    )

    assert trainee.account.name in html
    assert "Place somebody on the crew" not in html
    assert answer.status_code == 404


def test_it_shows_no_email_to_foremen(foreman: Member, office: Member, trainee: Member) -> None:
    """Addresses are for those who manage people."""
    assert str(trainee.account.email) not in html_of(foreman, "person", trainee.account.ref)
    assert str(trainee.account.email) in html_of(office, "person", trainee.account.ref)


def test_it_lets_somebody_work_in_several_companies(trainer: Member, other_company: Company) -> None:
    """A trainer who serves two companies chooses, and is then a member there."""
    from trainer.people import services

    services.add_person(company=other_company, name="x", email=trainer.account.email, roles=["trainer"], by=None)
    client = client_for(trainer)
    assert other_company.name in client.get(reverse("my-settings")).content.decode()

    client.post(reverse("company-choice"), {"company": str(other_company.ref)})
    page = client.get(reverse("my-settings"))

    assert f"<dd>{other_company.name}</dd>" in page.content.decode()
