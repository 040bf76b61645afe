"""Makes cases: `make_case(question, specification, seed)`, the same for the same seed, in both languages at once."""

from collections import Counter
from collections.abc import Mapping
from typing import Any, Final

from trainer.questions.case import LETTERS, Answer, Case, CaseMistake, CasePair, CaseRow
from trainer.questions.draft import ANSWER_ROW, Chance, Draft, Redraw
from trainer.questions.model import LANGUAGES, BothLanguages, Question
from trainer.questions.numbers import draw as draw_numbers
from trainer.questions.numbers import redraw
from trainer.questions.phrases import phrase
from trainer.questions.plan import Plan
from trainer.questions.planned_reading import PlannedReading
from trainer.questions.pointing import part_answer, part_rows
from trainer.questions.speaking import Speaker
from trainer.questions.spoken import SpokenWords
from trainer.questions.told import NOTHING, Told
from trainer.questions.wording import ITEMS_OF
from trainer.questions.working import Work
from trainer.rules.specification import Specification

__all__ = ["TRIES", "Case", "CaseError", "make_case", "plan_for"]

TRIES: Final = 500


class CaseError(ValueError):
    """No case can be made: no draw keeps the constraints, or old parameters don't fit; says which and why."""


def plan_for(question: Question, specification: Specification) -> Plan:
    """Compile a question under a specification, once.

    Raises:
        ContentError: The question doesn't fit this specification.
    """
    kept = question.plans.get(id(specification))  # a plan keeps its specification, so no other one gets its id
    if kept is None:
        kept = question.plans[id(specification)] = Plan(question, specification)
    plan: Plan = kept
    return plan


def make_case(
    question: Question,
    specification: Specification,
    seed: int | str | None = None,
    *,
    parameters: Mapping[str, str] | None = None,
) -> Case:
    """Make a case from a seed, or again from the `parameters` of an earlier one (then the seed only orders new rows).

    Raises:
        ContentError: The question doesn't fit this specification.
        CaseError: No case within 500 tries, or the parameters don't fit.
    """
    if seed is None and parameters is None:
        raise CaseError(f"{question.id}: give a seed, or the parameters of an earlier case")
    plan = plan_for(question, specification)
    said = "" if seed is None else str(seed)
    if parameters is not None:
        try:
            return tell(plan, redraw(plan, parameters, Chance(question.digest, said, 0)), said)
        except Redraw as refused:
            raise CaseError(f"{question.id} under {specification.label}: {refused}") from None
    return tell(plan, draft_case(plan, said), said)


def draft_case(plan: Plan, seed: str) -> Draft:
    """Draw until a draw keeps every constraint.

    Raises:
        CaseError: None did.
    """
    refusals: list[str] = []
    for attempt in range(TRIES):
        try:
            return draw_numbers(plan, Chance(plan.question.digest, seed, attempt))
        except Redraw as refused:
            refusals.append(str(refused))
    often, count = Counter(refusals).most_common(1)[0]
    raise CaseError(
        f"{plan.question.id} under {plan.specification.label}: no case in {TRIES} draws; "
        f"{count} were refused because of: {often}. Widen the parameters or loosen the constraint"
    )


def tell(plan: Plan, draft: Draft, seed: str) -> Case:
    """Give a draft its words, worked out when read."""
    speaker = Speaker(plan, draft)
    rows = _rows(plan, draft, speaker) if draft.rows else ()
    answer, mistakes = _answer(plan, draft, speaker, rows), _mistakes(plan, draft, speaker)
    return Case(plan.facts, SpokenWords(speaker), seed, draft.drawn, answer, mistakes, rows, _pairs(plan, rows))


def _mistakes(plan: Plan, draft: Draft, speaker: Speaker) -> tuple[CaseMistake, ...]:
    if plan.answer is None:
        return ()
    dimension = plan.answer.dimension
    shown = draft.shown_mistakes()
    return tuple(
        [
            CaseMistake(one, value, speaker.shown(value, dimension), speaker.mistake(one, value), dimension)
            for one, value in shown
        ]
    )


def _answer(plan: Plan, draft: Draft, speaker: Speaker, rows: tuple[CaseRow, ...]) -> Answer:
    kind = plan.question.kind
    if kind in ("measure", "count") and plan.answer is not None:
        dimension, value = plan.answer.dimension, draft.value
        rounded = draft.working if dimension.kind is int else None
        return Answer(value, dimension, speaker.shown(value, dimension), plan.within, plan.within_text, rounded)
    if kind == "order":
        letters = {row.id: row.letter for row in rows}
        value = tuple(letters[row.id] for row in plan.question.rows if row.id in letters)
        return Answer(value, None, dict.fromkeys(LANGUAGES, " → ".join(value)))
    if kind == "judge":
        failing = tuple(row.letter for row in rows if not row.right)
        return Answer(("reject", *failing) if failing else ("accept",), None, _judgment(failing))
    if kind == "spot":
        return part_answer(rows)
    value = tuple(row.letter for row in rows if row.right)
    return Answer(value, None, dict.fromkeys(LANGUAGES, ", ".join(value)))


def _judgment(failing: tuple[str, ...]) -> BothLanguages:
    if not failing:
        return Told(lambda language: phrase("accept", language))
    return Told(lambda language: phrase("reject_reading", language, reading=", ".join(failing)))


def _rows(plan: Plan, draft: Draft, speaker: Speaker) -> tuple[CaseRow, ...]:
    if plan.question.kind == "judge":
        readings = {reading.id: reading for reading in plan.readings}
        return tuple(_reading(draft, speaker, place, readings[one]) for place, one in enumerate(draft.rows, start=1))
    if plan.question.kind == "spot":
        return part_rows(plan, draft, speaker)
    letters = zip(LETTERS, draft.rows, strict=False)
    if plan.question.kind == "choice" and plan.answer is not None:
        values: dict[str, Any] = {ANSWER_ROW: draft.value, **dict(draft.shown_mistakes())}
        return tuple(_number_row(plan.answer, speaker, letter, one, values[one]) for letter, one in letters)
    section = ITEMS_OF[plan.question.kind]
    return tuple(
        CaseRow(letter, one, one in draft.right, speaker.said((section, one)), speaker.why(one))
        for letter, one in letters
    )


def _number_row(answer: Work, speaker: Speaker, letter: str, one: str, value: Any) -> CaseRow:
    right, shown = one == ANSWER_ROW, speaker.shown(value, answer.dimension)
    return CaseRow(letter, one, right, shown, None if right else speaker.mistake(one, value))


def _reading(draft: Draft, speaker: Speaker, place: int, reading: PlannedReading) -> CaseRow:
    one = reading.id
    value = draft.readings.get(one)
    return CaseRow(
        letter=str(place),
        id=one,
        right=one in draft.right,
        text=speaker.said(("readings", one)),
        why=speaker.why(one),
        reading=NOTHING if value is None else speaker.of(value, reading.dimension),
        limit=reading.limit,
        tolerance=reading.tolerance,
    )


def _pairs(plan: Plan, rows: tuple[CaseRow, ...]) -> tuple[CasePair, ...]:
    if plan.question.kind != "order":
        return ()
    letters = {row.id: row.letter for row in rows}
    return tuple(
        [
            CasePair(letters[before], letters[after], why)
            for before, after, why in plan.pairs
            if before in letters and after in letters
        ]
    )
