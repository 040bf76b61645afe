"""A spot's targets and parts under a specification: what plants a fault in the drawing, what is read and said there."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from trainer.drawings import SomeOf, dimension_label, get_drawing, listed, part_label
from trainer.questions.case import CaseLimit
from trainer.questions.lines import Path
from trainer.questions.model import LANGUAGES, BothLanguages, Target
from trainer.questions.names import Names, Wrong
from trainer.questions.phrases import phrase
from trainer.questions.planned_drawing import PlannedDrawing
from trainer.questions.planned_reading import PlannedReading, plan_reading
from trainer.questions.quantities import alike
from trainer.questions.targets import NO_FAULT
from trainer.rules import Dimension


@dataclass(frozen=True)
class PlannedTarget:
    """A part to point at; `fixed` and `named` inputs of the drawing plant its fault, or `input` gets a reading."""

    id: str
    part: str
    plants: bool
    fixed: Mapping[str, object]
    named: Mapping[str, str]
    input: str
    reading: PlannedReading | None


@dataclass(frozen=True)
class PlannedPart:
    """A part to point at, or `NO_FAULT`, with what the drawing calls it.

    Where nothing is at fault in it, `told` is the target whose sentence answers whoever points at it, and `read` the
    one whose reading stands with it.
    """

    name: str
    text: BothLanguages
    told: PlannedTarget | None
    read: PlannedTarget | None


def plan_target(names: Names, path: Path, target: Target, drawing: PlannedDrawing) -> PlannedTarget | None:
    """Find what plants a target's fault; what is wrong is noted at the key that says it."""
    fixed: dict[str, object] = {}
    named: dict[str, str] = {}
    inputs = {given.name: given.kind for given in get_drawing(drawing.name).inputs}
    for key, text in target.fault.items():
        kind = inputs[key]
        with names.at(*path, "fault", key):
            if isinstance(kind, Dimension):
                name, value = names.operand(text, kind)
                if name is None:
                    fixed[key] = value
                else:
                    named[key] = name
            else:
                fixed[key] = _words(kind, drawing.fixed.get(key), text)
    reading = None
    if target.input:
        reading = plan_reading(names, path, target)
        if reading is None:
            return None
        wanted = inputs[target.input]
        with names.at(*path, "limit"):
            if not isinstance(wanted, Dimension) or not alike(reading.dimension, wanted):
                raise Wrong("E204", f'"{target.limit}" is another kind of quantity than input "{target.input}"')
    return PlannedTarget(target.id, target.part, target.plants, fixed, named, target.input, reading)


def _words(kind: object, before: object, text: str) -> object:
    """A list of words is added to the drawing's own; one word takes the place of the drawing's."""
    return ",".join(dict.fromkeys([*listed(before), *listed(text)])) if isinstance(kind, SomeOf) else text


def planted_inputs(
    targets: Iterable[PlannedTarget], fault: str, readings: Mapping[str, Any], scope: Mapping[str, Any]
) -> dict[str, object]:
    """Give the drawing's inputs that a case plants: every reading, and what the fault draws."""
    found: dict[str, object] = {}
    for target in targets:
        if target.input and target.id in readings:
            found[target.input] = readings[target.id]
    for target in targets:
        if target.id == fault:
            found.update(target.fixed)
            found.update((name, scope[source]) for name, source in target.named.items())
    return found


def plan_parts(drawing: PlannedDrawing, targets: Sequence[PlannedTarget], *, sound: bool) -> tuple[PlannedPart, ...]:
    """Give the rows: the parts to point at in the drawing's own order, then "no fault" where that can be right."""
    wanted = {target.part for target in targets}
    parts = [
        _plan_part(drawing.name, part, [target for target in targets if target.part == part])
        for part in get_drawing(drawing.name).parts
        if part in wanted
    ]
    if sound:
        parts.append(
            PlannedPart(NO_FAULT, {language: phrase("no_fault", language) for language in LANGUAGES}, None, None)
        )
    return tuple(parts)


def _plan_part(drawing: str, part: str, here: list[PlannedTarget]) -> PlannedPart:
    text: BothLanguages = {language: part_label(drawing, part, language) for language in LANGUAGES}
    told = next((target for target in here if not target.plants), None)
    read = next((target for target in here if target.reading is not None), None)
    return PlannedPart(part, text, told, read)


def limits_of(targets: Iterable[PlannedTarget]) -> tuple[CaseLimit, ...]:
    """Give what is asked for of every length that can be planted, whether it is at fault or not."""
    return tuple(
        CaseLimit(_called(target.input), target.reading.limit, target.reading.tolerance)
        for target in targets
        if target.reading is not None
    )


def _called(name: str) -> BothLanguages:
    return {language: dimension_label(name, language) for language in LANGUAGES}
