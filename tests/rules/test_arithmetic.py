"""Whole pieces and roots, against Python's own arithmetic."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rules.samples import INVARIANT
from trainer.rules.arithmetic import down, lapped, root, up

AMOUNTS = st.fractions(-1000, 1000, max_denominator=64)
SIZES = st.fractions(Fraction(1, 64), 100, max_denominator=64)


@INVARIANT
@given(amount=AMOUNTS, size=SIZES)
def test_it_rounds_a_quotient_to_whole_pieces(amount: Fraction, size: Fraction) -> None:
    """Up as `math.ceil`, down as `math.floor`, below zero too."""
    assert up(amount, size) == math.ceil(amount / size)
    assert down(amount, size) == math.floor(amount / size)


def test_it_rounds_down_below_zero() -> None:
    """What is half a piece too short is one piece too few."""
    assert down(Fraction(-1), Fraction(2)) == -1
    assert up(Fraction(-1), Fraction(2)) == 0


@pytest.mark.parametrize(
    ("amount", "pieces"), [(Fraction(1), 1), (Fraction(33), 1), (Fraction(529, 16), 2), (60, 2), (Fraction(961, 16), 3)]
)
def test_it_laps_pieces(amount: Fraction, pieces: int) -> None:
    """One of 33 covers 33, two lapped by 6 cover 60, and a sixteenth more takes another."""
    assert lapped(Fraction(amount), Fraction(33), Fraction(6)) == pieces


@pytest.mark.parametrize("exact", [Fraction(0), Fraction(3), Fraction(2, 3), Fraction(10**20 + 1), Fraction(7, 10**12)])
def test_it_takes_an_exact_root_where_there_is_one(exact: Fraction) -> None:
    """A double would lose the last digits of these."""
    assert root(exact * exact) == exact


@pytest.mark.parametrize("square", [Fraction(2), Fraction(4, 3), Fraction(3, 4), Fraction(10**6 + 1)])
def test_it_takes_other_roots_to_double_precision(square: Fraction) -> None:
    """No fraction is the root of these."""
    assert root(square) == Fraction(math.sqrt(square))
