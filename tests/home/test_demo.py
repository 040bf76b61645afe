"""The demo's history: made through the services, the same for the same day."""

import copy
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from django.apps import apps
from django.conf import settings
from django.db import transaction

from tests.content import REVISIONS
from trainer.exams.models import SheetAnswer, Sitting
from trainer.home.demo.history import build
from trainer.people.models import Account, Company, Crew, Membership
from trainer.records.models import CompletionRecord
from trainer.training.models import Reading

DAY = date(2026, 11, 25)
SCENARIO = tomllib.loads((settings.BASE_DIR / "fixtures" / "demo" / "scenario.toml").read_text())


def small() -> dict[str, Any]:
    """Give the scenario with one crew of four, so that a test takes seconds."""
    scenario = copy.deepcopy(SCENARIO)
    scenario["crews"] = [entry for entry in scenario["crews"] if entry["name"] == "Crew Heron"]
    scenario["crews"][0]["members"] = ["ignacio", "caspian", "luz"]
    kept = {
        key: entry
        for key, entry in scenario["trainees"]["copperhollow"].items()
        if key in ("ignacio", "caspian", "luz")
    }
    scenario["trainees"] = {"copperhollow": kept}
    scenario["adoptions"] = [entry for entry in scenario["adoptions"] if entry["revision"] in REVISIONS]
    return scenario


def build_small(folder: Path, day: date = DAY) -> None:
    """Build the small history."""
    build(scenario=small(), folder=folder, today=day, say=lambda _text: None)


def everything() -> dict[str, list[tuple[str, ...]]]:
    """Dump every row of the project without its key numbers, which a database hands out as it likes."""
    dump = {}
    for model in apps.get_models():
        if model.__module__.startswith("trainer."):
            names = [
                field.attname
                for field in model._meta.concrete_fields
                if not field.primary_key and not field.is_relation
            ]
            names = [name for name in names if name != "password"]
            every = model._default_manager.all()
            rows = every.values_list(*names) if names else [()] * every.count()
            dump[model._meta.label] = sorted(
                tuple(str(bytes(v) if isinstance(v, memoryview) else v) for v in row) for row in rows
            )
    return dump


@pytest.mark.django_db
def test_it_is_the_same_for_the_same_day_and_another_for_another(few_lessons: Path) -> None:
    """Built twice for one day every row is the same; the ids of another day's are others."""
    dumps = []
    for day in (DAY, DAY, date(2026, 3, 2)):
        with transaction.atomic():
            build_small(few_lessons, day)
            dumps.append(everything())
            transaction.set_rollback(True)

    assert dumps[0] == dumps[1]
    assert dumps[0] != dumps[2]


@pytest.mark.django_db
def test_it_is_a_plausible_year(few_lessons: Path) -> None:
    """People joined, read, sat, failed and passed; records rest on sittings; nobody's past lies before they joined."""
    build_small(few_lessons)

    assert CompletionRecord.objects.filter(kind="module").count() >= 4
    assert CompletionRecord.objects.filter(revocation__isnull=False).exists()
    assert Sitting.objects.filter(score__passed=False).exists() or Sitting.objects.filter(number__gt=1).exists()
    assert SheetAnswer.objects.count() >= 10 * CompletionRecord.objects.filter(kind="module").count()
    for reading in Reading.objects.select_related("account"):
        joined = Membership.objects.filter(account=reading.account).earliest("effective_from").effective_from
        assert reading.opened_at.date() >= joined
    assert not Reading.objects.filter(account__name__startswith="Luz").exists(), "the new hire has not begun"


def test_it_is_the_size_that_a_buyer_wants_to_see() -> None:
    """Two companies and a training provider, five crews, about forty people."""
    people = len(SCENARIO["people"]) + sum(len(trainees) for trainees in SCENARIO["trainees"].values())

    assert len(SCENARIO["companies"]) == 2
    assert SCENARIO["provider"]["slug"]
    assert len(SCENARIO["crews"]) == 5
    assert 36 <= people <= 46


@pytest.mark.django_db
def test_it_refuses_a_database_that_holds_people() -> None:
    """The demo is never mixed into somebody's data."""
    from django.core.management import CommandError, call_command

    Account.objects.create_user(name="Somebody")

    with pytest.raises(CommandError, match="holds people already"):
        call_command("demo", "--no-serve")
    assert not Company.objects.exists()
    assert not Crew.objects.exists()
