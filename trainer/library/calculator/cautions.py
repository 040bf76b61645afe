"""What is said beside a rule whose number guards a life, or needs a value that only somebody else can give."""

from typing import Any, Final

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from trainer.rules.registry import Rule

FEDERAL: Final = "29 CFR"  # documents of the federal safety rules

SAFETY = _(
    "Roof work kills. This number comes from one edition of US federal construction rules; states may ask for more. "
    "The law where you work, the site's plan, the competent person and the printed instructions come first. "
    "A number from here protects nobody by itself and is no leave to start."
)
LOAD = _(
    "This is a weight or a load, not a verdict. What the roof deck carries, and where anything may stand on it, is for "
    "the engineer or the plan to say."
)
SEAMS = _(
    "On a roof every seam is probed the same day and every open one repaired. "
    "A sample is only an evaluator's second look."
)
ZONES = _(
    "The width of the zones and what holds them against the wind stand on the drawing or come from the engineer. "
    "This counts; it chooses nothing."
)
NAILS = _("How close the nails stand is for the specification, the drawing or the engineer to say. This counts them.")

BY_TOPIC: Final[dict[str, Promise]] = {
    "safety": SAFETY,
    "inspection": SEAMS,
    "fastening": NAILS,
    "weather": _(
        "This is no leave to start. The surface must also be dry to the touch, and the maker's printed instructions "
        "come first. Whether people can work in the weather of the day is for the competent person on site to say."
    ),
}
BY_RULE: Final[dict[str, Promise]] = {
    "nails_in_panel": NAILS,
    "corner_zone_area": ZONES,
    "edge_zone_area": ZONES,
    "pond_load": LOAD,
    "pond_weight": LOAD,
    "pond_volume": LOAD,
    "rolls_weight": LOAD,
    "pallets_for_rolls": LOAD,
    "primer_volume": _(
        "How much primer an area takes is printed by its maker for each kind of surface. Follow the label, also on "
        "vapor, flame and drying time."
    ),
    "flashing_height_left": _("How high the flashing must stand is for the drawing and the specification to say."),
    "slope_shortfall": _("The least slope is for the drawing, the specification and the local code to say."),
    "longest_piece_for_gap": _("The longest piece allowed is for the specification and the drawing to say."),
    "ladder_rail_length": _(
        "Where the side rails cannot reach that far above the landing, the top of the ladder is secured and there is "
        "something to hold on to."
    ),
    "free_fall": _(
        "How much clear height an arrested fall needs below is for the maker's instructions and the competent person "
        "to say."
    ),
    "extinguishers_by_area": _(
        "The way to the nearest extinguisher and flammables in use may ask for more. Hot work goes by its permit."
    ),
}


def cautions_for(rule: Rule[..., Any]) -> list[str]:
    """Give the sentences that stand with a rule: its topic's, the federal safety rules', its own."""
    said = [BY_TOPIC.get(rule.topic)]
    if rule.source.document.startswith(FEDERAL):
        said.append(SAFETY)
    said.append(BY_RULE.get(rule.name))
    return list(dict.fromkeys(str(sentence) for sentence in said if sentence is not None))
