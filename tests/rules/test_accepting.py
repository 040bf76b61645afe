"""Rules that accept or reject, corner pieces, waste by its reason: each worked by hand, at the bound and beside it."""

from fractions import Fraction
from typing import Any

import pytest

from tests.rules.steps import assert_steps
from trainer.rules import RuleInputError, get_rule

SHEET = {"roll_width": "40 in", "roll_length": "100 ft", "side_lap": "4 in", "end_lap": "6 in"}
COVER = {"cover_weight": "250 lb", "cover_factor": 3, "cover_secured": True, "cover_marked": True}
CORNER = {"corner_cut": "4 in", "cut_tolerance": "1/4 in"}
LADDER = {"working_length": "16 ft", "foot_tolerance": "2 in"}
METAL = {"corner_leg": "18 in", "metal_length": "10 ft", "metal_lap": "4 in"}
ROWS = {
    "a sound deck": ("deck_ready", {"backed_out": 0, "surface_dry": True, "deck_clean": True}, True),
    "one fastener up": ("deck_ready", {"backed_out": 1, "surface_dry": True, "deck_clean": True}, False),
    "a damp deck": ("deck_ready", {"backed_out": 0, "surface_dry": False, "deck_clean": True}, False),
    "an unswept deck": ("deck_ready", {"backed_out": 0, "surface_dry": True, "deck_clean": False}, False),
    "a cover that just holds": ("hole_cover_accepted", {**COVER, "cover_capacity": "750 lb"}, True),
    "a cover a pound short": ("hole_cover_accepted", {**COVER, "cover_capacity": "749 lb"}, False),
    "a loose cover": ("hole_cover_accepted", {**COVER, "cover_capacity": "900 lb", "cover_secured": False}, False),
    "an unmarked cover": ("hole_cover_accepted", {**COVER, "cover_capacity": "900 lb", "cover_marked": False}, False),
    "aluminum as thick as asked": ("thickness_within", {"thickness": "0.032 in", "least_thickness": "0.032 in"}, True),
    "aluminum too thin": ("thickness_within", {"thickness": "0.031 in", "least_thickness": "0.032 in"}, False),
    "copper as heavy as asked": (
        "sheet_weight_within", {"sheet_weight": "1 psf", "least_sheet_weight": "16 oz/ft2"}, True,
    ),
    "copper too light": (
        "sheet_weight_within", {"sheet_weight": "15 oz per ft2", "least_sheet_weight": "1 psf"}, False,
    ),
    "three of sixty": ("open_seam_share", {"probed": 60, "open_seams": 3}, Fraction(1, 20)),
    "none open": ("open_seam_share", {"probed": 1, "open_seams": 0}, 0),
    "all open": ("open_seam_share", {"probed": 7, "open_seams": 7}, 1),
    "8 in up and 4 in out": ("corner_piece_size", {"up_wall": "8 in", "onto_roof": "4 in"}, 12),
    # of 1,000 ft² the laps take 1 − 36/40 × 99.5/100, 104.5 ft²; 120 are lost, so 15.5 went into cuts
    "more than laps": (
        "waste_to_cuts", {**SHEET, "gross_area": "1000 ft2", "net_area": "880 ft2"}, Fraction(31, 2000),
    ),
    "laps alone": ("waste_to_cuts", {**SHEET, "gross_area": "1000 ft2", "net_area": "895.5 ft2"}, 0),
    # the sheet that both others cover loses its corner; one over it is the sheet between, none the one on top
    "a corner cut right": ("corner_cut_accepted", {**CORNER, "sheets_over": 2, "cut": "4 1/4 in"}, True),
    "a corner cut too small": ("corner_cut_accepted", {**CORNER, "sheets_over": 2, "cut": "3 11/16 in"}, False),
    "a corner cut too large": ("corner_cut_accepted", {**CORNER, "sheets_over": 2, "cut": "4 5/16 in"}, False),
    "the sheet between": ("corner_cut_accepted", {**CORNER, "sheets_over": 1, "cut": "4 in"}, False),
    "the sheet on top": ("corner_cut_accepted", {**CORNER, "sheets_over": 0, "cut": "4 in"}, False),
    "laid from the low edge": ("lap_with_water", {"over_up": "36 in", "under_up": "0 in"}, True),
    "laid from the high edge": ("lap_with_water", {"over_up": "0 in", "under_up": "36 in"}, False),
    "an end lap in one course": ("lap_with_water", {"over_up": "36 in", "under_up": "36 in"}, True),
    "a panel as wet as allowed": ("panel_dry_enough", {"moisture": "16 %", "most_moisture": "16 %"}, True),
    "a panel too wet": ("panel_dry_enough", {"moisture": "17 %", "most_moisture": "16 %"}, False),
    # 40 ft less two legs of 18 in, two laps of 4 in on them: 37 ft 8 in; four lengths reach 39 ft
    "metal between corners": ("metal_between_corners", {**METAL, "edge": "40 ft"}, 4),
    "four lengths just reach": ("metal_between_corners", {**METAL, "edge": "41 ft 4 in"}, 4),
    "four lengths just miss": ("metal_between_corners", {**METAL, "edge": "41 ft 4 1/16 in"}, 5),
    "legs that lap each other": ("metal_between_corners", {**METAL, "edge": "32 in"}, 0),
    "legs a hair apart": ("metal_between_corners", {**METAL, "edge": "32 1/16 in"}, 1),
    "one short length": ("metal_between_corners", {**METAL, "edge": "6 ft"}, 1),
    "a low slope": ("sheets_run_across", {"slope": "2 in per ft"}, True),
    "a steeper one": ("sheets_run_across", {"slope": "2 1/16 in per ft"}, False),
    "the maker's limit": ("sheets_run_across", {"slope": "1 in per ft", "across_limit": "1/2 in per ft"}, False),
    "panels butted": ("joint_gap_within", {"gap": 0, "joint_gap": "1/4 in"}, False),
    "boards butted": ("joint_gap_within", {"gap": 0, "joint_gap": "1/4 in", "least_gap": 0}, True),
    "a wide joint": ("joint_gap_within", {"gap": "5/16 in", "joint_gap": "1/4 in"}, False),
    # 16 ft of ladder: a quarter is 48 in, one out for four up 192 ÷ √17 = 46.57 in
    "a ladder too flat": ("ladder_foot_accepted", {**LADDER, "foot_out": "50 1/16 in"}, False),
    "a ladder just flat": ("ladder_foot_accepted", {**LADDER, "foot_out": "50 in"}, True),
    "a ladder just steep": ("ladder_foot_accepted", {**LADDER, "foot_out": "44 5/8 in"}, True),
    "a ladder too steep": ("ladder_foot_accepted", {**LADDER, "foot_out": "44 1/2 in"}, False),
    "an hour since reading": ("next_reading_left", {"since_reading": "1 h"}, 180),
    "the site's own interval": ("next_reading_left", {"since_reading": "1 h", "reading_interval": "2 h"}, 60),
    "long overdue": ("next_reading_left", {"since_reading": "9 h"}, 0),
    # 3 in of fall on √(4² + 3²) = 5 ft
    "a valley of 3, 4, 5": (
        "valley_slope", {"slope": "1 in per ft", "valley_up": "3 ft", "valley_across": "4 ft"}, Fraction(3, 5),
    ),
    "a valley straight down": (
        "valley_slope", {"slope": "1/4 in per ft", "valley_up": "3 ft", "valley_across": 0}, Fraction(1, 4),
    ),
    "tapered boards": ("taper_thickness", {"thin_edge": "1/2 in", "run": "12 ft", "slope": "1/4 in per ft"}, 3.5),
    "less than laps": ("waste_to_cuts", {**SHEET, "gross_area": "1000 ft2", "net_area": "950 ft2"}, 0),
}  # fmt: skip
REFUSED = {
    "a deck nobody looked at": ("deck_ready", {"surface_dry": True, "deck_clean": True}, "backed_out is missing"),
    "a cover that must hold nothing": (
        "hole_cover_accepted", {**COVER, "cover_capacity": 1, "cover_weight": 0},
        "cover_weight is 0 lb; it must be more than 0",
    ),
    "a factor below one": (
        "hole_cover_accepted", {**COVER, "cover_capacity": 1, "cover_factor": "0.9"},
        "cover_factor is 0.9; it must be at least 1",
    ),
    "no thickness asked for": ("thickness_within", {"thickness": "0.05 in"}, "least_thickness is missing"),
    "no weight asked for": ("sheet_weight_within", {"sheet_weight": "1 psf"}, "least_sheet_weight is missing"),
    "more open than probed": (
        "open_seam_share", {"probed": 4, "open_seams": 5}, r"probed is 4; it must be at least open_seams \(5\)",
    ),
    "nothing probed": ("open_seam_share", {"probed": 0, "open_seams": 0}, "probed is 0; it must be at least 1"),
    "more covered than bought": (
        "waste_to_cuts", {**SHEET, "gross_area": 9, "net_area": 10},
        r"gross_area is 9 ft²; it must be at least net_area \(10 ft²\)",
    ),
    "no maker's number": ("panel_dry_enough", {"moisture": "12 %"}, "most_moisture is missing"),
    "a leg shorter than its lap": (
        "metal_between_corners", {**METAL, "edge": "40 ft", "corner_leg": "4 in"}, r"corner_leg is 4 in; .* more than",
    ),
    "more sheets than meet": (
        "corner_cut_accepted", {**CORNER, "cut": "4 in", "sheets_over": 3}, "sheets_over is 3; it must be at most 2",
    ),
    "a corner without its measure": (
        "corner_cut_accepted", {"sheets_over": 2, "cut": "4 in", "cut_tolerance": 0}, "corner_cut is missing",
    ),
    "a ladder lying down": (
        "ladder_foot_accepted", {**LADDER, "foot_out": "16 ft"}, r"working_length is .* more than foot_out",
    ),
    "a valley that starts nowhere": (
        "valley_slope", {"slope": 1, "valley_up": 0, "valley_across": 1}, "valley_up is 0 in",
    ),
    "limits crossed": (
        "joint_gap_within", {"gap": 0, "joint_gap": "1/16 in"}, r"joint_gap is .* at least least_gap",
    ),
    "a corner with nothing up": ("corner_piece_size", {"up_wall": 0, "onto_roof": 4}, "up_wall is 0 in"),
}  # fmt: skip


@pytest.mark.parametrize(("name", "inputs", "value"), ROWS.values(), ids=ROWS)
def test_it_gives_what_the_table_says(name: str, inputs: dict[str, Any], value: Any) -> None:
    """Value, kind of value, and steps that add up."""
    working = get_rule(name)(**inputs)

    assert working.value == value
    assert isinstance(working.value, bool) is isinstance(value, bool)
    assert_steps(working)


@pytest.mark.parametrize(("name", "inputs", "says"), REFUSED.values(), ids=REFUSED)
def test_it_refuses_a_verdict(name: str, inputs: dict[str, Any], says: str) -> None:
    """Without what only the drawing, the competent person or a look at the roof can give there is none."""
    with pytest.raises(RuleInputError, match=says):
        get_rule(name)(**inputs)


def test_it_leaves_nothing_between_legs_that_pass_each_other() -> None:
    """Corner pieces longer than the edge leave 0 inches and no part of a length, never less than none."""
    working = get_rule("metal_between_corners")(**{**METAL, "edge": "24 in"})

    assert {step.name: step.value for step in working.steps}["between_corners"] == 0
    assert (working.value, working.before_rounding) == (0, 0)
