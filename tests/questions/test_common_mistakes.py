"""Mistakes that any question can meet, held against what they say of themselves."""

from fractions import Fraction

from hypothesis import example, given
from hypothesis import strategies as st

from tests.rules.samples import INVARIANT
from trainer.questions.case import Answer
from trainer.questions.common_mistakes import common_mistakes
from trainer.rules.dimensions import COUNT, LENGTH

SAID = {"en": "", "es": ""}
FOOT, INCH, HALF_MILLIMETER = Fraction(12), Fraction(254, 10), Fraction(5, 254)  # the first two as numbers, the last in


def _led_to(value: Fraction, within: Fraction, told: Fraction) -> list[str]:
    """Name each unit whose size, times or over, takes the value to within reach of what was told."""
    units = (("feet_for_inches", FOOT, within), ("inch_for_millimeter", INCH, max(within, HALF_MILLIMETER)))
    return [
        name
        for name, size, near in units
        if abs(told - value * size) <= near * size or abs(told * size - value) <= near
    ]


_HAIRS = st.builds(Fraction, st.integers(-9, 60), st.just(1000))  # shorter than half a millimeter, and a little longer
_LENGTHS = _HAIRS | st.builds(Fraction, st.integers(0, 5000), st.sampled_from([1, 16, 25, 127]))
_SHARES = st.sampled_from([Fraction(0), Fraction(1, 4), Fraction(1, 2), Fraction(1), Fraction(3)])
_FACTORS = st.sampled_from([Fraction(1), Fraction(6), FOOT, INCH, 1 / FOOT, 1 / INCH, Fraction(1, 6)])
_NUDGES = st.sampled_from([Fraction(0), Fraction(1, 10**6), Fraction(-1, 10**6)])


@INVARIANT
@given(_LENGTHS, _SHARES, st.fractions(-2, 2, max_denominator=8), _FACTORS, _NUDGES, _NUDGES)
@example(Fraction(12), Fraction(1, 2), Fraction(-1), FOOT, Fraction(0), Fraction(0))
@example(Fraction(1, 50), Fraction(0), Fraction(-1, 2), INCH, Fraction(0), Fraction(0))
def test_it_names_every_unit_that_leads_there(
    value: Fraction, share: Fraction, off: Fraction, factor: Fraction, nudge: Fraction, more: Fraction
) -> None:
    """No length is so short and no tolerance so wide that a wrong unit is named where it does not lead, or missed."""
    within = max(abs(value) * share + more, Fraction(0))
    told = (value + off * max(within, HALF_MILLIMETER)) * factor + nudge
    found = common_mistakes(Answer(value, LENGTH, SAID, within), told)

    assert [name for name, _ in found] == (_led_to(value, within, told) if told > 0 else [])


def test_it_names_only_what_lies_beside_the_right_count() -> None:
    """Rows and columns rounded apart give 15 panels for 10.69: 11 is another way of counting, no rounding."""
    answer = Answer(15, COUNT, SAID, rounded=Fraction(171, 16))

    assert common_mistakes(answer, 11) == []
    assert common_mistakes(answer, 10) == []
    assert common_mistakes(answer, 14) == [("off_by_one_less", {})]
    assert common_mistakes(answer, 16) == [("off_by_one_more", {})]
