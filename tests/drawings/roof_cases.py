"""Inputs under which the drawings of the roof as a whole, its water and its field work are tested."""

from __future__ import annotations

ROOF_CASES: dict[str, tuple[str, dict[str, object]]] = {
    "slope_and_water": (
        "slope_and_water",
        {"run": "24 ft", "slope": "1/4 in per ft", "pond_depth": "1/2 in", "show": "all"},
    ),
    "slope_and_water plain": ("slope_and_water", {"run": "24 ft", "fall": "6 in"}),
    "slope_and_water flat": (
        "slope_and_water",
        {"run": "40 ft", "fall": "2 1/2 in", "pond_depth": "1 1/2 in", "ask": "slope"},
    ),
    "slope_and_water back": (
        "slope_and_water",
        {"run": "18 ft", "slope": "1/4 in per ft", "falls_to": "wall"},
    ),
    "slope_and_water rim": (
        "slope_and_water",
        {"run": "20 ft", "slope": "1/8 in per ft", "drain_rise": "3/4 in"},
    ),
    "slope_and_water steep": (
        "slope_and_water",
        {"run": "30 ft", "slope": "1 in per ft", "drain_rise": "3/4 in", "show": "all"},
    ),
    "insulation_joints": ("insulation_joints", {"board_gap": "1/4 in", "board_stagger": "24 in", "step": "1/8 in"}),
    "insulation_joints in line": ("insulation_joints", {"board_gap": "3/4 in", "board_stagger": 0, "layer_offset": 0}),
    "insulation_joints near": (
        "insulation_joints",
        {"board_gap": "1/16 in", "board_stagger": "6 in", "layer_offset": "4 in", "step": "1/2 in"},
    ),
    "insulation_joints long": (
        "insulation_joints",
        {"board_gap": "1/4 in", "board_stagger": "48 in", "board_length": "96 in", "ask": "board_gap"},
    ),
    "night_seal": ("night_seal", {"seal_lap": "12 in"}),
    "night_seal under": ("night_seal", {"seal_lap": "12 in", "end": "under", "omit": "weight"}),
    "night_seal short": ("night_seal", {"seal_lap": "3 in", "water": "from_old", "omit": "bead"}),
    "night_seal deck": ("night_seal", {"seal_lap": "8 in", "against": "bare_deck", "insulation": "4 in"}),
    "fishmouth": ("fishmouth", {"damage": "8 in", "patch_lap": "6 in", "show": "all"}),
    "fishmouth square": ("fishmouth", {"damage": "5 in", "patch_lap": "6 in", "corners": "square", "uncut": "2 in"}),
    "fishmouth small": (
        "fishmouth",
        {"damage": "10 in", "patch_lap": "6 in", "patch_below": "2 in", "patch_side": "3 in", "ask": "patch_size"},
    ),
    "roof_zones": (
        "roof_zones",
        {
            "side_a": "120 ft",
            "side_b": "80 ft",
            "zone_width": "12 ft",
            "field_spacing": "18 in",
            "edge_spacing": "12 in",
            "corner_spacing": "6 in",
            "show": "all",
        },
    ),
    "roof_zones plain": (
        "roof_zones",
        {"side_a": "60 ft", "side_b": "60 ft", "zone_width": "4 ft", "omit": "corner", "ask": "zone_width"},
    ),
    "roof_zones swapped": (
        "roof_zones",
        {
            "side_a": "200 ft",
            "side_b": "60 ft",
            "zone_width": "10 ft",
            "field_spacing": "12 in",
            "edge_spacing": "24 in",
        },
    ),
    "board_fasteners": ("board_fasteners", {"field_plates": 8, "edge_plates": 12, "corner_plates": 16}),
    "board_fasteners one": ("board_fasteners", {"field_plates": 11, "plate_edge": "2 in", "pattern": "one_end"}),
    "board_fasteners small": (
        "board_fasteners",
        {"field_plates": 5, "edge_plates": 7, "board_length": 48, "ask": "edge_plates"},
    ),
    "tie_in": ("tie_in", {"tie_in_lap": "6 in", "clean_width": "12 in"}),
    "tie_in short": ("tie_in", {"tie_in_lap": "2 in", "clean_width": "4 in", "omit": "bead", "water": "from_old"}),
    "tie_in one ply": ("tie_in", {"tie_in_lap": "8 in", "clean_width": "6 in", "omit": "primer, base", "ply_step": 0}),
    "cricket": ("cricket", {"cricket_width": "6 ft", "cricket_slope": "1/2 in per ft", "show": "all"}),
    "cricket drains": ("cricket", {"cricket_width": "24 ft", "cricket_slope": "1/2 in per ft", "place": "drains"}),
    "cricket toward": (
        "cricket",
        {"cricket_width": "4 ft", "cricket_slope": "1/4 in per ft", "obstacle_width": "6 ft", "falls": "toward"},
    ),
    "rolling": ("rolling", {"relax_time": "30 min", "roller_weight": "75 lb"}),
    "rolling asked": ("rolling", {"relax_time": "30 min", "ask": "order"}),
    "rolling other": (
        "rolling",
        {"relax_time": "10 min", "align": "off_line", "film": "whole", "press": "from_edges"},
    ),
    "welded_seam": ("welded_seam", {"side_lap": "3 in", "weld_width": "1 1/2 in"}),
    "welded_seam cold": (
        "welded_seam",
        {"side_lap": "3 in", "weld_width": "3/4 in", "weld": "cold_spot", "weld_setback": "1/2 in"},
    ),
    "welded_seam plate": ("welded_seam", {"side_lap": "6 in", "weld_width": "1 1/2 in", "plate_clearance": "1/4 in"}),
    "nailed_base": (
        "nailed_base",
        {"roll_width": "39 3/8 in", "side_lap": "3 in", "nail_spacing": "9 in", "row_spacing": "18 in"},
    ),
    "nailed_base wide": (
        "nailed_base",
        {
            "roll_width": "39 3/8 in",
            "side_lap": "4 in",
            "nail_spacing": "16 in",
            "row_spacing": "24 in",
            "rows": "in_line",
            "lap_row": "beside_lap",
        },
    ),
    "walk_pad": ("walk_pad", {"pad_gap": "2 in"}),
    "walk_pad tight": ("walk_pad", {"pad_gap": 0, "pad_length": "48 in", "lies_on": "seam"}),
}
