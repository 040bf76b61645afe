"""Inputs under which the drawings of pipes, drains, scuppers, corners, sills and pockets are tested."""

from __future__ import annotations

PIPE: dict[str, object] = {"flashing_height": 8, "collar_flange": 4}
DRAIN: dict[str, object] = {"sump_side": 36, "drain_sheet": 30, "ring_reach": "1/2 in"}
CORNER: dict[str, object] = {"flashing_height": 8, "roof_lap": 4, "strip_lap": 4, "corner_reach": 4}
SCUPPER: dict[str, object] = {"scupper_flange": 4, "overflow_height": 2, "scupper_width": 8, "scupper_height": 4}
DOOR: dict[str, object] = {"flashing_height": 8, "roof_lap": 4, "ply_step": 2}
POCKET: dict[str, object] = {"pocket_height": 4, "pocket_clearance": 2, "filler_depth": 2}

DETAIL_CASES: dict[str, tuple[str, dict[str, object]]] = {
    "pipe_collar": ("pipe_collar", {**PIPE, "pipe_diameter": 4, "patch_step": 2, "show": "all"}),
    "pipe_collar bare": ("pipe_collar", {**PIPE, "omit": "bed, patch, clamp, sealant"}),
    "pipe_collar thin": ("pipe_collar", {**PIPE, "pipe_diameter": "1 1/2 in", "collar_flange": "2 1/2 in"}),
    "pipe_collar broad": ("pipe_collar", {**PIPE, "pipe_diameter": 12, "flashing_height": 6}),
    "pipe_collar patch under": ("pipe_collar", {**PIPE, "reversed": "patch", "ask": "collar_size"}),
    "pipe_collar on the cap sheet": ("pipe_collar", {**PIPE, "reversed": "cap"}),
    "drain_sump": ("drain_sump", {**DRAIN, "sump_depth": "1 1/2 in", "insulation": 3}),
    "drain_sump bare": ("drain_sump", {**DRAIN, "omit": "bed, drain_sheet, ring, strainer"}),
    "drain_sump small": ("drain_sump", {**DRAIN, "sump_side": 24, "drain_sheet": 18, "ring_reach": "1/8 in"}),
    "drain_sump large": ("drain_sump", {**DRAIN, "sump_side": 48, "drain_sheet": 36, "sheet_of": "metal"}),
    "drain_sump stops": ("drain_sump", {**DRAIN, "stops": "base", "sheet_of": "metal", "insulation": 6}),
    "drain_sump on the cap sheet": ("drain_sump", {**DRAIN, "reversed": "drain_sheet"}),
    "outside_corner": ("outside_corner", CORNER),
    "outside_corner bare": ("outside_corner", {**CORNER, "omit": "corner_piece, bead"}),
    "outside_corner over-cut": ("outside_corner", {**CORNER, "cut_past": "3/4 in"}),
    "outside_corner short": ("outside_corner", {**CORNER, "corner_reach": 2, "strip_lap": "1 1/2 in"}),
    "outside_corner wide": ("outside_corner", {**CORNER, "roof_lap": 8, "corner_reach": 8, "flashing_height": 12}),
    "inside_corner": ("inside_corner", CORNER),
    "inside_corner bare": ("inside_corner", {**CORNER, "omit": "corner_piece, bead"}),
    "inside_corner over-cut": ("inside_corner", {**CORNER, "cut_past": "1 1/4 in"}),
    "inside_corner short": ("inside_corner", {**CORNER, "corner_reach": 2, "strip_lap": "1 1/2 in", "roof_lap": 2}),
    "scupper": ("scupper", {**SCUPPER, "wall_thickness": 8, "show": "all"}),
    "scupper bare": ("scupper", {**SCUPPER, "omit": "bed, strip, drip, overflow"}),
    "scupper large": ("scupper", {**SCUPPER, "scupper_width": 18, "scupper_height": 8, "wall_thickness": 12}),
    "scupper small": ("scupper", {**SCUPPER, "scupper_flange": "1 1/2 in", "overflow_height": "3/4 in"}),
    "scupper strip under": ("scupper", {**SCUPPER, "reversed": "strip", "ask": "scupper_depth"}),
    "scupper on the cap sheet": ("scupper", {**SCUPPER, "reversed": "cap", "overflow_height": 5}),
    "door_sill": ("door_sill", {**DOOR, "insulation": 2}),
    "door_sill bare": ("door_sill", {**DOOR, "omit": "cant, under, sealant, leg"}),
    "door_sill low": ("door_sill", {**DOOR, "flashing_height": 3}),
    "door_sill tall": ("door_sill", {**DOOR, "flashing_height": 14, "omit": "cap_flashing"}),
    "door_sill behind": ("door_sill", {**DOOR, "reversed": "leg"}),
    "door_sill field on top": ("door_sill", {**DOOR, "reversed": "roof_lap"}),
    "post_pocket": ("post_pocket", POCKET),
    "post_pocket bare": ("post_pocket", {**POCKET, "omit": "bed, strip"}),
    "post_pocket dished": ("post_pocket", {**POCKET, "top": "dished", "filler_depth": "3/4 in"}),
    "post_pocket tight": ("post_pocket", {**POCKET, "pocket_clearance": "1/2 in", "post_width": 6}),
    "post_pocket strip under": ("post_pocket", {**POCKET, "reversed": "strip", "pocket_height": 8}),
}
