"""A reading under a specification: the value behind its limit, and how far from it a case may draw."""

from dataclasses import dataclass
from typing import Any

from trainer.questions.grids import choices_of
from trainer.questions.limit_words import limit_text, tolerance_text
from trainer.questions.lines import Path
from trainer.questions.model import BothLanguages, Reading, Target
from trainer.questions.names import Names, Wrong
from trainer.rules import Dimension
from trainer.rules.dimensions import TEMPERATURE, TEMPERATURE_DIFFERENCE
from trainer.rules.specification import Value


@dataclass(frozen=True)
class PlannedReading:
    """A reading with the specification's value behind its limit, and its offsets on the good and the bad side.

    `limit` and `tolerance` are its words on a sheet.
    """

    id: str
    value: Value
    dimension: Dimension
    good: tuple[Any, ...]
    bad: tuple[Any, ...]
    near: bool
    limit: BothLanguages
    tolerance: BothLanguages


def plan_reading(names: Names, path: Path, reading: Reading | Target) -> PlannedReading | None:
    """Find a reading's limit and work out its distances; what is wrong is noted at the key that says it."""
    offsets: dict[str, tuple[Any, ...]] = {}
    with names.at(*path, "limit"):
        value = limit_of(names, reading.limit)
        distance = TEMPERATURE_DIFFERENCE if value.dimension is TEMPERATURE else value.dimension
        for key, grid in (("good", reading.good), ("bad", reading.bad)):
            with names.at(*path, key):
                offsets[key] = choices_of(grid, distance)
                if min(offsets[key]) < 0:
                    raise Wrong("E213", "a distance from the limit is below zero; write how far, from zero up")
    if len(offsets) < 2:
        return None
    near = isinstance(reading, Reading) and reading.near
    units = names.specification.units
    return PlannedReading(
        id=reading.id,
        value=value,
        dimension=value.dimension,
        good=offsets["good"],
        bad=offsets["bad"],
        near=near,
        limit=limit_text(value, units),
        tolerance=tolerance_text(value, units),
    )


def limit_of(names: Names, name: str) -> Value:
    """Find a whole value of the specification, with its limit kind and tolerance.

    Raises:
        Wrong: The specification has no such value.
    """
    try:
        return names.specification.lookup(name, names.question.part)
    except LookupError as error:
        raise Wrong("E204", str(error)) from None
