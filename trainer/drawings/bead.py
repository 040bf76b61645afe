"""The bead of sealant at the deck edge, before the edge metal is set in it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import THIN
from trainer.drawings.checks import positive
from trainer.drawings.registry import SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import Length

EDGE = RIGHT - 30
TOP = 128.0
# The base sheet as drawn, in drawing units: many times as thick as it is.
BASE = 9.0
DECK = TOP + BASE


@drawing(parts=("bead", "flange", "face", "base", "turn_down", "nailer"))
def bead_position(
    sheet: Sheet,
    *,
    bead_width: Length,
    bead_depth: Length,
    bead_setback: Length,
    flange: Length = Fraction(3),
    omit: Annotated[tuple[str, ...], SomeOf(("bead",))] = (),
) -> None:
    """The bead on the base sheet under the raised edge metal; its setback runs from the deck edge to its middle."""
    positive(sheet, bead_width=bead_width, bead_depth=bead_depth, bead_setback=bead_setback, flange=flange)
    limit, mending = "the bead must lie under the flange", "give a setback and a bead that the flange covers"
    sheet.need(bead_setback + bead_width / 2 <= flange, "bead_setback", bead_setback, limit, mending)
    sheet.exaggerate()
    sheet.describe("alt.bead_position.bare" if omit else "alt.bead_position")
    bead = _Bead(sheet, bead_width, bead_depth, bead_setback, flange, laid=not omit)
    sheet.scale(bead.scale)
    bead.draw()
    bead.dimensions()
    bead.notes()


@dataclass(frozen=True)
class _Bead:
    """Where bead and metal fall on the sheet: the roof to the left, outside to the right."""

    sheet: Sheet
    width: Fraction
    depth: Fraction
    setback: Fraction
    flange: Fraction
    laid: bool

    @property
    def scale(self) -> float:
        """Drawing units an inch: the flange and an inch of roof beyond it."""
        return (RIGHT - LEFT - 24) / float(self.flange + 1)

    @property
    def middle(self) -> float:
        """The middle of the bead."""
        return EDGE - float(self.setback) * self.scale

    @property
    def high(self) -> float:
        """The height of the bead."""
        return float(self.depth) * self.scale

    @property
    def raised(self) -> float:
        """The height at which the flange hangs over the bead."""
        return TOP - self.high - 24

    @property
    def inner(self) -> float:
        """The inner edge of the flange."""
        return EDGE - float(self.flange) * self.scale

    def draw(self) -> None:
        """Draw nailer, base sheet turned down over it, bead, and the metal above."""
        canvas, fill, part = self.sheet.canvas, self.sheet.fill, self.sheet.part
        outside, turned, back = EDGE + BASE, DECK + 60, EDGE + 15
        with part("nailer", (LEFT, DECK + 20, EDGE - LEFT - 20, 32)):
            canvas.rect(LEFT, DECK, EDGE - LEFT, 52, fill=fill("nailer"), kind="cut nailer")
        base = [(LEFT, TOP), (outside, TOP), (outside, turned), (EDGE, turned), (EDGE, DECK), (LEFT, DECK)]
        with part("base", (LEFT, TOP - 6, max(self.middle - LEFT - 40, 40), 24)):
            canvas.path(base, closed=True, fill=fill("base"), kind="cut base")
        with part("turn_down", (EDGE - 16, DECK + 14, 24, turned - DECK - 14)):
            pass
        with part("bead", (self.middle - 18, TOP - max(self.high, 8) - 10, 36, max(self.high, 8) + 14)):
            if self.laid:
                self._bead()
        with part("flange", (self.inner, self.raised - 12, EDGE - self.inner - 12, 24)):
            canvas.path(
                [(self.inner, self.raised), (back, self.raised), (back, DECK + 66)], line=3.2, kind="line metal"
            )
        with part("face", (EDGE + 9, self.raised + 12, 24, DECK + 54 - self.raised)):
            pass

    def _bead(self) -> None:
        half, side, dome = float(self.width) * self.scale / 2, self.high * 0.45, self.high * 0.55
        self.sheet.canvas.curve(
            f"M{self.middle - half:.2f} {TOP:.2f}v{-side:.2f}q0 {-dome:.2f} {half:.2f} {-dome:.2f}"
            f"t{half:.2f} {dome:.2f}v{side:.2f}Z",
            fill=self.sheet.fill("sealant"),
            kind="cut sealant",
        )

    def dimensions(self) -> None:
        """Dimension the flange, and the setback between the deck edge and the bead's center line."""
        sheet, over = self.sheet, self.raised - 3
        flange = sheet.dimension("flange", self.flange)
        sheet.across(self.inner, EDGE, self.raised - 26, flange, caption=sheet.label("flange"), tops=(over, over))
        low = DECK + 104
        sheet.bottom = low + 10
        if not self.laid:
            return
        above = (self.middle, TOP - self.high - 8)
        sheet.canvas.line(above, (self.middle, low + 4), width=THIN, dash="9 3 2 3", kind="center")
        sheet.canvas.line((EDGE, DECK + 70), (EDGE, low + 4), width=THIN, kind="dim")
        setback = sheet.dimension("bead_setback", self.setback)
        sheet.across(self.middle, EDGE, low, setback, caption=sheet.label("bead_setback"))

    def notes(self) -> None:
        """Number the bead with its size, the metal, the base sheet and the nailer."""
        sheet = self.sheet
        if self.laid:
            width, depth = sheet.dimension("bead_width", self.width), sheet.dimension("bead_depth", self.depth)
            bead = sheet.say("bead_sized", width=width, depth=depth)
            half = float(self.width) * self.scale / 2
            sheet.callout((self.middle - half * 0.4, TOP - self.high * 0.4), (LEFT + 24, TOP - 16), bead)
        sheet.callout((self.inner + 20, self.raised), (LEFT + 24, self.raised - 22), sheet.say("metal_not_set"))
        sheet.callout((LEFT + 46, TOP + 4), (LEFT + 24, DECK + 78), sheet.say("base_at_edge"))
        sheet.callout((LEFT + 80, DECK + 34), (LEFT + 80, DECK + 78), sheet.say("nailer"))
