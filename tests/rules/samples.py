"""Inputs that every rule can work with, by the name of the input, and how hard properties are tried."""

import os
from typing import Any

from hypothesis import HealthCheck, settings

from trainer.rules import Rule

LONG = bool(os.environ.get("TRAINER_LONG"))
_CALM = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.filter_too_much]}
INVARIANT = settings(max_examples=20_000 if LONG else 300, **_CALM)
REFUSAL = settings(max_examples=2_000 if LONG else 60, **_CALM)

INPUTS: dict[str, str | int] = {
    "area": "1250 ft2",
    "base_roll_width": "39 3/8 in",
    "base_side_lap": "4 in",
    "bead_depth": "1/4 in",
    "bead_width": "3/8 in",
    "beads": 2,
    "cap_roll_width": "39 3/8 in",
    "cap_side_lap": "3 1/4 in",
    "cap_starter_width": "39 3/8 in",
    "cartridge": "10.1 fl oz",
    "corner_cut": "4 in",
    "courses": 9,
    "eave": "51 ft 3 in",
    "edge": "86 ft 5 in",
    "edge_spacing": "6 in",
    "end_lap": "6 in",
    "end_lap_stagger": "36 in",
    "field_spacing": "12 in",
    "first_piece": "20 ft",
    "flange": "3 in",
    "gap": "3/8 in",
    "gross_area": "1400 ft2",
    "joint_gap": "1/4 in",
    "lap": "3 5/8 in",
    "length": "92 ft 7 in",
    "limit": "4 in",
    "lower": "16 ft; 32 ft",
    "metal_lap": "4 in",
    "metal_length": "10 ft",
    "nails": 41,
    "net_area": "1250 ft2",
    "overhang": "2 in",
    "panel_length": "8 ft",
    "panel_width": "4 ft",
    "primer_rate": "0.75 gal per 100 ft2",
    "roll_length": "32 ft 9 in",
    "roll_width": "39 3/8 in",
    "rolls": 13,
    "run": "24 ft 6 in",
    "side_a": "6 ft",
    "side_b": "8 ft",
    "side_lap": "4 in",
    "side_lap_offset": "12 in",
    "spacing": "8 in",
    "starter_cut": "1/3",
    "starter_width": "26 1/4 in",
    "strip_width": "7 in",
    "support_spacing": "24 in",
    "top_overhang": "2 in",
    "upper": "13 ft 6 in; 29 ft",
    "waste": "10 %",
}


def sample(rule: Rule[..., Any]) -> dict[str, Any]:
    """Give checked inputs for a rule, the optional ones included."""
    return rule.checked({item.name: INPUTS[item.name] for item in rule.inputs})


def scaled(rule: Rule[..., Any], inputs: dict[str, Any], times: int) -> dict[str, Any]:
    """Multiply every length among the inputs, areas and volumes as they must grow with it."""
    grown = {}
    for item in rule.inputs:
        value, by = inputs[item.name], times**item.dimension.power
        grown[item.name] = tuple(entry * by for entry in value) if isinstance(value, tuple) else value * by
    return grown


def inches(dimension: Any, value: Any) -> Any:
    """Give a value in inches, square or cubic inches where lengths enter, so that expressions of mixed units add up."""
    if isinstance(value, tuple):
        return tuple(inches(dimension, entry) for entry in value)
    return value * dimension.inch_factor if dimension.kind is not bool else value
