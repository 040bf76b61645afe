"""Take-off: pieces in laying order, rolls, areas and what is lost to laps and cuts."""

from bisect import bisect_left, insort
from fractions import Fraction

from trainer.rules.arithmetic import down, lapped, up
from trainer.rules.dimensions import Area, Count, Duration, Length, Lengths, Mass, Share, Squares
from trainer.rules.registry import COMMON_PRACTICE, DEFINITION, Refusal, Working, above, at_least, at_most, rule
from trainer.rules.sources import GEOMETRY, ufgs_membrane

MOST_PIECES = 10_000  # of one cut list: 60 miles of sheet from common rolls; a longer one is a slip of the pen
_SQUARE_INCHES = 144
_ZERO = Fraction(0)
_PIECES = (
    above("length", 0),
    at_least("courses", 1),
    at_most("courses", 2000),
    at_least("roll_length", "end_lap", 1),
)


def _course_pieces(length: Fraction, first: Fraction, roll: Fraction, lap: Fraction) -> list[Fraction]:
    pieces, covered = [min(first, length)], min(first, length)
    while covered < length:
        piece = min(roll, length - covered + lap)
        pieces.append(piece)
        covered += piece - lap
    return pieces


def _cut_pieces(
    length: Fraction, courses: int, roll: Fraction, lap: Fraction, stagger: Fraction
) -> tuple[Fraction, ...]:
    if length > roll and roll - lap < 2 * stagger:
        raise Refusal(at_least("roll_length", "end_lap", 2 * stagger))
    short_first = roll - stagger if length > roll else roll
    longest = lapped(length, roll, lap) + 1  # an even course takes at most one piece more than an odd one
    if longest > MOST_PIECES:
        raise Refusal(at_least("roll_length", "end_lap", up(length, Fraction(MOST_PIECES // 2))))
    if courses * longest > MOST_PIECES:
        raise Refusal(at_most("courses", MOST_PIECES // longest))
    full, short = (_course_pieces(length, first, roll, lap) for first in (roll, short_first))
    return tuple(piece for course in range(courses) for piece in (short if course % 2 else full))


def split_by_course(
    pieces: tuple[Fraction, ...], length: Fraction, end_lap: Fraction
) -> tuple[tuple[Fraction, ...], ...]:
    """Split a cut list into its courses, in laying order: a course ends where its pieces, lapped, reach its length."""
    courses: list[tuple[Fraction, ...]] = []
    course: list[Fraction] = []
    reach = _ZERO
    for piece in pieces:
        reach += piece - end_lap if course else piece
        course.append(piece)
        if reach >= length:
            courses.append(tuple(course))
            course, reach = [], _ZERO
    return tuple(courses)


def _short_first(length: Fraction, roll: Fraction, stagger: Fraction) -> tuple[str, Fraction, str]:
    if length > roll:
        return "short_first", roll - stagger, "{roll_length} − {end_lap_stagger}"
    return "short_first", roll, "{roll_length}"


@rule("take-off", gives="cut_list", source=ufgs_membrane("3.3.6"), part="base", limits=_PIECES)
def cut_list(
    length: Length, courses: Count, roll_length: Length, end_lap: Length, end_lap_stagger: Length
) -> Working[Lengths]:
    """List the pieces of every course in laying order, as the tape shows them.

    Odd courses start with a whole roll. Even courses start with a piece shorter by the stagger, so that their end laps
    stand clear of the neighbors'. The last piece of a course is what is left, its end lap included. A course no longer
    than a roll is one piece.
    """
    pieces = _cut_pieces(length, courses, roll_length, end_lap, end_lap_stagger)
    return Working(
        pieces,
        _short_first(length, roll_length, end_lap_stagger),
        ("gain", roll_length - end_lap, "{roll_length} − {end_lap}"),
        ("cut_list", pieces, "cut({length}; {courses}; {roll_length}; {short_first}; {end_lap})"),
    )


@rule("take-off", gives="rolls", source=COMMON_PRACTICE, part="base", limits=_PIECES)
def rolls_for_roof(
    length: Length, courses: Count, roll_length: Length, end_lap: Length, end_lap_stagger: Length
) -> Working[Count]:
    """Count the rolls that the cut list needs, offcuts used again for the first later piece they are long enough for.

    Pieces are cut in laying order, each from the shortest offcut that holds it, else from a new roll.
    """
    pieces = _cut_pieces(length, courses, roll_length, end_lap, end_lap_stagger)
    rolls, offcuts = 0, list[Fraction]()
    for piece in pieces:
        shortest = bisect_left(offcuts, piece)
        if shortest < len(offcuts):
            left = offcuts.pop(shortest)
        else:
            rolls, left = rolls + 1, roll_length
        if left > piece:
            insort(offcuts, left - piece)
    total = sum(pieces, Fraction(0))
    return Working(
        rolls,
        _short_first(length, roll_length, end_lap_stagger),
        ("cut_list", pieces, "cut({length}; {courses}; {roll_length}; {short_first}; {end_lap})"),
        ("total_length", total, "sum({cut_list})"),
        ("rolls", rolls, "rolls({cut_list}; {roll_length})"),
        before_rounding=total / roll_length,
    )


@rule("take-off", gives="net_area", source=GEOMETRY, limits=(above("run", 0), above("eave", 0)))
def net_area(run: Length, eave: Length) -> Working[Area]:
    """Find the area of a rectangular deck."""
    area = run * eave / _SQUARE_INCHES
    return Working(area, ("net_area", area, "{run} × {eave}"))


@rule("take-off", gives="gross_area", source=DEFINITION, part="base",
      limits=(above("roll_width", 0), above("roll_length", 0)))  # fmt: skip
def gross_area(rolls: Count, roll_width: Length, roll_length: Length) -> Working[Area]:
    """Find the area of sheet in whole rolls, laps and waste included."""
    area = rolls * roll_width * roll_length / _SQUARE_INCHES
    return Working(area, ("gross_area", area, "{rolls} × {roll_width} × {roll_length}"))


@rule("take-off", gives="roll_cover", source=ufgs_membrane("3.3.6"), part="base",
      limits=(above("roll_width", "side_lap"), above("roll_length", "end_lap")))  # fmt: skip
def roll_cover(roll_width: Length, roll_length: Length, side_lap: Length, end_lap: Length) -> Working[Area]:
    """Find the area one roll covers once a side lap and an end lap are taken off."""
    width, length = roll_width - side_lap, roll_length - end_lap
    area = width * length / _SQUARE_INCHES
    return Working(
        area,
        ("exposure", width, "{roll_width} − {side_lap}"),
        ("gain", length, "{roll_length} − {end_lap}"),
        ("roll_cover", area, "{exposure} × {gain}"),
    )


@rule("take-off", gives="waste_share", source=DEFINITION,
      limits=(above("gross_area", 0), at_least("gross_area", "net_area")))  # fmt: skip
def waste_share(gross_area: Area, net_area: Area) -> Working[Share]:
    """Find the share of the sheet that laps and cuts take: what is bought less what is covered, over what is bought."""
    lost = gross_area - net_area
    return Working(
        lost / gross_area,
        ("lost_area", lost, "{gross_area} − {net_area}"),
        ("waste_share", lost / gross_area, "{lost_area} ÷ {gross_area}"),
    )


@rule("take-off", gives="squares", source=DEFINITION)
def roof_squares(area: Area) -> Working[Squares]:
    """Turn an area into roofing squares: 100 square feet each."""
    return Working(area / 100, ("squares", area / 100, "{area}"))


@rule("take-off", gives="sheet_length", source=DEFINITION, part="base",
      limits=(above("length", 0), at_least("roll_length", "end_lap", 1)))  # fmt: skip
def course_length_of_sheet(length: Length, roll_length: Length, end_lap: Length) -> Working[Length]:
    """Find the length of sheet one course takes: its own length and one end lap at every joint."""
    laps = lapped(length, roll_length, end_lap) - 1
    total = length + laps * end_lap
    return Working(
        total,
        ("end_lap_count", laps, "(max(({length} − {end_lap}) ÷ ({roll_length} − {end_lap}), 1) ↑) − 1"),
        ("sheet_length", total, "{length} + {end_lap_count} × {end_lap}"),
    )


@rule("take-off", gives="total_weight", source=DEFINITION, limits=(above("roll_weight", 0),))
def rolls_weight(rolls: Count, roll_weight: Mass) -> Working[Mass]:
    """Find the weight of rolls. Where on a deck they may stand is the engineer's or the plan's to say."""
    return Working(rolls * roll_weight, ("total_weight", rolls * roll_weight, "{rolls} × {roll_weight}"))


@rule("take-off", gives="pallets", source=DEFINITION, limits=(at_least("rolls_on_pallet", 1),))
def pallets_for_rolls(rolls: Count, rolls_on_pallet: Count) -> Working[Count]:
    """Count the pallets that rolls come on."""
    pallets = up(Fraction(rolls), Fraction(rolls_on_pallet))
    return Working(
        pallets,
        ("pallets", pallets, "{rolls} ÷ {rolls_on_pallet} ↑"),
        before_rounding=Fraction(rolls, rolls_on_pallet),
    )


@rule("take-off", gives="total_weight", source=DEFINITION, limits=(at_least("nails_in_pound", 1),))
def nails_weight(nails: Count, nails_in_pound: Count) -> Working[Mass]:
    """Find the weight of nails from the count that the box prints for a pound."""
    weight = Fraction(nails, nails_in_pound)
    return Working(weight, ("total_weight", weight, "{nails} ÷ {nails_in_pound}"))


@rule("take-off", gives="strips", source=GEOMETRY, part="edge", limits=(at_least("strip_width", 1),))
def strips_from_rip(starter_rip: Length, strip_width: Length) -> Working[Count]:
    """Count the strips that the piece ripped off the first course yields side by side, each as long as that course."""
    strips = down(starter_rip, strip_width)
    return Working(
        strips,
        ("strips", strips, "{starter_rip} ÷ {strip_width} ↓"),
        before_rounding=(starter_rip, strip_width),
    )


@rule("take-off", gives="strip_short", source=GEOMETRY, part="edge", limits=(at_least("strip_width", 1),))
def strip_still_needed(edge: Length, length: Length, starter_rip: Length, strip_width: Length) -> Working[Length]:
    """Find the length of strip that an edge still needs from new rolls once the ripped piece is used up; laps left out.

    `length` is that of the first course, and so of the piece ripped off it.
    """
    strips = down(starter_rip, strip_width)
    short = max(edge - strips * length, Fraction(0))
    return Working(
        short,
        ("strips", strips, "{starter_rip} ÷ {strip_width} ↓"),
        ("strip_short", short, "max({edge} − {strips} × {length}, 0)"),
    )


@rule("take-off", gives="squares_today", source=COMMON_PRACTICE,
      limits=(at_least("work_time", "time_kept"), at_least("close_time", 1)))  # fmt: skip
def squares_opened_and_closed(
    work_time: Duration, time_kept: Duration, open_time: Duration, close_time: Duration
) -> Working[Count]:
    """Count the whole squares that a crew may open today and still close watertight before it leaves.

    The crew's own times for one square, measured on this roof; `time_kept` is held back for tie-ins, seams and weather.
    Open no more than can be closed: rain decides, not the count.
    """
    time, each = work_time - time_kept, open_time + close_time
    squares = down(time, each)
    return Working(
        squares,
        ("time_left", time, "{work_time} − {time_kept}"),
        ("square_time", each, "{open_time} + {close_time}"),
        ("squares_today", squares, "{time_left} ÷ {square_time} ↓"),
        before_rounding=(time, each),
    )


@rule("take-off", gives="cut_share", source=DEFINITION, part="base",
      limits=(above("gross_area", 0), at_least("gross_area", "net_area"), above("roll_width", "side_lap"),
              above("roll_length", "end_lap")))  # fmt: skip
def waste_to_cuts(  # noqa: PLR0917 - a rule takes the inputs it needs; callers name them
    gross_area: Area, net_area: Area, roll_width: Length, roll_length: Length, side_lap: Length, end_lap: Length
) -> Working[Share]:
    """Find the share of the sheet that cuts and ends take, laps set apart: laps are owed, only the rest is waste.

    Laps are counted as one side lap and one end lap to every roll, the most that whole rolls can take; 0 where they
    explain all that is lost.
    """
    lost = gross_area - net_area
    share = 1 - (roll_width - side_lap) * (roll_length - end_lap) / (roll_width * roll_length)
    in_laps = min(gross_area * share, lost)
    lap_text = "1 − ({roll_width} − {side_lap}) × ({roll_length} − {end_lap}) ÷ ({roll_width} × {roll_length})"
    return Working(
        (lost - in_laps) / gross_area,
        ("lost_area", lost, "{gross_area} − {net_area}"),
        ("lap_share", share, lap_text),
        ("lap_area", in_laps, "min({gross_area} × {lap_share}, {lost_area})"),
        ("cut_share", (lost - in_laps) / gross_area, "({lost_area} − {lap_area}) ÷ {gross_area}"),
    )
