"""Plans against shapely, and the cut list's rolls against an exact solver: two libraries that know nothing of roofs."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp  # type: ignore[import-untyped]
from shapely import Polygon  # type: ignore[import-untyped]

from tests.rules.samples import REFUSAL
from trainer.rules import RuleInputError
from trainer.rules.fastening import plates_by_zone
from trainer.rules.plans import corner_zone_area, edge_zone_area, field_zone_area, plan_area, plan_edge
from trainer.rules.take_off import cut_list, rolls_for_roof

CORNERS = st.lists(st.tuples(st.integers(0, 800), st.integers(0, 800)), min_size=3, max_size=9, unique=True)


@given(CORNERS)
@REFUSAL
def test_it_agrees_with_shapely_about_area_and_edge(corners: list[tuple[int, int]]) -> None:
    """Whatever outline shapely calls sound has the same area and edge; a refused one it calls unsound."""
    polygon = Polygon(corners)
    across, up = (tuple(Fraction(corner[axis]) for corner in corners) for axis in (0, 1))
    try:
        area = plan_area(across, up).value
    except RuleInputError:
        assert not polygon.is_valid
    else:
        if polygon.is_valid:
            assert float(area) * 144 == pytest.approx(polygon.area)
            assert float(plan_edge(across, up).value) == pytest.approx(polygon.length)


@given(st.integers(120, 900), st.integers(120, 900), st.integers(12, 119))
@REFUSAL
def test_it_agrees_with_shapely_about_zones(side_a: int, side_b: int, width: int) -> None:
    """Corners, edges and the field that shapely leaves when the zones are cut off make up the roof."""
    roof = Polygon([(0, 0), (side_a, 0), (side_a, side_b), (0, side_b)])
    field = roof.buffer(-width).area
    zones = {"side_a": Fraction(side_a), "side_b": Fraction(side_b), "zone_width": Fraction(width)}

    both = corner_zone_area.work(**zones).value + edge_zone_area.work(**zones).value
    assert float(both) * 144 + field == pytest.approx(roof.area)
    assert float(field_zone_area.work(**zones).value) * 144 == pytest.approx(field)
    corners = float(corner_zone_area.work(**zones).value) * 144
    edges = roof.area - field - corners
    plates = plates_by_zone.work(
        **zones, board_length=Fraction(96), board_width=Fraction(48), corner_plates=32, edge_plates=20, field_plates=11
    )
    assert float(plates.before_rounding) == pytest.approx((corners * 32 + edges * 20 + field * 11) / (96 * 48))
    assert plates.before_rounding <= plates.value < plates.before_rounding + 3


def fewest_rolls(pieces: list[float], roll: float, most: int) -> int:
    """Pack pieces into the fewest rolls there can be: an integer program, solved exactly."""
    count = len(pieces)
    cost = np.concatenate([np.zeros(count * most), np.ones(most)])
    placed = np.zeros((count, cost.size))
    held = np.zeros((most, cost.size))
    for piece in range(count):
        placed[piece, piece * most : (piece + 1) * most] = 1
    for bin_ in range(most):
        held[bin_, bin_ : count * most : most] = pieces
        held[bin_, count * most + bin_] = -roll
    solved = milp(
        cost,
        constraints=[LinearConstraint(placed, 1, 1), LinearConstraint(held, -np.inf, 1e-9)],
        integrality=np.ones(cost.size),
        bounds=Bounds(0, 1),
    )
    return round(solved.fun)


@pytest.mark.parametrize("length", [300, 411, 500, 633, 757, 900])
@pytest.mark.parametrize("courses", [2, 3, 5])
def test_it_never_wastes_more_than_one_roll_against_the_exact_solver(length: int, courses: int) -> None:
    """Cutting in laying order with offcuts used again takes at most one roll more than the best packing there is."""
    inputs = {
        "length": Fraction(length), "courses": courses, "roll_length": Fraction(393), "end_lap": Fraction(6),
        "end_lap_stagger": Fraction(36),
    }  # fmt: skip
    pieces = [float(piece) for piece in cut_list.work(**inputs).value]
    rolls = rolls_for_roof.work(**inputs).value
    best = fewest_rolls(pieces, 393, rolls)

    assert math.ceil(sum(pieces) / 393) <= best <= rolls <= best + 1
