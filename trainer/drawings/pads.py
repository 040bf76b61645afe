"""Walk pads on a finished roof in plan, with the gaps that let water through."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import LINE, THICK
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.registry import FoundAs, OneOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import LENGTH, Length

TOP, PADS = 56.0, 3

PadGap = Annotated[Fraction, LENGTH, FoundAs("pads.pad_gap")]
Exposure = Annotated[Fraction, LENGTH, FoundAs("cap.roll_width")]


@drawing(parts=("pad", "pad_gap", "seam", "end_seam", "roof"))
def walk_pad(
    sheet: Sheet,
    *,
    pad_gap: PadGap,
    pad_length: Length = Fraction(36),
    pad_width: Length = Fraction(24),
    roll_width: Exposure = Fraction(315, 8),
    lies_on: Annotated[str, OneOf(("field", "seam"))] = "field",
) -> None:
    """A row of pads across the slope on the cap sheet; `lies_on` = seam: the row covers a side lap."""
    positive(sheet, pad_length=pad_length, pad_width=pad_width, roll_width=roll_width)
    not_negative(sheet, pad_gap=pad_gap)
    sheet.need(pad_gap <= pad_length, "pad_gap", pad_gap, "it must be at most the length of a pad", "measure it again")
    limit = "a row of pads fits between two side laps"
    sheet.need(pad_width * Fraction(4, 3) <= roll_width, "pad_width", pad_width, limit, "give a narrower pad")
    sheet.describe("alt.walk_pad")
    sheet.describe(f"alt.walk_pad.{lies_on}")
    canvas = sheet.canvas
    row = PADS * pad_length + (PADS - 1) * pad_gap
    scale = min(250 / float(row), 130 / float(roll_width))
    sheet.scale(scale)
    course, tall, long, gap = (float(size) * scale for size in (roll_width, pad_width, pad_length, pad_gap))
    seams = (TOP + course * 0.35, TOP + course * 1.35)
    bottom = TOP + course * 1.7
    left = LEFT + 40
    with sheet.part("roof", (RIGHT - 42, TOP + 4, 38, 30)):
        canvas.rect(LEFT, TOP, RIGHT - LEFT, bottom - TOP, fill=sheet.fill("cap"), line=0, kind="cut cap")
    with sheet.part("seam", (LEFT, seams[1] - 13, 36, 26)):
        for y in seams:
            canvas.line((LEFT, y), (RIGHT, y), width=THICK, kind="line seam")
    end = left + float(row) * scale * 0.62
    with sheet.part("end_seam", (end - 13, bottom - 28, 26, 26)):
        canvas.line((end, seams[1]), (end, bottom), width=LINE, kind="line end-seam")
    y = (seams[0] + seams[1]) / 2 - tall / 2 if lies_on == "field" else seams[1] - tall / 2
    for index in range(PADS):
        x = left + index * (long + gap)
        with sheet.part("pad", (x + 14, y + 6, long - 28, tall - 12)):
            canvas.paper(x, y, long, tall)
            canvas.rect(x, y, long, tall, fill=sheet.fill("board"), line=LINE, kind="cut pad")
    with sheet.part("pad_gap", (left + long - 12 + gap / 2, y + 2, 24, tall - 4)):
        pass
    text, start = sheet.dimension("pad_gap", pad_gap), left + long
    sheet.across(start, start + gap, 36, text, caption=sheet.label("pad_gap"), tops=(y, y))
    sheet.water((LEFT + 18, TOP + 8), (LEFT + 18, TOP + 34), "")
    canvas.text((LEFT + 12, TOP - 6), sheet.say("water"), anchor="start")
    below = bottom + 24
    sheet.callout((left + 20, y + tall - 8), (left + 20, below), sheet.say("walk_pad", long=sheet.dimension(
        "pad_length", pad_length), wide=sheet.dimension("pad_width", pad_width)))  # fmt: skip
    sheet.callout((LEFT + 12, seams[1]), (LEFT + 12, below), sheet.say("cap_side_lap"))
    sheet.callout((end, bottom - 6), (end, below), sheet.say("cap_end_lap"))
    sheet.callout((RIGHT - 16, bottom - 8), (RIGHT - 16, below), sheet.say("cap_sheet"))
    sheet.bottom = below + 12
