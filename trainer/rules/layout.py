"""Layout: starter, exposure, courses, chalk lines and the distance between the laps of two plies.

Courses run across the slope. Distances up the slope start at the low edge of the deck; the base sheet passes that
edge by `overhang`, and a high edge that is no wall by `top_overhang`, before it is turned down.
"""
# ruff: noqa: PLR0917 - a rule takes the inputs it needs; callers name them

from bisect import bisect_left
from fractions import Fraction

from trainer.rules.arithmetic import lapped, root, up
from trainer.rules.dimensions import Count, Distance, Length, Lengths, Share
from trainer.rules.registry import COMMON_PRACTICE, DEFINITION, Refusal, Working, above, at_least, below, rule
from trainer.rules.sources import GEOMETRY, ufgs_membrane

_ZERO = Fraction(0)
_MOST_LINES = 2000  # of one ply; more are a slip of the pen, and nobody could read them
_COURSES = (
    above("run", 0),
    at_least("roll_width", "side_lap", 1),
    above("starter_width", "side_lap"),
    above("starter_width", "overhang"),
)
_PLIES = (
    above("run", 0),
    at_least("base_roll_width", "base_side_lap", 1),
    at_least("cap_roll_width", "cap_side_lap", 1),
    above("starter_width", "base_side_lap"),
    above("starter_width", "overhang"),
    above("cap_starter_width", "cap_side_lap"),
)


@rule("layout", gives="starter_width", source=COMMON_PRACTICE, part="base",
      limits=(above("roll_width", 0), below("starter_cut", 1)))  # fmt: skip
def starter_width(roll_width: Length, starter_cut: Share) -> Working[Length]:
    """Find the width of the first base course after its share of the roll is cut off.

    Cutting the first base course keeps its laps away from those of the cap sheet.
    """
    cut = roll_width * starter_cut
    return Working(
        roll_width - cut,
        ("starter_rip", cut, "{roll_width} × {starter_cut}"),
        ("starter_width", roll_width - cut, "{roll_width} − {starter_rip}"),
    )


@rule("layout", gives="starter_rip", source=COMMON_PRACTICE, part="base",
      limits=(above("roll_width", 0), below("starter_cut", 1)))  # fmt: skip
def starter_rip(roll_width: Length, starter_cut: Share) -> Working[Length]:
    """Find the width of the strip that is cut off the first base course."""
    cut = roll_width * starter_cut
    return Working(cut, ("starter_rip", cut, "{roll_width} × {starter_cut}"))


@rule("layout", gives="exposure", source=DEFINITION, part="base",
      limits=(above("roll_width", "side_lap"),))  # fmt: skip
def exposure(roll_width: Length, side_lap: Length) -> Working[Length]:
    """Find how far each course after the first gains up the slope: the sheet less its side lap."""
    gain = roll_width - side_lap
    return Working(gain, ("exposure", gain, "{roll_width} − {side_lap}"))


@rule("layout", gives="courses", source=ufgs_membrane("3.3.6"), part="base", limits=_COURSES)
def course_count(
    run: Length,
    overhang: Length,
    starter_width: Length,
    roll_width: Length,
    side_lap: Length,
    top_overhang: Length = _ZERO,
) -> Working[Count]:
    """Count the courses that cover the deck up the slope, the starter included.

    The first course covers the width of the starter, each later one the exposure; the last may be ripped.
    """
    cover = overhang + run + top_overhang
    left = max(cover - starter_width, _ZERO)
    gain = roll_width - side_lap
    more = lapped(cover, starter_width, starter_width - gain) - 1
    return Working(
        1 + more,
        ("cover", cover, "{overhang} + {run} + {top_overhang}"),
        ("left_after_starter", left, "max({cover} − {starter_width}, 0)"),
        ("exposure", gain, "{roll_width} − {side_lap}"),
        ("courses_after_starter", more, "{left_after_starter} ÷ {exposure} ↑"),
        ("courses", 1 + more, "1 + {courses_after_starter}"),
        before_rounding=1 + left / gain,
    )


@rule("layout", gives="chalk_lines", source=ufgs_membrane("3.3.6"), part="base", limits=_COURSES)
def chalk_lines(
    run: Length, overhang: Length, starter_width: Length, roll_width: Length, side_lap: Length
) -> Working[Lengths]:
    """Find every chalk line, measured from the low edge of the deck.

    A line stands where the upper edge of a course lies. The upper edge of the last course is the high edge of the
    deck, or passes it, and needs no line; a deck that one course covers has none.
    """
    first, gain = starter_width - overhang, roll_width - side_lap
    lines = tuple(_every(gain, first, run))
    return Working(
        lines,
        ("first_line", first, "{starter_width} − {overhang}"),
        ("exposure", gain, "{roll_width} − {side_lap}"),
        ("chalk_lines", lines, "{first_line} + n × {exposure}"),
    )


@rule("layout", gives="last_course_width", source=ufgs_membrane("3.3.6"), part="base", limits=_COURSES)
def last_course_width(
    run: Length,
    overhang: Length,
    starter_width: Length,
    roll_width: Length,
    side_lap: Length,
    top_overhang: Length = _ZERO,
) -> Working[Length]:
    """Find how much of the sheet's width the last course needs, its side lap included.

    A deck that the starter alone covers needs that much of the starter.
    """
    cover, gain = overhang + run + top_overhang, roll_width - side_lap
    courses = lapped(cover, starter_width, starter_width - gain)
    if courses == 1:
        return Working(
            cover,
            ("cover", cover, "{overhang} + {run} + {top_overhang}"),
            ("last_course_width", cover, "{cover}"),
        )
    below_last = starter_width + (courses - 2) * gain
    width = cover - below_last + side_lap
    return Working(
        width,
        ("cover", cover, "{overhang} + {run} + {top_overhang}"),
        ("exposure", gain, "{roll_width} − {side_lap}"),
        ("courses", courses, "1 + (({cover} − {starter_width}) ÷ {exposure} ↑)"),
        ("covered_below", below_last, "{starter_width} + ({courses} − 2) × {exposure}"),
        ("last_course_width", width, "{cover} − {covered_below} + {side_lap}"),
    )


def lap_lines(run: Fraction, start: Fraction, first: Fraction, roll: Fraction, lap: Fraction) -> list[Fraction]:
    """List where the seams of one ply lie on the deck: the lower edge of each overlapping sheet, from the low edge."""
    return _every(roll - lap, start + first - lap, run)


def _every(gain: Fraction, first: Fraction, end: Fraction) -> list[Fraction]:
    """List `first`, and every line a gain farther, below the end."""
    line, lines = first, []
    while line < end:
        lines.append(line)
        line += gain
    return lines


def _nearest(line: Fraction, others: list[Fraction]) -> Fraction:
    """Find the distance from a line to the nearest of the others, which are in order."""
    at = bisect_left(others, line)
    return min(abs(line - other) for other in others[max(at - 1, 0) : at + 1])


def _cap_first(given: Fraction | None) -> str:
    return "{cap_roll_width}" if given is None else "{cap_starter_width}"


def _plies(
    run: Fraction,
    overhang: Fraction,
    starter: Fraction,
    base: tuple[Fraction, Fraction],
    cap: tuple[Fraction, Fraction],
    cap_first: Fraction,
) -> tuple[list[Fraction], list[Fraction]]:
    """List the lap lines of both plies; refuse a deck on which one of them has none, or more than can be read."""
    for name, (roll, lap) in (("base", base), ("cap", cap)):
        if run > _MOST_LINES * (roll - lap):
            least = up(run, Fraction(_MOST_LINES))
            raise Refusal(at_least(f"{name}_roll_width", f"{name}_side_lap", least))
    base_lines = lap_lines(run, -overhang, starter, *base)
    cap_lines = lap_lines(run, _ZERO, cap_first, *cap)
    if not base_lines:
        raise Refusal(above("run", "starter_width"))
    if not cap_lines:
        raise Refusal(above("run", "cap_roll_width"))
    return base_lines, cap_lines


@rule("layout", gives="lap_offset", source=ufgs_membrane("3.3.6"), part="plies", limits=_PLIES)
def lap_offset(
    run: Length,
    overhang: Length,
    starter_width: Length,
    base_roll_width: Length,
    base_side_lap: Length,
    cap_roll_width: Length,
    cap_side_lap: Length,
    cap_starter_width: Length | None = None,
) -> Working[Length]:
    """Find the least distance between a side lap of the base sheet and one of the cap sheet, over the whole slope.

    Two plies whose exposures differ drift together: an offset that is right at the low edge can be gone higher up. A
    lap is measured at the lower edge of its overlapping sheet. The cap sheet starts at the low edge of the deck, with a
    whole roll unless `cap_starter_width` says otherwise.
    """
    base = (base_roll_width, base_side_lap)
    cap = (cap_roll_width, cap_side_lap)
    cap_first = cap_roll_width if cap_starter_width is None else cap_starter_width
    base_lines, cap_lines = _plies(run, overhang, starter_width, base, cap, cap_first)
    distances = tuple(_nearest(line, cap_lines) for line in base_lines)
    base_gain, cap_gain = base_roll_width - base_side_lap, cap_roll_width - cap_side_lap
    return Working(
        min(distances),
        ("base_exposure", base_gain, "{base_roll_width} − {base_side_lap}"),
        ("cap_exposure", cap_gain, "{cap_roll_width} − {cap_side_lap}"),
        ("base_laps", tuple(base_lines), "{starter_width} − {overhang} − {base_side_lap} + n × {base_exposure}"),
        ("cap_laps", tuple(cap_lines), f"{_cap_first(cap_starter_width)} − {{cap_side_lap}} + n × {{cap_exposure}}"),
        ("lap_distances", distances, "nearest({base_laps}; {cap_laps})"),
        ("lap_offset", min(distances), "min({lap_distances})"),
    )


@rule("layout", gives="cap_restart", source=ufgs_membrane("3.3.6"), part="plies", limits=_PLIES)
def cap_restart(
    run: Length,
    overhang: Length,
    starter_width: Length,
    base_roll_width: Length,
    base_side_lap: Length,
    cap_roll_width: Length,
    cap_side_lap: Length,
    side_lap_offset: Length,
    cap_starter_width: Length | None = None,
) -> Working[Count]:
    """Find the cap course at which the cap sheet must be re-started, 0 where it never must.

    That is the first cap course whose upper lap falls nearer than `side_lap_offset` to a lap of the base sheet: this
    course is ripped to a new width, so that its lap stands clear, and the cap sheet goes on from there.
    """
    base = (base_roll_width, base_side_lap)
    cap = (cap_roll_width, cap_side_lap)
    cap_first = cap_roll_width if cap_starter_width is None else cap_starter_width
    base_lines, cap_lines = _plies(run, overhang, starter_width, base, cap, cap_first)
    distances = tuple(_nearest(line, base_lines) for line in cap_lines)
    at = next((number for number, gap in enumerate(distances, 1) if gap < side_lap_offset), 0)
    base_gain, cap_gain = base_roll_width - base_side_lap, cap_roll_width - cap_side_lap
    return Working(
        at,
        ("base_exposure", base_gain, "{base_roll_width} − {base_side_lap}"),
        ("cap_exposure", cap_gain, "{cap_roll_width} − {cap_side_lap}"),
        ("base_laps", tuple(base_lines), "{starter_width} − {overhang} − {base_side_lap} + n × {base_exposure}"),
        ("cap_laps", tuple(cap_lines), f"{_cap_first(cap_starter_width)} − {{cap_side_lap}} + n × {{cap_exposure}}"),
        ("lap_distances", distances, "nearest({cap_laps}; {base_laps})"),
        ("cap_restart", at, "first({lap_distances} < {side_lap_offset})"),
    )


@rule("layout", gives="lap_drift", source=DEFINITION, part="plies",
      limits=(above("base_roll_width", "base_side_lap"), above("cap_roll_width", "cap_side_lap")))  # fmt: skip
def lap_drift(
    base_roll_width: Length, base_side_lap: Length, cap_roll_width: Length, cap_side_lap: Length
) -> Working[Distance]:
    """Find how far the laps of the cap sheet move up the slope against those of the base sheet at every course."""
    base_gain, cap_gain = base_roll_width - base_side_lap, cap_roll_width - cap_side_lap
    return Working(
        cap_gain - base_gain,
        ("base_exposure", base_gain, "{base_roll_width} − {base_side_lap}"),
        ("cap_exposure", cap_gain, "{cap_roll_width} − {cap_side_lap}"),
        ("lap_drift", cap_gain - base_gain, "{cap_exposure} − {base_exposure}"),
    )


@rule("layout", gives="diagonal", source=GEOMETRY, limits=(above("side_a", 0), above("side_b", 0)))
def squaring_diagonal(side_a: Length, side_b: Length) -> Working[Length]:
    """Find the diagonal that makes a corner square: 3, 4 and 5 in any unit.

    Exact where the root is a fraction, else to double precision.
    """
    diagonal = root(side_a**2 + side_b**2)
    return Working(diagonal, ("diagonal", diagonal, "√({side_a}² + {side_b}²)"))
