"""The joint between two parts of a building, in section: a curb on each side, a loose loop, a cover that slides."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import LEADING, LINE, Point, number, wrap
from trainer.drawings.checks import positive
from trainer.drawings.parts import LEAST
from trainer.drawings.registry import FoundAs, OneOf, SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.drawings.stack import GAP, PLY, Ground, Stack
from trainer.drawings.upstand import FIELD, Upstand
from trainer.drawings.wall import METAL, Cant, PlyStep, RoofLap
from trainer.rules.dimensions import LENGTH, Length

PARTS = (
    "deck", "curb", "cant", "base", "base_flashing", "cap", "cap_flashing", "roof_lap", "height", "gap", "foam",
    "loop", "cover", "cover_edge", "fastener", "free_side",
)  # fmt: skip
CENTER, TOP, ROW = (LEFT + RIGHT) / 2, 112.0, 58.0
# The lumber of a curb, inches.
WOOD = 1.5

Height = Annotated[Fraction, LENGTH, FoundAs("expansion.flashing_height")]
CoverLap = Annotated[Fraction, LENGTH, FoundAs("expansion.cover_lap")]


@drawing(parts=PARTS)
def expansion_joint(
    sheet: Sheet,
    *,
    flashing_height: Height,
    cover_lap: CoverLap,
    roof_lap: RoofLap = Fraction(4),
    ply_step: PlyStep = Fraction(2),
    cant_face: Cant = Fraction(4),
    gap_width: Length = Fraction(2),
    curbs: Annotated[str, OneOf(("both", "left"))] = "both",
    fastened: Annotated[str, OneOf(("one_side", "both_sides"))] = "one_side",
    loop: Annotated[str, OneOf(("slack", "tight"))] = "slack",
    gap: Annotated[str, OneOf(("free", "blocked"))] = "free",
    omit: Annotated[tuple[str, ...], SomeOf(("foam", "cover"))] = (),
) -> None:
    """A joint with its curbs and their flashing; heights count from the finished roof, `cover_lap` from a curb's top.

    `curbs` = left: the other side has none and the cover comes down onto its roof; `gap` = blocked: wood lies in it.
    """
    positive(sheet, flashing_height=flashing_height, cover_lap=cover_lap, roof_lap=roof_lap, ply_step=ply_step,
             cant_face=cant_face, gap_width=gap_width)  # fmt: skip
    sheet.need(cant_face + 2 <= flashing_height <= 16, "flashing_height", flashing_height,
               "it must pass the cant by 2 in, and be at most 16 in", "measure from the finished roof")  # fmt: skip
    sheet.need(cover_lap < flashing_height, "cover_lap", cover_lap, "the cover must end over the roof",
               "give less than the flashing's height")  # fmt: skip
    sheet.need(1 <= gap_width <= 6, "gap_width", gap_width, "it must lie between 1 in and 6 in", "measure it again")
    for key in (f"curbs.{curbs}", f"fastened.{fastened}", f"loop.{loop}", f"gap.{gap}"):
        if key != "fastened.one_side" or "cover" not in omit:
            sheet.describe(f"alt.expansion_joint.{key}")
    beside = WOOD + float(gap_width) / 2
    scale = (CENTER - LEFT) / (float(cant_face + roof_lap + ply_step) + FIELD + beside)
    body = RIGHT - CENTER + beside * scale
    side = Upstand(sheet, flashing_height, cant_face, roof_lap, ply_step, Fraction(0), body=body, top=TOP)
    side.beyond = ((WOOD * side.scale, 0.0),)
    sheet.scale(side.scale)
    sheet.exaggerate()
    joint = _Joint(side, cover_lap, gap_width, curbs == "both", fastened == "both_sides", frozenset(omit))
    joint.draw(tight=loop == "tight", blocked=gap == "blocked")


@dataclass
class _Joint:
    """A joint under way: the left side as an upstand, the right one as its image."""

    side: Upstand
    cover: Fraction
    gap: Fraction
    both: bool
    fast: bool
    omit: frozenset[str]

    @property
    def sheet(self) -> Sheet:
        """The sheet that it is drawn on."""
        return self.side.sheet

    @property
    def inner(self) -> float:
        """The side of the left curb that faces the gap."""
        return self.side.face + WOOD * self.side.scale

    @property
    def center(self) -> float:
        """The middle of the gap."""
        return self.inner + float(self.gap) / 2 * self.side.scale

    def image(self, point: Point) -> Point:
        """The same place on the other side of the gap."""
        return 2 * self.center - point[0], point[1]

    def draw(self, *, tight: bool, blocked: bool) -> None:
        """Draw decks, curbs and plies, then loop and cover, dimensions and words."""
        side = self.side
        self._wood(blocked=blocked)
        if self.both:
            side.stack.image = self.center
        side.plies(frozenset(), Fraction(2), past=(WOOD * side.scale - 3, WOOD * side.scale - 1))
        self.floor = side.top - side.stack.height(side.flashing_top + 6)
        self.out = side.stack.height(side.flashing_top - 2)
        if not self.both:
            self._flat()
        self._loop(tight=tight)
        self._cover()
        side.dimensions()
        self._dimensions()
        _words(self, blocked=blocked)

    floor: float = 0.0
    out: float = 0.0

    def _wood(self, *, blocked: bool) -> None:
        """Decks, curbs and cant strips; wood in the gap where there is some."""
        side, canvas, fill = self.side, self.sheet.canvas, self.sheet.fill
        side.wood()
        thick, width = side.deck_bottom - side.deck_top, self.inner - side.face
        right = self.image((self.inner, 0))[0]
        canvas.rect(side.face, side.deck_top, width, thick, fill=fill("deck"), kind="cut deck")
        canvas.rect(right, side.deck_top, RIGHT - right, thick, fill=fill("deck"), kind="cut deck")
        high = side.deck_top - side.top
        with self.sheet.part("curb", (side.face - 5, side.top + 36, LEAST, high - 40)):
            canvas.rect(side.face, side.top, width, high, fill=fill("nailer"), kind="cut curb")
            if self.both:
                canvas.rect(right, side.top, width, high, fill=fill("nailer"), kind="cut curb")
        side.strip()
        if self.both:
            cant = float(side.cant) * side.scale
            corner = (side.face, side.roof)
            outline = [self.image(point) for point in ((side.foot, side.roof), (side.face, side.roof - cant), corner)]
            canvas.path(outline, closed=True, fill=fill("cant"), kind="cut cant")
        middle = (side.top + side.deck_bottom) / 2 + 18
        with self.sheet.part("gap", (self.center - 12, middle - 4, LEAST, side.deck_bottom - middle + 4)):
            if blocked:
                canvas.rect(self.inner, middle + 4, right - self.inner, 1.5 * side.scale, fill=fill("nailer"),
                            kind="cut block")  # fmt: skip

    def _flat(self) -> None:
        """The plies on the side that has no curb, to the edge of the gap."""
        right = self.image((self.inner, 0))[0]
        stack = Stack(self.sheet, Ground([(right, self.side.roof), (RIGHT, self.side.roof)]))
        for material in ("base", "cap"):
            stack.lay(None, material, 0, RIGHT - right)

    def _other(self) -> Point:
        """Where loop and cover come down on the right side."""
        if self.both:
            return self.image((self.inner, self.floor))
        return self.image((self.inner, self.side.roof - 2 * PLY - GAP))

    def _loop(self, *, tight: bool) -> None:
        """The flexible sheet from side to side, and the foam in it."""
        canvas, start, end = self.sheet.canvas, (self.inner, self.floor - 2), self._other()
        deep = 2.0 * self.side.scale
        low = start[1] + deep
        width = end[0] - start[0]
        with self.sheet.part("loop", (self.center - 30, low - 14, 26, LEAST)):
            first = f"M{number(start[0] - 11)} {number(start[1])}L{number(start[0])} {number(start[1])}"
            last = f"{number(end[0])} {number(end[1] - 2)}L{number(end[0] + 11)} {number(end[1] - 2)}"
            if tight:
                canvas.curve(f"{first}L{last}", line=METAL, kind="line loop")
            else:
                sag = start[1] + deep * 1.34, max(end[1], start[1]) + deep * 1.34
                curve = f"C{number(start[0])} {number(sag[0])} {number(end[0])} {number(sag[1])} {last}"
                canvas.curve(first + curve, line=METAL, kind="line loop")
        radius = min(width * 0.3, 0.75 * self.side.scale)
        middle = (self.center, start[1] + (deep * 0.98 - radius if not tight else radius + 4))
        with self.sheet.part("foam", (self.center - 2, middle[1] - 14, 26, LEAST)):
            if "foam" not in self.omit:
                canvas.circle(middle, radius, fill=self.sheet.fill("foam"), line=LINE, kind="cut foam")
        self.foam = middle

    foam: Point = (0.0, 0.0)

    @property
    def leg(self) -> float:
        """The left leg of the cover."""
        return self.side.face - self.out - 8 - self.side.lean(self.lower)

    @property
    def lower(self) -> float:
        """The lower edge of the cover."""
        return self.side.top + float(self.cover) * self.side.scale

    def _cover(self) -> None:
        sheet, x, top = self.sheet, self.leg, self.floor - 8
        right = self.image((x, 0))[0]
        with sheet.part("cover", (self.center - 16, top - 18, 32, LEAST)):
            if "cover" not in self.omit:
                left = [(x - 4, self.lower + 3), (x, self.lower - 3), (x, top), (self.center, top - 5)]
                ends = [self.image(point) for point in reversed(left[:3])]
                if not self.both:
                    x2, y2 = self._other()
                    ends = [(x2 + 10, y2 - 6), (x2 + 10 + float(self.cover) * self.side.scale, y2 - 6)]
                sheet.canvas.path([*left, *ends], line=METAL, kind="line cover")
        y = self.side.top + 1.2 * self.side.scale
        for leg in (x, right):
            with sheet.part("cover_edge", (leg - 12, max(self.lower - 12, y + 13), LEAST, LEAST)):
                pass
        with sheet.part("fastener", (x - 10, y - 12, LEAST, LEAST)):
            if "cover" not in self.omit:
                self.side.nail((x - 2, y), (self.side.face + 1.1 * self.side.scale, y))
        with sheet.part("free_side", (right - 14, y - 12, LEAST, LEAST)):
            if self.fast and "cover" not in self.omit:
                if self.both:
                    self.side.nail((right + 2, y), self.image((self.side.face + 1.1 * self.side.scale, y)))
                else:
                    x2, y2 = self._other()
                    self.side.nail((x2 + 28, y2 - 8), (x2 + 28, self.side.roof + 8))

    def _dimensions(self) -> None:
        """Dimension the cover down the curb's side, and the gap."""
        sheet, side = self.sheet, self.side
        right = self.image((self.inner, 0))[0]
        y = side.deck_bottom + 14
        # Beside its arrows, not under them: there the laps have their words.
        sheet.across(self.inner, right, y, "", tops=(side.deck_bottom, side.deck_bottom))
        words = f"{sheet.label('gap_width')} {sheet.dimension('gap_width', self.gap)}"
        sheet.canvas.text((right + 18, y + 5), words, kind="dim", clear=True)
        if "cover" in self.omit:
            return
        text, caption = sheet.dimension("cover_lap", self.cover), sheet.label("cover_lap")
        if self.both:
            x = self.image((self.leg - 16, 0))[0]
            sheet.upward(side.top, self.lower, x, text, caption=caption, tops=(x, x - 10), room=RIGHT - x - 8)
        else:
            x, y = self._other()
            sheet.across(x + 10, x + 10 + float(self.cover) * side.scale, y - 26, "", tops=(y - 10, y - 10))
            lines = [*wrap(caption, 112), text]
            for index, line in enumerate(lines):
                sheet.canvas.text((RIGHT, y - 34 - LEADING * (len(lines) - 1 - index)), line, anchor="end", kind="dim")


def _words(joint: _Joint, *, blocked: bool) -> None:
    """Number everything in the order in which it is built."""
    sheet, side = joint.sheet, joint.side
    row, under = side.finished - 2 * (PLY + GAP) - 18, side.deck_bottom + 78
    say, lower = sheet.say, side.cant_top
    sheet.callout((RIGHT - 20, side.deck_top + 4), (RIGHT - 14, under), say("deck"))
    sheet.callout((joint.inner - 5, side.roof - 6), (joint.center - 2, under),
                  say("expansion.curbs" if joint.both else "expansion.curb"))  # fmt: skip
    sheet.callout((side.face - 7, side.roof - 8), (joint.center - 25, under), say("cant"))
    if blocked:
        sheet.callout((joint.center, (side.top + side.deck_bottom) / 2 + 26), (joint.center + 22, under),
                      say("expansion.block"))  # fmt: skip
    sheet.callout(side.on_ply("base", 50), (LEFT + 50, row), say("base_sheet"))
    high = side.ground.at(lower)[1]
    sheet.callout(side.on_ply("base_flashing", side.up(high - 9)), (LEFT + 64, ROW), say("base_flashing"))
    sheet.callout(side.on_ply("cap", 72), (LEFT + 74, row), say("cap_sheet"))
    sheet.callout(side.on_ply("cap_flashing", side.up(high - 18)), (LEFT + 88, ROW), say("cap_flashing"))
    if "foam" not in joint.omit:
        sheet.callout(joint.foam, (joint.center + 30, ROW), say("expansion.foam"))
    sheet.callout((joint.inner - 6, joint.floor - 2), (joint.center - 46, ROW), say("expansion.loop"))
    if "cover" not in joint.omit:
        sheet.callout((joint.center - 6, joint.floor - 12), (joint.center - 6, ROW - 18), say("expansion.cover"))
        key = "expansion.fasteners_both" if joint.fast else "expansion.fasteners"
        y = side.top + 1.2 * side.scale
        sheet.callout((joint.leg - 2, y), (LEFT + 40, ROW), say(key))
    sheet.bottom = max(side.low, under + 14)
