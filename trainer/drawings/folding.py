"""How flat pieces of sheet fold round a corner: exact, so that a cut pattern and the corner it makes cannot differ.

Inches. The corner's foot is the origin; x and y run along the roof, z up. A flashing piece lies flat with u along the
wall (below 0 on the first side, above 0 round the corner on the second) and v from the bend up the wall (below 0 on
the roof). A corner piece lies flat on the roof's own x and y, its middle on the corner.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

Flat = tuple[float, float]
Place = tuple[float, float, float]

COS, SIN = math.cos(math.pi / 6), 0.5


@dataclass(frozen=True, slots=True)
class Flap:
    """One flat face between folds and cuts: its corners in the flat piece and on the folded corner, in one order."""

    name: str
    flat: tuple[Flat, ...]
    folded: tuple[Place, ...]


def outside_flashing(u: float, v: float) -> Place:
    """Where a point of a flashing piece comes to lie at an outside corner: the curb fills x and y below 0."""
    up, out = max(v, 0.0), max(-v, 0.0)
    return (u, out, up) if u <= 0 else (out, -u, up)


def inside_flashing(u: float, v: float) -> Place:
    """Where a point of a flashing piece comes to lie at an inside corner: the roof fills x and y above 0."""
    up, out = max(v, 0.0), max(-v, 0.0)
    return (out, -u, up) if u <= 0 else (u, out, up)


def flashing_flaps(first: float, second: float, height: float, roof: float, *, inside: bool) -> tuple[Flap, ...]:
    """The four faces of a flashing piece: both walls, and both legs on the roof, parted by the cut.

    The bend of the second side starts at u = 0 too: there the two legs part.
    """
    fold = inside_flashing if inside else outside_flashing
    faces = {
        "first_wall": ((-first, 0.0), (0.0, 0.0), (0.0, height), (-first, height)),
        "second_wall": ((0.0, 0.0), (second, 0.0), (second, height), (0.0, height)),
        "first_leg": ((-first, 0.0), (0.0, 0.0), (0.0, -roof), (-first, -roof)),
        "second_leg": ((0.0, 0.0), (second, 0.0), (second, -roof), (0.0, -roof)),
    }
    # A point of the cut belongs to both legs; on the second it is folded as the second side is.
    return tuple(
        Flap(name, flat, tuple(_second(fold, point) if name == "second_leg" else fold(*point) for point in flat))
        for name, flat in faces.items()
    )


def _second(fold: object, point: Flat) -> Place:
    u, v = point
    return (-v, -u, 0.0) if fold is outside_flashing else (u, -v, 0.0)


def corner_flaps(reach: float, *, inside: bool) -> tuple[Flap, ...]:
    """The faces of a corner piece, a square of twice its reach.

    Outside: three quarters lie on the roof, the fourth is cut from its corner to the middle and its halves turned up.
    Inside: one quarter on the roof, two up the walls; the fourth, cut from the second wall's, laps behind it.
    """
    c, o = reach, 0.0
    if inside:
        squares = {
            "roof": ((o, o), (c, o), (c, c), (o, c)),
            "first_wall": ((o, o), (c, o), (c, -c), (o, -c)),
            "lap": ((o, o), (-c, o), (-c, -c), (o, -c)),
            "second_wall": ((o, o), (o, c), (-c, c), (-c, o)),
        }
        return tuple(Flap(name, flat, tuple(_inside(name, *point) for point in flat)) for name, flat in squares.items())
    roof = ((o, o), (-c, o), (-c, c), (c, c), (c, -c), (o, -c))
    first, second = ((o, o), (-c, o), (-c, -c)), ((o, o), (o, -c), (-c, -c))
    return (
        Flap("roof", roof, tuple((x, y, o) for x, y in roof)),
        Flap("first_half", first, tuple((x, o, -y) for x, y in first)),
        Flap("second_half", second, tuple((o, y, -x) for x, y in second)),
    )


def _inside(name: str, x: float, y: float) -> Place:
    places = {"roof": (x, y, 0.0), "first_wall": (x, 0.0, -y), "second_wall": (0.0, y, -x), "lap": (0.0, -x, -y)}
    return places[name]


def axonometric(places: Sequence[Place]) -> list[Flat]:
    """Project places so that all three axes are drawn at one scale: x to the lower right, y to the lower left."""
    return [((x - y) * COS, (x + y) * SIN - z) for x, y, z in places]
