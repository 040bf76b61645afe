"""A pocket filled with sealant round an odd shape, in section: the last choice, where no collar fits."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from typing import Annotated

from trainer.drawings.canvas import LEADING, Point, wrap
from trainer.drawings.checks import positive
from trainer.drawings.parts import LEAST
from trainer.drawings.registry import FoundAs, OneOf, SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, UNBROKEN, Sheet
from trainer.drawings.stack import GAP, PLY, Ground, Laid, Stack, middle
from trainer.rules.dimensions import LENGTH, Length

PARTS = ("deck", "post", "base", "bed", "pocket", "strip", "cap", "height", "clearance", "filler", "top")
MAY_LACK = ("bed", "strip")
MIDDLE = (LEFT + RIGHT) / 2
TOP = 78.0
METAL, BED = 3.0, 2.6
# How far the pocket's flange lies on the roof, how far the strip passes it, how much roof is seen, inches.
FLANGE, STRIP, FIELD = 4.0, 2.0, 3.2
# How much higher the filler stands at the post than at the rim, inches.
CROWN = 0.5

FillerDepth = Annotated[Fraction, LENGTH, FoundAs("pocket.filler_depth")]
PocketHeight = Annotated[Fraction, LENGTH, FoundAs("pocket.pocket_height")]
Clearance = Annotated[Fraction, LENGTH, FoundAs("pocket.pocket_clearance")]


@drawing(parts=PARTS)
def post_pocket(
    sheet: Sheet,
    *,
    pocket_height: PocketHeight,
    pocket_clearance: Clearance,
    filler_depth: FillerDepth,
    post_width: Length = Fraction(2),
    top: Annotated[str, OneOf(("crowned", "dished"))] = "crowned",
    omit: Annotated[tuple[str, ...], SomeOf(MAY_LACK)] = (),
    reversed: Annotated[tuple[str, ...], SomeOf(("strip",))] = (),  # noqa: A002  the trade's word
) -> None:
    """A filled pocket round a post: its flange bedded on the base sheet, stripping ply, cap sheet, filler on grout.

    `top` is how the filler's upper side is shaped; `reversed` = strip: the stripping ply under the flange.
    """
    positive(sheet, pocket_height=pocket_height, pocket_clearance=pocket_clearance, filler_depth=filler_depth,
             post_width=post_width)  # fmt: skip
    for name, value in (("pocket_height", pocket_height), ("pocket_clearance", pocket_clearance),
                        ("post_width", post_width)):  # fmt: skip
        sheet.need(value <= 12, name, value, "it must be at most 12 in", "check the unit, or flash it as a curb")
    sheet.need(filler_depth <= pocket_height, "filler_depth", filler_depth, "the filler lies in the pocket",
               "give at most the pocket's height")  # fmt: skip
    sheet.exaggerate()
    sheet.describe("alt.post_pocket")
    pocket = _Pocket(sheet, pocket_height, pocket_clearance, filler_depth, post_width, top == "crowned",
                     frozenset(omit), bool(reversed))  # fmt: skip
    sheet.scale(pocket.scale)
    pocket.draw()
    pocket.dimensions()
    pocket.words()


@dataclass
class _Pocket:
    """A pocket under way: both sides of the post are laid alike, the right side is the image of the left."""

    sheet: Sheet
    height: Fraction
    clearance: Fraction
    depth: Fraction
    post: Fraction
    crowned: bool
    omit: frozenset[str]
    strip_under: bool
    laid: dict[str, Laid] = field(default_factory=dict)
    low: float = 0.0

    @cached_property
    def scale(self) -> float:
        """Drawing units an inch."""
        wide = float(self.post + 2 * self.clearance) + 2 * (FLANGE + STRIP + FIELD)
        return min((RIGHT - LEFT) / wide, 130 / float(self.height))

    @property
    def side(self) -> float:
        """The left side of the pocket."""
        return MIDDLE - (float(self.post) / 2 + float(self.clearance)) * self.scale

    @property
    def finished(self) -> float:
        """The finished roof, from which the pocket's height counts."""
        return TOP + float(self.height) * self.scale

    @property
    def roof(self) -> float:
        """The roof deck's upper side."""
        return self.finished + 2 * PLY + GAP

    @property
    def grout(self) -> float:
        """The underside of the filler."""
        return TOP + float(self.depth) * self.scale

    @cached_property
    def line(self) -> list[Point]:
        """What the sheets lie on, on the left."""
        return [(LEFT, self.roof), (self.side, self.roof), (self.side, TOP - 40)]

    @cached_property
    def stack(self) -> Stack:
        """What is laid on the left; the right is its image."""
        return Stack(self.sheet, Ground(self.line), MIDDLE)

    def before(self, inches: float) -> float:
        """A place along the roof, so far from the pocket."""
        return max(self.side - LEFT - inches * self.scale, 0.0)

    def order(self) -> list[str]:
        """The layers in their order on this roof."""
        under = ["base", "strip", "bed", "pocket", "cap"]
        return under if self.strip_under else ["base", "bed", "pocket", "strip", "cap"]

    def draw(self) -> None:
        """Draw deck and post, the layers in their order, then what fills the pocket."""
        sheet, canvas = self.sheet, self.sheet.canvas
        thick = max(0.75 * self.scale, 9)
        half = float(self.post) / 2 * self.scale
        self.low = self.roof + thick + 12
        with sheet.part("deck", (LEFT, self.roof, 80, LEAST)):
            for x in (LEFT, MIDDLE + half + 4):
                canvas.rect(x, self.roof, MIDDLE - half - 4 - LEFT, thick, fill=sheet.fill("deck"), kind="cut deck")
        for name in self.order():
            self._lay(name)
        self._fill()
        with sheet.part("post", (MIDDLE - max(half, 12), TOP - 44, max(2 * half, LEAST), LEAST)):
            canvas.rect(MIDDLE - half, 34, 2 * half, self.low - 34, fill="#fff", line=0, kind="paper")
            canvas.rect(MIDDLE - half, 34, 2 * half, self.low - 34, kind="cut post")
            web = max(half * 0.25, 2.0)
            for x in (MIDDLE - half + web, MIDDLE + half - web):
                canvas.line((x, 34), (x, self.low), width=0.7, kind="line post")
        for y in (36, self.low - 2):
            sheet.break_up(y, MIDDLE - half, MIDDLE + half)

    def _lay(self, name: str) -> None:
        turn = self.stack.ground.turns[1]
        flange, strip = self.before(FLANGE), self.before(FLANGE + STRIP)
        close, up = turn - METAL - 2, turn + self.roof - TOP
        ends = {
            "base": ("base", 0.0, turn - 1, PLY),
            "bed": ("sealant", flange, turn - 3, BED),
            "pocket": ("metal", flange, up, METAL),
            "strip": ("strip", strip, close, PLY),
            "cap": ("cap", 0.0, close, PLY),
        }
        high, half = self.roof - 26, strip / 2
        boxes = {
            "base": (LEFT, high, half, LEAST),
            "cap": (LEFT + half, high, half, LEAST),
            "strip": (LEFT + strip, high, max(flange - strip, LEAST), LEAST),
            "bed": (2 * MIDDLE - self.side + 2, self.roof - 14, LEAST, LEAST),
            "pocket": (2 * MIDDLE - self.side - 10, TOP + 4, LEAST, max(self.finished - TOP - 34, LEAST)),
        }
        material, start, end, thick = ends[name]
        with self.sheet.part(name, boxes[name]):
            if name not in self.omit:
                line = 0.6 if thick < PLY else 1.2
                self.laid[name] = self.stack.lay(None, material, start, end, thick, line=line)

    def _fill(self) -> None:
        canvas, fill = self.sheet.canvas, self.sheet.fill
        left, right = self.side, 2 * MIDDLE - self.side
        rise = CROWN * self.scale * (1 if self.crowned else -1)
        half = float(self.post) / 2 * self.scale
        room = max((right - left) / 2 - half, LEAST)
        canvas.rect(left, self.grout, right - left, self.roof - self.grout, fill=fill("cant"), kind="cut grout")
        with self.sheet.part("filler", (right - room, (TOP + self.grout) / 2 - 4, room, (self.grout - TOP) / 2 + 4)):
            outline = [(left, self.grout), (left, TOP), (MIDDLE - half, TOP - rise), (MIDDLE + half, TOP - rise),
                       (right, TOP), (right, self.grout)]  # fmt: skip
            canvas.path(outline, closed=True, fill=fill("sealant"), kind="cut filler")
        with self.sheet.part("top", (right - room, TOP - 22, room, LEAST)):
            canvas.path([(MIDDLE - half, TOP - rise), (left, TOP)], line=1.8, kind="line top")
            canvas.path([(MIDDLE + half, TOP - rise), (right, TOP)], line=1.8, kind="line top")

    def dimensions(self) -> None:
        """Dimension the pocket's height, the room round the post and the depth of the filler."""
        sheet, x = self.sheet, LEFT + 12
        with sheet.part("height", (x - 12, TOP, LEAST, self.finished - TOP)):
            sheet.upward(TOP, self.finished, x, "", tops=(self.side - 8, x))
            text = sheet.dimension("pocket_height", self.height).replace(" ", UNBROKEN)
            lines = wrap(f"{sheet.say('pocket.above')} {text}", self.side - LEFT - 4)
            for index, line in enumerate(lines):
                at = (LEFT, TOP - 6 - (len(lines) - 1 - index) * LEADING)
                sheet.canvas.text(at, line, kind="dim", clear=True)
        row, half = self.low + 14, float(self.post) / 2 * self.scale
        right = 2 * MIDDLE - self.side
        with sheet.part("clearance", (MIDDLE + half, row - 12, max(right - MIDDLE - half, 1), LEAST)):
            sheet.across(MIDDLE + half, right, row, sheet.dimension("pocket_clearance", self.clearance),
                         caption=sheet.say("pocket.round"), tops=(self.grout, self.roof), below=True)  # fmt: skip
        sheet.bottom = row + 2 * LEADING + 4

    def words(self) -> None:
        """Number everything in the order in which it is laid."""
        sheet, ground = self.sheet, Ground(self.line, MIDDLE)
        right = 2 * MIDDLE - self.side
        row, column = self.roof - 50, RIGHT - 12
        half = float(self.post) / 2 * self.scale
        spots: dict[str, tuple[Point, Point]] = {}
        spots["deck"] = ((LEFT + 12, self.roof + 5), (LEFT + 12, self.low + 4))
        for index, name in enumerate(("cap", "base")):
            x = RIGHT - 12 - index * 21.0
            spots[name] = (middle(self.laid[name], ground, RIGHT - x), (x, row))
        for index, name in enumerate(("bed", "strip")):
            if name in self.laid:
                x = right + 13 + index * 21
                spots[name] = (middle(self.laid[name], ground, RIGHT - x), (x, row))
        spots["pocket"] = ((self.side - METAL / 2, TOP + 6), (self.side - 24, TOP + 14))
        spots["filler"] = ((right - 10, TOP + 5), (column, TOP - 30))
        spots["post"] = ((MIDDLE + half - 4, TOP - 34), (column, TOP - 51))
        spots["grout"] = ((self.side + 10, self.roof - 6), (self.side - 18, self.low + 2))
        depth_text = sheet.dimension("filler_depth", self.depth)
        for name in ("deck", "post", *self.order(), "grout", "filler"):
            if name in self.omit:
                continue
            key = "deck" if name == "deck" else f"pocket.{name}"
            if name == "strip" and self.strip_under:
                key += "_under"
            if name == "filler":
                key += "_crowned" if self.crowned else "_dished"
            sheet.callout(*spots[name], sheet.say(key, depth=depth_text))
        sheet.note(sheet.say("pocket.note"))
        sheet.bottom += 8
