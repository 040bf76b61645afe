"""Inputs under which the drawings of pipes, drains, scuppers, corners, sills and pockets are tested."""

from __future__ import annotations

PIPE: dict[str, object] = {"flashing_height": 8, "collar_flange": 4}

DETAIL_CASES: dict[str, tuple[str, dict[str, object]]] = {
    "pipe_collar": ("pipe_collar", {**PIPE, "pipe_diameter": 4, "patch_step": 2, "show": "all"}),
    "pipe_collar bare": ("pipe_collar", {**PIPE, "omit": "bed, patch, clamp, sealant"}),
    "pipe_collar thin": ("pipe_collar", {**PIPE, "pipe_diameter": "1 1/2 in", "collar_flange": "2 1/2 in"}),
    "pipe_collar broad": ("pipe_collar", {**PIPE, "pipe_diameter": 12, "flashing_height": 6}),
    "pipe_collar patch under": ("pipe_collar", {**PIPE, "reversed": "patch", "ask": "collar_size"}),
    "pipe_collar on the cap sheet": ("pipe_collar", {**PIPE, "reversed": "cap"}),
}
