"""Lengths as a tape shows them, read into exact inches and written back.

Inside the program a length is a `Fraction` of an inch. Reading and writing never go through a float, so text to
length to text is the identity and a course that fits exactly never becomes one more.
"""

import re
from fractions import Fraction
from math import gcd

from trainer.rules.exact import Exact, exact
from trainer.rules.languages import is_metric, place_of

MM_PER_INCH = exact(254, 10)
TAPE_MARK = exact(1, 16)
METRIC_MARK = 1 / MM_PER_INCH

_UNIT_INCHES: dict[str, tuple[int, int]] = {  # numerator and denominator
    **dict.fromkeys(("ft", "foot", "feet", "'", "pie", "pies"), (12, 1)),
    **dict.fromkeys(("in", "inch", "inches", '"', "pulg", "pulgada", "pulgadas"), (1, 1)),
    **dict.fromkeys(("mm", "milimetro", "milimetros", "millimeter", "millimeters"), (5, 127)),
    **dict.fromkeys(("cm", "centimeter", "centimeters", "centimetro", "centimetros"), (50, 127)),
    **dict.fromkeys(("m", "meter", "meters", "metro", "metros"), (5000, 127)),
    **dict.fromkeys(("yd", "yard", "yards"), (36, 1)),
}
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip
_SIGNS = str.maketrans({
    **{sign: f" {fraction}" for sign, fraction in _VULGAR.items()},
    "′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "−": "-", "–": "-", "\u2044": "/", "\u00a0": " ",
    "í": "i", "é": "e",
})  # fmt: skip

_NUMBER = r"\d+(?:[.,]\d+)?|[.,]\d+"
_PART = re.compile(
    rf"\s*(?:(?P<whole>\d+)(?:\s*-\s*|\s+)(?P<num>\d+)\s*/\s*(?P<den>\d+)"
    rf"|(?P<num2>\d+)\s*/\s*(?P<den2>\d+)"
    rf"|(?P<number>{_NUMBER}))"
    r"\s*(?P<unit>''|'|\"|[a-z]+\.?)?\s*"
)
_WRITTEN = re.compile(  # what `length_text` writes, by far the most of what is read
    r"(?:([0-9]{1,9}) (?:ft|pies?)(?:$| (?=[0-9])))?"
    r"(?:(?:([0-9]{1,9})(?: ([0-9]{1,9})/([0-9]{1,9}))?|([0-9]{1,9})/([0-9]{1,9})) (?:in|pulg))?"
)
_LINK = re.compile(r"\s*(?:,|-|\+|and|y|con)?\s*")
_THOUSANDS = re.compile(r"\d{1,3},\d{3}(?:,\d{3})*")

_FEET_AND_INCHES = (("ft", "ft", "in"), ("pie", "pies", "pulg"))  # one foot, feet, inches; English, then Spanish
_ABOUT = ("about", "aprox.")
_MESSAGES = {
    "empty": ("A length is missing. Write one, such as 24 ft 6 1/2 in or 89 mm.",
              "Falta una medida. Escriba una, por ejemplo 24 pies 6 1/2 pulg o 89 mm."),
    "unread": ("“{text}” is not a length. Write one, such as 24 ft 6 1/2 in or 89 mm.",
               "“{text}” no es una medida. Escriba una, por ejemplo 24 pies 6 1/2 pulg o 89 mm."),
    "unit": ("“{unit}” in “{text}” is not a unit of length. Use ft, in, mm, cm or m.",
             "“{unit}” en “{text}” no es una unidad de longitud. Use pies, pulg, mm, cm o m."),
    "zero": ("“{text}” divides by zero. Write the fraction with its mark, such as 5/8 in.",
             "“{text}” divide entre cero. Escriba la fracción con su marca, por ejemplo 5/8 pulg."),
    "comma": ("“{text}” can mean a thousand or a decimal. Leave the comma out of thousands, or write a point.",
              "“{text}” puede ser un millar o un decimal. Quite la coma de los millares o escriba un punto."),
    "order": ("“{text}” repeats a unit or puts the smaller one first. Write feet, then inches.",
              "“{text}” repite una unidad o pone primero la menor. Escriba pies y después pulgadas."),
    "long": ("“{text}” is too long to be a length. Write one, such as 24 ft 6 1/2 in.",
             "“{text}” es demasiado largo para ser una medida. Escriba una, por ejemplo 24 pies 6 1/2 pulg."),
}  # fmt: skip


class LengthError(ValueError):
    """A text that is not a length; says what is wrong and how to write it.

    Attributes:
        kind: one word for the fault: empty, unread, unit, zero, comma, order or long.
    """

    def __init__(self, kind: str, text: str = "", unit: str = "") -> None:
        self.kind, self._values = kind, {"text": text, "unit": unit}
        super().__init__(self.message())

    def message(self, language: str = "en") -> str:
        """Give the sentence in English ("en") or Spanish ("es")."""
        return _MESSAGES[self.kind][place_of(language)].format(**self._values)


def parse_length(text: str, *, default_unit: str = "in") -> Fraction:
    """Read a length into exact inches.

    Takes `24' 6 1/2"`, `24 ft 6 1/2 in`, `2 ft 3 in`, `39-3/8 in`, `5/8"`, `89 mm`, `1 m`, `3.5`, `3,5`, unicode
    fractions and primes, a leading minus and the Spanish units. A number without a unit takes `default_unit`; after
    feet it means inches.

    Raises:
        LengthError: The text is not a length; the message says how to write it.
    """
    written = _WRITTEN.fullmatch(text)
    if written is not None and text:
        length = _as_written(written)
        if length is not None:
            return length
    plain = _plain(text)
    negative = plain.startswith("-")
    rest = plain[1:].lstrip() if negative else plain
    total: Fraction | None = None
    last: tuple[int, int] | None = None
    position = 0
    while position < len(rest):
        match = _PART.match(rest, position)
        if match is None:
            raise LengthError("unread", text)
        unit = _unit(match["unit"], text, default_unit if last is None else "in")
        if last is not None and unit[0] * last[1] >= last[0] * unit[1]:
            raise LengthError("order", text)
        amount = _amount(match, unit, text)
        total = amount if total is None else total + amount
        last, position = unit, match.end()
        if position < len(rest):
            link = _LINK.match(rest, position)
            position = link.end() if link else position
            if position == len(rest):
                raise LengthError("unread", text)
    if total is None:
        raise LengthError("unread", text)
    return -total if negative else total


def _as_written(written: re.Match[str]) -> Exact | None:
    """Make a length of a text as `length_text` writes it; None where it divides by zero."""
    feet, inches, over, under, only, of = written.groups()
    whole = 12 * int(feet or 0) + int(inches or 0)
    top, bottom = over or only, under or of
    if top is None or bottom is None:
        return exact(whole)
    parts = int(bottom)
    return exact(whole * parts + int(top), parts) if parts else None


def _plain(text: str) -> str:
    if len(text) > 60:
        raise LengthError("long", text[:20] + "…")
    plain = text.strip().lower()
    if not plain.isascii():
        plain = plain.translate(_SIGNS).strip()
        if not plain.isascii():
            raise LengthError("unread", text)
    if not plain or plain == "-":
        raise LengthError("empty")
    return plain


def _unit(found: str | None, text: str, default: str) -> tuple[int, int]:
    name = (found or default).rstrip(".")
    if name == "''":
        name = '"'
    if name not in _UNIT_INCHES:
        raise LengthError("unit", text, found or default)
    return _UNIT_INCHES[name]


def _amount(match: re.Match[str], unit: tuple[int, int], text: str) -> Exact:
    whole, over, under, over_alone, under_alone, number, _ = match.groups()
    if number is not None:
        if "," in number and _THOUSANDS.fullmatch(number):
            raise LengthError("comma", text)
        before, _, decimals = number.replace(",", ".").partition(".")
        return exact(int(before + decimals) * unit[0], 10 ** len(decimals) * unit[1])
    bottom = int(under or under_alone)
    if bottom == 0:
        raise LengthError("zero", text)
    return exact((int(whole or 0) * bottom + int(over or over_alone)) * unit[0], bottom * unit[1])


def nearest_mark(inches: Fraction, mark: Fraction = TAPE_MARK) -> Fraction:
    """Round to the nearest tape mark; halfway goes up, as on a tape read to the longer side."""
    return exact(*_nearest(inches, mark))


def _nearest(inches: Fraction, mark: Fraction) -> tuple[int, int]:
    (top, bottom), (size, parts) = inches.as_integer_ratio(), mark.as_integer_ratio()
    if size == 1 and parts % bottom == 0:
        return top, bottom
    marks = (2 * top * parts + bottom * size) // (2 * bottom * size)
    common = gcd(marks * size, parts)
    return marks * size // common, parts // common


def exact_text(inches: Fraction) -> str:
    """Write exact inches as one number with a fraction, for storing: `294 1/2 in`, `1/3 in`, `-3/8 in`."""
    return f"{mixed(inches)} in"


def mixed(number: Fraction) -> str:
    """Write a number as a crew writes it: whole, then fraction: `6 1/2`, `3/8`, `-1 1/4`, `0`."""
    top, bottom = number.as_integer_ratio()
    return f"-{_mixed(-top, bottom)}" if top < 0 else _mixed(top, bottom)


def _mixed(top: int, bottom: int) -> str:
    """Write a fraction in lowest terms; what is left over the whole is in lowest terms too."""
    whole, rest = divmod(top, bottom)
    if not rest:
        return str(whole)
    return f"{whole} {rest}/{bottom}" if whole else f"{rest}/{bottom}"


def length_text(
    inches: Fraction,
    *,
    units: str = "imperial",
    language: str = "en",
    nearest: Fraction | None = None,
    about: bool = False,
    exact: bool = False,
) -> str:
    """Write a length for the reader: `24 ft 6 1/2 in`, `24 pies 6 1/2 pulg`, `7.48 m`, `89 mm`.

    Args:
        inches: the length, exact inches.
        units: "imperial" or "metric".
        language: "en" or "es".
        nearest: tape mark to round to, inches; by default 1/16 in, or 1 mm in metric.
        about: say "about" ("aprox.") when the length does not lie on a mark.
        exact: write every fraction as it is, without rounding; reading it back gives the same length.

    Raises:
        ValueError: There are no such units, or there is no such language.
    """
    metric, place = is_metric(units), place_of(language)
    mark = nearest if nearest is not None else (METRIC_MARK if metric else TAPE_MARK)
    shown = inches.as_integer_ratio() if exact else _nearest(inches, mark)
    text = _metric_text(*shown) if metric else _imperial_text(*shown, place)
    return f"{_ABOUT[place]} {text}" if about and shown != inches.as_integer_ratio() else text


def _imperial_text(top: int, bottom: int, place: int) -> str:
    one_foot, foot, inch = _FEET_AND_INCHES[place]
    sign = "-" if top < 0 else ""
    feet, rest = divmod(abs(top), 12 * bottom)
    if not feet:
        return f"{sign}{_mixed(rest, bottom)} {inch}"
    if feet == 1:
        foot = one_foot
    return f"{sign}{feet} {foot} {_mixed(rest, bottom)} {inch}" if rest else f"{sign}{feet} {foot}"


def _metric_text(top: int, bottom: int) -> str:
    millimeters = exact(top * 127, bottom * 5)
    if abs(millimeters) < 1000:
        return f"{decimal_text(millimeters)} mm"
    return f"{decimal_text(millimeters / 1000)} m"


def decimal_text(number: Fraction) -> str:
    """Write a number in decimals when that is exact, else as a whole number with a fraction."""
    reduced, places = number.denominator, 0
    for prime in (2, 5):
        count = 0
        while reduced % prime == 0:
            reduced, count = reduced // prime, count + 1
        places = max(places, count)
    if reduced != 1 or places > 12:
        return mixed(number)
    digits = f"{abs(number.numerator) * 10**places // number.denominator:0{places + 1}d}"
    whole, fraction = (digits[:-places], digits[-places:]) if places else (digits, "")
    return ("-" if number < 0 else "") + whole + (f".{fraction}" if fraction else "")
