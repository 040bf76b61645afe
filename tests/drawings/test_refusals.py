"""What no drawing is made of: each refusal names the input, shows its value and says how to mend it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.drawings.cases import BEAD, EDGE, METAL, PLAN, PLIES, ROLL
from trainer.drawings import DRAWINGS, DrawingInputError, draw, drawing_inputs
from trainer.rules.specification import Specification, parse_specification

REFUSED: list[tuple[str, dict[str, object], str, str]] = [
    ("roof_plam", {}, "name", "roof_plan"),
    ("side_lap", {"roll_width": ROLL}, "side_lap", "missing"),
    ("side_lap", {"roll_width": ROLL, "side_lap": 4, "colour": "red"}, "colour", "no such input"),
    ("side_lap", {"roll_width": ROLL, "side_lap": "wide"}, "side_lap", "'wide'"),
    ("side_lap", {"roll_width": ROLL, "side_lap": 40}, "side_lap", "less than the roll width"),
    ("side_lap", {"roll_width": ROLL, "side_lap": -1}, "side_lap", "-1 in"),
    ("side_lap", {"roll_width": ROLL, "side_lap": 4, "ply": "felt"}, "ply", "base or cap"),
    ("side_lap", {"roll_width": ROLL, "side_lap": 4, "show": "courses"}, "show", "exposure"),
    ("side_lap", {"roll_width": ROLL, "side_lap": 4, "ask": "everything"}, "ask", "exposure"),
    ("side_lap", {"roll_width": ROLL, "side_lap": 3, "ply": "cap", "selvage_cover": 3}, "selvage_cover", "side lap"),
    ("roof_plan", {**PLAN, "run": 0}, "run", "above 0"),
    ("roof_plan", {**PLAN, "run": "9 miles"}, "run", "miles"),
    ("roof_plan", {**PLAN, "run": "3000 ft"}, "run", "2000 ft"),
    ("roof_plan", {**PLAN, "run": "40 ft", "starter_width": 50}, "starter_width", "one roll"),
    ("roof_plan", {"run": 400, "roll_width": ROLL, "side_lap": 4, "overhang": 2}, "starter_width", "starter_cut"),
    ("end_lap", {"end_lap": 0, "side_lap": 4}, "end_lap", "above 0"),
    ("end_lap_stagger", {"roll_width": ROLL, "side_lap": 4, "end_lap": 6}, "end_lap_stagger", "upper and lower"),
    (
        "end_lap_stagger",
        {"roll_width": ROLL, "side_lap": 4, "end_lap": 6, "upper": "20 ft", "lower": "90 ft", "eave": "60 ft"},
        "lower",
        "past the end",
    ),
    (
        "end_lap_stagger",
        {"roll_width": ROLL, "side_lap": 4, "end_lap": 6, "upper": (), "lower": "90 ft"},
        "upper",
        "no end lap",
    ),
    ("ply_offset", {**PLIES, "run": 10}, "run", "more than"),
    ("t_joint", {"corner_cut": 4, "side_lap": 4, "end_lap": 6, "corner_cut_angle": "89 deg"}, "corner_cut_angle", "85"),
    ("t_joint", {"corner_cut": 4, "side_lap": 4, "end_lap": 6, "cut_on": "both"}, "cut_on", "overlapped"),
    ("edge_section", {**EDGE, "bead_setback": 5}, "bead_setback", "under the flange"),
    ("edge_section", {**EDGE, "omit": "deck"}, "omit", "'deck'"),
    ("edge_section", {**EDGE, "strip_width": 3, "show": "all"}, "strip_width", "more than"),
    ("nail_rows", {"row_spacing": 6, "nail_spacing": 7}, "nail_spacing", "within one row"),
    ("metal_run", {**METAL, "edge": "40 ft", "metal_lap": 70}, "metal_lap", "half a length"),
    ("bead_position", {**BEAD, "bead_setback": 3}, "bead_setback", "under the flange"),
    ("deck_joint", {"gap": -1}, "gap", "below 0"),
    ("deck_joint", {"gap": 1, "step": 4}, "step", "one support"),
    ("tape", {"reading": "1/10 in"}, "reading", "sixteenths"),
]


@pytest.mark.parametrize(
    ("name", "inputs", "input_name", "told"), REFUSED, ids=[f"{r[0]} {r[2]} {r[3]}" for r in REFUSED]
)
def test_it_refuses_what_cannot_be_built(name: str, inputs: dict[str, object], input_name: str, told: str) -> None:
    """The error names drawing, input, value, limit and mending."""
    with pytest.raises(DrawingInputError) as refused:
        draw(name, inputs)
    error = refused.value

    assert (error.drawing, error.name) == (name, input_name)
    assert told in str(error)
    assert error.mending
    assert error.mending in str(error)


@pytest.mark.parametrize(
    ("options", "name"),
    [({"language": "fr"}, "language"), ({"units": "cubits"}, "units"), ({"key": "1 2"}, "key"), ({"key": ""}, "key")],
)
def test_it_refuses_readers_it_has_no_words_for(options: dict[str, str], name: str) -> None:
    """Language, units and key are closed too."""
    with pytest.raises(DrawingInputError) as refused:
        draw("deck_joint", {"gap": 1}, **options)

    assert refused.value.name == name


@pytest.fixture(scope="module")
def specification() -> Specification:
    """The specification that the lessons use."""
    path = Path("lessons/specifications/two-ply-self-adhered/2026.toml")
    return parse_specification(path.read_text(encoding="utf-8"), str(path))


@pytest.mark.parametrize(
    ("name", "part", "given"),
    [
        ("roof_plan", "base", {"run": "40 ft"}),
        ("side_lap", "base", {}),
        ("side_lap", "cap", {}),
        ("end_lap", "base", {}),
        ("end_lap_stagger", "base", {}),
        ("ply_offset", "plies", {"run": "40 ft"}),
        ("t_joint", "laps", {}),
        ("t_joint", None, {}),
        ("edge_section", "edge", {}),
        ("nail_rows", "edge", {}),
        ("metal_run", "edge", {"edge": "64 ft"}),
        ("bead_position", "edge", {}),
        ("deck_joint", "deck", {"gap": "1/4 in"}),
        ("tape", None, {"reading": "3 in"}),
    ],
)
def test_it_takes_what_is_not_given_from_the_specification(
    specification: Specification, name: str, part: str | None, given: dict[str, object]
) -> None:
    """Every drawing can be made of the lessons' specification and what a question gives."""
    filled = drawing_inputs(name, given, specification, part)

    assert draw(name, filled).svg
    assert set(given) <= set(filled)


def test_it_prefers_what_is_given(specification: Specification) -> None:
    """A measured value stands before the specification's; without a specification nothing is filled."""
    assert drawing_inputs("side_lap", {"side_lap": "3 in"}, specification, "base")["side_lap"] == "3 in"
    assert drawing_inputs("side_lap", {"side_lap": "3 in"}) == {"side_lap": "3 in"}


def test_it_draws_the_cap_sheet_for_its_part(specification: Specification) -> None:
    """Part `cap` takes the cap sheet's lap and hatch."""
    filled = drawing_inputs("side_lap", {}, specification, "cap")

    assert filled["ply"] == "cap"
    assert filled["side_lap"] == specification.lookup("cap.side_lap").value


def test_it_draws_the_least_of_a_range(specification: Specification) -> None:
    """Where the specification gives a range the drawing shows its least."""
    filled = drawing_inputs("edge_section", {}, specification, "edge")

    assert filled["strip_width"] == specification.lookup("edge.strip_width").least


def test_it_describes_itself() -> None:
    """Each drawing has a sentence on what it shows and at least one required input."""
    for kind in DRAWINGS.values():
        assert kind.doc.endswith(".")
        assert any(declared.required for declared in kind.inputs)
