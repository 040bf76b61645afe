"""The roof deck: the joint between two panels, in section."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from trainer.drawings.checks import not_negative, positive
from trainer.drawings.registry import OneOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import Length


@drawing(parts=("left_panel", "right_panel", "gap", "step", "support"))
def deck_joint(
    sheet: Sheet,
    *,
    gap: Length,
    panel_thickness: Length = Fraction(5, 8),
    step: Length = Fraction(0),
    support: Annotated[str, OneOf(("under", "beside"))] = "under",
) -> None:
    """Two panels of wood deck with the joint between them; `step` is how far one stands higher.

    Their support is drawn under the joint, or beside it, where it holds the left panel alone.
    """
    positive(sheet, panel_thickness=panel_thickness)
    not_negative(sheet, gap=gap, step=step)
    sheet.need(
        step < 3 * panel_thickness,
        "step",
        step,
        "panels rest on one support",
        "measure the step again",
    )
    scale = min((RIGHT - LEFT) / max(3.2, float(gap) * 5), 110 / float(panel_thickness + step))
    middle = (LEFT + RIGHT) / 2
    left, right = middle - float(gap) * scale / 2, middle + float(gap) * scale / 2
    thick, rise = float(panel_thickness) * scale, float(step) * scale
    top = 62 + rise
    floor = top + thick
    sheet.scale(scale)
    sheet.describe("alt.deck_joint")
    sheet.describe(f"alt.deck_joint.{support}")
    half = min(max(1.2 * scale, right - middle + 50), (RIGHT - LEFT) / 2 - 20)
    center = _support(sheet, (middle, floor, half), (right, rise), beside=support == "beside")
    _panels(sheet, (left, right), (top, thick, rise))
    sheet.across(left, right, 40, sheet.dimension("gap", gap), caption=sheet.label("gap"), tops=(top, top - rise))
    sheet.dimension("panel_thickness", panel_thickness)
    if rise:
        sheet.upward(
            top - rise, top, left - 40, sheet.dimension("step", step), caption=sheet.label("step"),
            tops=(right, left - 46), side="left", room=80,
        )  # fmt: skip
    sheet.bottom = floor + 52
    sheet.callout((LEFT + 24, top + thick / 2), (LEFT + 14, sheet.bottom + 2), sheet.say("deck_panel"))
    sheet.callout((center, floor + 24), (center, sheet.bottom + 18), sheet.say(f"support_{support}"))
    sheet.bottom += 30


def _support(sheet: Sheet, place: tuple[float, float, float], raised: tuple[float, float], *, beside: bool) -> float:
    """Draw the support, with the packing that holds up a raised panel; give the middle of what was drawn."""
    (middle, floor, half), (right, rise) = place, raised
    start, end = middle - half, middle + half
    if beside:
        start, end = LEFT + 36, LEFT + 36 + min(half, middle - LEFT - 60)
    fill = sheet.fill("nailer")
    with sheet.part("support"):
        sheet.canvas.rect(start, floor, end - start, 46, fill=fill, kind="cut support")
        if rise and not beside:
            sheet.canvas.rect(right + 14, floor - rise, end - right - 18, rise, fill="none", kind="cut support")
    return (start + end) / 2


def _panels(sheet: Sheet, joint: tuple[float, float], heights: tuple[float, float, float]) -> None:
    """Draw both panels and break them off; the joint and the step lie where their upper edges meet."""
    (left, right), (top, thick, rise) = joint, heights
    fill, middle = sheet.fill("deck"), (left + right) / 2
    with sheet.part("left_panel"):
        sheet.canvas.rect(LEFT, top, left - LEFT, thick, fill=fill, kind="cut deck")
    with sheet.part("right_panel"):
        sheet.canvas.rect(right, top - rise, RIGHT - right, thick, fill=fill, kind="cut deck")
    for x, shift in ((LEFT + 5, 0.0), (RIGHT - 5, rise)):
        sheet.break_across(x, top - shift, top + thick - shift)
    with sheet.part("gap", (left, top + 13, right - left, max(thick - 13, 12))):
        pass
    with sheet.part("step", (middle - 30, top - rise - 12, 60, 24 + rise)):
        pass
