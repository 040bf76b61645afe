"""A tie-in of a new roof to an old one, in section: cut back, cleaned, primed, and lapped ply by ply."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.checks import not_negative, positive
from trainer.drawings.registry import FoundAs, OneOf, SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.drawings.stack import PLY, Ground, Laid, Stack, middle
from trainer.rules.dimensions import LENGTH, Length

JOINT, TOP = 246.0, 150.0
HIGH, DECK = 34.0, 13.0
PRIMER = 3.0

CleanWidth = Annotated[Fraction, LENGTH, FoundAs("tie_in.clean_width")]
TieInLap = Annotated[Fraction, LENGTH, FoundAs("tie_in.tie_in_lap")]


@drawing(parts=("old_roof", "clean_strip", "base", "cap", "step", "bead", "joint", "insulation", "deck"))
def tie_in(
    sheet: Sheet,
    *,
    tie_in_lap: TieInLap,
    clean_width: CleanWidth,
    ply_step: Length = Fraction(3),
    water: Annotated[str, OneOf(("from_new", "from_old"))] = "from_new",
    omit: Annotated[tuple[str, ...], SomeOf(("primer", "bead", "base"))] = (),
) -> None:
    """Both new plies over the end of the old roof; the cap sheet passes the base sheet by `ply_step`.

    `clean_width` is the strip of the old roof that is bared, cleaned and primed; `water` says from which side water
    comes.
    """
    positive(sheet, tie_in_lap=tie_in_lap, clean_width=clean_width)
    not_negative(sheet, ply_step=ply_step)
    sheet.need(
        tie_in_lap + ply_step <= 36, "tie_in_lap", tie_in_lap, "both laps are at most 36 in", "measure them again"
    )
    sheet.need(clean_width <= 48, "clean_width", clean_width, "it must be at most 48 in", "measure it again")
    sheet.describe("alt.tie_in")
    sheet.describe(f"alt.tie_in.{water}")
    detail = _TieIn(sheet, tie_in_lap, clean_width, ply_step, frozenset(omit))
    sheet.scale(detail.scale)
    sheet.exaggerate()
    base, cap, stack = detail.draw()
    detail.notes(base, cap, stack, from_new=water == "from_new")


@dataclass(frozen=True)
class _TieIn:
    """The old roof to the left of the joint, the new one to the right."""

    sheet: Sheet
    lap: Fraction
    clean: Fraction
    step: Fraction
    omit: frozenset[str]

    @property
    def scale(self) -> float:
        """Drawing units an inch."""
        return min(14.0, 190 / float(max(self.lap + self.step, self.clean)))

    def place(self, inches: Fraction) -> float:
        """A place on the old roof, so far from the joint, as a place along the ground."""
        return JOINT - LEFT - float(inches) * self.scale

    def draw(self) -> tuple[Laid | None, Laid, Stack]:
        """Draw deck, insulation, old roof, primed strip, both plies and the bead."""
        sheet, canvas = self.sheet, self.sheet.canvas
        low = TOP + HIGH
        with sheet.part("deck", (RIGHT - 62, low, 58, 24)):
            canvas.rect(LEFT, low, RIGHT - LEFT, DECK, fill=sheet.fill("deck"), kind="cut deck")
        canvas.rect(LEFT, TOP, JOINT - LEFT - 1, HIGH, fill=sheet.fill("insulation"), kind="cut old-insulation")
        with sheet.part("insulation", (JOINT + 16, TOP + 4, RIGHT - JOINT - 20, HIGH - 8)):
            canvas.rect(JOINT + 1, TOP, RIGHT - JOINT - 1, HIGH, fill=sheet.fill("insulation"), kind="cut insulation")
        with sheet.part("joint", (JOINT - 12, TOP + 5, 24, 26)):
            canvas.line((JOINT, TOP), (JOINT, low), kind="line joint")
        stack = Stack(sheet, Ground([(LEFT, TOP), (RIGHT, TOP)]))
        stack.lay("old_roof", "old", 0, JOINT - LEFT, gap=0, box=(LEFT + 2, TOP - 4, 28, 24))
        edge = self.place(self.clean)
        strip = (LEFT + edge - 4, TOP - PLY - 16, 24, 24)
        if "primer" in self.omit:
            with sheet.part("clean_strip", strip):
                pass
        else:
            stack.lay("clean_strip", "primer", edge, JOINT - LEFT, PRIMER, gap=0.6, box=strip)
        end, outer, far = self.place(self.lap), self.place(self.lap + self.step), RIGHT - LEFT
        box = (RIGHT - 34, TOP - PLY - 2, 30, 24)
        base = None
        if "base" in self.omit:
            with sheet.part("base", box):
                pass
        else:
            base = stack.lay("base", "base", end, far, box=box)
        cap = stack.lay("cap", "cap", outer, far, box=(RIGHT - 76, TOP - 3 * PLY - 16, 40, 24))
        with sheet.part("step", (LEFT + (outer + end) / 2 - 2, TOP - 3 * PLY - 22, 28, 24)):
            pass
        x, y = stack.ground.at(outer, cap.low[0][1])
        with sheet.part("bead", (x - 22, y - 38, 24, 24)):
            if "bead" not in self.omit:
                outline = [(x, y), (x - 11, y), (x, y - PLY - 2)]
                canvas.path(outline, closed=True, fill=sheet.fill("sealant"), kind="cut sealant")
        for x in (LEFT + 4, RIGHT - 4):
            sheet.break_across(x, TOP - PLY - 8, low + DECK)
        return base, cap, stack

    def notes(self, base: Laid | None, cap: Laid, stack: Stack, *, from_new: bool) -> None:
        """Dimension laps and strip, show the water, number what is drawn."""
        sheet, say, ground = self.sheet, self.sheet.say, stack.ground
        end, outer = LEFT + self.place(self.lap), LEFT + self.place(self.lap + self.step)
        over = TOP - 3 * PLY - 10
        text = sheet.dimension("tie_in_lap", self.lap)
        sheet.across(end, JOINT, 98, text, caption=sheet.label("tie_in_lap"), tops=(over, over))
        if self.step:
            text = sheet.dimension("ply_step", self.step)
            sheet.across(outer, end, 62, text, caption=sheet.label("ply_step"), tops=(over, 98))
        start, finish = (RIGHT - 14, RIGHT - 58) if from_new else (LEFT + 14, LEFT + 50)
        sheet.water((start, 36), (finish, 36))
        edge = LEFT + self.place(self.clean)
        low = TOP + HIGH + DECK
        text = sheet.dimension("clean_width", self.clean)
        sheet.across(edge, JOINT, low + 24, text, caption=sheet.label("clean_width"), tops=(low, low), below=True)
        row = low + 68
        sheet.callout((LEFT + 12, TOP - PLY / 2), (LEFT + 12, row), say("old_roof"))
        if "primer" not in self.omit:
            sheet.callout((edge + 6, TOP - PLY - 2), (max(min(edge + 6, 130.0), LEFT + 36), row), say("clean_strip"))
        sheet.callout((JOINT, TOP + HIGH - 6), (JOINT - 34, row), say("roofs_meet"))
        sheet.callout((RIGHT - 50, TOP + HIGH / 2), (JOINT + 22, row), say("insulation"))
        if base is not None:
            sheet.callout(middle(base, ground, RIGHT - LEFT - 28), (RIGHT - 34, row), say("new_base"))
        sheet.callout(middle(cap, ground, RIGHT - LEFT - 12), (RIGHT - 10, row), say("new_cap"))
        if "bead" not in self.omit:
            x, y = ground.at(outer - LEFT - 4, cap.low[0][1] + 2)
            sheet.callout((x, y), (max(x - 24, LEFT + 10), TOP - 44), say("bead_at_end"))
        sheet.bottom = row + 14
