"""The night seal as a strip in section: over the end of today's sheet, bare board and the edge of the old roof."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from typing import Annotated

from trainer.drawings.checks import not_negative, positive
from trainer.drawings.night import SealLap
from trainer.drawings.parts import LEAST
from trainer.drawings.registry import OneOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.drawings.stack import GAP, Ground, Laid, Stack, middle
from trainer.rules.dimensions import Length

TOP, DECK, OLD, STONE = 152.0, 12.0, 7.5, 2.8
BEFORE, AFTER, TAIL = 30.0, 40.0, 20.0


@drawing(parts=("lap", "uphill_edge", "downhill_edge", "surface", "bare", "new_ply", "insulation", "deck"))
def night_strip(
    sheet: Sheet,
    *,
    seal_lap: SealLap,
    on_new: Length = Fraction(8),
    bare: Length = Fraction(4),
    insulation: Length = Fraction(3),
    water: Annotated[str, OneOf(("from_old", "from_new"))] = "from_old",
    bead: Annotated[str, OneOf(("uphill", "downhill", "none"))] = "uphill",
    edge: Annotated[str, OneOf(("flat", "open"))] = "flat",
    gravel: Annotated[str, OneOf(("beside", "under"))] = "beside",
) -> None:
    """A strip of sheet, the old roof to the left, today's sheet to the right; `seal_lap` is the strip on the old roof.

    `bead` says which edge has sealant, `edge` = open lets the uphill one stand off, `gravel` = under leaves stones
    between the strip and the old roof.
    """
    positive(sheet, seal_lap=seal_lap, on_new=on_new, insulation=insulation)
    not_negative(sheet, bare=bare)
    for name, value in (("seal_lap", seal_lap), ("on_new", on_new), ("bare", bare)):
        sheet.need(value <= 24, name, value, "it must be at most 24 in", "measure it again")
    sheet.need(seal_lap >= 4, "seal_lap", seal_lap, "a strip that is shorter holds nothing", "give at least 4 in")
    sheet.need(on_new >= 3, "on_new", on_new, "a strip that is shorter holds nothing", "give at least 3 in")
    sheet.need(insulation <= 8, "insulation", insulation, "it must be at most 8 in", "check the unit")
    for key in ("night_strip", f"night_seal.{water}", f"night_strip.edge.{edge}", f"night_strip.gravel.{gravel}"):
        sheet.describe(f"alt.{key}")
    seal = _Strip(
        sheet, seal_lap, on_new, bare, insulation, water == "from_old", bead, edge == "open", gravel == "under"
    )
    sheet.scale(seal.scale)
    sheet.exaggerate()
    seal.draw()
    seal.notes()


@dataclass
class _Strip:
    """Where strip, plies and boards fall on the sheet."""

    sheet: Sheet
    lap: Fraction
    on_new: Fraction
    bare: Fraction
    thick: Fraction
    from_old: bool
    bead: str
    open_edge: bool
    stones: bool
    laid: dict[str, Laid] = field(default_factory=dict)

    @property
    def scale(self) -> float:
        """Drawing units an inch."""
        room = RIGHT - LEFT - BEFORE - AFTER
        return min(11.0, room / float(self.lap + self.bare + self.on_new), 60 / float(self.thick))

    @property
    def start(self) -> float:
        """The strip's edge on the old roof."""
        return LEFT + BEFORE

    @property
    def joint(self) -> float:
        """The edge of the old roof."""
        return self.start + float(self.lap) * self.scale

    @property
    def new(self) -> float:
        """The end of today's plies."""
        return self.joint + float(self.bare) * self.scale

    @property
    def end(self) -> float:
        """The strip's edge on today's plies."""
        return self.new + float(self.on_new) * self.scale

    @property
    def deck(self) -> float:
        """The upper side of the deck."""
        return TOP + float(self.thick) * self.scale

    @cached_property
    def stack(self) -> Stack:
        """What lies on the boards."""
        return Stack(self.sheet, Ground([(LEFT, TOP), (RIGHT, TOP)]))

    def edge(self, uphill: bool) -> tuple[float, int]:
        """One edge of the strip: its place, and on which side of it the strip lies."""
        return (self.start, 1) if uphill == self.from_old else (self.end, -1)

    def draw(self) -> None:
        """Draw deck, boards and both roofs, the strip over them, then its sealant and the gravel."""
        sheet, canvas, high = self.sheet, self.sheet.canvas, self.deck - TOP
        with sheet.part("deck", (RIGHT - 70, self.deck - 6, 60, LEAST)):
            canvas.rect(LEFT, self.deck, RIGHT - LEFT, DECK, fill=sheet.fill("deck"), kind="cut deck")
        canvas.rect(LEFT, TOP, self.joint - LEFT - 1, high, fill=sheet.fill("insulation"), kind="cut old-insulation")
        with sheet.part("insulation", (self.end - 30, TOP + 8, LEAST, LEAST)):
            canvas.rect(self.joint, TOP, RIGHT - self.joint, high, fill=sheet.fill("insulation"), kind="cut insulation")
        self.laid["old"] = self.stack.lay(None, "old", 0, self.joint - LEFT, OLD)
        self.laid["new"] = self.stack.lay(None, "base", self.new - LEFT, RIGHT - LEFT)
        start, end = self.start, self.end
        if self.open_edge:
            start, end = (start + TAIL, end) if self.from_old else (start, end - TAIL)
        gap = 2 * STONE + GAP if self.stones else GAP
        self.laid["strip"] = self.stack.lay(None, "strip", start - LEFT, end - LEFT, gap=gap)
        if self.open_edge:
            self._tail()
        self._parts()
        if self.bead != "none":
            self._sealant(uphill=self.bead == "uphill")
        self._gravel()
        for x in (LEFT + 3, RIGHT - 3):
            sheet.break_across(x, TOP - 12, self.deck + DECK)

    def _tail(self) -> None:
        """The uphill edge where it stands off."""
        place, toward = self.edge(uphill=True)
        foot = place + toward * TAIL
        low, high = (
            profile[0][1] if toward > 0 else profile[-1][1]
            for profile in (self.laid["strip"].low, self.laid["strip"].high)
        )
        outline = [(foot, TOP - low), (foot, TOP - high), (place, TOP - high - 11), (place, TOP - low - 11)]
        self.sheet.canvas.path(outline, closed=True, fill=self.sheet.fill("strip"), kind="cut strip")

    def _parts(self) -> None:
        """Where a finger points at edges, laps and surfaces."""
        floor = TOP - OLD - 6
        (up, _), (down, _) = self.edge(uphill=True), self.edge(uphill=False)
        inner = self.start + 16 if self.from_old else max(self.joint - 60, self.start + 16)
        for name, box in (
            ("lap", (self.start, 50.0, self.joint - self.start, LEAST)),
            ("uphill_edge", (up - 14, floor - 16, LEAST, LEAST + 2)),
            ("downhill_edge", (down - 10, floor - 16, LEAST, LEAST + 2)),
            ("surface", (inner, floor - 6, max(self.joint - inner - 18, 16), LEAST)),
            ("bare", ((self.joint + self.new) / 2 - 12, TOP - 16, LEAST, LEAST)),
            ("new_ply", (self.new + 12, TOP - 16, LEAST, LEAST)),
        ):
            with self.sheet.part(name, box):
                pass

    def _sealant(self, *, uphill: bool) -> None:
        place, toward = self.edge(uphill)
        inside = place + toward * (TAIL if self.open_edge and uphill else 1)
        top = TOP - self.laid["strip"].top(inside - LEFT)
        floor = TOP - (self.laid["old"] if toward > 0 else self.laid["new"]).high[0][1]
        outline = [
            (place - toward * 12, floor), (place, floor), (place, top), (place + toward * 7, top - 0.5),
            (place, top - 3.5), (place - toward * 4, top - 2),
        ]  # fmt: skip
        self.sheet.canvas.path(outline, closed=True, fill="currentColor", line=0, kind="cut sealant")

    def _gravel(self) -> None:
        """Stones on the old roof beside the strip, and under it where they were left."""
        floor = TOP - OLD - STONE
        x, end = LEFT + 10.0, self.joint - 14 if self.stones else self.start - 14
        while x <= end:
            self.sheet.canvas.circle((x, floor), STONE, line=1.0, kind="cut gravel")
            x += 2.5 * STONE

    def notes(self) -> None:
        """Dimension the strip on both roofs and the bare board, show the water, number what is drawn."""
        sheet, say = self.sheet, self.sheet.say
        high = TOP - 28
        for name, value, start, end, y in (
            ("seal_lap", self.lap, self.start, self.joint, 72.0), ("on_new", self.on_new, self.new, self.end, 110.0),
        ):  # fmt: skip
            sheet.across(start, end, y, sheet.dimension(name, value), caption=sheet.label(name), tops=(high, high))
        ends = (LEFT + 10, LEFT + 54) if self.from_old else (LEFT + 62, LEFT + 18)
        sheet.water((ends[0], 30), (ends[1], 30))
        row = self.deck + DECK + 20
        sheet.callout((RIGHT - 16, self.deck + 6), (RIGHT - 14, row), say("deck"))
        sheet.callout((self.end - 6, self.deck - 8), (self.end + 4, row), say("insulation"))
        stones = "strip.gravel_under" if self.stones else "strip.gravel"
        sheet.callout((LEFT + 10, TOP - OLD - STONE), (LEFT + 14, row), say(stones))
        place = self.start + 14
        sheet.callout(middle(self.laid["old"], self.stack.ground, place - LEFT), (LEFT + 40, row), say("old_roof"))
        place = min(self.end + 12, RIGHT - 18)
        sheet.callout(middle(self.laid["new"], self.stack.ground, place - LEFT), (place, TOP - 36), say("strip.new"))
        place = (self.joint + self.new) / 2
        text = say("strip.over", bare=sheet.dimension("bare", self.bare)) if self.bare else say("strip.strip")
        sheet.callout(middle(self.laid["strip"], self.stack.ground, place - LEFT), (place, row), text)
        if self.bead != "none":
            x, toward = self.edge(self.bead == "uphill")
            floor = TOP - (self.laid["old"] if toward > 0 else self.laid["new"]).high[0][1]
            at = (self.start, high - 6) if toward > 0 else (self.end - 20, row)
            sheet.callout((x - toward * 3, floor - 3), at, say(f"strip.sealant_{self.bead}"))
        sheet.bottom = row + 12
