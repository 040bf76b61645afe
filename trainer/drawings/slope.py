"""Slope and standing water in section: from the drain up to the wall, heights drawn larger than lengths."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import THICK, THIN, Point
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.derive import worked_out
from trainer.drawings.errors import DrawingInputError
from trainer.drawings.registry import OneOf, drawing
from trainer.drawings.sheet import LEFT, Sheet
from trainer.rules.dimensions import SLOPE, Length, Slope

DRAIN, WALL = 62.0, 298.0
HALF = 10.0
DECK = 14.0
# Heights are drawn so many times as large as lengths, less where a roof is so steep that it would not fit.
TIMES, TALLEST = 10.0, 150.0
# Where the low spot lies, as shares of the run from the low end: its lip, its bottom, and where the slope goes on.
LIP, BOTTOM, BEYOND = 0.3, 0.42, 0.56


@drawing("slope_percent", parts=("drain", "low_spot", "roof", "wall", "deck"))
def slope_and_water(
    sheet: Sheet,
    *,
    run: Length,
    slope: Slope | None = None,
    fall: Length | None = None,
    pond_depth: Length = Fraction(0),
    drain_rise: Length = Fraction(0),
    falls_to: Annotated[str, OneOf(("drain", "wall"))] = "drain",
) -> None:
    """A roof between its drain and a wall, with a string held level; give its slope or its fall.

    `pond_depth` is the water that stands in a low spot, `drain_rise` how far the drain's rim stands above the roof
    it, `falls_to` the end that the water runs to.
    """
    positive(sheet, run=run, fall=fall)
    not_negative(sheet, pond_depth=pond_depth, drain_rise=drain_rise)
    if (slope is None) == (fall is None):
        given = "both are given" if slope is not None else "neither is given"
        raise DrawingInputError(sheet.name, "slope", given, "one gives the other", "give either slope or fall")
    if fall is None:
        fall = worked_out(sheet, "fall_over_run", run=run, slope=slope)
        derived = "fall"
    else:
        slope = worked_out(sheet, "slope_from_fall", run=run, fall=fall)
        derived = "slope"
    sheet.need(0 < fall <= run / 2, "fall", fall, "a low-slope roof falls less than half of its run", "check the unit")
    sheet.need(pond_depth <= fall, "pond_depth", pond_depth, "it must be at most the fall", "measure it again")
    sheet.need(drain_rise <= fall, "drain_rise", drain_rise, "it must be at most the fall", "measure it again")
    sheet.describe("alt.slope_and_water")
    sheet.describe(f"alt.slope_and_water.{falls_to}")
    roof = _Roof(sheet, run, fall, falls_to == "drain")
    sheet.scale(roof.scale)
    sheet.exaggerate("height")
    roof.draw(pond_depth, drain_rise)
    roof.dimensions(slope, derived)
    roof.notes(pond_depth, drain_rise)


@dataclass(frozen=True)
class _Roof:
    """Where the roof's line falls on the sheet; its low end is at the drain, or else at the wall."""

    sheet: Sheet
    run: Fraction
    fall: Fraction
    to_drain: bool

    @property
    def scale(self) -> float:
        """Drawing units an inch, along the roof."""
        return (WALL - DRAIN) / float(self.run)

    @property
    def upright(self) -> float:
        """Drawing units an inch, upward."""
        return min(self.scale * TIMES, TALLEST / float(self.fall))

    @property
    def high(self) -> float:
        """Where the high end lies on the sheet."""
        return 62.0

    @property
    def low(self) -> float:
        """Where the low end lies on the sheet."""
        return self.high + float(self.fall) * self.upright

    def at(self, share: float) -> Point:
        """A place on the even slope, a share of the run from the low end."""
        start, end = (DRAIN, WALL) if self.to_drain else (WALL, DRAIN)
        return start + (end - start) * share, self.low + (self.high - self.low) * share

    def surface(self, depth: Fraction) -> list[Point]:
        """The roof's line from the low end to the high end, with its low spot."""
        if not depth:
            return [self.at(0), self.at(1)]
        lip, (x, _) = self.at(LIP), self.at(BOTTOM)
        return [self.at(0), lip, (x, lip[1] + float(depth) * self.upright), self.at(BEYOND), self.at(1)]

    def draw(self, pond_depth: Fraction, drain_rise: Fraction) -> None:
        """Draw deck, membrane, drain, wall and the water that stands."""
        sheet, canvas = self.sheet, self.sheet.canvas
        line = self.surface(pond_depth)
        ordered = line if self.to_drain else line[::-1]
        drain = ordered[0]
        # Past the drain the roof goes on: as steep as on this side, to where the sheet breaks it off.
        lean = (self.low - self.high) * (DRAIN - LEFT) / (WALL - DRAIN) * (-1 if self.to_drain else 1)
        whole = [(LEFT + 6, drain[1] + lean), *ordered]
        under = [(x, y + DECK) for x, y in whole]
        with sheet.part("deck", self._deck_box()):
            canvas.path([*whole, *reversed(under)], closed=True, fill=sheet.fill("deck"), line=THIN, kind="cut deck")
        with sheet.part("roof", self._roof_box()):
            canvas.path(whole, line=THICK * 1.3, kind="line membrane")
        sheet.break_across(LEFT + 6, whole[0][1], whole[0][1] + DECK)
        with sheet.part("wall"):
            top = self.high - 30
            canvas.rect(WALL, top, 18, ordered[-1][1] + DECK + 12 - top, fill=sheet.fill("masonry"), kind="cut masonry")
        self._drain(drain, float(drain_rise) * self.upright)
        self._pond(pond_depth)

    def _deck_box(self) -> tuple[float, float, float, float]:
        x, y = self.at(0.84)
        return x - 20, y + 5, 40, DECK + 10

    def _roof_box(self) -> tuple[float, float, float, float]:
        x, y = self.at(0.72)
        return x - 14, y - 18, 28, 22

    def _drain(self, at: Point, rise: float) -> None:
        sheet, canvas, (x, y) = self.sheet, self.sheet.canvas, at
        rim = y - rise
        with sheet.part("drain", (x - 16, rim - 12, 32, 38)):
            canvas.paper(x - HALF, y - 1.5, 2 * HALF, DECK + 4)
            bowl = [(x - HALF - 3, rim), (x - HALF, rim), (x - 5, rim + 12), (x - 5, y + DECK + 26)]
            other = [(2 * x - px, py) for px, py in reversed(bowl)]
            for side in (bowl, other):
                canvas.path(side, line=THICK, kind="line bowl")
            canvas.curve(f"M{x - 8:.2f} {rim:.2f}a8 8 0 0 1 16 0", line=1.4, kind="line strainer")
            for bar in (-4.0, 0.0, 4.0):
                canvas.line((x + bar, rim), (x + bar, rim - (6.5 if bar else 8)), width=THIN, kind="line strainer")
        if rise:
            self._water([(x - HALF - 3, rim), self._meets(x - HALF - 3, y, rim, -1), (x - HALF - 3, y)])
            self._water([(x + HALF + 3, rim), self._meets(x + HALF + 3, y, rim, 1), (x + HALF + 3, y)])

    def _meets(self, x: float, floor: float, level: float, side: int) -> Point:
        """Where a water level from the drain's rim meets the slope."""
        lean = (self.low - self.high) / (WALL - DRAIN)
        return min(max(x + side * (floor - level) / lean, LEFT + 12), WALL), level

    def _pond(self, depth: Fraction) -> None:
        lip, x = self.at(LIP), self.at(BOTTOM)[0]
        with self.sheet.part("low_spot", (x - 17, lip[1] - 14, 34, 26)):
            if depth:
                bottom, beyond = self.surface(depth)[2:4]
                share = (bottom[1] - lip[1]) / (bottom[1] - beyond[1])
                meets = (bottom[0] + (beyond[0] - bottom[0]) * share, lip[1])
                self._water([lip, meets, bottom])

    def _water(self, outline: list[Point]) -> None:
        canvas = self.sheet.canvas
        canvas.path(outline, closed=True, fill=self.sheet.fill("water"), line=0, kind="water pond")
        canvas.line(outline[0], outline[1], width=THIN, kind="water level")

    def dimensions(self, slope: Fraction | None, derived: str) -> None:
        """Dimension run and fall, with the string held level at the high end; write the slope."""
        sheet, canvas = self.sheet, self.sheet.canvas
        level, (x_low, _) = self.high, self.at(0)
        for start, end in ((0.0, 0.45), (0.94, 1.0)):
            canvas.line((self.at(start)[0], level), (self.at(end)[0], level), width=THIN, dash="6 3", kind="string")
        fall = derived != "fall" or sheet.shows("fall")
        if fall:
            shift = 26 if self.to_drain else -26
            sheet.upward(level, self.low, x_low + shift, "", tops=(x_low, x_low))
            text = f"{sheet.label('fall')} {sheet.dimension('fall', self.fall)}"
            canvas.text(
                (x_low + (6 + shift if self.to_drain else shift - 6), level - 8),
                text,
                anchor="start" if self.to_drain else "end",
                kind="dim",
            )
        under = self.low + DECK + 62
        tops = (self.low + DECK + 30, self.low + DECK + 30)
        sheet.across(DRAIN, WALL, under, sheet.dimension("run", self.run), caption=sheet.label("run"), tops=tops)
        sheet.bottom = under + 8
        if slope is not None and (derived != "slope" or sheet.shows("slope")):
            text = SLOPE.text(slope, sheet.units, sheet.language)
            sheet.note(f"{sheet.label('slope')}: {sheet.dimension('slope', None, text)}")
        if sheet.shows("slope_percent"):
            share = worked_out(sheet, "slope_percent", slope=slope)
            text = f"{float(share * 100):.2f} %"
            sheet.note(f"{sheet.label('slope_percent')}: {sheet.dimension('slope_percent', None, text)}")

    def notes(self, pond_depth: Fraction, drain_rise: Fraction) -> None:
        """Number drain, membrane, deck and wall; say how deep the water stands; show which way it runs."""
        sheet, say = self.sheet, self.sheet.say
        start, end = self.at(0.88), self.at(0.74)
        sheet.water((start[0], start[1] - 10), (end[0], end[1] - 10))
        row = self.low + DECK + 30
        drain = self.at(0 if self.to_drain else 1)
        sheet.callout((drain[0] - 5, drain[1] + DECK + 14), (LEFT + 14, row), say("drain"))
        x, y = self.at(0.2 if self.to_drain else 0.7)
        sheet.callout((x, y), (x, row), say("membrane"))
        if pond_depth:
            lip, bottom = self.at(LIP), self.surface(pond_depth)[2]
            depth = sheet.dimension("pond_depth", pond_depth)
            sheet.callout((bottom[0], (lip[1] + bottom[1]) / 2), (bottom[0], row), say("low_spot", depth=depth))
        x, y = self.at(0.62 if self.to_drain else 0.24)
        sheet.callout((x, y + DECK / 2), (x, row), say("deck"))
        x, y = self.at(0.9 if self.to_drain else 0.1)
        sheet.callout((WALL + 9, y + 4), (WALL - 20, row), say("wall"))
        if drain_rise:
            sheet.note(f"{sheet.label('drain_rise')}: {sheet.dimension('drain_rise', drain_rise)}")
        sheet.bottom += 6
