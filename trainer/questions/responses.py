"""Reads what a trainee entered: the pad of feet, inches and sixteenths, millimeters, or a typed quantity."""

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any, Final

from trainer.questions.model import Language
from trainer.questions.phrases import phrase
from trainer.rules import Dimension, LengthError, parse_length
from trainer.rules.dimensions import QuantityError
from trainer.rules.lengths import MM_PER_INCH

_PAD: Final = {"feet": Fraction(12), "inches": Fraction(1), "sixteenths": Fraction(1, 16)}
_WHOLE: Final = re.compile(r"\d{1,7}")
_THOUSANDS: Final = re.compile(r"\d{1,3}(?:,\d{3})+")
_MOST_SIXTEENTHS: Final = 15


class Unreadable(ValueError):
    """A response that can't be read; the message is a sentence for the trainee: how to write it."""


def read_quantity(response: Mapping[str, str | list[str]], dimension: Dimension, units: str, language: Language) -> Any:
    """Read a measure's or count's response; None when nothing was entered. A typed text goes before the pad.

    Raises:
        Unreadable: What was entered is no quantity of the dimension.
    """
    typed = _field(response, "text")
    if typed:
        return _typed(typed, dimension, units, language)
    if dimension.unit == "in":
        return _pad(response, language)
    return None


def _field(response: Mapping[str, str | list[str]], key: str) -> str:
    value = response.get(key, "")
    return value.strip() if isinstance(value, str) else " ".join(value).strip()


def _typed(text: str, dimension: Dimension, units: str, language: Language) -> Any:
    if dimension.kind is int:
        return _count(text, language)
    try:
        if dimension.unit == "in":
            return parse_length(text, default_unit="mm" if units == "metric" else "in")
        return dimension.parse(text)
    except (LengthError, QuantityError) as error:
        raise Unreadable(error.message(language)) from None
    except ValueError:
        raise Unreadable(phrase("unread_quantity", language, text=text[:40], example=dimension.example)) from None


def _count(text: str, language: Language) -> int:
    plain = text.replace(",", "") if _THOUSANDS.fullmatch(text) else text
    if not _WHOLE.fullmatch(plain):
        raise Unreadable(phrase("unread_number", language, text=text[:40]))
    return int(plain)


def _pad(response: Mapping[str, str | list[str]], language: Language) -> Fraction | None:
    millimeters = _field(response, "millimeters")
    if millimeters:
        return Fraction(_whole(millimeters, "millimeters", language)) / MM_PER_INCH
    total, entered = Fraction(0), False
    for field, size in _PAD.items():
        text = _field(response, field)
        if not text:
            continue
        entered = True
        number = _whole(text, field, language)
        if field == "sixteenths" and number > _MOST_SIXTEENTHS:
            raise Unreadable(phrase("sixteenths_over", language, text=text))
        total += number * size
    return total if entered else None


def _whole(text: str, field: str, language: Language) -> int:
    if not _WHOLE.fullmatch(text):
        raise Unreadable(phrase("unread_pad", language, text=text[:20], field=phrase(field, language)))
    return int(text)
