"""A fishmouth at the edge of a lap in plan: the wrinkle, its cut, and the patch over it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import THICK, number
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.derive import worked_out
from trainer.drawings.registry import FoundAs, OneOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import LENGTH, Length

TOP, MIDDLE = 44.0, 170.0

PatchLap = Annotated[Fraction, LENGTH, FoundAs("repair.patch_lap")]
PatchRadius = Annotated[Fraction, LENGTH, FoundAs("repair.patch_radius")]


@drawing("patch_size", parts=("wrinkle", "cut", "above", "below", "side", "corner", "lap_edge"))
def fishmouth(
    sheet: Sheet,
    *,
    damage: Length,
    patch_lap: PatchLap,
    patch_radius: PatchRadius = Fraction(1),
    patch_below: Length | None = None,
    patch_side: Length | None = None,
    uncut: Length = Fraction(0),
    corners: Annotated[str, OneOf(("round", "square"))] = "round",
) -> None:
    """A wrinkle that opens at a lap's edge, cut from the edge up to its end, and the patch over it.

    `patch_lap` is the patch past the cut on every side, `patch_below` past the lap's edge and `patch_side` to both
    sides where they differ; `uncut` is how far the wrinkle goes on past the end of the cut.
    """
    below, side = patch_lap if patch_below is None else patch_below, patch_lap if patch_side is None else patch_side
    positive(sheet, damage=damage, patch_lap=patch_lap, patch_below=below, patch_side=side)
    not_negative(sheet, patch_radius=patch_radius, uncut=uncut)
    limit, mending = "it must be at most a third of the patch", "measure it again"
    sheet.need(3 * patch_radius <= min(2 * side, damage + patch_lap), "patch_radius", patch_radius, limit, mending)
    sheet.need(uncut <= damage, "uncut", uncut, "it must be at most the cut", mending)
    sheet.describe("alt.fishmouth")
    sheet.describe(f"alt.fishmouth.{corners}")
    if uncut:
        sheet.describe("alt.fishmouth.uncut")
    radius = patch_radius if corners == "round" else Fraction(0)
    repair = _Repair(sheet, damage, patch_lap, below, side, radius, uncut)
    sheet.scale(repair.scale)
    repair.draw()
    repair.dimensions()
    repair.notes()


@dataclass(frozen=True)
class _Repair:
    """Where cut and patch fall on the sheet: the slope runs down, the cut up from the lap's edge."""

    sheet: Sheet
    damage: Fraction
    above: Fraction
    below: Fraction
    side: Fraction
    radius: Fraction
    uncut: Fraction

    @property
    def scale(self) -> float:
        """Drawing units an inch."""
        tall = float(self.damage + max(self.above, self.uncut) + max(self.below, self.above))
        return min(215 / tall, 150 / (2 * float(max(self.side, self.above))))

    @property
    def top(self) -> float:
        """The patch's upper edge."""
        return self.cut_end - float(self.above) * self.scale

    @property
    def cut_end(self) -> float:
        """The upper end of the cut."""
        return TOP + float(max(self.above, self.uncut)) * self.scale

    @property
    def edge(self) -> float:
        """The edge of the lap."""
        return self.cut_end + float(self.damage) * self.scale

    @property
    def bottom(self) -> float:
        """The patch's lower edge."""
        return self.edge + float(self.below) * self.scale

    @property
    def half(self) -> float:
        """Half of the patch's width."""
        return float(self.side) * self.scale

    def draw(self) -> None:
        """Draw the lap's edge, the wrinkle, the cut and the patch."""
        sheet, canvas = self.sheet, self.sheet.canvas
        end = self.cut_end - float(self.uncut) * self.scale
        with sheet.part("lap_edge", (LEFT, self.edge - 12, MIDDLE - self.half - 30 - LEFT, 24)):
            canvas.line((LEFT, self.edge), (RIGHT, self.edge), width=THICK, kind="line seam")
        with sheet.part("wrinkle", (MIDDLE - 14, end - 8, 28, 24)):
            data = f"M{number(MIDDLE - 11)} {number(self.edge)}Q{number(MIDDLE - 6)} {number(self.edge - 20)} "
            canvas.curve(
                f"{data}{number(MIDDLE)} {number(end)}Q{number(MIDDLE + 6)} {number(self.edge - 20)} "
                f"{number(MIDDLE + 11)} {number(self.edge)}", dash="4 3", kind="hidden wrinkle",
            )  # fmt: skip
        low = self.edge - max(self.edge - self.cut_end - 18, 12)
        with sheet.part("cut", (MIDDLE - 12, low, 24, max(self.edge - low, 12))):
            canvas.line((MIDDLE, self.cut_end), (MIDDLE, self.edge), width=THICK, kind="line cut-line")
        canvas.curve(self._outline(), line=THICK, kind="line patch")
        for name, box in (
            ("above", (MIDDLE - 12, self.top, 24, max(self.cut_end - self.top - 10, 12))),
            ("below", (MIDDLE - 12, self.edge + 3, 24, max(self.bottom - self.edge, 12))),
            ("side", (MIDDLE - self.half - 4, self.edge - 44, max(self.half - 12, 24), 26)),
            ("corner", (MIDDLE + self.half - 20, self.top - 4, 26, 26)),
        ):
            with sheet.part(name, box):
                pass

    def _outline(self) -> str:
        """The patch, its corners rounded."""
        left, right, r = MIDDLE - self.half, MIDDLE + self.half, float(self.radius) * self.scale
        arc = f"a{number(r)} {number(r)} 0 0 1" if r else None
        corners = [
            f"{arc} {number(dx * r)} {number(dy * r)}" if arc else "" for dx, dy in ((1, 1), (-1, 1), (-1, -1), (1, -1))
        ]
        return (
            f"M{number(left + r)} {number(self.top)}H{number(right - r)}{corners[0]}V{number(self.bottom - r)}"
            f"{corners[1]}H{number(left + r)}{corners[2]}V{number(self.top + r)}{corners[3]}Z"
        )

    def dimensions(self) -> None:
        """Dimension the cut, and the patch past it above, below and to one side."""
        sheet, right = self.sheet, MIDDLE + self.half
        x = right + 16
        given = sheet.dimension("patch_lap", self.above)
        sheet.upward(self.top, self.cut_end, x, given, caption=sheet.label("patch_lap"),
                     tops=(right, MIDDLE + 4), room=RIGHT - x - 8)  # fmt: skip
        name = "patch_below"
        sheet.upward(self.edge, self.bottom, x, sheet.dimension(name, self.below), caption=sheet.label(name),
                     tops=(x, right), room=RIGHT - x - 8)  # fmt: skip
        x = MIDDLE - self.half - 14
        sheet.upward(self.cut_end, self.edge, x, sheet.dimension("damage", self.damage), caption=sheet.label("damage"),
                     tops=(MIDDLE - 4, x), side="left", room=x - LEFT - 6)  # fmt: skip
        sheet.across(MIDDLE - self.half, MIDDLE, self.bottom + 48, sheet.dimension("patch_side", self.side),
                     caption=sheet.label("patch_side"), tops=(self.bottom, self.edge + 3))  # fmt: skip
        sheet.bottom = self.bottom + 54
        if self.uncut:
            sheet.note(f"{sheet.label('uncut')}: {sheet.dimension('uncut', self.uncut)}")
        if self.radius:
            sheet.note(f"{sheet.label('patch_radius')}: {sheet.dimension('patch_radius', self.radius)}")
        if sheet.shows("patch_size"):
            size = worked_out(sheet, "patch_size", damage=self.damage, patch_lap=self.above)
            sheet.note(f"{sheet.label('patch_size')}: {sheet.dimension('patch_size', size)}")
        sheet.bottom += 6

    def notes(self) -> None:
        """Number edge, wrinkle, cut and patch."""
        sheet, say = self.sheet, self.sheet.say
        sheet.water((LEFT + 22, 52), (LEFT + 22, 84), "")
        sheet.canvas.text((LEFT + 34, 74), say("water"))
        sheet.callout((LEFT + 20, self.edge), (LEFT + 20, self.edge + 24), say("upper_sheet_edge"))
        sheet.callout((MIDDLE - 8, self.edge - 10), (MIDDLE - self.half - 40, self.bottom + 8), say("wrinkle"))
        sheet.callout((MIDDLE, self.edge - 4), (MIDDLE + 32, self.bottom + 20), say("cut_line"))
        sheet.callout((MIDDLE - self.half, self.top + 52), (MIDDLE - self.half - 24, self.top + 44), say("patch"))
