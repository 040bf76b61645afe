"""Tries a spot's drawings: every fault comes up, can be seen and read, and lies in a part that can be pointed at."""

from collections import defaultdict
from collections.abc import Iterator
from itertools import islice
from typing import Any, Final

from trainer.drawings import Drawing, DrawingInputError, draw
from trainer.questions.draft import Draft
from trainer.questions.lines import Path
from trainer.questions.model import LANGUAGES, Language
from trainer.questions.plan import Plan
from trainer.questions.planned_drawing import PlannedDrawing
from trainer.questions.planned_target import PlannedTarget, planted_inputs

DRAWN: Final = 2
Finding = tuple[str, Path, str]


def never_planted(plan: Plan, drafts: list[Draft]) -> Iterator[Finding]:
    """Find faults that no case has."""
    planted = {draft.fault for draft in drafts}
    for index, target in enumerate(plan.targets):
        if target.plants and target.id not in planted:
            message = f'the fault of "{target.id}" comes up in none of {len(drafts)} cases; make its distances possible'
            yield "E234", ("targets", index), message


def findings(plan: Plan, drafts: list[Draft]) -> Iterator[Finding]:
    """Draw the first cases of each fault, true and faulty, in both languages, and compare them."""
    if plan.question.kind != "spot":
        return
    by_fault: dict[str, list[Draft]] = defaultdict(list)
    for draft in drafts:
        by_fault[draft.fault].append(draft)
    for index, target in enumerate(plan.targets):
        for draft in islice(by_fault[target.id], DRAWN):
            yield from _seen(plan, draft, target, index)
    for draft in islice(by_fault[""], DRAWN):
        yield from _parts(plan, draft)


def _seen(plan: Plan, draft: Draft, target: PlannedTarget, index: int) -> Iterator[Finding]:
    path: Path = ("targets", index)
    try:
        for language in LANGUAGES:
            faulty = _draw(plan, plan.drawing, draft, language)
            sound = _draw(plan, plan.drawing, _without(draft, target), language)
            for what, one, other in (("picture", faulty.svg, sound.svg), ("text alternative", faulty.alt, sound.alt)):
                if one == other:
                    message = f'the fault of "{target.id}" does not change the {what} ({language}); plant it otherwise'
                    yield "E235", path, message
        yield from _parts(plan, draft)
        after = _draw(plan, plan.after_drawing, draft, "en")
        if target.part not in [part.name for part in after.parts]:
            message = f'shown with the verdict, the drawing lacks part "{target.part}"; give after_drawing its show'
            yield "E236", ("after_drawing",), message
    except DrawingInputError as error:
        yield "E226", path, f"{error} (planted by {target.id})"


def _parts(plan: Plan, draft: Draft) -> Iterator[Finding]:
    """Find parts to point at that the drawing of a case lacks."""
    drawn = [part.name for part in _draw(plan, plan.drawing, draft, "en").parts]
    for index, target in enumerate(plan.targets):
        if target.part not in drawn:
            yield "E236", ("targets", index), f'the drawing of a case lacks part "{target.part}"; leave the target out'


def _without(draft: Draft, target: PlannedTarget) -> Draft:
    """Give the same case with this fault mended: what was drawn by words left out, a length on its limit."""
    readings: dict[str, Any] = dict(draft.readings)
    if target.reading is not None:
        limit = target.reading.value
        readings[target.id] = limit.value if limit.value is not None else limit.least
    return Draft(draft.scope, draft.drawn, readings=readings)


def _draw(plan: Plan, drawing: PlannedDrawing | None, draft: Draft, language: Language) -> Drawing:
    assert drawing is not None  # noqa: S101  a spot without one is refused when it is read
    inputs = drawing.inputs(draft.scope)
    inputs |= planted_inputs(plan.targets, draft.fault, draft.readings, draft.scope)
    return draw(drawing.name, inputs, units=plan.specification.units, language=language)
