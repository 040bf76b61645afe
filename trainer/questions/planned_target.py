"""A spot's target under a specification: the inputs of the drawing that plant its fault, and its reading."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from trainer.drawings import SomeOf, get_drawing, listed
from trainer.questions.lines import Path
from trainer.questions.model import Target
from trainer.questions.names import Names, Wrong
from trainer.questions.planned_drawing import PlannedDrawing
from trainer.questions.planned_reading import PlannedReading, plan_reading
from trainer.questions.quantities import alike
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
