"""What else the worked examples print: verdicts, percents and temperatures, from the numbers that they give."""

from fractions import Fraction
from typing import Any

import psychrolib  # type: ignore[import-untyped]
import pytest

from tests.outside.proofs import EXAMPLE, against
from tests.outside.published import CITED, WORKED
from trainer.rules import get_rule
from trainer.rules.dimensions import LENGTH, TEMPERATURE


def value(name: str, **inputs: Any) -> Any:
    """The value of a rule."""
    return get_rule(name)(**inputs).value


def row(row_id: str) -> tuple[dict[str, str], dict[str, str]]:
    """What the example gives and what comes out."""
    return WORKED[row_id]["given"], WORKED[row_id]["result"]


def change(low: str, high: str) -> Fraction:
    """The change between two temperatures."""
    return Fraction(TEMPERATURE.parse(high) - TEMPERATURE.parse(low))


@against(EXAMPLE)
def test_it_owes_protection_on_the_roof_of_the_example() -> None:
    """WX-020: 14 ft is 6 ft or more; WX-021: so is 22 ft. Both slopes are low."""
    for row_id in ("WX-020", "WX-021"):
        given, result = row(row_id)
        slope = given["slope"].removesuffix(":12") + " :12"

        assert value("is_low_slope", slope=slope) is True
        assert value("fall_protection_owed", height=given["height"]) is (result.get("protection", "required") != "none")


@against(EXAMPLE)
@pytest.mark.parametrize("row_id", ["WX-050", "WX-052"])
def test_it_moves_metal_between_the_two_temperatures(row_id: str) -> None:
    """The change is worked from the low and the high that the example gives."""
    given, result = row(row_id)
    moved = value(
        "metal_movement", expansion=given["alpha"], metal_length=given["piece"],
        temperature_change=change(given["low"], given["high"]),
    )  # fmt: skip

    assert float(moved) == pytest.approx(float(result["dL_in"]), abs=0.001)


@against(EXAMPLE)
@pytest.mark.parametrize(
    ("row_id", "limit", "shortfall"), [("WX-073", "36 in", "least_stagger"), ("WX-074", "12 in", "lap_offset")]
)
def test_it_gives_the_verdict_on_laps(row_id: str, limit: str, shortfall: str) -> None:
    """UFGS 07 52 00 3.3.6: end laps 30 in apart are not acceptable, plies 13-1/8 in apart are."""
    given, result = row(row_id)
    if shortfall == "least_stagger":
        laps = {
            side: given[f"course{course}_end_laps"].replace(",", ";") for side, course in (("upper", 2), ("lower", 1))
        }
        found = value("least_stagger", **laps)
    else:
        starter = value("starter_width", roll_width=given["sheet"], starter_cut="1/3")
        found = value(
            "lap_offset", run="20 ft", overhang=0, starter_width=starter, base_roll_width=given["sheet"],
            base_side_lap=given["side_lap"], cap_roll_width=given["sheet"], cap_side_lap=given["side_lap"],
        )  # fmt: skip

    assert (value("lap_shortfall", lap=found, limit=limit) == 0) is (result["verdict"] == "acceptable")


@against(EXAMPLE)
def test_it_loads_a_roof_by_both_heads_of_the_example() -> None:
    """WX-040: the depth is the sum of the static and the hydraulic head."""
    given, result = row("WX-040")
    depth = LENGTH.parse(given["static_head"]) + LENGTH.parse(given["hydraulic_head"])

    assert float(value("pond_load", depth=depth)) == pytest.approx(float(result["R_psf"]), abs=0.1)


@against(EXAMPLE)
def test_it_judges_the_fall_of_the_tapered_run() -> None:
    """WX-100: the fall is the high end less the low one; in percent it meets 2, in inches a foot it misses 1/4."""
    given, result = row("WX-100")
    slope = value(
        "slope_from_fall", fall=LENGTH.parse(given["high"]) - LENGTH.parse(given["low"]), run=given["run"]
    )  # fmt: skip

    assert float(value("slope_percent", slope=slope)) * 100 == pytest.approx(float(result["percent"]), abs=0.0005)
    for least, meets in (("1/4 in per ft", "meets_quarter_inch"), ("2 percent", "meets_2_percent")):
        short = value("slope_shortfall", slope=slope, least_slope=least)
        assert (short == 0) is (result[meets] == "yes")


@against(EXAMPLE)
def test_it_measures_up_the_slope_of_the_example() -> None:
    """WX-101: 20 ft at 4:12, by the rule for lengths up a slope."""
    given, result = row("WX-101")
    length = value("length_up_slope", run=given["run"], slope=given["slope"].replace(":12", " :12"))

    assert float(length) / 12 == pytest.approx(float(result["length_ft"]), abs=0.00005)
    assert LENGTH.text(length) == result["length"]


@against(EXAMPLE)
def test_it_snaps_the_chalk_lines_of_the_example() -> None:
    """WX-103: sheet, lap and first line as given; four lines."""
    given, result = row("WX-103")
    marks = [LENGTH.parse(mark) for mark in result["marks"].removesuffix(" in").split(", ")]
    lines = value(
        "chalk_lines", run=marks[-1] + 1, overhang=0, starter_width=given["first_line"].partition(" from")[0],
        roll_width=given["sheet"], side_lap=given["side_lap"],
    )  # fmt: skip

    assert list(lines) == marks


@against(EXAMPLE)
def test_it_owes_a_10b_for_the_propane_of_the_example() -> None:
    """WX-104: two 20 lb cylinders are over 5 lb; the 10B stands within 50 ft."""
    given, result = row("WX-104")
    assert given["propane"] == "two 20 lb cylinders in use"
    within = Fraction(result["10B_within_ft"])

    assert value("flammables_owe_10b", liquid_in_use="0 gal", gas_in_use="40 lb") is True
    assert value("extinguisher_10b_in_reach", walk=12 * within) is True
    assert value("extinguisher_10b_in_reach", walk=12 * within + Fraction(1, 16)) is False


@against(EXAMPLE)
def test_it_finds_the_dew_point_of_two_bulbs_in_fahrenheit() -> None:
    """DP-024: dry 100 degF, wet 65 degF: 40.0 degF; what the bulbs say of humidity is the psychrometric library's."""
    given = CITED["DP-024"].inputs
    dry, wet = (TEMPERATURE.parse(given[bulb]) for bulb in ("dry_bulb", "wet_bulb"))
    psychrolib.SetUnitSystem(psychrolib.IP)
    humidity = psychrolib.GetRelHumFromTWetBulb(float(dry), float(wet), float(given["pressure"].removesuffix(" psi")))

    dew = value("dew_point", air_temperature=dry, humidity=Fraction(humidity))
    assert abs(dew - CITED["DP-024"].number) <= CITED["DP-024"].within


@against(EXAMPLE)
def test_it_finds_the_dew_point_of_two_bulbs_in_celsius() -> None:
    """WX-084: dry 40 degC, wet 20 degC: 14 percent and 7.4 degC within half a degree, a handbook's example."""
    given, result = row("WX-084")
    tolerance, humidity_within = (Fraction(part.split()[0]) for part in WORKED["WX-084"]["tolerance"].split("; ")[:2])
    dry, wet = (TEMPERATURE.parse(given[bulb]) for bulb in ("dry_bulb", "wet_bulb"))
    psychrolib.SetUnitSystem(psychrolib.IP)
    humidity = Fraction(psychrolib.GetRelHumFromTWetBulb(float(dry), float(wet), 14.696))

    assert abs(humidity - Fraction(result["rh"])) <= humidity_within
    dew = value("dew_point", air_temperature=dry, humidity=humidity)
    assert abs((dew - 32) * 5 / 9 - Fraction(result["dew_point_degC"])) <= tolerance
