"""What is said beside a rule whose number guards a life, or needs a value that only somebody else can give."""

from typing import Any, Final

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from trainer.rules.registry import Rule

FEDERAL: Final = ("29 CFR", "OSHA")  # documents of the federal safety rules, and letters on them

SAFETY = _(
    "Roof work kills. The law where you work, the site's plan, the competent person and the printed instructions come "
    "first. A number from here protects nobody by itself and is no leave to start."
)
ONE_EDITION = _("It follows one edition of US federal construction rules; states may ask for more.")
LOAD = _(
    "This is a number, not a verdict. What the roof deck carries, and where anything may stand on it, is for the "
    "engineer or the plan to say."
)
LADDER = _(
    "Length and angle are two things of many. What the ladder stands on, what holds its top and what hangs overhead "
    "are for the competent person to judge; the ladder's own label comes first."
)
SEAMS = _(
    "On a roof every seam is probed the same day and every open one repaired. "
    "A sample is only an evaluator's second look."
)
ZONES = _(
    "The width of the zones and what holds them against the wind stand on the drawing or come from the engineer. "
    "This page counts; it chooses nothing."
)
FIRE = _("This is no leave to start hot work: that goes by its permit and by the fire code of the place.")
CLEARANCE = _(
    "How far the anchor, its line and the harness give comes from the maker's printed instructions, the engineer and "
    "the competent person. A swing to the side is not in this sum."
)
PEOPLE = _(
    "This is about people, not about sheets: cold and heat kill. How long anybody works in them is for the competent "
    "person on site to say."
)
NAILS = _(
    "How close the fasteners stand is for the specification, the drawing or the engineer to say. "
    "This page counts; it chooses nothing."
)

BY_TOPIC: Final[dict[str, Promise]] = {
    "inspection": SEAMS,
    "fastening": NAILS,
    "weather": _(
        "This is no leave to start. The surface must also be dry to the touch, and the maker's printed instructions "
        "come first. Whether people can work in the weather of the day is for the competent person on site to say."
    ),
}
# Said instead of the topic's own sentence; behind the one on safety where a number guards a life.
BY_RULE: Final[dict[str, Promise]] = {
    "nails_in_panel": NAILS,
    "corner_zone_area": ZONES,
    "edge_zone_area": ZONES,
    "field_zone_area": ZONES,
    "plates_for_boards": ZONES,
    "plates_by_zone": ZONES,
    "uplift_rating_within": _(
        "The uplift pressure comes from the engineer or the drawing, the rating from the listing of the whole "
        "assembly. Neither can be guessed."
    ),
    "pond_load": LOAD,
    "pond_weight": LOAD,
    "pond_volume": LOAD,
    "rolls_weight": LOAD,
    "pallets_for_rolls": LOAD,
    "stacked_load": LOAD,
    "panel_dry_enough": _("How wet a panel may be is for the drawing and the makers' printed instructions to say."),
    "stacked_load_within": _(
        "What the roof deck may carry comes from the engineer or the drawing, and so does where the stack may stand."
    ),
    "squares_opened_and_closed": _("Open no more than can be closed today: rain decides, not the count."),
    "primer_volume": _(
        "How much primer an area takes is printed by its maker for each kind of surface. Follow the label, also on "
        "vapor, flame and drying time."
    ),
    "flashing_height_left": _("How high the flashing must stand is for the drawing and the specification to say."),
    "slope_shortfall": _("The least slope is for the drawing, the specification and the local code to say."),
    "cricket_height": _("How steep the cricket must be to drain is for the drawing to say."),
    "valley_slope": _("How steep the valley must be to drain is for the drawing to say."),
    "sheets_run_across": _("The maker's printed instructions and the drawing come first."),
    "setback_by_work": _(
        "Laying the roof deck is not roofing work here. Whether others may be on the roof without rail, net or harness "
        "is for the competent person and the law of the place to say."
    ),
    "longest_piece_for_gap": _("The longest piece allowed is for the specification and the drawing to say."),
    "wind_chill": PEOPLE,
    "heat_index": PEOPLE,
    "lap_surely_short": _("A lap that reads short is short until a second reading says otherwise."),
    "ladder_foot_out": LADDER,
    "ladder_foot_by_height": LADDER,
    "ladder_top_height": LADDER,
    "ladder_working_length": LADDER,
    "ladder_foot_accepted": LADDER,
    "ladder_rail_length": _(
        "Where the side rails cannot reach that far above the landing, the top of the ladder is secured and there is "
        "something to hold on to."
    ),
    "hole_cover_accepted": _(
        "What a cover holds is for whoever made it, the engineer or the competent person to say. A guess holds nobody."
    ),
    "free_fall": CLEARANCE,
    "free_fall_allowed": CLEARANCE,
    "fall_clearance": CLEARANCE,
    "fall_clearance_left": CLEARANCE,
    "top_rail_within": _("Height is one thing of many: a guardrail must also hold whoever falls against it."),
    "extinguishers_by_area": _(
        "The way to the nearest extinguisher and flammables in use may ask for more. Hot work goes by its permit."
    ),
    "flammables_owe_10b": FIRE,
    "extinguisher_in_reach": FIRE,
    "extinguisher_10b_in_reach": FIRE,
    "fire_watch_left": _("The permit says how long the watch stays. It also stays until nothing is warm."),
}


def cautions_for(rule: Rule[..., Any]) -> list[str]:
    """Give the sentences that stand with a rule: the safety rules' own, and the rule's or else its topic's."""
    federal = rule.source.document.startswith(FEDERAL)
    said = [
        f"{SAFETY} {ONE_EDITION}" if federal else SAFETY if rule.topic == "safety" else None,
        BY_RULE.get(rule.name, BY_TOPIC.get(rule.topic)),
    ]
    return list(dict.fromkeys(str(sentence) for sentence in said if sentence is not None))
