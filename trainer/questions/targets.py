"""Checks a spot's targets without a specification: its drawing, its parts, and what plants a fault."""

from collections.abc import Iterator
from typing import Final

from trainer.drawings import DRAWINGS, DrawingInputError, DrawingKind
from trainer.questions.lines import Path
from trainer.questions.model import Question, Target
from trainer.rules import Dimension
from trainer.rules.specification import Problem

NO_FAULT: Final = "accept"
RESERVED: Final = ("none", NO_FAULT)
LEAST_FAULTS: Final = 3
LEAST_PARTS: Final = 4
_FORM: Final = "E216"


def problems_of(question: Question) -> Iterator[Problem]:
    """Give every problem of a spot's drawing and targets."""
    if question.kind != "spot":
        return
    if question.drawing is None:
        yield question.problem(_FORM, ("drawing",), "a spot needs a drawing to point at; add drawing = ...")
        return
    kind = DRAWINGS.get(question.drawing.name)
    if kind is None:
        return
    if not kind.parts:
        there = ", ".join(name for name, other in DRAWINGS.items() if other.parts)
        message = f'drawing "{kind.name}" has no parts to point at; those that have are {there}'
        yield question.problem(_FORM, ("drawing",), message)
        return
    after = question.after_drawing
    if after is not None and after.name != kind.name:
        message = f'the verdict shows the same drawing, "{kind.name}", not "{after.name}"; correct or remove it'
        yield question.problem(_FORM, ("after_drawing",), message)
    yield from _enough(question)
    for index, target in enumerate(question.targets):
        yield from _target(question, kind, ("targets", index), target)


def _enough(question: Question) -> Iterator[Problem]:
    faults = sum(target.plants for target in question.targets)
    parts = len({target.part for target in question.targets})
    if faults < LEAST_FAULTS:
        message = f"{faults} of [[targets]] plant a fault where at least {LEAST_FAULTS} are needed; add some"
        yield question.problem(_FORM, ("targets",), message)
    if parts < LEAST_PARTS:
        message = f"{parts} different parts to point at where at least {LEAST_PARTS} are needed; add targets"
        yield question.problem(_FORM, ("targets",), message)
    ids = [target.id for target in question.targets]
    planted = [target.input for target in question.targets]
    for index, target in enumerate(question.targets):
        if target.id in ids[:index]:
            message = f'"{target.id}" stands twice; give each of [[targets]] its own id, and say its part'
            yield question.problem(_FORM, ("targets", index, "id"), message)
        if target.input and target.input in planted[:index]:
            message = f'input "{target.input}" is planted twice; one target plants an input'
            yield question.problem(_FORM, ("targets", index, "input"), message)
        if target.id in RESERVED:
            message = f'"{target.id}" is a word of the format; give the target another id'
            yield question.problem(_FORM, ("targets", index, "id"), message)


def _target(question: Question, kind: DrawingKind, path: Path, target: Target) -> Iterator[Problem]:
    if target.part not in kind.parts:
        message = f'drawing "{kind.name}" has no part "{target.part}"; its parts are {", ".join(kind.parts)}'
        yield question.problem(_FORM, (*path, "part"), message)
    known = {given.name: given for given in kind.inputs}
    for name, text in target.fault.items():
        given = known.get(name)
        if given is None:
            message = f'drawing "{kind.name}" has no input "{name}"; its inputs are {", ".join(known)}'
            yield question.problem(_FORM, (*path, "fault", name), message)
        elif not isinstance(given.kind, Dimension):
            try:
                given.read(kind.name, text)
            except DrawingInputError as error:
                yield question.problem(_FORM, (*path, "fault", name), str(error))
    measured = [name for name, given in known.items() if isinstance(given.kind, Dimension)]
    if target.input and target.input not in measured:
        message = f'"{target.input}" is no length of drawing "{kind.name}"; its lengths are {", ".join(measured)}'
        yield question.problem(_FORM, (*path, "input"), message)
