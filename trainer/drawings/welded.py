"""A heat-welded seam of a single-ply roof, in section over plan."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import LINE, THICK, THIN
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.laps import stepped
from trainer.drawings.registry import FoundAs, OneOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import LENGTH, Length

EDGE, FLOOR, SHEET = 96.0, 150.0, 13.0
PLATE = Fraction(2)

SeamLap = Annotated[Fraction, LENGTH, FoundAs("sheet.side_lap")]
WeldWidth = Annotated[Fraction, LENGTH, FoundAs("sheet.weld_width")]


@drawing(parts=("edge", "weld", "spot", "lap", "plate", "upper_sheet", "lower_sheet"))
def welded_seam(
    sheet: Sheet,
    *,
    side_lap: SeamLap,
    weld_width: WeldWidth,
    weld_setback: Length = Fraction(0),
    plate_clearance: Length | None = None,
    weld: Annotated[str, OneOf(("even", "cold_spot"))] = "even",
) -> None:
    """Two sheets welded from the edge of the upper one; `weld_setback` is how far behind that edge the weld starts.

    `plate_clearance` draws a row of fastening plates in the lap, so far from the weld; `weld` = cold_spot leaves a
    place where the sheets are not welded.
    """
    positive(sheet, side_lap=side_lap, weld_width=weld_width)
    not_negative(sheet, weld_setback=weld_setback, plate_clearance=plate_clearance)
    limit, mending = "the weld must lie in the lap", "measure it again"
    sheet.need(weld_setback + weld_width <= side_lap, "weld_width", weld_width, limit, mending)
    if plate_clearance is not None:
        whole = weld_setback + weld_width + plate_clearance + PLATE
        sheet.need(whole <= side_lap, "plate_clearance", plate_clearance, "the plate must lie in the lap", mending)
    sheet.describe("alt.welded_seam")
    sheet.describe(f"alt.welded_seam.{weld}")
    seam = _Seam(sheet, side_lap, weld_width, weld_setback, plate_clearance)
    sheet.scale(seam.scale)
    sheet.exaggerate()
    seam.section()
    seam.plan(cold=weld == "cold_spot")


@dataclass(frozen=True)
class _Seam:
    """The upper sheet comes from the right; its edge lies on the lower sheet."""

    sheet: Sheet
    lap: Fraction
    weld: Fraction
    setback: Fraction
    clearance: Fraction | None

    @property
    def scale(self) -> float:
        """Drawing units an inch."""
        return min(48.0, 164 / float(self.lap))

    def x(self, inches: Fraction) -> float:
        """A place, so far behind the edge of the upper sheet."""
        return EDGE + float(inches) * self.scale

    @property
    def plate(self) -> tuple[float, float] | None:
        """Both ends of the plate."""
        if self.clearance is None:
            return None
        start = self.setback + self.weld + self.clearance
        return self.x(start), self.x(start + PLATE)

    def section(self) -> None:
        """Draw both sheets, weld and plate cut through."""
        sheet, canvas, end = self.sheet, self.sheet.canvas, self.x(self.lap)
        canvas.rect(LEFT, FLOOR, RIGHT - LEFT, 14, fill=sheet.fill("board"), kind="cut board")
        with sheet.part("lower_sheet", (LEFT, FLOOR - SHEET - 4, 60, 24)):
            canvas.rect(LEFT, FLOOR - SHEET, end - LEFT, SHEET, fill=sheet.fill("single"), kind="cut lower")
        with sheet.part("upper_sheet", (RIGHT - 54, FLOOR - SHEET - 6, 54, 24)):
            outline = stepped(EDGE, end, RIGHT, FLOOR, SHEET)
            canvas.path(outline, closed=True, fill=sheet.fill("single"), kind="cut upper")
        middle = FLOOR - SHEET
        canvas.rect(self.x(self.setback), middle - 3, float(self.weld) * self.scale, 6, fill="currentColor", line=0,
                    kind="cut weld")  # fmt: skip
        if self.plate is not None:
            start, stop = self.plate
            canvas.rect(start, middle - 2, stop - start, 4, fill="#fff", kind="paper plate")
            canvas.line(
                ((start + stop) / 2, middle), ((start + stop) / 2, FLOOR + 14), width=THICK, kind="line fastener"
            )
        over = FLOOR - 2 * SHEET
        text = sheet.dimension("side_lap", self.lap)
        sheet.across(EDGE, end, 46, text, caption=sheet.label("side_lap"), tops=(over, over))
        text = sheet.dimension("weld_width", self.weld)
        start, end = self.x(self.setback), self.x(self.setback + self.weld)
        sheet.across(start, end, 92, text, caption=sheet.label("weld_width"), tops=(over, over))
        sheet.water((60, 40), (24, 40))

    def plan(self, *, cold: bool) -> None:
        """Draw the seam from above, the upper sheet as if clear."""
        sheet, canvas, top = self.sheet, self.sheet.canvas, FLOOR + 34
        bottom, end = top + 100, self.x(self.lap)
        start, stop = self.x(self.setback), self.x(self.setback + self.weld)
        with sheet.part("weld", (max(start + 2, EDGE + 14), top + 4, max(stop - start - 4, 24), 30)):
            canvas.rect(start, top, stop - start, bottom - top, fill=sheet.fill("lap"), line=0, kind="weld")
        with sheet.part("spot", (start, top + 42, max(stop - start, 26), 28)):
            if cold:
                canvas.rect(
                    start, top + 46, stop - start, 20, fill="#fff", line=THIN, dash="2 2", kind="paper cold-spot"
                )
        with sheet.part("edge", (EDGE - 16, top + 72, 24, 28)):
            canvas.line((EDGE, top), (EDGE, bottom), width=THICK, kind="line seam")
        with sheet.part("lap", (max(end - 26, stop + 2), top + 72, 24, 28)):
            canvas.line((end, top), (end, bottom), dash="5 3", kind="hidden")
        if self.plate is not None:
            x, y = sum(self.plate) / 2, top + 36
            with sheet.part("plate", (x - 14, y - 14, 28, 28)):
                canvas.circle((x, y), float(PLATE) * self.scale / 2, line=LINE, kind="plate")
                canvas.circle((x, y), 2, fill="currentColor", line=0, kind="fastener")
        else:
            with sheet.part("plate", (end + 30, top + 8, 28, 28)):
                pass
        row = bottom + 20
        sheet.callout((LEFT + 20, top + 90), (LEFT + 14, row), sheet.say("lower_sheet"))
        sheet.callout((EDGE, top + 92), (EDGE - 20, row), sheet.say("open_edge"))
        sheet.callout(((start + stop) / 2, top + 86), (max((start + stop) / 2, EDGE + 12), row), sheet.say("weld"))
        sheet.callout((end, top + 92), (max(end, EDGE + 50), row), sheet.say("hidden_edge"))
        sheet.callout((RIGHT - 20, top + 90), (RIGHT - 14, row), sheet.say("upper_sheet"))
        if self.clearance is not None:
            text = sheet.dimension("plate_clearance", self.clearance)
            sheet.callout(
                (sum(self.plate or (0, 0)) / 2, top + 36), (RIGHT - 24, top + 16), sheet.say("plate", gap=text)
            )
        sheet.bottom = row + 8
        if self.setback:
            sheet.note(f"{sheet.label('weld_setback')}: {sheet.dimension('weld_setback', self.setback)}")
        sheet.bottom += 6
