"""Draws a case's numbers: parameters, values, answer, mistakes, rows. No words yet, so that a case costs little."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from hashlib import blake2b
from typing import Any, Final

from trainer.questions.plan import Plan, PlannedReading
from trainer.questions.quantities import stored_text, stored_value
from trainer.questions.working import Impossible, Work
from trainer.rules import RuleInputError, Working

ANSWER_ROW: Final = "answer"
SHOWN, REFUSED, EQUALS_ANSWER, EQUALS_OTHER = (
    "shown",
    "refused",
    "equals the answer",
    "equals another mistake",
)
_WHOLE: Final = 1 << 64


class Redraw(Exception):
    """These numbers make no case; says why, for the message when none ever does."""


class Chance:
    """Numbers that depend on nothing but the question's version, the seed, the try and a name."""

    def __init__(self, digest: str, seed: str, attempt: int) -> None:
        self._state = blake2b(f"{digest}\0{seed}\0{attempt}\0".encode(), digest_size=8)

    def number(self, name: str) -> int:
        """Give a number from 0 to 2**64 - 1."""
        state = self._state.copy()
        state.update(name.encode())
        return int.from_bytes(state.digest(), "big")

    def below(self, name: str, count: int) -> int:
        """Give a number from 0 to count - 1."""
        return self.number(name) % count

    def happens(self, name: str, share: Fraction) -> bool:
        """Come true with this probability."""
        return self.number(name) * share.denominator < share.numerator * _WHOLE

    def shuffled(self, name: str, ids: Sequence[str]) -> list[str]:
        """Give the ids in another order."""
        return sorted(ids, key=lambda one: self.number(f"{name}\0{one}"))


@dataclass
class Draft:
    """A case in numbers.

    Attributes:
        scope: every name the question uses, with its value.
        drawn: what remakes the case: parameter names, `rows`, `reading.ID`, as stored texts.
        value, working: the answer and, where a rule gives it, its working.
        mistakes: id, value (None where refused) and what became of it, in the file's order.
        rows: ids in the order shown; a numeric choice's right row is `answer`.
        readings: a judge's readings by id.
    """

    scope: dict[str, Any]
    drawn: dict[str, str]
    value: Any = None
    working: Working[Any] | None = None
    mistakes: list[tuple[str, Any, str]] = field(default_factory=list)
    rows: list[str] = field(default_factory=list)
    right: frozenset[str] = frozenset()
    readings: dict[str, Any] = field(default_factory=dict)

    def shown_mistakes(self) -> list[tuple[str, Any]]:
        """Give the mistakes that stand in this case."""
        return [(one, value) for one, value, became in self.mistakes if became == SHOWN]


def draw(plan: Plan, chance: Chance) -> Draft:
    """Draw a case.

    Raises:
        Redraw: A constraint is broken, a rule refuses, or the rows don't suffice.
    """
    scope = dict(plan.base)
    drawn: dict[str, str] = {}
    for parameter in plan.draws:
        choices = parameter.choices
        scope[parameter.name], drawn[parameter.name] = choices[chance.number(parameter.name) % len(choices)]
    draft = Draft(scope, drawn)
    _work_values(plan, scope)
    _keep_conditions(plan, scope)
    _work_answer(plan, draft, plan.required_mistakes)
    _draw_rows(plan, draft, chance)
    if draft.rows:
        drawn["rows"] = " ".join(draft.rows)
    return draft


def redraw(plan: Plan, parameters: Mapping[str, str], chance: Chance) -> Draft:
    """Make a case again from its `drawn`; constraints are not asked, since they held when it was drawn.

    Raises:
        Redraw: A parameter is missing or no quantity, or a rule refuses.
    """
    scope = dict(plan.base)
    drawn = dict(parameters)
    for parameter in plan.draws:
        text = drawn.get(parameter.name)
        if text is None:
            raise Redraw(f'parameter "{parameter.name}" is missing')
        value = scope[parameter.name] = _read(parameter.name, text, parameter.dimension)
        least, most = plan.spans[parameter.name]
        if not least <= value <= most:
            raise Redraw(f'parameter "{parameter.name}" of {text} is outside the grid of this version')
    draft = Draft(scope, drawn)
    _work_values(plan, scope)
    _work_answer(plan, draft, frozenset())
    for reading in plan.readings:
        text = drawn.get(f"reading.{reading.id}")
        if text is not None:
            draft.readings[reading.id] = _read(reading.id, text, reading.dimension)
    if "rows" not in drawn:
        _draw_rows(plan, draft, chance)
        return draft
    draft.rows = drawn["rows"].split()
    known = _known_rows(plan, draft)
    unknown = [one for one in draft.rows if one not in known]
    if unknown:
        raise Redraw(f'row "{unknown[0]}" is not in this version of the question')
    draft.right = frozenset(one for one in draft.rows if known[one])
    return draft


def _read(name: str, text: str, dimension: Any) -> Any:
    try:
        return stored_value(text, dimension)
    except ValueError:
        pass
    try:
        return dimension.parse(text)
    except ValueError as error:
        raise Redraw(f'parameter "{name}": {error}') from None


def _work_values(plan: Plan, scope: dict[str, Any]) -> None:
    try:
        for name, work in plan.values:
            scope[name] = work.value(scope)
    except (RuleInputError, Impossible) as error:
        raise Redraw(str(error)) from None


def _keep_conditions(plan: Plan, scope: dict[str, Any]) -> None:
    for condition in plan.conditions:
        try:
            holds = condition.test(scope)
        except (RuleInputError, Impossible, ZeroDivisionError) as error:
            raise Redraw(f"{condition.text}: {error}") from None
        if not holds:
            raise Redraw(f"constraint {condition.text}")


def _work_answer(plan: Plan, draft: Draft, required: frozenset[str]) -> None:
    """Work out the answer and its mistakes; a `required` one that does not show ends it."""
    answer = plan.answer
    if answer is None:
        return
    try:
        draft.value, draft.working = answer.worked(draft.scope)
    except (RuleInputError, Impossible) as error:
        raise Redraw(str(error)) from None
    if answer.dimension.kind is int and not isinstance(draft.value, int):
        raise Redraw(f"the answer is {draft.value}, not whole")
    kept: list[Any] = []
    for one, work in plan.mistakes:
        value, became = _work_mistake(plan, draft, work, kept)
        if became != SHOWN and one in required:
            raise Redraw(f'mistake "{one}" {became}')
        draft.mistakes.append((one, value, became))


def _work_mistake(plan: Plan, draft: Draft, work: Work, kept: list[Any]) -> tuple[Any, str]:
    try:
        value = work.value(draft.scope)
    except (RuleInputError, Impossible):
        return None, REFUSED
    if plan.same(value, draft.value):
        return value, EQUALS_ANSWER
    for other in kept:
        if plan.same(value, other):
            return value, EQUALS_OTHER
    kept.append(value)
    return value, SHOWN


def _draw_rows(plan: Plan, draft: Draft, chance: Chance) -> None:
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
    wrong = [one for one, value in draft.shown_mistakes() if value >= 0]
    if len(wrong) < 2:  # noqa: PLR2004 - three rows at least
        raise Redraw("fewer than 3 different rows")
    wrong = chance.shuffled("wrong", wrong)[: (plan.question.show or 4) - 1]
    draft.rows = chance.shuffled("row", [ANSWER_ROW, *wrong])
    draft.right = frozenset({ANSWER_ROW})


def _known_rows(plan: Plan, draft: Draft) -> dict[str, bool]:
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
    if len(rows) < 3 or not wrong:  # noqa: PLR2004 - three rows at least
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
        if value < 0 or fits(reading, value) != (one != fault):
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
