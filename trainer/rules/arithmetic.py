"""Whole-piece arithmetic that several rules share, exact to the fraction."""

import math
from fractions import Fraction


def up(amount: Fraction, size: Fraction) -> int:
    """Count the whole pieces of `size` that cover `amount`: the quotient rounded up."""
    (top, bottom), (times, over) = amount.as_integer_ratio(), size.as_integer_ratio()
    return -(-(top * over) // (bottom * times))


def down(amount: Fraction, size: Fraction) -> int:
    """Count the whole pieces of `size` that fit into `amount`: the quotient rounded down."""
    (top, bottom), (times, over) = amount.as_integer_ratio(), size.as_integer_ratio()
    return top * over // (bottom * times)


def lapped(amount: Fraction, size: Fraction, lap: Fraction) -> int:
    """Count pieces laid end to end with a lap: the first covers its size, each later one its size less the lap."""
    return 1 if amount <= size else 1 + up(amount - size, size - lap)


def root(square: Fraction) -> Fraction:
    """Take a square root: exact where the root is a fraction, else to double precision."""
    top, bottom = math.isqrt(square.numerator), math.isqrt(square.denominator)
    if top * top == square.numerator and bottom * bottom == square.denominator:
        return Fraction(top, bottom)
    return Fraction(math.sqrt(square))
