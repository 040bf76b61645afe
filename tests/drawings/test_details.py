"""Walls, curbs, pipes, drains, scuppers, sills and pockets: to scale, and what lies over what as it is told."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings

from tests.drawings.cases import CURB, WALL
from tests.drawings.detail_cases import CORNER, DOOR, DRAIN, PIPE, POCKET, SCUPPER
from tests.drawings.reading import SVG, find, points, root, values
from tests.drawings.test_scale import in_proportion, sixteenths
from trainer.drawings import Drawing, DrawingInputError, draw, drawing_inputs
from trainer.rules.specification import Specification, parse_specification

QUICK = settings(max_examples=20, deadline=None)


def part(drawing: Drawing, name: str) -> list[ET.Element]:
    """What was drawn of one part, all its pieces."""
    groups = [group for group in root(drawing).findall(f"{SVG}g") if group.get("data-part") == name]
    return [element for group in groups for element in group]


def corners(drawing: Drawing, name: str) -> list[tuple[float, float]]:
    """Every corner of the outlines of a part."""
    return [place for element in part(drawing, name) if element.tag == f"{SVG}path" for place in points(element)]


def left(drawing: Drawing, name: str) -> float:
    """Where a part begins on the roof."""
    return min(x for x, _ in corners(drawing, name))


def upper(drawing: Drawing, name: str, x: float) -> float:
    """How high (small y) a ply's outline reaches at a place on the flat roof."""
    outline = corners(drawing, name)
    sides = zip(outline, [*outline[1:], outline[0]], strict=True)
    crossing = [
        y1 + (y2 - y1) * (x - x1) / (x2 - x1)
        for (x1, y1), (x2, y2) in sides
        if min(x1, x2) <= x <= max(x1, x2) and x1 != x2
    ]
    return min(crossing)


def listed(drawing: Drawing) -> list[str]:
    """The callouts of the text alternative, in order."""
    parts = drawing.alt.replace(". 1, ", "; 1, ").replace(": 1, ", "; 1, ").split("; ")
    return [text.split(", ", 1)[1] for text in parts if text.split(", ")[0].isdigit()]


def place(drawing: Drawing, words: str) -> int:
    """Where in the order of laying a layer stands, by a piece of its words."""
    (found,) = [index for index, text in enumerate(listed(drawing)) if words in text]
    return found


@QUICK
@given(height=sixteenths(6, 14), lap=sixteenths(2, 8), step=sixteenths(1, 4), cover=sixteenths(1, 5))
def test_it_draws_a_wall_in_proportion(height: Fraction, lap: Fraction, step: Fraction, cover: Fraction) -> None:
    """Height over the finished roof, both laps, cant and counterflashing have one scale."""
    inputs = {**WALL, "flashing_height": height, "roof_lap": lap, "ply_step": step, "counterflashing_cover": cover}
    drawing = draw("wall_flashing", inputs)
    cant = points(find(drawing, "path", "cut cant")[0])
    foot, cant_side = min(x for x, _ in cant), max(x for x, _ in cant) - min(x for x, _ in cant)
    finished = min(y for x, y in corners(drawing, "cap") if x == left(drawing, "cap"))
    top = min(y for _, y in corners(drawing, "base_flashing"))
    leg = max(y for element in part(drawing, "counterflashing") for _, y in points(element)) - 3
    first = left(drawing, "base_flashing")
    drawn = [finished - top, foot - first, first - left(drawing, "cap_flashing"), cant_side, leg - top]

    assert in_proportion(drawn, [height, lap, step, Fraction(4), cover])


@QUICK
@given(height=sixteenths(5, 14), skirt=sixteenths(1, 4))
def test_it_draws_a_curb_in_proportion(height: Fraction, skirt: Fraction) -> None:
    """The curb's top stands its height over the finished roof; the unit's flange hangs down as far as it is told."""
    drawing = draw("curb_flashing", {**CURB, "flashing_height": height, "skirt": skirt})
    top, _ = values(part(drawing, "nailer")[0], "y", "height")
    finished = min(y for x, y in corners(drawing, "cap") if x == left(drawing, "cap"))
    leg = max(y for _, y in corners(drawing, "flange")) - 3

    assert in_proportion([finished - top, leg - top], [height, skirt])


@QUICK
@given(height=sixteenths(3, 14))
def test_it_draws_a_sill_in_proportion(height: Fraction) -> None:
    """The wall under the door ends the height over the finished roof, at the scale of the lap on the roof."""
    drawing = draw("door_sill", {**DOOR, "flashing_height": height})
    top = values(part(drawing, "wall")[0], "y")[0]
    finished = min(y for x, y in corners(drawing, "cap") if x == left(drawing, "cap"))
    foot = min(x for x, _ in points(find(drawing, "path", "cut cant")[0]))

    assert in_proportion([finished - top, foot - left(drawing, "base_flashing")], [height, Fraction(4)])


@QUICK
@given(height=sixteenths(4, 12), flange=sixteenths(2, 6), wide=sixteenths(1, 6), step=sixteenths(1, 3))
def test_it_draws_a_collar_in_proportion(height: Fraction, flange: Fraction, wide: Fraction, step: Fraction) -> None:
    """Pipe, flange, patch and height have one scale in the section; pipe, collar and patch another in the plan."""
    inputs = {"flashing_height": height, "collar_flange": flange, "pipe_diameter": wide, "patch_step": step}
    drawing = draw("pipe_collar", inputs)
    x, width = values(find(drawing, "rect", "cut pipe")[0], "x", "width")
    finished = min(y for place_x, y in corners(drawing, "cap") if place_x == left(drawing, "cap"))
    top = min(y for _, y in corners(drawing, "collar"))
    inner = left(drawing, "collar")
    drawn = [width, x - inner, inner - left(drawing, "patch"), finished - top]
    collar, patch = (values(find(drawing, "rect", f"hidden {name}")[0], "width")[0] for name in ("collar", "patch"))
    pipe = 2 * values(find(drawing, "circle", "pipe")[0], "r")[0]

    assert in_proportion(drawn, [wide, flange, step, height])
    assert in_proportion([pipe, collar, patch], [wide, wide + 2 * flange, wide + 2 * (flange + step)])


@QUICK
@given(side=sixteenths(20, 60), square=sixteenths(18, 48), reach=sixteenths(0, 1))
def test_it_draws_a_sump_in_proportion(side: Fraction, square: Fraction, reach: Fraction) -> None:
    """In plan both squares have one scale; in the section the plies pass the bolts as far as they are told."""
    reach = max(reach, Fraction(1, 16))
    drawing = draw("drain_sump", {**DRAIN, "sump_side": side, "drain_sheet": square, "ring_reach": reach})
    sump = values(find(drawing, "rect", "sump")[0], "width")[0]
    sheet = values(find(drawing, "rect", "hidden")[0], "width")[0]
    bolt = values(find(drawing, "line", "bolt")[0], "x1")[0]
    end = max(x for x, _ in corners(drawing, "base"))
    middle = values(find(drawing, "line", "center")[0], "x1")[0]

    assert in_proportion([sump, sheet], [side, square])
    # The bolts stand 4.15 in from the middle of the bowl as drawn.
    assert in_proportion([end - bolt, middle - bolt], [reach, Fraction("4.15")])


@QUICK
@given(flange=sixteenths(1, 6), over=sixteenths(1, 6), high=sixteenths(3, 8))
def test_it_draws_a_scupper_in_proportion(flange: Fraction, over: Fraction, high: Fraction) -> None:
    """The flange has the scale of the wall in the section, the overflow that of the main opening in the view."""
    inputs = {**SCUPPER, "scupper_flange": flange, "overflow_height": over, "scupper_height": high}
    drawing = draw("scupper", inputs)
    face, thick = values(find(drawing, "rect", "cut masonry")[0], "x", "width")
    main, beside = (values(rect, "y", "height", "width") for rect in find(drawing, "rect", "opening"))

    assert in_proportion([face - left(drawing, "box"), thick], [flange, Fraction(8)])
    assert in_proportion([main[0] - beside[0], main[1], main[2]], [over, high, Fraction(8)])


@QUICK
@given(height=sixteenths(3, 8), room=sixteenths(1, 4), depth=sixteenths(1, 3))
def test_it_draws_a_pocket_in_proportion(height: Fraction, room: Fraction, depth: Fraction) -> None:
    """Height, room round the post and depth of the filler have one scale."""
    drawing = draw("post_pocket", {"pocket_height": height, "pocket_clearance": room, "filler_depth": depth})
    filler = points(find(drawing, "path", "cut filler")[0])
    x, width = values(find(drawing, "rect", "cut post")[0], "x", "width")
    finished = min(y for place_x, y in corners(drawing, "cap") if place_x == left(drawing, "cap"))
    drawn = [finished - filler[1][1], x - filler[0][0], filler[0][1] - filler[1][1], width]

    assert in_proportion(drawn, [height, room, depth, Fraction(2)])


@pytest.mark.parametrize(("name", "inputs"), [("wall_flashing", WALL), ("curb_flashing", CURB), ("door_sill", DOOR)])
def test_it_laps_the_flashing_over_the_field_unless_told_otherwise(name: str, inputs: dict[str, object]) -> None:
    """Plies shingle with the water: flashing on the field's cap sheet. `reversed = roof_lap` turns that round."""
    for told, over in (({}, True), ({"reversed": "roof_lap"}, False)):
        drawing = draw(name, {**inputs, **told})
        x = left(drawing, "base_flashing") + 3
        cap, flashing = upper(drawing, "cap", x), upper(drawing, "cap_flashing", x)

        assert (flashing < cap) is over
        assert (place(drawing, "second flashing ply, cap sheet") > place(drawing, "cap sheet of the field")) is over
        assert place(drawing, "base sheet of the field") < place(drawing, "first flashing ply")


def test_it_hangs_the_counterflashing_outside_unless_told_otherwise() -> None:
    """Its lower leg stands on the roof's side of both plies; `reversed = counterflashing` puts it behind them."""
    for told, outside in (({}, True), ({"reversed": "counterflashing"}, False)):
        drawing = draw("wall_flashing", {**WALL, "flashing_height": 10, **told})
        leg = min(x for x, _ in corners(drawing, "counterflashing"))
        top = min(y for _, y in corners(drawing, "cap_flashing"))
        ply = min(x for x, y in corners(drawing, "cap_flashing") if y == top)

        assert (leg < ply) is outside
        assert (place(drawing, "counterflashing") > place(drawing, "second flashing ply")) is outside


@pytest.mark.parametrize(
    ("name", "inputs", "metal", "ply"),
    [
        ("pipe_collar", PIPE, "collar", "patch"),
        ("scupper", SCUPPER, "box", "strip"),
        ("post_pocket", POCKET, "pocket", "strip"),
    ],
    ids=["pipe", "scupper", "pocket"],
)
def test_it_strips_the_flange_in_unless_told_otherwise(
    name: str, inputs: dict[str, object], metal: str, ply: str
) -> None:
    """A ply lies over the flange of the metal; reversed, it lies under it."""
    for told, over in (({}, True), ({"reversed": ply}, False)):
        drawing = draw(name, {**inputs, **told})
        x = left(drawing, metal) + 12

        assert (upper(drawing, ply, x) < upper(drawing, metal, x)) is over
        assert upper(drawing, "cap", x) < min(upper(drawing, ply, x), upper(drawing, metal, x))


def test_it_ends_a_ply_before_the_ring_when_told_so() -> None:
    """A ply that stops ends at the bowl's flange, before the bolts; the others go on past them."""
    drawing = draw("drain_sump", {**DRAIN, "stops": "cap"})
    bolt = values(find(drawing, "line", "bolt")[0], "x1")[0]

    assert max(x for x, _ in corners(drawing, "cap")) < bolt
    assert max(x for x, _ in corners(drawing, "base")) > bolt
    assert "cap sheet, to the edge of the bowl's flange" in drawing.alt


def test_it_takes_the_first_ply_in_under_the_sill() -> None:
    """The first flashing ply reaches behind the sill and up; left out, it ends at the wall's face."""
    wall = values(part(draw("door_sill", DOOR), "wall")[0], "x", "y")
    under = corners(draw("door_sill", DOOR), "base_flashing")
    short = corners(draw("door_sill", {**DOOR, "omit": "under"}), "base_flashing")

    assert max(x for x, _ in under) > wall[0] + 30
    assert min(y for _, y in under) < wall[1] - 8
    assert max(x for x, _ in short) <= wall[0]


@pytest.fixture(scope="module")
def specification() -> Specification:
    """The revision that holds the values of a whole roof's details."""
    path = Path("lessons/specifications/two-ply-self-adhered/2026-11.toml")
    return parse_specification(path.read_text(encoding="utf-8"), str(path))


@pytest.mark.parametrize(
    ("name", "own", "value"),
    [
        ("wall_flashing", "wall", "flashing_height"),
        ("curb_flashing", "curb", "flashing_height"),
        ("door_sill", "door", "flashing_height"),
        ("pipe_collar", "pipe", "collar_flange"),
        ("drain_sump", "drain", "ring_reach"),
        ("scupper", "scupper", "overflow_height"),
        ("post_pocket", "pocket", "filler_depth"),
        ("outside_corner", "corner", "corner_reach"),
        ("inside_corner", "corner", "corner_reach"),
    ],
)
def test_it_draws_a_detail_from_the_specification_alone(
    specification: Specification, name: str, own: str, value: str
) -> None:
    """Every measure has a value there, whether the lesson names the part of the specification or not."""
    for part_named in (None, own):
        filled = drawing_inputs(name, {}, specification, part_named)

        assert draw(name, filled).svg
        assert filled[value] == specification.lookup(f"{own}.{value}").value


OMITTED = [
    (name, word)
    for name, words in (
        ("wall_flashing", "cant primer base_flashing cap_flashing bar sealant counterflashing"),
        ("curb_flashing", "cant base_flashing cap_flashing nails gasket"),
        ("pipe_collar", "bed patch clamp sealant"),
        ("drain_sump", "bed drain_sheet ring strainer"),
        ("outside_corner", "corner_piece bead"),
        ("inside_corner", "corner_piece bead"),
        ("scupper", "bed strip drip overflow"),
        ("door_sill", "cant cap_flashing sealant leg"),
        ("post_pocket", "bed strip"),
    )
    for word in words.split()
]
GIVEN: dict[str, dict[str, object]] = {
    "wall_flashing": WALL, "curb_flashing": CURB, "pipe_collar": PIPE, "drain_sump": DRAIN, "outside_corner": CORNER,
    "inside_corner": CORNER, "scupper": SCUPPER, "door_sill": DOOR, "post_pocket": POCKET,
}  # fmt: skip


@pytest.mark.parametrize(("name", "word"), OMITTED)
def test_it_leaves_out_what_it_is_told_to(name: str, word: str) -> None:
    """Nothing of the part is drawn or listed, its place can still be pointed at, and no verdict is given."""
    whole, drawing = draw(name, GIVEN[name]), draw(name, {**GIVEN[name], "omit": word})

    assert part(whole, word)
    assert part(drawing, word) == []
    assert {found.name for found in drawing.parts} == {found.name for found in whole.parts}
    assert len(drawing.alt) < len(whole.alt)
    assert not {"missing", "wrong", "fault", "left out"} & set(drawing.alt.lower().replace(",", "").split())


@pytest.mark.parametrize(
    ("name", "inputs", "wrong", "told"),
    [
        ("wall_flashing", {**WALL, "flashing_height": 3}, "flashing_height", "pass the cant"),
        ("wall_flashing", {**WALL, "counterflashing_cover": 9}, "counterflashing_cover", "over the roof"),
        ("wall_flashing", {**WALL, "insulation": 40}, "insulation", "24 in"),
        ("wall_flashing", {**WALL, "omit": "wall"}, "omit", "'wall'"),
        ("curb_flashing", {**CURB, "skirt": 9}, "skirt", "over the roof"),
        ("curb_flashing", {**CURB, "flashing_height": 4}, "flashing_height", "pass the cant"),
        ("pipe_collar", {**PIPE, "pipe_diameter": 30}, "pipe_diameter", "24 in"),
        ("pipe_collar", {**PIPE, "collar_flange": 0}, "collar_flange", "above 0"),
        ("drain_sump", {**DRAIN, "sump_side": 12}, "sump_side", "16 in"),
        ("drain_sump", {**DRAIN, "ring_reach": 2}, "ring_reach", "lip"),
        ("drain_sump", {**DRAIN, "sump_depth": 3}, "sump_depth", "insulation"),
        ("outside_corner", {**CORNER, "cut_past": 8}, "cut_past", "on the wall"),
        ("inside_corner", {**CORNER, "corner_reach": 30}, "corner_reach", "wide"),
        ("scupper", {**SCUPPER, "overflow_height": 13}, "overflow_height", "12 in"),
        ("scupper", {**SCUPPER, "wall_thickness": 30}, "wall_thickness", "24 in"),
        ("door_sill", {**DOOR, "flashing_height": "1/2 in"}, "flashing_height", "under the sill"),
        ("post_pocket", {**POCKET, "filler_depth": 5}, "filler_depth", "in the pocket"),
        ("post_pocket", {**POCKET, "top": "flat"}, "top", "crowned or dished"),
    ],
)
def test_it_refuses_a_detail_that_cannot_be_built(name: str, inputs: dict[str, object], wrong: str, told: str) -> None:
    """The error names drawing, input, limit and mending."""
    with pytest.raises(DrawingInputError) as refused:
        draw(name, inputs)

    assert (refused.value.drawing, refused.value.name) == (name, wrong)
    assert told in str(refused.value)
    assert refused.value.mending
