"""Lengths: every way a crew writes one is read exactly, and what is written is read back the same."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rules.samples import INVARIANT, REFUSAL
from trainer.rules import LengthError, exact_text, length_text, parse_length
from trainer.rules.lengths import decimal_text, nearest_mark

READ = {
    "feet and inch signs": ("24' 6 1/2\"", Fraction(589, 2)),
    "words": ("24 ft 6 1/2 in", Fraction(589, 2)),
    "feet and inches": ("2 ft 3 in", Fraction(27)),
    "joined with a dash": ("24'-6 1/2\"", Fraction(589, 2)),
    "joined with a comma": ("24 ft, 6 in", Fraction(294)),
    "no spaces": ("24ft6in", Fraction(294)),
    "dash before the fraction": ("39-3/8 in", Fraction(315, 8)),
    "fraction alone": ('5/8"', Fraction(5, 8)),
    "unicode fraction": ("6½ in", Fraction(13, 2)),
    "unicode fraction alone": ("⅜″", Fraction(3, 8)),
    "primes": ("3′ 4″", Fraction(40)),
    "two quotes for inches": ("6''", Fraction(6)),
    "millimeters": ("89 mm", Fraction(890, 254)),
    "one meter": ("1 m", Fraction(10000, 254)),
    "centimeters": ("2.54 cm", Fraction(1)),
    "point": ("3.5", Fraction(7, 2)),
    "comma as decimal": ("3,5", Fraction(7, 2)),
    "leading point": (".5 in", Fraction(1, 2)),
    "bare number after feet is inches": ("24 ft 6", Fraction(294)),
    "decimal feet": ("17.46 ft", Fraction(20952, 100)),
    "Spanish": ("24 pies 6 1/2 pulg", Fraction(589, 2)),
    "one foot in Spanish": ("1 pie", Fraction(12)),
    "abbreviated with points": ("3 ft. 2 in.", Fraction(38)),
    "capitals": ("3 FT 2 IN", Fraction(38)),
    "yards": ("2 yd", Fraction(72)),
    "negative": ("-3/8 in", Fraction(-3, 8)),
    "minus sign": ("−1 1/4 in", Fraction(-5, 4)),
    "zero": ("0", Fraction(0)),
    "fraction over one": ("19/16 in", Fraction(19, 16)),
    "unreduced": ("4/8 in", Fraction(1, 2)),
}
REFUSED = {
    "nothing": ("", "empty"),
    "a minus alone": ("-", "empty"),
    "a word": ("abc", "unread"),
    "an unknown unit": ("5 parsecs", "unit"),
    "a weight": ("5 kg", "unit"),
    "divided by zero": ("1/0 in", "zero"),
    "a thousand or a decimal": ("1,000 mm", "comma"),
    "inches before feet": ("6 in 24 ft", "order"),
    "feet twice": ("2 ft 3 ft", "order"),
    "two bare numbers": ("3 5", "order"),
    "left open": ("24 ft -", "unread"),
    "nan": ("nan", "unread"),
    "another script": ("٣ in", "unread"),
    "superscript": ("3² in", "unread"),
    "endless": ("1" * 80, "long"),
}
WRITTEN = {
    "feet and fraction": (Fraction(589, 2), "24 ft 6 1/2 in", "24 pies 6 1/2 pulg"),
    "whole feet": (Fraction(24), "2 ft", "2 pies"),
    "one foot": (Fraction(12), "1 ft", "1 pie"),
    "under a foot": (Fraction(3, 8), "3/8 in", "3/8 pulg"),
    "nothing": (Fraction(0), "0 in", "0 pulg"),
    "negative": (Fraction(-27), "-2 ft 3 in", "-2 pies 3 pulg"),
    "rounded to a sixteenth": (Fraction(10000, 254), "3 ft 3 3/8 in", "3 pies 3 3/8 pulg"),
    "halfway between marks goes up": (Fraction(1, 32), "1/16 in", "1/16 pulg"),
}


@pytest.mark.parametrize(("text", "inches"), READ.values(), ids=READ)
def test_it_reads_what_crews_write(text: str, inches: Fraction) -> None:
    """Each notation is read into exact inches."""
    assert parse_length(text) == inches


@pytest.mark.parametrize(("text", "kind"), REFUSED.values(), ids=REFUSED)
def test_it_refuses_what_is_not_a_length(text: str, kind: str) -> None:
    """The error has its kind and says how to write a length, in both languages."""
    with pytest.raises(LengthError) as refused:
        parse_length(text)

    assert refused.value.kind == kind
    assert "Write" in str(refused.value) or "Use" in str(refused.value) or "Leave" in str(refused.value)
    assert refused.value.message("es") != refused.value.message("en")


@pytest.mark.parametrize(("inches", "english", "spanish"), WRITTEN.values(), ids=WRITTEN)
def test_it_writes_lengths_as_a_tape_shows_them(inches: Fraction, english: str, spanish: str) -> None:
    """Feet, inches and sixteenths in both languages."""
    assert length_text(inches) == english
    assert length_text(inches, language="es") == spanish


@pytest.mark.parametrize(
    ("inches", "text"),
    [
        (Fraction(890, 254), "89 mm"),
        (Fraction(10000, 254), "1 m"),
        (Fraction(589, 2), "7.48 m"),
        (Fraction(1), "25 mm"),
    ],
)
def test_it_writes_metric_lengths_to_the_millimeter(inches: Fraction, text: str) -> None:
    """Millimeters below a meter, meters above."""
    assert length_text(inches, units="metric") == text


def test_it_says_about_only_when_asked_and_when_it_rounds() -> None:
    """A length off the tape's marks is called about; one on a mark is not."""
    assert length_text(Fraction(1, 3), about=True) == "about 5/16 in"
    assert length_text(Fraction(1, 3), about=True, language="es") == "aprox. 5/16 pulg"
    assert length_text(Fraction(5, 16), about=True) == "5/16 in"
    assert length_text(Fraction(1, 3)) == "5/16 in"


def test_it_reads_a_bare_number_in_the_unit_asked_for() -> None:
    """A pad of millimeters reads 89 as millimeters; after feet a bare number is inches all the same."""
    assert parse_length("89", default_unit="mm") == Fraction(890, 254)
    assert parse_length("2 ft 6", default_unit="mm") == 30
    with pytest.raises(LengthError, match="not a unit"):
        parse_length("89", default_unit="stone")


def test_it_rounds_to_other_marks() -> None:
    """A tape with quarter marks."""
    assert nearest_mark(Fraction(3, 8), Fraction(1, 4)) == Fraction(1, 2)
    assert length_text(Fraction(5, 16), nearest=Fraction(1, 4)) == "1/4 in"


def test_it_writes_decimals_only_where_they_end() -> None:
    """A third stays a fraction."""
    assert decimal_text(Fraction(-5, 4)) == "-1.25"
    assert decimal_text(Fraction(1, 3)) == "1/3"


@given(st.fractions(min_value=-63360, max_value=63360, max_denominator=10**12))
@INVARIANT
def test_it_reads_back_every_exact_text(inches: Fraction) -> None:
    """Exact text to length is the identity, in stored, imperial, Spanish and metric form."""
    assert parse_length(exact_text(inches)) == inches
    for units, language in (("imperial", "en"), ("imperial", "es"), ("metric", "en")):
        text = length_text(inches, units=units, language=language, exact=True)
        if len(text) <= 60:
            assert parse_length(text) == inches


@given(st.integers(-63360 * 16, 63360 * 16), st.sampled_from(["en", "es"]))
@INVARIANT
def test_it_reads_back_every_mark_of_the_tape(sixteenths: int, language: str) -> None:
    """What a tape shows is written and read back unchanged, without asking for the exact form."""
    inches = Fraction(sixteenths, 16)

    assert parse_length(length_text(inches, language=language)) == inches


@given(st.fractions(min_value=0, max_value=5000))
@INVARIANT
def test_it_never_strays_more_than_half_a_mark(inches: Fraction) -> None:
    """Rounding to the tape moves a length by half a sixteenth at most; to the millimeter by half of one."""
    assert abs(parse_length(length_text(inches)) - inches) <= Fraction(1, 32)
    assert abs(parse_length(length_text(inches, units="metric")) - inches) <= Fraction(5, 254)


@given(st.text(max_size=80))
@REFUSAL
def test_it_answers_any_text_with_a_length_or_its_own_error(text: str) -> None:
    """No text brings out another error."""
    try:
        inches: Fraction | None = parse_length(text)
    except LengthError:
        inches = None

    assert inches is None or isinstance(inches, Fraction)


SAID = {
    # a text that is no length, what is said in English and in Spanish
    "": ("A length is missing. Write one, such as 24 ft 6 1/2 in or 89 mm.",
         "Falta una medida. Escriba una, por ejemplo 24 pies 6 1/2 pulg o 89 mm."),
    "-": ("A length is missing. Write one, such as 24 ft 6 1/2 in or 89 mm.",
          "Falta una medida. Escriba una, por ejemplo 24 pies 6 1/2 pulg o 89 mm."),
    "Wide": ("“Wide” is not a length. Write one, such as 24 ft 6 1/2 in or 89 mm.",
             "“Wide” no es una medida. Escriba una, por ejemplo 24 pies 6 1/2 pulg o 89 mm."),
    "2 ft ,": ("“2 ft ,” is not a length. Write one, such as 24 ft 6 1/2 in or 89 mm.",
               "“2 ft ,” no es una medida. Escriba una, por ejemplo 24 pies 6 1/2 pulg o 89 mm."),
    "5 尺": ("“5 尺” is not a length. Write one, such as 24 ft 6 1/2 in or 89 mm.",
            "“5 尺” no es una medida. Escriba una, por ejemplo 24 pies 6 1/2 pulg o 89 mm."),
    "5 stone.": ("“stone.” in “5 stone.” is not a unit of length. Use ft, in, mm, cm or m.",
                 "“stone.” en “5 stone.” no es una unidad de longitud. Use pies, pulg, mm, cm o m."),
    "1/0 in": ("“1/0 in” divides by zero. Write the fraction with its mark, such as 5/8 in.",
               "“1/0 in” divide entre cero. Escriba la fracción con su marca, por ejemplo 5/8 pulg."),
    "6 1/0 in": ("“6 1/0 in” divides by zero. Write the fraction with its mark, such as 5/8 in.",
                 "“6 1/0 in” divide entre cero. Escriba la fracción con su marca, por ejemplo 5/8 pulg."),
    "1,250": ("“1,250” can mean a thousand or a decimal. Leave the comma out of thousands, or write a point.",
              "“1,250” puede ser un millar o un decimal. Quite la coma de los millares o escriba un punto."),
    "6 in 2 ft": ("“6 in 2 ft” repeats a unit or puts the smaller one first. Write feet, then inches.",
                  "“6 in 2 ft” repite una unidad o pone primero la menor. Escriba pies y después pulgadas."),
    "1 ft 2 ft": ("“1 ft 2 ft” repeats a unit or puts the smaller one first. Write feet, then inches.",
                  "“1 ft 2 ft” repite una unidad o pone primero la menor. Escriba pies y después pulgadas."),
    "9" * 61: (f"“{'9' * 20}…” is too long to be a length. Write one, such as 24 ft 6 1/2 in.",
               f"“{'9' * 20}…” es demasiado largo para ser una medida. Escriba una, por ejemplo 24 pies 6 1/2 pulg."),
}  # fmt: skip


@pytest.mark.parametrize("text", SAID, ids=[text[:12] or "nothing" for text in SAID])
def test_it_says_what_is_wrong_with_a_text(text: str) -> None:
    """The whole sentence, in both languages."""
    with pytest.raises(LengthError) as refused:
        parse_length(text)

    assert (str(refused.value), refused.value.message("es")) == SAID[text]
    assert refused.value.message() == refused.value.message("en") == str(refused.value)


def test_it_names_the_unit_a_bare_number_was_to_have() -> None:
    """Where no unit was written the one asked for is named."""
    with pytest.raises(LengthError) as refused:
        parse_length("89", default_unit="stone")

    assert str(refused.value) == "“stone” in “89” is not a unit of length. Use ft, in, mm, cm or m."


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("24 ft", 288), ("24 ft 6 in", 294), ("24 ft 6 1/2 in", Fraction(589, 2)), ("1/2 in", Fraction(1, 2)),
        ("24 ft 1/2 in", Fraction(577, 2)), ("1 pie 6 pulg", 18), ("2 pies", 24), ("6 3/4 pulg", Fraction(27, 4)),
        ("-24 ft 6 in", -294), ("24 ft in", None), ("24 ft ", 288), ("24 ft 6", 294), ("1 m 2 cm", Fraction(5100, 127)),
        ("6 2/4 in", Fraction(13, 2)), ("0 in", 0), ("0 ft 0 in", 0), ("9" * 60, int("9" * 60)), (" 5 in", 5),
    ],
)  # fmt: skip
def test_it_reads_its_own_notation_like_any_other(text: str, inches: int | Fraction | None) -> None:
    """What the program writes is read in one go; every other text takes the longer way to the same length."""
    if inches is None:
        with pytest.raises(LengthError):
            parse_length(text)
    else:
        assert parse_length(text) == inches


def test_it_ends_decimals_at_twelve_places() -> None:
    """A fraction that takes more is written as one."""
    assert decimal_text(Fraction(1, 2**12)) == "0.000244140625"
    assert decimal_text(Fraction(1, 2**13)) == f"1/{2**13}"
    assert decimal_text(Fraction(1, 5**12)) == "0.000000004096"
    assert decimal_text(Fraction(1, 5**13)) == f"1/{5**13}"
    assert decimal_text(Fraction(3)) == "3"
    assert decimal_text(Fraction(123, 100)) == "1.23"


def test_it_refuses_a_language_or_units_that_it_cannot_write() -> None:
    """Another language or other units are an error of the program, never English by mistake."""
    with pytest.raises(ValueError, match=r"no language is called 'fr'; there are en and es"):
        length_text(Fraction(1), language="fr")
    with pytest.raises(ValueError, match=r"no units are called 'US'; there are imperial and metric"):
        length_text(Fraction(1), units="US")
    with pytest.raises(LengthError) as refused:
        parse_length("wide")
    with pytest.raises(ValueError, match="no language is called 'es-us'"):
        refused.value.message("es-us")
