"""Limits at their very value, a sum that somebody else worked, and a chart: slope, readings, falls, gauges of steel."""

from fractions import Fraction
from typing import Any

import pytest

from tests.outside.proofs import CHART, EXAMPLE, PUBLISHED, against
from tests.outside.published import values
from trainer.rules import get_rule
from trainer.rules.dimensions import DURATION

MORE, SITE = values("more_values.csv"), values("site_values.csv")


def value(name: str, **inputs: Any) -> Any:
    """The value of a rule."""
    return get_rule(name)(**inputs).value


@against(PUBLISHED)
def test_it_calls_a_roof_low_up_to_the_limit_itself() -> None:
    """FP-001: 29 CFR 1926.500(b): a slope of 4 in 12 is low, anything steeper is not."""
    limit = Fraction(SITE["FP-001"].value)

    assert SITE["FP-001"].unit == "in rise per 12 in"
    assert value("is_low_slope", slope=limit) is True
    assert value("is_low_slope", slope=limit + Fraction(1, 1000)) is False


@against(PUBLISHED)
def test_it_reads_the_weather_as_often_as_the_handbook() -> None:
    """DP-022: MIL-HDBK-1110 9.6.6, about every 4 h: never longer without a reading, and no reading too many."""
    longest = DURATION.parse(f"{MORE['DP-022'].value} h")

    for quarters in range(1, 4 * 14 + 1):
        shift = Fraction(15 * quarters)
        readings = value("readings_in_shift", work_time=shift)
        last = (readings - 1) * longest  # the first is at the start
        assert last <= shift < last + longest


@against(EXAMPLE)
def test_it_adds_up_the_room_below_a_fall_as_an_article_does() -> None:
    """A general how-to article's example: free fall 4, deceleration 3, harness 1, line 3, margin 1: 12 ft in all.

    FP-019 and FP-020 bound the first two; test_more_published.py.
    """
    parts = {
        "free_fall": "4 ft", "deceleration": "3 ft", "harness_stretch": "1 ft", "anchor_give": "3 ft",
        "clear_margin": "1 ft",
    }  # fmt: skip

    assert value("fall_clearance", **parts) == 12 * 12


# a general chart of sheet metal gauges: gauge, pounds on a square foot, inches uncoated and galvanized
GAUGES = (
    (10, "5.625", "0.1345", "0.1382"), (18, "2", "0.0478", "0.0516"), (20, "1.5", "0.0359", "0.0396"),
    (22, "1.25", "0.0299", "0.0336"), (24, "1", "0.0239", "0.0276"), (26, "0.75", "0.0179", "0.0217"),
)  # fmt: skip


@against(CHART)
@pytest.mark.parametrize(("gauge", "weight", "bare", "galvanized"), GAUGES)
def test_it_agrees_with_the_chart_of_steel_gauges(gauge: int, weight: str, bare: str, galvanized: str) -> None:
    """Every gauge that the rule knows to the chart's last digit, bare and with its 2.5 oz of zinc on a square foot."""
    zinc = "0.15625 lb/ft2"

    assert round(value("gauge_thickness", gauge=gauge), 4) == Fraction(bare)
    assert round(value("steel_thickness", sheet_weight=f"{weight} lb/ft2"), 4) == Fraction(bare)
    coated = value("steel_thickness", sheet_weight=f"{weight} lb/ft2", coating_weight=zinc)
    assert abs(coated - Fraction(galvanized)) <= Fraction("0.0001")
