"""Units against pint, a units library that is no part of this project: every unit that is read, both ways."""

import math
from fractions import Fraction
from typing import Any

import pint
import pytest

from tests.outside.proofs import LIBRARY, against
from trainer.rules import get_rule
from trainer.rules.dimensions import DIMENSIONS, LENGTH, TEMPERATURE, TEMPERATURE_DIFFERENCE

UREG: Any = pint.UnitRegistry()
NAMES = {
    "in": "inch", "ft": "foot", "yd": "yard", "mm": "millimeter", "cm": "centimeter", "m": "meter",
    "ft2": "foot**2", "in2": "inch**2", "m2": "meter**2", "square": "100*foot**2", "squares": "100*foot**2",
    "fl oz": "US_fluid_ounce", "gal": "US_liquid_gallon", "qt": "US_liquid_quart", "pt": "US_pint", "mL": "milliliter",
    "L": "liter", "in3": "inch**3",
    "lb": "pound", "oz": "ounce", "ton": "short_ton", "kg": "kilogram", "g": "gram", "t": "metric_ton",
    "gal per 100 ft2": "US_liquid_gallon/(100*foot**2)", "gal/ft2": "US_liquid_gallon/foot**2",
    "L per m2": "liter/meter**2",
    "L/m2": "liter/meter**2", "L per 10 m2": "liter/(10*meter**2)",
    "min": "minute", "h": "hour", "day": "day", "days": "day", "s": "second",
    "mph": "mile/hour", "km/h": "kilometer/hour", "m/s": "meter/second",
    "deg": "degree", "degree": "degree", "degrees": "degree",
}  # fmt: skip
SAME = [
    (dimension.name, unit)
    for dimension in DIMENSIONS.values()
    for unit in dimension.units
    if unit in NAMES and dimension.unit in NAMES and dimension.kind is not tuple
]


@pytest.mark.parametrize(("name", "unit"), SAME, ids=[f"{name}: {unit}" for name, unit in SAME])
def test_it_converts_as_pint_does(name: str, unit: str) -> None:
    """One of each unit, into the dimension's own, agrees to double precision, and comes back the same."""
    dimension = DIMENSIONS[name]
    value = dimension.parse(f"7 {unit}")
    expected = (7 * UREG.parse_expression(NAMES[unit])).to(UREG.parse_expression(NAMES[dimension.unit])).magnitude
    base = UREG.parse_expression(NAMES[dimension.unit])
    own = float(expected) / (base.magnitude if hasattr(base, "magnitude") else 1)

    assert float(value) == pytest.approx(own, rel=1e-12)
    assert dimension.number(value, unit) == pytest.approx(7, rel=1e-15)


@against(LIBRARY, "pint")
@pytest.mark.parametrize(
    ("rule", "inputs", "section"),
    [
        ("bead_yield", {"bead_width": "3/8 in", "bead_depth": "1/4 in"}, 0.375 * 0.25),
        ("round_bead_yield", {"bead_diameter": "3/8 in"}, math.pi * 0.1875**2),
        ("fillet_yield", {"fillet_leg": "1/2 in"}, 0.5 * 0.5 / 2),
    ],
)
def test_it_fills_a_bead_with_the_volume_of_a_cartridge(rule: str, inputs: dict[str, str], section: float) -> None:
    """Length times section is the cartridge, by pint's fluid ounce: square, round and in a corner."""
    length = get_rule(rule)(cartridge="20 fl oz", **inputs).value
    volume = UREG.Quantity(float(length), "inch") * UREG.Quantity(section, "inch**2")

    assert volume.to("US_fluid_ounce").magnitude == pytest.approx(20, rel=1e-9)


@pytest.mark.parametrize("degrees", ["-40", "0", "21.5", "50"])
def test_it_converts_temperatures_and_their_differences_as_pint_does(degrees: str) -> None:
    """A temperature has a zero, a difference has none."""
    reading = UREG.Quantity(float(degrees), "degC")
    difference = UREG.Quantity(float(degrees), "delta_degC")

    assert float(TEMPERATURE.parse(f"{degrees} degC")) == pytest.approx(reading.to("degF").magnitude)
    expected = difference.to("delta_degF").magnitude
    assert float(TEMPERATURE_DIFFERENCE.parse(f"{degrees} degC")) == pytest.approx(expected)


def test_it_agrees_with_pint_about_a_whole_wall_of_tapes() -> None:
    """Every sixteenth of a foot in millimeters."""
    for sixteenths in range(193):
        inches = Fraction(sixteenths, 16)
        assert LENGTH.number(inches, "mm") == pytest.approx(UREG.Quantity(float(inches), "inch").to("mm").magnitude)
