"""Sheet metal, laps, crickets, panels, ladders and warning lines against printed tables and clauses.

Sources: a trade's gauge chart for aluminum sheet (American wire gage, ASTM B258); the density of copper, 8.92 g/cm³ at
20 °C, of a copper institute's fact sheet; UFGS 07 52 00, 3.3.6 with its note; a US Navy manual for builders on hip and
valley rafters; US Army TI 809-53; two letters of the federal regulator, of August 1, 2000 and November 15, 2002.
"""

import math
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from pint import UnitRegistry
from scipy import integrate, stats  # type: ignore[import-untyped]
from shapely import Polygon, box, unary_union  # type: ignore[import-untyped]

from tests.outside.proofs import CHART, EXAMPLE, LIBRARY, PUBLISHED, against
from tests.outside.published import VALUES, WORKED, values
from trainer.rules import RuleInputError, get_rule
from trainer.rules.dimensions import LENGTH

MORE, SITE = values("more_values.csv"), values("site_values.csv")
# gauge and inches, as printed
ALUMINUM = (
    (10, "0.1019"), (11, "0.09074"), (12, "0.08081"), (14, "0.06408"), (16, "0.05082"), (18, "0.0403"),
    (20, "0.03196"), (22, "0.02535"), (24, "0.0201"), (26, "0.01594"), (28, "0.01264"), (30, "0.01003"),
)  # fmt: skip


def value(name: str, **inputs: Any) -> Any:
    """The value of a rule."""
    return get_rule(name)(**inputs).value


@against(CHART)
@pytest.mark.parametrize(("gauge", "printed"), ALUMINUM)
def test_it_agrees_with_the_chart_of_aluminum_gauges(gauge: int, printed: str) -> None:
    """Every gauge of the chart to its last digit."""
    places = len(printed.partition(".")[2])

    assert float(value("aluminum_thickness", gauge=gauge)) == pytest.approx(float(printed), abs=0.6 * 10**-places)


def test_it_keeps_the_gauges_of_two_metals_apart() -> None:
    """UG-048 and GA-003: 0.032 in of aluminum is 20 gauge; steel of that gauge is thicker."""
    least = f"{MORE['UG-048'].value} in"
    aluminum, steel = (value(name, gauge=20) for name in ("aluminum_thickness", "gauge_thickness"))

    assert round(aluminum, 3) == Fraction(MORE["UG-048"].value)
    assert value("thickness_within", thickness=steel, least_thickness=least) is True
    assert value("thickness_within", thickness=value("aluminum_thickness", gauge=22), least_thickness=least) is False
    for gauge in (9, 31):
        with pytest.raises(RuleInputError, match="gauge"):
            get_rule("aluminum_thickness")(gauge=gauge)


@against(LIBRARY, "pint")
@pytest.mark.parametrize("ounces", [10, 12, 16, 20, 24, 32, 48])
def test_it_finds_the_thickness_of_copper_by_its_density(ounces: int) -> None:
    """The printed density in g/cm³, turned into ounces and inches by a library of units: within half a percent."""
    unit: Any = UnitRegistry()
    density = 8.92 * unit.gram / unit.centimeter**3
    printed = ((ounces * unit.ounce / unit.foot**2) / density).to("inch").magnitude

    assert float(value("copper_thickness", sheet_weight=f"{ounces} oz per ft2")) == pytest.approx(printed, rel=0.005)


@against(PUBLISHED)
def test_it_gives_sixteen_ounces_the_thickness_that_tables_print() -> None:
    """16 oz copper is listed at 0.0216 in."""
    assert round(value("copper_thickness", sheet_weight="16 oz per ft2"), 4) == Fraction("0.0216")


@against(PUBLISHED)
def test_it_runs_sheets_across_up_to_the_limit_of_the_note() -> None:
    """UG-006: up to 1:6, 2 in per ft, the guide runs sheets perpendicular to the slope."""
    row = MORE["UG-006"]
    item = next(item for item in get_rule("sheets_run_across").inputs if item.name == "across_limit")

    assert item.dimension.number(item.default, row.unit) == float(row.number), row.source
    assert value("sheets_run_across", slope=f"{row.value} in per ft") is True
    assert value("sheets_run_across", slope=Fraction(1, 6) * 12 + Fraction(1, 1000)) is False


@against(PUBLISHED)
def test_it_prohibits_backwater_laps() -> None:
    """UFGS 07 52 00, 3.3.6: in shingle fashion to shed water; backwater laps are prohibited. Marks of WX-103."""
    marks = WORKED["WX-103"]["result"]["marks"].removesuffix(" in").split(", ")
    lower_edges = [f"{mark} in" for mark in marks]

    for lower, upper in pairwise(lower_edges):
        assert value("lap_with_water", over_up=upper, under_up=lower) is True
        assert value("lap_with_water", over_up=lower, under_up=upper) is False


@against(EXAMPLE)
def test_it_runs_a_valley_as_a_hip_rafter_runs() -> None:
    """Naval training manual 14044, roof framing: a hip or valley between like slopes runs 16.97 in to each foot.

    At 8 in of rise to the foot its line is 18.76 in long: the rise stays, the run grows.
    """
    steps = get_rule("valley_slope")(slope="8 in per ft", valley_up="1 ft", valley_across="1 ft").steps
    named = {step.name: float(step.value) for step in steps}

    assert named["valley_length"] == pytest.approx(16.97, abs=0.005)
    assert (named["valley_length"] ** 2 + named["fall"] ** 2) ** 0.5 == pytest.approx(18.76, abs=0.005)
    assert named["valley_slope"] == pytest.approx(12 * 8 / 16.97, abs=0.002)


@against(PUBLISHED)
def test_it_thickens_tapered_boards_as_a_slope_rises() -> None:
    """SL-020: 1/4 in per ft over 24 ft rises 6 in, which the boards gain over their thin edge."""
    row = SITE["SL-020"]

    assert value("taper_thickness", thin_edge="1 in", run=row.inputs["run"], slope=row.inputs["slope"]) == (
        row.number + 1
    )


@against(PUBLISHED)
@pytest.mark.parametrize(("gap", "right"), [("1/16 in", False), ("1/8 in", True), ("1/4 in", True), ("5/16 in", False)])
def test_it_keeps_panels_apart_and_together(gap: str, right: bool) -> None:
    """DK-001: at least 1/8 in between panels; the widest joint is the specification's, 1/4 in by common practice."""
    item = next(item for item in get_rule("joint_gap_within").inputs if item.name == "least_gap")

    assert item.default == VALUES["DK-001"].number
    assert value("joint_gap_within", gap=gap, joint_gap="1/4 in") is right


@against(PUBLISHED)
@pytest.mark.parametrize("row_id", ["LD-010", "LD-011", "LD-012"])
def test_it_accepts_a_ladder_by_either_way_of_measuring(row_id: str) -> None:
    """LD-010 to LD-012: a quarter of the length; LD-006: four up and one out. Both, and between, but nothing beyond."""
    row, rule = SITE[row_id], get_rule("ladder_foot_accepted")
    length = row.inputs["working_length"]
    quarter = 12 * row.number
    steep = {"working_length": Fraction(17).limit_denominator() * 12, "foot_tolerance": "1/100 in"}

    assert rule(working_length=length, foot_out=quarter, foot_tolerance="0 in").value is True
    assert rule(working_length=length, foot_out=quarter - 1, foot_tolerance="0 in").value is True
    assert rule(working_length=length, foot_out=quarter + Fraction(1, 16), foot_tolerance="0 in").value is False
    # four up and one out, 4.123 ft to each foot out: 17 ft of ladder stand out 4.123 ft
    assert rule(**steep, foot_out=12 * Fraction("4.123")).value is True
    assert rule(**steep, foot_out=12 * Fraction("4.12")).value is False


@against(PUBLISHED)
def test_it_keeps_other_trades_farther_from_the_edge() -> None:
    """The letters: 15 ft for other work; FP-005 to FP-007: 6 ft for roofers, 10 ft across the travel of equipment."""
    for equipment in (True, False):
        for across in (True, False):
            given = {"equipment": equipment, "across": across}
            for_roofers = 10 if equipment and across else 6

            assert value("setback_by_work", roofing_work=True, **given) == 12 * for_roofers
            assert value("setback_by_work", roofing_work=False, **given) == 12 * 15
    assert [SITE[name].value for name in ("FP-005", "FP-006", "FP-007")] == ["6", "6", "10"]


@against(PUBLISHED)
def test_it_reads_again_about_every_four_hours() -> None:
    """DP-022: MIL-HDBK-1110 9.6.6; go or wait comes with the time until the next reading."""
    every = f"{MORE['DP-022'].value} h"
    read = {
        "surface_temperature": "60 degF", "least_temperature": "50 degF", "air_temperature": "65 degF",
        "humidity": "50 %", "surface_dry": True,
    }  # fmt: skip
    shown = {step.name: step.value for step in get_rule("laying_allowed")(**read).steps}

    assert value("next_reading_left", since_reading="0 min") == 60 * int(MORE["DP-022"].value) == shown["next_reading"]
    assert value("next_reading_left", since_reading=every) == 0
    assert value("next_reading_left", since_reading="5 h") == 0


@against(LIBRARY, "scipy")
@pytest.mark.parametrize(
    ("lot", "limit"), [(20, "2.5 %"), (40, "1.5 %"), (12, "4 %"), (90, "1.0 %"), (8, "6.5 %"), (150, "1.0 %")]
)
def test_it_agrees_with_scipy_where_no_open_seam_is_allowed(lot: int, limit: str) -> None:
    """MIL-STD-105E plans with acceptance number 0: the chance to accept, for every number of bad seams in the lot."""
    plan = {"lot": lot, "quality_limit": limit}
    looked, accepted = value("plan_looks", **plan), value("plan_accepts", **plan)

    assert accepted == 0
    for bad in range(lot + 1):
        oracle = stats.hypergeom(lot, bad, looked).cdf(accepted)
        assert float(value("chance_missed", lot=lot, bad=bad, looked=looked)) == pytest.approx(oracle, abs=1e-12)
        assert float(value("chance_accepted", lot=lot, bad=bad, looked=looked, accepted=accepted)) == pytest.approx(
            oracle, abs=1e-12
        )


SHAPES = {
    # corners in feet, across and up
    "triangle": [(0, 0), (40, 0), (12, 26)],
    "L": [(0, 0), (40, 0), (40, 20), (15, 20), (15, 32), (0, 32)],
    "T": [(10, 0), (30, 0), (30, 25), (44, 25), (44, 37), (0, 37), (0, 25), (10, 25)],
    "U": [(0, 0), (50, 0), (50, 40), (36, 40), (36, 15), (12, 15), (12, 40), (0, 40)],
    "slanted side": [(0, 0), (60, 0), (48, 30), (0, 30)],
}


@against(LIBRARY, "shapely")
@pytest.mark.parametrize("corners", SHAPES.values(), ids=SHAPES)
def test_it_measures_the_plans_that_roofs_have(corners: list[tuple[int, int]]) -> None:
    """Triangle, L, T and U plans and a slanted side, in either turn: area and edge of a geometry library."""
    polygon = Polygon(corners)

    for turned in (corners, corners[::-1]):
        plan = {
            "corners_across": tuple(12 * across for across, _ in turned),
            "corners_up": tuple(12 * up for _, up in turned),
        }
        assert value("plan_area", **plan) == pytest.approx(polygon.area)
        assert float(value("plan_edge", **plan)) == pytest.approx(12 * polygon.length)


@against(LIBRARY, "shapely")
@pytest.mark.parametrize("run", [100, 240, 287, 294, 300, 361, 402])
def test_it_covers_the_deck_up_to_its_last_course(run: int) -> None:
    """Sheets laid out as rectangles: together they are the deck, without the last one they are not."""
    eave = 600
    roof: dict[str, Any] = {
        "run": run, "overhang": 2, "starter_width": "26 1/4 in", "roll_width": "39 3/8 in", "side_lap": 4,
    }  # fmt: skip
    courses, last = value("course_count", **roof), value("last_course_width", **roof)
    tops = [*value("chalk_lines", **roof), run]
    widths = [Fraction(105, 4), *[Fraction(315, 8)] * (courses - 2), last]
    sheets = [box(0, float(top - width), eave, float(top)) for top, width in zip(tops, widths, strict=True)]
    deck = box(0, -2, eave, run)

    assert unary_union(sheets).symmetric_difference(deck).area == pytest.approx(0, abs=1e-6)
    assert not unary_union(sheets[:-1]).covers(box(0, 0, eave, run))
    for lower, upper in pairwise(sheets):
        assert lower.intersection(upper).area == pytest.approx(4 * eave)


@against(PUBLISHED)
def test_it_fits_lengths_between_corners_as_along_an_edge() -> None:
    """FA-009 to FA-011: the same run, its ends now legs of corner pieces that each take one lap."""
    for row_id in ("FA-009", "FA-010", "FA-011"):
        row = VALUES[row_id]
        run, piece, lap = (LENGTH.parse(row.inputs[key]) for key in ("run", "piece", "lap"))
        between = value(
            "metal_between_corners", edge=run + 2 * (18 - lap), corner_leg=18, metal_length=piece, metal_lap=lap
        )

        assert between == row.number, row.source


@against(LIBRARY, "scipy")
@pytest.mark.parametrize("row_id", ["SE-007", "SE-008"])
def test_it_fills_a_half_round_bead(row_id: str) -> None:
    """SE-007, SE-008: twice as far as a round bead of the same width; its section integrated by a numeric library."""
    row, rule = SITE[row_id], get_rule("half_round_yield")
    length = rule(cartridge=row.inputs["fill"], half_round=row.inputs["diameter"]).value
    radius = float(LENGTH.parse(row.inputs["diameter"])) / 2
    section, _ = integrate.quad(lambda x: math.sqrt(radius**2 - x**2), -radius, radius)

    assert float(length) / 12 == pytest.approx(2 * float(row.number), abs=2 * float(row.within))
    assert float(length) == pytest.approx(10.1 * 231 / 128 / section, rel=1e-7)
