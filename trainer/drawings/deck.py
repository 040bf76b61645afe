"""The roof deck: the joint between two panels, in section."""

from __future__ import annotations

from fractions import Fraction

from trainer.drawings.checks import not_negative, positive
from trainer.drawings.registry import drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import Length


@drawing()
def deck_joint(
    sheet: Sheet, *, gap: Length, panel_thickness: Length = Fraction(5, 8), step: Length = Fraction(0)
) -> None:
    """Two panels of wood deck on their support with the joint between them; `step` is how far one stands higher."""
    positive(sheet, panel_thickness=panel_thickness)
    not_negative(sheet, gap=gap, step=step)
    sheet.need(
        step < 3 * panel_thickness,
        "step",
        step,
        "panels rest on one support",
        "measure the step again",
    )
    canvas = sheet.canvas
    scale = min((RIGHT - LEFT) / max(3.2, float(gap) * 5), 110 / float(panel_thickness + step))
    middle = (LEFT + RIGHT) / 2
    left, right = middle - float(gap) * scale / 2, middle + float(gap) * scale / 2
    thick, rise = float(panel_thickness) * scale, float(step) * scale
    top = 62 + rise
    floor = top + thick
    sheet.scale(scale)
    sheet.describe("alt.deck_joint")
    panel, support = sheet.fill("deck"), sheet.fill("nailer")
    half = min(max(1.2 * scale, right - middle + 50), (RIGHT - LEFT) / 2 - 20)
    canvas.rect(middle - half, floor, 2 * half, 46, fill=support, kind="cut support")
    if rise:
        canvas.rect(right + 14, floor - rise, middle + half - right - 18, rise, line=1.2, kind="cut support")
    canvas.rect(LEFT, top, left - LEFT, thick, fill=panel, kind="cut deck")
    canvas.rect(right, top - rise, RIGHT - right, thick, fill=panel, kind="cut deck")
    for x, shift in ((LEFT + 5, 0.0), (RIGHT - 5, rise)):
        sheet.break_across(x, top - shift, floor - shift)
    sheet.across(left, right, 40, sheet.dimension("gap", gap), caption=sheet.label("gap"), tops=(top, top - rise))
    if rise:
        sheet.upward(
            top - rise, top, left - 40, sheet.dimension("step", step), caption=sheet.label("step"),
            tops=(right, left - 46), side="left", room=80,
        )  # fmt: skip
    sheet.bottom = floor + 52
    sheet.callout((LEFT + 24, top + thick / 2), (LEFT + 14, sheet.bottom + 2), sheet.say("deck_panel"))
    sheet.callout((middle, floor + 24), (middle, sheet.bottom + 18), sheet.say("support"))
    sheet.bottom += 30
