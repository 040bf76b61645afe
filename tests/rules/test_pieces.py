"""Laps, take-off, fastening, edge metal and sealant against tables worked by hand; each row says how."""

from fractions import Fraction
from typing import Any

import pytest

from tests.rules.steps import assert_steps
from trainer.rules import RuleInputError, get_rule
from trainer.rules.dimensions import AREA, GALLONS, LENGTH, LENGTHS, SHARE, SQUARES

PANEL = {"panel_length": "8 ft", "panel_width": "4 ft"}
END_LAPS = {"end_lap": "6 in", "end_lap_stagger": "3 ft"}
BEAD = {"cartridge": "1 gal", "bead_width": "1/4 in", "bead_depth": "1/4 in"}
ROWS: dict[str, tuple[str, dict[str, Any], Any]] = {
    # laps
    "one piece when it fits exactly": (
        "pieces_in_course",
        {"length": "33 ft", "roll_length": "33 ft", "end_lap": "6 in"},
        1,
    ),
    "two pieces a sixteenth longer": (
        "pieces_in_course",
        {"length": "33 ft 1/16 in", "roll_length": "33 ft", "end_lap": "6 in"},
        2,
    ),
    # 33 + 32.5 = 65.5 ft with two pieces
    "two pieces exactly": ("pieces_in_course", {"length": "65 ft 6 in", "roll_length": "33 ft", "end_lap": "6 in"}, 2),
    "three pieces": ("pieces_in_course", {"length": "65 ft 7 in", "roll_length": "33 ft", "end_lap": "6 in"}, 3),
    # laps start 6 in short of the piece's end: 19.5, then + 32.5
    "end laps": (
        "end_lap_marks",
        {"length": "80 ft", "first_piece": "20 ft", "roll_length": "33 ft", "end_lap": "6 in"},
        LENGTHS.parse("19 ft 6 in; 52 ft"),
    ),
    "no end lap": (
        "end_lap_marks",
        {"length": "20 ft", "first_piece": "20 ft", "roll_length": "33 ft", "end_lap": "6 in"},
        (),
    ),
    "stagger": ("least_stagger", {"upper": "13 ft; 30 ft", "lower": "16 ft; 32 ft"}, 24),
    "selvage covered": ("selvage_cover_left", {"lap": "3 1/2 in", "side_lap": "3 1/4 in"}, Fraction(1, 4)),
    "selvage bare": ("selvage_cover_left", {"lap": "3 in", "side_lap": "3 1/4 in"}, Fraction(-1, 4)),
    "short lap": ("lap_shortfall", {"lap": "3 5/8 in", "limit": "4 in"}, Fraction(3, 8)),
    "wide lap": ("lap_shortfall", {"lap": "5 in", "limit": "4 in"}, 0),
    # the sheet is as long as the course and one end lap at each of two joints
    "sheet in a course": (
        "course_length_of_sheet",
        {"length": "80 ft", "roll_length": "33 ft", "end_lap": "6 in"},
        LENGTH.parse("81 ft"),
    ),
    # take-off: 40 ft with 33 ft rolls; odd course 33 + 7.5, even course 30 + 10.5
    "cut list": (
        "cut_list",
        {"length": "40 ft", "courses": 3, "roll_length": "33 ft", "end_lap": "6 in", "end_lap_stagger": "3 ft"},
        LENGTHS.parse("33 ft; 7 ft 6 in; 30 ft; 10 ft 6 in; 33 ft; 7 ft 6 in"),
    ),
    "cut list of short courses": (
        "cut_list",
        {"length": "20 ft", "courses": 2, "roll_length": "33 ft", "end_lap": "6 in", "end_lap_stagger": "3 ft"},
        LENGTHS.parse("20 ft; 20 ft"),
    ),
    # 33 | 7.5 + 10.5 + 7.5 from one roll | 30 | 33
    "rolls, offcuts used": (
        "rolls_for_roof",
        {"length": "40 ft", "courses": 3, "roll_length": "33 ft", "end_lap": "6 in", "end_lap_stagger": "3 ft"},
        4,
    ),
    "net area": ("net_area", {"run": "24 ft 6 in", "eave": "40 ft"}, 980),
    "gross area": ("gross_area", {"rolls": 4, "roll_width": "36 in", "roll_length": "36 ft"}, 432),
    "a roll's cover": (
        "roll_cover",
        {"roll_width": "36 in", "roll_length": "36 ft", "side_lap": "3 in", "end_lap": "6 in"},
        AREA.parse("97.625 ft2"),
    ),
    "waste": ("waste_share", {"gross_area": "108 ft2", "net_area": "97.2 ft2"}, SHARE.parse("10 %")),
    "squares": ("roof_squares", {"area": "980 ft2"}, SQUARES.parse("9.8 square")),
    # roof deck: 24.5 ft of 4 ft rows is 7, 40 ft of 8 ft panels is 5
    "panels": (
        "panels_for_deck",
        {"run": "24 ft 6 in", "eave": "40 ft", "panel_length": "8 ft", "panel_width": "4 ft"},
        35,
    ),
    "joint over": ("joint_gap_over", {"gap": "3/8 in", "joint_gap": "1/4 in"}, Fraction(1, 8)),
    "joint within": ("joint_gap_over", {"gap": "1/8 in", "joint_gap": "1/4 in"}, 0),
    # fastening: 100 in at 8 in is 12.5 gaps, so 13 and 14 nails; 96 in is 12 gaps and 13 nails
    "nails, rounded up": ("nails_along", {"edge": "100 in", "spacing": "8 in"}, 14),
    "nails, exact": ("nails_along", {"edge": "96 in", "spacing": "8 in"}, 13),
    "nails round": ("nails_around", {"run": "10 ft", "eave": "20 ft", "spacing": "8 in"}, 90),
    # 21 in at 3 in over both rows: nails at 0, 6, 12, 18 and at 3, 9, 15, 21
    "two rows over both, odd gaps": ("nails_two_rows", {"edge": "21 in", "spacing": "3 in"}, 8),
    # 24 in: 0, 6, 12, 18, 24 and 3, 9, 15, 21
    "two rows over both, even gaps": ("nails_two_rows", {"edge": "24 in", "spacing": "3 in"}, 9),
    # 0 … 24 every 3 in is 9, and 8 between
    "two rows each": ("nails_two_rows_each", {"edge": "24 in", "spacing": "3 in"}, 17),
    "spacing in a row": ("spacing_in_row", {"spacing": "3 in"}, 6),
    "even spacing": ("even_spacing", {"edge": "100 in", "nails": 14}, Fraction(100, 13)),
    # edge metal: 10 ft and then 9 ft 8 in each: 10, 19 ft 8 in
    "metal exactly": ("metal_pieces", {"edge": "19 ft 8 in", "metal_length": "10 ft", "metal_lap": "4 in"}, 2),
    "metal a sixteenth more": (
        "metal_pieces",
        {"edge": "19 ft 8 1/16 in", "metal_length": "10 ft", "metal_lap": "4 in"},
        3,
    ),
    "last metal piece": (
        "last_metal_piece",
        {"edge": "25 ft", "metal_length": "10 ft", "metal_lap": "4 in"},
        LENGTH.parse("5 ft 8 in"),
    ),
    "one metal piece": (
        "last_metal_piece",
        {"edge": "7 ft", "metal_length": "10 ft", "metal_lap": "4 in"},
        LENGTH.parse("7 ft"),
    ),
    "metal laps": ("metal_laps", {"edge": "25 ft", "metal_length": "10 ft", "metal_lap": "4 in"}, 2),
    "strip cover": ("strip_cover", {"strip_width": "7 in", "flange": "3 in"}, 4),
    "flange to prime": ("flange_area", {"edge": "100 ft", "flange": "3 in"}, 25),
    # details: 7 in cut with 6 in all round; curb 4 ft × 3 ft is 14 ft round, and four laps of 4 in
    "patch": ("patch_size", {"damage": "7 in", "patch_lap": "6 in"}, 19),
    "curb strip": ("strip_round_curb", {"curb_length": "4 ft", "curb_width": "3 ft", "strip_lap": "4 in"}, 184),
    "collar": ("collar_size", {"pipe_diameter": "4 1/2 in", "collar_flange": "6 in"}, Fraction(33, 2)),
    "flashing height": ("flashing_height_left", {"curb_height": "14 in", "insulation": "4 1/2 in"}, Fraction(19, 2)),
    "curb under the roof": ("flashing_height_left", {"curb_height": "4 in", "insulation": "4 1/2 in"}, Fraction(-1, 2)),
    # an L of 40 × 20 and 15 × 12 ft, a triangle of 30 × 40 ft
    "L plan": (
        "plan_area",
        {"corners_across": "0; 40 ft; 40 ft; 15 ft; 15 ft; 0", "corners_up": "0; 0; 20 ft; 20 ft; 32 ft; 32 ft"},
        980,
    ),
    "triangle": ("plan_area", {"corners_across": "0; 30 ft; 0", "corners_up": "0; 0; 40 ft"}, 600),
    "edge of a triangle": ("plan_edge", {"corners_across": "0; 30 ft; 0", "corners_up": "0; 0; 40 ft"}, 120 * 12),
    # 60 × 40 ft with zones of 4 ft: four corners of 16, edges of 2 × 4 × 52 and 2 × 4 × 32
    "corner zones": ("corner_zone_area", {"side_a": "60 ft", "side_b": "40 ft", "zone_width": "4 ft"}, 64),
    "edge zones": ("edge_zone_area", {"side_a": "60 ft", "side_b": "40 ft", "zone_width": "4 ft"}, 672),
    "weight of rolls": ("rolls_weight", {"rolls": 13, "roll_weight": "86 lb"}, 1118),
    "pallets": ("pallets_for_rolls", {"rolls": 26, "rolls_on_pallet": 25}, 2),
    "weight of nails": ("nails_weight", {"nails": 270, "nails_in_pound": 180}, Fraction(3, 2)),
    # sealant: 128 fl oz is 231 in³; over 1/16 in² is 3,696 in
    "bead from a gallon": ("bead_yield", {"cartridge": "1 gal", "bead_width": "1/4 in", "bead_depth": "1/4 in"}, 3696),
    "cartridges, none to spare": (
        "cartridges",
        {
            "edge": "308 ft",
            "beads": 1,
            "cartridge": "1 gal",
            "bead_width": "1/4 in",
            "bead_depth": "1/4 in",
            "waste": 0,
        },
        1,
    ),
    "cartridges, with waste": (
        "cartridges",
        {
            "edge": "308 ft",
            "beads": 1,
            "cartridge": "1 gal",
            "bead_width": "1/4 in",
            "bead_depth": "1/4 in",
            "waste": "1 %",
        },
        2,
    ),
    "primer": ("primer_volume", {"area": "250 ft2", "primer_rate": "0.8 gal per 100 ft2"}, GALLONS.parse("2 gal")),
}
REFUSED: dict[str, tuple[str, dict[str, Any], str, str]] = {
    "laps that cannot be staggered": (
        "cut_list",
        {"length": "40 ft", "courses": 3, "roll_length": "6 ft", "end_lap": "6 in", "end_lap_stagger": "3 ft"},
        "roll_length",
        "at least end_lap (6 in) + 6 ft",
    ),
    "no courses": (
        "rolls_for_roof",
        {"length": "40 ft", "courses": 0, "roll_length": "33 ft", "end_lap": "6 in", "end_lap_stagger": "3 ft"},
        "courses",
        "at least 1",
    ),
    "no end lap to compare": ("least_stagger", {"upper": "", "lower": "16 ft"}, "upper", "at least 1"),
    "half a nail": ("even_spacing", {"edge": "10 ft", "nails": "2.5"}, "nails", "a whole number"),
    "one nail": ("even_spacing", {"edge": "10 ft", "nails": 1}, "nails", "at least 2"),
    "strip no wider than the flange": (
        "strip_cover",
        {"strip_width": "3 in", "flange": "3 in"},
        "strip_width",
        "more than flange (3 in)",
    ),
    "lap as long as the metal": (
        "metal_pieces",
        {"edge": "9 ft", "metal_length": "4 in", "metal_lap": "4 in"},
        "metal_length",
        "at least metal_lap (4 in) + 1 in",
    ),
    "less sheet than deck": (
        "waste_share",
        {"gross_area": "90 ft2", "net_area": "97 ft2"},
        "gross_area",
        "at least net_area (97 ft²)",
    ),
    "twice as much waste as bead": (
        "cartridges",
        {
            "edge": "86 ft",
            "beads": 2,
            "cartridge": "10.1 fl oz",
            "bead_width": "1/4 in",
            "bead_depth": "1/4 in",
            "waste": "150 %",
        },
        "waste",
        "at most 100%",
    ),
    "corners without their other distance": (
        "plan_area",
        {"corners_across": "0; 30 ft; 0", "corners_up": "0; 0; 40 ft; 40 ft"},
        "corners_up",
        "as many as corners_across (3)",
    ),
    "an outline that crosses itself": (
        "plan_area",
        {"corners_across": "0; 30 ft; 0; 30 ft", "corners_up": "0; 40 ft; 40 ft; 0"},
        "corners_across",
        "an outline that does not cross or touch itself",
    ),
    "zones wider than the roof": (
        "edge_zone_area",
        {"side_a": "60 ft", "side_b": "4 ft", "zone_width": "5 ft"},
        "side_b",
        "at least zone_width (5 ft)",
    ),
    "nails on top of one another": ("nails_along", {"edge": "10 ft", "spacing": "0 in"}, "spacing", "at least 1/4 in"),
}


@pytest.mark.parametrize(("name", "inputs", "value"), ROWS.values(), ids=ROWS)
def test_it_gives_what_the_table_says(name: str, inputs: dict[str, Any], value: Any) -> None:
    """Each row is worked by hand."""
    working = get_rule(name)(**inputs)

    assert working.value == value
    assert_steps(working)


@pytest.mark.parametrize(("name", "inputs", "at", "limit"), REFUSED.values(), ids=REFUSED)
def test_it_refuses_what_cannot_be_built(name: str, inputs: dict[str, Any], at: str, limit: str) -> None:
    """The error names the input and its limit."""
    with pytest.raises(RuleInputError) as refused:
        get_rule(name)(**inputs)

    assert (refused.value.name, refused.value.limit) == (at, limit)


def test_it_keeps_the_value_before_rounding() -> None:
    """What was rounded up can be shown, and a mistake in the rounding explained."""
    assert get_rule("nails_along")(edge="100 in", spacing="8 in").before_rounding == Fraction(27, 2)
    assert get_rule("course_count")(
        run="135 1/16 in", overhang=0, starter_width=36, roll_width=36, side_lap=3
    ).before_rounding == 4 + Fraction(1, 528)


def test_it_cuts_a_course_of_one_roll_in_no_more_than_one_piece() -> None:
    """A course just as long as a roll takes it whole, in every course: nothing is left to stagger."""
    one = get_rule("cut_list")(length="33 ft", courses=2, roll_length="33 ft", end_lap="6 in", end_lap_stagger="17 ft")

    assert one.value == (396, 396)


def test_it_staggers_with_the_shortest_roll_there_can_be() -> None:
    """A roll of one end lap and two staggers is just long enough; a sixteenth less is refused."""
    inputs = {"length": "40 ft", "courses": 2, "end_lap": "6 in", "end_lap_stagger": "3 ft"}
    pieces = get_rule("cut_list")(roll_length="6 ft 6 in", **inputs).value

    assert pieces[0] == 78
    assert pieces[7] == 42
    with pytest.raises(RuleInputError, match="roll_length"):
        get_rule("cut_list")(roll_length="6 ft 5 15/16 in", **inputs)


@pytest.mark.parametrize(
    ("name", "inputs", "before"),
    [
        ("nails_around", {"run": "100 in", "eave": "60 in", "spacing": "8 in"}, 40),
        ("nails_two_rows_each", {"edge": "100 in", "spacing": "8 in"}, 26),
        ("pieces_in_course", {"length": "65 ft", "roll_length": "33 ft", "end_lap": "6 in"}, Fraction(129, 65)),
        ("pieces_in_course", {"length": "5 ft", "roll_length": "33 ft", "end_lap": "6 in"}, 1),
        ("metal_pieces", {"edge": "5 ft", "metal_length": "10 ft", "metal_lap": "3 in"}, 1),
        ("metal_pieces", {"edge": "48 ft", "metal_length": "10 ft", "metal_lap": "3 in"}, Fraction(191, 39)),
        ("panels_for_deck", {"run": "10 ft", "eave": "12 ft", **PANEL}, Fraction(15, 4)),
        ("rolls_for_roof", {"length": "33 ft", "courses": 3, "roll_length": "66 ft", **END_LAPS}, Fraction(3, 2)),
        ("flags_between_stanchions", {"span": "20 ft"}, Fraction(7, 3)),
        ("extinguishers_by_area", {"area": "7500 ft2"}, 2),
        ("pallets_for_rolls", {"rolls": 26, "rolls_on_pallet": 25}, Fraction(26, 25)),
        ("cartridges", {"edge": "154 ft", "beads": 1, "waste": 0, **BEAD}, Fraction(1, 2)),
    ],
)  # fmt: skip
def test_it_keeps_what_was_rounded(name: str, inputs: dict[str, Any], before: Any) -> None:
    """The value before rounding is worked by hand: gaps, pieces or rolls with their part."""
    assert get_rule(name)(**inputs).before_rounding == before


def test_it_says_in_both_languages_what_is_wrong_with_an_outline() -> None:
    """The error names the distances, what they must be, and how to mend them."""
    with pytest.raises(RuleInputError, match=r"Give both distances of every corner\.$") as refused:
        get_rule("plan_area")(corners_across="0; 30 ft; 0", corners_up="0; 0; 40 ft; 40 ft")
    assert refused.value.rule == "plan_area"
    assert refused.value.value == "0 in; 0 in; 40 ft; 40 ft"
    assert refused.value.text("es").endswith("tantas como las otras (3). Escriba las dos distancias de cada esquina.")
    with pytest.raises(RuleInputError, match=r"Give the corners in order round the deck\.$") as refused:
        get_rule("plan_edge")(corners_across="0; 30 ft; 0; 30 ft", corners_up="0; 40 ft; 40 ft; 0")
    assert refused.value.rule == "plan_edge"
    assert refused.value.value == "0 in; 30 ft; 0 in; 30 ft"
    assert refused.value.text("es").endswith(
        "debe ser un contorno que no se cruza ni se toca. Escriba las esquinas en orden, en todo el contorno."
    )


def test_it_takes_exact_roots_of_fractions() -> None:
    """Sides of 1/5 and 4/15 in have a diagonal of 1/3 in, to the last bit."""
    assert get_rule("squaring_diagonal")(side_a=Fraction(1, 5), side_b=Fraction(4, 15)).value == Fraction(1, 3)


def test_it_needs_one_look_at_least() -> None:
    """Half a chance against nine bad in ten: a single look shows more than that."""
    assert get_rule("clean_looks_needed")(confidence="50 %", share_bad="90 %").value == 1
