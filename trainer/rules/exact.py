"""Exact fractions that work quickly: the values of every quantity.

The standard class asks of each operand which kind of number it is, among all kinds there are. Here the two that occur,
fractions and whole numbers, are known by sight; whatever else comes is left to the standard class.
"""
# ruff: noqa: SLF001 - a fraction's two numbers are read and filled in place: that is where the time goes

import operator
from collections.abc import Callable
from fractions import Fraction
from math import gcd
from typing import Any, Final

_bare: Final = object.__new__


class Exact(Fraction):
    """A `Fraction` in every respect but speed; what is worked out from it and fractions or whole numbers is one too.

    `Exact(…)` takes what `Fraction(…)` takes. The arithmetic is put in below: it fills the two slots of a fraction
    directly, which is what the standard class's own constructor does after many questions.
    """

    __slots__ = ()


def exact(numerator: int, denominator: int = 1) -> Exact:
    """Make the fraction of two whole numbers; the denominator must be above 0."""
    common = gcd(numerator, denominator)
    made: Any = _bare(Exact)
    made._numerator, made._denominator = numerator // common, denominator // common
    return made  # type: ignore[no-any-return]


def as_exact(value: int | Fraction) -> Exact:
    """Give a whole number or a fraction as an `Exact`."""
    return value if type(value) is Exact else exact(value.numerator, value.denominator)


def _sum(top: int, bottom: int, other_top: int, other_bottom: int) -> Exact:
    if bottom == other_bottom:
        return exact(top + other_top, bottom)
    return exact(top * other_bottom + other_top * bottom, bottom * other_bottom)


def _difference(top: int, bottom: int, other_top: int, other_bottom: int) -> Exact:
    if bottom == other_bottom:
        return exact(top - other_top, bottom)
    return exact(top * other_bottom - other_top * bottom, bottom * other_bottom)


def _product(top: int, bottom: int, other_top: int, other_bottom: int) -> Exact:
    return exact(top * other_top, bottom * other_bottom)


def _quotient(top: int, bottom: int, other_top: int, other_bottom: int) -> Exact:
    if other_top > 0:
        return exact(top * other_bottom, bottom * other_top)
    if other_top < 0:
        return exact(-top * other_bottom, -bottom * other_top)
    raise ZeroDivisionError(f"{top}/{bottom} divided by zero")


def _pieces(top: int, bottom: int, other_top: int, other_bottom: int) -> int:
    return (top * other_bottom) // (bottom * other_top)


def _rest(top: int, bottom: int, other_top: int, other_bottom: int) -> Exact:
    return exact((top * other_bottom) % (other_top * bottom), bottom * other_bottom)


def _pieces_and_rest(top: int, bottom: int, other_top: int, other_bottom: int) -> tuple[int, Exact]:
    pieces, rest = divmod(top * other_bottom, other_top * bottom)
    return pieces, exact(rest, bottom * other_bottom)


def _forward(name: str, work: Callable[[int, int, int, int], Any]) -> Callable[[Any, Any], Any]:
    standard = getattr(Fraction, name)

    def method(self: Any, other: Any) -> Any:
        kind = type(other)
        if kind is Exact or kind is Fraction:
            return work(self._numerator, self._denominator, other._numerator, other._denominator)
        if kind is int:
            return work(self._numerator, self._denominator, other, 1)
        return standard(self, other)

    return method


def _backward(name: str, work: Callable[[int, int, int, int], Any]) -> Callable[[Any, Any], Any]:
    standard = getattr(Fraction, name)

    def method(self: Any, other: Any) -> Any:
        kind = type(other)
        if kind is int:
            return work(other, 1, self._numerator, self._denominator)
        if kind is Fraction:
            return work(other._numerator, other._denominator, self._numerator, self._denominator)
        return standard(self, other)

    return method


def _compared(name: str, compare: Callable[[int, int], bool]) -> Callable[[Any, Any], Any]:
    standard = getattr(Fraction, name)

    def method(self: Any, other: Any) -> Any:
        kind = type(other)
        if kind is Exact or kind is Fraction:
            return compare(self._numerator * other._denominator, other._numerator * self._denominator)
        if kind is int:
            return compare(self._numerator, other * self._denominator)
        return standard(self, other)

    return method


def _negative(self: Any) -> Exact:
    return exact(-self._numerator, self._denominator)


def _size(self: Any) -> Any:
    return exact(-self._numerator, self._denominator) if self._numerator < 0 else self


def _put_in() -> None:
    arithmetic = {"add": _sum, "sub": _difference, "mul": _product, "truediv": _quotient, "floordiv": _pieces,
                  "mod": _rest, "divmod": _pieces_and_rest}  # fmt: skip
    for word, work in arithmetic.items():
        setattr(Exact, f"__{word}__", _forward(f"__{word}__", work))
        setattr(Exact, f"__r{word}__", _backward(f"__r{word}__", work))
    for compare in (operator.eq, operator.lt, operator.le, operator.gt, operator.ge):
        name = f"__{compare.__name__}__"
        setattr(Exact, name, _compared(name, compare))
    for name, method in (("__hash__", Fraction.__hash__), ("__neg__", _negative), ("__abs__", _size)):
        setattr(Exact, name, method)


_put_in()
