"""Mistakes that any question can meet: the wrong unit, rounding the wrong way, one too many or too few."""

import math
from fractions import Fraction
from typing import Any, Final

from trainer.questions.case import Answer
from trainer.rules.dimensions import decimal
from trainer.rules.exact import exact
from trainer.rules.lengths import MM_PER_INCH

# A number taken in the wrong unit is the right number times or over the unit's size, or so near that a tape can't tell:
# name, and size and what can't be told as whole numbers over whole numbers.
_WRONG_UNITS: Final = (
    ("feet_for_inches", 12, 1, 0, 1),
    ("inch_for_millimeter", *MM_PER_INCH.as_integer_ratio(), *(1 / (2 * MM_PER_INCH)).as_integer_ratio()),
)
_NO_ROOM: Final = exact(0)
Named = tuple[str, dict[str, str]]


def common_mistakes(answer: Answer, given: Any) -> list[Named]:
    """Give each common mistake that leads to `given`: its id, and the values of its sentence."""
    dimension = answer.dimension
    if dimension is None:
        return []
    if dimension.kind is int:
        return _of_count(answer, given) if given in (answer.value - 1, answer.value + 1) else []
    if dimension.unit == "in" and given > 0:
        return _of_length(answer.value, answer.within or _NO_ROOM, given)
    return []


def _of_count(answer: Answer, given: int) -> list[Named]:
    """Name what leads to the whole number beside the right one."""
    before = answer.before_rounding
    if before is not None and given in (math.floor(before), math.ceil(before)):
        return [("rounded_the_wrong_way", {"exact": decimal(before, 2)})]
    return [("off_by_one_more" if given > answer.value else "off_by_one_less", {})]


def _of_length(value: Fraction, within: Fraction, given: Fraction) -> list[Named]:
    (top, bottom), (given_top, given_bottom) = value.as_integer_ratio(), given.as_integer_ratio()
    right, told = top * given_bottom, given_top * bottom  # over their common denominator
    far, parts = within.as_integer_ratio()
    # Most answers need no closer look. Units differ 12 times or more; where at most half of the value is room (half a
    # millimeter is less than half of 1/25 in), a wrong unit leads 6 times too far or to a 6th, and no nearer.
    if right < 6 * told and told < 6 * right and 2 * far * bottom <= top * parts and bottom < 25 * top:
        return []
    found: list[Named] = []
    for name, times, over, unread, of in _WRONG_UNITS:
        near, beside = (far, parts) if far * of >= unread * parts else (unread, of)
        room = near * bottom * given_bottom
        if (
            abs(told * over - right * times) * beside <= room * times
            or abs(told * times - right * over) * beside <= room * over
        ):
            found.append((name, {}))
    return found
