"""The parts of a spot's drawing as lettered rows, and its right answer."""

from trainer.questions.case import LETTERS, Answer, CaseRow
from trainer.questions.draft import Draft
from trainer.questions.plan import Plan
from trainer.questions.planned_target import PlannedPart, PlannedTarget
from trainer.questions.planting import failing
from trainer.questions.speaking import Speaker
from trainer.questions.targets import NO_FAULT
from trainer.questions.told import NOTHING, Told


def part_rows(plan: Plan, draft: Draft, speaker: Speaker) -> tuple[CaseRow, ...]:
    """Give each part its letter, its name and, for the verdict, what was read there."""
    faults = {target.part: target for target in failing(plan, draft)}
    parts = {part.name: part for part in plan.parts}
    return tuple(
        _row(draft, speaker, letter, parts[name], faults.get(name))
        for letter, name in zip(LETTERS, draft.rows, strict=False)
    )


def _row(draft: Draft, speaker: Speaker, letter: str, part: PlannedPart, fault: PlannedTarget | None) -> CaseRow:
    right = part.name in draft.right
    if part.name == NO_FAULT:
        return CaseRow(letter, part.name, right, part.text)
    told, read = fault or part.told, fault or part.read
    code = fault.id if fault is not None else f"pointed_at_{part.name}"
    why = speaker.why(told.id) if told is not None else None
    reading = read.reading if read is not None else None
    value = draft.readings.get(reading.id) if reading is not None else None
    if reading is None or value is None:
        return CaseRow(letter, code, right, part.text, why, NOTHING, NOTHING, NOTHING)
    shown = speaker.of(value, reading.dimension)
    return CaseRow(letter, code, right, part.text, why, shown, reading.limit, reading.tolerance)


def part_answer(rows: tuple[CaseRow, ...]) -> Answer:
    """Give the rows that are right: the parts at fault, or the one that says nothing is."""
    right = [row for row in rows if row.right]
    text = Told(lambda language: "; ".join(f"{row.letter}, {row.text[language]}" for row in right))
    return Answer(tuple(row.letter for row in right), None, text)
