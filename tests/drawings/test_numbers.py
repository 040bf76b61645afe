"""Which numbers stand on a drawing: what is given always, what is worked out only when it is asked for."""

from __future__ import annotations

import pytest

from tests.drawings.cases import CAP, EDGE, METAL, PLAN, PLIES, ROLL
from tests.drawings.detail_cases import PIPE, SCUPPER
from tests.drawings.reading import find, texts
from trainer.drawings import DRAWINGS, Drawing, draw

# Each worked-out number: the drawing, its inputs, and the text in English, by arithmetic done by hand.
#   exposure: 39 3/8 - 4 = 35 3/8; starter: 39 3/8 x 2/3 = 26 1/4
#   courses: 40 ft + 2 in = 482 in; (482 - 26 1/4) / 35 3/8 = 12.9, so 13 after the starter
#   last course: 482 - (26 1/4 + 12 x 35 3/8) + 4 = 35 1/4
#   pieces over 64 ft: (768 - 4) / 116 = 6.6, so 7; the last is 768 - 6 x 116 = 72
#   collar sheet: 3 + 2 x 4 = 11; scupper box: 9 + 4 + 1 = 14
#   slope: 0.25 / 12 = 2.083 %
#   cricket: 72 / 2 x 0.5 / 12 = 1 1/2; patch: 8 + 2 x 6 = 20
#   zones of 100 x 60 ft, 10 ft wide: 4 x 10 x 10 = 400; 2 x (80 + 40) x 10 = 2400; 80 x 40 = 3200
#   nails over 10 ft: 21 at 0, 6 ... 120 and 20 at 3, 9 ... 117 (arithmetic on UFGS 07600, 3.1.15)
ZONES: dict[str, object] = {"side_a": "100 ft", "side_b": "60 ft", "zone_width": "10 ft"}
DERIVED: list[tuple[str, dict[str, object], str, str]] = [
    ("roof_plan", {**PLAN, **CAP, "run": "40 ft"}, "courses", "14"),
    ("roof_plan", {**PLAN, **CAP, "run": "40 ft"}, "exposure", "2 ft 11 3/8 in"),
    ("roof_plan", {**PLAN, **CAP, "run": "40 ft"}, "last_course_width", "2 ft 11 1/4 in"),
    ("roof_plan", {**PLAN, **CAP, "run": "40 ft"}, "chalk_lines", "37 ft 4 3/4 in"),
    ("roof_plan", {**PLAN, **CAP, "run": "40 ft"}, "cap_laps", "3 ft 1/8 in"),
    ("side_lap", {"roll_width": ROLL, "side_lap": 4}, "exposure", "2 ft 11 3/8 in"),
    (
        "end_lap_stagger",
        {"roll_width": ROLL, "side_lap": 4, "end_lap": 6, "upper": "20 ft; 52 ft", "lower": "33 ft; 60 ft 6 in"},
        "stagger",
        "8 ft 6 in",
    ),
    ("ply_offset", {**PLIES, "run": "40 ft"}, "base_laps", "1 ft 8 1/4 in"),
    ("ply_offset", {**PLIES, "run": "40 ft"}, "cap_laps", "3 ft 1/8 in"),
    ("ply_offset", {**PLIES, "run": "40 ft"}, "lap_offset", "11 1/4 in"),
    ("edge_section", EDGE, "strip_cover", "3 in"),
    ("nail_rows", {"row_spacing": 6, "edge": "10 ft"}, "nails", "41"),
    ("metal_run", {**METAL, "edge": "64 ft"}, "metal_pieces", "7"),
    ("metal_run", {**METAL, "edge": "64 ft"}, "last_metal_piece", "6 ft"),
    ("tape", {"reading": "24 9/16 in"}, "reading", "2 ft 9/16 in"),
    ("slope_and_water", {"run": "24 ft", "slope": "0.25 in per ft"}, "slope_percent", "2.08 %"),
    ("pipe_collar", {**PIPE, "pipe_diameter": 3}, "collar_size", "11 in"),
    ("scupper", {**SCUPPER, "wall_thickness": 9}, "scupper_depth", "1 ft 2 in"),
    ("cricket", {"cricket_width": "6 ft", "cricket_slope": "1/2 in per ft"}, "cricket_height", "1 1/2 in"),
    ("fishmouth", {"damage": "8 in", "patch_lap": "6 in"}, "patch_size", "1 ft 8 in"),
    ("roof_zones", ZONES, "corner_zones", "400 ft²"),
    ("roof_zones", ZONES, "edge_zones", "2,400 ft²"),
    ("roof_zones", ZONES, "field_zone", "3,200 ft²"),
    ("rolling", {"relax_time": "30 min"}, "order", "2, sheet lies flat"),
]
IDS = [f"{name} {number}" for name, _, number, _ in DERIVED]


def fact(drawing: Drawing, label: str) -> str | None:
    """What the text alternative says of a dimension, or nothing."""
    facts = drawing.alt.replace(". ", "; ").split("; ")
    return next((part.split(": ", 1)[1] for part in facts if part.lower().startswith(f"{label}: ")), None)


def label_of(name: str, inputs: dict[str, object], number: str) -> str:
    """The English name under which a drawing states a number."""
    asked = draw(name, {**inputs, "ask": number})
    facts = asked.alt.replace(". ", "; ").split("; ")
    return next(part for part in facts if part.endswith(": to be found")).split(": ")[0].lower()


def test_it_tries_every_number_that_a_drawing_works_out() -> None:
    """The table leaves no derived number out."""
    assert {(name, number) for name, _, number, _ in DERIVED} == {
        (name, number) for name, kind in DRAWINGS.items() for number in kind.derived
    }


@pytest.mark.parametrize(("name", "inputs", "number", "text"), DERIVED, ids=IDS)
def test_it_gives_a_worked_out_number_when_asked_to_show_it(
    name: str, inputs: dict[str, object], number: str, text: str
) -> None:
    """`show` prints the rule's value, in the alternative too."""
    drawing = draw(name, {**inputs, "show": number})
    stated = drawing.alt + " ".join(found.words for found in texts(drawing))

    assert text in stated
    assert "to be found" not in drawing.alt


@pytest.mark.parametrize(("name", "inputs", "number", "text"), DERIVED, ids=IDS)
def test_it_keeps_a_worked_out_number_to_itself(name: str, inputs: dict[str, object], number: str, text: str) -> None:
    """Unless it is asked for, neither the picture nor the alternative states the number."""
    label = label_of(name, inputs, number)

    assert fact(draw(name, inputs), label) is None


@pytest.mark.parametrize(("name", "inputs", "number", "text"), DERIVED, ids=IDS)
def test_it_sets_a_question_mark_for_a_number_that_is_to_be_found(
    name: str, inputs: dict[str, object], number: str, text: str
) -> None:
    """`ask` writes ? where the number would stand, and wins over `show`."""
    for shown in ({}, {"show": "all"}):
        drawing = draw(name, {**inputs, **shown, "ask": number})
        words = [found.words for found in texts(drawing)]

        assert fact(drawing, label_of(name, inputs, number)) == "to be found"
        assert any(word == "?" or word.endswith((" ?", ": ?")) for word in words)


def test_it_does_not_draw_what_could_be_counted() -> None:
    """A plan beside "how many courses?" or "how many pieces?" shows the first two only."""
    plan = draw("roof_plan", {**PLAN, "run": "40 ft", "ask": "courses"})
    run = draw("metal_run", {**METAL, "edge": "64 ft", "ask": "metal_pieces"})

    assert find(plan, "line", "seam") == []
    assert len(find(run, "rect", "cut metal")) - 2 == 3


def test_it_can_ask_for_a_number_that_was_given() -> None:
    """A given measure is hidden from picture and alternative alike."""
    drawing = draw("end_lap", {"end_lap": 6, "side_lap": 4, "ask": "end_lap"})

    assert fact(drawing, "end lap") == "to be found"
    assert "6 in" not in drawing.alt
    assert not any("6 in" in found.words for found in texts(drawing))


@pytest.mark.parametrize(
    ("name", "inputs", "stated"),
    [
        ("side_lap", {"roll_width": ROLL, "side_lap": "3 5/8 in"}, ["3 ft 3 3/8 in", "3 5/8 in"]),
        ("deck_joint", {"gap": "3/8 in", "step": "1/8 in"}, ["3/8 in", "1/8 in"]),
        ("t_joint", {"corner_cut": 4, "side_lap": 3, "end_lap": 6}, ["4 in", "3 in", "6 in", "45°"]),
        ("edge_section", EDGE, ["3 in", "6 in", "1/4 in", "1 in", "2 in", "8 in"]),
    ],
)
def test_it_tells_every_given_measure_in_words(name: str, inputs: dict[str, object], stated: list[str]) -> None:
    """The alternative holds each measure as the tape would show it."""
    alt = draw(name, inputs).alt

    assert [text for text in stated if text not in alt] == []


@pytest.mark.parametrize("name", ["side_lap", "deck_joint", "nail_rows", "t_joint"])
def test_it_never_says_whether_the_work_is_right(name: str) -> None:
    """A measure far off any limit is described in the same words as a good one."""
    good: dict[str, dict[str, object]] = {
        "side_lap": {"roll_width": ROLL, "side_lap": 4},
        "deck_joint": {"gap": "1/8 in"},
        "nail_rows": {"row_spacing": 6},
        "t_joint": {"corner_cut": 4, "side_lap": 4, "end_lap": 6},
    }
    bad: dict[str, dict[str, object]] = {
        "side_lap": {"roll_width": ROLL, "side_lap": 1},
        "deck_joint": {"gap": "1 in"},
        "nail_rows": {"row_spacing": 9},
        "t_joint": {"corner_cut": 1, "side_lap": 1, "end_lap": 2},
    }

    def bare(inputs: dict[str, object]) -> str:
        alt = draw(name, inputs).alt
        return "".join(letter for letter in alt if letter.isalpha())

    assert bare(good[name]) == bare(bad[name])


def test_it_marks_a_length_between_two_marks_of_the_tape() -> None:
    """A length that the tape cannot show is rounded, and says so."""
    drawing = draw("side_lap", {"roll_width": "1 m", "side_lap": "100 mm", "show": "all"})

    assert "≈ 3 ft 3 3/8 in" in drawing.alt
    assert draw("side_lap", {"roll_width": "1 m", "side_lap": "100 mm"}, units="metric").alt.count("≈") == 0
