"""Draws which rows, steps or readings a case shows, in which order, and which of them are right."""

from trainer.questions.draft import ANSWER_ROW, Chance, Draft, Redraw
from trainer.questions.plan import Plan
from trainer.questions.planting import known_parts, plant
from trainer.questions.readings import fits, keep_reading


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
    elif question.kind == "spot":
        plant(plan, draft, chance)


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
    if plan.question.kind == "spot":
        return known_parts(plan, draft)
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
        keep_reading(draft, by_id[one], bad=one == fault, chance=chance)
    draft.rows = taken
    draft.right = frozenset(one for one in taken if one != fault)
