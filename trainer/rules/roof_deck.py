"""Roof deck: panels, their fasteners and the joints between them, checked before a sheet is laid."""

from fractions import Fraction

from trainer.rules.arithmetic import up
from trainer.rules.dimensions import Area, Count, Flag, Length, Load, Mass, Share
from trainer.rules.registry import COMMON_PRACTICE, DEFINITION, Source, Working, above, at_least, rule
from trainer.rules.sources import GEOMETRY

_TI_809_53 = Source("US Army TI 809-53", "8-4.d(1)", "UFC 3-330-02A", "US military work")
_PANEL_GAP = Source("US Army TI 809-53", "8-4.a", "UFC 3-330-02A", "US military work")
_LEAST_GAP = Fraction(1, 8)
_ZERO = Fraction(0)


@rule("roof deck", gives="panels", source=GEOMETRY, part="deck",
      limits=(above("run", 0), above("eave", 0), at_least("panel_length", 1), at_least("panel_width", 1)))  # fmt: skip
def panels_for_deck(run: Length, eave: Length, panel_length: Length, panel_width: Length) -> Working[Count]:
    """Count the panels for a rectangular deck, long side along the eave, offcuts not used again.

    Joint gaps are left out of the count: they only help.
    """
    rows, in_row = up(run, panel_width), up(eave, panel_length)
    return Working(
        rows * in_row,
        ("panel_rows", rows, "{run} ÷ {panel_width} ↑"),
        ("panels_in_row", in_row, "{eave} ÷ {panel_length} ↑"),
        ("panels", rows * in_row, "{panel_rows} × {panels_in_row}"),
        before_rounding=run * eave / (panel_width * panel_length),
    )


@rule("roof deck", gives="gap_over", source=COMMON_PRACTICE, part="deck")
def joint_gap_over(gap: Length, joint_gap: Length) -> Working[Length]:
    """Find how much wider than its limit a joint between deck panels is; 0 when it is within."""
    over = max(gap - joint_gap, _ZERO)
    return Working(over, ("gap_over", over, "max({gap} − {joint_gap}, 0)"))


@rule("roof deck", gives="gap_right", source=_PANEL_GAP, part="deck", limits=(at_least("joint_gap", "least_gap"),))
def joint_gap_within(gap: Length, joint_gap: Length, least_gap: Length = _LEAST_GAP) -> Working[Flag]:
    """Say whether panels stand apart enough to swell, 1/8 in, and not so far that a sheet is left hanging.

    The widest joint is the specification's. The least one is that of wood panels: for boards that are butted give 0.
    """
    apart, near = gap >= least_gap, gap <= joint_gap
    return Working(
        apart and near,
        ("gap_apart", apart, "{gap} ≥ {least_gap}"),
        ("gap_near", near, "{gap} ≤ {joint_gap}"),
        ("gap_right", apart and near, "all({gap_apart}; {gap_near})"),
    )


@rule("roof deck", gives="nails", source=_TI_809_53, part="deck",
      limits=(above("panel_length", 0), above("panel_width", 0), at_least("support_spacing", 1),
              at_least("edge_spacing", Fraction(1, 4)), at_least("field_spacing", Fraction(1, 4))))  # fmt: skip
def nails_in_panel(
    panel_length: Length,
    panel_width: Length,
    support_spacing: Length,
    edge_spacing: Length,
    field_spacing: Length,
) -> Working[Count]:
    """Count the nails of one panel across its supports: close at the two ends, wider at the supports between.

    Supports run across the panel's length. The deck's fastening is the engineer's or the drawing's: this counts it.
    """
    between = up(panel_length, support_spacing) - 1
    at_end = up(panel_width, edge_spacing) + 1
    at_support = up(panel_width, field_spacing) + 1
    nails = 2 * at_end + between * at_support
    return Working(
        nails,
        ("supports_between", between, "({panel_length} ÷ {support_spacing} ↑) − 1"),
        ("nails_at_end", at_end, "({panel_width} ÷ {edge_spacing} ↑) + 1"),
        ("nails_at_support", at_support, "({panel_width} ÷ {field_spacing} ↑) + 1"),
        ("nails", nails, "2 × {nails_at_end} + {supports_between} × {nails_at_support}"),
    )


@rule("roof deck", gives="stack_load", source=DEFINITION, limits=(above("stack_area", 0),))
def stacked_load(total_weight: Mass, stack_area: Area) -> Working[Load]:
    """Spread the weight of a stack over the area it stands on. A load, no verdict: see `stacked_load_within`."""
    load = total_weight / stack_area
    return Working(load, ("stack_load", load, "{total_weight} ÷ {stack_area}"))


@rule("roof deck", gives="load_ok", source=DEFINITION, limits=(above("stack_area", 0), above("deck_load", 0)))
def stacked_load_within(total_weight: Mass, stack_area: Area, deck_load: Load) -> Working[Flag]:
    """Say whether a stack spread over its area is within the load that the engineer or the drawing gives the deck.

    Without that load there is no verdict. Where on the deck the stack stands is the engineer's to say as well.
    """
    load = total_weight / stack_area
    return Working(
        load <= deck_load,
        ("stack_load", load, "{total_weight} ÷ {stack_area}"),
        ("load_ok", load <= deck_load, "{stack_load} ≤ {deck_load}"),
    )


@rule("roof deck", gives="panel_dry", source=DEFINITION, part="deck")
def panel_dry_enough(moisture: Share, most_moisture: Share) -> Working[Flag]:
    """Say whether the wettest panel reads no more than the maker's printed instructions allow in wood.

    Without the maker's number there is no verdict: what the hand feels is the face of the wood, and the wettest reading
    counts, never the average.
    """
    dry = moisture <= most_moisture
    return Working(dry, ("panel_dry", dry, "{moisture} ≤ {most_moisture}"))


@rule("roof deck", gives="deck_ready", source=COMMON_PRACTICE, part="deck")
def deck_ready(backed_out: Count, surface_dry: Flag, deck_clean: Flag) -> Working[Flag]:
    """Say whether a deck may be covered: no fastener backed out, dry to the hand, swept clean.

    One fastener that stands up is driven or replaced first; how dry is dry enough is also the maker's to say, and a
    deck that is soft or rusted through is for whoever answers for the structure.
    """
    flat = backed_out == 0
    return Working(
        flat and surface_dry and deck_clean,
        ("none_backed_out", flat, "{backed_out} ≤ 0"),
        ("deck_ready", flat and surface_dry and deck_clean, "all({none_backed_out}; {surface_dry}; {deck_clean})"),
    )
