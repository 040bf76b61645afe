"""The command for the scheduler, and the end of sittings that nobody touches."""

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from io import StringIO
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from tests import factories
from tests.exams.conftest import answer_all, start
from trainer.base import clock
from trainer.exams import services
from trainer.exams.models import SittingEnd, SittingScore
from trainer.people.access import Member
from trainer.people.models import Company

NOON = datetime(2026, 3, 4, 18, tzinfo=UTC)


def due() -> dict[str, Any]:
    """Run the command and give what it printed of sittings."""
    out = StringIO()
    call_command("due", "--json", stdout=out)
    return {name: told for name, told in json.loads(out.getvalue()).items() if name.startswith("sittings")}


def test_it_ends_what_nobody_touches(ready: Company, trainee: Member, save: Callable[..., Any]) -> None:
    """Answers that were saved count; the end is when time was up; a second run has nothing to do."""
    with clock.fixed(NOON):
        sitting = start(trainee)
        answer_all(sitting, save)
        assert due() == {"sittings_ended": 0, "sittings_failed": []}
        clock.advance(timedelta(hours=3))

        assert due() == {"sittings_ended": 1, "sittings_failed": []}
        assert due() == {"sittings_ended": 0, "sittings_failed": []}

    assert SittingScore.objects.get().passed is True
    assert SittingEnd.objects.get().ended_at == NOON + timedelta(minutes=20)


def test_it_leaves_open_sittings_alone(ready: Company, trainee: Member) -> None:
    """A sitting with time left is not touched."""
    with clock.fixed(NOON):
        start(trainee)
        clock.advance(timedelta(minutes=19))
        due()

    assert not SittingEnd.objects.exists()


def test_it_ends_the_others_when_one_fails(ready: Company, trainee: Member, monkeypatch: pytest.MonkeyPatch) -> None:
    """The sitting that cannot be scored is named and stays open; the command fails so that somebody looks."""
    score = services._score
    with clock.fixed(NOON):
        broken, sound = start(trainee), start(factories.member(ready))
        monkeypatch.setattr(services, "_score", lambda one: 1 / 0 if one == broken else score(one))
        clock.advance(timedelta(hours=1))
        with pytest.raises(CommandError, match=str(broken.ref)):
            due()

    assert SittingScore.objects.get().sitting == sound
