"""The scheduler's command: old practice goes, by each company's own time, and nothing else does."""

import json
from datetime import UTC, datetime, timedelta
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from trainer.base import clock
from trainer.base.models import JournalEntry
from trainer.library import queries as library
from trainer.library.services import load_lessons
from trainer.people.access import Member
from trainer.people.models import Company
from trainer.training import services
from trainer.training.models import PracticeCase

pytestmark = pytest.mark.django_db
NOON = datetime(2026, 7, 15, 17, tzinfo=UTC)  # in Chicago
MODULE = "base-sheet-layout"


def due() -> dict[str, Any]:
    """Run the command and give what it printed."""
    out = StringIO()
    call_command("due", "--json", stdout=out)
    return dict(json.loads(out.getvalue()))


def practiced(member: Member, *days_ago: float) -> None:
    """Let the member have practiced so many days before noon."""
    version = library.current_module(MODULE)
    assert version is not None
    for days in days_ago:
        PracticeCase.objects.create(
            company=member.company,
            account=member.account,
            module=MODULE,
            question=f"{MODULE}/any",
            module_version=version,
            revision=library.revisions()[0],
            language="en",
            seed="1",
            drawn_at=NOON - timedelta(days=days),
        )


@pytest.fixture
def two(few_lessons: Path, trainee: Member, outsider: Member) -> tuple[Member, Member]:
    """Give a trainee of a company that keeps practice for 3 months and one of another that keeps it for 12."""
    load_lessons(folder=few_lessons)
    for member, months in ((trainee, 3), (outsider, 12)):
        services_of = {"time_zone": "America/Chicago", "lapse_notice_days": 60, "practice_months": months}
        Company.objects.filter(pk=member.company.pk).update(**services_of)
        practiced(member, 1, 80, 100, 400)
    return trainee, outsider


def left(member: Member) -> int:
    """Count what is kept of the member's practice."""
    return PracticeCase.objects.filter(account=member.account).count()


def test_it_prunes_practice_by_each_companys_time(two: tuple[Member, Member]) -> None:
    """3 months keep two of four cases, 12 months three; a second run has nothing to do; the journal tells of it."""
    with clock.fixed(NOON):
        first, second = due(), due()

    assert first == {"practice_failed": [], "practice_pruned": 3, "sittings_ended": 0, "sittings_failed": []}
    assert second["practice_pruned"] == 0
    assert [left(member) for member in two] == [2, 3]
    lines = JournalEntry.objects.filter(verb="practice-pruned").order_by("pk")
    assert {(line.company, line.actor, line.details) for line in lines} == {
        (two[0].company.ref, None, '{"cases":2}'),
        (two[1].company.ref, None, '{"cases":1}'),
    }


def test_it_prunes_whole_days_of_the_company(two: tuple[Member, Member]) -> None:
    """91 days are 3 months: what was drawn on that day stays until the company's midnight, and then goes."""
    trainee = two[0]
    with clock.fixed(NOON):
        due()
        practiced(trainee, 91.4, 91.6)  # 2:24 in the morning of the oldest day that is kept, and the evening before
        assert due()["practice_pruned"] == 1
        clock.advance(timedelta(hours=11, minutes=59))
        assert due()["practice_pruned"] == 0
        clock.advance(timedelta(minutes=1))
        assert due()["practice_pruned"] == 1


def test_it_prunes_the_others_when_one_company_fails(
    two: tuple[Member, Member], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The company is named, the command fails so that somebody looks, and the other company is done."""
    prune = services.prune_practice
    broken = two[0].company

    def fail(*, company: Company) -> int:
        if company == broken:
            raise OSError
        return prune(company=company)

    monkeypatch.setattr(services, "prune_practice", fail)
    with clock.fixed(NOON), pytest.raises(CommandError, match=broken.slug):
        due()

    assert [left(member) for member in two] == [4, 3]
