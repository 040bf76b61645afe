"""A cricket in plan and in section: behind a curb, or between two drains at a wall."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import LINE, THICK, THIN
from trainer.drawings.checks import positive
from trainer.drawings.derive import worked_out
from trainer.drawings.registry import OneOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import SLOPE, Length, Slope

MIDDLE = 170.0
TIMES = 6.0


@drawing("cricket_height", parts=("ridge", "valley", "side", "roof", "obstacle"))
def cricket(
    sheet: Sheet,
    *,
    cricket_width: Length,
    cricket_slope: Slope,
    slope: Slope = Fraction(1, 4),
    place: Annotated[str, OneOf(("curb", "drains"))] = "curb",
    obstacle_width: Length | None = None,
    falls: Annotated[str, OneOf(("away", "toward"))] = "away",
) -> None:
    """A cricket with a level ridge; the roof around it falls down the drawing, its sides fall to both sides.

    `obstacle_width` is the curb, or the drains apart, where the cricket is narrower; `falls` = toward: its sides fall
    to its middle.
    """
    wide = cricket_width if obstacle_width is None else obstacle_width
    positive(sheet, cricket_width=cricket_width, obstacle_width=wide)
    limit, mending = "a slope lies above 0 and below 6 in per ft", "read the drawing again"
    sheet.need(0 < cricket_slope <= 6, "cricket_slope", cricket_slope, limit, mending)
    sheet.need(0 < slope <= 6, "slope", slope, limit, mending)
    limit = "its ridge must meet the roof within four widths"
    sheet.need(cricket_slope <= 8 * slope, "cricket_slope", cricket_slope, limit, mending)
    sheet.describe(f"alt.cricket.{place}")
    sheet.describe(f"alt.cricket.{falls}")
    shape = _Cricket(sheet, cricket_width, cricket_slope, slope, wide, away=falls == "away", curb=place == "curb")
    shape.plan()
    shape.section()
    shape.numbers()


@dataclass(frozen=True)
class _Cricket:
    """Where ridge and valleys fall on the sheet: the slope runs down, the obstacle stands below the cricket."""

    sheet: Sheet
    width: Fraction
    steep: Fraction
    slope: Fraction
    wide: Fraction
    away: bool
    curb: bool

    @property
    def reach(self) -> Fraction:
        """How far up the slope the level ridge meets the roof."""
        return self.width / 2 * self.steep / self.slope

    @property
    def scale(self) -> float:
        """Drawing units an inch."""
        return min(200 / float(max(self.width, self.wide)), 130 / float(self.reach))

    @property
    def half(self) -> float:
        """Half of the cricket's width."""
        return float(self.width) * self.scale / 2

    @property
    def top(self) -> float:
        """Where the ridge meets the roof."""
        return 62.0

    @property
    def foot(self) -> float:
        """The upper side of the curb, or the wall."""
        return self.top + float(self.reach) * self.scale

    def plan(self) -> None:
        """Draw the cricket, what stands below it, and the ways of the water."""
        sheet, canvas = self.sheet, self.sheet.canvas
        sheet.view("view.plan", 22, self.scale)
        top, foot, half = self.top, self.foot, self.half
        with sheet.part("roof", (LEFT + 4, top - 20, 44, 60)):
            sheet.water((LEFT + 24, top), (LEFT + 24, top + 30), "")
        canvas.text((LEFT + 36, top + 22), sheet.say("water"))
        with sheet.part("side", (MIDDLE + half * 0.2, foot - 34, max(half * 0.42, 24), 28)):
            fill = sheet.fill("board")
            canvas.path(
                [(MIDDLE - half, foot), (MIDDLE, top), (MIDDLE + half, foot)],
                closed=True,
                fill=fill,
                kind="cut cricket",
            )
        with sheet.part("ridge", (MIDDLE - 12, (top + foot) / 2 - 20, 24, 36)):
            canvas.line(
                (MIDDLE, top), (MIDDLE, foot), width=THICK, kind="line ridge", dash=None if self.away else "5 3"
            )
        x, y = MIDDLE - half / 2, (top + foot) / 2
        with sheet.part("valley", (x - 15, y - 15, 26, 26)):
            for side in (-1, 1):
                canvas.line(
                    (MIDDLE, top), (MIDDLE + side * half, foot), width=LINE * 1.4, dash="9 3 2 3", kind="line valley"
                )
        self._obstacle()
        for side in (-1, 1):
            ends = (MIDDLE + side * half * 0.12, MIDDLE + side * half * 0.42)
            start, end = ends if self.away else ends[::-1]
            canvas.line((start, foot - 12), (end, foot - 12), kind="water")
            sheet.arrowhead((end, foot - 12), (side if self.away else -side, 0.0))

    def _obstacle(self) -> None:
        sheet, canvas, foot = self.sheet, self.sheet.canvas, self.foot
        half = float(self.wide) * self.scale / 2
        with sheet.part(
            "obstacle",
            (MIDDLE - half, foot + 2, 2 * half, 30) if self.curb else (MIDDLE + half - 14, foot - 12, 28, 26),
        ):
            if self.curb:
                canvas.rect(MIDDLE - half, foot, 2 * half, 34, fill=sheet.fill("nailer"), kind="cut curb")
            else:
                canvas.rect(LEFT, foot + 8, RIGHT - LEFT, 14, fill=sheet.fill("masonry"), kind="cut masonry")
                for side in (-1, 1):
                    canvas.circle((MIDDLE + side * half, foot), 7, fill="#fff", line=THICK, kind="paper drain")
                    canvas.circle((MIDDLE + side * half, foot), 2.5, line=THIN, kind="drain")

    def section(self) -> None:
        """Draw the cricket cut along its foot, heights larger."""
        sheet, canvas = self.sheet, self.sheet.canvas
        head = self.foot + 84
        sheet.view("view.along_foot", head, self.scale)
        sheet.exaggerate("height")
        high = min(float(self.width / 2 * self.steep / 12) * self.scale * TIMES, 60.0)
        base, half = head + 24 + high, self.half
        canvas.rect(LEFT, base, RIGHT - LEFT, 12, fill=sheet.fill("deck"), kind="cut deck")
        peak = [(MIDDLE - half, base), (MIDDLE, base - high), (MIDDLE + half, base)]
        bowl = [
            (MIDDLE - half, base),
            (MIDDLE - half, base - high),
            (MIDDLE, base),
            (MIDDLE + half, base - high),
            (MIDDLE + half, base),
        ]
        canvas.path(peak if self.away else bowl, closed=True, fill=sheet.fill("board"), kind="cut cricket")
        if sheet.shows("cricket_height"):
            value = worked_out(sheet, "cricket_height", cricket_width=self.width, cricket_slope=self.steep)
            x = MIDDLE + half + 12
            sheet.upward(base - high, base, x, "", tops=(MIDDLE, MIDDLE + half))
            canvas.text((x + 5, base - high - 4), sheet.dimension("cricket_height", value), kind="dim")
        sheet.across(MIDDLE - half, MIDDLE + half, base + 50, sheet.dimension("cricket_width", self.width),
                     caption=sheet.label("cricket_width"), tops=(base + 12, base + 12))  # fmt: skip
        sheet.bottom = base + 56

    def numbers(self) -> None:
        """Number the lines of the plan and write both slopes."""
        sheet, say, foot, half = self.sheet, self.sheet.say, self.foot, self.half
        row = foot + 52
        sheet.callout((MIDDLE, self.top + 14), (MIDDLE + 40, self.top - 10), say("ridge" if self.away else "trough"))
        sheet.callout(
            (MIDDLE - half * 0.3, self.top + (foot - self.top) * 0.3), (MIDDLE - 60, self.top - 10), say("valley")
        )
        sheet.callout((MIDDLE + half * 0.5, foot - 6), (MIDDLE + half * 0.5, row), say("cricket_side"))
        x = MIDDLE - float(self.wide) * self.scale / 2
        sheet.callout(
            (x + (14 if self.curb else 0), foot + (20 if self.curb else 4)),
            (x, row),
            say("curb" if self.curb else "drains"),
        )
        text = SLOPE.text(self.slope, sheet.units, sheet.language)
        sheet.note(f"{sheet.label('slope')}: {sheet.dimension('slope', None, text)}")
        text = SLOPE.text(self.steep, sheet.units, sheet.language)
        sheet.note(f"{sheet.label('cricket_slope')}: {sheet.dimension('cricket_slope', None, text)}")
        if self.wide != self.width:
            sheet.note(f"{sheet.label('obstacle_width')}: {sheet.dimension('obstacle_width', self.wide)}")
        sheet.bottom += 6
