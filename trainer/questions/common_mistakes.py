"""Mistakes that any question can meet: the wrong unit, rounding the wrong way, one too many or too few."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Any, Final

from trainer.questions.case import Case
from trainer.rules.dimensions import decimal
from trainer.rules.lengths import MM_PER_INCH

_FOOT: Final = Fraction(12)
Named = tuple[str, dict[str, str]]


def common_mistakes(case: Case, given: Any) -> Iterator[Named]:
    """Give each common mistake that leads to `given`: its id, and the values of its sentence."""
    answer, dimension = case.answer, case.answer.dimension
    if dimension is None:
        return
    if dimension.kind is int:
        yield from _of_count(answer.value, answer.before_rounding, given)
    elif dimension.unit == "in" and given > 0:
        yield from _of_length(answer.value, answer.within or Fraction(0), given)


def _of_count(value: int, before: Fraction | None, given: int) -> Iterator[Named]:
    if before is not None:
        down = before.numerator // before.denominator
        up = -(-before.numerator // before.denominator)
        if given in (down, up):
            yield "rounded_the_wrong_way", {"exact": decimal(before, 2)}
            return
    if given == value + 1:
        yield "off_by_one_more", {}
    elif given == value - 1:
        yield "off_by_one_less", {}


def _of_length(value: Fraction, within: Fraction, given: Fraction) -> Iterator[Named]:
    """A number taken in the wrong unit is the right number times or over the unit's size; nearness grows alike."""
    for name, size in (("feet_for_inches", _FOOT), ("inch_for_millimeter", MM_PER_INCH)):
        half_a_millimeter = Fraction(1, 2) / MM_PER_INCH if size == MM_PER_INCH else Fraction(0)
        near = max(within, half_a_millimeter)
        if abs(given / size - value) <= near or abs(given * size - value) <= near:
            yield name, {}
