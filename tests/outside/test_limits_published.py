"""Limits at their very value, and a sum that somebody else worked: low slope, readings, room below an arrested fall."""

from fractions import Fraction
from typing import Any

from tests.outside.proofs import EXAMPLE, PUBLISHED, against
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
