"""Where a finger points at each layer of the edge in section.

Layers lie on each other, thinner than a fingertip: each gets its own stretch along the
roof, where it is nearest to hand.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trainer.drawings.parts import LEAST, Area
from trainer.drawings.sheet import LEFT

if TYPE_CHECKING:
    from trainer.drawings.edge import Edge

PARTS = ("deck", "nailer", "base", "turn_down", "bead", "flange", "face", "nails", "primer", "strip", "cap")


def edge_boxes(edge: Edge) -> dict[str, Area]:
    """The box of each part, the same whether the layer is drawn or left out."""
    inner, out, base, deck = edge.x(edge.flange), edge.edge, edge.base_top, edge.deck_top
    strip = min(edge.x(edge.strip_width), inner - LEAST - 4)
    field = (strip - LEFT) / 2
    bead = edge.x(edge.bead_setback)
    half = (inner + bead - LEAST / 2) / 2 if bead - inner > 2 * LEAST else (inner + out) / 2
    middle = max(half, inner + LEAST)
    rows = edge.nail_places
    tip = deck + 1.4 * edge.scale
    turned = float(edge.overhang) * edge.scale
    return {
        "deck": (LEFT, deck + 8, edge.nailer_start - LEFT - 2, 0.75 * edge.scale),
        "nailer": (edge.nailer_start, tip + 4, out - edge.nailer_start - 14, edge.nailer_bottom - tip - 4),
        "base": (LEFT + field, base - 8, field, LEAST),
        "turn_down": (out - 14, deck + 8, LEAST, max(turned - 4, LEAST)),
        "bead": (bead - LEAST / 2, base - 6, LEAST, LEAST),
        "flange": (inner, edge.metal_bottom - 16, middle - inner, LEAST),
        "face": (edge.outer - 2, deck, LEAST, float(edge.face) * edge.scale),
        "nails": (min(rows) - 8, base + 18, abs(rows[0] - rows[1]) + 16, tip - base - 18),
        "primer": (middle, edge.metal_bottom - LEAST - 6, out - middle, LEAST),
        "strip": (strip, base - 20, inner - 4 - strip, LEAST),
        "cap": (LEFT, base - 24, field, LEAST),
    }
