"""Edge metal: lengths along an edge, their laps, and the strip that covers the flange."""

from fractions import Fraction

from trainer.rules.arithmetic import lapped
from trainer.rules.dimensions import (
    Count,
    Expansion,
    Flag,
    Gauge,
    Length,
    Load,
    LoadPerDepth,
    Share,
    TemperatureDifference,
    Thickness,
)
from trainer.rules.registry import COMMON_PRACTICE, DEFINITION, Refusal, Source, Working, above, at_least, at_most, rule

_EXPANSION = Source("linear expansion", "change of length = coefficient × length × change of temperature", "", "")
_GAGE = Source("Manufacturers' Standard Gage for sheet steel", "41.82 lb/ft² per inch of thickness", "", "US")
_WIRE_GAGE = Source("American wire gage", "0.005 in × 92^((36 − gage) ÷ 39)", "ASTM B258", "US")
_COPPER = Source("density of copper", "0.322 lb/in³ at 68 °F", "", "")
_STEEL = Fraction("41.82")
_COPPER_WEIGHT = Fraction("46.368")
_GAUGE_WEIGHT = {10: "5.625", 18: "2", 20: "1.5", 22: "1.25", 24: "1", 26: "0.75"}
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


@rule("edge metal", gives="metal_pieces", source=COMMON_PRACTICE, part="edge",
      limits=(*_PIECES, above("corner_leg", "metal_lap")))  # fmt: skip
def metal_between_corners(edge: Length, corner_leg: Length, metal_length: Length, metal_lap: Length) -> Working[Count]:
    """Count the straight lengths along an edge whose two corner pieces are set first, each lapped by its neighbor.

    `edge` runs from corner to corner, `corner_leg` from the corner to the end of its piece on this edge. Two legs that
    reach each other leave no straight length: 0.
    """
    run = max(edge - 2 * corner_leg + 2 * metal_lap, Fraction(0))
    gain = metal_length - metal_lap
    pieces = lapped(run, metal_length, metal_lap) if run > metal_lap else 0
    return Working(
        pieces,
        ("between_corners", run, "max({edge} − 2 × {corner_leg} + 2 × {metal_lap}, 0)"),
        ("metal_gain", gain, "{metal_length} − {metal_lap}"),
        ("metal_pieces", pieces, "max(({between_corners} − {metal_lap}) ÷ {metal_gain}, 0) ↑"),
        before_rounding=max((run - metal_lap) / gain, Fraction(0)),
    )


@rule("edge metal", gives="strip_cover", source=DEFINITION, part="edge",
      limits=(above("strip_width", "flange"),))  # fmt: skip
def strip_cover(strip_width: Length, flange: Length) -> Working[Length]:
    """Find how far the strip passes the flange onto the base sheet, its edge laid along the roof edge of the metal."""
    cover = strip_width - flange
    return Working(cover, ("strip_cover", cover, "{strip_width} − {flange}"))


@rule("edge metal", gives="movement", source=_EXPANSION, part="edge",
      limits=(above("metal_length", 0), above("temperature_change", 0),
              at_most("expansion", Fraction(1, 1000))))  # fmt: skip
def metal_movement(
    expansion: Expansion, metal_length: Length, temperature_change: TemperatureDifference
) -> Working[Length]:
    """Find how much a length of metal grows or shrinks over a change of temperature; the coefficient is the metal's."""
    movement = expansion * metal_length * temperature_change
    return Working(movement, ("movement", movement, "{expansion} × {metal_length} × {temperature_change}"))


@rule("edge metal", gives="gap_used", source=_EXPANSION, part="edge", limits=(above("metal_gap", 0),))
def gap_share_used(movement: Length, metal_gap: Length) -> Working[Share]:
    """Find the share of a joint's gap that the movement of one piece takes; above 1 the pieces touch."""
    return Working(movement / metal_gap, ("gap_used", movement / metal_gap, "{movement} ÷ {metal_gap}"))


@rule("edge metal", gives="longest_piece", source=_EXPANSION, part="edge",
      limits=(at_least("expansion", Fraction(1, 10**7)), at_least("temperature_change", 1),
              above("metal_gap", 0)))  # fmt: skip
def longest_piece_for_gap(
    expansion: Expansion, temperature_change: TemperatureDifference, metal_gap: Length
) -> Working[Length]:
    """Find the longest piece whose movement a gap can take. Arithmetic only: the specification limits the length."""
    longest = metal_gap / (expansion * temperature_change)
    return Working(longest, ("longest_piece", longest, "{metal_gap} ÷ ({expansion} × {temperature_change})"))


@rule("edge metal", gives="thickness", source=_GAGE, limits=(above("sheet_weight", 0), above("steel_weight", 0)))
def steel_thickness(
    sheet_weight: Load, coating_weight: Load = Fraction(0), steel_weight: LoadPerDepth = _STEEL
) -> Working[Thickness]:
    """Find the thickness of steel sheet from its weight by area, zinc included where there is any."""
    thickness = (sheet_weight + coating_weight) / steel_weight
    return Working(thickness, ("thickness", thickness, "({sheet_weight} + {coating_weight}) ÷ {steel_weight}"))


@rule("edge metal", gives="thickness", source=_GAGE, scales=False,  # the weights stand in a table
      limits=(above("steel_weight", 0),))  # fmt: skip
def gauge_thickness(gauge: Gauge, steel_weight: LoadPerDepth = _STEEL) -> Working[Thickness]:
    """Find the thickness of uncoated steel sheet of a gauge: 10, 18, 20, 22, 24 or 26. A larger number is thinner.

    Galvanized sheet of the same gauge is thicker by its zinc.
    """
    if gauge not in _GAUGE_WEIGHT:
        nearest = min(_GAUGE_WEIGHT, key=lambda known: abs(known - gauge))
        raise Refusal(at_least("gauge", nearest) if gauge < nearest else at_most("gauge", nearest))
    weight = Fraction(_GAUGE_WEIGHT[gauge])
    return Working(
        weight / steel_weight,
        ("sheet_weight", weight, "table({gauge})"),
        ("thickness", weight / steel_weight, "{sheet_weight} ÷ {steel_weight}"),
    )


@rule("edge metal", gives="thickness", source=_WIRE_GAGE, scales=False,  # the gauge's 36th step is 0.005 in
      limits=(at_least("gauge", 10), at_most("gauge", 30)))  # fmt: skip
def aluminum_thickness(gauge: Gauge) -> Working[Thickness]:
    """Find the thickness of aluminum sheet of a gauge, 10 to 30, to double precision. A larger number is thinner.

    It is not that of steel: each gauge is its own scale. Aluminum is ordered by its thickness in inches; a gauge on a
    drawing is turned into that first.
    """
    thickness = Fraction(0.005 * 92 ** ((36 - gauge) / 39))
    return Working(
        thickness,
        ("gauge_power", Fraction(36 - gauge, 39), "(36 − {gauge}) ÷ 39"),
        ("thickness", thickness, "0.005 × power(92; {gauge_power})"),
    )


@rule("edge metal", gives="thickness", source=_COPPER, limits=(above("sheet_weight", 0), above("copper_weight", 0)))
def copper_thickness(sheet_weight: Load, copper_weight: LoadPerDepth = _COPPER_WEIGHT) -> Working[Thickness]:
    """Find the thickness of copper sheet from its weight by area, by which it is ordered: 16 oz is 0.0216 in.

    Copper weighs 0.322 lb to the cubic inch, so 46.368 lb to the square foot for each inch of thickness.
    """
    thickness = sheet_weight / copper_weight
    return Working(thickness, ("thickness", thickness, "{sheet_weight} ÷ {copper_weight}"))


@rule("edge metal", gives="thick_enough", source=DEFINITION, part="edge", limits=(above("least_thickness", 0),))
def thickness_within(thickness: Thickness, least_thickness: Thickness) -> Working[Flag]:
    """Say whether a sheet is as thick as the drawing or the specification asks of its metal.

    Steel and aluminum have gauges of their own (`gauge_thickness`, `aluminum_thickness`), copper has weights
    (`copper_thickness`). Without the least thickness there is no verdict.
    """
    enough = thickness >= least_thickness
    return Working(enough, ("thick_enough", enough, "{thickness} ≥ {least_thickness}"))


@rule("edge metal", gives="heavy_enough", source=DEFINITION, part="edge", limits=(above("least_sheet_weight", 0),))
def sheet_weight_within(sheet_weight: Load, least_sheet_weight: Load) -> Working[Flag]:
    """Say whether a sheet is as heavy by area as the drawing or the specification asks: copper is ordered so.

    Copper of 16 oz weighs 16 oz, or 1 lb, to the square foot. Without the least weight there is no verdict.
    """
    enough = sheet_weight >= least_sheet_weight
    return Working(enough, ("heavy_enough", enough, "{sheet_weight} ≥ {least_sheet_weight}"))
