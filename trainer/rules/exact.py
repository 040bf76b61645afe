"""Exact fractions that work quickly: the values of every quantity.

The standard class asks of each operand which kind of number it is, among all kinds there are. Here the two that occur,
fractions and whole numbers, are known by sight; whatever else comes is left to the standard class.
"""
# ruff: noqa: SLF001 - a fraction's two numbers are read and filled in place: that is where the time goes

import operator
from collections.abc import Callable, Iterable
from fractions import Fraction
from math import gcd
from typing import Any, Final

_bare: Final = object.__new__
_Work = Callable[[int, int, int, int], Any]


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


def near_ones(one: Any, others: Iterable[Any], within: Any) -> list[int]:
    """Give the places of those that lie no farther from `one` than `within`; that are the same where that is None."""
    known: Any = Exact
    top, bottom = (one._numerator, one._denominator) if type(one) is known else one.as_integer_ratio()
    far, parts = (0, 1) if within is None else within.as_integer_ratio()
    reach = far * bottom
    found = []
    for place, other in enumerate(others):
        if type(other) is known:
            other_top, under = other._numerator, other._denominator
        else:
            other_top, under = other.as_integer_ratio()
        if abs(top * under - other_top * bottom) * parts <= reach * under:
            found.append(place)
    return found


def as_exact(value: int | Fraction) -> Exact:
    """Give a whole number or a fraction as an `Exact`."""
    return value if type(value) is Exact else exact(value.numerator, value.denominator)


def _unlike(name: str, self: Any, other: Any) -> Any:
    """Leave it to the standard class: other kinds of numbers."""
    return getattr(Fraction, name)(self, other)


def _add(self: Any, other: Any) -> Any:
    kind, bottom = type(other), self._denominator
    if kind is Exact or kind is Fraction:
        under = other._denominator
        if bottom == under:
            top = self._numerator + other._numerator
        else:
            top = self._numerator * under + other._numerator * bottom
            bottom *= under
    elif kind is int:
        top = self._numerator + other * bottom
    else:
        return _unlike("__add__", self, other)
    common = gcd(top, bottom)
    made: Any = _bare(Exact)
    if common == 1:
        made._numerator, made._denominator = top, bottom
    else:
        made._numerator, made._denominator = top // common, bottom // common
    return made


def _subtract(self: Any, other: Any) -> Any:
    kind, bottom = type(other), self._denominator
    if kind is Exact or kind is Fraction:
        under = other._denominator
        if bottom == under:
            top = self._numerator - other._numerator
        else:
            top = self._numerator * under - other._numerator * bottom
            bottom *= under
    elif kind is int:
        top = self._numerator - other * bottom
    else:
        return _unlike("__sub__", self, other)
    common = gcd(top, bottom)
    made: Any = _bare(Exact)
    if common == 1:
        made._numerator, made._denominator = top, bottom
    else:
        made._numerator, made._denominator = top // common, bottom // common
    return made


def _multiply(self: Any, other: Any) -> Any:
    kind = type(other)
    if kind is Exact or kind is Fraction:
        top, bottom = self._numerator * other._numerator, self._denominator * other._denominator
    elif kind is int:
        top, bottom = self._numerator * other, self._denominator
    else:
        return _unlike("__mul__", self, other)
    common = gcd(top, bottom)
    made: Any = _bare(Exact)
    if common == 1:
        made._numerator, made._denominator = top, bottom
    else:
        made._numerator, made._denominator = top // common, bottom // common
    return made


def _divide(self: Any, other: Any) -> Any:
    kind = type(other)
    if kind is Exact or kind is Fraction:
        return _quotient(self._numerator, self._denominator, other._numerator, other._denominator)
    if kind is int:
        return _quotient(self._numerator, self._denominator, other, 1)
    return _unlike("__truediv__", self, other)


def _sum(top: int, bottom: int, other_top: int, other_bottom: int) -> Exact:
    return exact(top * other_bottom + other_top * bottom, bottom * other_bottom)


def _difference(top: int, bottom: int, other_top: int, other_bottom: int) -> Exact:
    return exact(top * other_bottom - other_top * bottom, bottom * other_bottom)


def _product(top: int, bottom: int, other_top: int, other_bottom: int) -> Exact:
    return exact(top * other_top, bottom * other_bottom)


def _quotient(top: int, bottom: int, other_top: int, other_bottom: int) -> Exact:
    if other_top > 0:
        return exact(top * other_bottom, bottom * other_top)
    if other_top < 0:
        return exact(-top * other_bottom, -bottom * other_top)
    raise ZeroDivisionError(f"{Fraction(top, bottom)} divided by zero")


def _backward(name: str, work: _Work) -> Callable[[Any, Any], Any]:
    standard = getattr(Fraction, name)

    def method(self: Any, other: Any) -> Any:
        kind = type(other)
        if kind is int:
            return work(other, 1, self._numerator, self._denominator)
        if kind is Fraction:
            return work(other._numerator, other._denominator, self._numerator, self._denominator)
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
    for word, forward, work in (
        ("add", _add, _sum), ("sub", _subtract, _difference), ("mul", _multiply, _product),
        ("truediv", _divide, _quotient),
    ):  # fmt: skip
        setattr(Exact, f"__{word}__", forward)
        setattr(Exact, f"__r{word}__", _backward(f"__r{word}__", work))
    for ask in (operator.eq, operator.lt, operator.le, operator.gt, operator.ge, operator.floordiv):
        name = f"__{ask.__name__}__"
        setattr(Exact, name, _crossed(name, ask))
    for word, single in (("hash", Fraction.__hash__), ("neg", _negative), ("abs", _size), ("float", _float)):
        setattr(Exact, f"__{word}__", single)


_put_in()
