"""The cut pattern of a corner and the corner it folds to: the same sheet, by arithmetic and on the drawing."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.drawings.detail_cases import CORNER
from tests.drawings.reading import find, points, values
from trainer.drawings import Drawing, draw
from trainer.drawings.folding import COS, Flap, axonometric, corner_flaps, flashing_flaps

QUICK = settings(max_examples=25, deadline=None)
SIZES = st.integers(8, 160).map(lambda count: count / 8)


def check(flaps: tuple[Flap, ...]) -> None:
    """A face does not stretch: every two of its corners are as far apart folded as flat."""
    for flap in flaps:
        for one, other in combinations(range(len(flap.flat)), 2):
            flat = math.dist(flap.flat[one], flap.flat[other])
            assert math.dist(flap.folded[one], flap.folded[other]) == pytest.approx(flat), flap.name


def joined(flaps: tuple[Flap, ...], one: str, other: str) -> set[tuple[float, ...]]:
    """The corners that two faces share on the folded corner and in the flat piece."""
    found = {flap.name: set(zip(flap.flat, flap.folded, strict=True)) for flap in flaps}
    return {flat for flat, _ in found[one] & found[other]}


@QUICK
@given(first=SIZES, second=SIZES, height=SIZES, roof=SIZES, inside=st.booleans())
def test_it_folds_a_flashing_piece_without_stretching_it(
    first: float, second: float, height: float, roof: float, *, inside: bool
) -> None:
    """Folded lengths are the pattern's; the faces hang together along the folds, and the legs part at the cut."""
    flaps = flashing_flaps(first, second, height, roof, inside=inside)
    check(flaps)

    assert joined(flaps, "first_wall", "second_wall") == {(0.0, 0.0), (0.0, height)}
    assert joined(flaps, "first_wall", "first_leg") == {(0.0, 0.0), (-first, 0.0)}
    assert joined(flaps, "second_wall", "second_leg") == {(0.0, 0.0), (second, 0.0)}
    assert joined(flaps, "first_leg", "second_leg") == {(0.0, 0.0)}


@QUICK
@given(reach=SIZES)
def test_it_folds_an_outside_corner_piece_without_stretching_it(reach: float) -> None:
    """The halves beside the cut stay joined to the roof along their folds, and to each other at the corner alone."""
    flaps = corner_flaps(reach, inside=False)
    check(flaps)
    areas = [abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairwise([*flap.flat, flap.flat[0]]))) / 2
             for flap in flaps]  # fmt: skip

    assert joined(flaps, "roof", "first_half") == {(0.0, 0.0), (-reach, 0.0)}
    assert joined(flaps, "roof", "second_half") == {(0.0, 0.0), (0.0, -reach)}
    assert joined(flaps, "first_half", "second_half") == {(0.0, 0.0)}
    assert sum(areas) == pytest.approx(4 * reach**2)


@QUICK
@given(reach=SIZES)
def test_it_folds_an_inside_corner_piece_without_stretching_it(reach: float) -> None:
    """Three quarters fill the corner; the fourth comes to lie where the second wall's quarter lies, cut from it."""
    flaps = corner_flaps(reach, inside=True)
    check(flaps)
    folded = {flap.name: set(flap.folded) for flap in flaps}

    assert joined(flaps, "roof", "first_wall") == {(0.0, 0.0), (reach, 0.0)}
    assert joined(flaps, "roof", "second_wall") == {(0.0, 0.0), (0.0, reach)}
    assert joined(flaps, "first_wall", "lap") == {(0.0, 0.0), (0.0, -reach)}
    assert joined(flaps, "second_wall", "lap") == {(0.0, 0.0)}
    assert folded["lap"] == folded["second_wall"]


def test_it_draws_all_three_axes_at_one_scale() -> None:
    """An inch along x, y or z is as long on the sheet, as an isometric view has it (common practice of drawing)."""
    origin, *ends = axonometric([(0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)])

    assert [math.dist(origin, end) for end in ends] == pytest.approx([1, 1, 1])
    assert pytest.approx(math.sqrt(3)) == COS * 2


def outline(drawing: Drawing, kind: str) -> list[tuple[float, float]]:
    """The corners of one face as drawn."""
    (face,) = find(drawing, "path", kind)
    return points(face)


@pytest.mark.parametrize("name", ["outside_corner", "inside_corner"])
@QUICK
@given(height=SIZES, roof=SIZES, lap=SIZES, reach=SIZES)
def test_it_draws_pattern_and_corner_in_one_proportion(
    name: str, height: float, roof: float, lap: float, reach: float
) -> None:
    """On the drawing each edge along an axis has the length of the same edge of the pattern, each view at its scale."""
    sizes = {"flashing_height": max(height, math.ceil(max(roof, lap, reach) / 3)), "roof_lap": roof, "strip_lap": lap,
             "corner_reach": reach}  # fmt: skip
    drawing = draw(name, {key: f"{value} in" for key, value in sizes.items()})
    second = outline(drawing, "axis second_wall flashing")
    leg = outline(drawing, "axis second_leg")
    roof_face = outline(drawing, "axis piece roof")
    pattern = points(find(drawing, "path", "flat flashing")[0])
    bend = values(find(drawing, "line", "fold bend")[0], "y1")[0]
    line = values(find(drawing, "line", "fold corner")[0], "x1")[0]
    square = values(find(drawing, "rect", "flat piece")[0], "width")[0]
    folded = [math.dist(second[0], second[1]), math.dist(second[1], second[2]), math.dist(leg[1], leg[2]),
              math.dist(roof_face[0], roof_face[1])]  # fmt: skip
    flat = [pattern[1][0] - line, bend - pattern[2][1], pattern[1][1] - bend, square / 2]
    inches = [sizes["strip_lap"], sizes["flashing_height"], sizes["roof_lap"], sizes["corner_reach"]]

    for drawn in (folded, flat):
        scale = max(drawn) / max(inches)
        assert drawn == pytest.approx([inch * scale for inch in inches], abs=0.06)


def test_it_draws_how_far_the_cut_runs_past_the_bend() -> None:
    """The cut ends at the bend, or above it by what was given, at the pattern's own scale."""
    for past in (0, 2):
        drawing = draw("outside_corner", {**CORNER, "cut_past": past})
        top = values(find(drawing, "line", "cut-line")[0], "y2")[0]
        bend = values(find(drawing, "line", "fold bend")[0], "y1")[0]
        low = values(find(drawing, "line", "cut-line")[0], "y1")[0]

        assert (bend - top) / (low - bend) == pytest.approx(past / 4, abs=0.01)
