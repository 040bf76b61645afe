"""Ladders and fire: distances and counts of the federal construction rules, each with its clause.

States, the site's plan, the fire code of the place and the permit come first. A number from here protects nobody by
itself.
"""

from fractions import Fraction

from trainer.rules.arithmetic import root, up
from trainer.rules.dimensions import Area, Count, Duration, Flag, Gallons, Length, Mass
from trainer.rules.registry import DEFINITION, Working, above, at_least, rule
from trainer.rules.sources import osha

_THREE_FEET = Fraction(36)
_SERVED = Fraction(3000)
_WALK = Fraction(1200)
_WALK_10B = Fraction(600)
_LIQUID = Fraction(5)
_GAS = Fraction(5)


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


@rule("safety", gives="foot_right", source=osha("1926.1053(b)(5)(i)"),
      limits=(above("working_length", "foot_out"),))  # fmt: skip
def ladder_foot_accepted(working_length: Length, foot_out: Length, foot_tolerance: Length) -> Working[Flag]:
    """Say whether a ladder's foot is out as far as either way of measuring asks, and anything between.

    A quarter of the working length is the federal wording; one out for four up is how crews check it, half a degree
    steeper. How far off a reading on the ground may be is the site's to say. Firm and level ground, a tied top and
    rails above the landing are judged apart.
    """
    by_length, by_height = working_length / 4, working_length / root(Fraction(17))
    flat, steep = foot_out - by_length, by_height - foot_out
    off = max(flat, steep, Fraction(0))
    return Working(
        off <= foot_tolerance,
        ("foot_by_length", by_length, "{working_length} ÷ 4"),
        ("foot_by_height", by_height, "{working_length} ÷ √17"),
        ("foot_off", off, "max({foot_out} − {foot_by_length}, {foot_by_height} − {foot_out}, 0)"),
        ("foot_right", off <= foot_tolerance, "{foot_off} ≤ {foot_tolerance}"),
    )


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


@rule("safety", gives="rungs_above", source=osha("1926.1053(b)(1)"), limits=(at_least("rung_spacing", 1),))
def rungs_above_landing(rung_spacing: Length, rails_above: Length = _THREE_FEET) -> Working[Count]:
    """Count the rungs that stand above the landing when the side rails pass it by 3 ft; a way to check by eye.

    `rung_spacing` is measured on the ladder, center to center.
    """
    rungs = up(rails_above, rung_spacing)
    return Working(
        rungs,
        ("rungs_above", rungs, "{rails_above} ÷ {rung_spacing} ↑"),
        before_rounding=(rails_above, rung_spacing),
    )


@rule("safety", gives="in_reach", source=osha("1926.150(c)(1)(i)"), limits=(above("most_walk", 0),))
def extinguisher_in_reach(walk: Length, most_walk: Length = _WALK) -> Working[Flag]:
    """Say whether the way on foot to the nearest 2A extinguisher is within 100 ft, from the farthest place of work."""
    return Working(walk <= most_walk, ("in_reach", walk <= most_walk, "{walk} ≤ {most_walk}"))


@rule("safety", gives="owes_10b", source=osha("1926.150(c)(1)(vi)"))
def flammables_owe_10b(
    liquid_in_use: Gallons, gas_in_use: Mass, liquid_limit: Gallons = _LIQUID, gas_limit: Mass = _GAS
) -> Working[Flag]:
    """Say whether flammables in use owe a 10B extinguisher: more than 5 gal of liquid or more than 5 lb of gas.

    One 20 lb cylinder is more. No is no leave: hot work goes by its permit and the fire code of the place.
    """
    liquid, gas = liquid_in_use > liquid_limit, gas_in_use > gas_limit
    return Working(
        liquid or gas,
        ("liquid_over", liquid, "{liquid_in_use} > {liquid_limit}"),
        ("gas_over", gas, "{gas_in_use} > {gas_limit}"),
        ("owes_10b", liquid or gas, "any({liquid_over}; {gas_over})"),
    )


@rule("safety", gives="in_reach", source=osha("1926.150(c)(1)(vi)"), limits=(above("most_walk_10b", 0),))
def extinguisher_10b_in_reach(walk: Length, most_walk_10b: Length = _WALK_10B) -> Working[Flag]:
    """Say whether a 10B extinguisher stands within 50 ft of the flammables in use."""
    return Working(walk <= most_walk_10b, ("in_reach", walk <= most_walk_10b, "{walk} ≤ {most_walk_10b}"))


@rule("safety", gives="watch_left", source=DEFINITION, limits=(above("fire_watch", 0),))
def fire_watch_left(watched: Duration, fire_watch: Duration) -> Working[Duration]:
    """Find how long the fire watch still has to stay after the last hot work; 0 when its time is over.

    The permit says how long: without it there is no result. The watch also stays until nothing is warm.
    """
    left = max(fire_watch - watched, Fraction(0))
    return Working(left, ("watch_left", left, "max({fire_watch} − {watched}, 0)"))
