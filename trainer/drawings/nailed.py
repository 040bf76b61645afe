"""The nails of a nailed base sheet in plan: one row in the side lap, two staggered rows in the field of the sheet."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import LINE, THICK
from trainer.drawings.checks import positive
from trainer.drawings.registry import FoundAs, OneOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import LENGTH, Length

TOP, BEFORE = 40.0, 7.0

LapNails = Annotated[Fraction, LENGTH, FoundAs("nailing.nail_spacing")]
FieldNails = Annotated[Fraction, LENGTH, FoundAs("nailing.row_spacing")]


@drawing(parts=("lap_nails", "upper_row", "lower_row", "side_lap"))
def nailed_base(
    sheet: Sheet,
    *,
    roll_width: Length,
    side_lap: Length,
    nail_spacing: LapNails,
    row_spacing: FieldNails,
    rows: Annotated[str, OneOf(("staggered", "in_line"))] = "staggered",
    lap_row: Annotated[str, OneOf(("in_lap", "beside_lap"))] = "in_lap",
) -> None:
    """One course of base sheet from above, water running down: its nails in the lap and in two rows of the field.

    `nail_spacing` counts along the lap, `row_spacing` within each row of the field.
    """
    positive(sheet, roll_width=roll_width, side_lap=side_lap, nail_spacing=nail_spacing, row_spacing=row_spacing)
    sheet.need(
        2 * side_lap < roll_width, "side_lap", side_lap, "it must be less than half the roll width", "measure it again"
    )
    for name, value in (("nail_spacing", nail_spacing), ("row_spacing", row_spacing)):
        sheet.need(2 <= value <= 48, name, value, "it lies between 2 in and 48 in", "measure it again")
    sheet.describe("alt.nailed_base")
    sheet.describe(f"alt.nailed_base.{rows}")
    sheet.describe(f"alt.nailed_base.{lap_row}")
    canvas = sheet.canvas
    scale = min(190 / float(roll_width), (RIGHT - LEFT) / float(max(row_spacing, nail_spacing) * Fraction(5, 2)))
    sheet.scale(scale)
    tall, lap = float(roll_width) * scale, float(side_lap) * scale
    bottom, right = TOP + tall, RIGHT - 66
    with sheet.part("side_lap", (right - 40, bottom - lap - 6, 40, lap + 12)):
        canvas.rect(LEFT, bottom - lap, right - LEFT, lap, fill=sheet.fill("lap"), line=0, kind="lap")
    canvas.line((LEFT, TOP), (right, TOP), width=LINE, dash="5 3", kind="hidden")
    canvas.line((LEFT, TOP + lap), (right, TOP + lap), width=THICK, kind="line seam")
    canvas.line((LEFT, bottom), (right, bottom), width=THICK, kind="line seam")
    lap_y = bottom - lap / 2 if lap_row == "in_lap" else bottom - lap - max(lap * 0.5, 8)
    field = bottom - lap - (TOP + lap)
    upper, lower = TOP + lap + field / 3, TOP + lap + field * 2 / 3
    step, row = float(nail_spacing) * scale, float(row_spacing) * scale
    first = LEFT + BEFORE
    shift = row / 2 if rows == "staggered" else 0.0
    for name, y, start, spacing in (
        ("lap_nails", lap_y, first, step), ("upper_row", upper, first, row), ("lower_row", lower, first + shift, row),
    ):  # fmt: skip
        with sheet.part(name, (LEFT, y - 12, right - LEFT - (46 if name == "lap_nails" else 0), 24)):
            for index in range(int((right - 4 - start) / spacing) + 1):
                canvas.circle((start + index * spacing, y), 3, fill="currentColor", line=0, kind=f"nail {name}")
    for x in (LEFT, right):
        sheet.break_across(x, TOP, bottom)
    text = sheet.dimension("row_spacing", row_spacing)
    sheet.across(first, first + row, upper - 16, text, caption=sheet.label("row_spacing"), tops=(upper, upper))
    text = sheet.dimension("nail_spacing", nail_spacing)
    sheet.across(
        first, first + step, bottom + 18, text, caption=sheet.label("nail_spacing"), tops=(lap_y, lap_y), below=True
    )
    sheet.upward(TOP, bottom, right + 14, "", tops=(right, right))
    text = f"{sheet.label('roll_width')} {sheet.dimension('roll_width', roll_width)}"
    canvas.text((RIGHT, bottom + 22), text, anchor="end", kind="dim")
    sheet.water((right + 40, TOP + 16), (right + 40, TOP + 44), "")
    canvas.text((RIGHT, TOP + 4), sheet.say("water"), anchor="end")
    text = sheet.say("lap_of", size=sheet.dimension("side_lap", side_lap))
    sheet.callout((right - 20, bottom - lap / 2), (right - 20, bottom - lap - 28), text)
    sheet.bottom = bottom + 58
