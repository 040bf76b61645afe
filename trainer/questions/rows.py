"""Draws which rows, steps or readings a case shows, in which order, and which of them are right."""

from typing import Any

from trainer.questions.draft import ANSWER_ROW, Chance, Draft, Redraw
from trainer.questions.plan import Plan, PlannedReading
from trainer.questions.quantities import stored_text


def draw_rows(plan: Plan, draft: Draft, chance: Chance) -> None:
    """Put the rows of a choice, order or judge into the draft.

    Raises:
        Redraw: These numbers leave too few rows, or rows that show nothing.
    """
    question = plan.question
    if question.kind == "choice":
        if question.answer is not None:
            _number_rows(plan, draft, chance)
        else:
            _text_rows(plan, draft, chance)
    elif question.kind == "order":
        _order_rows(plan, draft, chance)
    elif question.kind == "judge":
        _readings(plan, draft, chance)


def _number_rows(plan: Plan, draft: Draft, chance: Chance) -> None:
    least = plan.answer.dimension.least if plan.answer is not None else None
    wrong = [one for one, value in draft.shown_mistakes() if least is None or value >= least]
    if len(wrong) < 2:
        raise Redraw("fewer than 3 different rows")
    wrong = chance.shuffled("wrong", wrong)[: (plan.question.show or 4) - 1]
    draft.rows = chance.shuffled("row", [ANSWER_ROW, *wrong])
    draft.right = frozenset({ANSWER_ROW})


def known_rows(plan: Plan, draft: Draft) -> dict[str, bool]:
    """Give each row's id and whether it is right with these numbers; no look at `when`."""
    if plan.question.kind == "judge":
        return {reading.id: fits(reading, draft.readings.get(reading.id)) for reading in plan.readings}
    if plan.question.answer is not None:
        return {ANSWER_ROW: True, **dict.fromkeys((one for one, _ in draft.shown_mistakes()), False)}
    rows = zip(plan.question.rows, plan.rows, strict=True)
    return {row.id: bool(right(draft.scope)) for row, (right, _) in rows}


def _available(plan: Plan, draft: Draft) -> dict[str, bool]:
    rows = zip(plan.question.rows, plan.rows, strict=True)
    return {row.id: bool(right(draft.scope)) for row, (right, when) in rows if when(draft.scope)}


def _text_rows(plan: Plan, draft: Draft, chance: Chance) -> None:
    available = _available(plan, draft)
    right = chance.shuffled("right", [one for one, is_right in available.items() if is_right])
    wrong = chance.shuffled("wrong", [one for one, is_right in available.items() if not is_right])
    least, most = plan.question.right
    show = plan.question.show or 4
    most = min(most, len(right), show - 1)
    if most < least:
        raise Redraw(f"{len(right)} right rows where {least} are asked for")
    count = least + chance.below("how many right", most - least + 1)
    rows = right[:count] + wrong[: show - count]
    if len(rows) < 3 or not wrong:
        raise Redraw("fewer than 3 rows")
    draft.rows = chance.shuffled("row", rows)
    draft.right = frozenset(right[:count])


def _order_rows(plan: Plan, draft: Draft, chance: Chance) -> None:
    available = _available(plan, draft)
    show = min(plan.question.show or len(available), len(available))
    taken = frozenset(chance.shuffled("step", list(available))[:show])
    after = plan.pairs_among(taken)
    tied = {one for pair in after for one in pair}
    if tied != taken:
        raise Redraw("a step that no pair ties to the others shown")
    for place in range(8):
        draft.rows = chance.shuffled(f"row {place}", [row.id for row in plan.question.rows if row.id in taken])
        at = {one: index for index, one in enumerate(draft.rows)}
        if any(at[before] > at[later] for before, later in after):
            draft.right = taken
            return
    raise Redraw("steps that are in order however they are shuffled")


def _readings(plan: Plan, draft: Draft, chance: Chance) -> None:
    show = min(plan.question.show or len(plan.readings), len(plan.readings))
    taken = chance.shuffled("reading", [reading.id for reading in plan.readings])[:show]
    sound = chance.happens("sound", plan.question.sound)
    fault = "" if sound else taken[chance.below("fault", show)]
    by_id = {reading.id: reading for reading in plan.readings}
    for one in taken:
        reading = by_id[one]
        value = _reading(reading, bad=one == fault, chance=chance)
        least = reading.dimension.least
        if (least is not None and value < least) or fits(reading, value) != (one != fault):
            raise Redraw(f'reading "{one}" of {stored_text(value, reading.dimension)} is not what was meant')
        draft.readings[one] = value
        draft.drawn[f"reading.{one}"] = stored_text(value, reading.dimension)
    draft.rows = taken
    draft.right = frozenset(one for one in taken if one != fault)


def _reading(reading: PlannedReading, *, bad: bool, chance: Chance) -> Any:
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
