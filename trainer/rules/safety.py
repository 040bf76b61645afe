"""Falls: distances and counts of the federal construction rules, each with its clause.

Roof work kills. These are least values of one edition of US federal rules; states ask for more, and the site's plan,
the competent person and the maker of the equipment come first. A number from here protects nobody by itself.
"""

from fractions import Fraction

from trainer.rules.arithmetic import up
from trainer.rules.dimensions import Area, Count, Distance, Flag, Length, Mass, Number, Slope
from trainer.rules.registry import DEFINITION, Working, above, at_least, at_most, rule
from trainer.rules.sources import osha, osha_letter

_SIX_FEET = Fraction(72)
_TEN_FEET = Fraction(120)
_FIFTEEN_FEET = Fraction(180)
_FIFTY_FEET = Fraction(600)
_LOW_SLOPE = Fraction(4)
_DECELERATION = Fraction(42)
_RAIL = Fraction(42)
_RAIL_TOLERANCE = Fraction(3)
_LINE_LEAST = Fraction(34)
_LINE_MOST = Fraction(39)
_LINE = (
    at_least("setback_a", _SIX_FEET),
    at_least("setback_b", _SIX_FEET),
    above("side_a", 0),
    above("side_b", 0),
)


@rule("safety", gives="low_slope", source=osha("1926.500(b)"))
def is_low_slope(slope: Slope, low_slope_limit: Slope = _LOW_SLOPE) -> Working[Flag]:
    """Say whether a roof counts as low-slope: 4 in 12 or less."""
    return Working(slope <= low_slope_limit, ("low_slope", slope <= low_slope_limit, "{slope} ≤ {low_slope_limit}"))


@rule("safety", gives="protection_owed", source=osha("1926.501(b)(10)"), limits=(above("fall_height_limit", 0),))
def fall_protection_owed(height: Length, fall_height_limit: Length = _SIX_FEET) -> Working[Flag]:
    """Say whether roofing work at a height above a lower level owes fall protection: 6 ft or more.

    Federal construction rules. No is no leave to work unprotected: the competent person, the site's plan and the state
    may ask for more.
    """
    owed = height >= fall_height_limit
    return Working(owed, ("protection_owed", owed, "{height} ≥ {fall_height_limit}"))


@rule("safety", gives="monitor_alone", source=osha("1926.501(b)(10)"), limits=(above("side_a", 0), above("side_b", 0)))
def monitor_alone_allowed(side_a: Length, side_b: Length, monitor_width: Length = _FIFTY_FEET) -> Working[Flag]:
    """Say whether a low-slope roof is narrow enough for a safety monitor alone: 50 ft or less in its lesser dimension.

    Appendix A to Subpart M says how the width is taken; an irregular roof is divided. Allowed is not the same as safe.
    """
    width = min(side_a, side_b)
    return Working(
        width <= monitor_width,
        ("roof_width", width, "min({side_a}, {side_b})"),
        ("monitor_alone", width <= monitor_width, "{roof_width} ≤ {monitor_width}"),
    )


@rule("safety", gives="setback", source=osha("1926.502(f)(1)"))
def warning_line_setback(
    equipment: Flag, across: Flag, near: Length = _SIX_FEET, far: Length = _TEN_FEET
) -> Working[Length]:
    """Find the least distance of a warning line from an edge.

    6 ft; 10 ft from an edge that lies across the travel of mechanical equipment in use.
    """
    back = far if equipment and across else near
    return Working(back, ("setback", back, "{far}" if equipment and across else "{near}"))


@rule("safety", gives="setback", source=osha_letter("August 1, 2000", "1926.501(b)(10)"))
def setback_by_work(  # noqa: PLR0917 - a rule takes the inputs it needs; callers name them
    roofing_work: Flag, equipment: Flag, across: Flag, near: Length = _SIX_FEET, far: Length = _TEN_FEET,
    other_trades: Length = _FIFTEEN_FEET,
) -> Working[Length]:  # fmt: skip
    """Find the least distance of the warning line that somebody must stay inside of, by the work that is done.

    6 ft and 10 ft are for roofing work alone; building the deck is none. By this letter others may go without rail,
    net or harness only inside a line 15 ft from the edge that nobody passes, trained, with the rule enforced. It is no
    leave: the site's plan and the state may ask for more, so give the distances of the place.
    """
    back = (far if equipment and across else near) if roofing_work else other_trades
    named = ("{far}" if equipment and across else "{near}") if roofing_work else "{other_trades}"
    return Working(back, ("setback", back, named))


@rule("safety", gives="line_length", source=osha("1926.502(f)(1)"), limits=_LINE)
def warning_line_length(side_a: Length, side_b: Length, setback_a: Length, setback_b: Length) -> Working[Length]:
    """Find the length of a warning line round a rectangular roof.

    `setback_a` is the line's distance from the edges of length `side_a`, `setback_b` from those of length `side_b`.
    """
    inner_a, inner_b = _inner(side_a, side_b, setback_a, setback_b)
    return Working(
        2 * (inner_a + inner_b),
        ("inner_a", inner_a, "max({side_a} − 2 × {setback_b}, 0)"),
        ("inner_b", inner_b, "max({side_b} − 2 × {setback_a}, 0)"),
        ("line_length", 2 * (inner_a + inner_b), "2 × ({inner_a} + {inner_b})"),
    )


@rule("safety", gives="area_inside", source=osha("1926.502(f)(1)"), limits=_LINE)
def area_inside_warning_line(side_a: Length, side_b: Length, setback_a: Length, setback_b: Length) -> Working[Area]:
    """Find the area inside a warning line on a rectangular roof, sides and setbacks as for its length."""
    inner_a, inner_b = _inner(side_a, side_b, setback_a, setback_b)
    return Working(
        inner_a * inner_b / 144,
        ("inner_a", inner_a, "max({side_a} − 2 × {setback_b}, 0)"),
        ("inner_b", inner_b, "max({side_b} − 2 × {setback_a}, 0)"),
        ("area_inside", inner_a * inner_b / 144, "{inner_a} × {inner_b}"),
    )


def _inner(side_a: Fraction, side_b: Fraction, setback_a: Fraction, setback_b: Fraction) -> tuple[Fraction, Fraction]:
    return max(side_a - 2 * setback_b, Fraction(0)), max(side_b - 2 * setback_a, Fraction(0))


@rule("safety", gives="warning_flags", source=osha("1926.502(f)(2)(i)"),
      limits=(above("line_length", 0), at_least("flag_spacing", 1)))  # fmt: skip
def flags_round_line(line_length: Length, flag_spacing: Length = _SIX_FEET) -> Working[Count]:
    """Count the flags of a closed warning line, none farther than 6 ft from the next: as many flags as gaps."""
    flags = up(line_length, flag_spacing)
    return Working(
        flags,
        ("warning_flags", flags, "{line_length} ÷ {flag_spacing} ↑"),
        before_rounding=(line_length, flag_spacing),
    )


@rule("safety", gives="warning_flags", source=osha("1926.502(f)(2)(i)"),
      limits=(above("span", 0), at_least("flag_spacing", 1)))  # fmt: skip
def flags_between_stanchions(span: Length, flag_spacing: Length = _SIX_FEET) -> Working[Count]:
    """Count the flags between two stanchions, none on the stanchions themselves: one fewer than gaps."""
    gaps = up(span, flag_spacing)
    return Working(
        gaps - 1,
        ("gaps", gaps, "{span} ÷ {flag_spacing} ↑"),
        ("warning_flags", gaps - 1, "{gaps} − 1"),
        before_rounding=(span - flag_spacing, flag_spacing),
    )


@rule("safety", gives="free_fall", source=osha("1926.502(d)(16)(iii)"))
def free_fall(lanyard: Length, d_ring_height: Length) -> Working[Length]:
    """Find how far a person falls before a lanyard that is tied off at the feet begins to hold.

    Federal rules allow at most 6 ft of free fall: tying off at the feet with a 6 ft lanyard is not allowed. The clear
    height that an arrested fall needs below comes from the maker's instructions and the competent person.
    """
    fall = lanyard + d_ring_height
    return Working(fall, ("free_fall", fall, "{lanyard} + {d_ring_height}"))


@rule("safety", gives="free_fall_ok", source=osha("1926.502(d)(16)(iii)"), limits=(above("free_fall_limit", 0),))
def free_fall_allowed(lanyard: Length, d_ring_height: Length, free_fall_limit: Length = _SIX_FEET) -> Working[Flag]:
    """Say whether tying off at the feet keeps the free fall within 6 ft; yes says nothing about what lies below."""
    fall = lanyard + d_ring_height
    return Working(
        fall <= free_fall_limit,
        ("free_fall", fall, "{lanyard} + {d_ring_height}"),
        ("free_fall_ok", fall <= free_fall_limit, "{free_fall} ≤ {free_fall_limit}"),
    )


_ARREST = (at_most("free_fall", _SIX_FEET), at_most("deceleration", _DECELERATION))


@rule("safety", gives="fall_clearance", source=osha("1926.502(d)(16)(iii) and (iv)"), limits=_ARREST)
def fall_clearance(
    free_fall: Length, deceleration: Length, anchor_give: Length, harness_stretch: Length, clear_margin: Length
) -> Working[Length]:
    """Add up the clear height that an arrested fall needs below the surface stood on.

    Free fall is at most 6 ft and deceleration at most 3.5 ft. How far the anchor and its line give, how far the harness
    stretches and the margin are not federal numbers: they come from the maker's printed instructions, the engineer and
    the competent person, and without them there is no result. A swing to the side is not in this sum.
    """
    needed = free_fall + deceleration + anchor_give + harness_stretch + clear_margin
    total = "{free_fall} + {deceleration} + {anchor_give} + {harness_stretch} + {clear_margin}"
    return Working(needed, ("fall_clearance", needed, total))


@rule("safety", gives="clearance_left", source=DEFINITION, limits=(above("fall_clearance", 0),))
def fall_clearance_left(clear_height: Length, fall_clearance: Length) -> Working[Distance]:
    """Find the clear height left below an arrested fall; below 0 the person strikes what lies below.

    `clear_height` is measured from the surface stood on down to whatever is struck first, stored material included.
    """
    left = clear_height - fall_clearance
    return Working(left, ("clearance_left", left, "{clear_height} − {fall_clearance}"))


@rule("safety", gives="rail_ok", source=osha("1926.502(b)(1)"), limits=(above("rail_target", 0),))
def top_rail_within(
    rail_height: Length, rail_target: Length = _RAIL, rail_tolerance: Length = _RAIL_TOLERANCE
) -> Working[Flag]:
    """Say whether a guardrail's top rail stands 42 in above the walking level, give or take 3 in.

    Height is one thing of many: the rail must also withstand 200 lb within 2 in of its top edge.
    """
    off = abs(rail_height - rail_target)
    return Working(
        off <= rail_tolerance,
        ("rail_off", off, "max({rail_height} − {rail_target}, {rail_target} − {rail_height})"),
        ("rail_ok", off <= rail_tolerance, "{rail_off} ≤ {rail_tolerance}"),
    )


@rule("safety", gives="line_height_ok", source=osha("1926.502(f)(2)(ii)"),
      limits=(at_least("line_highest", "line_lowest"), at_least("line_height_most", "line_height_least")))  # fmt: skip
def warning_line_height_within(
    line_lowest: Length,
    line_highest: Length,
    line_height_least: Length = _LINE_LEAST,
    line_height_most: Length = _LINE_MOST,
) -> Working[Flag]:
    """Say whether a warning line hangs between 34 and 39 in above the surface, its sag included.

    States differ: give the limits of the place.
    """
    low, high = line_lowest >= line_height_least, line_highest <= line_height_most
    return Working(
        low and high,
        ("line_low_ok", low, "{line_lowest} ≥ {line_height_least}"),
        ("line_high_ok", high, "{line_highest} ≤ {line_height_most}"),
        ("line_height_ok", low and high, "all({line_low_ok}; {line_high_ok})"),
    )


@rule("safety", gives="cover_ok", source=osha("1926.502(i)"),
      limits=(above("cover_weight", 0), at_least("cover_factor", 1)))  # fmt: skip
def hole_cover_accepted(
    cover_capacity: Mass, cover_weight: Mass, cover_factor: Number, cover_secured: Flag, cover_marked: Flag
) -> Working[Flag]:
    """Say whether a cover over a hole may be relied on: strong enough, secured against shifting, and marked.

    `cover_weight` is everybody and everything that may be on the cover at one time, `cover_factor` how many times that
    weight the rule of the place makes it hold, `cover_capacity` the weight it is known to hold. Each comes from the
    competent person and the cover's maker or engineer: without any of the five there is no verdict.
    """
    owed = cover_weight * cover_factor
    holds = cover_capacity >= owed
    return Working(
        holds and cover_secured and cover_marked,
        ("cover_load", owed, "{cover_weight} × {cover_factor}"),
        ("cover_holds", holds, "{cover_capacity} ≥ {cover_load}"),
        ("cover_ok", holds and cover_secured and cover_marked, "all({cover_holds}; {cover_secured}; {cover_marked})"),
    )
