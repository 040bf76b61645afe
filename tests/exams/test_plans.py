"""Exam plans: the default that comes with a module, and a company's own from a day on."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.exams.conftest import MODULE, start
from trainer.base import clock
from trainer.base.errors import Refused
from trainer.base.models import JournalEntry
from trainer.exams import queries
from trainer.exams.models import ExamPlan
from trainer.exams.plans import follow_default, publish_default, publish_plan
from trainer.library import queries as library
from trainer.library.models import ModuleVersion
from trainer.library.services import load_lessons
from trainer.people.access import Member
from trainer.people.models import Company
from trainer.rules.specification import ContentError

OWN: dict[str, Any] = {
    "module": MODULE,
    "passing_score": 6,
    "reason_en": "All of them: this crew works alone.",
    "reason_es": "Todas: esta cuadrilla trabaja sola.",
    "minutes": 15,
    "wait_hours": 48,
    "valid_months": 12,
}


def change(lessons: Path, before: str, after: str) -> None:
    """Change the sample module's plan in its file."""
    path = lessons / MODULE / "module.toml"
    text = path.read_text()
    assert before in text
    path.write_text(text.replace(before, after))


def test_it_publishes_the_plan_of_a_loaded_module(loaded: None, company: Company) -> None:
    """The plan in module.toml holds for every company from the day it is loaded."""
    plan = queries.plan_in_force(company, MODULE, on=date(2021, 1, 2))

    assert plan is not None
    assert (plan.company, plan.questions, plan.passing_score, plan.minutes, plan.wait_hours) == (None, 6, 5, 20, 24)
    assert plan.critical == '["sample/short-lap"]'
    assert plan.reason_es == "Cinco de seis: se perdona un descuido."


@pytest.mark.parametrize("zone", ["Pacific/Honolulu", "America/Chicago", "Pacific/Auckland"])
def test_it_holds_at_once_in_every_time_zone(lessons: Path, company: Company, zone: str) -> None:
    """Loaded in the evening, the plan holds the same evening, though it is already tomorrow in UTC."""
    company.time_zone = zone
    company.save()
    with clock.fixed(datetime(2026, 3, 5, 1, tzinfo=UTC)):
        load_lessons(folder=lessons)

        assert queries.plan_in_force(company, MODULE, on=company.today()) is not None


def test_it_publishes_nothing_when_the_plan_is_the_same(loaded: None, lessons: Path) -> None:
    """A changed lesson makes a new module version and no new plan."""
    lesson = lessons / MODULE / "lesson.en.md"
    lesson.write_text(lesson.read_text() + "\nMore.\n")
    load_lessons(folder=lessons)

    assert ModuleVersion.objects.filter(slug=MODULE).count() == 2
    assert ExamPlan.objects.count() == 1


def test_it_keeps_the_old_plan_for_its_days(loaded: None, lessons: Path, company: Company) -> None:
    """A changed plan is a new row: what held before can still be asked."""
    change(lessons, "minutes = 20", "minutes = 25")
    with clock.fixed(datetime(2026, 1, 10, 18, tzinfo=UTC)):
        load_lessons(folder=lessons)

    old = queries.plan_in_force(company, MODULE, on=date(2025, 12, 31))
    new = queries.plan_in_force(company, MODULE, on=date(2026, 1, 10))
    assert old is not None
    assert new is not None
    assert (old.minutes, new.minutes) == (20, 25)


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"topics": {"layout": 1, "laps": 3, "fastening": 2}}, "asks for 2 questions on fastening and 1 are in use"),
        ({"critical": ("sample/gone",)}, "sample/gone is not in use"),
    ],
)
def test_it_refuses_a_default_that_cannot_be_drawn(loaded: None, changed: dict[str, Any], says: str) -> None:
    """The refusal names the module's file and the reason, and no plan is kept."""
    version = library.current_module(MODULE)
    assert version is not None
    module = library.module_of(version)
    broken = replace(module, check=replace(module.check, **changed))

    with pytest.raises(ContentError, match=says) as raised:
        publish_default(version=version, module=broken)
    assert raised.value.problems[0].file == "sample/module.toml"
    assert ExamPlan.objects.count() == 1


def test_it_says_when_a_companys_plan_no_longer_fits(
    ready: Company, lessons: Path, trainee: Member, trainer: Member
) -> None:
    """Questions taken out of use under a company's own plan refuse a start in words, not with an error page."""
    publish_plan(company=ready, effective_from=ready.today(), by=None, **OWN)
    change(lessons, "fastening = 1", "layouts = 1")
    text = (
        (lessons / MODULE / "module.toml")
        .read_text()
        .replace("layout = 2, laps = 3, layouts = 1", "layout = 3, laps = 3")
    )
    (lessons / MODULE / "module.toml").write_text(text)
    question = lessons / MODULE / "questions" / "nails.toml"
    question.write_text('state = "retired"\n' + question.read_text())
    load_lessons(folder=lessons)

    with pytest.raises(Refused, match="1 questions on fastening and 0 are in use"):
        start(trainee)


def test_it_lets_a_company_ask_for_more_from_a_day_on(ready: Company, trainer: Member, trainee: Member) -> None:
    """Its own plan holds from that day; the topics stay; a sitting of the day before keeps the default."""
    tomorrow = ready.today() + timedelta(days=1)
    before = start(trainee)
    publish_plan(company=ready, effective_from=tomorrow, by=trainer.account, **OWN)

    today_plan = queries.plan_in_force(ready, MODULE, on=ready.today())
    own = queries.plan_in_force(ready, MODULE, on=tomorrow)
    assert own is not None
    assert today_plan == before.plan
    assert (own.passing_score, own.minutes, own.topics) == (6, 15, before.plan.topics)
    assert JournalEntry.objects.get(verb="exam-plan-published", company=ready.ref).actor == trainer.account.ref


def test_it_keeps_a_companys_plan_to_itself(ready: Company, other_company: Company) -> None:
    """Another company goes on with the default."""
    publish_plan(company=ready, effective_from=ready.today(), by=None, **OWN)

    theirs = queries.plan_in_force(other_company, MODULE, on=other_company.today())
    assert theirs is not None
    assert theirs.company is None


def test_it_goes_back_to_the_default(ready: Company) -> None:
    """A withdrawn plan leaves the default in force; the history keeps both rows."""
    publish_plan(company=ready, effective_from=ready.today(), by=None, **OWN)
    follow_default(company=ready, module=MODULE, effective_from=ready.today(), by=None)

    plan = queries.plan_in_force(ready, MODULE, on=ready.today())
    assert plan is not None
    assert plan.company is None
    assert ExamPlan.objects.filter(company=ready).count() == 2
    with pytest.raises(Refused, match="default plan already"):
        follow_default(company=ready, module=MODULE, effective_from=ready.today(), by=None)


@pytest.mark.parametrize(
    ("changed", "field", "says"),
    [
        ({"passing_score": 7}, "passing_score", "from 1 to 6"),
        ({"passing_score": 0}, "passing_score", "from 1 to 6"),
        ({"reason_es": " "}, "reason_es", "in both languages"),
        ({"effective_from": date(2024, 1, 1)}, "effective_from", "a day that is over"),
        ({"module": "nowhere"}, None, "no exam for this module"),
    ],
)
def test_it_refuses_a_plan_that_cannot_hold(
    ready: Company, changed: dict[str, Any], field: str | None, says: str
) -> None:
    """Each refusal names the field where there is one."""
    with pytest.raises(Refused, match=says) as raised:
        publish_plan(**{"company": ready, "effective_from": ready.today(), "by": None, **OWN, **changed})

    assert raised.value.field == field
