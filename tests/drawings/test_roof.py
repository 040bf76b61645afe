"""The drawings of the roof as a whole, its water and its field work: numbers, proportions, refusals, specification."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from tests.drawings.reading import find, points, texts, values
from trainer.drawings import DrawingInputError, draw, drawing_inputs
from trainer.rules.specification import parse_specification

SPECIFICATIONS = Path("lessons/specifications")

# Falls: published worked values SL-020 (1/4 in per ft over 24 ft: 6 in) and SL-023 (3 in over 20 ft: 0.15 in per ft);
# the rest by arithmetic: cricket 6 ft / 2 x 1/2 in per ft = 1 1/2 in; patch 8 + 2 x 6 = 20 in.
DERIVED = [
    ("slope_and_water", {"run": "24 ft", "slope": "1/4 in per ft"}, "fall", "6 in"),
    ("slope_and_water", {"run": "20 ft", "fall": "3 in"}, "slope", "0.15 in per ft"),
    ("slope_and_water", {"run": "24 ft", "slope": "1/4 in per ft"}, "slope_percent", "2.08 %"),
    ("cricket", {"cricket_width": "6 ft", "cricket_slope": "1/2 in per ft"}, "cricket_height", "1 1/2 in"),
    ("fishmouth", {"damage": "8 in", "patch_lap": "6 in"}, "patch_size", "1 ft 8 in"),
    ("roof_zones", {"side_a": "100 ft", "side_b": "60 ft", "zone_width": "10 ft"}, "corner_zones", "400 ft²"),
]


def words(name: str, inputs: dict[str, object], **options: object) -> list[str]:
    """Every text on a drawing."""
    return [text.words for text in texts(draw(name, inputs, **options))]  # type: ignore[arg-type]


@pytest.mark.parametrize(("name", "inputs", "derived", "value"), DERIVED, ids=[f"{d[0]} {d[2]}" for d in DERIVED])
def test_it_prints_a_worked_out_number_only_when_shown(
    name: str, inputs: dict[str, object], derived: str, value: str
) -> None:
    """The rule's number is there with show, a question mark with ask, and neither without."""
    shown, asked, plain = (
        " | ".join(words(name, {**inputs, **more})) for more in ({"show": derived}, {"ask": derived}, {})
    )

    assert value in shown
    assert value not in asked
    assert "?" in asked
    assert value not in plain
    assert "?" not in plain


def test_it_draws_the_night_seal_and_the_insulation_at_one_scale() -> None:
    """From the joint to the end of the sheet is the lap, in proportion to the insulation's thickness."""
    drawing = draw("night_seal", {"seal_lap": "9 in", "insulation": "3 in"})
    joint, high = values(find(drawing, "rect", "cut insulation")[0], "x", "height")
    end = min(x for x, _ in points(find(drawing, "path", "cut base")[0]))

    assert (joint - end) / high == pytest.approx(3, abs=0.01)


@pytest.mark.parametrize(("end", "above"), [("over", True), ("under", False)])
def test_it_lays_the_night_seal_over_or_under_the_old_roof(end: str, above: bool) -> None:
    """The end of today's sheet lies higher than the old membrane, or lower, as the drawing is told."""
    drawing = draw("night_seal", {"seal_lap": "12 in", "end": end})
    base = min(y for _, y in points(find(drawing, "path", "cut base")[0]))
    old = [values(rect, "y")[0] for rect in find(drawing, "rect", "cut old")]
    old += [min(y for _, y in points(path)) for path in find(drawing, "path", "cut old")]

    assert (base < min(old)) is above


def test_it_draws_cricket_and_curb_at_one_scale() -> None:
    """A curb twice as wide as its cricket is drawn so."""
    drawing = draw("cricket", {"cricket_width": "4 ft", "cricket_slope": "1/4 in per ft", "obstacle_width": "8 ft"})
    xs = [x for x, _ in points(find(drawing, "path", "cut cricket")[0])]
    (curb,) = values(find(drawing, "rect", "cut curb")[0], "width")

    assert curb / (max(xs) - min(xs)) == pytest.approx(2, abs=0.01)


@pytest.mark.parametrize("count", range(1, 41))
def test_it_draws_every_plate_of_a_board(count: int) -> None:
    """As many plates as the board is given, each on it, none in the place of another."""
    drawing = draw("board_fasteners", {"field_plates": count})
    x, y, wide, tall = values(find(drawing, "rect", "insulation-board")[0], "x", "y", "width", "height")
    places = {values(plate, "cx", "cy") for plate in find(drawing, "circle", "plate")}

    assert len(places) == count
    assert all(x < across < x + wide and y < down < y + tall for across, down in places)


@pytest.mark.parametrize(("rows", "shift"), [("staggered", 0.5), ("in_line", 0.0)])
def test_it_staggers_field_rows_by_half_their_spacing(rows: str, shift: float) -> None:
    """Nails of the lower row stand half a spacing from those of the upper one, or right below them."""
    inputs = {
        "roll_width": "39 3/8 in",
        "side_lap": "3 in",
        "nail_spacing": "9 in",
        "row_spacing": "18 in",
        "rows": rows,
    }
    drawing = draw("nailed_base", inputs)
    upper, lower, lap = (
        sorted(values(nail, "cx")[0] for nail in find(drawing, "circle", name))
        for name in ("upper_row", "lower_row", "lap_nails")
    )

    assert (lower[0] - upper[0]) / (upper[1] - upper[0]) == pytest.approx(shift, abs=0.01)
    assert (upper[1] - upper[0]) / (lap[1] - lap[0]) == pytest.approx(2, abs=0.01)


def test_it_draws_weld_and_overlap_at_one_scale() -> None:
    """A weld of 1 1/2 in takes half of an overlap of 3 in, in the section and on the plan."""
    drawing = draw("welded_seam", {"side_lap": "3 in", "weld_width": "1 1/2 in"})
    start, wide = values(find(drawing, "rect", "cut weld")[0], "x", "width")
    plan = values(find(drawing, "rect", "weld")[-1], "x", "width")
    hidden = values(find(drawing, "line", "hidden")[0], "x1")[0]

    assert plan == (start, wide)
    assert wide / (hidden - start) == pytest.approx(0.5, abs=0.01)


def test_it_hides_the_order_of_pictures_where_it_is_asked() -> None:
    """Without their order the pictures have no numbers and stand otherwise than in order."""
    told, asked = (draw("rolling", {"relax_time": "30 min", **more}) for more in ({}, {"ask": "order"}))

    def places(drawing: object) -> list[str]:
        parts = sorted(drawing.parts, key=lambda part: (part.boxes[0].y, part.boxes[0].x))  # type: ignore[attr-defined]
        return [part.name for part in parts]

    assert find(asked, "circle", "callout") == []
    assert len(find(told, "circle", "callout")) > 6
    assert places(told) != places(asked)
    assert sorted(places(told)) == sorted(places(asked))


REFUSED: list[tuple[str, dict[str, object], str]] = [
    ("slope_and_water", {"run": "24 ft"}, "slope"),
    ("slope_and_water", {"run": "24 ft", "slope": "1/4 in per ft", "fall": "6 in"}, "slope"),
    ("slope_and_water", {"run": "24 ft", "fall": "20 ft"}, "fall"),
    ("insulation_joints", {"board_gap": "1/4 in", "board_stagger": "30 in"}, "board_stagger"),
    ("insulation_joints", {"board_gap": "9 in", "board_stagger": "24 in"}, "board_gap"),
    ("night_seal", {"seal_lap": "0 in"}, "seal_lap"),
    ("fishmouth", {"damage": "8 in", "patch_lap": "6 in", "patch_radius": "6 in"}, "patch_radius"),
    ("roof_zones", {"side_a": "60 ft", "side_b": "20 ft", "zone_width": "10 ft"}, "zone_width"),
    ("board_fasteners", {"field_plates": 41}, "field_plates"),
    ("tie_in", {"tie_in_lap": "-1 in", "clean_width": "12 in"}, "tie_in_lap"),
    ("cricket", {"cricket_width": "6 ft", "cricket_slope": 0}, "cricket_slope"),
    ("rolling", {"relax_time": "0 min"}, "relax_time"),
    ("welded_seam", {"side_lap": "3 in", "weld_width": "4 in"}, "weld_width"),
    (
        "nailed_base",
        {"roll_width": "39 3/8 in", "side_lap": "3 in", "nail_spacing": 1, "row_spacing": 18},
        "nail_spacing",
    ),
]


@pytest.mark.parametrize(("name", "inputs", "wrong"), REFUSED, ids=[f"{r[0]} {r[2]}" for r in REFUSED])
def test_it_refuses_what_cannot_be_drawn(name: str, inputs: dict[str, object], wrong: str) -> None:
    """The error names the drawing, the input and how to mend it."""
    with pytest.raises(DrawingInputError) as refused:
        draw(name, inputs)

    assert (refused.value.drawing, refused.value.name) == (name, wrong)
    assert refused.value.mending


@pytest.mark.parametrize(
    ("path", "name", "part", "given"),
    [
        ("two-ply-self-adhered/2026-11", "night_seal", "night", {}),
        ("two-ply-self-adhered/2026-11", "fishmouth", "repair", {"damage": "8 in"}),
        ("two-ply-self-adhered/2026-11", "tie_in", "tie_in", {}),
        ("two-ply-self-adhered/2026-11", "insulation_joints", "insulation", {}),
        ("two-ply-self-adhered/2026-11", "rolling", "rolling", {}),
        ("two-ply-self-adhered/2026-11", "board_fasteners", "insulation", {"field_plates": 8}),
        ("single-ply-welded", "welded_seam", "sheet", {}),
        ("nailed-base-heat-applied-cap", "nailed_base", "nailing", {}),
    ],
)
def test_it_takes_what_is_not_given_from_a_specification(
    path: str, name: str, part: str, given: dict[str, object]
) -> None:
    """Each can be made of the lessons' specifications and what a question gives."""
    whole = SPECIFICATIONS / f"{path}.toml"
    file = whole if whole.exists() else max((SPECIFICATIONS / path).glob("*.toml"))
    filled = drawing_inputs(name, given, parse_specification(file.read_text(encoding="utf-8"), str(file)), part)

    assert set(given) < set(filled)
    assert draw(name, filled).alt


def test_it_measures_patches_past_every_side() -> None:
    """Patch, cut and what passes the lap's edge have one scale."""
    drawing = draw("fishmouth", {"damage": "8 in", "patch_lap": "6 in", "patch_below": "3 in", "corners": "square"})
    x, top = values(find(drawing, "line", "cut-line")[0], "x1", "y1")
    edge = values(find(drawing, "line", "seam")[0], "y1")[0]
    data = find(drawing, "path", "patch")[0].get("d", "")
    upper, lower = float(data.split()[1].split("H")[0]), float(data.split("V")[1].split("H")[0])
    inch = (edge - top) / 8

    assert x == 170
    assert top - upper == pytest.approx(6 * inch, abs=0.03)
    assert lower - edge == pytest.approx(float(Fraction(3)) * inch, abs=0.03)
