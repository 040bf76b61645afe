"""Fastening: how many nails an edge takes at a given spacing, and how many plates hold boards.

What holds a roof against the wind stands on the drawing or comes from the engineer: these rules count it.
"""
# ruff: noqa: PLR0917 - a rule takes the inputs it needs; callers name them

from fractions import Fraction

from trainer.rules.arithmetic import up
from trainer.rules.dimensions import Area, Count, Flag, Length, Load
from trainer.rules.registry import COMMON_PRACTICE, DEFINITION, Working, above, at_least, rule
from trainer.rules.sources import GEOMETRY, ufgs_metal

_CLOSEST = Fraction(1, 4)
_EDGE = (above("edge", 0), at_least("spacing", _CLOSEST))


@rule("fastening", gives="nails", source=COMMON_PRACTICE, part="base", limits=_EDGE)
def nails_along(edge: Length, spacing: Length) -> Working[Count]:
    """Count nails in one row, both ends nailed, no gap above the spacing: one more nail than gaps."""
    gaps = up(edge, spacing)
    return Working(
        gaps + 1,
        ("gaps", gaps, "{edge} ÷ {spacing} ↑"),
        ("nails", gaps + 1, "{gaps} + 1"),
        before_rounding=(edge + spacing, spacing),
    )


@rule("fastening", gives="nails", source=COMMON_PRACTICE, part="base",
      limits=(above("run", 0), above("eave", 0), at_least("spacing", _CLOSEST)))  # fmt: skip
def nails_around(run: Length, eave: Length, spacing: Length) -> Working[Count]:
    """Count nails round a rectangle, one at each corner shared by its two edges: as many nails as gaps."""
    up_slope, along_eave = up(run, spacing), up(eave, spacing)
    nails = 2 * up_slope + 2 * along_eave
    return Working(
        nails,
        ("gaps_run", up_slope, "{run} ÷ {spacing} ↑"),
        ("gaps_eave", along_eave, "{eave} ÷ {spacing} ↑"),
        ("nails", nails, "2 × {gaps_run} + 2 × {gaps_eave}"),
        before_rounding=(2 * (run + eave), spacing),
    )


@rule("fastening", gives="nails", source=ufgs_metal("3.1.15"), part="edge", limits=_EDGE)
def nails_two_rows(edge: Length, spacing: Length) -> Working[Count]:
    """Count nails in two staggered rows, the spacing counted over both rows together.

    Each row stands at twice the spacing and the second is shifted by one spacing, so a nail stands every `spacing`
    along the flange, both ends nailed. The guide's wording also allows the other reading (`nails_two_rows_each`):
    say which one is meant.
    """
    gaps = up(edge, spacing)
    first, second = gaps // 2 + 1, (gaps + 1) // 2
    return Working(
        first + second,
        ("gaps", gaps, "{edge} ÷ {spacing} ↑"),
        ("nails_row_one", first, "({gaps} ÷ 2 ↓) + 1"),
        ("nails_row_two", second, "{gaps} ÷ 2 ↑"),
        ("nails", first + second, "{nails_row_one} + {nails_row_two}"),
        before_rounding=(edge + spacing, spacing),
    )


@rule("fastening", gives="nails", source=ufgs_metal("3.1.15"), part="edge", limits=_EDGE)
def nails_two_rows_each(edge: Length, spacing: Length) -> Working[Count]:
    """Count nails in two staggered rows, the spacing counted within each row.

    The first row is nailed at both ends; the second stands midway between its nails. The other reading of the same
    words is `nails_two_rows`: say which one is meant.
    """
    gaps = up(edge, spacing)
    return Working(
        2 * gaps + 1,
        ("gaps", gaps, "{edge} ÷ {spacing} ↑"),
        ("nails_row_one", gaps + 1, "{gaps} + 1"),
        ("nails_row_two", gaps, "{gaps}"),
        ("nails", 2 * gaps + 1, "{nails_row_one} + {nails_row_two}"),
        before_rounding=(2 * edge + spacing, spacing),
    )


@rule("fastening", gives="spacing_in_row", source=COMMON_PRACTICE, part="edge", limits=(above("spacing", 0),))
def spacing_in_row(spacing: Length) -> Working[Length]:
    """Find the spacing within each of two staggered rows when `spacing` counts both rows together."""
    return Working(2 * spacing, ("spacing_in_row", 2 * spacing, "2 × {spacing}"))


@rule("fastening", gives="widest_gap", source=COMMON_PRACTICE, part="base",
      limits=(above("edge", 0), at_least("nails", 2)))  # fmt: skip
def even_spacing(edge: Length, nails: Count) -> Working[Length]:
    """Find the spacing when a number of nails is spread evenly along an edge, both ends nailed."""
    spacing = edge / (nails - 1)
    return Working(
        spacing,
        ("gaps", nails - 1, "{nails} − 1"),
        ("widest_gap", spacing, "{edge} ÷ {gaps}"),
    )


_BOARD = (at_least("board_length", 1), at_least("board_width", 1))


@rule("fastening", gives="boards", source=GEOMETRY, limits=(above("area", 0), *_BOARD))
def boards_for_area(area: Area, board_length: Length, board_width: Length) -> Working[Count]:
    """Count the insulation or cover boards that an area takes, every offcut used; order more for cuts."""
    board = board_length * board_width / 144
    boards = up(area, board)
    return Working(
        boards,
        ("board_area", board, "{board_length} × {board_width}"),
        ("boards", boards, "{area} ÷ {board_area} ↑"),
        before_rounding=(area, board),
    )


@rule(
    "fastening", gives="plates", source=DEFINITION, limits=(above("area", 0), *_BOARD, at_least("plates_in_board", 1))
)
def plates_for_boards(area: Area, board_length: Length, board_width: Length, plates_in_board: Count) -> Working[Count]:
    """Count plates, each with its fastener, for the boards of an area; the pattern of one board is the drawing's."""
    board = board_length * board_width / 144
    boards = up(area, board)
    return Working(
        boards * plates_in_board,
        ("board_area", board, "{board_length} × {board_width}"),
        ("boards", boards, "{area} ÷ {board_area} ↑"),
        ("plates", boards * plates_in_board, "{boards} × {plates_in_board}"),
        before_rounding=area / board * plates_in_board,
    )


@rule("fastening", gives="plates", source=GEOMETRY,
      limits=(above("side_a", 0), above("side_b", 0), at_least("side_a", "zone_width"),
              at_least("side_b", "zone_width"), *_BOARD))  # fmt: skip
def plates_by_zone(
    side_a: Length,
    side_b: Length,
    zone_width: Length,
    board_length: Length,
    board_width: Length,
    corner_plates: Count,
    edge_plates: Count,
    field_plates: Count,
) -> Working[Count]:
    """Count plates, each with its fastener, over a rectangular roof whose zones take different numbers to a board.

    Width of the zones and plates to a board are the drawing's or the engineer's: without them there is no count. Each
    zone is rounded up by itself, as if its boards were cut at its limit.
    """
    across, over = min(2 * zone_width, side_a), min(2 * zone_width, side_b)
    board = board_length * board_width
    corners = across * over
    edges = across * (side_b - over) + over * (side_a - across)
    field = side_a * side_b - corners - edges
    parts = [(corners, corner_plates), (edges, edge_plates), (field, field_plates)]
    at_corners, at_edges, in_field = (up(area * plates, board) for area, plates in parts)
    return Working(
        at_corners + at_edges + in_field,
        ("zone_across", across, "min(2 × {zone_width}, {side_a})"),
        ("zone_up", over, "min(2 × {zone_width}, {side_b})"),
        ("board_area", board / 144, "{board_length} × {board_width}"),
        ("corner_zones", corners / 144, "{zone_across} × {zone_up}"),
        ("edge_zones", edges / 144, "{zone_across} × ({side_b} − {zone_up}) + {zone_up} × ({side_a} − {zone_across})"),
        ("field_zone", field / 144, "{side_a} × {side_b} − {corner_zones} − {edge_zones}"),
        ("plates_at_corners", at_corners, "{corner_zones} ÷ {board_area} × {corner_plates} ↑"),
        ("plates_at_edges", at_edges, "{edge_zones} ÷ {board_area} × {edge_plates} ↑"),
        ("plates_in_field", in_field, "{field_zone} ÷ {board_area} × {field_plates} ↑"),
        ("plates", at_corners + at_edges + in_field, "{plates_at_corners} + {plates_at_edges} + {plates_in_field}"),
        before_rounding=sum((area * plates for area, plates in parts), Fraction(0)) / board,
    )


@rule("fastening", gives="uplift_ok", source=DEFINITION, limits=(above("uplift_pressure", 0),))
def uplift_rating_within(uplift_rating: Load, uplift_pressure: Load) -> Working[Flag]:
    """Say whether an assembly's tested rating reaches the uplift pressure that the drawing gives for a zone.

    Both are inputs, without sign: pressure from the engineer or the drawing, rating from the listing of the whole
    assembly. Without them there is no verdict.
    """
    holds = uplift_rating >= uplift_pressure
    return Working(holds, ("uplift_ok", holds, "{uplift_rating} ≥ {uplift_pressure}"))
