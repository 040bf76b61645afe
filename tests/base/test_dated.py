"""Dated rows: the filter gives what a replay of the entries gives."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.factories import AccountFactory, CompanyFactory
from trainer.base.dated import in_force
from trainer.people.models import Membership

pytestmark = pytest.mark.django_db

FIRST_DAY = date(2026, 3, 1)
FIRST_INSTANT = datetime(2026, 3, 1, 12, tzinfo=UTC)


@dataclass(frozen=True)
class Entry:
    """One entry as somebody might make it: for a key, from a day, entered at an hour, saying something."""

    key: int
    day: int
    hour: int
    says: str


ENTRIES = st.lists(
    st.builds(
        Entry,
        key=st.integers(0, 2),
        day=st.integers(0, 6),
        hour=st.integers(0, 6),
        says=st.sampled_from(["trainee", "trainer", "foreman", ""]),
    ),
    max_size=14,
)


def replay(entries: list[Entry], day: int, hour: int | None) -> dict[int, str]:
    """Write the entries into a calendar in the order in which they were entered, then read the day off it.

    An entry holds from its day until the next later day that the calendar has an entry for, so a new one for an old
    day covers only up to there.
    """
    calendars: dict[int, dict[int, str]] = {}
    for entry in sorted(entries, key=lambda entry: entry.hour):  # the sort keeps equal hours in order of entry
        if hour is None or entry.hour <= hour:
            calendars.setdefault(entry.key, {})[entry.day] = entry.says
    holds = {}
    for key, calendar in calendars.items():
        until_then = [known for known in sorted(calendar) if known <= day]
        if until_then:
            holds[key] = calendar[until_then[-1]]
    return holds


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(entries=ENTRIES, day=st.integers(-1, 7), hour=st.none() | st.integers(-1, 7))
def test_it_gives_what_a_replay_gives(entries: list[Entry], day: int, hour: int | None) -> None:
    """For any entries in any order, on any day, as known at any instant."""
    with transaction.atomic():
        company = CompanyFactory.create()
        accounts = [AccountFactory.create(password="x") for _ in range(3)]
        for entry in entries:
            Membership.objects.create(
                company=company,
                account=accounts[entry.key],
                roles=entry.says,
                effective_from=FIRST_DAY + timedelta(days=entry.day),
                recorded_at=FIRST_INSTANT + timedelta(hours=entry.hour),
            )
        rows = in_force(
            Membership.objects.filter(company=company),
            key=Membership.KEY,
            on=FIRST_DAY + timedelta(days=day),
            known_at=None if hour is None else FIRST_INSTANT + timedelta(hours=hour),
        )
        found = {accounts.index(row.account): row.roles for row in rows.select_related("account")}
        transaction.set_rollback(True)

    assert found == replay(entries, day, hour)


def test_it_asks_once() -> None:
    """However many keys there are, one query answers."""
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    company = CompanyFactory.create()
    for _ in range(5):
        Membership.objects.create(
            company=company, account=AccountFactory.create(), roles="trainee", effective_from=FIRST_DAY
        )
    with CaptureQueriesContext(
        connection,
    ) as queries:
        rows = list(in_force(Membership.objects.filter(company=company), key=Membership.KEY, on=FIRST_DAY))

    assert len(rows) == 5
    assert len(queries) == 1
