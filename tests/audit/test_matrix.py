"""The matrix: states, as of a day, as known at an instant, in a bounded number of queries."""

import re
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests import factories
from tests.records import scene
from tests.records.test_issue import define
from trainer.audit import queries
from trainer.audit.queries import AsOf
from trainer.base import clock
from trainer.people import services as people
from trainer.people.access import Member
from trainer.people.models import Company, Crew, Role
from trainer.records import services
from trainer.records.models import CompletionRecord

DAY = date(2026, 1, 31)
SignIn = Callable[[Member], Client]


@pytest.fixture(autouse=True)
def _day() -> Any:
    """Let every page be opened at noon of March 1, 2026."""
    with clock.fixed(scene.at(date(2026, 3, 1))):
        yield


@pytest.fixture
def hand(company: Company, crew: Crew) -> Member:
    """Give somebody on the crew who was entered on January 2."""
    with clock.fixed(scene.at(date(2026, 1, 2))):
        return factories.member(company, crew=crew, name="Early Hand")


def states(company: Company, as_of: AsOf, **filters: Any) -> dict[str, dict[str, str]]:
    """Give, for each person, the state of each column by its title."""
    across = queries.columns(company, as_of)
    rows = queries.rows_of(company, queries.people(company, as_of, **filters), across, as_of)
    return {row.name: {cell.column.title: str(cell.state) for cell in row.cells} for row in rows}


def test_it_tells_the_four_states_by_the_days(trainee: Member, company: Company) -> None:
    """Current, then lapses soon 60 days before the last day, held on the last day, lapsed the day after."""
    scene.record(trainee, day=DAY, months=12)
    scene.module("edge-metal")
    name, title = trainee.account.name, "Base sheet layout and laps"
    expected = {
        date(2026, 1, 30): "none",
        date(2026, 1, 31): "current",
        date(2026, 12, 1): "current",
        date(2026, 12, 2): "soon",
        date(2027, 1, 31): "soon",
        date(2027, 2, 1): "lapsed",
    }

    found = {day: states(company, AsOf(day))[name] for day in expected}

    assert {day: row.get(title, "none") for day, row in found.items()} == expected
    assert all(row["Edge metal"] == "none" for row in found.values())


def test_it_takes_the_record_that_holds_longest(trainee: Member, company: Company) -> None:
    """A later record that ends earlier does not shorten what is held."""
    longer = scene.record(trainee, day=DAY, months=24)
    scene.record(trainee, day=date(2026, 2, 10), months=1)
    as_of = AsOf(date(2026, 3, 1))
    across = queries.columns(company, as_of)

    [row] = queries.rows_of(company, queries.people(company, as_of), across, as_of)

    [cell] = [cell for cell in row.cells if cell.column.subject == "base-sheet-layout"]
    assert (cell.record, cell.valid_until, cell.revision) == (longer.ref, date(2028, 1, 31), "2026")


def test_it_shows_a_qualification_only_from_its_definition_on(trainee: Member, company: Company) -> None:
    """Before its first definition there is no column; before that was entered neither."""
    with clock.fixed(scene.at(date(2026, 2, 20))):
        scene.module()
        services.define_qualification(
            company=company,
            by=None,
            title_en="Two-ply hand",
            title_es="Operario de dos capas",
            modules=["base-sheet-layout"],
            valid_months=None,
            effective_from=date(2026, 1, 1),
        )

    def titles(as_of: AsOf) -> list[str]:
        return [column.title for column in queries.columns(company, as_of) if column.is_qualification]

    assert titles(AsOf(date(2025, 12, 31))) == []
    assert titles(AsOf(date(2026, 1, 1))) == ["Two-ply hand"]
    assert titles(AsOf(date(2026, 3, 1), scene.at(date(2026, 2, 19)))) == []


def test_it_leaves_out_a_revocation_not_yet_known(hand: Member, office: Member, company: Company) -> None:
    """Void from the start as known today; held as it was known the day before the revocation."""
    record = scene.record(hand, day=DAY)
    with clock.fixed(scene.at(date(2026, 2, 20))):
        services.revoke(record=record, by=office.account, reason_code="not-own-answers", reason="", from_the_start=True)
    on, title = date(2026, 2, 10), "Base sheet layout and laps"

    now = states(company, AsOf(on))[hand.account.name]
    then = states(company, AsOf(on, queries.end_of_day(company, date(2026, 2, 19))))[hand.account.name]

    assert (now[title], then[title]) == ("none", "current")


def test_it_keeps_the_days_before_a_revocation_from_today(trainee: Member, office: Member, company: Company) -> None:
    """Revoked from a day on, the record stood on the days before."""
    record = scene.record(trainee, day=DAY)
    with clock.fixed(scene.at(date(2026, 2, 20))):
        services.revoke(record=record, by=office.account, reason_code="work-shows-a-gap", reason="")
    title = "Base sheet layout and laps"

    assert states(company, AsOf(date(2026, 2, 19)))[trainee.account.name][title] == "current"
    assert states(company, AsOf(date(2026, 2, 20)))[trainee.account.name][title] == "none"


def test_it_leaves_out_people_entered_late(company: Company, trainee: Member) -> None:
    """Somebody entered in February as of January is there on a January day, but not as it was known in January."""
    with clock.fixed(scene.at(date(2026, 2, 15))):
        late = factories.member(company, effective_from=date(2026, 1, 5), name="Late Entry")
    on = date(2026, 1, 20)

    assert late.account.name in states(company, AsOf(on))
    assert late.account.name not in states(company, AsOf(on, scene.at(on)))
    assert late.account.name not in states(company, AsOf(date(2026, 1, 4)))


def test_it_leaves_out_a_record_issued_after_what_was_known(hand: Member, company: Company) -> None:
    """A record issued in the evening was not known in the morning."""
    scene.record(hand, day=DAY)
    title = "Base sheet layout and laps"
    morning = scene.at(DAY).replace(hour=14)

    assert states(company, AsOf(DAY))[hand.account.name][title] == "current"
    assert states(company, AsOf(DAY, morning))[hand.account.name].get(title, "none") == "none"


def test_it_filters_by_the_crew_of_that_day(trainee: Member, crew: Crew, company: Company) -> None:
    """Somebody who has left the crew is on its list for a day before, not after."""
    other = factories.member(company, name="Other Crew")
    with clock.fixed(scene.at(date(2026, 2, 10))):
        people.place_on_crew(crew=crew, account=trainee.account, part="left", by=None, effective_from=date(2026, 2, 10))

    assert list(states(company, AsOf(date(2026, 2, 9)), crew=crew)) == [trainee.account.name]
    assert states(company, AsOf(date(2026, 2, 10)), crew=crew) == {}
    assert other.account.name in states(company, AsOf(date(2026, 2, 10)))


def test_it_lists_nobody_of_another_company(trainee: Member, outsider: Member, company: Company) -> None:
    """People and records of another company stay out."""
    scene.record(outsider, day=DAY)

    assert set(states(company, AsOf(date(2026, 3, 1)))) == {trainee.account.name}


def test_it_reads_50_people_in_as_many_queries_as_5(office: Member, company: Company, sign_in: SignIn) -> None:
    """The number of queries does not grow with people or records."""
    client = sign_in(office)
    define(company)
    counts = []
    for wanted in (5, 50):
        while CompletionRecord.objects.count() < wanted:
            scene.record(factories.member(company), day=DAY)
        for name in ("matrix", "matrix-csv", "lapses"):
            with CaptureQueriesContext(connection) as captured:
                assert client.get(reverse(name, kwargs={"company": company.slug})).status_code == 200
            counts.append(len(captured))

    assert counts[:3] == counts[3:]
    assert max(counts) <= 16


# ------------------------------------------------------------------------------------------------------------- pages
def test_its_page_takes_day_knowledge_crew_and_name(
    office: Member, hand: Member, crew: Crew, company: Company, sign_in: SignIn
) -> None:
    """All filters stand in the address; words and dates tell the state; the files take the same filters."""
    scene.record(hand, day=DAY)
    factories.member(company, name="Zoe Elsewhere")
    address = reverse("matrix", kwargs={"company": company.slug})
    asked = {"on": "2026-02-01", "known_on": "2026-02-02", "crew": str(crew.ref), "search": hand.account.name[:4]}

    html = sign_in(office).get(address, asked).content.decode()

    assert "Who held what on February 1, 2026." in html
    assert "As it was known at the end of February 2, 2026." in html
    assert "until Jan 31, 2028, revision 2026" in html
    assert "Zoe Elsewhere" not in html
    assert "matrix.csv?on=2026-02-01&amp;known_on=2026-02-02" in html


def test_its_page_says_what_is_wrong_with_a_day(office: Member, company: Company, sign_in: SignIn) -> None:
    """An unreadable day has its error beside the field, and the page is that of today."""
    html = sign_in(office).get(reverse("matrix", kwargs={"company": company.slug}), {"on": "31/1"}).content.decode()

    assert "Enter a valid date." in html
    assert "Who held what on March 1, 2026." in html


@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01"])
def test_it_takes_the_first_and_the_last_day_there_is(
    office: Member, company: Company, sign_in: SignIn, day: str
) -> None:
    """A day typed wrong by thousands of years is a page like any other."""
    for name in ("matrix", "matrix-csv", "matrix-xlsx"):
        address = reverse(name, kwargs={"company": company.slug})
        assert sign_in(office).get(address, {"on": day, "known_on": day}).status_code == 200


def test_its_page_holds_50_people(office: Member, company: Company, sign_in: SignIn) -> None:
    """The 51st person stands on the second page."""
    for number in range(51):
        factories.member(company, name=f"Hand {number:02d}")
    client, address = sign_in(office), reverse("matrix", kwargs={"company": company.slug})

    assert "Hand 50" not in client.get(address).content.decode()
    assert "Hand 50" in client.get(address, {"page": "2"}).content.decode()


def test_it_shows_what_lapses_soonest_first(office: Member, company: Company, sign_in: SignIn) -> None:
    """Within 30 days, within 90 days, and what has lapsed, each by its last day."""
    for name, months in (("Ends Soon", 2), ("Ends Later", 4), ("Has Ended", 1), ("Goes On", 24)):
        scene.record(factories.member(company, name=name), day=date(2026, 1, 20), months=months)
    client, address = sign_in(office), reverse("lapses", kwargs={"company": company.slug})

    def names(days: str) -> list[str]:
        rows = client.get(address, {"days": days}).context["page"].object_list
        return [row.name for row in rows]

    assert names("30") == ["Ends Soon"]
    assert names("90") == ["Ends Soon", "Ends Later"]
    assert names("lapsed") == ["Has Ended"]


def test_it_does_not_say_that_something_renewed_lapses(office: Member, trainee: Member, company: Company) -> None:
    """A record that a longer one replaces lapses nothing."""
    scene.record(trainee, day=DAY, months=2)
    assert len(queries.lapses(company, within=90)) == 1

    scene.record(trainee, day=date(2026, 2, 25), months=24)
    assert queries.lapses(company, within=90) == []


def test_it_shows_a_foreman_only_the_own_crew(
    foreman: Member, trainee: Member, company: Company, sign_in: SignIn
) -> None:
    """The foreman sees who of the own crew may do what, and nobody else."""
    scene.record(trainee, day=DAY)
    elsewhere = factories.member(company, crew=factories.crew(company, "Crew B"), name="Zoe Elsewhere")
    scene.record(elsewhere, day=DAY)

    html = sign_in(foreman).get(reverse("my-crew", kwargs={"company": company.slug})).content.decode()

    assert trainee.account.name in html
    assert "Base sheet layout and laps" in html
    assert "until Jan 31, 2028" in html
    assert "Zoe Elsewhere" not in html


def test_it_leads_a_foreman_to_the_crews_pages_and_cards(
    foreman: Member, trainee: Member, company: Company, sign_in: SignIn
) -> None:
    """From the first page the foreman reaches the crew, its people, their cards and exams; each link opens."""
    client = sign_in(foreman)
    html = client.get(reverse("my-crew", kwargs={"company": company.slug})).content.decode()
    main = html.split("<main")[1]
    [crew] = company.crews.all()
    wanted = {
        reverse("crew", args=[company.slug, crew.ref]),
        reverse("cards", args=[company.slug]) + "?crew=Crew%20A",
        reverse("person", args=[company.slug, trainee.account.ref]),
        reverse("sittings", args=[company.slug]),
    }
    links = set(re.findall(r'href="(/c/[^"]+)"', main))

    assert wanted <= links
    assert all(client.get(link).status_code == 200 for link in links)
    assert trainee.account.name in client.get(reverse("cards", args=[company.slug]) + "?crew=Crew%20A").content.decode()


def test_it_tells_a_foreman_without_a_crew_so(company: Company, sign_in: SignIn) -> None:
    """A foreman who leads nobody today is told who can change that."""
    alone = factories.member(company, Role.FOREMAN)

    html = sign_in(alone).get(reverse("my-crew", kwargs={"company": company.slug})).content.decode()

    assert "You lead no crew today." in html


def test_it_is_in_spanish_for_those_who_read_spanish(company: Company, trainee: Member, sign_in: SignIn) -> None:
    """States and titles follow the reader."""
    scene.record(trainee, day=DAY)
    reader = factories.member(company, Role.OFFICE, language="es-us")

    html = sign_in(reader).get(reverse("matrix", kwargs={"company": company.slug})).content.decode()

    assert "vigente" in html
    assert "no la tiene" in html
    assert "Trazado de la hoja base y traslapes" in html
