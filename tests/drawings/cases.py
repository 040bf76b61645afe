"""Inputs under which every drawing is tested: the ordinary ones, the crowded and the extreme."""

from __future__ import annotations

from fractions import Fraction

from tests.drawings.detail_cases import DETAIL_CASES
from tests.drawings.field_cases import FIELD_CASES
from tests.drawings.roof_cases import ROOF_CASES

ROLL = Fraction(315, 8)
PLAN: dict[str, object] = {"roll_width": ROLL, "side_lap": 4, "overhang": 2, "starter_cut": Fraction(1, 3)}
CAP: dict[str, object] = {"cap_roll_width": ROLL, "cap_side_lap": Fraction(13, 4)}
PLIES: dict[str, object] = {
    "overhang": 2,
    "starter_cut": Fraction(1, 3),
    "base_roll_width": ROLL,
    "base_side_lap": 4,
    **CAP,
}
EDGE: dict[str, object] = {
    "flange": 3,
    "strip_width": 6,
    "bead_width": Fraction(1, 4),
    "bead_depth": Fraction(1, 4),
    "bead_setback": 1,
    "overhang": 2,
    "row_spacing": 6,
    "nail_spacing": 3,
    "base_nail_spacing": 8,
}
BEAD: dict[str, object] = {"bead_width": Fraction(1, 4), "bead_depth": Fraction(1, 4), "bead_setback": 1, "flange": 3}
WALL: dict[str, object] = {
    "flashing_height": 8,
    "roof_lap": 4,
    "ply_step": 2,
    "cant_face": 4,
    "base_above_cant": 2,
    "counterflashing_cover": 4,
}
CURB: dict[str, object] = {name: value for name, value in WALL.items() if name != "counterflashing_cover"}
METAL: dict[str, object] = {"metal_length": 120, "metal_lap": 4}

CASES: dict[str, tuple[str, dict[str, object]]] = {
    "roof_plan start": ("roof_plan", {**PLAN, "run": "40 ft"}),
    "roof_plan courses": ("roof_plan", {**PLAN, "run": "24 ft 6 1/2 in", "eave": "12 ft", "show": "courses"}),
    "roof_plan all": ("roof_plan", {**PLAN, **CAP, "run": "40 ft", "eave": "60 ft", "show": "all"}),
    "roof_plan cap laps": ("roof_plan", {**PLAN, **CAP, "run": "24 ft", "eave": "8 ft", "show": "cap_laps"}),
    "roof_plan 300 ft": ("roof_plan", {**PLAN, "run": "300 ft", "show": "all"}),
    "roof_plan 6 ft": ("roof_plan", {**PLAN, "run": "6 ft", "show": "all"}),
    "side_lap": ("side_lap", {"roll_width": ROLL, "side_lap": 4, "show": "all"}),
    "side_lap asked": ("side_lap", {"roll_width": ROLL, "side_lap": Fraction(29, 8), "ask": "exposure"}),
    "side_lap narrow": ("side_lap", {"roll_width": ROLL, "side_lap": 1, "show": "all"}),
    "side_lap cap": (
        "side_lap",
        {"roll_width": ROLL, "side_lap": "3 1/4 in", "ply": "cap", "selvage_cover": "1/4 in", "show": "all"},
    ),
    "side_lap against the water": ("side_lap", {"roll_width": ROLL, "side_lap": 4, "on_top": "lower"}),
    "side_lap cap against the water": (
        "side_lap",
        {"roll_width": ROLL, "side_lap": "3 1/4 in", "ply": "cap", "selvage_cover": "1/4 in", "on_top": "lower"},
    ),
    "three_laps": ("three_laps", {"lap_1": 4, "lap_2": "4 1/4 in", "lap_3": "4 1/8 in"}),
    "three_laps short": ("three_laps", {"lap_1": 4, "lap_2": "2 1/4 in", "lap_3": 4, "ply": "cap"}),
    "three_laps reversed": ("three_laps", {"lap_1": 4, "lap_2": 4, "lap_3": 4, "lower_on_top": "lap_2"}),
    "three_laps reversed low": ("three_laps", {"lap_1": 4, "lap_2": 4, "lap_3": "6 1/8 in", "lower_on_top": "lap_1"}),
    "three_laps open": ("three_laps", {"lap_1": 4, "lap_2": 4, "lap_3": 4, "open_edge": "lap_3"}),
    "end_lap": ("end_lap", {"end_lap": 6, "side_lap": 4}),
    "end_lap short": ("end_lap", {"end_lap": Fraction(43, 8), "side_lap": Fraction(31, 8)}),
    "end_lap_stagger": (
        "end_lap_stagger",
        {"roll_width": ROLL, "side_lap": 4, "end_lap": 6, "end_lap_stagger": "36 in"},
    ),
    "end_lap_stagger stacked": (
        "end_lap_stagger",
        {"roll_width": ROLL, "side_lap": 4, "end_lap": 6, "end_lap_stagger": 0},
    ),
    "end_lap_stagger two laps": (
        "end_lap_stagger",
        {
            "roll_width": ROLL,
            "side_lap": 4,
            "end_lap": 6,
            "upper_end_lap": "4 5/8 in",
            "end_lap_stagger": "38 in",
        },
    ),
    "end_lap_stagger along": (
        "end_lap_stagger",
        {
            "roll_width": ROLL,
            "side_lap": 4,
            "end_lap": 6,
            "upper": "20 ft; 52 ft 3 in; 84 ft 6 in; 116 ft 9 in",
            "lower": "32 ft 3 in; 64 ft 6 in; 96 ft 9 in",
            "eave": "140 ft",
            "show": "all",
        },
    ),
    "ply_offset": ("ply_offset", {**PLIES, "run": "40 ft", "show": "all"}),
    "ply_offset plain": ("ply_offset", {**PLIES, "run": "24 ft"}),
    "ply_offset long": ("ply_offset", {**PLIES, "run": "200 ft", "show": "lap_offset"}),
    "t_joint": ("t_joint", {"corner_cut": 4, "side_lap": 4, "end_lap": 6}),
    "t_joint other sheet": (
        "t_joint",
        {"corner_cut": "4 1/2 in", "side_lap": "4 1/2 in", "end_lap": 6, "cut_on": "overlapping"},
    ),
    "t_joint flat": ("t_joint", {"corner_cut": 6, "side_lap": 3, "end_lap": 8, "corner_cut_angle": "30 deg"}),
    "t_joint no cut": ("t_joint", {"corner_cut": 4, "side_lap": 4, "end_lap": 6, "cut_on": "none"}),
    "edge_section": ("edge_section", {**EDGE, "show": "all"}),
    "edge_section bare": ("edge_section", {**EDGE, "strip_width": 8, "omit": "bead,primer"}),
    "edge_section broad": ("edge_section", {**EDGE, "flange": 4, "strip_width": 12, "face": 6, "show": "all"}),
    "edge_section small": ("edge_section", {**EDGE, "flange": 2, "strip_width": 4, "bead_setback": "1/2 in"}),
    "edge_section no strip": ("edge_section", {**EDGE, "omit": "strip,nails"}),
    "edge_section narrow strip": ("edge_section", {**EDGE, "strip_width": "3 1/2 in"}),
    "nail_rows": ("nail_rows", {"row_spacing": 6}),
    "nail_rows edge": ("nail_rows", {"row_spacing": 6, "nail_spacing": 3, "edge": "10 ft", "show": "all"}),
    "nail_rows short edge": ("nail_rows", {"row_spacing": 6, "edge": "2 ft", "show": "all"}),
    "nail_rows in line": ("nail_rows", {"row_spacing": "5 1/2 in", "nail_spacing": "1 in", "flange": "2 in"}),
    "nail_rows skipped": ("nail_rows", {"row_spacing": 6, "skipped": "upper"}),
    "nail_rows stray": ("nail_rows", {"row_spacing": 6, "stray": "upper"}),
    "nail_rows stray low": ("nail_rows", {"row_spacing": 6, "stray": "lower", "skipped": "lower"}),
    "metal_run dry": ("metal_run", {**METAL, "edge": "64 ft", "omit": "sealant"}),
    "metal_run": ("metal_run", {**METAL, "edge": "64 ft"}),
    "metal_run all": ("metal_run", {**METAL, "edge": "64 ft 7 3/8 in", "show": "all"}),
    "metal_run asked": ("metal_run", {**METAL, "edge": "264 ft", "ask": "metal_pieces"}),
    "metal_run 1500 ft": ("metal_run", {**METAL, "edge": "1500 ft", "show": "all"}),
    "metal_run one piece": ("metal_run", {**METAL, "edge": "7 ft", "show": "all"}),
    "bead_position": ("bead_position", BEAD),
    "bead_position near": ("bead_position", {**BEAD, "bead_setback": "3/8 in", "flange": 4}),
    "bead_position bare": ("bead_position", {**BEAD, "omit": "bead"}),
    "deck_joint": ("deck_joint", {"gap": "3/8 in"}),
    "deck_joint closed": ("deck_joint", {"gap": 0}),
    "deck_joint step": ("deck_joint", {"gap": "1/4 in", "step": "3/16 in"}),
    "deck_joint beside": ("deck_joint", {"gap": "1/8 in", "support": "beside"}),
    "deck_joint wide": ("deck_joint", {"gap": "2 in", "step": "1 in"}),
    "tape": ("tape", {"reading": "24 9/16 in"}),
    "tape shown": ("tape", {"reading": "5/8 in", "show": "reading"}),
    "tape far": ("tape", {"reading": "39 ft 11 15/16 in"}),
    "tape zero": ("tape", {"reading": 0}),
    "wall_flashing": ("wall_flashing", {**WALL, "bar_spacing": 8, "insulation": 3}),
    "wall_flashing bare": ("wall_flashing", {**WALL, "omit": "cant, primer, bar"}),
    "wall_flashing low": (
        "wall_flashing",
        {**WALL, "flashing_height": "5 1/2 in", "counterflashing_cover": "1 1/2 in"},
    ),
    "wall_flashing tall": ("wall_flashing", {**WALL, "flashing_height": 18, "roof_lap": 8}),
    "wall_flashing behind": ("wall_flashing", {**WALL, "reversed": "counterflashing"}),
    "wall_flashing field on top": (
        "wall_flashing",
        {**WALL, "reversed": "roof_lap", "omit": "sealant, counterflashing"},
    ),
    "wall_flashing one ply": ("wall_flashing", {**WALL, "omit": "base_flashing", "roof_lap": "2 1/8 in"}),
    **ROOF_CASES,
    **FIELD_CASES,
    "curb_flashing": ("curb_flashing", {**CURB, "skirt": 2, "nail_spacing": 8, "insulation": 2}),
    "curb_flashing bare": ("curb_flashing", {**CURB, "omit": "cant, nails, gasket"}),
    "curb_flashing low": ("curb_flashing", {**CURB, "flashing_height": "4 1/2 in"}),
    "curb_flashing tall": ("curb_flashing", {**CURB, "flashing_height": 14}),
    "curb_flashing behind": ("curb_flashing", {**CURB, "reversed": "flange"}),
    "curb_flashing field on top": ("curb_flashing", {**CURB, "reversed": "roof_lap"}),
    "curb_flashing one ply": ("curb_flashing", {**CURB, "omit": "base_flashing", "roof_lap": "2 1/8 in"}),
    **DETAIL_CASES,
}
