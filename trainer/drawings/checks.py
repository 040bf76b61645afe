"""Measures that no roof can have."""

from __future__ import annotations

from fractions import Fraction

from trainer.drawings.sheet import Sheet

LONGEST = Fraction(12 * 2000)


def positive(sheet: Sheet, **lengths: Fraction | None) -> None:
    """Refuse a length that is not above 0 or is longer than any roof.

    Raises:
        DrawingInputError: The first such length; shows name, value, limit, mending.
    """
    for name, value in lengths.items():
        if value is not None:
            sheet.need(value > 0, name, value, "it must be above 0", "measure it again")
            sheet.need(value <= LONGEST, name, value, "it must be at most 2000 ft", "check the unit")


def not_negative(sheet: Sheet, **lengths: Fraction | None) -> None:
    """Refuse a length below 0 or longer than any roof.

    Raises:
        DrawingInputError: The first such length; shows name, value, limit, mending.
    """
    for name, value in lengths.items():
        if value is not None:
            sheet.need(value >= 0, name, value, "it must not be below 0", "measure it again")
            sheet.need(value <= LONGEST, name, value, "it must be at most 2000 ft", "check the unit")
