"""Inputs that every rule can work with, by the name of the input, and how hard properties are tried."""

from fractions import Fraction
from typing import Any, TypedDict

from hypothesis import HealthCheck, settings

from tests.mode import PROFILE
from trainer.rules import Rule


def examples(number: int, profile: str = PROFILE) -> int:
    """Give how many examples a property is tried on: ten times as many in a long run, few for each mutant."""
    return round(number * {"long": 10, "mutation": 0.02}.get(profile, 1))


class _Settings(TypedDict):
    deadline: None
    suppress_health_check: list[HealthCheck]


_CALM: _Settings = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.filter_too_much]}
INVARIANT = settings(max_examples=examples(2_000), **_CALM)
REFUSAL = settings(max_examples=examples(200), **_CALM)

INPUTS: dict[str, str | int] = {
    "across": "yes",
    "air_temperature": "70 degF",
    "area": "1250 ft2",
    "area_served": "3000 ft2",
    "bad": 4,
    "base_roll_width": "39 3/8 in",
    "base_side_lap": "4 in",
    "bead_depth": "1/4 in",
    "bead_width": "3/8 in",
    "bead_diameter": "1/4 in",
    "beads": 2,
    "cap_roll_width": "39 3/8 in",
    "cap_side_lap": "3 1/4 in",
    "cap_starter_width": "39 3/8 in",
    "cartridge": "10.1 fl oz",
    "coating_weight": "0.15625 psf",
    "collar_flange": "6 in",
    "confidence": "90 %",
    "corner_cut": "4 in",
    "corners_across": "0; 40 ft; 40 ft; 15 ft; 15 ft; 0",
    "corners_up": "0; 0; 20 ft; 20 ft; 32 ft; 32 ft",
    "courses": 9,
    "curb_height": "14 in",
    "curb_length": "4 ft",
    "curb_width": "3 ft",
    "damage": "7 in",
    "d_ring_height": "5 ft",
    "depth": "3/4 in",
    "eave": "51 ft 3 in",
    "edge": "86 ft 5 in",
    "edge_spacing": "6 in",
    "end_lap": "6 in",
    "end_lap_stagger": "36 in",
    "equipment": "yes",
    "expansion": "0.0000065 per degF",
    "fall": "6 in",
    "fall_height_limit": "6 ft",
    "far": "10 ft",
    "field_spacing": "12 in",
    "fillet_leg": "3/8 in",
    "flag_spacing": "6 ft",
    "foot_out": "4 ft",
    "gauge": "26",
    "height": "16 ft",
    "humidity": "50 %",
    "lanyard": "6 ft",
    "least_margin": "5 degF",
    "least_slope": "1/4 in per ft",
    "least_temperature": "50 degF",
    "line_length": "280 ft",
    "looked": 8,
    "lot": 40,
    "low_slope_limit": "4 in per ft",
    "metal_gap": "1/4 in",
    "monitor_width": "50 ft",
    "movement": "1/8 in",
    "near": "6 ft",
    "rails_above": "3 ft",
    "setback_a": "6 ft",
    "setback_b": "10 ft",
    "share_bad": "10 %",
    "sheet_weight": "1 psf",
    "slope": "3/16 in per ft",
    "span": "20 ft",
    "steel_weight": "41.82 psf per in",
    "surface_temperature": "56 degF",
    "temperature_change": "140 degF",
    "water_load": "5.2 psf per in",
    "working_length": "16 ft",
    "zone_width": "3 ft",
    "first_piece": "20 ft",
    "flange": "3 in",
    "gap": "3/8 in",
    "gross_area": "1400 ft2",
    "insulation": "4 1/2 in",
    "joint_gap": "1/4 in",
    "lap": "3 5/8 in",
    "length": "92 ft 7 in",
    "limit": "4 in",
    "lower": "16 ft; 32 ft",
    "metal_lap": "4 in",
    "metal_length": "10 ft",
    "nails": 41,
    "nails_in_pound": 180,
    "net_area": "1250 ft2",
    "overhang": "2 in",
    "panel_length": "8 ft",
    "panel_width": "4 ft",
    "patch_lap": "6 in",
    "pipe_diameter": "4 1/2 in",
    "pond_depth": "1/2 in",
    "primer_rate": "0.75 gal per 100 ft2",
    "roll_length": "32 ft 9 in",
    "roll_weight": "86 lb",
    "roll_width": "39 3/8 in",
    "rolls": 13,
    "rolls_on_pallet": 25,
    "run": "24 ft 6 in",
    "side_a": "60 ft",
    "side_b": "80 ft",
    "side_lap": "4 in",
    "side_lap_offset": "12 in",
    "spacing": "8 in",
    "starter_cut": "1/3",
    "starter_width": "26 1/4 in",
    "strip_lap": "4 in",
    "strip_width": "7 in",
    "support_spacing": "24 in",
    "top_overhang": "2 in",
    "upper": "13 ft 6 in; 29 ft",
    "waste": "10 %",
    "accepted": 1,
    "anchor_give": "6 in",
    "board_length": "8 ft",
    "board_width": "4 ft",
    "clear_height": "14 ft",
    "clear_margin": "2 ft",
    "close_time": "55 min",
    "corner_plates": 32,
    "cricket_slope": "1/2 in per ft",
    "cricket_width": "10 ft",
    "deceleration": "3 ft 6 in",
    "deck_load": "20 psf",
    "edge_plates": 20,
    "fall_clearance": "13 ft",
    "field_plates": 11,
    "fire_watch": "2 h",
    "free_fall": "5 ft",
    "free_fall_limit": "6 ft",
    "gas_in_use": "20 lb",
    "gas_limit": "5 lb",
    "harness_stretch": "1 ft",
    "line_height_least": "34 in",
    "line_height_most": "39 in",
    "line_highest": "38 in",
    "line_lowest": "33 in",
    "liquid_in_use": "4 gal",
    "liquid_limit": "5 gal",
    "most_walk": "100 ft",
    "most_walk_10b": "50 ft",
    "open_time": "20 min",
    "plates_in_board": 11,
    "quality_limit": "6.5 %",
    "rail_height": "38 1/2 in",
    "rail_target": "42 in",
    "rail_tolerance": "3 in",
    "reading_interval": "4 h",
    "rung_spacing": "11 in",
    "scupper_drip": "1 in",
    "scupper_flange": "4 in",
    "scupper_height": "4 in",
    "scupper_width": "8 in",
    "seam_lap": "1 in",
    "stack_area": "64 ft2",
    "starter_rip": "13 1/8 in",
    "surface_dry": "yes",
    "tape_error": "1/16 in",
    "time_kept": "90 min",
    "total_weight": "1118 lb",
    "uplift_pressure": "42.8 psf",
    "uplift_rating": "45 psf",
    "walk": "85 ft",
    "wall_thickness": "8 in",
    "watched": "45 min",
    "wind_speed": "15 mph",
    "backed_out": 2,
    "deck_clean": "yes",
    "cover_capacity": "500 lb",
    "cover_factor": "1.5",
    "cover_weight": "280 lb",
    "cover_marked": "yes",
    "cover_secured": "yes",
    "least_sheet_weight": "24 oz per ft2",
    "least_thickness": "0.0239 in",
    "onto_roof": "4 in",
    "open_seams": 3,
    "probed": 64,
    "thickness": "0.05 in",
    "up_wall": "8 in",
    "work_time": "8 h",
    "across_limit": "2 in per ft",
    "copper_weight": "46.368 psf per in",
    "cut": "4 1/8 in",
    "cut_tolerance": "1/4 in",
    "foot_tolerance": "2 in",
    "least_gap": "1/8 in",
    "other_trades": "15 ft",
    "over_up": "6 ft",
    "roofing_work": "yes",
    "sheets_over": 2,
    "since_reading": "150 min",
    "thin_edge": "1 in",
    "under_up": "3 ft",
    "valley_across": "6 ft",
    "valley_up": "4 ft",
    "corner_leg": "18 in",
    "moisture": "15 %",
    "half_round": "3/8 in",
    "most_moisture": "16 %",
}


OWN: dict[str, dict[str, str | int]] = {
    "heat_index": {"air_temperature": "86 degF", "humidity": "90 %"},
    "wind_chill": {"air_temperature": "25 degF"},
}
"""Inputs of rules that the common sample lies outside of."""


def sample(rule: Rule[..., Any]) -> dict[str, Any]:
    """Give checked inputs for a rule, the optional ones included."""
    own = OWN.get(rule.name, {})
    return rule.checked({item.name: own.get(item.name, INPUTS[item.name]) for item in rule.inputs})


def scaled(rule: Rule[..., Any], inputs: dict[str, Any], times: int) -> dict[str, Any]:
    """Multiply every length among the inputs, areas and volumes as they must grow with it."""
    grown = {}
    for item in rule.inputs:
        value, by = inputs[item.name], (Fraction(times) ** item.dimension.power if item.dimension.power else 1)
        if item.dimension.kind is not bool:
            value = tuple(entry * by for entry in value) if isinstance(value, tuple) else value * by
        grown[item.name] = value
    return grown


def inches(dimension: Any, value: Any) -> Any:
    """Give a value in inches, square or cubic inches where lengths enter, so that expressions of mixed units add up."""
    if isinstance(value, tuple):
        return tuple(inches(dimension, entry) for entry in value)
    return value * dimension.inch_factor if dimension.kind is not bool else value
