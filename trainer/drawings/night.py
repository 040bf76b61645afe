"""The night seal in section: today's last sheet closed against the old roof, or against the deck."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import Point
from trainer.drawings.checks import positive
from trainer.drawings.registry import FoundAs, OneOf, SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import LENGTH, Length

JOINT, TOP = 216.0, 112.0
PLY, DECK = 6.5, 13.0
WIDEST = 150.0

SealLap = Annotated[Fraction, LENGTH, FoundAs("night.seal_lap")]


@drawing(parts=("sheet", "lap", "bead", "weight", "old_roof", "insulation", "deck"))
def night_seal(
    sheet: Sheet,
    *,
    seal_lap: SealLap,
    against: Annotated[str, OneOf(("old_roof", "bare_deck"))] = "old_roof",
    end: Annotated[str, OneOf(("over", "under"))] = "over",
    water: Annotated[str, OneOf(("from_new", "from_old"))] = "from_new",
    omit: Annotated[tuple[str, ...], SomeOf(("bead", "weight"))] = (),
    insulation: Length = Fraction(3),
) -> None:
    """The end of today's base sheet over the end of the insulation and onto what it closes against for the night.

    `end` = under: it is pushed under the old roof's membrane; `water` says from which side water comes; `against` =
    bare_deck: the sheet turns down over the insulation's end onto the deck.
    """
    positive(sheet, seal_lap=seal_lap, insulation=insulation)
    sheet.need(seal_lap <= 36, "seal_lap", seal_lap, "it must be at most 36 in", "measure it again")
    sheet.need(insulation <= 8, "insulation", insulation, "it must be at most 8 in", "check the unit")
    sheet.describe(f"alt.night_seal.{against}" if against == "bare_deck" else f"alt.night_seal.{end}")
    sheet.describe(f"alt.night_seal.{water}")
    seal = _Seal(sheet, seal_lap, insulation, against == "old_roof", end == "under" and against == "old_roof")
    sheet.scale(seal.scale)
    sheet.exaggerate()
    seal.draw(frozenset(omit))
    seal.notes(frozenset(omit), water == "from_new")


@dataclass(frozen=True)
class _Seal:
    """The old roof to the left of the joint, the new one to the right."""

    sheet: Sheet
    lap: Fraction
    thick: Fraction
    old: bool
    under: bool

    @property
    def scale(self) -> float:
        """Drawing units an inch."""
        return min(12.0, WIDEST / float(self.lap), 60 / float(self.thick))

    @property
    def deck(self) -> float:
        """The upper side of the deck."""
        return TOP + float(self.thick) * self.scale

    @property
    def end(self) -> float:
        """Where the sheet ends."""
        return JOINT - float(self.lap) * self.scale

    @property
    def floor(self) -> float:
        """What the end of the sheet lies on."""
        return self.deck if not self.old else TOP if self.under else TOP - PLY - 1

    @property
    def edge(self) -> tuple[float, float, int]:
        """The open edge of the lap: its place, what it stands on, and which side is open."""
        return (JOINT, TOP - PLY - 1, 1) if self.under else (self.end, self.floor, -1)

    def draw(self, omit: frozenset[str]) -> None:
        """Draw deck, insulation, old roof, today's sheet, bead and weight."""
        sheet, canvas, deck = self.sheet, self.sheet.canvas, self.deck
        with sheet.part("deck", (RIGHT - 60, deck, 56, 24)):
            canvas.rect(LEFT, deck, RIGHT - LEFT, DECK, fill=sheet.fill("deck"), kind="cut deck")
        high = deck - TOP
        with sheet.part("insulation", (JOINT + 8, TOP + 6, RIGHT - JOINT - 12, max(high - 8, 24))):
            canvas.rect(JOINT, TOP, RIGHT - JOINT, high, fill=sheet.fill("insulation"), kind="cut insulation")
        if self.old and not self.under:
            self._old_roof()
        with sheet.part("sheet", (JOINT + 30, TOP - PLY - 14, 60, 24)):
            canvas.path(self._sheet(), closed=True, fill=sheet.fill("base"), kind="cut base")
        if self.under:
            self._old_roof()
        with sheet.part("lap", (JOINT - 30, self.floor - 5, 27, 25)):
            pass
        self._bead("bead" in omit)
        self._weight("weight" in omit)
        for x in (LEFT + 4, RIGHT - 4):
            sheet.break_across(x, (TOP - PLY if x > JOINT or self.old else deck), deck + DECK)

    def _old_roof(self) -> None:
        sheet, canvas, high = self.sheet, self.sheet.canvas, self.deck - TOP
        with sheet.part("old_roof", (LEFT + 6, TOP + 4, 30, max(high - 6, 24))):
            canvas.rect(LEFT, TOP, JOINT - LEFT - 1, high, fill=sheet.fill("insulation"), kind="cut old-insulation")
            fill = sheet.fill("old")
            if self.under:
                up = TOP - PLY - 1
                line = [(LEFT, TOP), (self.end - 12, TOP), (self.end - 3, up), (JOINT, up)]
                outline = [*line, *((x, y - PLY) for x, y in reversed(line))]
                canvas.path(outline, closed=True, fill=fill, kind="cut old")
            else:
                canvas.rect(LEFT, TOP - PLY, JOINT - LEFT, PLY, fill=fill, kind="cut old")

    def _sheet(self) -> list[Point]:
        """The outline of today's sheet, its lower side first, from the new roof to its end."""
        if not self.old:
            out = JOINT - PLY
            return [
                (RIGHT, TOP), (JOINT, TOP), (JOINT, self.deck), (self.end, self.deck), (self.end, self.deck - PLY),
                (out, self.deck - PLY), (out, TOP - PLY), (RIGHT, TOP - PLY),
            ]  # fmt: skip
        if self.under:
            return [(RIGHT, TOP), (self.end, TOP), (self.end, TOP - PLY), (RIGHT, TOP - PLY)]
        line = [(RIGHT, TOP), (JOINT + 14, TOP), (JOINT + 3, self.floor), (self.end, self.floor)]
        return [*line, *((x, y - PLY) for x, y in reversed(line))]

    def _bead(self, omitted: bool) -> None:
        x, y, side = self.edge
        with self.sheet.part("bead", (x + side * 12 - 12, y - 15, 24, 24)):
            if not omitted:
                outline = [(x, y), (x + side * 11, y), (x, y - PLY - 2)]
                self.sheet.canvas.path(outline, closed=True, fill=self.sheet.fill("sealant"), kind="cut sealant")

    @property
    def weight(self) -> Point:
        """The middle of the weight's foot, on the end of the lap."""
        top = TOP - 2 * PLY - 1 if self.old else self.deck - PLY
        return self.end + max(float(self.lap) * self.scale * 0.4, 22.0), top

    def _weight(self, omitted: bool) -> None:
        x, y = self.weight
        with self.sheet.part("weight", (x - 22, y - 27, 44, 24)):
            if not omitted:
                data = f"M{x - 20:.2f} {y:.2f}q-6 -9 4 -16q16 -7 32 0q10 7 4 16Z"
                self.sheet.canvas.curve(data, fill=self.sheet.fill("concrete"), kind="cut weight")

    def notes(self, omit: frozenset[str], from_new: bool) -> None:
        """Dimension the lap, show the water, number what is drawn."""
        sheet, say = self.sheet, self.sheet.say
        over = self.weight[1] - 24
        text = sheet.dimension("seal_lap", self.lap)
        sheet.across(
            self.end, JOINT, min(over - 14, 74.0), text, caption=sheet.label("seal_lap"),
            tops=(over + 10, over + 10),
        )  # fmt: skip
        start, end = (RIGHT - 14, RIGHT - 58) if from_new else (LEFT + 14, LEFT + 50)
        sheet.water((start, 60), (end, 60))
        row = self.deck + DECK + 26
        if self.old:
            sheet.callout((LEFT + 18, TOP - PLY / 2), (LEFT + 14, row), say("old_roof"))
        if "bead" not in omit:
            x, y, side = self.edge
            at = (self.end - 4, row) if not self.under else (JOINT + 38, row)
            sheet.callout((x + side * 3, y - 3), (max(at[0], LEFT + 40), row), say("bead_at_end"))
        if "weight" not in omit:
            x, y = self.weight
            sheet.callout((x - 4, y - 8), (min(max(x + 6, LEFT + 66), JOINT - 16), row), say("weight"))
        key = "end_under" if self.under else "end_over" if self.old else "end_on_deck"
        sheet.callout((JOINT - 10, self.floor - PLY / 2), (JOINT + 14, row), say(key))
        sheet.callout((JOINT + 70, self.deck - 12), (JOINT + 72, row), say("insulation"))
        sheet.callout((RIGHT - 14, self.deck + 7), (RIGHT - 14, row), say("deck"))
        sheet.bottom = row + 14
