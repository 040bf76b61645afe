"""Weather: dew point, the margin above it, the least temperature that only the maker can give, cold and heat.

The margin of 5 °F comes from coatings practice and is borrowed for adhered sheets: the maker's printed instructions
come first.
"""

import math
from fractions import Fraction

from trainer.rules.arithmetic import down
from trainer.rules.dimensions import SHARE, Count, Duration, Flag, Share, Speed, Temperature, TemperatureDifference
from trainer.rules.registry import DEFINITION, RuleInputError, Source, Working, above, at_least, at_most, rule

_MAGNUS = Source("Magnus formula", "coefficients 17.625 and 243.04 °C", "", "")
_COATINGS = Source("MIL-HDBK-1110", "9.6.6", "UFC 3-190-06", "US military work; coatings practice")
_WIND_CHILL = Source("US National Weather Service, wind chill chart", "wind chill equation", "2001", "US")
_HEAT_INDEX = Source("US National Weather Service, Technical Attachment SR 90-23", "heat index equation", "1990", "US")
_CHART_END = 137  # whole degrees
_EVERY = Fraction(240)
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


@rule("weather", gives="laying_go", source=_COATINGS, part="weather",
      limits=(*_AIR, at_least("reading_interval", 10)))  # fmt: skip
def laying_allowed(  # noqa: PLR0917 - a rule takes the inputs it needs; callers name them
    surface_temperature: Temperature,
    least_temperature: Temperature,
    air_temperature: Temperature,
    humidity: Share,
    surface_dry: Flag,
    least_margin: TemperatureDifference = _MARGIN,
    reading_interval: Duration = _EVERY,
) -> Working[Flag]:
    """Say whether nothing that was read forbids laying: warm enough, far enough above the dew point, dry to the hand.

    The steps show which reading says no, and after how long to read again: 4 h, sooner when the weather turns. The
    least temperature is the maker's printed one: without it there is no verdict. Yes is no leave: rain on its way, wind
    and the maker's instructions are judged apart.
    """
    dew, steps = _dew_steps(air_temperature, humidity)
    margin = surface_temperature - dew
    warm, clear = surface_temperature >= least_temperature, margin >= least_margin
    return Working(
        warm and clear and surface_dry,
        *steps,
        ("dew_margin", margin, "{surface_temperature} − {dew_point}"),
        ("dry_enough", clear, "{dew_margin} ≥ {least_margin}"),
        ("warm_enough", warm, "{surface_temperature} ≥ {least_temperature}"),
        ("next_reading", reading_interval, "{reading_interval}"),
        ("laying_go", warm and clear and surface_dry, "all({warm_enough}; {dry_enough}; {surface_dry})"),
    )


@rule("weather", gives="readings", source=_COATINGS, limits=(at_least("reading_interval", 10),))
def readings_in_shift(work_time: Duration, reading_interval: Duration = _EVERY) -> Working[Count]:
    """Count the readings of air, humidity and surface in a shift: one at the start, then one about every 4 h."""
    after = down(work_time, reading_interval)
    return Working(
        after + 1,
        ("readings_after", after, "{work_time} ÷ {reading_interval} ↓"),
        ("readings", after + 1, "{readings_after} + 1"),
        before_rounding=(work_time + reading_interval, reading_interval),
    )


@rule("weather", gives="reading_left", source=_COATINGS, part="weather",
      limits=(at_least("reading_interval", 10),))  # fmt: skip
def next_reading_left(since_reading: Duration, reading_interval: Duration = _EVERY) -> Working[Duration]:
    """Find how long until air, humidity and surface must be read again; 0 when the reading is due now.

    Clouds, wind, rain or a roof going into shade make it due at once.
    """
    left = max(reading_interval - since_reading, Fraction(0))
    return Working(left, ("reading_left", left, "max({reading_interval} − {since_reading}, 0)"))


_CHILL_TEXT = "35.74 + 0.6215 × {air_temperature} − 35.75 × {wind_term} + 0.4275 × {air_temperature} × {wind_term}"


@rule("weather", gives="wind_chill", source=_WIND_CHILL,
      limits=(at_least("air_temperature", -45), at_most("air_temperature", 50), above("wind_speed", 3),
              at_most("wind_speed", 60)))  # fmt: skip
def wind_chill(air_temperature: Temperature, wind_speed: Speed) -> Working[Temperature]:
    """Find the wind chill of bare skin, at 50 °F or less and in more than 3 mph of wind, as far as the chart goes.

    It is about people, not about sheets. How long anybody works in it is for the competent person to say.
    """
    term = Fraction(float(wind_speed) ** 0.16)
    chill = (
        Fraction("35.74") + Fraction("0.6215") * air_temperature
        - Fraction("35.75") * term + Fraction("0.4275") * air_temperature * term
    )  # fmt: skip
    return Working(
        chill,
        ("wind_term", term, "power({wind_speed}; 0.16)"),
        ("wind_chill", chill, _CHILL_TEXT),
    )


_HEAT_TERMS = (  # coefficient, power of the temperature, power of the humidity in percent
    ("-42.379", 0, 0), ("2.04901523", 1, 0), ("10.14333127", 0, 1), ("-0.22475541", 1, 1), ("-0.00683783", 2, 0),
    ("-0.05481717", 0, 2), ("0.00122874", 2, 1), ("0.00085282", 1, 2), ("-0.00000199", 2, 2),
)  # fmt: skip
_HEAT_TEXT = (
    "2.04901523 × {air_temperature} + 10.14333127 × {humidity_percent} "
    "− 0.22475541 × {air_temperature} × {humidity_percent} − 0.00683783 × {air_temperature}² "
    "− 0.05481717 × {humidity_percent}² + 0.00122874 × {air_temperature}² × {humidity_percent} "
    "+ 0.00085282 × {air_temperature} × {humidity_percent}² "
    "− 0.00000199 × {air_temperature}² × {humidity_percent}² − 42.379"
)


@rule("weather", gives="heat_index", source=_HEAT_INDEX,
      limits=(at_least("air_temperature", 80), at_most("air_temperature", 110),
              at_least("humidity", Fraction(2, 5)), at_most("humidity", 1)))  # fmt: skip
def heat_index(air_temperature: Temperature, humidity: Share) -> Working[Temperature]:
    """Find the heat index in the shade, from 80 to 110 °F and from 40 percent humidity, up to where the chart ends.

    Full sun on a roof adds to it: the Weather Service says up to 15 °F. Water, rest and shade are owed long before the
    chart ends; how long anybody works in it is for the competent person to say.
    """
    percent = 100 * humidity
    base = sum(
        (Fraction(number) * air_temperature**heat * percent**damp for number, heat, damp in _HEAT_TERMS), Fraction(0)
    )
    damp, cool = max(percent - 85, Fraction(0)), max(87 - air_temperature, Fraction(0))
    more = damp / 10 * cool / 5
    index = base + more
    if round(index) > _CHART_END:
        raise RuleInputError(
            "heat_index", "humidity", SHARE.text(humidity), f"within the chart, which ends at {_CHART_END} °F",
            "Beyond its end heat kills quickly: stop the work.",
            spanish=(f"dentro de la tabla, que termina en {_CHART_END} °F",
                     "Más allá el calor mata rápido: pare el trabajo."),
        )  # fmt: skip
    return Working(
        index,
        ("humidity_percent", percent, "100 × {humidity}"),
        ("heat_base", base, _HEAT_TEXT),
        ("heat_more", more, "max({humidity_percent} − 85, 0) ÷ 10 × max(87 − {air_temperature}, 0) ÷ 5"),
        ("heat_index", index, "{heat_base} + {heat_more}"),
    )
