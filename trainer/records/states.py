"""How a record stands on a day: current, lapses soon, lapsed, not held; and what a stranger is told."""

from datetime import date, timedelta
from enum import StrEnum
from typing import Final

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from trainer.records.models import CompletionRecord


class State(StrEnum):
    """The four states of a thing that can be held; the values are what `base/state.html` takes."""

    CURRENT = "current"
    SOON = "soon"
    LAPSED = "lapsed"
    NONE = "none"


class Verdict(StrEnum):
    """What the verification page says of a code."""

    VALID = "valid"
    LAPSED = "lapsed"
    REVOKED = "revoked"


STATE_WORDS: Final[dict[State, Promise]] = {
    State.CURRENT: _("current"),
    State.SOON: _("lapses soon"),
    State.LAPSED: _("lapsed"),
    State.NONE: _("not held"),
}
VERDICT_WORDS: Final[dict[Verdict, Promise]] = {
    Verdict.VALID: _("valid"),
    Verdict.LAPSED: _("lapsed"),
    Verdict.REVOKED: _("revoked"),
}


def state_until(valid_until: date | None, on: date, notice_days: int) -> State:
    """Give the state of something held until a day (None: no end); the last day is still held.

    "Lapses soon" begins `notice_days` before the last day.
    """
    if valid_until is None:
        return State.CURRENT
    if on > valid_until:
        return State.LAPSED
    return State.SOON if on >= valid_until - timedelta(days=notice_days) else State.CURRENT


def verdict_on(record: CompletionRecord, on: date) -> Verdict:
    """Give what a stranger is told of a record on a day."""
    if record.revoked is not None:
        return Verdict.REVOKED
    return Verdict.LAPSED if record.valid_until is not None and on > record.valid_until else Verdict.VALID
