"""Falls, fire, boards, weather and the day's work against tables worked by hand; each row says how."""

from fractions import Fraction
from typing import Any

import pytest

from tests.rules.steps import assert_steps
from trainer.rules import RuleInputError, get_rule

BOARD = {"board_length": "8 ft", "board_width": "4 ft"}
ZONES = {"side_a": "60 ft", "side_b": "40 ft", "zone_width": "4 ft"}
SHIFT = {"work_time": "8 h", "time_kept": "90 min", "open_time": "20 min", "close_time": "55 min"}
ROWS: dict[str, tuple[str, dict[str, Any], Any]] = {
    # 1,118 lb over 8 × 8 ft
    "load of a stack": ("stacked_load", {"total_weight": "1118 lb", "stack_area": "64 ft2"}, Fraction(559, 32)),
    "stack just within": (
        "stacked_load_within", {"total_weight": "1280 lb", "stack_area": "64 ft2", "deck_load": "20 psf"}, True
    ),
    "stack over": (
        "stacked_load_within", {"total_weight": "1281 lb", "stack_area": "64 ft2", "deck_load": "20 psf"}, False
    ),
    # 13-1/8 in of rip holds two strips of 6 in, one of 7
    "two strips": ("strips_from_rip", {"starter_rip": "13 1/8 in", "strip_width": "6 in"}, 2),
    "one strip": ("strips_from_rip", {"starter_rip": "13 1/8 in", "strip_width": "7 in"}, 1),
    "strips just fit": ("strips_from_rip", {"starter_rip": "12 in", "strip_width": "6 in"}, 2),
    # 2 strips of 40 ft leave 20 of 100 ft
    "strip still needed": (
        "strip_still_needed",
        {"edge": "100 ft", "length": "40 ft", "starter_rip": "13 1/8 in", "strip_width": "6 in"},
        240,
    ),
    "strip enough": (
        "strip_still_needed",
        {"edge": "70 ft", "length": "40 ft", "starter_rip": "13 1/8 in", "strip_width": "6 in"},
        0,
    ),
    # 390 min at 75 min a square are 5.2
    "squares today": ("squares_opened_and_closed", SHIFT, 5),
    "squares, no minute to spare": ("squares_opened_and_closed", {**SHIFT, "time_kept": "105 min"}, 5),
    "squares, a minute short": ("squares_opened_and_closed", {**SHIFT, "time_kept": "106 min"}, 4),
    "no time left": ("squares_opened_and_closed", {**SHIFT, "time_kept": "8 h"}, 0),
    # 1,250 ft² of 32 ft² boards are 39.06
    "boards": ("boards_for_area", {"area": "1250 ft2", **BOARD}, 40),
    "boards exactly": ("boards_for_area", {"area": "1248 ft2", **BOARD}, 39),
    "plates": ("plates_for_boards", {"area": "1250 ft2", **BOARD, "plates_in_board": 11}, 440),
    # corners 64 ft², edges 672, field 1,664: 64, 420 and 572 plates
    "plates by zone": (
        "plates_by_zone", {**ZONES, **BOARD, "corner_plates": 32, "edge_plates": 20, "field_plates": 11}, 1056
    ),
    # a roof of 6 ft with zones of 4 ft is all corner: 60 × 6 less nothing
    "field": ("field_zone_area", ZONES, 1664),
    "no field left": ("field_zone_area", {**ZONES, "side_b": "6 ft"}, 0),
    "rating reaches": ("uplift_rating_within", {"uplift_rating": "45 psf", "uplift_pressure": "45 psf"}, True),
    "rating falls short": ("uplift_rating_within", {"uplift_rating": "44.9 psf", "uplift_pressure": "45 psf"}, False),
    # half of 10 ft at 1/2 in per ft
    "cricket": ("cricket_height", {"cricket_width": "10 ft", "cricket_slope": "1/2 in per ft"}, Fraction(5, 2)),
    # 2 × (8 + 4) + 1; 8 + 4 + 1
    "scupper girth": ("scupper_girth", {"scupper_width": "8 in", "scupper_height": "4 in", "seam_lap": "1 in"}, 25),
    "scupper depth": (
        "scupper_depth", {"wall_thickness": "8 in", "scupper_flange": "4 in", "scupper_drip": "1 in"}, 13
    ),
    # at 0 and 4 h; a shift of 8 h also reads at its end
    "readings": ("readings_in_shift", {"work_time": "7.9 h"}, 2),
    "readings to the hour": ("readings_in_shift", {"work_time": "8 h"}, 3),
    "readings more often": ("readings_in_shift", {"work_time": "8 h", "reading_interval": "2 h"}, 5),
    "fire watch left": ("fire_watch_left", {"watched": "45 min", "fire_watch": "2 h"}, 75),
    "fire watch over": ("fire_watch_left", {"watched": "3 h", "fire_watch": "2 h"}, 0),
    "clear height left": ("fall_clearance_left", {"clear_height": "14 ft", "fall_clearance": "13 ft"}, 12),
    "short beyond the tape": (
        "lap_surely_short", {"lap": "3 5/8 in", "limit": "4 in", "tape_error": "1/16 in"}, Fraction(5, 16)
    ),
    "the tape may be to blame": (
        "lap_surely_short", {"lap": "3 15/16 in", "limit": "4 in", "tape_error": "1/16 in"}, 0
    ),
    "rail at its limit": ("top_rail_within", {"rail_height": "45 in"}, True),
    "line at its limits": ("warning_line_height_within", {"line_lowest": "34 in", "line_highest": "39 in"}, True),
    "free fall at its limit": ("free_fall_allowed", {"lanyard": "6 ft", "d_ring_height": 0}, True),
    "walk at its limit": ("extinguisher_in_reach", {"walk": "100 ft"}, True),
    "walk to a 10B at its limit": ("extinguisher_10b_in_reach", {"walk": "50 ft"}, True),
    "flammables at their limits": ("flammables_owe_10b", {"liquid_in_use": "5 gal", "gas_in_use": "5 lb"}, False),
    "gas alone": ("flammables_owe_10b", {"liquid_in_use": 0, "gas_in_use": "20 lb"}, True),
    "height at its limit": ("fall_protection_owed", {"height": "6 ft"}, True),
    "monitor at its limit": ("monitor_alone_allowed", {"side_a": "50 ft", "side_b": "90 ft"}, True),
    "low slope at its limit": ("is_low_slope", {"slope": "4 in per ft"}, True),
    "edge along the travel": ("warning_line_setback", {"equipment": True, "across": False}, 72),
    "edge across nothing": ("warning_line_setback", {"equipment": False, "across": True}, 72),
    "edge across the travel": ("warning_line_setback", {"equipment": True, "across": True}, 120),
    "no room inside the line": (
        "warning_line_length", {"side_a": "10 ft", "side_b": "30 ft", "setback_a": "6 ft", "setback_b": "6 ft"}, 432
    ),
    "one extinguisher at least": ("extinguishers_by_area", {"area": "100 ft2"}, 1),
    "rungs": ("rungs_above_landing", {"rung_spacing": "13 in"}, 3),
}  # fmt: skip
REFUSED: dict[str, tuple[str, dict[str, Any], str, str]] = {
    "more kept than there is": (
        "squares_opened_and_closed", {**SHIFT, "time_kept": "9 h"}, "work_time", "at least time_kept (9 h)",
    ),
    "squares closed in no time": (
        "squares_opened_and_closed", {**SHIFT, "close_time": "0 min"}, "close_time", "at least 1 min",
    ),
    "wind that is none": (
        "wind_chill", {"air_temperature": "20 degF", "wind_speed": "3 mph"}, "wind_speed", "more than 3 mph",
    ),
    "a warm day's wind chill": (
        "wind_chill", {"air_temperature": "51 degF", "wind_speed": "9 mph"}, "air_temperature", "at most 50 °F",
    ),
    "a cool day's heat": (
        "heat_index", {"air_temperature": "79 degF", "humidity": "50 %"}, "air_temperature", "at least 80 °F",
    ),
    "dry heat": ("heat_index", {"air_temperature": "95 degF", "humidity": "39 %"}, "humidity", "at least 40%"),
    "a lot that no letter has": ("sampling_letter", {"lot": 1201}, "lot", "at most 1,200"),
    "a lot of one": ("plan_looks", {"lot": 1, "quality_limit": "4 %"}, "lot", "at least 2"),
    "a line upside down": (
        "warning_line_height_within", {"line_lowest": "39 in", "line_highest": "34 in"}, "line_highest",
        "at least line_lowest (3 ft 3 in)",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("name", "inputs", "value"), ROWS.values(), ids=ROWS)
def test_it_gives_what_the_table_says(name: str, inputs: dict[str, Any], value: Any) -> None:
    """Each row is worked by hand."""
    working = get_rule(name)(**inputs)

    assert working.value == value
    assert isinstance(working.value, bool) is isinstance(value, bool)
    assert_steps(working)


@pytest.mark.parametrize(("name", "inputs", "at", "limit"), REFUSED.values(), ids=REFUSED)
def test_it_refuses_what_cannot_be(name: str, inputs: dict[str, Any], at: str, limit: str) -> None:
    """The error names the input and its limit."""
    with pytest.raises(RuleInputError) as refused:
        get_rule(name)(**inputs)

    assert (refused.value.name, refused.value.limit) == (at, limit)


@pytest.mark.parametrize(
    ("name", "inputs", "before"),
    [
        ("squares_opened_and_closed", SHIFT, Fraction(26, 5)),
        ("boards_for_area", {"area": "1250 ft2", **BOARD}, Fraction(625, 16)),
        ("plates_for_boards", {"area": "1250 ft2", **BOARD, "plates_in_board": 11}, Fraction(6875, 16)),
        (
            "plates_by_zone",
            {**ZONES, "side_b": "41 ft", **BOARD, "corner_plates": 32, "edge_plates": 20, "field_plates": 11},
            # 64, 680 and 1,716 ft²
            64 + 425 + Fraction(4719, 8),
        ),
        ("strips_from_rip", {"starter_rip": "13 in", "strip_width": "6 in"}, Fraction(13, 6)),
        ("readings_in_shift", {"work_time": "7 h"}, Fraction(11, 4)),
        ("rungs_above_landing", {"rung_spacing": "11 in"}, Fraction(36, 11)),
    ],
)
def test_it_keeps_what_was_rounded(name: str, inputs: dict[str, Any], before: Any) -> None:
    """The value before rounding is worked by hand."""
    assert get_rule(name)(**inputs).before_rounding == before


def test_it_shows_which_reading_forbids_laying() -> None:
    """Each of the three can say no by itself, and the steps tell which did."""
    good = {
        "surface_temperature": "70 degF", "least_temperature": "50 degF", "air_temperature": "70 degF",
        "humidity": "50 %", "surface_dry": True,
    }  # fmt: skip
    flags = ("warm_enough", "dry_enough")
    rule = get_rule("laying_allowed")

    def told(**changed: Any) -> tuple[Any, ...]:
        working = rule(**{**good, **changed})
        steps = {step.name: step.value for step in working.steps}
        return (working.value, *(steps[flag] for flag in flags))

    assert told() == (True, True, True)
    assert told(surface_dry=False) == (False, True, True)
    assert told(least_temperature="71 degF") == (False, False, True)
    assert told(humidity="95 %") == (False, True, False)
    with pytest.raises(RuleInputError, match="least_temperature is missing"):
        rule(**{key: value for key, value in good.items() if key != "least_temperature"})
