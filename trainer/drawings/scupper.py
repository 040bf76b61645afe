"""A scupper through a wall: in section with its box between the plies, and from the roof with the overflow."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from typing import Annotated

from trainer.drawings.canvas import LEADING, Point
from trainer.drawings.checks import positive
from trainer.drawings.derive import worked_out
from trainer.drawings.parts import LEAST
from trainer.drawings.registry import FoundAs, SomeOf, drawing
from trainer.drawings.scupper_front import Front
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.drawings.stack import PLY, Ground, Laid, Stack, middle
from trainer.rules.dimensions import LENGTH, Length

PARTS = ("deck", "base", "bed", "box", "flange", "strip", "cap", "wall_flange", "drip", "opening", "overflow")
MAY_LACK = ("bed", "strip", "drip", "overflow")
METAL, BED = 3.2, 2.6
# How much roof is seen before the stripping ply, and wall over the upper flange, inches.
FIELD, OVER = 3.0, 1.5
STRIP = Fraction(2)

ScupperFlange = Annotated[Fraction, LENGTH, FoundAs("scupper.scupper_flange")]
OverflowHeight = Annotated[Fraction, LENGTH, FoundAs("scupper.overflow_height")]
ScupperWidth = Annotated[Fraction, LENGTH, FoundAs("scupper.scupper_width")]
ScupperHeight = Annotated[Fraction, LENGTH, FoundAs("scupper.scupper_height")]


@drawing("scupper_depth", parts=PARTS)
def scupper(
    sheet: Sheet,
    *,
    scupper_flange: ScupperFlange,
    overflow_height: OverflowHeight,
    scupper_width: ScupperWidth = Fraction(8),
    scupper_height: ScupperHeight = Fraction(4),
    wall_thickness: Length = Fraction(8),
    scupper_drip: Length = Fraction(1),
    omit: Annotated[tuple[str, ...], SomeOf(MAY_LACK)] = (),
    reversed: Annotated[tuple[str, ...], SomeOf(("strip", "cap"))] = (),  # noqa: A002  the trade's word
) -> None:
    """A scupper: box bedded on the base sheet, stripping ply over its flange, then the cap sheet; overflow beside.

    `overflow_height` counts from the low point of the roof, the bottom of the main opening. `reversed` = strip: the
    stripping ply under the flange; = cap: the flange on the cap sheet.
    """
    positive(sheet, scupper_flange=scupper_flange, overflow_height=overflow_height, scupper_width=scupper_width,
             scupper_height=scupper_height, wall_thickness=wall_thickness, scupper_drip=scupper_drip)  # fmt: skip
    for name, value in (("overflow_height", overflow_height), ("scupper_height", scupper_height),
                        ("scupper_flange", scupper_flange), ("scupper_drip", scupper_drip)):  # fmt: skip
        sheet.need(value <= 12, name, value, "it must be at most 12 in", "check the unit")
    sheet.need(wall_thickness <= 24, "wall_thickness", wall_thickness, "it must be at most 24 in", "check the unit")
    sheet.exaggerate()
    sheet.describe("alt.scupper")
    drawn = Scupper(sheet, scupper_flange, overflow_height, scupper_width, scupper_height, wall_thickness,
                     scupper_drip, frozenset(omit), frozenset(reversed))  # fmt: skip
    drawn.section()
    drawn.dimensions()
    drawn.words()
    Front(drawn).draw()


@dataclass
class Scupper:
    """The section under way: the roof to the left, the wall with its opening, outside to the right."""

    sheet: Sheet
    flange: Fraction
    overflow: Fraction
    width: Fraction
    height: Fraction
    thickness: Fraction
    drip: Fraction
    omit: frozenset[str]
    reverse: frozenset[str]
    laid: dict[str, Laid] = field(default_factory=dict)
    low: float = 0.0
    end: Point = (RIGHT, 0.0)

    @cached_property
    def scale(self) -> float:
        """Drawing units an inch."""
        wide = float(self.flange + STRIP + self.thickness + self.drip) + FIELD + 0.6
        return min((RIGHT - LEFT - 22) / wide, 170 / (float(self.height + self.flange) + OVER))

    @property
    def face(self) -> float:
        """The roof side of the wall."""
        return RIGHT - 22 - (float(self.thickness + self.drip) + 0.6) * self.scale

    @property
    def outer(self) -> float:
        """The outside of the wall."""
        return self.face + float(self.thickness) * self.scale

    @property
    def roof(self) -> float:
        """What the base sheet lies on: the deck, and the bottom of the opening."""
        over = max((float(self.flange) + OVER) * self.scale, 54)
        return self.head + float(self.height) * self.scale + over

    head = 44.0

    @property
    def lintel(self) -> float:
        """The top of the opening: the box takes its height over the base sheet."""
        return self.roof - float(self.height) * self.scale - PLY

    @cached_property
    def floor(self) -> Stack:
        """What is laid on the roof and through the opening."""
        return Stack(self.sheet, Ground([(LEFT, self.roof), (self.outer + 60, self.roof)]))

    @cached_property
    def upright(self) -> Stack:
        """What is laid on the wall over the opening."""
        return Stack(self.sheet, Ground([(self.face, self.lintel), (self.face, self.head - 6)]))

    def order(self) -> list[str]:
        """The layers on the roof, in their order."""
        order = ["base", "bed", "box", "strip", "cap"]
        if "strip" in self.reverse:
            order = ["base", "strip", "bed", "box", "cap"]
        if "cap" in self.reverse:
            order = [name for name in order if name != "cap"]
            order.insert(order.index("bed"), "cap")
        return order

    def section(self) -> None:
        """Draw deck and wall, then the layers in their order, then the box over the opening."""
        self.sheet.view("view.section", 22, self.scale)
        self._wall()
        inner = self.face - float(self.flange) * self.scale - LEFT
        wall = self.face - LEFT
        ends = {
            "base": ("base", 0.0, self.outer - LEFT - 1, PLY),
            "bed": ("sealant", inner + 2, self.outer - LEFT - 8, BED),
            "box": ("metal", inner, self.outer - LEFT + float(self.drip) * self.scale, METAL),
            "strip": ("strip", max(inner - float(STRIP) * self.scale, 0.0), wall - 2, PLY),
            "cap": ("cap", 0.0, wall - 2, PLY),
        }
        first = max(inner - float(STRIP) * self.scale, 2 * LEAST)
        high = self.roof - 26
        boxes = {
            "base": (LEFT, high, first / 2, LEAST),
            "cap": (LEFT + first / 2, high, first / 2, LEAST),
            "strip": (LEFT + first, high, max(LEFT + inner - LEFT - first, LEAST), LEAST),
            "bed": (self.face + 4, self.roof - 14, LEAST, LEAST),
            "box": (self.face + 34, self.roof - 20, max(float(self.thickness) * self.scale - 44, LEAST), LEAST),
        }
        for name in self.order():
            material, start, end, thick = ends[name]
            with self.sheet.part(name, boxes[name]):
                if name not in self.omit:
                    line = 0.6 if thick < PLY else 1.2
                    self.laid[name] = self.floor.lay(None, material, start, end, thick, line=line)
        self._drip()
        self._upper()

    def _wall(self) -> None:
        canvas, fill = self.sheet.canvas, self.sheet.fill
        thick = max(0.75 * self.scale, 9)
        self.low = self.roof + thick + 8
        with self.sheet.part("deck", (LEFT, self.roof, 80, LEAST)):
            canvas.rect(LEFT, self.roof, self.face - LEFT, thick, fill=fill("deck"), kind="cut deck")
        wide = self.outer - self.face
        canvas.rect(
            self.face, self.head - 6, wide, self.lintel - self.head + 6, fill=fill("masonry"), kind="cut masonry"
        )
        canvas.rect(self.face, self.roof, wide, self.low - self.roof + 22, fill=fill("masonry"), kind="cut masonry")
        self.sheet.break_up(self.head - 4, self.face, self.outer)
        self.sheet.break_up(self.low + 20, self.face, self.outer)

    def _drip(self) -> None:
        """Turn the end of the box down, outside."""
        level = (self.laid["box"].low[-1][1] + self.laid["box"].high[-1][1]) / 2
        x, y = self.outer + float(self.drip) * self.scale - METAL / 2, self.roof - level
        self.end = (x, y + 12)
        with self.sheet.part("drip", (x - LEAST / 2, y - 4, LEAST, LEAST + 4)):
            if "drip" not in self.omit:
                self.sheet.canvas.path([(x, y), (x, y + 15), (x + 5, y + 21)], line=METAL, kind="line metal")

    def _upper(self) -> None:
        """Draw the top of the box with its flange on the wall, between the two plies of the wall's flashing."""
        canvas, stack = self.sheet.canvas, self.upright
        reach, full = float(self.flange) * self.scale, stack.ground.length
        self.laid["first"] = stack.lay(None, "strip", 0.0, full)
        box = (self.face - 26, self.lintel - reach, LEAST, max(reach - 8, LEAST))
        with self.sheet.part("wall_flange", box):
            stack.lay(None, "metal", 0.0, reach, METAL, line=0)
        self.laid["second"] = stack.lay(None, "cap", 0.0, full)
        end = self.outer + float(self.drip) * self.scale
        canvas.path([(self.face - PLY - 4, self.lintel + METAL / 2), (end, self.lintel + METAL / 2)], line=METAL,
                    kind="line metal")  # fmt: skip

    def dimensions(self) -> None:
        """Dimension the flange, and the length of the box where it is asked for."""
        sheet, row = self.sheet, self.low + 34
        inner, under = self.face - float(self.flange) * self.scale, self.roof - PLY
        with sheet.part("flange", (inner, row - 12, self.face - inner, LEAST)):
            sheet.across(inner, self.face, row, sheet.dimension("scupper_flange", self.flange),
                         caption=sheet.say("scupper.flange"), tops=(under, self.low + 22), below=True)  # fmt: skip
        self.low = row + 2 * LEADING
        if sheet.shows("scupper_depth"):
            length = worked_out(sheet, "scupper_depth", wall_thickness=self.thickness, scupper_flange=self.flange,
                                scupper_drip=self.drip)  # fmt: skip
            row += 44
            sheet.across(inner, self.outer + float(self.drip) * self.scale, row,
                         sheet.dimension("scupper_depth", length), caption=sheet.label("scupper_depth"),
                         tops=(row - 40, row - 40), below=True)  # fmt: skip
            self.low = row + 2 * LEADING
        sheet.dimension("wall_thickness", self.thickness)
        if self.face - 44 > LEFT + 76:
            sheet.water((LEFT + 6, self.roof - 74), (LEFT + 54, self.roof - 74))

    def words(self) -> None:
        """Number the layers in the order in which they are laid."""
        sheet, ground = self.sheet, self.floor.ground
        row, inner = self.roof - 42, self.face - LEFT - float(self.flange) * self.scale
        places = {"cap": 12.0, "base": 36.0, "strip": max(inner - 10, 84.0), "bed": max(inner + 18, 108.0)}
        spots: dict[str, tuple[Point, Point]] = {"deck": ((LEFT + 60, self.roof + 5), (LEFT + 60, row))}
        for name, place in places.items():
            if name in self.laid:
                spots[name] = (middle(self.laid[name], ground, place), (LEFT + place, row))
        across = (self.face + self.outer) / 2
        spots["box"] = (middle(self.laid["box"], ground, across - LEFT), (across, self.roof - 38))
        spots["drip"] = (self.end, (RIGHT - 12, self.end[1] + 20))
        upper = self.upright.ground
        for name, index in (("first", 0), ("second", 1)):
            high = upper.length - 14 - 24 * index
            spot = middle(self.laid[name], upper, high)
            spots[name] = (spot, (self.face - 44, spot[1]))
        keys = {name: f"scupper.{name}_under" if name in self.reverse else f"scupper.{name}" for name in spots}
        keys["deck"] = "deck"
        order = self.order()
        order.insert(order.index("box"), "first")
        order.insert(order.index("box") + 1, "drip")
        for name in ("deck", *order, "second"):
            if name not in self.omit:
                sheet.callout(*spots[name], sheet.say(keys[name]))
        sheet.bottom = self.low
