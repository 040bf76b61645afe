"""The bill of materials: one roof worked by hand, and what must hold for any."""

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rules.samples import REFUSAL
from trainer.rules import RuleInputError
from trainer.rules.bill import Deck, bill_of_materials
from trainer.rules.languages import LANGUAGES
from trainer.rules.specification import parse_specification
from trainer.rules.words import label, value_text, word

FILE = Path(__file__).parents[2] / "lessons" / "specifications" / "two-ply-self-adhered" / "2026.toml"
SPECIFICATION = parse_specification(FILE.read_text(encoding="utf-8"), FILE.as_posix())


def amounts(*decks: Deck, edge: int | None = None) -> dict[str, Any]:
    """The amounts of a bill by item."""
    around = None if edge is None else Fraction(edge)
    return {line.item: line.value for line in bill_of_materials(decks, SPECIFICATION, edge=around)}


def deck(run: int, eave: int) -> Deck:
    """A rectangle, in inches."""
    return Deck(Fraction(run), Fraction(eave))


def test_it_lists_what_a_roof_takes() -> None:
    """24 ft × 40 ft, worked by hand from the values of the specification."""
    assert amounts(deck(288, 480)) == {
        # 2 + 288 + 2 less 26-1/4 over 35-3/8 is 7.5: 9 courses of 484 in, whole from rolls of 786 in; each takes a roll
        "base_rolls": 9,
        # 288 less 39-3/8 over 36-1/8 is 6.9: 8 courses of 480 in from rolls of 393, odd ones 393 + 93, even ones
        # 357 + 129. Eight rolls for the long pieces; of the short ones 93 + 129 + 93, 129 + 93 + 129 and 93 + 129
        # share a roll each
        "cap_rolls": 11,
        # 1,536 in with 120 and then 116 more: 1 + 12.2
        "metal_pieces": 14,
        # every 3 in, both ends nailed; every 8 in
        "metal_nails": 513,
        "base_nails": 193,
        # 1,536 × 1.1 is 1,689.6 in; a cartridge gives 291.64
        "cartridges": 6,
        # the rip of 13-1/8 in gives two strips of 6 in, each 484 in long
        "strip_short": 1536 - 968,
        # 960 ft² and a flange of 3 in along 128 ft are 32 ft² more, at 0.75 gal for 100
        "primer_volume": Fraction("7.44"),
    }


def test_it_shows_how_every_line_was_worked_out() -> None:
    """Each line is a name of the table with a working that ends in what is added up."""
    for line in bill_of_materials([deck(288, 480)], SPECIFICATION):
        assert all(value_text(line.item, line.value, language) for language in LANGUAGES)
        assert all(working.steps[-1].value == working.value for working in line.workings)
        assert line.workings[-1].value == line.value
        assert word(line.item).labels["es"]


@given(st.lists(st.tuples(st.integers(60, 900), st.integers(60, 1500)), min_size=2, max_size=4))
@REFUSAL
def test_it_adds_up_rectangles(sizes: list[tuple[int, int]]) -> None:
    """Rolls are those of the rectangles by themselves; primer follows the area; the edge is the one that was given."""
    decks = [deck(*size) for size in sizes]
    together = amounts(*decks, edge=2400)
    apart = [amounts(each, edge=2400) for each in decks]

    for item in ("base_rolls", "cap_rolls"):
        assert together[item] == sum(each[item] for each in apart)
    for item in ("metal_pieces", "metal_nails", "base_nails", "cartridges"):
        assert all(together[item] == each[item] for each in apart)
    area = sum(run * eave for run, eave in sizes) / Fraction(144) + 50  # a flange of 3 in along 200 ft
    assert together["primer_volume"] == area * Fraction("0.0075")
    bought = together["base_rolls"] * Fraction("39.375") * 786
    assert bought >= sum(run * eave for run, eave in sizes)


def test_it_refuses_a_roof_without_rectangles_or_edge() -> None:
    """The error names what is missing, in both languages."""
    with pytest.raises(RuleInputError, match=r"run is missing; it must be given\. Give at least one rectangle\."):
        bill_of_materials([], SPECIFICATION)
    with pytest.raises(RuleInputError, match=r"edge is missing; .* Measure the roof's edge") as refused:
        bill_of_materials([deck(288, 480)] * 2, SPECIFICATION)
    assert refused.value.rule == "bill_of_materials"
    assert refused.value.text("es").endswith("debe ser un dato. Mida el borde del techo en todo el contorno.")
    with pytest.raises(RuleInputError, match="run is 0 in"):
        bill_of_materials([deck(0, 480)], SPECIFICATION)


@pytest.mark.parametrize("key", ["cap.roll_width", "base.overhang", "edge.strip_width", "primer.primer_rate"])
def test_it_names_a_value_that_the_specification_lacks(key: str) -> None:
    """Nothing is assumed: a value that is not there stops the bill."""

    class Lacking:
        def give(self, name: str, part: str | None = None) -> Any:
            lacks = name.startswith(key) or f"{part}.{name}".startswith(key) or key.endswith(f".{name}")
            return None if lacks else SPECIFICATION.give(name, part)

    with pytest.raises(RuleInputError, match="missing") as refused:
        bill_of_materials([deck(288, 480)], Lacking())

    assert key.rpartition(".")[2] in refused.value.name


@pytest.mark.parametrize(
    ("run", "base", "cap"),
    [
        # base: 2 + run + 2 against 26-1/4 and 35-3/8 more a course; cap: run against 39-3/8 and 36-1/8 more
        (Fraction(93), 3, 3),  # the base fits three courses to the inch
        (Fraction(95), 4, 3),  # two inches turned down at the high edge ask for one more
        (Fraction(903, 8), 4, 4),
        (Fraction(893, 8), 4, 3),  # 39-3/8 and twice 36-1/8: the cap sheet fits to the inch, nothing passes the edge
    ],
    ids=["base fits", "base turned down", "cap an inch over", "cap fits"],
)
def test_it_counts_courses_with_what_hangs_past_the_edges(run: Fraction, base: int, cap: int) -> None:
    """On a deck no longer than a roll each course takes one roll: the base turned down at both edges, the cap not."""
    found = {line.item: line for line in bill_of_materials([Deck(run, Fraction(388))], SPECIFICATION)}

    assert [working.inputs["courses"] for working in found["base_rolls"].workings] == [base]
    assert [working.inputs["courses"] for working in found["cap_rolls"].workings] == [cap]
    assert found["base_rolls"].workings[0].inputs["length"] == 392


def test_it_says_what_is_missing_in_both_languages() -> None:
    """Rectangles, edge and a value: each with what to do about it."""

    class Empty:
        def give(self, _name: str, _part: str | None = None) -> None:
            return None

    for refuse, english, spanish in (
        (lambda: bill_of_materials([], SPECIFICATION),
         "deck up the slope: missing; it must be given. Give at least one rectangle.",
         "plataforma pendiente arriba: falta; debe ser un dato. Escriba por lo menos un rectángulo."),
        (lambda: bill_of_materials([deck(288, 480)], Empty()),
         "base.overhang: missing; it must be given. Add it to the specification.",
         "base.overhang: falta; debe ser un dato. Agréguelo a la especificación."),
        (lambda: bill_of_materials([deck(288, 480)] * 2, SPECIFICATION),
         "length of the edge: missing; it must be given. Measure the roof's edge all round.",
         f"{label('edge', 'es')}: falta; debe ser un dato. Mida el borde del techo en todo el contorno."),
    ):  # fmt: skip
        with pytest.raises(RuleInputError) as refused:
            refuse()
        assert (refused.value.text(), refused.value.text("es")) == (english, spanish)
