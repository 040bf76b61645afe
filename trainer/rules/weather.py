"""Weather: dew point, the margin above it, and the least temperature that only the maker can give.

The margin of 5 °F comes from coatings practice and is borrowed for adhered sheets: the maker's printed instructions
come first.
"""

import math
from fractions import Fraction

from trainer.rules.dimensions import Flag, Share, Temperature, TemperatureDifference
from trainer.rules.registry import DEFINITION, Source, Working, above, at_least, at_most, rule

_MAGNUS = Source("Magnus formula", "coefficients 17.625 and 243.04 °C", "", "")
_COATINGS = Source("MIL-HDBK-1110", "9.6.6", "UFC 3-190-06", "US military work; coatings practice")
_A, _B = 17.625, 243.04
_MARGIN = Fraction(5)
_AIR = (at_least("air_temperature", -40), at_most("air_temperature", 140),
        above("humidity", 0), at_most("humidity", 1))  # fmt: skip


def _dew_steps(air: Fraction, humidity: Fraction) -> tuple[Fraction, tuple[tuple[str, Fraction, str], ...]]:
    celsius = (air - 32) * 5 / 9
    magnus = Fraction(math.log(humidity) + _A * float(celsius) / (_B + float(celsius)))
    dew_celsius = Fraction(_B * float(magnus) / (_A - float(magnus)))
    dew = dew_celsius * 9 / 5 + 32
    return dew, (
        ("air_celsius", celsius, "({air_temperature} − 32) × 5 ÷ 9"),
        ("magnus", magnus, "ln({humidity}) + 17.625 × {air_celsius} ÷ (243.04 + {air_celsius})"),
        ("dew_celsius", dew_celsius, "243.04 × {magnus} ÷ (17.625 − {magnus})"),
        ("dew_point", dew, "{dew_celsius} × 9 ÷ 5 + 32"),
    )


@rule("weather", gives="dew_point", source=_MAGNUS, limits=_AIR)
def dew_point(air_temperature: Temperature, humidity: Share) -> Working[Temperature]:
    """Find the temperature at which dew forms, from air temperature and relative humidity.

    Over water; from -40 to 140 °F within 0.5 °F of the psychrometric tables where dew forms above freezing.
    """
    dew, steps = _dew_steps(air_temperature, humidity)
    return Working(dew, *steps)


@rule("weather", gives="dew_margin", source=_MAGNUS, limits=_AIR)
def dew_margin(
    surface_temperature: Temperature, air_temperature: Temperature, humidity: Share
) -> Working[TemperatureDifference]:
    """Find how far a surface is above the dew point; below 0 dew lies on it."""
    dew, steps = _dew_steps(air_temperature, humidity)
    margin = surface_temperature - dew
    return Working(margin, *steps, ("dew_margin", margin, "{surface_temperature} − {dew_point}"))


@rule("weather", gives="dry_enough", source=_COATINGS, limits=_AIR)
def surface_above_dew(
    surface_temperature: Temperature,
    air_temperature: Temperature,
    humidity: Share,
    least_margin: TemperatureDifference = _MARGIN,
) -> Working[Flag]:
    """Say whether a surface is at least the margin above the dew point.

    5 °F is coatings practice. Yes is no leave to start: the surface must also be dry to the touch, rising in
    temperature, and as the maker's printed instructions ask.
    """
    dew, steps = _dew_steps(air_temperature, humidity)
    margin = surface_temperature - dew
    return Working(
        margin >= least_margin,
        *steps,
        ("dew_margin", margin, "{surface_temperature} − {dew_point}"),
        ("dry_enough", margin >= least_margin, "{dew_margin} ≥ {least_margin}"),
    )


@rule("weather", gives="temperature_margin", source=DEFINITION, part="weather")
def temperature_margin(
    surface_temperature: Temperature, least_temperature: Temperature
) -> Working[TemperatureDifference]:
    """Find how far a surface is above the least temperature for laying; below 0 it is too cold.

    The least temperature is the maker's printed one: without it there is no verdict.
    """
    margin = surface_temperature - least_temperature
    return Working(margin, ("temperature_margin", margin, "{surface_temperature} − {least_temperature}"))
