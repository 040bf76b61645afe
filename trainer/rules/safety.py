"""Safety: distances and counts of the federal construction rules, each with its clause.

Roof work kills. These are least values of one edition of US federal rules; states ask for more, and the site's plan,
the competent person and the maker of the equipment come first. A number from here protects nobody by itself.
"""

from fractions import Fraction

from trainer.rules.arithmetic import root, up
from trainer.rules.dimensions import Area, Count, Flag, Length, Slope
from trainer.rules.registry import Working, above, at_least, rule
from trainer.rules.sources import osha

_SIX_FEET = Fraction(72)
_TEN_FEET = Fraction(120)
_THREE_FEET = Fraction(36)
_FIFTY_FEET = Fraction(600)
_LOW_SLOPE = Fraction(4)
_SERVED = Fraction(3000)
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


@rule("safety", gives="foot_out", source=osha("1926.1053(b)(5)(i)"), limits=(above("working_length", 0),))
def ladder_foot_out(working_length: Length) -> Working[Length]:
    """Set a ladder's foot a quarter of its working length out from its top support.

    The working length is along the ladder, from foot to top support.
    """
    out = working_length / 4
    return Working(out, ("foot_out", out, "{working_length} ÷ 4"))


@rule("safety", gives="foot_out", source=osha("1926.1053(b)(5)(i)"), limits=(above("height", 0),))
def ladder_foot_by_height(height: Length) -> Working[Length]:
    """Set a ladder's foot one foot out for every four up: half a degree steeper than a quarter of its length."""
    out = height / 4
    return Working(out, ("foot_out", out, "{height} ÷ 4"))


@rule("safety", gives="top_height", source=osha("1926.1053(b)(5)(i)"), limits=(above("working_length", "foot_out"),))
def ladder_top_height(working_length: Length, foot_out: Length) -> Working[Length]:
    """Find how high the top support of a ladder stands, from its working length and how far out its foot is."""
    height = root(working_length**2 - foot_out**2)
    return Working(height, ("top_height", height, "√({working_length}² − {foot_out}²)"))


@rule("safety", gives="working_length", source=osha("1926.1053(b)(5)(i)"), limits=(above("height", 0),))
def ladder_working_length(height: Length) -> Working[Length]:
    """Find the working length of a ladder to a height, its foot a quarter of that length out."""
    length = 4 * height / root(Fraction(15))
    return Working(length, ("working_length", length, "4 × {height} ÷ √15"))


@rule("safety", gives="rail_length", source=osha("1926.1053(b)(1)"), limits=(above("height", 0),))
def ladder_rail_length(height: Length, rails_above: Length = _THREE_FEET) -> Working[Length]:
    """Find the least length of ladder whose side rails reach 3 ft above the landing, its foot a quarter out.

    Otherwise the top is secured and a grab device stands at the landing.
    """
    top = height + rails_above
    length = 4 * top / root(Fraction(15))
    return Working(
        length,
        ("rail_top", top, "{height} + {rails_above}"),
        ("rail_length", length, "4 × {rail_top} ÷ √15"),
    )


@rule(
    "safety",
    gives="extinguishers",
    source=osha("1926.150(c)(1)(i)"),
    limits=(above("area", 0), above("area_served", 0)),
)
def extinguishers_by_area(area: Area, area_served: Area = _SERVED) -> Working[Count]:
    """Count 2A extinguishers: one for each 3,000 square feet or major fraction, never fewer than one.

    Travel to the nearest may not pass 100 ft, which may ask for more; flammables in use ask for a 10B within 50 ft. Hot
    work goes by its permit.
    """
    needed = max(up(area / area_served - Fraction(1, 2), Fraction(1)), 1)
    return Working(
        needed,
        ("extinguishers", needed, "max({area} ÷ {area_served} − 1 ÷ 2, 1) ↑"),
        before_rounding=max(area / area_served - Fraction(1, 2), Fraction(1)),
    )
