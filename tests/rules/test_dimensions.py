"""Dimensions: what each reads, writes and refuses, in both languages and units, to the letter."""

from fractions import Fraction
from typing import Any

import pytest

from trainer.rules import get_rule
from trainer.rules.dimensions import DIMENSIONS, THICKNESS, QuantityError, decimal, dimension
from trainer.rules.lengths import LengthError
from trainer.rules.words import steps_text

READ = {
    # a text, the dimension that reads it, the value in its own unit
    "a unit left out": ("12.5", "area", Fraction(25, 2)),
    "spaces round it": ("  3 lb ", "mass", Fraction(3)),
    "a true minus": ("−5 degF", "temperature difference", Fraction(-5)),
    "a hyphen between whole and fraction": ("1-1/2 lb", "mass", Fraction(3, 2)),
    "a negative mixed number": ("-1 1/2 degF", "temperature difference", Fraction(-3, 2)),
    "thousands": ("1,250.5 ft2", "area", Fraction(2501, 2)),
    "negative thousands": ("-1,250", "number", Fraction(-1250)),
    "a decimal comma": ("2,5 lb", "mass", Fraction(5, 2)),
    "no digit before the point": (".5 lb", "mass", Fraction(1, 2)),
    "a power of ten": ("6.5e-6 per degF", "expansion", Fraction(13, 2_000_000)),
    "a power of ten upward": ("2e3 lb", "mass", Fraction(2000)),
    "a power of ten with thousands": ("1,250e+1 lb", "mass", Fraction(12_500)),
    "a unit the dimension knows": ("1 m2", "area", Fraction(10_000 * 10_000, 3048 * 3048)),
    "an alias in capitals": ("3 SQ", "area", Fraction(300)),
    "an alias in Spanish": ("200 pies²", "area", Fraction(200)),
    "its own sign": ("3 °F", "temperature", Fraction(3)),
    "its own Spanish sign": ("0.75 gal por 100 pies²", "rate", Fraction(3, 4)),
    "Celsius": ("20 degC", "temperature", Fraction(68)),
    "a difference in Celsius": ("5 degC", "temperature difference", Fraction(9)),
    "percent": ("10 %", "share", Fraction(1, 10)),
    "hours": ("2 h", "time", Fraction(120)),
    "seconds": ("90 s", "time", Fraction(3, 2)),
    "days of minutes": ("1440 min", "days", Fraction(1)),
    "kilometers an hour": ("1.609344 km/h", "speed", Fraction(1)),
    "meters a second": ("0.44704 m/s", "speed", Fraction(1)),
    "a gauge, its word first": ("Calibre 26", "gauge", 26),
    "a slope in percent": ("25 %", "slope", Fraction(3)),
    "a slope as a ratio": ("0.5 ratio", "slope", Fraction(6)),
    "a slope in twelfths": ("1/4 :12", "slope", Fraction(1, 4)),
    "a gauge": ("26 gauge", "gauge", 26),
    "a count": ("1,200", "count", 1200),
    "squares": ("250 ft2", "squares", Fraction(5, 2)),
    "liters": ("3.785411784 L", "liquid", Fraction(1)),
    "cubic inches": ("231 in3", "volume", Fraction(128)),
    "kilograms": ("0.45359237 kg", "mass", Fraction(1)),
    "lengths": ("16 ft; 32 ft", "lengths", (Fraction(192), Fraction(384))),
    "no lengths": (" ", "lengths", ()),
    "yes": ("YES", "yes or no", True),
    "sí": ("sí", "yes or no", True),
    "si": ("si", "yes or no", True),
    "true": ("true", "yes or no", True),
    "one": ("1", "yes or no", True),
    "no": (" No ", "yes or no", False),
    "false": ("false", "yes or no", False),
    "zero": ("0", "yes or no", False),
}  # fmt: skip


@pytest.mark.parametrize(("text", "name", "value"), READ.values(), ids=READ)
def test_it_reads_a_quantity(text: str, name: str, value: Any) -> None:
    """A number with its unit becomes an exact value in the dimension's own unit."""
    read = dimension(name).parse(text)

    assert read == value
    assert type(read) is type(value) or isinstance(read, Fraction)


WRITTEN = {
    # dimension, value, English and Spanish in the imperial units, English and Spanish in metric
    "an area": ("area", Fraction(5001, 4), "1,250.25 ft²", "1,250.25 pies²", "116.15 m²", "116.15 m²"),
    "squares": ("squares", Fraction(25, 2), "12.5 squares", "12.5 cuadros", "116.13 m²", "116.13 m²"),
    "a volume": ("volume", Fraction(101, 10), "10.1 fl oz", "10.1 oz líq", "298.69 mL", "298.69 mL"),
    "a liquid": ("liquid", Fraction(5), "5 gal", "5 gal", "18.93 L", "18.93 L"),
    "a rate": (
        "rate", Fraction(3, 4), "0.75 gal per 100 ft²", "0.75 gal por 100 pies²", "0.306 L per m²", "0.306 L por m²",
    ),
    "a mass": ("mass", Fraction(85), "85 lb", "85 lb", "38.56 kg", "38.56 kg"),
    "a temperature": ("temperature", Fraction(68), "68 °F", "68 °F", "20 °C", "20 °C"),
    "a difference": ("temperature difference", Fraction(9), "9 °F", "9 °F", "5 °C", "5 °C"),
    "a third": ("share", Fraction(1, 3), "1/3", "1/3", "1/3", "1/3"),
    "a sixty-fourth": ("share", Fraction(1, 64), "1.56%", "1.56%", "1.56%", "1.56%"),
    "a twelfth": ("share", Fraction(1, 12), "1/12", "1/12", "1/12", "1/12"),
    "a thirteenth": ("share", Fraction(1, 13), "7.69%", "7.69%", "7.69%", "7.69%"),
    "a sixty-fifth": ("share", Fraction(1, 65), "1.54%", "1.54%", "1.54%", "1.54%"),
    "a tenth of a percent": ("share", Fraction(1, 1000), "0.1%", "0.1%", "0.1%", "0.1%"),
    "half": ("share", Fraction(1, 2), "50%", "50%", "50%", "50%"),
    "an angle": ("angle", Fraction(45), "45°", "45°", "45°", "45°"),
    "a slope": ("slope", Fraction(1, 4), "1/4 in per ft", "1/4 pulg por pie", "2.08%", "2.08%"),
    "a slope off the marks": ("slope", Fraction(12, 49), "0.245 in per ft", "0.245 pulg por pie", "2.04%", "2.04%"),
    "a load": ("load", Fraction(20), "20 psf", "20 lb por pie²", "97.65 kg/m²", "97.65 kg/m²"),
    "days": ("days", Fraction(5, 2), "2.5 days", "2.5 días", "2.5 days", "2.5 días"),
    "minutes": ("time", Fraction(90), "90 min", "90 min", "90 min", "90 min"),
    "one hour": ("time", Fraction(60), "60 min", "60 min", "60 min", "60 min"),
    "two hours": ("time", Fraction(120), "2 h", "2 h", "2 h", "2 h"),
    "a gauge": ("gauge", 26, "26 gauge", "calibre 26", "26 gauge", "calibre 26"),
    "a code letter": ("code letter", 3, "D", "D", "D", "D"),
    "the letter after H": ("code letter", 8, "J", "J", "J", "J"),
    "yes": ("yes or no", True, "yes", "sí", "yes", "sí"),
    "no": ("yes or no", False, "no", "no", "no", "no"),
    "a count": ("count", 1200, "1,200", "1,200", "1,200", "1,200"),
    "a bare number": ("number", Fraction(1, 3), "0.3333", "0.3333", "0.3333", "0.3333"),
    "a length": ("length", Fraction(30), "2 ft 6 in", "2 pies 6 pulg", "762 mm", "762 mm"),
    "lengths": (
        "lengths", (Fraction(12), Fraction(1)), "1 ft; 1 in", "1 pie; 1 pulg", "305 mm; 25 mm", "305 mm; 25 mm",
    ),
    "a coefficient": (
        "expansion", Fraction(13, 2_000_000), "0.0000065 per °F", "0.0000065 por °F", "0.0000117 per °C",
        "0.0000117 por °C",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("name", "value", "english", "spanish", "metric", "metrico"), WRITTEN.values(), ids=WRITTEN)
def test_it_writes_a_quantity(name: str, value: Any, english: str, spanish: str, metric: str, metrico: str) -> None:
    """Number and sign, as the reader of either language and of either system of units writes them."""
    kind = dimension(name)

    assert kind.text(value) == english
    assert kind.text(value, "imperial", "es") == spanish
    assert (kind.text(value, "metric"), kind.text(value, "metric", "es")) == (metric, metrico)


UNREAD = (
    # dimension, text, English, Spanish
    ("area", "wide", "“wide” is not an area. Write a number with its unit, such as 1,250 ft².",
     "“wide” no es un área. Escriba un número con su unidad, por ejemplo 1,250 pies²."),
    ("mass", "5 stone", "“stone” is not a unit for a weight. Use lb, oz, ton, kg, g, t.",
     "“stone” no es una unidad para un peso. Use lb, oz, ton, kg, g, t."),
    ("area", "5 acres", "“acres” is not a unit for an area. Use ft², in², square, squares, m².",
     "“acres” no es una unidad para un área. Use pies², pulg², square, cuadros, m²."),
    ("share", "much", "“much” is not a share. Write a number with its unit, such as 10%.",
     "“much” no es una parte. Escriba un número con su unidad, por ejemplo 10%."),
    ("gauge", "2.5", "“2.5” is not a sheet-metal gauge. Write a number with its unit, such as 26 gauge.",
     "“2.5” no es un calibre. Escriba un número con su unidad, por ejemplo calibre 26."),
    ("count", "5 pieces", "“pieces” is not a unit for a whole number. Use a bare number.",
     "“pieces” no es una unidad para un número entero. Use un número solo."),
    ("count", "2.5", "“2.5” is not a whole number. Write a number with its unit, such as 12.",
     "“2.5” no es un número entero. Escriba un número con su unidad, por ejemplo 12."),
    ("mass", "1/0 lb", "“1/0” divides by zero. Write the fraction again, such as 1/2.",
     "“1/0” divide entre cero. Escriba la fracción otra vez, por ejemplo 1/2."),
    ("yes or no", "perhaps", "“perhaps” is neither yes nor no.", "“perhaps” no es ni sí ni no."),
)  # fmt: skip


@pytest.mark.parametrize(("name", "text", "english", "spanish"), UNREAD, ids=[row[1] for row in UNREAD])
def test_it_says_what_it_can_not_read(name: str, text: str, english: str, spanish: str) -> None:
    """The sentence names the text and shows how to write it, in the reader's language; a long text is cut off."""
    with pytest.raises(QuantityError) as refused:
        dimension(name).parse(text)

    assert str(refused.value) == english
    assert (refused.value.message(), refused.value.message("en")) == (english, english)
    assert refused.value.message("es") == spanish


def test_it_cuts_off_a_long_text() -> None:
    """Forty characters are enough to find the place again."""
    for name, english, spanish in (("area", "is not an area", "no es un área"),
                                   ("yes or no", "is neither yes nor no", "no es ni sí ni no")):  # fmt: skip
        with pytest.raises(QuantityError) as refused:
            dimension(name).parse("x" * 50)

        assert refused.value.message("en").startswith(f"“{'x' * 40}” {english}.")
        assert refused.value.message("es").startswith(f"“{'x' * 40}” {spanish}.")


NUMBERS = (
    ("area", True, "“True” is not an area."),
    ("area", None, "“None” is not an area."),
    ("area", float("nan"), "“nan” is not an area."),
    ("area", float("-inf"), "“-inf” is not an area."),
    ("count", 2.5, "“2.5” is not a whole number."),
    ("lengths", 5, "“5” is not a list of lengths."),
    ("yes or no", 1, "“1” is neither yes nor no."),
)


@pytest.mark.parametrize(("name", "value", "start"), NUMBERS)
def test_it_takes_only_finite_numbers(name: str, value: object, start: str) -> None:
    """Neither flags for numbers, nor numbers for flags, nor what is no number."""
    with pytest.raises(QuantityError) as refused:
        dimension(name).coerce(value)

    assert str(refused.value).startswith(start)
    with pytest.raises(QuantityError, match="“as written” is n"):
        dimension(name).coerce(value, "as written")


def test_it_keeps_a_float_as_it_reads() -> None:
    """0.1 is a tenth, not the nearest number that a float can hold."""
    assert dimension("mass").coerce(0.1) == Fraction(1, 10)
    assert dimension("lengths").coerce([1, "2 ft", Fraction(1, 2)]) == (1, 24, Fraction(1, 2))
    assert dimension("lengths").coerce((3,)) == (3,)


def test_it_gives_plain_numbers_in_any_of_its_units() -> None:
    """A whole one as a whole number, another as a float; a list as a list; a flag as 0 or 1."""
    assert dimension("area").number(Fraction(100)) == 100
    assert dimension("area").number(Fraction(100), "square") == 1
    assert dimension("temperature").number(Fraction(68), "degC") == 20
    assert dimension("mass").number(Fraction(1, 8)) == 0.125
    assert dimension("mass").number(2.5) == 2.5
    assert isinstance(dimension("area").number(Fraction(100)), int)
    assert dimension("lengths").number((Fraction(12), Fraction(1, 2))) == [12, 0.5]
    assert dimension("lengths").number((Fraction(12),), "ft") == [1]
    assert dimension("yes or no").number(True) == 1


@pytest.mark.parametrize(
    ("number", "places", "text"),
    [
        (Fraction(12345678, 1000), 2, "12,345.68"), (Fraction(1, 3), 0, "0"), (Fraction(1, 2), 0, "1"),
        (Fraction(-1, 2), 0, "-1"), (Fraction(-1, 1000), 2, "0"), (Fraction(5, 1000), 2, "0.01"), (1200, 0, "1,200"),
        (Fraction(3, 2), 4, "1.5"), (Fraction(-5, 4), 1, "-1.3"), (Fraction(101, 100), 2, "1.01"),
    ],
)  # fmt: skip
def test_it_writes_decimals_halves_up(number: int | Fraction, places: int, text: str) -> None:
    """At most so many decimals, no zeros at their end, thousands with commas, no minus before a zero."""
    assert decimal(number, places) == text


def test_it_names_what_there_is_when_a_dimension_is_unknown() -> None:
    """The message lists every dimension."""
    with pytest.raises(KeyError) as refused:
        dimension("weight")

    assert refused.value.args[0] == f"no dimension is called 'weight'; there are {', '.join(DIMENSIONS)}"


def test_it_shows_itself_by_name_and_unit() -> None:
    """A dimension in an error is known by name and unit; it speaks of itself by its name where no words are given."""
    assert repr(dimension("load")) == "Dimension('load', 'psf')"
    assert dimension("number").places == 4
    assert (dimension("length").item, dimension("lengths").item) == (dimension("length"), dimension("length"))


def test_it_lets_lengths_say_their_own_faults() -> None:
    """A length that can't be read raises the length's own error."""
    with pytest.raises(LengthError, match="is not a length"):
        dimension("length").parse("wide")


def test_it_has_defaults_for_a_new_dimension() -> None:
    """Two decimals, no metric unit of its own, an example in its unit, spoken of by its name."""
    kind = type(DIMENSIONS["load"])("slowness", "s per ft")

    assert (kind.places, kind.metric, kind.example, kind.spoken) == (2, "s per ft", "5 s per ft", ("slowness",) * 2)
    assert (kind.least, kind.most, kind.power, kind.inch_factor, kind.kind) == (0, 10**9, 0, 1, Fraction)
    assert kind.units == {"s per ft": (1, 0)}
    assert kind.text(Fraction(2, 3)) == "0.67 s per ft"
    assert type(kind)("bare", "").example == "5"


def test_it_writes_a_thickness_in_decimals() -> None:
    """Sheet metal is thinner than a tape can show: 0.0239 in is no 0 in. Tape notation and millimeters are read too."""
    steel = get_rule("gauge_thickness")(gauge=24)

    assert THICKNESS.text(steel.value) == "0.0239 in"
    assert THICKNESS.text(steel.value, "imperial", "es") == "0.0239 pulg"
    assert THICKNESS.text(steel.value, "metric") == "0.607 mm"
    assert THICKNESS.parse("0.0239 in") == Fraction("0.0239")
    assert THICKNESS.parse("1/32 in") == Fraction(1, 32)
    assert THICKNESS.parse("2.54 mm") == Fraction(1, 10)
    assert steps_text(steel)[-1]["text"] == "0.0239 in"


@pytest.mark.parametrize("name", ["area", "length", "lengths", "code letter", "angle", "share", "slope", "yes or no"])
def test_it_writes_for_known_readers_only(name: str) -> None:
    """A language or units that nobody wrote texts for are refused by name, whatever the dimension."""
    value = (Fraction(3),) if name == "lengths" else Fraction(3)

    with pytest.raises(ValueError, match=r"^no language is called 'fr'; there are en and es$"):
        dimension(name).text(value, "imperial", "fr")
    with pytest.raises(ValueError, match=r"^no units are called 'nautical'; there are imperial and metric$"):
        dimension(name).text(value, "nautical")


def test_it_explains_itself_to_known_readers_only() -> None:
    """An error has no text in a language that nobody wrote it in."""
    with pytest.raises(QuantityError) as refused:
        dimension("area").parse("wide")

    with pytest.raises(ValueError, match="no language is called 'fr'"):
        refused.value.message("fr")
