"""The parts of a spot's drawing as lettered rows, its right answer, and the limits that stand beside it."""

from trainer.drawings import dimension_label, part_label
from trainer.questions.case import LETTERS, Answer, CaseLimit, CaseRow
from trainer.questions.draft import Draft
from trainer.questions.limit_words import limit_text, tolerance_text
from trainer.questions.model import LANGUAGES, BothLanguages
from trainer.questions.phrases import phrase
from trainer.questions.plan import Plan
from trainer.questions.planned_target import PlannedTarget
from trainer.questions.planting import failing
from trainer.questions.speaking import Speaker
from trainer.questions.targets import NO_FAULT
from trainer.questions.told import NOTHING, Told


def part_rows(plan: Plan, draft: Draft, speaker: Speaker) -> tuple[CaseRow, ...]:
    """Give each part its letter, its name and, for the verdict, what was read there."""
    faults = {target.part: target for target in failing(plan, draft)}
    return tuple(
        _row(plan, draft, speaker, (letter, part), faults.get(part))
        for letter, part in zip(LETTERS, draft.rows, strict=False)
    )


def _row(plan: Plan, draft: Draft, speaker: Speaker, row: tuple[str, str], fault: PlannedTarget | None) -> CaseRow:
    letter, part = row
    right = part in draft.right
    if part == NO_FAULT:
        return CaseRow(letter, part, right, Told(lambda language: phrase("no_fault", language)))
    here = [target for target in plan.targets if target.part == part]
    told = fault or next((target for target in here if not target.plants), None)
    read = fault or next((target for target in here if target.reading is not None), None)
    reading, value = (read.reading, draft.readings.get(read.id)) if read is not None else (None, None)
    units = plan.specification.units
    shown = reading is not None and value is not None
    return CaseRow(
        letter=letter,
        id=fault.id if fault is not None else f"pointed_at_{part}",
        right=right,
        text=part_text(plan, part),
        why=speaker.why(told.id) if told is not None else None,
        reading=speaker.of(value, reading.dimension) if reading is not None and shown else NOTHING,
        limit=limit_text(reading, units) if reading is not None and shown else NOTHING,
        tolerance=tolerance_text(reading, units) if reading is not None and shown else NOTHING,
    )


def part_text(plan: Plan, part: str) -> BothLanguages:
    """Give what the drawing calls a part."""
    name = plan.drawing.name if plan.drawing is not None else ""
    return {language: part_label(name, part, language) for language in LANGUAGES}


def part_answer(rows: tuple[CaseRow, ...]) -> Answer:
    """Give the rows that are right: the parts at fault, or the one that says nothing is."""
    right = [row for row in rows if row.right]
    text = Told(lambda language: "; ".join(f"{row.letter}, {row.text[language]}" for row in right))
    return Answer(tuple(row.letter for row in right), None, text)


def limits_of(plan: Plan) -> tuple[CaseLimit, ...]:
    """Give what is asked for of every length that can be planted, whether it is at fault or not."""
    units = plan.specification.units
    return tuple(
        CaseLimit(_called(target.input), limit_text(target.reading, units), tolerance_text(target.reading, units))
        for target in plan.targets
        if target.reading is not None
    )


def _called(name: str) -> BothLanguages:
    return {language: dimension_label(name, language) for language in LANGUAGES}
