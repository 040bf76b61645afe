"""Plans: area and edge of a deck of any straight-sided shape, and the zones along its edges."""

from fractions import Fraction
from itertools import pairwise

from trainer.rules.arithmetic import root
from trainer.rules.dimensions import LENGTHS, Area, Length, Lengths
from trainer.rules.registry import RuleInputError, Working, above, at_least, at_most, rule
from trainer.rules.sources import GEOMETRY

_Point = tuple[Fraction, Fraction]
_Edge = tuple[_Point, _Point]
_ZERO = Fraction(0)
_CORNERS = (
    at_least("corners_across", 3),
    at_most("corners_across", 60),
    at_least("corners_up", 3),
    at_most("corners_up", 60),
)


def _outline(rule_name: str, across: tuple[Fraction, ...], up: tuple[Fraction, ...]) -> list[_Point]:
    """Pair the corners and close the outline; refuse lists of different length and outlines that meet themselves."""
    if len(across) != len(up):
        raise RuleInputError(
            rule_name, "corners_up", LENGTHS.text(up), f"as many as corners_across ({len(across)})",
            "Give both distances of every corner.",
            spanish=(f"tantas como las otras ({len(across)})", "Escriba las dos distancias de cada esquina."),
        )  # fmt: skip
    given = list(zip(across, up, strict=True))
    # a corner written twice in a row is one corner
    corners = [corner for at, corner in enumerate(given) if corner != given[at - 1]]
    if len(corners) < 3 or _meets_itself(list(pairwise([*corners, corners[0]]))):
        raise RuleInputError(
            rule_name, "corners_across", LENGTHS.text(across), "an outline that does not cross or touch itself",
            "Give the corners in order round the deck.",
            spanish=("un contorno que no se cruza ni se toca", "Escriba las esquinas en orden, en todo el contorno."),
        )  # fmt: skip
    return [*corners, corners[0]]


def _meets_itself(sides: list[_Edge]) -> bool:
    """Say whether two sides have a point in common, or neighbors more than the corner between them."""
    for at, side in enumerate(sides):
        start, corner, end = *side, sides[(at + 1) % len(sides)][1]
        if _side(*side, end) == 0 and _ahead(corner, start, end) > 0:  # it turns right back on itself
            return True
        if any(_meet(side, other) for other in sides[at + 2 : len(sides) - (at == 0)]):
            return True
    return False


def _side(start: _Point, end: _Point, point: _Point) -> Fraction:
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


def _ahead(corner: _Point, one: _Point, other: _Point) -> Fraction:
    return (one[0] - corner[0]) * (other[0] - corner[0]) + (one[1] - corner[1]) * (other[1] - corner[1])


def _meet(edge: _Edge, other: _Edge) -> bool:
    """Say whether two sides cross or touch."""
    if any(_on(edge, point) for point in other) or any(_on(other, point) for point in edge):
        return True
    apart = _side(*edge, other[0]) * _side(*edge, other[1])
    across = _side(*other, edge[0]) * _side(*other, edge[1])
    return apart < 0 and across < 0


def _on(edge: _Edge, point: _Point) -> bool:
    """Say whether a point lies on a side: in line with it, and not beyond either end."""
    return _side(*edge, point) == 0 and _ahead(point, *edge) <= 0


@rule("take-off", gives="plan_area", source=GEOMETRY, edition=2, limits=_CORNERS)
def plan_area(corners_across: Lengths, corners_up: Lengths) -> Working[Area]:
    """Find the area of a deck from its corners in order round it: L, T and U plans, triangles, any straight sides.

    `corners_across` holds the distance of every corner along the eave from one point, `corners_up` the distance up the
    slope from it.
    """
    outline = _outline("plan_area", corners_across, corners_up)
    twice = sum((a[0] * b[1] - b[0] * a[1] for a, b in pairwise(outline)), Fraction(0))
    area = abs(twice) / 288
    return Working(area, ("plan_area", area, "area({corners_across}; {corners_up})"))


@rule("take-off", gives="plan_edge", source=GEOMETRY, edition=2, limits=_CORNERS)
def plan_edge(corners_across: Lengths, corners_up: Lengths) -> Working[Length]:
    """Find the length of the edge all round a deck from its corners in order; slanting sides to double precision."""
    outline = _outline("plan_edge", corners_across, corners_up)
    edge = sum((root((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) for a, b in pairwise(outline)), Fraction(0))
    return Working(edge, ("plan_edge", edge, "edge({corners_across}; {corners_up})"))


_ZONES = (above("side_a", 0), above("side_b", 0), at_least("side_a", "zone_width"), at_least("side_b", "zone_width"))


@rule("fastening", gives="corner_zones", source=GEOMETRY, limits=_ZONES)
def corner_zone_area(side_a: Length, side_b: Length, zone_width: Length) -> Working[Area]:
    """Find the area of the four square corner zones of a rectangular roof; their width stands on the drawing."""
    across, up = min(2 * zone_width, side_a), min(2 * zone_width, side_b)
    return Working(
        across * up / 144,
        ("zone_across", across, "min(2 × {zone_width}, {side_a})"),
        ("zone_up", up, "min(2 × {zone_width}, {side_b})"),
        ("corner_zones", across * up / 144, "{zone_across} × {zone_up}"),
    )


@rule("fastening", gives="edge_zones", source=GEOMETRY, limits=_ZONES)
def edge_zone_area(side_a: Length, side_b: Length, zone_width: Length) -> Working[Area]:
    """Find the area of the edge zones of a rectangular roof, corners left out; their width stands on the drawing."""
    across, up = min(2 * zone_width, side_a), min(2 * zone_width, side_b)
    area = (across * (side_b - up) + up * (side_a - across)) / 144
    return Working(
        area,
        ("zone_across", across, "min(2 × {zone_width}, {side_a})"),
        ("zone_up", up, "min(2 × {zone_width}, {side_b})"),
        ("edge_zones", area, "{zone_across} × ({side_b} − {zone_up}) + {zone_up} × ({side_a} − {zone_across})"),
    )


@rule("fastening", gives="field_zone", source=GEOMETRY, limits=_ZONES)
def field_zone_area(side_a: Length, side_b: Length, zone_width: Length) -> Working[Area]:
    """Find the area inside the edge zones of a rectangular roof; their width stands on the drawing."""
    across, up = max(side_a - 2 * zone_width, _ZERO), max(side_b - 2 * zone_width, _ZERO)
    return Working(
        across * up / 144,
        ("field_across", across, "max({side_a} − 2 × {zone_width}, 0)"),
        ("field_up", up, "max({side_b} − 2 × {zone_width}, 0)"),
        ("field_zone", across * up / 144, "{field_across} × {field_up}"),
    )
