"""Edge metal: lengths along an edge, their laps, and the strip that covers the flange."""

from fractions import Fraction

from trainer.rules.arithmetic import lapped
from trainer.rules.dimensions import Count, Length
from trainer.rules.registry import COMMON_PRACTICE, DEFINITION, Working, above, at_least, rule

_PIECES = (above("edge", 0), at_least("metal_length", "metal_lap", 1))


@rule("edge metal", gives="metal_pieces", source=COMMON_PRACTICE, part="edge", limits=_PIECES)
def metal_pieces(edge: Length, metal_length: Length, metal_lap: Length) -> Working[Count]:
    """Count the lengths of edge metal along an edge: the first covers its length, each later one less the lap."""
    pieces, gain = lapped(edge, metal_length, metal_lap), metal_length - metal_lap
    before = max((edge - metal_lap) / gain, Fraction(1))
    return Working(
        pieces,
        ("metal_gain", gain, "{metal_length} − {metal_lap}"),
        ("metal_pieces", pieces, "max(({edge} − {metal_lap}) ÷ {metal_gain}, 1) ↑"),
        before_rounding=before,
    )


@rule("edge metal", gives="last_metal_piece", source=COMMON_PRACTICE, part="edge", limits=_PIECES)
def last_metal_piece(edge: Length, metal_length: Length, metal_lap: Length) -> Working[Length]:
    """Find the length of the last piece, its lap included; a short edge takes one piece of its own length."""
    pieces, gain = lapped(edge, metal_length, metal_lap), metal_length - metal_lap
    last = edge - (pieces - 1) * gain
    return Working(
        last,
        ("metal_gain", gain, "{metal_length} − {metal_lap}"),
        ("metal_pieces", pieces, "max(({edge} − {metal_lap}) ÷ {metal_gain}, 1) ↑"),
        ("last_metal_piece", last, "{edge} − ({metal_pieces} − 1) × {metal_gain}"),
    )


@rule("edge metal", gives="metal_laps", source=COMMON_PRACTICE, part="edge", limits=_PIECES)
def metal_laps(edge: Length, metal_length: Length, metal_lap: Length) -> Working[Count]:
    """Count the laps to be sealed along an edge: one fewer than pieces."""
    pieces, gain = lapped(edge, metal_length, metal_lap), metal_length - metal_lap
    return Working(
        pieces - 1,
        ("metal_gain", gain, "{metal_length} − {metal_lap}"),
        ("metal_pieces", pieces, "max(({edge} − {metal_lap}) ÷ {metal_gain}, 1) ↑"),
        ("metal_laps", pieces - 1, "{metal_pieces} − 1"),
    )


@rule("edge metal", gives="strip_cover", source=DEFINITION, part="edge",
      limits=(above("strip_width", "flange"),))  # fmt: skip
def strip_cover(strip_width: Length, flange: Length) -> Working[Length]:
    """Find how far the strip passes the flange onto the base sheet, its edge laid along the roof edge of the metal."""
    cover = strip_width - flange
    return Working(cover, ("strip_cover", cover, "{strip_width} − {flange}"))
