"""The flashing of a wall in section: both plies turned up over the cant, held by a bar, under a counterflashing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import Canvas, Point
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.parts import LEAST
from trainer.drawings.registry import FoundAs, SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.drawings.stack import GAP, PLY, Laid
from trainer.drawings.upstand import PRIMER, Upstand
from trainer.rules.dimensions import LENGTH, Length

PARTS = (
    "deck", "cant", "base", "primer", "base_flashing", "cap", "cap_flashing", "roof_lap", "height", "bar", "sealant",
    "counterflashing",
)  # fmt: skip
MAY_LACK = ("cant", "primer", "base_flashing", "cap_flashing", "bar", "sealant", "counterflashing")
METAL = 3.0
# The groove in the wall stands so far over the flashing's top edge, inches.
OVER = 1.4

WallHeight = Annotated[Fraction, LENGTH, FoundAs("wall.flashing_height")]
Cant = Annotated[Fraction, LENGTH, FoundAs("wall.cant_face")]
RoofLap = Annotated[Fraction, LENGTH, FoundAs("wall.roof_lap")]
PlyStep = Annotated[Fraction, LENGTH, FoundAs("wall.ply_step")]
BaseAbove = Annotated[Fraction, LENGTH, FoundAs("wall.base_above_cant")]
Cover = Annotated[Fraction, LENGTH, FoundAs("wall.counterflashing_cover")]
BarSpacing = Annotated[Fraction, LENGTH, FoundAs("wall.bar_spacing")]


@drawing(parts=PARTS)
def wall_flashing(
    sheet: Sheet,
    *,
    flashing_height: WallHeight,
    roof_lap: RoofLap,
    ply_step: PlyStep,
    cant_face: Cant = Fraction(4),
    base_above_cant: BaseAbove = Fraction(2),
    counterflashing_cover: Cover = Fraction(4),
    bar_spacing: BarSpacing | None = None,
    insulation: Length = Fraction(0),
    omit: Annotated[tuple[str, ...], SomeOf(MAY_LACK)] = (),
    reversed: Annotated[tuple[str, ...], SomeOf(("counterflashing", "roof_lap"))] = (),  # noqa: A002  the trade's word
) -> None:
    """A wall's flashing, deck to counterflashing; heights count from the finished roof.

    `reversed` = counterflashing: its lower leg goes behind the flashing; = roof_lap: the field's cap sheet lies on the
    flashing's lower edge.
    """
    positive(sheet, flashing_height=flashing_height, roof_lap=roof_lap, cant_face=cant_face,
             counterflashing_cover=counterflashing_cover, bar_spacing=bar_spacing)  # fmt: skip
    not_negative(sheet, ply_step=ply_step, base_above_cant=base_above_cant, insulation=insulation)
    cant = Fraction(0) if "cant" in omit else cant_face
    sheet.need(flashing_height > cant, "flashing_height", flashing_height, "the flashing must pass the cant",
               "give more than the cant's height")  # fmt: skip
    sheet.need(counterflashing_cover < flashing_height, "counterflashing_cover", counterflashing_cover,
               "the counterflashing must end over the roof", "give less than the flashing's height")  # fmt: skip
    sheet.need(insulation <= 24, "insulation", insulation, "it must be at most 24 in", "check the unit")
    lacks = frozenset(omit)
    wall = Upstand(sheet, flashing_height, cant, roof_lap, ply_step, insulation, body=72, top=62)
    sheet.scale(wall.scale)
    sheet.exaggerate()
    sheet.describe("alt.wall_flashing")
    _Wall(wall, lacks, frozenset(reversed), counterflashing_cover, base_above_cant, bar_spacing).draw()


@dataclass
class _Wall:
    """A wall flashing under way: what stands on the roof side of the wall, and the words beside it."""

    wall: Upstand
    omit: frozenset[str]
    reverse: frozenset[str]
    cover: Fraction
    base_above: Fraction
    bar_spacing: Fraction | None
    leg: float = RIGHT

    @property
    def sheet(self) -> Sheet:
        """The sheet that it is drawn on."""
        return self.wall.sheet

    @property
    def canvas(self) -> Canvas:
        """The canvas of that sheet."""
        return self.wall.sheet.canvas

    @property
    def groove(self) -> float:
        """The groove in the wall that holds the counterflashing."""
        return self.wall.top - OVER * self.wall.scale

    @property
    def lower(self) -> float:
        """The lower edge of the counterflashing."""
        return self.wall.top + float(self.cover) * self.wall.scale

    @property
    def behind(self) -> bool:
        """Whether the counterflashing's lower leg goes behind the flashing."""
        return "counterflashing" in self.reverse and "counterflashing" not in self.omit

    def draw(self) -> None:
        """Draw everything from the deck up, then dimensions and words."""
        wall = self.wall
        top = self.groove - 24
        self.canvas.rect(wall.face, top, wall.body, wall.deck_bottom - top, fill=self.sheet.fill("masonry"),
                         kind="cut masonry")  # fmt: skip
        self.sheet.break_up(top, wall.face, RIGHT)
        wall.wood()
        wall.strip()
        self._primer()
        if self.behind:
            self._counterflashing()
        wall.plies(self.omit, self.base_above, field_last="roof_lap" in self.reverse)
        self._bar()
        if not self.behind:
            self._counterflashing()
        self._sealant()
        nearest = min(self.leg, wall.face - self.out - 6)
        wall.dimensions(until=nearest - (100 if "counterflashing" not in self.omit else 10))
        if "counterflashing" not in self.omit:
            self._cover()
        _Words(self).write()

    def _primer(self) -> None:
        wall = self.wall
        start = wall.ground.at(wall.cant_top)[1]
        box = (wall.face + 2, max(start - (44 if wall.cant else 70), wall.top + LEAST), LEAST, 40)
        if "primer" in self.omit:
            with self.sheet.part("primer", box):
                return
        wall.lay("primer", "primer", (wall.cant_top, wall.flashing_top), box, PRIMER)

    @property
    def out(self) -> float:
        """How far the flashing stands out from the wall at its top."""
        return self.wall.stack.height(self.wall.flashing_top - 1)

    def _bar(self) -> None:
        wall = self.wall
        x, high = wall.face - self.out - 5, 1.0 * wall.scale
        with self.sheet.part("bar", (x - 14, wall.top - 2, LEAST, LEAST)):
            if "bar" not in self.omit:
                self.canvas.rect(x, wall.top, 4, high, fill="currentColor", line=0, kind="cut bar")
                wall.nail((x - 1.5, wall.top + high / 2), (wall.face + 1.5 * wall.scale, wall.top + high / 2))

    def _counterflashing(self) -> None:
        wall, face = self.wall, self.wall.face
        under = wall.stack.height(wall.flashing_top - 1)
        out = under + (GAP + METAL if self.behind else 12 + wall.lean(self.lower))
        self.leg = face - out + METAL / 2
        low = max(self.lower - 30, wall.top + LEAST)
        with self.sheet.part("counterflashing", (face - out - 16, low, LEAST, max(self.lower + 6 - low, LEAST))):
            if "counterflashing" in self.omit:
                return
            x = self.leg
            kick = (x, self.lower) if self.behind else (x - 5, self.lower + 3)
            fall = self.groove + 6
            bends = [(face + 16, self.groove + 4), (face + 12, self.groove), (face, self.groove), (x, fall),
                     (x, self.lower - 4), kick]  # fmt: skip
            self.canvas.path(bends, line=METAL, kind="line metal")
        if self.behind:
            level = under + GAP
            ends = (wall.up(self.lower), wall.up(fall))
            wall.stack.laid.append(Laid(tuple((end, level) for end in ends), tuple((end, out) for end in ends)))

    def _sealant(self) -> None:
        """A bead where the groove is closed, and one along the flashing's top edge."""
        wall, face = self.wall, self.wall.face
        with self.sheet.part("sealant", (face, self.groove - 20, LEAST, LEAST)):
            if "sealant" in self.omit:
                return
            if "counterflashing" not in self.omit:
                bead = [(face - 4, self.groove - 2), (face + 8, self.groove - 2), (face + 8, self.groove - 8)]
                self.canvas.path(bead, closed=True, fill="currentColor", line=0, kind="cut sealant")
            edge = wall.top - 1
            bead = [(face, edge), (face - self.out - 3, edge), (face, edge - 8)]
            self.canvas.path(bead, closed=True, fill="currentColor", line=0, kind="cut sealant")

    def _cover(self) -> None:
        sheet, wall = self.sheet, self.wall
        nearest = min(self.leg, wall.face - self.out - 6)
        x, edge = nearest - 26, nearest - 10
        tall = wall.finished - wall.top > 115
        cover = sheet.dimension("counterflashing_cover", self.cover)
        sheet.upward(wall.top, self.lower, x, cover if tall else "",
                     caption=sheet.label("counterflashing_cover") if tall else "",
                     tops=(x, edge), side="left", room=70)  # fmt: skip


class _Words:
    """The callouts of a wall flashing: in the order of laying, each on its own side of the wall."""

    def __init__(self, drawn: _Wall) -> None:
        self.drawn, self.wall, self.sheet = drawn, drawn.wall, drawn.sheet
        self.row = drawn.wall.finished - 2 * (PLY + GAP) - 20
        # Beside the words of a low flashing's height, not under them.
        self.left = LEFT + 37 if drawn.wall.finished - drawn.wall.top > 130 else LEFT + 126
        names = ("sealant", "bar", "counterflashing", "cap_flashing", "base_flashing", "primer", "cant")
        shown = [name for name in names if name not in drawn.omit]
        first = drawn.groove - 4
        step = max(22.0, (self.wall.roof - 18 - first) / max(len(shown) - 1, 1))
        self.column = {name: (RIGHT - 14, first + step * index) for index, name in enumerate(shown)}

    def write(self) -> None:
        """Write every callout from the deck up."""
        sheet, wall, drawn = self.sheet, self.wall, self.drawn
        self._above("deck", (self.left + 69, wall.deck_bottom - 5), sheet.say("deck"))
        if wall.insulation:
            text = sheet.say("insulation_deep", depth=sheet.dimension("insulation", wall.insulation))
            self._above("insulation", (self.left + 46, wall.roof + (wall.deck_top - wall.roof) / 2), text)
        self._beside("cant", (wall.face - 6, wall.roof - 10),
                     lambda: sheet.say("cant_strip", side=sheet.dimension("cant_face", wall.cant)))  # fmt: skip
        base = sheet.say("base_up", above=sheet.dimension("base_above_cant", drawn.base_above))
        self._above("base", wall.on_ply("base", self.left + 23 - LEFT), base)
        self._beside("primer", None, lambda: sheet.say("primer_on_wall"))
        if drawn.behind:
            self._counterflashing()
        self._beside("base_flashing", None, lambda: sheet.say("base_flashing"))
        field_last = "roof_lap" in drawn.reverse
        names = ["cap_flashing", "cap"] if field_last else ["cap", "cap_flashing"]
        for name in names:
            if name == "cap":
                text = sheet.say("cap_over_flashing" if field_last else "cap_to_cant" if wall.cant else "cap_to_wall")
                self._above("cap", wall.on_ply("cap", self.left - LEFT), text)
            else:
                self._beside(name, None, lambda: sheet.say("cap_flashing"))
        self._beside("bar", (wall.face - drawn.out - 3, wall.top + 6), self._bar)
        self._beside("sealant", (wall.face + 4, drawn.groove - 4), lambda: sheet.say("sealant_on_wall"))
        if not drawn.behind:
            self._counterflashing()
        sheet.bottom = wall.low + 6

    def _bar(self) -> str:
        spacing = self.drawn.bar_spacing
        if spacing is None:
            return self.sheet.say("bar")
        return self.sheet.say("bar_spaced", spacing=self.sheet.dimension("bar_spacing", spacing))

    def _counterflashing(self) -> None:
        drawn = self.drawn
        y = min(max(self.column.get("counterflashing", (0.0, 0.0))[1], drawn.groove + 10), drawn.lower - 6)
        target = (drawn.leg, y)
        key = "counterflashing_behind" if drawn.behind else "counterflashing_over"

        def text() -> str:
            return self.sheet.say(key, cover=self.sheet.dimension("counterflashing_cover", drawn.cover))

        self._beside("counterflashing", target, text)

    def _above(self, name: str, target: Point, text: str) -> None:
        self.sheet.callout(target, (target[0], self.row), text)

    def _beside(self, name: str, target: Point | None, text: Callable[[], str]) -> None:
        at = self.column.get(name)
        if at is None:
            return
        if target is None:
            high = min(max(at[1], self.wall.top + 8), self.wall.ground.at(self.wall.cant_top)[1] - 6)
            target = self.wall.on_ply(name, self.wall.up(high))
        self.sheet.callout(target, at, text())
