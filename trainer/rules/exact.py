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
_Work = Callable[[int, int, int, int], tuple[int, int]]


class Exact(Fraction):
    """A `Fraction` in every respect but speed.

    `Exact(…)` takes what `Fraction(…)` takes; sums, differences, products and quotients with fractions and whole
    numbers are exact ones again. The arithmetic is put in below: it fills the two slots of a fraction
    directly, which is what the standard class's own constructor does after many questions.
    """

    __slots__ = ()


def exact(numerator: int, denominator: int = 1) -> Exact:
    """Make the fraction of two whole numbers; the denominator must be above 0."""
    common = gcd(numerator, denominator)
    made: Any = _bare(Exact)
    made._numerator, made._denominator = numerator // common, denominator // common
    result: Exact = made
    return result


def as_exact(value: int | Fraction) -> Exact:
    """Give a whole number or a fraction as an `Exact`."""
    return value if type(value) is Exact else exact(value.numerator, value.denominator)


def _sum(top: int, bottom: int, other_top: int, other_bottom: int) -> tuple[int, int]:
    if bottom == other_bottom:
        return top + other_top, bottom
    return top * other_bottom + other_top * bottom, bottom * other_bottom


def _difference(top: int, bottom: int, other_top: int, other_bottom: int) -> tuple[int, int]:
    if bottom == other_bottom:
        return top - other_top, bottom
    return top * other_bottom - other_top * bottom, bottom * other_bottom


def _product(top: int, bottom: int, other_top: int, other_bottom: int) -> tuple[int, int]:
    return top * other_top, bottom * other_bottom


def _quotient(top: int, bottom: int, other_top: int, other_bottom: int) -> tuple[int, int]:
    if other_top > 0:
        return top * other_bottom, bottom * other_top
    if other_top < 0:
        return -top * other_bottom, -bottom * other_top
    raise ZeroDivisionError(f"{Fraction(top, bottom)} divided by zero")


def _forward(name: str, work: _Work) -> Callable[[Any, Any], Any]:
    standard = getattr(Fraction, name)

    def method(self: Any, other: Any) -> Any:
        kind = type(other)
        if kind is Exact or kind is Fraction:
            top, bottom = work(self._numerator, self._denominator, other._numerator, other._denominator)
        elif kind is int:
            top, bottom = work(self._numerator, self._denominator, other, 1)
        else:
            return standard(self, other)
        common = gcd(top, bottom)
        made: Any = _bare(Exact)
        made._numerator, made._denominator = top // common, bottom // common
        return made

    return method


def _backward(name: str, work: _Work) -> Callable[[Any, Any], Any]:
    standard = getattr(Fraction, name)

    def method(self: Any, other: Any) -> Any:
        kind = type(other)
        if kind is int:
            return exact(*work(other, 1, self._numerator, self._denominator))
        if kind is Fraction:
            return exact(*work(other._numerator, other._denominator, self._numerator, self._denominator))
        return standard(self, other)

    return method


def _crossed(name: str, work: Callable[[int, int], Any]) -> Callable[[Any, Any], Any]:
    """Make a method that asks the same of the numerators over a common denominator."""
    standard = getattr(Fraction, name)

    def method(self: Any, other: Any) -> Any:
        kind = type(other)
        if kind is Exact or kind is Fraction:
            return work(self._numerator * other._denominator, other._numerator * self._denominator)
        if kind is int:
            return work(self._numerator, other * self._denominator)
        return standard(self, other)

    return method


def _negative(self: Any) -> Exact:
    return exact(-self._numerator, self._denominator)


def _size(self: Any) -> Any:
    return exact(-self._numerator, self._denominator) if self._numerator < 0 else self


def _float(self: Any) -> float:
    value: float = self._numerator / self._denominator
    return value


def _put_in() -> None:
    for word, work in (("add", _sum), ("sub", _difference), ("mul", _product), ("truediv", _quotient)):
        setattr(Exact, f"__{word}__", _forward(f"__{word}__", work))
        setattr(Exact, f"__r{word}__", _backward(f"__r{word}__", work))
    for ask in (operator.eq, operator.lt, operator.le, operator.gt, operator.ge, operator.floordiv):
        name = f"__{ask.__name__}__"
        setattr(Exact, name, _crossed(name, ask))
    for word, single in (("hash", Fraction.__hash__), ("neg", _negative), ("abs", _size), ("float", _float)):
        setattr(Exact, f"__{word}__", single)


_put_in()
