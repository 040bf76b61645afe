"""Plans against shapely, a library that knows nothing of roofs."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, affinity, box, unary_union  # type: ignore[import-untyped]

from tests.outside.proofs import LIBRARY, against
from tests.rules.samples import REFUSAL
from trainer.rules import RuleInputError, get_rule
from trainer.rules.fastening import plates_by_zone
from trainer.rules.plans import corner_zone_area, edge_zone_area, field_zone_area, plan_area, plan_edge

FEET = st.lists(st.tuples(st.integers(0, 800), st.integers(0, 800)), min_size=3, max_size=9, unique=True)
# few places: corners stand on other sides, sides lie on one another, outlines meet themselves in a corner
CROWDED = st.lists(st.tuples(st.integers(0, 3), st.integers(0, 3)), min_size=3, max_size=7, unique=True)


@against(LIBRARY, "shapely")
@given(st.one_of(FEET, CROWDED))
@REFUSAL
def test_it_agrees_with_shapely_about_area_and_edge(corners: list[tuple[int, int]]) -> None:
    """Whatever outline shapely calls sound has the same area and edge; any other is refused, as it is no deck."""
    polygon = Polygon(corners)
    across, up = (tuple(Fraction(corner[axis]) for corner in corners) for axis in (0, 1))

    if polygon.is_valid:
        assert float(plan_area(across, up).value) * 144 == pytest.approx(polygon.area)
        assert float(plan_edge(across, up).value) == pytest.approx(polygon.length)
        return
    for rule in (plan_area, plan_edge):
        with pytest.raises(RuleInputError, match="an outline that does not cross or touch itself"):
            rule(across, up)


def test_it_takes_a_corner_that_was_written_twice() -> None:
    """A slip that changes nothing: shapely gives the same area, and so does the rule, round the end of the list too."""
    across, up = "0; 0; 10 ft; 10 ft; 0; 0", "0; 0; 0; 8 ft; 8 ft; 0"
    area, edge = get_rule("plan_area"), get_rule("plan_edge")

    assert area(across, up).value == Polygon([(0, 0), (0, 0), (10, 0), (10, 8), (0, 8), (0, 0)]).area
    assert edge(across, up).value == 12 * 36
    with pytest.raises(RuleInputError, match="does not cross or touch itself"):
        area("0; 0; 0", "0; 0; 0")


@against(LIBRARY, "shapely")
@given(st.integers(120, 900), st.integers(120, 900), st.integers(12, 119))
@REFUSAL
def test_it_agrees_with_shapely_about_zones(side_a: int, side_b: int, width: int) -> None:
    """Corners, edges and the field that shapely leaves when the zones are cut off make up the roof."""
    roof = Polygon([(0, 0), (side_a, 0), (side_a, side_b), (0, side_b)])
    field = roof.buffer(-width).area
    zones = {"side_a": Fraction(side_a), "side_b": Fraction(side_b), "zone_width": Fraction(width)}

    reach = box(-width, -width, width, width)
    squares = [affinity.translate(reach, *corner) for corner in roof.exterior.coords]
    corners = roof.intersection(unary_union(squares)).area
    edges = roof.area - field - corners
    assert float(corner_zone_area.work(**zones).value) * 144 == pytest.approx(corners)
    assert float(edge_zone_area.work(**zones).value) * 144 == pytest.approx(edges)
    assert float(field_zone_area.work(**zones).value) * 144 == pytest.approx(field)
    plates = plates_by_zone.work(
        **zones, board_length=Fraction(96), board_width=Fraction(48), corner_plates=32, edge_plates=20, field_plates=11
    )
    assert float(plates.before_rounding) == pytest.approx((corners * 32 + edges * 20 + field * 11) / (96 * 48))
    assert plates.before_rounding <= plates.value < plates.before_rounding + 3
