"""Falls, fire, water, sampling plans and weather against published values; and no published row is left out."""

import csv
import math
from collections.abc import Callable
from fractions import Fraction
from itertools import product
from typing import Any

import pytest
from scipy import stats  # type: ignore[import-untyped]

from tests.outside.proofs import CHART, EXAMPLE, LIBRARY, PUBLISHED, against
from tests.outside.published import CITED, COMMON_PRACTICE, FOLDER, VALUES, WORKED, Row, pairs, values
from trainer.rules import RuleInputError, get_rule
from trainer.rules.dimensions import LOAD, SLOPE, TEMPERATURE_DIFFERENCE

MORE = values("more_values.csv")
SITE = values("site_values.csv")
Check = Callable[[Row], Any]


def value(name: str, **inputs: Any) -> Any:
    """The value of a rule."""
    return get_rule(name)(**inputs).value


def heads(row: Row) -> Any:
    """The load of water as deep as both heads together."""
    depths = [get_rule("pond_load").inputs[0].dimension.parse(text) for text in row.inputs.values()]
    return value("pond_load", depth=sum(depths))


def of_a_large_lot(row: Row) -> Any:
    """The chance of accepting by the binomial distribution."""
    return value(
        "chance_accepted_large", share_bad=row.inputs["fraction_bad"], looked=row.inputs["n"], accepted=row.inputs["Ac"]
    )


def of_a_small_lot(row: Row) -> Any:
    """The chance of accepting by the hypergeometric distribution."""
    given = row.inputs
    return value("chance_accepted", lot=given["lot"], bad=given["bad_in_lot"], looked=given["n"], accepted=given["Ac"])


def roof_width(row: Row) -> Fraction:
    """The width that a monitor is judged by, in feet."""
    side_a, _, side_b = row.inputs["plan"].partition(" x ")
    steps = get_rule("monitor_alone_allowed")(side_a=side_a, side_b=side_b).steps
    return Fraction(next(step.value for step in steps if step.name == "roof_width")) / 12


CHECKS: dict[str, Check] = {
    "FP-004": roof_width,
    "LD-002": lambda _: value("ladder_foot_out", working_length="16 ft") / 192,
    "LD-005": lambda _: Fraction(math.degrees(math.acos(value("ladder_foot_out", working_length="20 ft") / 240))),
    "LD-006": lambda _: Fraction(math.degrees(math.atan2(192, value("ladder_foot_by_height", height="16 ft")))),
    "PO-002": lambda _: value("pond_load", depth="12 in"),
    "PO-003": lambda _: round(Fraction(LOAD.number(value("pond_load", depth="1 mm"), "kPa")), 4),
    **dict.fromkeys(("PO-011", "PO-012"), heads),
    "UG-049": lambda _: round(value("gauge_thickness", gauge=24), 4),
    **dict.fromkeys(
        ("SL-026", "SL-027"), lambda row: SLOPE.parse(row.inputs["slope"].replace(":", "/") + " ratio")
    ),
    **dict.fromkeys([f"MS-0{number}" for number in (40, 41, 42, 43, 44, 47, 56, 57, 58, 59)], of_a_large_lot),
    **dict.fromkeys(("MS-051", "MS-052"), of_a_small_lot),
}  # fmt: skip
DEFAULTS = {
    "FP-009": ("warning_line_height_within", "line_height_least", "in"),
    "FP-010": ("warning_line_height_within", "line_height_most", "in"),
    "FP-014": ("top_rail_within", "rail_target", "in"), "FP-019": ("free_fall_allowed", "free_fall_limit", "ft"),
    "FR-002": ("extinguisher_in_reach", "most_walk", "ft"),
    "FR-003": ("extinguisher_10b_in_reach", "most_walk_10b", "ft"),
    "FR-004": ("flammables_owe_10b", "liquid_limit", "gal"), "FR-005": ("flammables_owe_10b", "gas_limit", "lb"),
    "UG-006": ("sheets_run_across", "across_limit", "in per ft"),
    "DP-022": ("readings_in_shift", "reading_interval", "h"),
}  # fmt: skip
"""Published limits, and the input that stands at this value unless another jurisdiction's is given."""
LEAST = {
    "UG-044": ("sheet_weight_within", "sheet_weight"), "UG-051": ("sheet_weight_within", "sheet_weight"),
    "UG-045": ("thickness_within", "thickness"), "UG-048": ("thickness_within", "thickness"),
}  # fmt: skip
"""Least weights and thicknesses, and the rule that takes them as its limit: it compares, so this proves no number."""
TOLD = {"FP-020", "FP-022", "FP-025", "FP-038", "BC-008", "SL-023", "DP-021", "MS-027"}
"""Rows with a test of their own below."""
PLANS = [row_id for row_id, row in MORE.items() if row.value.startswith("n=")]


@against(PUBLISHED)
@pytest.mark.parametrize("row_id", CHECKS)
def test_it_agrees_with_the_published_value(row_id: str) -> None:
    """The rule gives the published value, exactly or within the tolerance the row prints."""
    row = MORE[row_id]

    assert abs(CHECKS[row_id](row) - row.number) <= row.within, row.source


@pytest.mark.parametrize("row_id", DEFAULTS)
def test_it_stands_at_the_published_limit(row_id: str) -> None:
    """The limit a rule uses when nobody gives another is the one its clause prints."""
    row, (name, at, unit) = MORE[row_id], DEFAULTS[row_id]
    item = next(item for item in get_rule(name).inputs if item.name == at)

    assert not item.required
    assert item.dimension.number(item.default, unit) == float(row.number), row.source


@pytest.mark.parametrize("row_id", LEAST)
def test_it_accepts_sheet_metal_from_the_published_least_on(row_id: str) -> None:
    """The least itself is enough, a thousandth less is not."""
    row, (name, at) = MORE[row_id], LEAST[row_id]
    least = {f"least_{at}": f"{row.value} {row.unit}"}

    assert value(name, **least, **{at: f"{row.value} {row.unit}"}) is True, row.source
    assert value(name, **least, **{at: f"{row.number - Fraction(1, 1000)} {row.unit}"}) is False


@against(PUBLISHED)
@pytest.mark.parametrize("row_id", PLANS)
def test_it_takes_the_plan_of_the_standard(row_id: str) -> None:
    """MIL-STD-105E tables I and II-A, arrows followed: sample, acceptance and rejection number."""
    row = MORE[row_id]
    printed = {key: int(number) for key, number in pairs(row.value).items()}
    plan = {"lot": row.inputs["lot"], "quality_limit": row.inputs["aql"]}

    assert value("plan_looks", **plan) == printed["n"], row.source
    assert value("plan_accepts", **plan) == printed["Ac"]
    assert value("plan_rejects", **plan) == printed["Re"]


# MIL-STD-105E table II-A, single normal plans, as a building institute's contract guide prints it: rejection numbers,
# v and ^ for the arrows down and up, by limits of quality in percent
TABLE_LIMITS = ("1.0", "1.5", "2.5", "4.0", "6.5")
TABLE = {
    "A": (2, "v v v v 1"), "B": (3, "v v v 1 ^"), "C": (5, "v v 1 ^ v"), "D": (8, "v 1 ^ v 2"), "E": (13, "1 ^ v 2 3"),
    "F": (20, "^ v 2 3 4"), "G": (32, "v 2 3 4 6"), "H": (50, "2 3 4 6 8"), "J": (80, "3 4 6 8 11"),
}  # fmt: skip
LOTS = {"A": 8, "B": 15, "C": 25, "D": 50, "E": 90, "F": 150, "G": 280, "H": 500, "J": 1200}


@against(CHART)
@pytest.mark.parametrize(("letter", "limit"), list(product(TABLE, TABLE_LIMITS)))
def test_it_follows_every_arrow_of_the_table(letter: str, limit: str) -> None:
    """Every cell for the largest lot of its letter; where the sample is as large as the lot, all are looked at."""
    letters, column = list(TABLE), TABLE_LIMITS.index(limit)
    at = letters.index(letter)
    while (cell := TABLE[letters[at]][1].split()[column]) in "v^":
        at += 1 if cell == "v" else -1
    lot = LOTS[letter]
    plan = {"lot": lot, "quality_limit": f"{limit} %"}

    assert get_rule("sampling_letter").result.text(value("sampling_letter", lot=lot)) == letter
    assert value("plan_looks", **plan) == min(TABLE[letters[at]][0], lot)
    assert value("plan_rejects", **plan) == int(cell)
    assert value("plan_accepts", **plan) == int(cell) - 1


@against(PUBLISHED)
def test_it_looks_at_all_of_a_lot_no_larger_than_the_sample() -> None:
    """MS-027: footnote of table II-A."""
    assert MORE["MS-027"].value == "inspect all"
    assert value("plan_looks", lot=6, quality_limit="1.0 %") == 6


def test_it_refuses_a_limit_of_quality_that_the_table_lacks() -> None:
    """The error lists those of the table."""
    for name in ("plan_looks", "plan_accepts", "plan_rejects"):
        with pytest.raises(RuleInputError, match=r"one of 1%, 1.5%, 2.5%, 4%, 6.5%") as refused:
            get_rule(name)(lot=40, quality_limit="3 %")

        assert refused.value.rule == name
        assert refused.value.text("es").endswith("debe ser uno de 1%, 1.5%, 2.5%, 4%, 6.5%. Use uno de la tabla.")


@against(EXAMPLE)
@pytest.mark.parametrize(
    ("row_id", "bad"), [("WX-090", "bad_in_lot"), ("WX-091", "bad_in_lot"), ("WX-092", "bad_in_lot")]
)
def test_it_finds_a_plan_and_its_risk(row_id: str, bad: str) -> None:
    """MIL-STD-105E tables I and II-A; the chance by scipy's hypergeometric distribution."""
    given, result = WORKED[row_id]["given"], WORKED[row_id]["result"]
    plan = {"lot": given["lot"], "quality_limit": given["aql"]}
    looked, accepted = value("plan_looks", **plan), value("plan_accepts", **plan)
    chance = value("chance_accepted", lot=given["lot"], bad=given[bad], looked=looked, accepted=accepted)

    assert (looked, accepted, value("plan_rejects", **plan)) == tuple(int(result[key]) for key in ("n", "Ac", "Re"))
    assert float(chance) == pytest.approx(float(result["P_accept"]), abs=0.0005)


@against(EXAMPLE)
def test_it_samples_the_seams_of_a_day() -> None:
    """WX-094: 480 ft in units of 10 ft; code D meets a down arrow."""
    given, result = WORKED["WX-094"]["given"], WORKED["WX-094"]["result"]
    lot = 480 // 10
    plan = {"lot": lot, "quality_limit": given["aql"]}

    assert lot == int(result["lot"])
    assert [value(name, **plan) for name in ("plan_looks", "plan_accepts", "plan_rejects")] == [
        int(result[key]) for key in ("n", "Ac", "Re")
    ]


@against(EXAMPLE)
def test_it_counts_the_squares_that_visits_go_by() -> None:
    """WX-095: 31,500 square feet are 315 squares; how many visits they ask for is the contract's to say."""
    given, result = WORKED["WX-095"]["given"], WORKED["WX-095"]["result"]

    assert value("roof_squares", area=given["area"]) == int(result["squares"])


@against(LIBRARY, "scipy")
@pytest.mark.parametrize(
    ("lot", "bad", "looked", "accepted"),
    [(40, 4, 8, 1), (40, 8, 13, 1), (12, 12, 3, 2), (500, 20, 50, 3), (9, 0, 9, 0)],
)
def test_it_agrees_with_scipy_about_accepting(lot: int, bad: int, looked: int, accepted: int) -> None:
    """Cumulative hypergeometric and binomial distributions of a statistics library."""
    small = value("chance_accepted", lot=lot, bad=bad, looked=looked, accepted=accepted)
    large = value("chance_accepted_large", share_bad=Fraction(bad, lot), looked=looked, accepted=accepted)

    assert float(small) == pytest.approx(stats.hypergeom(lot, bad, looked).cdf(accepted), abs=1e-12)
    assert float(large) == pytest.approx(stats.binom(looked, bad / lot).cdf(accepted), abs=1e-12)
    assert value("chance_missed", lot=lot, bad=bad, looked=looked) == value(
        "chance_accepted", lot=lot, bad=bad, looked=looked, accepted=0
    )


@against(EXAMPLE)
@pytest.mark.parametrize(("fails_at", "most"), [(1300, 650), (2900, 1450)], ids=["12 in hole", "6 in hole"])
def test_it_accepts_a_hole_cover_as_the_regulator_worked_it_out(fails_at: int, most: int) -> None:
    """OSHA interpretation letter of November 17, 2004, on 29 CFR 1926.502(i)(2) to (4).

    A cover that failed at 1,300 lb over a 12 in opening may bear 650 lb, one that failed at 2,900 lb over a 6 in
    opening 1,450 lb: twice what may be imposed. All covers are secured, and color coded or marked.
    """
    given = {"cover_capacity": f"{fails_at} lb", "cover_factor": 2, "cover_secured": True, "cover_marked": True}

    assert value("hole_cover_accepted", cover_weight=f"{most} lb", **given)
    assert not value("hole_cover_accepted", cover_weight=f"{most + 1} lb", **given)
    for missing in ("cover_secured", "cover_marked"):
        assert not value("hole_cover_accepted", cover_weight="1 lb", **{**given, missing: False})
    for missing in given:
        with pytest.raises(RuleInputError, match=f"{missing} is missing"):
            value("hole_cover_accepted", cover_weight="1 lb", **{key: given[key] for key in given if key != missing})


def test_it_bounds_what_an_arrested_fall_may_be() -> None:
    """FP-019, FP-020: 29 CFR 1926.502(d)(16)(iii) and (iv): 6 ft of free fall, 3.5 ft of deceleration, and no more."""
    give = {"anchor_give": "1 ft", "harness_stretch": "1 ft", "clear_margin": "2 ft"}
    most = {"free_fall": f"{MORE['FP-019'].value} ft", "deceleration": f"{MORE['FP-020'].value} ft"}

    assert value("fall_clearance", **most, **give) == 162  # 6 + 3.5 + 1 + 1 + 2 ft
    assert value("fall_clearance_left", clear_height="13 ft", fall_clearance=162) == -6
    for name in most:
        with pytest.raises(RuleInputError, match="at most") as refused:
            get_rule("fall_clearance")(**{**most, name: "6 ft 1/16 in"}, **give)
        assert refused.value.name == name
    for name in give:
        with pytest.raises(RuleInputError, match=f"{name} is missing"):
            get_rule("fall_clearance")(**most, **{key: text for key, text in give.items() if key != name})


@against(EXAMPLE)
@pytest.mark.parametrize(("d_ring_height", "allowed"), [("5 ft", False), ("0 ft", True), ("1/16 in", False)])
def test_it_allows_no_free_fall_over_its_limit(d_ring_height: str, allowed: bool) -> None:
    """WX-023 and its neighbors: 6 ft is the most, and tying off at the feet with a 6 ft lanyard passes it."""
    assert value("free_fall_allowed", lanyard="6 ft", d_ring_height=d_ring_height) is allowed
    assert WORKED["WX-023"]["result"]["allowed"] == "no"


@against(PUBLISHED)
@pytest.mark.parametrize(
    ("height", "within"), [("39 in", True), ("38 15/16 in", False), ("45 in", True), ("45 1/16 in", False)]
)
def test_it_judges_a_guardrail(height: str, within: bool) -> None:
    """FP-014: 29 CFR 1926.502(b)(1), 42 in give or take 3."""
    assert "39 to 45 in" in MORE["FP-014"].tolerance
    assert value("top_rail_within", rail_height=height) is within


@against(PUBLISHED)
def test_it_judges_a_warning_line_by_the_place() -> None:
    """FP-009, FP-010, FP-025: 34 to 39 in by federal rules, up to 45 in by California's."""
    low, high = MORE["FP-025"].value.split(" to ")
    line = {"line_lowest": f"{low} in", "line_highest": f"{high} in"}

    assert value("warning_line_height_within", line_lowest="34 in", line_highest="39 in") is True
    assert value("warning_line_height_within", line_lowest="33 15/16 in", line_highest="39 in") is False
    assert value("warning_line_height_within", line_lowest="34 in", line_highest="39 1/16 in") is False
    assert value("warning_line_height_within", **line) is False
    assert value("warning_line_height_within", **line, line_height_most=f"{high} in") is True


@against(PUBLISHED)
def test_it_owes_protection_by_the_limit_of_the_trade() -> None:
    """FP-022: 29 CFR 1910.28(b)(1)(i): general industry owes it from 4 ft on; construction from 6 ft."""
    limit = f"{MORE['FP-022'].value} ft"

    assert value("fall_protection_owed", height=limit, fall_height_limit=limit) is True
    assert value("fall_protection_owed", height="3 ft 11 15/16 in", fall_height_limit=limit) is False
    assert value("fall_protection_owed", height=limit) is False


@against(PUBLISHED)
def test_it_sets_the_line_back_from_edges_across_travel() -> None:
    """FP-038: 29 CFR 1926.502(f)(1)(ii): 6 ft from the long edges, 10 ft from the short ones."""
    long, short = (Fraction(part.split()[0]) for part in MORE["FP-038"].value.split("; "))

    assert value("warning_line_setback", equipment=True, across=False) == 12 * long
    assert value("warning_line_setback", equipment=True, across=True) == 12 * short


@against(PUBLISHED)
@pytest.mark.parametrize(
    ("liquid", "gas", "owed"),
    [("5 gal", "5 lb", False), ("5.01 gal", "0 lb", True), ("0 gal", "5.01 lb", True), ("0 gal", "40 lb", True)],
)
def test_it_owes_a_10b_above_the_limits(liquid: str, gas: str, owed: bool) -> None:
    """FR-004, FR-005, WX-104: strictly more than 5 gal or 5 lb; two 20 lb cylinders count."""
    assert value("flammables_owe_10b", liquid_in_use=liquid, gas_in_use=gas) is owed


@against(PUBLISHED)
def test_it_measures_the_way_to_an_extinguisher() -> None:
    """FR-002, FR-003: at most 100 ft to a 2A, at most 50 ft to a 10B (WX-104)."""
    assert value("extinguisher_in_reach", walk="100 ft") is True
    assert value("extinguisher_in_reach", walk="100 ft 1/16 in") is False
    within = WORKED["WX-104"]["result"]["10B_within_ft"]
    assert value("extinguisher_10b_in_reach", walk=f"{within} ft") is True
    assert value("extinguisher_10b_in_reach", walk=f"{within} ft 1/16 in") is False


@against(PUBLISHED)
def test_it_says_the_codes_slope_in_degrees() -> None:
    """BC-008: the International Building Code prints 1.19 degrees and 0.0208 rad beside 1/4 in per ft."""
    row = MORE["BC-008"]
    angle = value("slope_angle", slope=f"{row.value} in per ft")

    assert round(float(angle), 2) == 1.19
    assert round(math.radians(angle), 4) == 0.0208


@against(PUBLISHED)
def test_it_finds_a_slope_from_level_readings() -> None:
    """SL-023: 3 in over 20 ft is 0.15 in per ft, 1.25 percent: short of 1/4 in per ft."""
    row = MORE["SL-023"]
    slope = value("slope_from_fall", **row.inputs)
    printed, percent = (part.split()[0] for part in row.value.split(" = "))

    assert slope == Fraction(printed)
    assert value("slope_percent", slope=slope) * 100 == Fraction(percent)
    assert value("slope_shortfall", slope=slope, least_slope="1/4 in per ft") == Fraction(1, 10)


@against(PUBLISHED)
def test_it_takes_the_other_guidance_for_dew() -> None:
    """DP-021: 3 degC are 5.4 degF, so the two guidances differ by 0.4: a surface between them passes one only."""
    margin = TEMPERATURE_DIFFERENCE.parse(f"{MORE['DP-021'].value} degC")
    dew = value("dew_point", air_temperature="70 degF", humidity="50 %")
    air = {"air_temperature": "70 degF", "humidity": "50 %", "surface_temperature": dew + Fraction("5.2")}

    assert margin == Fraction("5.4")
    assert value("surface_above_dew", **air) is True
    assert value("surface_above_dew", **air, least_margin=margin) is False


def chart(name: str) -> list[tuple[str, str, int]]:
    """Read a chart: its row, its column, and the value that is printed there."""
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        head, *rows = csv.reader(file)
    return [
        (row[0], column, int(cell))
        for row in rows
        for column, cell in zip(head[1:], row[1:], strict=True)
        if cell
    ]  # fmt: skip


@against(CHART)
@pytest.mark.parametrize(("wind", "air", "printed"), chart("wind_chill.csv"))
def test_it_agrees_with_the_wind_chill_chart(wind: str, air: str, printed: int) -> None:
    """US National Weather Service, La Crosse office, wind chill chart of 2001: every cell to the degree it prints."""
    assert abs(value("wind_chill", air_temperature=f"{air} degF", wind_speed=f"{wind} mph") - printed) <= 0.5


# the chart is printed from a table that the equation only fits (SR 90-23: within 1.3 degF); these cells stray
STRAY = {("94", "50"), ("94", "85"), ("90", "45")}


@against(CHART)
@pytest.mark.parametrize(("air", "humidity", "printed"), chart("heat_index.csv"))
def test_it_agrees_with_the_heat_index_chart(air: str, humidity: str, printed: int) -> None:
    """US National Oceanic and Atmospheric Administration, heat index chart: it leaves the addition for damp air out."""
    working = get_rule("heat_index")(air_temperature=f"{air} degF", humidity=f"{humidity} %")
    base = next(step.value for step in working.steps if step.name == "heat_base")

    assert abs(base - printed) <= (0.9 if (air, humidity) in STRAY else 0.5)


@against(CHART)
@pytest.mark.parametrize(("air", "humidity"), list(product((80, 83, 86, 87, 88), (85, 86, 90, 100))))
def test_it_adds_for_damp_air_as_the_weather_service_writes(air: int, humidity: int) -> None:
    """Weather Prediction Center, the heat index equation: [(RH − 85) ÷ 10] × [(87 − T) ÷ 5] from 80 to 87 degF."""
    steps = {
        step.name: step.value
        for step in get_rule("heat_index")(air_temperature=f"{air} degF", humidity=f"{humidity} %").steps
    }
    added = (humidity - 85) / 10 * ((87 - air) / 5) if humidity > 85 and 80 <= air <= 87 else 0

    assert float(steps["heat_index"] - steps["heat_base"]) == pytest.approx(added, abs=1e-12)


def test_it_stops_where_the_heat_chart_ends() -> None:
    """Beyond 137 degF there is no number to work by."""
    with pytest.raises(RuleInputError, match=r"ends at 137 °F\. Beyond its end heat kills quickly: stop") as refused:
        get_rule("heat_index")(air_temperature="110 degF", humidity="60 %")

    assert (refused.value.name, refused.value.value) == ("humidity", "60%")
    assert refused.value.text("es").endswith("termina en 137 °F. Más allá el calor mata rápido: pare el trabajo.")


@pytest.mark.parametrize(
    ("name", "inputs", "missing"),
    [
        ("stacked_load_within", {"total_weight": "1000 lb", "stack_area": "64 ft2"}, "deck_load"),
        ("uplift_rating_within", {"uplift_rating": "45 psf"}, "uplift_pressure"),
        ("fire_watch_left", {"watched": "45 min"}, "fire_watch"),
        ("plates_by_zone", {"side_a": "60 ft", "side_b": "40 ft"}, "zone_width"),
    ],
)
def test_it_gives_no_verdict_without_what_only_others_can_say(name: str, inputs: dict[str, str], missing: str) -> None:
    """Deck loads, uplift pressures, fire-watch times and zones are never assumed."""
    with pytest.raises(RuleInputError, match=f"{missing} is missing"):
        get_rule(name)(**inputs)


def test_it_checks_every_row() -> None:
    """No row of the file is passed over."""
    assert sorted([*CHECKS, *DEFAULTS, *LEAST, *TOLD, *PLANS]) == sorted(MORE)


def test_it_applies_every_published_row_or_says_why_not() -> None:
    """The collection's rows are all here: checked above and in the neighboring files, or listed with the reason."""
    with (FOLDER / "not_applied.csv").open(encoding="utf-8", newline="") as file:
        left = {row["id"]: row for row in csv.DictReader(file)}
    every = (FOLDER / "every_row.txt").read_text(encoding="utf-8").split()

    assert sorted([*VALUES, *SITE, *MORE, *CITED, *WORKED, *left]) == every
    assert all(len(row["reason"]) > 20 and row["source"] for row in left.values())
    assert COMMON_PRACTICE.keys().isdisjoint(every)


@against(EXAMPLE)
@pytest.mark.parametrize("row_id", ["WX-080", "WX-081", "WX-082"])
def test_it_starts_laying_only_where_the_handbook_would(row_id: str) -> None:
    """MIL-HDBK-1110 9.6.6 for the margin; a wet surface or one colder than the maker allows stops it as well."""
    given, result = WORKED[row_id]["given"], WORKED[row_id]["result"]
    read = {
        "surface_temperature": given["substrate"],
        "air_temperature": given["air"],
        "humidity": given["rh"],
        "least_temperature": "50 degF",
        "surface_dry": True,
    }
    go = result["verdict"] == "start"

    assert value("laying_allowed", **read) is go
    assert value("laying_allowed", **{**read, "surface_dry": False}) is False
    assert value("laying_allowed", **{**read, "least_temperature": "80 degF"}) is False
    assert value("laying_allowed", **{**read, "least_temperature": given["substrate"]}) is go


@against(PUBLISHED)
def test_it_counts_rungs_for_the_rails_above_a_landing() -> None:
    """LD-001: 29 CFR 1926.1053(b)(1), 3 ft; the spacing is the ladder's own, measured on it."""
    assert value("rungs_above_landing", rung_spacing="1 ft") == int(SITE["LD-001"].value)
    assert value("rungs_above_landing", rung_spacing="11 in") == 4


@against(PUBLISHED)
def test_it_raises_a_cricket_as_a_slope_rises() -> None:
    """SL-020: 1/4 in per ft over 24 ft rises 6 in: half the width of a cricket of 48 ft."""
    row = SITE["SL-020"]

    assert row.inputs["run"] == "24 ft"
    assert value("cricket_height", cricket_width="48 ft", cricket_slope=row.inputs["slope"]) == row.number
