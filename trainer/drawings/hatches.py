"""How each material is hatched, so that layers are told apart without color.

Asphalt sheets: base sheet one diagonal, strip-in ply the other, cap sheet granules. Wood: grain along a panel, a cross
through the end grain of a nailer. Sealant is crossed, primer is wavy, metal is solid. A masonry wall has pairs of
diagonals, insulation a zigzag, a cant strip short strokes of fiber.
"""

from __future__ import annotations

from trainer.drawings.canvas import THIN, Canvas, shape

MATERIALS = (
    "base", "cap", "strip", "deck", "nailer", "sealant", "primer", "lap", "metal", "masonry", "insulation", "cant",
)  # fmt: skip


def fill(canvas: Canvas, material: str) -> str:
    """Give the paint for a material, registering its pattern on the canvas.

    Raises:
        KeyError: The material has no hatch; shows its name.
    """
    if material == "metal":
        return "currentColor"
    size, shapes, turn = _HATCHES[material]
    return canvas.pattern(f"hatch-{material}", size, shapes, turn=turn)


def _line(x1: float, y1: float, x2: float, y2: float, width: float = THIN) -> str:
    return shape("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke="currentColor", stroke_width=width)


def _dot(x: float, y: float, radius: float) -> str:
    return shape("circle", cx=x, cy=y, r=radius, fill="currentColor")


def _curve(data: str, width: float = THIN) -> str:
    return shape("path", d=data, fill="none", stroke="currentColor", stroke_width=width)


_HATCHES: dict[str, tuple[tuple[float, float], tuple[str, ...], float]] = {
    "base": ((5, 5), (_line(0, 2.5, 5, 2.5),), -45),
    "strip": ((4, 4), (_line(0, 2, 4, 2, 1.1),), 45),
    "cap": ((6, 6), (_dot(1.5, 1.5, 0.9), _dot(4.5, 4.5, 0.9)), 0),
    "deck": (
        (40, 8),
        (_curve("M0 2Q10 0.6 20 2T40 2"), _curve("M8 6Q18 4.8 28 6T48 6M-32 6Q-22 4.8 -12 6T8 6")),
        0,
    ),
    "nailer": ((9, 9), (_line(0, 4.5, 9, 4.5, 0.5), _line(4.5, 0, 4.5, 9, 0.5)), 45),
    "sealant": ((3.2, 3.2), (_line(0, 1.6, 3.2, 1.6, 1.2), _line(1.6, 0, 1.6, 3.2, 1.2)), 45),
    "primer": ((8, 4), (_curve("M0 2Q2 0 4 2T8 2", 0.9),), 0),
    "masonry": ((13, 13), (_line(0, 3, 13, 3, 0.5), _line(0, 6, 13, 6, 0.5)), 45),
    "insulation": ((12, 12), (_curve("M0 12L6 0L12 12", 0.6),), 0),
    "cant": ((10, 6), (_line(1, 1.5, 5, 1.5, 0.6), _line(6, 4.5, 10, 4.5, 0.6)), 0),
    "old": ((14, 5), (_line(0, 1.5, 6, 1.5, 0.9), _line(7, 4, 13, 4, 0.9)), 0),
    "board": ((7, 7), (_line(0, 3.5, 7, 3.5, 0.5), _line(3.5, 0, 3.5, 3.5, 0.5)), 0),
    "concrete": (
        (22, 18),
        (_curve("M4 13L8 13L6 9.5Z", 0.6), _dot(14, 5, 0.8), _dot(19, 14, 0.6), _dot(3, 4, 0.6), _dot(12, 12, 0.8)),
        0,
    ),
    "foam": ((4, 4), (shape("circle", cx=2, cy=2, r=1.2, fill="none", stroke="currentColor", stroke_width=0.6),), 0),
    "water": ((12, 2.4), (_line(0, 1.2, 12, 1.2, 1.1),), 0),
    "single": ((9, 9), (_dot(2, 2, 0.55), _dot(6.5, 6.5, 0.55)), 0),
    "lap": ((3.4, 3.4), (_line(0, 1.7, 3.4, 1.7, 0.8),), -45),
}
