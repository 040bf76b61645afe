"""Exact fractions: the standard class is the outside check; every operation must give what it gives."""

import copy
import operator
import pickle
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.rules.exact import Exact, as_exact, exact, near_ones

ARITHMETIC = (operator.add, operator.sub, operator.mul, operator.truediv, operator.floordiv, operator.mod, divmod)
COMPARISONS = (operator.eq, operator.ne, operator.lt, operator.le, operator.gt, operator.ge)
_numbers = st.one_of(st.integers(-50, 50), st.fractions(min_value=-50, max_value=50, max_denominator=64))


def _result(work: Callable[[Any, Any], Any], one: object, other: object) -> object:
    try:
        return work(one, other)
    except ZeroDivisionError:
        return "divided by zero"


@pytest.mark.parametrize("work", [*ARITHMETIC, *COMPARISONS], ids=lambda work: work.__name__)
@given(one=_numbers, other=_numbers)
def test_it_works_out_what_the_standard_class_does(work: Callable[[Any, Any], Any], one: Any, other: Any) -> None:
    """On either side of a fraction, a whole number or another exact one, the result is the same."""
    expected = _result(work, Fraction(one), Fraction(other))

    for left, right in ((as_exact(one), as_exact(other)), (as_exact(one), other), (one, as_exact(other))):
        assert _result(work, left, right) == expected


@pytest.mark.parametrize("work", [operator.add, operator.sub, operator.mul, operator.truediv])
@given(one=_numbers, other=_numbers.filter(bool))
def test_it_stays_exact_and_in_lowest_terms(work: Callable[[Any, Any], Any], one: Any, other: Any) -> None:
    """A result is of the quick class again, with the standard class's numerator and denominator."""
    expected = work(Fraction(one), Fraction(other))

    for left, right in ((as_exact(one), other), (one, as_exact(other)), (as_exact(one), as_exact(other))):
        found = work(left, right)
        assert type(found) is Exact
        assert (found.numerator, found.denominator) == (expected.numerator, expected.denominator)


@given(_numbers)
def test_it_stands_for_the_standard_class_everywhere(number: Any) -> None:
    """Sign, size, key in a dictionary, text, rounding, copy and pickle agree with the plain fraction."""
    plain, quick = Fraction(number), as_exact(number)

    assert (-quick, abs(quick), +quick, bool(quick)) == (-plain, abs(plain), +plain, bool(plain))
    assert {plain: "found"}[quick] == "found"
    assert (str(quick), int(quick), round(quick), float(quick)) == (str(plain), int(plain), round(plain), float(plain))
    assert quick**2 == plain**2
    assert copy.deepcopy(quick) == pickle.loads(pickle.dumps(quick)) == plain  # noqa: S301 - what stands here itself


def test_it_leaves_other_numbers_to_the_standard_class() -> None:
    """With a float the result is a float, as ever; with a text nothing is worked out."""
    assert exact(1, 2) + 0.25 == 0.75
    assert 1.0 - exact(1, 2) == 0.5
    assert exact(1, 2) < 0.75
    assert exact(1, 2) != "1/2"
    with pytest.raises(TypeError):
        exact(1, 2) + "1/2"  # type: ignore[operator]
    with pytest.raises(ZeroDivisionError):
        exact(1, 2) / 0


def test_it_names_what_was_divided_by_zero() -> None:
    """Either way round, the message shows the number."""
    with pytest.raises(ZeroDivisionError, match=r"^3/2 divided by zero$"):
        exact(3, 2) / exact(0)
    with pytest.raises(ZeroDivisionError, match=r"^5 divided by zero$"):
        5 / exact(0)
    with pytest.raises(ZeroDivisionError, match=r"^3/2 divided by zero$"):
        exact(3, 2) / 0


def test_it_keeps_its_class() -> None:
    """What is one already is given back itself; sign and size are of the class, too."""
    number = exact(3, 2)

    assert as_exact(number) is number
    assert type(as_exact(Fraction(3, 2))) is type(as_exact(3)) is Exact
    assert abs(number) is number
    assert type(-number) is type(abs(-number)) is Exact
    assert (exact(7).numerator, exact(7).denominator) == (7, 1)
    assert isinstance(float(exact(1, 4)), float)


@given(_numbers, st.lists(_numbers, max_size=4), st.fractions(min_value=0, max_value=5, max_denominator=64))
def test_it_finds_the_numbers_that_are_near(one: Any, others: list[Any], within: Fraction) -> None:
    """As the standard class does with a difference; without a distance only the same number is near."""
    near = [place for place, other in enumerate(others) if abs(Fraction(one) - other) <= within]
    same = [place for place, other in enumerate(others) if Fraction(one) == other]

    for left, right in ((as_exact(one), [as_exact(other) for other in others]), (one, others), (as_exact(one), others)):
        assert near_ones(left, right, within) == near
        assert near_ones(left, right, None) == same


def test_it_counts_the_distance_itself_as_near() -> None:
    """At the tolerance is within it, on either side; a hair more is not."""
    others = [exact(63, 16), exact(125, 32), exact(65, 16), exact(131, 32)]

    assert near_ones(exact(4), others, exact(1, 16)) == [0, 2]
    assert near_ones(exact(7, 2), [exact(4), exact(65, 16), exact(3)], exact(1, 2)) == [0, 2]


def test_it_takes_only_the_same_number_without_a_tolerance() -> None:
    """A like numerator or a like denominator is not enough."""
    assert near_ones(exact(3, 2), [exact(3, 4), exact(5, 2), Fraction(3, 2)], None) == [2]


@pytest.mark.parametrize("work", [operator.add, operator.sub, operator.mul, operator.truediv, operator.floordiv])
def test_it_works_with_floats_on_either_side(work: Callable[[Any, Any], Any]) -> None:
    """The standard class's own answer, whichever side the float stands on; a text is refused."""
    assert work(exact(3, 2), 0.25) == work(Fraction(3, 2), 0.25)
    assert work(0.25, exact(3, 2)) == work(0.25, Fraction(3, 2))
    for sides in ((exact(3, 2), "x"), ("x", exact(3, 2))):
        with pytest.raises(TypeError):
            work(*sides)


def test_it_compares_with_floats() -> None:
    """On either side."""
    assert exact(3, 2) == 1.5
    assert 1.25 < exact(3, 2) < 1.75
    assert exact(3, 2) >= 1.5
    assert not exact(3, 2) <= 1.25
