"""Laps: pieces to a course, where end laps stand, how far they are staggered, and what is short."""

from fractions import Fraction

from trainer.rules.arithmetic import lapped, root
from trainer.rules.dimensions import Count, Distance, Length, Lengths
from trainer.rules.registry import COMMON_PRACTICE, DEFINITION, Working, above, at_least, rule
from trainer.rules.sources import GEOMETRY, ufgs_membrane

_ZERO = Fraction(0)
_PIECES = (above("length", 0), at_least("roll_length", "end_lap", 1))


@rule("laps", gives="pieces", source=ufgs_membrane("3.3.6"), part="base", limits=_PIECES)
def pieces_in_course(length: Length, roll_length: Length, end_lap: Length) -> Working[Count]:
    """Count the lengths of sheet in one course, whole rolls joined with end laps."""
    pieces = lapped(length, roll_length, end_lap)
    gain = roll_length - end_lap
    return Working(
        pieces,
        ("gain", gain, "{roll_length} − {end_lap}"),
        ("pieces", pieces, "max(({length} − {end_lap}) ÷ {gain}, 1) ↑"),
        before_rounding=max((length - end_lap) / gain, Fraction(1)),
    )


@rule("laps", gives="end_laps", source=DEFINITION, part="base",
      limits=(*_PIECES, at_least("first_piece", "end_lap", 1), at_least("roll_length", "first_piece")))  # fmt: skip
def end_lap_marks(length: Length, first_piece: Length, roll_length: Length, end_lap: Length) -> Working[Lengths]:
    """Find where the end laps of one course stand, measured from where the course starts.

    A lap is measured at the end of its overlapping sheet, which is laid second. A course whose first piece covers it
    has none.
    """
    mark, marks = first_piece - end_lap, []
    gain = roll_length - end_lap
    while mark + end_lap < length:
        marks.append(mark)
        mark += gain
    return Working(
        tuple(marks),
        ("first_end_lap", first_piece - end_lap, "{first_piece} − {end_lap}"),
        ("gain", gain, "{roll_length} − {end_lap}"),
        ("end_laps", tuple(marks), "{first_end_lap} + n × {gain}"),
    )


@rule("laps", gives="stagger", source=ufgs_membrane("3.3.6"), limits=(at_least("upper", 1), at_least("lower", 1)))
def least_stagger(upper: Lengths, lower: Lengths) -> Working[Length]:
    """Find the least distance between an end lap of one course and one of the course below it.

    Both lists are measured from the same edge; each has at least one end lap.
    """
    gaps = tuple(min(abs(mark - other) for other in lower) for mark in upper)
    return Working(
        min(gaps),
        ("staggers", gaps, "nearest({upper}; {lower})"),
        ("stagger", min(gaps), "min({staggers})"),
    )


@rule("laps", gives="selvage_cover", source=COMMON_PRACTICE, part="cap")
def selvage_cover_left(lap: Length, side_lap: Length) -> Working[Distance]:
    """Find how far the upper cap sheet passes the selvage line of the lower one; below 0 selvage lies bare."""
    cover = lap - side_lap
    return Working(cover, ("selvage_cover", cover, "{lap} − {side_lap}"))


@rule("laps", gives="shortfall", source=DEFINITION)
def lap_shortfall(lap: Length, limit: Length) -> Working[Length]:
    """Find how much a measured lap is short of its limit; 0 when it is wide enough."""
    short = max(limit - lap, _ZERO)
    return Working(short, ("shortfall", short, "max({limit} − {lap}, 0)"))


@rule("laps", gives="corner_cut_edge", source=GEOMETRY, part="base", limits=(above("corner_cut", 0),))
def corner_cut_edge(corner_cut: Length) -> Working[Length]:
    """Find the length of the cut edge when a corner is cut off at 45 degrees at a T-joint.

    `corner_cut` is measured along each side of the corner of the sheet that will be overlapped. To double precision.
    """
    edge = root(2 * corner_cut**2)
    return Working(edge, ("corner_cut_edge", edge, "√(2 × {corner_cut}²)"))
