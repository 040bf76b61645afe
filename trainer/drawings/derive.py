"""Numbers that a drawing does not get but works out: always by the rules, never here."""

from __future__ import annotations

from typing import Any

from trainer.drawings.errors import DrawingInputError
from trainer.drawings.sheet import Sheet
from trainer.rules.registry import RuleInputError, get_rule


def worked_out(sheet: Sheet, rule: str, /, **inputs: object) -> Any:
    """Ask a rule for its value.

    Raises:
        DrawingInputError: The rule refuses an input; shows the rule's own limit and mending.
    """
    return _working(sheet, rule, inputs).value


def steps_of(sheet: Sheet, rule: str, /, **inputs: object) -> dict[str, Any]:
    """Ask a rule for every value on the way, by name.

    Raises:
        DrawingInputError: The rule refuses an input; shows the rule's own limit and mending.
    """
    return {step.name: step.value for step in _working(sheet, rule, inputs).steps}


def _working(sheet: Sheet, rule: str, inputs: dict[str, object]) -> Any:
    try:
        return get_rule(rule)(**inputs)
    except RuleInputError as error:
        limit = f"it must be {error.limit}"
        raise DrawingInputError(sheet.name, error.name, error.value, limit, error.mending) from error
