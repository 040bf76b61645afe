"""What no roof can have: measures that a drawing refuses, each with its limit and how to mend it."""

from __future__ import annotations

from fractions import Fraction

from trainer.drawings.registry import DrawingInputError
from trainer.drawings.sheet import Sheet
from trainer.rules.lengths import exact_text

LONGEST = Fraction(12 * 2000)


def need(sheet: Sheet, holds: bool, name: str, value: Fraction, limit: str, mending: str) -> None:
    """Refuse a length unless the condition holds.

    Raises:
        DrawingInputError: It does not; shows name, value, limit, mending.
    """
    if not holds:
        raise DrawingInputError(sheet.name, name, exact_text(value), limit, mending)


def positive(sheet: Sheet, **lengths: Fraction | None) -> None:
    """Refuse a length that is not above 0 or is longer than any roof.

    Raises:
        DrawingInputError: The first such length; shows name, value, limit, mending.
    """
    for name, value in lengths.items():
        if value is not None:
            need(sheet, value > 0, name, value, "it must be above 0", "measure it again")
            need(sheet, value <= LONGEST, name, value, "it must be at most 2000 ft", "check the unit")


def not_negative(sheet: Sheet, **lengths: Fraction | None) -> None:
    """Refuse a length below 0 or longer than any roof.

    Raises:
        DrawingInputError: The first such length; shows name, value, limit, mending.
    """
    for name, value in lengths.items():
        if value is not None:
            need(sheet, value >= 0, name, value, "it must not be below 0", "measure it again")
            need(sheet, value <= LONGEST, name, value, "it must be at most 2000 ft", "check the unit")
