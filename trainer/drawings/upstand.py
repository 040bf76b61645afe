"""Roof, cant and an upright face in section, with the plies that turn up it: what walls, curbs and sills share."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property

from trainer.drawings.canvas import LEADING, THICK, Point, wrap
from trainer.drawings.parts import LEAST, Area
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.drawings.stack import GAP, PLY, Ground, Laid, Stack, middle

# What is drawn under the roof, inches: the deck, and how much roof is to be seen before the flashing begins.
DECK, FIELD = 0.75, 3.2
PRIMER = 3.0


@dataclass
class Upstand:
    """Where roof and upright face fall on the sheet: the roof to the left, the wall or curb to the right.

    Heights count from the finished roof: the upper side of the field's cap sheet as it is drawn.
    """

    sheet: Sheet
    height: Fraction
    cant: Fraction
    roof_lap: Fraction
    ply_step: Fraction
    insulation: Fraction
    body: float
    top: float
    tallest: float = 190.0
    # Where the line goes on from the top of the upright face: right and up from it, drawing units.
    beyond: tuple[Point, ...] = ()
    laid: dict[str, Laid] = field(default_factory=dict)
    low: float = 0.0

    @cached_property
    def scale(self) -> float:
        """Drawing units an inch: flashing and some roof before it fill the sheet, and the height fits a screen."""
        wide = float(self.cant + self.roof_lap + self.ply_step) + FIELD
        return min((self.face - LEFT) / wide, self.tallest / float(self.height))

    @property
    def face(self) -> float:
        """The roof side of the wall or curb."""
        return RIGHT - self.body

    @property
    def finished(self) -> float:
        """The finished roof."""
        return self.top + float(self.height) * self.scale

    @property
    def roof(self) -> float:
        """What the base sheet lies on: deck or insulation."""
        return self.finished + 2 * PLY + GAP

    @property
    def deck_top(self) -> float:
        """The upper side of the roof deck."""
        return self.roof + float(self.insulation) * self.scale

    @property
    def deck_bottom(self) -> float:
        """The under side of the roof deck."""
        return self.deck_top + max(DECK * self.scale, 9)

    @property
    def foot(self) -> float:
        """The foot of the cant, or the angle where there is none."""
        return self.face - float(self.cant) * self.scale

    @cached_property
    def ground(self) -> Ground:
        """The line that the plies lie on, to well over the flashing or over the top of the face."""
        bends: list[Point] = [(LEFT, self.roof), (self.foot, self.roof)]
        if self.cant:
            bends.append((self.face, self.roof - float(self.cant) * self.scale))
        if self.beyond:
            return Ground([*bends, (self.face, self.top), *((self.face + x, self.top - y) for x, y in self.beyond)])
        return Ground([*bends, (self.face, self.top - 60)])

    @cached_property
    def stack(self) -> Stack:
        """The plies laid so far."""
        return Stack(self.sheet, self.ground)

    def before(self, inches: Fraction) -> float:
        """A place on the roof, so far before the foot of the cant."""
        return max(self.ground.turns[1] - float(inches) * self.scale, 0.0)

    def up(self, y: float) -> float:
        """A place on the upright face, by its height on the sheet."""
        return self.cant_top + self.ground.at(self.cant_top)[1] - y

    @property
    def cant_top(self) -> float:
        """The place where the plies reach the upright face."""
        return self.ground.turns[2 if self.cant else 1]

    @property
    def flashing_top(self) -> float:
        """The place of the flashing's top edge."""
        return self.up(self.top)

    def lay(self, part: str, material: str, ends: tuple[float, float], box: Area, thick: float = PLY) -> None:
        """Lay one ply and remember it by its part."""
        line = 0.0 if material == "primer" else 1.2
        self.laid[part] = self.stack.lay(part, material, *ends, thick, box=box, line=line)

    def plies(
        self,
        omit: frozenset[str],
        base_above_cant: Fraction,
        *,
        field_last: bool = False,
        past: tuple[float, float] = (0.0, 0.0),
    ) -> None:
        """Lay the field's plies and the flashing's, each on what was laid before.

        Base sheet, its flashing, cap sheet, its flashing; with `field_last` the field's cap sheet comes last.
        `past` is how far the first and the second flashing ply go past the top of the face.
        """
        top = self.flashing_top
        base_end = min(self.cant_top + float(base_above_cant) * self.scale, top - 3)
        cap_end = self.cant_top if self.cant else self.cant_top - 1
        order: dict[str, tuple[str, float, float]] = {
            "base": ("base", 0, base_end),
            "base_flashing": ("strip", self.before(self.roof_lap), top + past[0]),
            "cap": ("cap", 0, cap_end),
            "cap_flashing": ("cap", self.before(self.roof_lap + self.ply_step), top + past[1]),
        }
        names = ["base", "base_flashing", "cap", "cap_flashing"]
        if field_last:
            names = ["base", "base_flashing", "cap_flashing", "cap"]
            order["cap"] = ("cap", 0, self.before(self.roof_lap / 3))
        boxes = self.ply_boxes()
        for name in names:
            if name not in omit:
                material, *ends = order[name]
                self.lay(name, material, (ends[0], ends[1]), boxes[name])
                continue
            with self.sheet.part(name, boxes[name]):
                pass

    def ply_boxes(self) -> dict[str, Area]:
        """Where a finger points at each ply: each has its own stretch of roof."""
        flat = LEFT + self.before(self.roof_lap + self.ply_step)
        lap, half = LEFT + self.before(self.roof_lap), (flat - LEFT) / 2
        high = self.roof - LEAST
        return {
            "base": (LEFT, high, half, LEAST),
            "cap": (LEFT + half, high, half, LEAST),
            "cap_flashing": (flat, high, max(lap - flat, LEAST), LEAST),
            "base_flashing": (max(lap, flat + LEAST), high, self.foot - max(lap, flat + LEAST), LEAST),
        }

    def wood(self) -> None:
        """Draw the roof deck, with the insulation on it."""
        canvas, fill = self.sheet.canvas, self.sheet.fill
        width = self.face - LEFT
        if self.insulation:
            high = self.deck_top - self.roof
            canvas.rect(LEFT, self.roof, width, high, fill=fill("insulation"), kind="cut insulation")
        high = self.deck_bottom - self.deck_top
        with self.sheet.part("deck", (LEFT, self.deck_top, width * 0.5, max(high, LEAST))):
            canvas.rect(LEFT, self.deck_top, width, high, fill=fill("deck"), kind="cut deck")

    def strip(self) -> None:
        """Draw the cant strip in the angle, or keep its place."""
        side = max(float(self.cant) * self.scale, LEAST)
        box = (self.face - side * 0.6, self.roof - side * 0.55, side * 0.6, side * 0.55)
        if not self.cant:
            box = (self.face - 8, self.roof - LEAST, LEAST, LEAST)
        with self.sheet.part("cant", box):
            if self.cant:
                corner = (self.face, self.roof)
                outline = [(self.foot, self.roof), (self.face, self.roof - side), corner]
                self.sheet.canvas.path(outline, closed=True, fill=self.sheet.fill("cant"), kind="cut cant")

    def on_ply(self, part: str, place: float) -> Point:
        """The middle of a ply at a place."""
        return middle(self.laid[part], self.ground, place)

    def lean(self, lower: float) -> float:
        """How much further a metal leg with its lower edge there must stand out to clear the plies over the cant."""
        high = self.stack.height(self.flashing_top - 1)
        return max(0.0, lower + 8 - (self.ground.at(self.cant_top)[1] - high * 0.42))

    def nail(self, head: Point, tip: Point, spread: float = 4.0) -> None:
        """Draw a fastener with a flat head."""
        length = math.hypot(tip[0] - head[0], tip[1] - head[1])
        across = ((tip[1] - head[1]) / length * spread, -(tip[0] - head[0]) / length * spread)
        ends = [(head[0] - across[0], head[1] - across[1]), (head[0] + across[0], head[1] + across[1])]
        self.sheet.canvas.line(ends[0], ends[1], width=THICK, kind="nail")
        self.sheet.canvas.line(head, tip, width=1.6, kind="nail")

    def dimensions(self, until: float | None = None) -> None:
        """Dimension the flashing's height beside it, with words up to `until`, and its laps below the deck."""
        sheet, x = self.sheet, LEFT + 12
        edge = self.face - self.stack.height(self.flashing_top) - 8
        with sheet.part("height", (x - 12, self.top, LEAST, self.finished - self.top)):
            sheet.upward(self.top, self.finished, x, "", tops=(edge, x))
            text = sheet.dimension("flashing_height", self.height)
            room = self.finished - self.top
            wide = (self.face - 60 if until is None else until) - x - 6
            words = wrap(sheet.label("flashing_height"), min(88 if room > 115 else 150, wide)) if room > 78 else []
            if len(words) * LEADING > room - 70:
                words = []
            lines = [*words, text]
            for index, line in enumerate(lines):
                sheet.canvas.text((x + 6, self.top + 17 + index * LEADING), line, kind="dim", clear=True)
        foot = LEFT + self.before(Fraction(0))
        lap, flat = LEFT + self.before(self.roof_lap), LEFT + self.before(self.roof_lap + self.ply_step)
        under, row = self.roof - PLY, self.deck_bottom + 16
        with sheet.part("roof_lap", (lap, row - 12, foot - lap, LEAST)):
            sheet.across(lap, foot, row, sheet.dimension("roof_lap", self.roof_lap),
                         caption=sheet.label("roof_lap"), tops=(under, under), below=True)  # fmt: skip
        self.low = row + 2 * LEADING
        if self.ply_step:
            row += 44
            sheet.across(flat, lap, row, sheet.dimension("ply_step", self.ply_step),
                         caption=sheet.label("ply_step"), tops=(under, under), below=True)  # fmt: skip
            self.low = row + 2 * LEADING
