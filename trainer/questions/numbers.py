"""Draws a case's numbers, or takes old ones again: parameters, values, answer, mistakes."""

from collections.abc import Mapping
from typing import Any

from trainer.questions.draft import EQUALS_ANSWER, EQUALS_OTHER, REFUSED, SHOWN, Chance, Draft, Redraw
from trainer.questions.plan import Plan
from trainer.questions.quantities import stored_value
from trainer.questions.rows import draw_rows, known_rows
from trainer.questions.working import Impossible, Work
from trainer.rules import RuleInputError


def draw(plan: Plan, chance: Chance) -> Draft:
    """Draw a case.

    Raises:
        Redraw: A constraint is broken, a rule refuses, or the rows don't suffice.
    """
    scope = dict(plan.base)
    drawn: dict[str, str] = {}
    for parameter in plan.draws:
        name, choices = parameter.name, parameter.choices
        scope[name], drawn[name] = choices[chance.number(name) % len(choices)]
    draft = Draft(scope, drawn)
    if plan.values:
        _work_values(plan, scope)
    if plan.conditions:
        _keep_conditions(plan, scope)
    if plan.answer is not None:
        _work_answer(plan, plan.answer, draft, plan.required_mistakes)
    if plan.has_rows:
        draw_rows(plan, draft, chance)
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
    if plan.answer is not None:
        _work_answer(plan, plan.answer, draft, frozenset())
    draft.fault = drawn.get("fault", "")
    for reading in plan.all_readings:
        text = drawn.get(f"reading.{reading.id}")
        if text is not None:
            draft.readings[reading.id] = _read(reading.id, text, reading.dimension)
    if "rows" not in drawn:
        draw_rows(plan, draft, chance)
        return draft
    draft.rows = drawn["rows"].split()
    known = known_rows(plan, draft)
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


def _work_answer(plan: Plan, answer: Work, draft: Draft, required: frozenset[str]) -> None:
    """Work out the answer and its mistakes; a `required` one that does not show ends it."""
    try:
        draft.value, draft.working = answer.worked(draft.scope)
    except (RuleInputError, Impossible) as error:
        raise Redraw(str(error)) from None
    if answer.dimension.kind is int and not isinstance(draft.value, int):
        raise Redraw(f"the answer is {draft.value}, not whole")
    scope, shown, mistakes = draft.scope, [draft.value], draft.mistakes
    for one, work in plan.mistakes:
        try:
            value = work.value(scope)
        except (RuleInputError, Impossible):
            value, became = None, REFUSED
        else:
            same = plan.first_same(value, shown)
            became = SHOWN if same is None else EQUALS_OTHER if same else EQUALS_ANSWER
        if became == SHOWN:
            shown.append(value)
        elif one in required:
            raise Redraw(f'mistake "{one}" {became}')
        mistakes.append((one, value, became))
