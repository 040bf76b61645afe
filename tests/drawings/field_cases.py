"""Inputs under which the drawings of joints, seams, layers and field work are tested."""

from __future__ import annotations

FIELD_CASES: dict[str, tuple[str, dict[str, object]]] = {
    "expansion_joint": ("expansion_joint", {"flashing_height": "8 in", "cover_lap": "4 in"}),
    "expansion_joint left": (
        "expansion_joint",
        {"flashing_height": "8 in", "cover_lap": "4 in", "curbs": "left", "fastened": "both_sides"},
    ),
    "expansion_joint tight": (
        "expansion_joint",
        {
            "flashing_height": "10 in",
            "cover_lap": "2 1/2 in",
            "loop": "tight",
            "gap": "blocked",
            "fastened": "both_sides",
        },
    ),
    "expansion_joint low": (
        "expansion_joint",
        {"flashing_height": "6 in", "cover_lap": "3 in", "gap_width": "3 in", "omit": "foam, cover"},
    ),
    "roof_layers": ("roof_layers", {"base_side_lap": "4 in", "cap_side_lap": "3 1/4 in"}),
    "roof_layers below": (
        "roof_layers",
        {
            "base_side_lap": "4 in",
            "cap_side_lap": "3 1/4 in",
            "boards": "cover_board_below",
            "plies": "cap_below",
            "reversed": "base_lap, cap_lap",
        },
    ),
    "roof_layers few": (
        "roof_layers",
        {
            "base_side_lap": "4 in",
            "cap_side_lap": "2 in",
            "insulation": "6 in",
            "omit": "cover_board, base",
            "reversed": "cap_lap",
        },
    ),
    "night_strip": ("night_strip", {"seal_lap": "12 in"}),
    "night_strip new": ("night_strip", {"seal_lap": "14 in", "water": "from_new", "edge": "open", "gravel": "under"}),
    "night_strip short": ("night_strip", {"seal_lap": "5 in", "bead": "downhill", "bare": 0, "edge": "open"}),
    "night_strip bare": (
        "night_strip",
        {"seal_lap": "9 in", "bead": "none", "bare": "8 in", "gravel": "under", "insulation": "6 in"},
    ),
}
