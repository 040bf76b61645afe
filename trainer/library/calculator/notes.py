"""How a rule takes its numbers and what its answer means, where labels alone would leave a doubt."""

from typing import Any, Final, NamedTuple

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

PLAN = _(
    "Walk round the deck from corner to corner. For each corner, in order, write how far it lies along the eave and "
    "how far up the slope, both from one point."
)
HEIGHT = _("The height runs from the foot of the ladder straight up to its top support.")
LINE = _("The distance to an edge belongs to the edges that run along that side.")

NOTES: Final[dict[str, Promise]] = {
    "panels_for_deck": _("The long side lies along the eave, and offcuts are not used again."),
    "joint_gap_within": _(
        "The least joint is that of wood panels, which swell. Boards that are butted have none: write 0 in for them."
    ),
    "corner_cut_accepted": _(
        "Three sheets meet at a T-joint. The corner comes off the sheet that both others cover: count the sheets that "
        "lie, or will lie, on the corner that was cut."
    ),
    "lap_with_water": _("Both are measured from the low edge of the deck."),
    "chalk_lines": _("Every line is measured from the low edge of the deck."),
    "course_count": _("The first course is counted too."),
    "least_stagger": _("Measure the end laps of both courses from the same edge."),
    "cut_list": _(
        "Odd courses start with a whole roll, even courses with a length shorter by the stagger. The last length of a "
        "course is what is left, its end lap included."
    ),
    "rolls_for_roof": _("Lengths are cut in laying order, each from the shortest offcut that is long enough."),
    "metal_between_corners": _(
        "The edge runs from corner to corner, and each leg from its corner to the end of the corner piece on this edge."
    ),
    "nails_along": _("A nail stands at both ends."),
    "nails_around": _("The nail at a corner belongs to both edges and is counted once."),
    "nails_two_rows": _(
        "The spacing counts the nails of both rows together. The words of a guide can also mean the spacing in each "
        "row: ask which one is meant."
    ),
    "nails_two_rows_each": _(
        "The spacing counts the nails of one row. The words of a guide can also mean both rows together: ask which one "
        "is meant."
    ),
    "gauge_thickness": _("A larger gauge is thinner. Galvanized sheet is thicker by its zinc."),
    "aluminum_thickness": _("Not the thickness of steel: each gauge is a scale of its own. A larger gauge is thinner."),
    "slope_shortfall": _("2 percent and 1/4 in per ft are not the same: ask which is meant."),
    "flashing_height_left": _("Measured from the roof deck."),
    "warning_line_length": LINE,
    "area_inside_warning_line": LINE,
    "ladder_foot_by_height": HEIGHT,
    "ladder_working_length": HEIGHT,
    "ladder_rail_length": HEIGHT,
    "ladder_foot_accepted": _(
        "A quarter of the working length and one out for four up both count, and anything between them."
    ),
    "ladder_foot_out": _("The working length runs along the ladder, from its foot to its top support."),
    "plan_area": PLAN,
    "plan_edge": PLAN,
}


class Meaning(NamedTuple):
    """What a value says about the work when it is below 0, 0, or above; empty where it speaks for itself."""

    below: Promise | str = ""
    zero: Promise | str = ""
    above: Promise | str = ""


MEANINGS: Final[dict[str, Meaning]] = {
    "joint_gap_over": Meaning(zero=_("The joint is within its limit.")),
    "cap_restart": Meaning(
        zero=_("The cap sheet never has to be re-started."),
        above=_(
            "The upper lap of this course would come too near to a lap of the base sheet: rip the course narrower, so "
            "that its lap stands clear, and go on from there."
        ),
    ),
    "lap_drift": Meaning(below=_("The laps of the cap sheet fall behind those of the base sheet.")),
    "selvage_cover_left": Meaning(below=_("Selvage lies bare.")),
    "lap_shortfall": Meaning(zero=_("The lap is wide enough.")),
    "lap_surely_short": Meaning(zero=_("The lap is wide enough, or short by no more than the tape's error.")),
    "slope_shortfall": Meaning(zero=_("The roof is steep enough.")),
    "strip_still_needed": Meaning(zero=_("The ripped piece gives strip enough.")),
    "temperature_margin": Meaning(below=_("It is too cold.")),
    "dew_margin": Meaning(below=_("Dew lies on the surface.")),
    "flashing_height_left": Meaning(below=_("The roof or the water covers the curb.")),
    "fall_clearance_left": Meaning(below=_("A fall would end on what lies below.")),
}


def meaning(rule: str, value: Any) -> str:
    """Give what a value of a rule says about the work; empty where it speaks for itself."""
    said = MEANINGS.get(rule)
    if said is None:
        return ""
    return str(said.below if value < 0 else said.above if value else said.zero)
