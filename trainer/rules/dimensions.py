"""Dimensions: what a number is, the unit it is kept in, and how it is read and written.

A rule's signature names them (`edge: Length`), so the declaration of a rule is its signature and nothing stands twice.
"""

import math
import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Annotated, Any

from trainer.rules.exact import Exact, as_exact, exact
from trainer.rules.languages import LANGUAGES, UNITS, is_metric, place_of
from trainer.rules.lengths import length_text, mixed, parse_length

_QUANTITY = re.compile(
    r"(?P<number>-?(?:\d+(?:\s*-\s*|\s+)\d+/\d+|\d+/\d+|\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:[.,]\d+)?|\.\d+)"
    r"(?:e[+-]?\d{1,2})?)\s*(?P<unit>\S.*)?"
)
_DECIMALS = re.compile(r"(-?\d+)(?:\.(\d+))?")  # by far the most of what is read

_LONGEST = 60  # characters of a number; nothing on a roof is counted or read more finely
_EN, _ES = 0, 1
_UNREAD = (
    "“{text}” is not {what}. Write a number with its unit, such as {example}.",
    "“{text}” no es {what}. Escriba un número con su unidad, por ejemplo {example}.",
)
_UNIT = (
    "“{unit}” is not a unit for {what}. Use {units}.",
    "“{unit}” no es una unidad para {what}. Use {units}.",
)
_BARE = ("a bare number", "un número solo")


class QuantityError(ValueError):
    """A text that is not a quantity of its dimension; the message says how to write it."""

    def __init__(self, messages: tuple[str, str]) -> None:
        self._messages = messages
        super().__init__(messages[_EN])

    def message(self, language: str = "en") -> str:
        """Give the sentence in English ("en") or Spanish ("es")."""
        return self._messages[place_of(language)]


class Dimension:
    """One kind of quantity.

    Attributes:
        name: what it is, one word of the table below.
        unit: the unit its values are kept and given in.
        units: every unit that is read, each with its size in `unit` (and, for temperature, its zero).
        power: how it grows when every length grows: 1 for a length, 2 an area, 3 a volume, 0 a count.
        inch_factor: how many in, in², in³ one `unit` is; 1 where lengths do not enter.
        kind: the Python type of a value: Fraction, int, bool or tuple.
        least, most: bounds no value may pass, in `unit`.
    """

    def __init__(
        self,
        name: str,
        unit: str,
        *,
        kind: type = Fraction,
        power: int = 0,
        inch_factor: Fraction = Fraction(1),
        units: Mapping[str, tuple[Fraction, Fraction]] | None = None,
        least: int | None = 0,
        most: int = 10**9,
        spoken: tuple[str, str] | None = None,
        metric: str | None = None,
        places: int = 2,
        signs: Mapping[str, str | tuple[str, str]] | None = None,
        example: str = "",
    ) -> None:
        self.name, self.unit, self.kind, self.power, self.inch_factor = name, unit, kind, power, inch_factor
        self.units = units or {unit: (Fraction(1), Fraction(0))}
        self.least, self.most, self.places = least, most, places
        self.metric, self.signs = metric or unit, signs or {}
        self.spoken = spoken or (name, name)
        self.example = example or f"5 {unit}".strip()
        self._by_sign = {
            text.lower(): unit
            for unit, sign in self.signs.items()
            for text in ((sign,) if isinstance(sign, str) else sign)
        }

    def __repr__(self) -> str:
        return f"Dimension({self.name!r}, {self.unit!r})"

    @property
    def item(self) -> "Dimension":
        """The dimension of one item of a list; itself for a single value."""
        return LENGTH if self.kind is tuple else self

    def parse(self, text: str) -> Any:
        """Read a text with its unit into a value of this dimension.

        Raises:
            QuantityError, LengthError: The text is not one; the message says how to write it.
        """
        match = _QUANTITY.fullmatch(text.strip().replace("−", "-"))
        if match is None or len(match["number"]) > _LONGEST:
            raise self._unread(text)
        unit = (match["unit"] or self.unit).strip()
        if unit not in self.units:
            unit = self._by_sign.get(unit.lower(), _ALIASES.get(unit.lower(), unit))  # what `text` writes is read
        if unit not in self.units:
            english, spanish = (
                line.format(unit=unit, what=self.spoken[place], units=self._units_said(place) or _BARE[place])
                for place, line in enumerate(_UNIT)
            )
            raise QuantityError((english, spanish))
        number = _number(match["number"])
        if unit != self.unit:
            size, zero = self.units[unit]
            number = (number - zero) * size
        return self.coerce(number, text)

    def coerce(self, value: object, text: str | None = None) -> Any:
        """Turn a plain number into a value of this dimension.

        Raises:
            QuantityError: It is not a finite number, or not whole where whole is needed.
        """
        if type(value) is Exact:
            return value
        shown = text if text is not None else str(value)
        if isinstance(value, bool) or not isinstance(value, int | float | Fraction):
            raise self._unread(shown)
        if isinstance(value, float):
            if not math.isfinite(value):
                raise self._unread(shown)
            value = Exact(repr(value))
        return as_exact(value)

    def text(self, value: Any, units: str = "imperial", language: str = "en") -> str:
        """Write a value with its unit for the reader.

        Raises:
            ValueError: There are no such units, or there is no such language.
        """
        return self._text(value, is_metric(units), place_of(language))

    def _text(self, value: Any, metric: bool, place: int) -> str:
        unit = self.metric if metric else self.unit
        return f"{decimal(self._in_unit(value, unit), self.places)} {self._sign(unit, place)}".strip()

    def number(self, value: Any, unit: str | None = None) -> Any:
        """Give a value as a plain number (or list) in `unit`, by default the dimension's own."""
        found = self._in_unit(value, unit or self.unit)
        return found.numerator if found.denominator == 1 else float(found)

    def _in_unit(self, value: Any, unit: str) -> int | Fraction:
        number = value if isinstance(value, int | Fraction) else Exact(value)
        if unit == self.unit:
            return number
        size, zero = self.units[unit]
        return as_exact(number) / size + zero

    def _sign(self, unit: str, place: int) -> str:
        sign = self.signs.get(unit, unit)
        return sign if isinstance(sign, str) else sign[place]

    def _units_said(self, place: int) -> str:
        return ", ".join(dict.fromkeys(self._sign(unit, place) for unit in self.units if unit))

    def _unread(self, text: str) -> QuantityError:
        example = self.parse(self.example)
        english, spanish = (
            line.format(text=text[:40], what=self.spoken[place], example=self._text(example, False, place))
            for place, line in enumerate(_UNREAD)
        )
        return QuantityError((english, spanish))


class _Length(Dimension):
    """A length: tape notation in and out."""

    def parse(self, text: str) -> Fraction:
        return parse_length(text)

    def _text(self, value: Any, metric: bool, place: int) -> str:
        return length_text(value, units=UNITS[metric], language=LANGUAGES[place])


class _Thickness(Dimension):
    """A length too small for a tape, such as the thickness of sheet metal: read as any length, written in decimals."""

    def parse(self, text: str) -> Fraction:
        return parse_length(text)

    def _text(self, value: Any, metric: bool, place: int) -> str:
        return f"{decimal(value * 127 / 5, 3)} mm" if metric else super()._text(value, metric, place)


class _Lengths(Dimension):
    """Several lengths in order, written with semicolons: `4 ft; 14 ft 6 in`."""

    def parse(self, text: str) -> tuple[Fraction, ...]:
        return tuple(parse_length(part) for part in text.split(";")) if text.strip() else ()

    def coerce(self, value: object, text: str | None = None) -> tuple[Fraction, ...]:
        if not isinstance(value, tuple | list):
            raise self._unread(text if text is not None else str(value))
        return tuple(parse_length(item) if isinstance(item, str) else LENGTH.coerce(item) for item in value)

    def _text(self, value: Any, metric: bool, place: int) -> str:
        return "; ".join(length_text(item, units=UNITS[metric], language=LANGUAGES[place]) for item in value)

    def number(self, value: Any, unit: str | None = None) -> list[int | float]:
        return [LENGTH.number(item, unit) for item in value]


class _Count(Dimension):
    """Whole pieces."""

    def coerce(self, value: object, text: str | None = None) -> int:
        exact = super().coerce(value, text)
        if exact.denominator != 1:
            raise self._unread(text if text is not None else str(value))
        return int(exact)


class _Letter(_Count):
    """The code letter of a sampling table, kept as its place in the table: 0 is A; there is no I."""

    def _text(self, value: Any, metric: bool, place: int) -> str:
        return "ABCDEFGHJKLMNPQR"[value]


class _Gauge(_Count):
    """A gauge of sheet metal; Spanish says the word first, and it is read in either place."""

    def parse(self, text: str) -> Any:
        word, _, number = text.strip().partition(" ")
        return super().parse(number if word.lower() in {"gauge", "calibre"} else text)

    def _text(self, value: Any, metric: bool, place: int) -> str:
        return (f"{value} gauge", f"calibre {value}")[place]


class _Duration(Dimension):
    """A time: whole hours from two on are written as hours, as a crew says them."""

    def _text(self, value: Any, metric: bool, place: int) -> str:
        hours = Fraction(value) / 60
        whole = hours >= 2 and hours.denominator == 1
        return f"{decimal(hours, 0)} h" if whole else super()._text(value, metric, place)


class _Angle(Dimension):
    """An angle: its sign stands close to the number."""

    def _text(self, value: Any, metric: bool, place: int) -> str:
        return f"{decimal(Fraction(value), self.places)}°"


class _Share(Dimension):
    """A part of a whole: percent, but for thirds, sixths and their like, which percent would only come near."""

    def _text(self, value: Any, metric: bool, place: int) -> str:
        share = Fraction(value)
        if (share * 1000).denominator != 1 and share.denominator <= 12:
            return mixed(share)
        return f"{decimal(share * 100, self.places)}%"


class _Slope(Dimension):
    """A slope: the fall in a foot as a tape shows it where it lies on a mark, else in decimals; percent in metric."""

    def _text(self, value: Any, metric: bool, place: int) -> str:
        slope = Fraction(value)
        if metric:
            return f"{decimal(slope * 100 / 12, self.places)}%"
        number = mixed(slope) if (slope * 16).denominator == 1 else decimal(slope, 3)
        return f"{number} {self.signs[self.unit][place]}"


class _Flag(Dimension):
    """Yes or no."""

    def parse(self, text: str) -> bool:
        word = text.strip().lower()
        if word in {"yes", "true", "1", "sí", "si"}:
            return True
        if word in {"no", "false", "0"}:
            return False
        raise self._unread(text)

    def coerce(self, value: object, text: str | None = None) -> bool:
        if isinstance(value, bool):
            return value
        raise self._unread(text if text is not None else str(value))

    def _unread(self, text: str) -> QuantityError:
        return QuantityError((f"“{text[:40]}” is neither yes nor no.", f"“{text[:40]}” no es ni sí ni no."))

    def _text(self, value: Any, metric: bool, place: int) -> str:
        return ("yes", "sí")[place] if value else "no"

    def number(self, value: Any, unit: str | None = None) -> int:
        return int(value)


def _number(text: str) -> Fraction:
    plain = _DECIMALS.fullmatch(text)
    if plain is not None:
        whole, decimals = plain[1], plain[2] or ""
        return exact(int(whole + decimals), 10 ** len(decimals))
    mantissa, _, exponent = text.partition("e")
    if re.fullmatch(r"-?\d{1,3}(,\d{3})+(\.\d+)?", mantissa):
        mantissa = mantissa.replace(",", "")
    sign = -1 if mantissa.startswith("-") else 1
    parts = re.split(r"[\s-]+", mantissa.lstrip("-").replace(",", "."))
    try:
        value = sum((Exact(part) for part in parts), exact(0))
    except ZeroDivisionError:
        raise QuantityError(
            (
                f"“{text}” divides by zero. Write the fraction again, such as 1/2.",
                f"“{text}” divide entre cero. Escriba la fracción otra vez, por ejemplo 1/2.",
            )
        ) from None
    return sign * value * exact(10) ** int(exponent or 0)


def decimal(number: int | Fraction, places: int) -> str:
    """Write a number with at most `places` decimals, halves up, thousands with commas: `1,250.5`."""
    scale = 10**places
    top, bottom = number.as_integer_ratio()
    rounded = (2 * abs(top) * scale + bottom) // (2 * bottom)
    whole, rest = divmod(rounded, scale)
    fraction = f"{rest:0{places}d}".rstrip("0") if rest else ""
    sign = "-" if top < 0 and rounded else ""
    return f"{sign}{whole:,}" + (f".{fraction}" if fraction else "")


def _scales(**sizes: Fraction | int) -> dict[str, tuple[Fraction, Fraction]]:
    return {name.replace("_per_", "/").strip("_"): (Fraction(size), Fraction(0)) for name, size in sizes.items()}


_FOOT_M = Fraction(3048, 10000)
_MILE_KM = Fraction("1.609344")
_OZ_ML = Fraction("29.5735295625")
_GRAVITY = Fraction("9.80665")
_LB_KG = Fraction("0.45359237")
_IN = {"in": (Fraction(1), Fraction(0)), "ft": (Fraction(12), Fraction(0)), "yd": (Fraction(36), Fraction(0)),
       "mm": (Fraction(10, 254), Fraction(0)), "cm": (Fraction(100, 254), Fraction(0)),
       "m": (Fraction(10000, 254), Fraction(0))}  # fmt: skip
_FT2 = _scales(ft2=1, in2=Fraction(1, 144), square=100, squares=100, m2=1 / _FOOT_M**2)
_OZ = {"fl oz": (Fraction(1), Fraction(0)),
       **_scales(gal=128, qt=32, pt=16, mL=1 / _OZ_ML, L=1000 / _OZ_ML, in3=Fraction(128, 231))}  # fmt: skip
_LB = _scales(lb=1, oz=Fraction(1, 16), ton=2000, kg=1 / _LB_KG, g=1 / (1000 * _LB_KG), t=1000 / _LB_KG)
_LB_M2 = _FOOT_M**2 / (_LB_KG * _GRAVITY)
_L_PER_GAL = 128 * _OZ_ML / 1000
_RATE_M2 = 1 / (_L_PER_GAL / (100 * _FOOT_M**2))


def _by(units: Mapping[str, tuple[Fraction, Fraction]], unit: str) -> dict[str, tuple[Fraction, Fraction]]:
    """The same units, each in terms of another one of them."""
    return {name: (size / units[unit][0], zero) for name, (size, zero) in units.items()}


_SQUARED: dict[str, str | tuple[str, str]] = {"ft2": ("ft²", "pies²"), "m2": "m²", "in2": ("in²", "pulg²"),
                                              "squares": ("squares", "cuadros")}  # fmt: skip
_POURED: dict[str, str | tuple[str, str]] = {"fl oz": ("fl oz", "oz líq"), "in3": ("in³", "pulg³")}
LENGTH = _Length("length", "in", power=1, units=_IN, most=63360, spoken=("a length", "una longitud"),
                 metric="mm", example="24 ft 6 1/2 in")  # fmt: skip
DISTANCE = _Length("difference of lengths", "in", power=1, units=_IN, least=None, most=63360, metric="mm",
                   spoken=("a length", "una longitud"), example="1/4 in")  # fmt: skip
THICKNESS = _Thickness("thickness", "in", power=1, units=_IN, most=63360, metric="mm", places=4,
                       signs={"in": ("in", "pulg")}, spoken=("a thickness", "un grueso"),
                       example="0.032 in")  # fmt: skip
LENGTHS = _Lengths("lengths", "in", kind=tuple, power=1, units=_IN, most=63360, metric="mm",
                   spoken=("a list of lengths", "una lista de longitudes"), example="16 ft; 32 ft")  # fmt: skip
AREA = Dimension("area", "ft2", power=2, inch_factor=Fraction(144), units=_FT2, metric="m2", signs=_SQUARED,
                 spoken=("an area", "un área"), example="1,250 ft2")  # fmt: skip
SQUARES = Dimension("squares", "square", power=2, inch_factor=Fraction(14400), units=_by(_FT2, "square"),
                    metric="m2", signs={**_SQUARED, "square": ("squares", "cuadros")},
                    spoken=("an area in squares", "un área en cuadros"), example="12.5 square")  # fmt: skip
COUNT = _Count("count", "", kind=int, places=0, most=10**7, spoken=("a whole number", "un número entero"),
               example="12")  # fmt: skip
VOLUME = Dimension("volume", "fl oz", power=3, inch_factor=Fraction(231, 128), units=_OZ, metric="mL",
                   signs=_POURED, spoken=("a volume", "un volumen"),
                   example="10.1 fl oz")  # fmt: skip
GALLONS = Dimension("liquid", "gal", power=3, inch_factor=Fraction(231), units=_by(_OZ, "gal"), metric="L",
                    signs=_POURED, spoken=("a volume", "un volumen"), example="5 gal")  # fmt: skip
RATE = Dimension("rate", "gal per 100 ft2", power=1, inch_factor=Fraction(231, 14400),
                 units={"gal per 100 ft2": (Fraction(1), Fraction(0)), "gal/ft2": (Fraction(100), Fraction(0)),
                        "L per m2": (_RATE_M2, Fraction(0)), "L/m2": (_RATE_M2, Fraction(0)),
                        "L per 10 m2": (_RATE_M2 / 10, Fraction(0))},
                 metric="L per m2", places=3, spoken=("a rate", "un rendimiento"), example="0.75 gal per 100 ft2",
                 signs={"gal per 100 ft2": ("gal per 100 ft²", "gal por 100 pies²"),
                        "L per m2": ("L per m²", "L por m²"), "gal/ft2": ("gal/ft²", "gal/pie²"), "L/m2": "L/m²",
                        "L per 10 m2": ("L per 10 m²", "L por 10 m²")})  # fmt: skip
MASS = Dimension("mass", "lb", units=_LB, metric="kg", spoken=("a weight", "un peso"), example="85 lb")
TEMPERATURE = Dimension("temperature", "degF", kind=Fraction, least=-130, most=400, places=1,
                        units={"degF": (Fraction(1), Fraction(0)), "degC": (Fraction(9, 5), Fraction(-160, 9))},
                        metric="degC", signs={"degF": "°F", "degC": "°C"}, example="50 degF",
                        spoken=("a temperature", "una temperatura"))  # fmt: skip
TEMPERATURE_DIFFERENCE = Dimension("temperature difference", "degF", least=None, most=1000, places=1,
                                   units=_scales(degF=1, degC=Fraction(9, 5)), metric="degC", example="5 degF",
                                   signs={"degF": "°F", "degC": "°C"},
                                   spoken=("a difference of temperature", "una diferencia de temperatura"))  # fmt: skip
SHARE = _Share("share", "ratio", most=10**6, units={"ratio": (Fraction(1), Fraction(0)),
               "%": (Fraction(1, 100), Fraction(0)), "percent": (Fraction(1, 100), Fraction(0))},
               spoken=("a share", "una parte"), example="10 %")  # fmt: skip
DURATION = _Duration("time", "min", units=_scales(min=1, h=60, day=1440, days=1440, s=Fraction(1, 60)),
                     signs={"day": ("day", "día"), "days": ("days", "días")},
                     spoken=("a time", "un tiempo"), example="30 min")  # fmt: skip
DAYS = Dimension("days", "day", units=_by(_scales(min=1, h=60, day=1440, days=1440), "day"), places=1,
                 signs={"day": ("days", "días")}, spoken=("a number of days", "un número de días"),
                 example="3 day")  # fmt: skip
SPEED = Dimension("speed", "mph", places=1, most=400, metric="km/h", example="15 mph",
                  units={"mph": (Fraction(1), Fraction(0)), "km/h": (1 / _MILE_KM, Fraction(0)),
                         "m/s": (Fraction(36, 10) / _MILE_KM, Fraction(0))},
                  spoken=("a wind speed", "una velocidad del viento"))  # fmt: skip
LETTER = _Letter("code letter", "", kind=int, places=0, most=15, spoken=("a code letter", "una letra clave"),
                 example="3")  # fmt: skip
ANGLE = _Angle("angle", "deg", least=-360, most=360, places=2, signs={"deg": "°"}, spoken=("an angle", "un ángulo"),
                  units={"deg": (Fraction(1), Fraction(0)), "degree": (Fraction(1), Fraction(0)),
                         "degrees": (Fraction(1), Fraction(0))}, example="45 deg")  # fmt: skip
SLOPE = _Slope("slope", "in per ft", inch_factor=Fraction(1, 12), most=240,
               units={"in per ft": (Fraction(1), Fraction(0)), "in/ft": (Fraction(1), Fraction(0)),
                      ":12": (Fraction(1), Fraction(0)), "%": (Fraction(12, 100), Fraction(0)),
                      "percent": (Fraction(12, 100), Fraction(0)), "ratio": (Fraction(12), Fraction(0))},
               metric="%", signs={"in per ft": ("in per ft", "pulg por pie")},
               spoken=("a slope", "una pendiente"), example="1/4 in per ft")  # fmt: skip
GAUGE = _Gauge("gauge", "gauge", kind=int, places=0, least=1, most=40, example="26 gauge",
               signs={"gauge": ("gauge", "calibre")}, spoken=("a sheet-metal gauge", "un calibre"))  # fmt: skip
LOAD = Dimension("load", "psf", power=-2, inch_factor=Fraction(1, 144),
                 units=_scales(psf=1, lb_per_ft2=1, oz_per_ft2=Fraction(1, 16), kPa=1000 * _LB_M2,
                               kg_per_m2=1 / (_LB_KG / _FOOT_M**2)),
                 spoken=("a load", "una carga"), metric="kg/m2", example="5.2 psf",
                 signs={"psf": ("psf", "lb por pie²"), "kg/m2": "kg/m²", "lb/ft2": ("lb/ft²", "lb/pie²"),
                        "oz/ft2": ("oz/ft²", "oz/pie²")})  # fmt: skip
LOAD_PER_DEPTH = Dimension("load per depth", "psf per in", power=-3, inch_factor=Fraction(1, 144),
                           example="5.2 psf per in",
                           signs={"psf per in": ("psf per in", "lb por pie² por pulg")},
                           spoken=("a load for each inch", "una carga por pulgada"))  # fmt: skip
EXPANSION = Dimension("expansion", "per degF", places=8, units={"per degF": (Fraction(1), Fraction(0)),
                      "per degC": (Fraction(5, 9), Fraction(0)), "per K": (Fraction(5, 9), Fraction(0))},
                      metric="per degC", signs={"per degF": ("per °F", "por °F"), "per degC": ("per °C", "por °C")},
                      spoken=("a coefficient of expansion", "un coeficiente de dilatación"),
                      example="0.00000887 per degF")  # fmt: skip
NUMBER = Dimension("number", "", least=None, places=4, spoken=("a number", "un número"), example="1.5")
FLAG = _Flag("yes or no", "", kind=bool, spoken=("yes or no", "sí o no"), example="yes")

DIMENSIONS: dict[str, Dimension] = {
    item.name: item
    for item in (LENGTH, DISTANCE, THICKNESS, LENGTHS, AREA, SQUARES, COUNT, VOLUME, GALLONS, RATE, MASS, TEMPERATURE,
                 TEMPERATURE_DIFFERENCE, SHARE, DURATION, DAYS, ANGLE, SLOPE, GAUGE, LOAD, LOAD_PER_DEPTH,
                 EXPANSION, SPEED, LETTER, NUMBER, FLAG)
}  # fmt: skip

Length = Annotated[Fraction, LENGTH]
Distance = Annotated[Fraction, DISTANCE]
Thickness = Annotated[Fraction, THICKNESS]
Lengths = Annotated[tuple[Fraction, ...], LENGTHS]
Area = Annotated[Fraction, AREA]
Squares = Annotated[Fraction, SQUARES]
Count = Annotated[int, COUNT]
Volume = Annotated[Fraction, VOLUME]
Gallons = Annotated[Fraction, GALLONS]
Rate = Annotated[Fraction, RATE]
Mass = Annotated[Fraction, MASS]
Temperature = Annotated[Fraction, TEMPERATURE]
TemperatureDifference = Annotated[Fraction, TEMPERATURE_DIFFERENCE]
Share = Annotated[Fraction, SHARE]
Duration = Annotated[Fraction, DURATION]
Days = Annotated[Fraction, DAYS]
Angle = Annotated[Fraction, ANGLE]
Slope = Annotated[Fraction, SLOPE]
Gauge = Annotated[int, GAUGE]
Load = Annotated[Fraction, LOAD]
LoadPerDepth = Annotated[Fraction, LOAD_PER_DEPTH]
Expansion = Annotated[Fraction, EXPANSION]
Speed = Annotated[Fraction, SPEED]
Letter = Annotated[int, LETTER]
Number = Annotated[Fraction, NUMBER]
Flag = Annotated[bool, FLAG]

_ALIASES = {
    "sq": "square", "sqft": "ft2", "sq ft": "ft2", "ft²": "ft2", "pies²": "ft2", "pies2": "ft2", "m²": "m2",
    "gallons": "gal", "gallon": "gal", "galones": "gal", "oz líq": "fl oz", "floz": "fl oz", "ml": "mL", "l": "L",
    "°f": "degF", "f": "degF", "°c": "degC", "c": "degC", "lbs": "lb", "pounds": "lb", "minutes": "min",
    "hours": "h", "hour": "h", "°": "deg", "in. per ft": "in per ft", "pulg por pie": "in per ft",
    "pulg/pie": "in per ft", "gal/100 ft2": "gal per 100 ft2", "l/m2": "L/m2", "l per m2": "L per m2",
    "degf": "degF", "degc": "degC", "cuadros": "squares", "calibre": "gauge", "día": "day", "días": "days",
    "oz per ft2": "oz/ft2",
}  # fmt: skip


def dimension(name: str) -> Dimension:
    """Find a dimension by its name.

    Raises:
        KeyError: There is none; the message lists them.
    """
    if name not in DIMENSIONS:
        raise KeyError(f"no dimension is called {name!r}; there are {', '.join(DIMENSIONS)}")
    return DIMENSIONS[name]
