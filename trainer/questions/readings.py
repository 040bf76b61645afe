"""Draws readings on the good or the bad side of their limits."""

from typing import Any

from trainer.questions.draft import Chance, Draft, Redraw
from trainer.questions.planned_reading import PlannedReading
from trainer.questions.quantities import stored_text


def keep_reading(draft: Draft, reading: PlannedReading, *, bad: bool, chance: Chance) -> None:
    """Draw a reading into the draft.

    Raises:
        Redraw: It came out below what can be measured, or on the other side of its limit.
    """
    value = _drawn(reading, bad=bad, chance=chance)
    least = reading.dimension.least
    if (least is not None and value < least) or fits(reading, value) == bad:
        raise Redraw(f'reading "{reading.id}" of {stored_text(value, reading.dimension)} is not what was meant')
    draft.readings[reading.id] = value
    draft.drawn[f"reading.{reading.id}"] = stored_text(value, reading.dimension)


def _drawn(reading: PlannedReading, *, bad: bool, chance: Chance) -> Any:
    """Draw a reading on the good side of its limit, or beyond limit and tolerance on the bad one."""
    offsets = reading.bad if bad else reading.good
    offset = offsets[chance.below(f"offset {reading.id}", len(offsets))]
    upward = chance.below(f"side {reading.id}", 2) == 1
    value, tolerance = reading.value, reading.value.tolerance or 0
    if bad:
        offset = -(tolerance + offset)
    elif reading.near and tolerance and chance.below(f"near {reading.id}", 4) == 0:
        offset = -tolerance
    if value.limit == "minimum":
        return value.value + offset
    if value.limit == "maximum":
        return value.value - offset
    if value.limit == "range":
        return value.most - offset if upward else value.least + offset
    return value.value + offset if upward else value.value - offset


def fits(reading: PlannedReading, value: Any) -> bool:
    """Tell whether a reading is accepted: within the limit, or so near that the tape can't tell."""
    return value is None or reading.value.judges(value) != "reject"
