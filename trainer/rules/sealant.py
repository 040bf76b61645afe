"""Sealant and primer: what a cartridge fills and what an area takes.

A US fluid ounce is 231/128 cubic inches exactly.
"""
# ruff: noqa: PLR0917 - a rule takes the inputs it needs; callers name them

import math
from fractions import Fraction

from trainer.rules.arithmetic import up
from trainer.rules.dimensions import Area, Count, Gallons, Length, Rate, Share, Volume
from trainer.rules.registry import DEFINITION, Working, above, at_least, at_most, rule
from trainer.rules.sources import HANDBOOK_44, ufgs_membrane

_CUBIC_INCHES = Fraction(231, 128)
_SMALLEST = Fraction(1, 64)
_BEAD = (above("cartridge", 0), at_least("bead_width", _SMALLEST), at_least("bead_depth", _SMALLEST))


@rule("sealant", gives="bead_length", source=HANDBOOK_44, part="edge", limits=_BEAD)
def bead_yield(cartridge: Volume, bead_width: Length, bead_depth: Length) -> Working[Length]:
    """Find the length of a rectangular bead that one cartridge yields, nothing lost."""
    length = cartridge * _CUBIC_INCHES / (bead_width * bead_depth)
    return Working(length, ("bead_length", length, "{cartridge} ÷ ({bead_width} × {bead_depth})"))


@rule("sealant", gives="bead_length", source=HANDBOOK_44, part="sealant",
      limits=(above("cartridge", 0), at_least("bead_diameter", _SMALLEST)))  # fmt: skip
def round_bead_yield(cartridge: Volume, bead_diameter: Length) -> Working[Length]:
    """Find the length of a round bead that one cartridge yields, nothing lost; 4/π times a square one as wide."""
    length = cartridge * _CUBIC_INCHES / (Fraction(math.pi) / 4 * bead_diameter**2)
    return Working(length, ("bead_length", length, "{cartridge} ÷ (π ÷ 4 × {bead_diameter}²)"))


@rule("sealant", gives="bead_length", source=HANDBOOK_44, part="sealant",
      limits=(above("cartridge", 0), at_least("half_round", _SMALLEST)))  # fmt: skip
def half_round_yield(cartridge: Volume, half_round: Length) -> Working[Length]:
    """Find the length of a half-round bead, flat on the sheet and half as high as wide, that one cartridge yields."""
    length = cartridge * _CUBIC_INCHES / (Fraction(math.pi) / 8 * half_round**2)
    return Working(length, ("bead_length", length, "{cartridge} ÷ (π ÷ 8 × {half_round}²)"))


@rule("sealant", gives="bead_length", source=HANDBOOK_44, part="sealant",
      limits=(above("cartridge", 0), at_least("fillet_leg", _SMALLEST)))  # fmt: skip
def fillet_yield(cartridge: Volume, fillet_leg: Length) -> Working[Length]:
    """Find the length of a fillet in a square corner, both legs alike and its face flat, that one cartridge yields."""
    length = cartridge * _CUBIC_INCHES / (fillet_leg**2 / 2)
    return Working(length, ("bead_length", length, "{cartridge} ÷ ({fillet_leg}² ÷ 2)"))


@rule("sealant", gives="cartridges", source=HANDBOOK_44, part="edge",
      limits=(above("edge", 0), at_least("beads", 1), *_BEAD, at_most("waste", 1)))  # fmt: skip
def cartridges(
    edge: Length, beads: Count, cartridge: Volume, bead_width: Length, bead_depth: Length, waste: Share
) -> Working[Count]:
    """Count the cartridges for beads of rectangular section along an edge, a share more for waste."""
    total = edge * beads * (1 + waste)
    length = cartridge * _CUBIC_INCHES / (bead_width * bead_depth)
    return Working(
        up(total, length),
        ("bead_total", total, "{edge} × {beads} × (1 + {waste})"),
        ("bead_length", length, "{cartridge} ÷ ({bead_width} × {bead_depth})"),
        ("cartridges", up(total, length), "{bead_total} ÷ {bead_length} ↑"),
        before_rounding=(total, length),
    )


@rule("sealant", gives="primer_volume", source=ufgs_membrane("3.2.4"), part="primer")
def primer_volume(area: Area, primer_rate: Rate) -> Working[Gallons]:
    """Find the primer an area takes at a rate; the rate is the maker's printed one for the substrate at hand."""
    volume = area * primer_rate / 100
    return Working(volume, ("primer_volume", volume, "{area} × {primer_rate}"))


@rule("sealant", gives="flange_area", source=DEFINITION, part="edge", limits=(above("edge", 0),))
def flange_area(edge: Length, flange: Length) -> Working[Area]:
    """Find the area of flange to be primed along an edge."""
    area = edge * flange / 144
    return Working(area, ("flange_area", area, "{edge} × {flange}"))
