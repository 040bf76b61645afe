"""Drainage: slope said in different ways, fall over a run, and the weight of water that stays.

1/4 in per ft is 2.08 percent, not 2; 2 percent is 0.24 in per ft. What a deck may carry is the engineer's to say: these
rules weigh water, they give no verdict on a deck.
"""

import math
from fractions import Fraction

from trainer.rules.arithmetic import root
from trainer.rules.dimensions import Angle, Area, Gallons, Length, Load, LoadPerDepth, Mass, Share, Slope
from trainer.rules.registry import DEFINITION, Working, above, rule
from trainer.rules.sources import GEOMETRY, IBC_RAIN

_WATER = Fraction("5.2")
_ZERO = Fraction(0)


@rule("drainage", gives="slope_percent", source=DEFINITION)
def slope_percent(slope: Slope) -> Working[Share]:
    """Say a slope in percent: its rise over its run."""
    return Working(slope / 12, ("slope_percent", slope / 12, "{slope}"))


@rule("drainage", gives="slope_angle", source=GEOMETRY)
def slope_angle(slope: Slope) -> Working[Angle]:
    """Say a slope in degrees, to double precision."""
    angle = Fraction(math.degrees(math.atan(slope / 12)))
    return Working(angle, ("slope_angle", angle, "atan({slope})"))


@rule("drainage", gives="fall", source=DEFINITION, limits=(above("run", 0),))
def fall_over_run(run: Length, slope: Slope) -> Working[Length]:
    """Find how far a roof falls over a level run."""
    fall = run * slope / 12
    return Working(fall, ("fall", fall, "{run} × {slope}"))


@rule("drainage", gives="slope", source=DEFINITION, limits=(above("run", 0),))
def slope_from_fall(fall: Length, run: Length) -> Working[Slope]:
    """Find the slope from a measured fall over a level run."""
    slope = 12 * fall / run
    return Working(slope, ("slope", slope, "{fall} ÷ {run}"))


@rule("drainage", gives="slope_length", source=GEOMETRY, limits=(above("run", 0),))
def length_up_slope(run: Length, slope: Slope) -> Working[Length]:
    """Find the true length up the slope over a level run: what a tape laid on the roof reads."""
    fall = run * slope / 12
    length = root(run**2 + fall**2)
    return Working(
        length,
        ("fall", fall, "{run} × {slope}"),
        ("slope_length", length, "√({run}² + {fall}²)"),
    )


@rule("drainage", gives="slope_short", source=DEFINITION)
def slope_shortfall(slope: Slope, least_slope: Slope) -> Working[Slope]:
    """Find how much a slope is short of the least one the contract asks for; 0 when it is steep enough.

    Ask which is meant where a contract says both 2 percent and 1/4 in per ft: they differ.
    """
    short = max(least_slope - slope, _ZERO)
    return Working(short, ("slope_short", short, "max({least_slope} − {slope}, 0)"))


@rule("drainage", gives="pond_load", source=IBC_RAIN)
def pond_load(depth: Length, water_load: LoadPerDepth = _WATER) -> Working[Load]:
    """Find the load of standing water: 5.2 lb on a square foot for each inch of depth. No verdict on the deck."""
    load = depth * water_load
    return Working(load, ("pond_load", load, "{water_load} × {depth}"))


@rule("drainage", gives="pond_weight", source=IBC_RAIN)
def pond_weight(area: Area, depth: Length, water_load: LoadPerDepth = _WATER) -> Working[Mass]:
    """Find the weight of a pond of even depth. What the deck carries is the engineer's to say."""
    load = depth * water_load
    return Working(
        area * load,
        ("pond_load", load, "{water_load} × {depth}"),
        ("pond_weight", area * load, "{area} × {pond_load}"),
    )


@rule("drainage", gives="pond_volume", source=DEFINITION)
def pond_volume(area: Area, depth: Length) -> Working[Gallons]:
    """Find the gallons in a pond of even depth: 231 cubic inches each."""
    volume = area * 144 * depth / 231
    return Working(volume, ("pond_volume", volume, "{area} × {depth}"))


@rule("drainage", gives="cricket_height", source=GEOMETRY, limits=(above("cricket_width", 0),))
def cricket_height(cricket_width: Length, cricket_slope: Slope) -> Working[Length]:
    """Find how high the ridge of a cricket stands that sheds to both sides, behind a curb or between drains.

    How steep it must be for its valleys to drain is the drawing's to say.
    """
    half = cricket_width / 2
    height = half * cricket_slope / 12
    return Working(
        height,
        ("cricket_half", half, "{cricket_width} ÷ 2"),
        ("cricket_height", height, "{cricket_half} × {cricket_slope}"),
    )


@rule("drainage", gives="valley_slope", source=GEOMETRY, limits=(above("valley_up", 0),))
def valley_slope(slope: Slope, valley_up: Length, valley_across: Length) -> Working[Slope]:
    """Find how steep the valley is in which a cricket meets the roof it stands on; always flatter than the roof.

    The valley starts `valley_up` up the roof's slope from where it ends and runs `valley_across` sideways: to the
    corner of the curb, or to the drain. It falls as far as the roof does over that way up, on a longer way. How steep
    it must be is the drawing's to say.
    """
    fall = valley_up * slope / 12
    length = root(valley_up**2 + valley_across**2)
    return Working(
        12 * fall / length,
        ("fall", fall, "{valley_up} × {slope}"),
        ("valley_length", length, "√({valley_up}² + {valley_across}²)"),
        ("valley_slope", 12 * fall / length, "{fall} ÷ {valley_length}"),
    )


@rule("drainage", gives="taper_thickness", source=GEOMETRY, limits=(above("run", 0),))
def taper_thickness(thin_edge: Length, run: Length, slope: Slope) -> Working[Length]:
    """Find how thick tapered insulation is at the end of its run, from its thin edge and its own slope."""
    rise = run * slope / 12
    return Working(
        thin_edge + rise,
        ("fall", rise, "{run} × {slope}"),
        ("taper_thickness", thin_edge + rise, "{thin_edge} + {fall}"),
    )
