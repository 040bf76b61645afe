"""How a rule takes its numbers and what its answer means, where labels alone would leave a doubt."""

from typing import Final

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

PLAN = _(
    "Walk round the deck from corner to corner. For each corner, in order, write how far it lies along the eave and "
    "how far up the slope, both from one point."
)
LINE = _("The distance to an edge belongs to the edges that run along that side.")

NOTES: Final[dict[str, Promise]] = {
    "panels_for_deck": _("The long side lies along the eave, and offcuts are not used again."),
    "joint_gap_over": _("0: the joint is within its limit."),
    "chalk_lines": _("Every line is measured from the low edge of the deck."),
    "course_count": _("The first course is counted too."),
    "cap_restart": _("0: the cap sheet never has to be re-started."),
    "lap_drift": _("Below 0 the laps of the cap sheet fall behind."),
    "least_stagger": _("Measure the end laps of both courses from the same edge."),
    "selvage_cover_left": _("Below 0 selvage lies bare."),
    "lap_shortfall": _("0: the lap is wide enough."),
    "cut_list": _(
        "Odd courses start with a whole roll, even courses with a length shorter by the stagger. The last length of a "
        "course is what is left, its end lap included."
    ),
    "rolls_for_roof": _("Lengths are cut in laying order, each from the shortest offcut that is long enough."),
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
    "gap_share_used": _("Above 100% the pieces touch."),
    "gauge_thickness": _("A larger gauge is thinner. Galvanized sheet is thicker by its zinc."),
    "slope_shortfall": _(
        "0: the roof is steep enough. 2 percent and 1/4 in per ft are not the same: ask which is meant."
    ),
    "temperature_margin": _("Below 0 it is too cold."),
    "dew_margin": _("Below 0 dew lies on the surface."),
    "flashing_height_left": _("Measured from the roof deck. Below 0 the roof covers the curb."),
    "warning_line_length": LINE,
    "area_inside_warning_line": LINE,
    "ladder_foot_out": _("The working length runs along the ladder, from its foot to its top support."),
    "plan_area": PLAN,
    "plan_edge": PLAN,
}
