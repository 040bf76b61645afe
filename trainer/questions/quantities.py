"""Quantities in question files and in stored cases: text to value and back, exact, with no float in between."""

import re
from fractions import Fraction
from typing import Any

from trainer.questions.expressions import NAME
from trainer.rules import DIMENSIONS, Dimension, exact_text
from trainer.rules.exact import exact
from trainer.rules.lengths import mixed


def is_name(operand: str) -> bool:
    """Tell whether an operand is a name and not a quantity."""
    return NAME.fullmatch(operand) is not None


def any_quantity(text: str) -> Any:
    """Read a quantity whose dimension only its unit tells; a bare number is a whole number or a fraction.

    Raises:
        ValueError: No dimension reads it.
    """
    plain = text.strip()
    if re.fullmatch(r"-?\d+(?:/\d+)?", plain) and not plain.endswith("/0"):
        number = Fraction(plain)
        return number.numerator if number.denominator == 1 else number
    if re.search(r"[A-Za-z%°\"']", plain):
        for dimension in DIMENSIONS.values():
            if dimension.kind is bool:
                continue
            try:
                return dimension.parse(plain)
            except ValueError:
                continue
    raise ValueError(f'"{text}" is not a quantity; write a number with its unit, such as "6 in"')


def stored_text(value: Any, dimension: Dimension) -> str:
    """Write a value exactly, with its unit: `294 1/2 in`, `12`, `4 ft; 14 ft` as `48 in; 168 in`, `yes`."""
    if dimension.kind is bool:
        return "yes" if value else "no"
    if dimension.kind is tuple:
        return "; ".join(exact_text(item) for item in value)
    number = repr(value) if isinstance(value, float) else mixed(Fraction(value))
    return f"{number} {dimension.unit}".strip()


def stored_value(text: str, dimension: Dimension) -> Any:
    """Read back what `stored_text` wrote."""
    if dimension.unit and dimension.kind not in (bool, tuple):
        number = text.removesuffix(dimension.unit).strip()
    else:
        number = text
    if dimension.kind is float:
        return float(number)
    if dimension.kind in (int, Fraction):
        return dimension.coerce(_mixed_value(number))
    return dimension.parse(text)


def _mixed_value(text: str) -> Fraction:
    sign = -1 if text.startswith("-") else 1
    return sign * sum((Fraction(part) for part in text.lstrip("-").split()), Fraction(0))


def alike(one: Dimension, other: Dimension) -> bool:
    """Tell whether values of one dimension may stand where the other is asked for: same unit and kind of value."""
    return one.unit == other.unit and one.kind is other.kind


def whole(value: Any, dimension: Dimension) -> Any:
    """Give a sum's value in the dimension's own type; a count's fraction stays one, to be reported."""
    if dimension.kind is int and type(value) is not int and isinstance(value, Fraction):
        return value.numerator if value.denominator == 1 else value
    return exact(value) if type(value) is int and dimension.kind is Fraction else value
