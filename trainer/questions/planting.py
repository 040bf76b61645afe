"""Plants the one fault of a spot's case, or none, and tells which part of the drawing it lies in."""

from typing import Final

from trainer.questions.draft import Chance, Draft, Redraw
from trainer.questions.plan import Plan
from trainer.questions.planned_target import PlannedTarget
from trainer.questions.readings import fits, keep_reading
from trainer.questions.targets import NO_FAULT

NONE: Final = "none"


def plant(plan: Plan, draft: Draft, chance: Chance) -> None:
    """Draw where the fault lies and every reading, and put the parts to point at into the draft.

    Raises:
        Redraw: A reading came out on the other side of its limit.
    """
    faults = [target.id for target in plan.targets if target.plants]
    sound = chance.happens("sound", plan.question.sound)
    draft.fault = "" if sound else faults[chance.below("fault", len(faults))]
    draft.drawn["fault"] = draft.fault or NONE
    for target in plan.targets:
        if target.reading is not None:
            keep_reading(draft, target.reading, bad=target.id == draft.fault, chance=chance)
    draft.rows = [part.name for part in plan.parts]
    known = known_parts(plan, draft)
    draft.right = frozenset(part for part, right in known.items() if right)


def failing(plan: Plan, draft: Draft) -> list[PlannedTarget]:
    """Give the targets at fault with these numbers: the one planted by words, and those whose reading fails."""
    found = []
    for target in plan.targets:
        if target.reading is not None:
            if not fits(target.reading, draft.readings.get(target.id)):
                found.append(target)
        elif target.plants and target.id == draft.fault:
            found.append(target)
    return found


def known_parts(plan: Plan, draft: Draft) -> dict[str, bool]:
    """Give each row and whether pointing at it is right with these numbers.

    Raises:
        Redraw: Nothing is at fault with these numbers, and the question has no row that says so.
    """
    parts = {target.part for target in failing(plan, draft)}
    if not parts and not plan.question.sound:
        raise Redraw("nothing is at fault with these numbers")
    return {part.name: part.name in parts or (part.name == NO_FAULT and not parts) for part in plan.parts}
