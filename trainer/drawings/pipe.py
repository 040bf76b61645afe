"""The collar of a pipe: in section, flange between the plies, and in plan with the sizes of the sheets."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from typing import Annotated

from trainer.drawings.canvas import LEADING, THIN, Point, wrap
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.derive import worked_out
from trainer.drawings.parts import LEAST
from trainer.drawings.registry import FoundAs, SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.drawings.stack import GAP, PLY, Ground, Laid, Stack, middle
from trainer.rules.dimensions import LENGTH, Length

PARTS = ("deck", "pipe", "base", "bed", "collar", "flange", "patch", "cap", "height", "clamp", "sealant")
MAY_LACK = ("bed", "patch", "clamp", "sealant")
MIDDLE = (LEFT + RIGHT) / 2
TOP = 70.0
WIDEST = 6.0
# The metal of the collar and the sealant under its flange, as drawn.
METAL, BED = 3.0, 2.6

PipeHeight = Annotated[Fraction, LENGTH, FoundAs("pipe.flashing_height")]
CollarFlange = Annotated[Fraction, LENGTH, FoundAs("pipe.collar_flange")]
PatchStep = Annotated[Fraction, LENGTH, FoundAs("pipe.patch_step")]


@drawing("collar_size", parts=PARTS)
def pipe_collar(
    sheet: Sheet,
    *,
    flashing_height: PipeHeight,
    collar_flange: CollarFlange,
    pipe_diameter: Length = Fraction(4),
    patch_step: PatchStep = Fraction(2),
    omit: Annotated[tuple[str, ...], SomeOf(MAY_LACK)] = (),
    reversed: Annotated[tuple[str, ...], SomeOf(("patch", "cap"))] = (),  # noqa: A002  the trade's word
) -> None:
    """A pipe's collar: its flange bedded on the base sheet, a target patch over it, then the cap sheet; clamp on top.

    `patch_step` is how far the patch passes the flange. `reversed` = patch: the patch under the flange; = cap: the
    flange on the cap sheet.
    """
    positive(sheet, flashing_height=flashing_height, collar_flange=collar_flange, pipe_diameter=pipe_diameter)
    not_negative(sheet, patch_step=patch_step)
    sheet.need(pipe_diameter <= 24, "pipe_diameter", pipe_diameter, "a collar takes a pipe of at most 24 in",
               "check the unit, or flash it as a curb")  # fmt: skip
    sheet.exaggerate()
    sheet.describe("alt.pipe_collar")
    pipe = _Pipe(sheet, flashing_height, collar_flange, pipe_diameter, patch_step, frozenset(omit), frozenset(reversed))
    pipe.section()
    pipe.dimensions()
    pipe.words()
    pipe.plan()


@dataclass
class _Pipe:
    """A collar under way: both sides of the pipe are laid alike, the right side is the image of the left."""

    sheet: Sheet
    height: Fraction
    flange: Fraction
    diameter: Fraction
    step: Fraction
    omit: frozenset[str]
    reverse: frozenset[str]
    laid: dict[str, Laid] = field(default_factory=dict)

    @cached_property
    def scale(self) -> float:
        """Drawing units an inch."""
        wide = self.drawn + 2 * float(self.flange + self.step) + 5
        return min((RIGHT - LEFT) / wide, 150 / float(self.height))

    @property
    def drawn(self) -> float:
        """How much of the pipe's width is drawn in the section, inches: of a wide pipe the middle is left out."""
        return min(float(self.diameter), WIDEST)

    @property
    def side(self) -> float:
        """The left side of the pipe."""
        return MIDDLE - self.drawn / 2 * self.scale

    @property
    def finished(self) -> float:
        """The finished roof, from which the collar's height counts."""
        return TOP + float(self.height) * self.scale

    @property
    def roof(self) -> float:
        """The roof deck's upper side."""
        return self.finished + 2 * PLY + GAP

    def before(self, inches: Fraction) -> float:
        """A place along the roof, so far from the pipe."""
        return max(self.side - LEFT - float(inches) * self.scale, 0.0)

    @cached_property
    def line(self) -> list[Point]:
        """What the sheets lie on, on the left."""
        return [(LEFT, self.roof), (self.side, self.roof), (self.side, TOP - 40)]

    @cached_property
    def stack(self) -> Stack:
        """What is laid on the left; the right is its image."""
        return Stack(self.sheet, Ground(self.line), MIDDLE)

    def section(self) -> None:
        """Draw deck, pipe and layers, in the order in which they are laid."""
        sheet, canvas = self.sheet, self.sheet.canvas
        sheet.view("view.section", 22, self.scale)
        thick = max(0.75 * self.scale, 9)
        gap = 0.25 * self.scale
        right = 2 * MIDDLE - self.side
        with sheet.part("deck", (LEFT, self.roof, 90, LEAST)):
            for x, width in ((LEFT, self.side - gap - LEFT), (right + gap, RIGHT - right - gap)):
                canvas.rect(x, self.roof, width, thick, fill=sheet.fill("deck"), kind="cut deck")
        low = self.roof + thick + 12
        with sheet.part("pipe", (self.side + 6, self.finished - 46, right - self.side - 12, 52)):
            canvas.rect(self.side, TOP - 28, right - self.side, low - TOP + 28, kind="cut pipe")
        sheet.break_up(TOP - 26, self.side, right)
        sheet.break_up(low - 2, self.side, right)
        if self.diameter > WIDEST:
            sheet.break_across(MIDDLE, TOP - 16, low - 12)
            sheet.exaggerate("broken")
        for name in self.order():
            self._lay(name)
        self._clamp()
        self.low, self.deck_low = low, low + 10

    low: float = 0.0
    deck_low: float = 0.0

    def order(self) -> list[str]:
        """The layers in their order on this roof, what is left out as well."""
        order = ["base", "bed", "collar", "patch", "cap"]
        if "patch" in self.reverse:
            order = ["base", "patch", "bed", "collar", "cap"]
        if "cap" in self.reverse:
            order = [name for name in order if name != "cap"]
            order.insert(order.index("bed"), "cap")
        return order

    def _lay(self, name: str) -> None:
        turn = self.stack.ground.turns[1]
        up = turn + self.roof - TOP
        flange, patch = self.before(self.flange), self.before(self.flange + self.step)
        close = turn - METAL - 2
        ends = {
            "base": ("base", 0.0, turn - 2, PLY),
            "bed": ("sealant", flange, turn - 3, BED),
            "collar": ("metal", flange, up, METAL),
            "patch": ("strip", patch, close, PLY),
            "cap": ("cap", 0.0, close, PLY),
        }
        half = self.before(self.flange + self.step) / 2
        high = self.roof - 26
        boxes = {
            "base": (LEFT, high, max(half, LEAST), LEAST),
            "cap": (LEFT + half, high, max(half, LEAST), LEAST),
            "patch": (LEFT + patch, high, max(flange - patch, LEAST), LEAST),
            "bed": (2 * MIDDLE - self.side + 2, self.roof - 14, LEAST, LEAST),
            "collar": (self.side - 14, TOP + 36, LEAST, max(self.finished - TOP - 66, LEAST)),
        }
        material, start, end, thick = ends[name]
        with self.sheet.part(name, boxes[name]):
            if name not in self.omit:
                line = 0.6 if thick < PLY else 1.2
                self.laid[name] = self.stack.lay(None, material, start, end, thick, line=line)

    def _clamp(self) -> None:
        canvas, right = self.sheet.canvas, 2 * MIDDLE - self.side
        out = METAL + 5
        with self.sheet.part("clamp", (self.side - 22, TOP + 8, LEAST, LEAST)):
            if "clamp" not in self.omit:
                for x in (self.side - out, right + METAL):
                    canvas.rect(x, TOP + 8, out - METAL, 11, fill="currentColor", line=0, kind="cut clamp")
                canvas.rect(right + out, TOP + 10, 9, 7, fill="none", kind="cut clamp")
        with self.sheet.part("sealant", (self.side - 20, TOP - 19, LEAST, LEAST)):
            if "sealant" not in self.omit:
                for x, toward in ((self.side, -1), (right, 1)):
                    bead = [(x, TOP - 8), (x + toward * (METAL + 5), TOP - 0.5), (x, TOP - 0.5)]
                    canvas.path(bead, closed=True, fill="currentColor", line=0, kind="cut sealant")

    def dimensions(self) -> None:
        """Dimension diameter, height, flange and patch on the section."""
        sheet, right = self.sheet, 2 * MIDDLE - self.side
        across = sheet.dimension("pipe_diameter", self.diameter)
        sheet.across(self.side, right, TOP - 34, across, tops=(TOP - 28, TOP - 28))
        x = LEFT + 12
        with sheet.part("height", (x - 12, TOP, LEAST, self.finished - TOP)):
            sheet.upward(TOP, self.finished, x, "", tops=(self.side - 14, x))
            lines = [*wrap(sheet.label("flashing_height"), max(self.side - LEFT - 50, 60)),
                     sheet.dimension("flashing_height", self.height)]  # fmt: skip
            for index, line in enumerate(lines):
                sheet.canvas.text((x + 6, TOP + 17 + index * LEADING), line, kind="dim", clear=True)
        row = self.low + 16
        flange, patch = LEFT + self.before(self.flange), LEFT + self.before(self.flange + self.step)
        under = self.roof - PLY
        with sheet.part("flange", (flange, row - 12, self.side - flange, LEAST)):
            sheet.across(flange, self.side, row, sheet.dimension("collar_flange", self.flange),
                         caption=sheet.label("collar_flange"), tops=(under, under), below=True)  # fmt: skip
        self.low = row + 2 * LEADING
        if "patch" not in self.omit and self.step:
            row += 44
            sheet.across(patch, flange, row, sheet.dimension("patch_step", self.step),
                         caption=sheet.label("patch_step"), tops=(under, under), below=True)  # fmt: skip
            self.low = row + 2 * LEADING

    def words(self) -> None:
        """Number the layers on the right side, in the order in which they are laid."""
        sheet, ground = self.sheet, Ground(self.line, MIDDLE)
        right = 2 * MIDDLE - self.side
        row = self.finished - 35
        keys = {name: f"pipe.{name}_under" if name in self.reverse else f"pipe.{name}" for name in PARTS}
        keys["deck"] = "deck"
        spots: dict[str, tuple[Point, Point]] = {}
        spots["deck"] = ((LEFT + 12, self.roof + 5), (LEFT + 12, self.deck_low - 8))
        for index, name in enumerate(("cap", "base")):
            x = RIGHT - 12 - index * 21.0
            spots[name] = (middle(self.laid[name], ground, RIGHT - x), (x, row))
        for index, name in enumerate(("bed", "patch")):
            if name in self.laid:
                x = right + 13 + index * 21
                target = min(x, right + float(self.flange) * self.scale - 4)
                spots[name] = (middle(self.laid[name], ground, RIGHT - target), (x, row))
        column = RIGHT - 12
        beside = min(TOP + 50, row - 22)
        spots["collar"] = ((right + METAL / 2, max(beside, TOP + 25)), (column - 44, beside))
        spots["clamp"] = ((right + METAL + 3, TOP + 13), (column, TOP + 6))
        spots["sealant"] = ((right + 3, TOP - 3), (column, TOP - 14))
        spots["pipe"] = ((right - 8, TOP - 14), (column, TOP - 34))
        for name in ["deck", "pipe", *self.order(), "clamp", "sealant"]:
            if name not in self.omit:
                sheet.callout(*spots[name], sheet.say(keys[name]))
        sheet.bottom = self.low

    def plan(self) -> None:
        """Draw the sheets round the pipe from above; what lies under the cap sheet is dashed."""
        sheet, canvas = self.sheet, self.sheet.canvas
        half = float(self.diameter) / 2 + float(self.flange + self.step)
        scale = min(76 / half, self.scale)
        top = sheet.bottom + 22
        sheet.view("view.plan", top, scale)
        y = top + 40 + half * scale
        wide = half * scale + 14
        canvas.rect(MIDDLE - wide, y - wide, 2 * wide, 2 * wide, fill=sheet.fill("cap"), line=0, kind="cap")
        if "patch" not in self.omit:
            canvas.rect(MIDDLE - half * scale, y - half * scale, 2 * half * scale, 2 * half * scale,
                        dash="6 3", kind="hidden patch")  # fmt: skip
        inner = (float(self.diameter) / 2 + float(self.flange)) * scale
        canvas.rect(MIDDLE - inner, y - inner, 2 * inner, 2 * inner, dash="3 2", kind="hidden collar")
        radius = float(self.diameter) / 2 * scale
        canvas.circle((MIDDLE, y), radius, fill="#fff", line=2.4, kind="paper pipe")
        canvas.line((MIDDLE - radius - 5, y), (MIDDLE + radius + 5, y), width=THIN, kind="center")
        canvas.line((MIDDLE, y - radius - 5), (MIDDLE, y + radius + 5), width=THIN, kind="center")
        sheet.bottom = y + wide + 6
        if sheet.shows("collar_size"):
            size = worked_out(sheet, "collar_size", pipe_diameter=self.diameter, collar_flange=self.flange)
            sheet.across(MIDDLE - inner, MIDDLE + inner, sheet.bottom + 12, sheet.dimension("collar_size", size),
                         caption=sheet.label("collar_size"), tops=(y + inner, y + inner), below=True)  # fmt: skip
            sheet.bottom += 16 + 2 * LEADING
