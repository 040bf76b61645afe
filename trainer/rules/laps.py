"""Laps: pieces to a course, where end laps stand, how far they are staggered, and what is short."""

from fractions import Fraction

from trainer.rules.arithmetic import lapped, root
from trainer.rules.dimensions import Count, Distance, Flag, Length, Lengths, Slope
from trainer.rules.registry import COMMON_PRACTICE, DEFINITION, Working, above, at_least, at_most, rule
from trainer.rules.sources import GEOMETRY, ufgs_membrane

_ZERO = Fraction(0)
_ACROSS = Fraction(2)
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


@rule("laps", gives="corner_right", source=COMMON_PRACTICE, part="laps",
      limits=(at_most("sheets_over", 2), above("corner_cut", 0)))  # fmt: skip
def corner_cut_accepted(sheets_over: Count, cut: Length, corner_cut: Length, cut_tolerance: Length) -> Working[Flag]:
    """Say whether a T-joint's corner was cut on the right sheet and as far as asked.

    Three sheets meet there. `sheets_over` counts those that lie, or will lie, on the cut corner: the corner comes off
    the sheet that both others cover. With one over it the sheet between was cut, with none the one on top: cutting that
    as well does no harm, but alone it leaves the tunnel. `cut` is read along each side of the corner.
    """
    covered, off = sheets_over >= 2, max(cut - corner_cut, corner_cut - cut)
    return Working(
        covered and off <= cut_tolerance,
        ("both_over", covered, "{sheets_over} ≥ 2"),
        ("cut_off", off, "max({cut} − {corner_cut}, {corner_cut} − {cut})"),
        ("cut_near", off <= cut_tolerance, "{cut_off} ≤ {cut_tolerance}"),
        ("corner_right", covered and off <= cut_tolerance, "all({both_over}; {cut_near})"),
    )


@rule("laps", gives="with_water", source=ufgs_membrane("3.3.6"))
def lap_with_water(over_up: Length, under_up: Length) -> Working[Flag]:
    """Say whether a side lap lies with the water: the sheet on top is the one farther up the slope.

    Both are measured from the low edge of the deck to the lower edge of the sheet. Water then runs over the lap; the
    other way round it runs into it, and the guide specification prohibits backwater laps at any slope.
    """
    return Working(over_up >= under_up, ("with_water", over_up >= under_up, "{over_up} ≥ {under_up}"))


@rule("laps", gives="sheets_across", source=ufgs_membrane("3.3.6, note"))
def sheets_run_across(slope: Slope, across_limit: Slope = _ACROSS) -> Working[Flag]:
    """Say whether sheets run across the slope, as they do up to 2 in per ft; on a steeper roof they run up it.

    A roof of exactly 2 in per ft may have either. The maker's printed instructions and the drawing come first.
    """
    across = slope <= across_limit
    return Working(across, ("sheets_across", across, "{slope} ≤ {across_limit}"))
