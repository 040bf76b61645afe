"""Mistakes that any question can meet: the wrong unit, rounding the wrong way, one too many or too few."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Any, Final

from trainer.questions.case import Case
from trainer.rules.dimensions import decimal
from trainer.rules.exact import exact
from trainer.rules.lengths import MM_PER_INCH

# A number taken in the wrong unit is the right number times or over the unit's size, or so near that a tape can't tell.
_WRONG_UNITS: Final = (
    ("feet_for_inches", exact(12), exact(0)),
    ("inch_for_millimeter", MM_PER_INCH, 1 / (2 * MM_PER_INCH)),
)
Named = tuple[str, dict[str, str]]


def common_mistakes(case: Case, given: Any) -> Iterator[Named]:
    """Give each common mistake that leads to `given`: its id, and the values of its sentence."""
    answer, dimension = case.answer, case.answer.dimension
    if dimension is None:
        return
    if dimension.kind is int:
        yield from _of_count(answer.value, answer.before_rounding, given)
    elif dimension.unit == "in" and given > 0:
        yield from _of_length(answer.value, answer.within or exact(0), given)


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
    for name, size, unread in _WRONG_UNITS:
        near = max(within, unread)
        least, most = value - near, value + near
        if least * size <= given <= most * size or least <= given * size <= most:
            yield name, {}
