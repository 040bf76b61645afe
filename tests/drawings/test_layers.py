"""What the drawings of layers and joints show: order, laps with the water, and what is left out."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.drawings.cases import CASES
from tests.drawings.reading import find, points, values
from trainer.drawings import Drawing, draw

LAYERS: dict[str, object] = {"base_side_lap": "4 in", "cap_side_lap": "3 1/4 in"}
JOINT: dict[str, object] = {"flashing_height": "8 in", "cover_lap": "4 in"}


def heights(drawing: Drawing, kind: str) -> tuple[float, float]:
    """The highest and the lowest place of all shapes of a kind."""
    ys = [y for path in find(drawing, "path", kind) for _, y in points(path)]
    for rect in find(drawing, "rect", kind):
        y, high = values(rect, "y", "height")
        ys += [y, y + high]
    return min(ys), max(ys)


def test_it_lays_every_layer_on_the_one_below() -> None:
    """From the deck up: insulation, cover board, base sheet, cap sheet (common practice)."""
    drawing = draw("roof_layers", LAYERS)
    tops = [heights(drawing, f"cut {name}")[0] for name in ("deck", "insulation", "cover_board", "base", "cap")]

    assert tops == sorted(tops, reverse=True)
    assert len(set(tops)) == len(tops)


@pytest.mark.parametrize("name", ["base", "cap"])
def test_it_turns_a_lap_against_the_water_only_when_told(name: str) -> None:
    """Water runs to the left: the course on the right ends on top, and below where its lap is reversed."""
    true, turned = (draw("roof_layers", {**LAYERS, **more}) for more in ({}, {"reversed": f"{name}_lap"}))
    first, second = (
        [max(x for x, _ in points(path)) for path in find(drawing, "path", f"cut {name}")] for drawing in (true, turned)
    )

    assert first[0] < first[1]
    assert second[0] > second[1]


def test_it_draws_both_sides_of_a_joint_alike() -> None:
    """Every ply of the left curb has its image on the right, as far from the middle of the gap."""
    drawing = draw("expansion_joint", JOINT)
    plies = [points(path) for path in find(drawing, "path", "cut strip")]
    curbs = [values(rect, "x", "width") for rect in find(drawing, "rect", "curb")]
    middle = (curbs[0][0] + curbs[0][1] + curbs[1][0]) / 2

    assert len(plies) == 2
    assert [2 * middle - x for x, _ in plies[0]] == pytest.approx([x for x, _ in plies[1]], abs=0.03)


@pytest.mark.parametrize(("cover", "gap"), [(4, 2), (Fraction(5, 2), 3)])
def test_it_draws_cover_and_gap_in_proportion(cover: Fraction, gap: Fraction) -> None:
    """How far the cover comes down and how wide the gap is have the scale of the flashing's height."""
    drawing = draw("expansion_joint", {"flashing_height": 8, "cover_lap": cover, "gap_width": gap})
    (left, _, wide, _), (right, top, _, _) = (
        values(rect, "x", "y", "width", "height") for rect in find(drawing, "rect", "curb")
    )
    scale = (right - left - wide) / float(gap)
    legs = points(find(drawing, "path", "line cover")[0])

    assert scale == pytest.approx(wide / 1.5, abs=0.02)
    assert legs[0][1] - 3 - top == pytest.approx(float(cover) * scale, abs=0.02)


def test_it_says_what_there_is_to_see_of_a_joint() -> None:
    """The text alternative tells the fastened sides, the loop and the gap, true or not, without a verdict."""
    true, faulty = (draw(*CASES[case]).alt for case in ("expansion_joint", "expansion_joint tight"))

    assert "fasteners on its left side alone" in true
    assert "hangs down into the gap" in true
    assert "fasteners on both sides" in faulty
    assert "straight from side to side" in faulty
    assert "wood lies in the gap" in faulty
    assert not {"wrong", "fault", "must", "should"} & set(faulty.lower().split())


@pytest.mark.parametrize(("water", "left"), [("from_old", True), ("from_new", False)])
def test_it_puts_the_sealant_of_a_night_seal_where_water_comes(water: str, left: bool) -> None:
    """The uphill edge has the sealant: the one on the old roof where that lies higher (common practice)."""
    drawing = draw("night_strip", {"seal_lap": 12, "water": water})
    strip = [x for x, _ in points(find(drawing, "path", "cut strip")[0])]
    sealant = [x for x, _ in points(find(drawing, "path", "cut sealant")[0])]

    assert (min(sealant) < min(strip)) is left
    assert (max(sealant) > max(strip)) is not left


def test_it_draws_both_laps_of_a_night_seal_at_one_scale() -> None:
    """The strip reaches from its lap on the old roof over the bare board to its lap on the new sheet."""
    drawing = draw("night_strip", {"seal_lap": 9, "on_new": 7, "bare": 5})
    old, new, strip = (
        [x for x, _ in points(find(drawing, "path", kind)[0])] for kind in ("cut old", "cut base", "cut strip")
    )
    scale = (max(strip) - min(strip)) / 21

    assert max(old) - min(strip) == pytest.approx(9 * scale, abs=0.03)
    assert max(strip) - min(new) == pytest.approx(7 * scale, abs=0.03)


def test_it_lays_gravel_under_a_night_seal_only_when_told() -> None:
    """Stones end beside the strip, or go on below it."""
    clean, left = (draw("night_strip", {"seal_lap": 12, "gravel": word}) for word in ("beside", "under"))
    edge = min(x for x, _ in points(find(clean, "path", "cut strip")[0]))
    stones = [max(values(circle, "cx")[0] for circle in find(one, "circle", "gravel")) for one in (clean, left)]

    assert stones[0] < edge < stones[1]
