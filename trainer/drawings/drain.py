"""A roof drain in its sump: half of it in section, every ply under the clamping ring, and the squares in plan."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from typing import Annotated

from trainer.drawings.canvas import LEADING, THIN, Point
from trainer.drawings.checks import positive
from trainer.drawings.parts import LEAST, Area
from trainer.drawings.registry import FoundAs, OneOf, SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.drawings.stack import PLY, Ground, Laid, Stack, middle
from trainer.rules.dimensions import LENGTH, Length

PARTS = ("deck", "sump", "bowl", "bed", "base", "drain_sheet", "cap", "ring", "reach", "strainer")
MAY_LACK = ("bed", "drain_sheet", "ring", "strainer")
PLIES = ("base", "drain_sheet", "cap")
CENTER = RIGHT - 4
ROOF = 122.0
# The bowl, inches from its middle: its lip, the ring's bolts, the ring's and the flange's outer edge; its depth.
LIP, BOLT, RING, FLANGE, DEEP = 3.75, 4.15, 5.2, 6.2, 2.4
METAL, BED = 3.0, 2.6

SumpSide = Annotated[Fraction, LENGTH, FoundAs("drain.sump_side")]
SumpDepth = Annotated[Fraction, LENGTH, FoundAs("drain.sump_depth")]
DrainSheet = Annotated[Fraction, LENGTH, FoundAs("drain.drain_sheet")]
RingReach = Annotated[Fraction, LENGTH, FoundAs("drain.ring_reach")]


@drawing(parts=PARTS)
def drain_sump(
    sheet: Sheet,
    *,
    sump_side: SumpSide,
    drain_sheet: DrainSheet,
    ring_reach: RingReach,
    sump_depth: SumpDepth = Fraction(3, 2),
    insulation: Length = Fraction(3),
    sheet_of: Annotated[str, OneOf(("ply", "metal"))] = "ply",
    omit: Annotated[tuple[str, ...], SomeOf(MAY_LACK)] = (),
    stops: Annotated[tuple[str, ...], SomeOf(PLIES)] = (),
    reversed: Annotated[tuple[str, ...], SomeOf(("drain_sheet",))] = (),  # noqa: A002  the trade's word
) -> None:
    """A drain's sump, half of it in section up to the middle of the bowl, and the squares of sump and sheet in plan.

    `stops` = the plies that end before the clamping ring; `reversed` = drain_sheet: it lies on the cap sheet.
    """
    positive(sheet, sump_side=sump_side, drain_sheet=drain_sheet, ring_reach=ring_reach, sump_depth=sump_depth,
             insulation=insulation)  # fmt: skip
    for name, side in (("sump_side", sump_side), ("drain_sheet", drain_sheet)):
        sheet.need(16 <= side <= 96, name, side, "it must lie between 16 in and 8 ft", "measure the whole side")
    sheet.need(ring_reach <= 1, "ring_reach", ring_reach, "the plies end before the lip of the bowl",
               "give at most 1 in")  # fmt: skip
    sheet.need(sump_depth < insulation <= 24, "sump_depth", sump_depth, "the sump lies in the insulation",
               "give less than the insulation")  # fmt: skip
    sheet.exaggerate()
    sheet.describe("alt.drain_sump")
    drain = _Drain(sheet, sump_side, sump_depth, drain_sheet, ring_reach, insulation, sheet_of, frozenset(omit),
                   frozenset(stops), bool(reversed))  # fmt: skip
    drain.section()
    drain.dimensions()
    drain.words()
    drain.plan()


@dataclass
class _Drain:
    """A drain under way: the roof to the left, the middle of the bowl at the right edge of the section."""

    sheet: Sheet
    side: Fraction
    depth: Fraction
    square: Fraction
    reach: Fraction
    insulation: Fraction
    sheet_of: str
    omit: frozenset[str]
    stops: frozenset[str]
    on_cap: bool
    laid: dict[str, Laid] = field(default_factory=dict)

    @cached_property
    def scale(self) -> float:
        """Drawing units an inch: half the sump and a hand of roof before it."""
        return (CENTER - LEFT) / (max(float(self.side), float(self.square)) / 2 + 4)

    def x(self, inches: float) -> float:
        """A place by its distance from the middle of the bowl."""
        return CENTER - inches * self.scale

    @property
    def low(self) -> float:
        """The flange of the bowl, the bottom of the sump."""
        return ROOF + float(self.depth) * self.scale

    @property
    def deck_top(self) -> float:
        """The upper side of the roof deck."""
        return ROOF + float(self.insulation) * self.scale

    @cached_property
    def stack(self) -> Stack:
        """What is laid, from the roof down into the sump and over the bowl."""
        edge = max(float(self.side) / 2, FLANGE + 1)
        line = [(LEFT, ROOF), (self.x(edge), ROOF), (self.x(FLANGE), self.low), (self.x(LIP), self.low)]
        return Stack(self.sheet, Ground([*line, (CENTER, self.low)]))

    def along(self, inches: float) -> float:
        """A place along the line, by its distance from the middle of the bowl."""
        turns, x = self.stack.ground.turns, self.x(inches)
        for index in (0, 1, 2, 3):
            (x1, _), (x2, _) = self.stack.ground.points[index : index + 2]
            if x <= x2:
                return max(turns[index] + (x - x1) / (x2 - x1) * (turns[index + 1] - turns[index]), 0.0)
        return turns[4]

    def order(self) -> list[str]:
        """The layers in their order on this roof."""
        return ["bed", "base", "cap", "drain_sheet"] if self.on_cap else ["bed", "base", "drain_sheet", "cap"]

    def section(self) -> None:
        """Draw deck, insulation and bowl, then the layers, the ring and the strainer."""
        self.sheet.view("view.section", 22, self.scale)
        self._below()
        end = self.along(BOLT - float(self.reach))
        first = {"bed": self.along(FLANGE) + 1, "drain_sheet": self.along(float(self.square) / 2)}
        material = {"bed": "sealant", "base": "base", "cap": "cap",
                    "drain_sheet": "metal" if self.sheet_of == "metal" else "strip"}  # fmt: skip
        thick = {"bed": BED, "drain_sheet": METAL if self.sheet_of == "metal" else PLY}
        boxes = self._boxes()
        for name in self.order():
            last = self.along(FLANGE + 0.6) if name in self.stops else end
            with self.sheet.part(name, boxes[name]):
                if name not in self.omit:
                    line = 0.6 if name == "bed" else 1.2
                    ends = (first.get(name, 0.0), last)
                    self.laid[name] = self.stack.lay(None, material[name], *ends, thick.get(name, PLY), line=line)
        self._ring()
        self._strainer()
        self.sheet.canvas.line((CENTER, 40), (CENTER, self.bottom + 4), width=THIN, dash="9 3 2 3", kind="center")

    def _boxes(self) -> dict[str, Area]:
        half = (self.x(float(self.square) / 2) - LEFT) / 2
        first = max(half, LEAST)
        slope = self.stack.ground.at(self.along(float(self.square) / 4 + FLANGE / 2))
        return {
            "base": (LEFT, ROOF - 16, first, LEAST),
            "cap": (LEFT + first, ROOF - 22, max(half, LEAST), LEAST),
            "drain_sheet": (slope[0] - 34, slope[1] - 26, 60, LEAST + 4),
            "bed": (self.x(FLANGE) - 6, self.low - 8, LEAST, LEAST),
        }

    def _below(self) -> None:
        canvas, fill = self.sheet.canvas, self.sheet.fill
        lip, flange, edge = self.x(LIP), self.x(FLANGE), self.stack.ground.points[1]
        thick = max(0.75 * self.scale, 9)
        with self.sheet.part("deck", (LEFT, self.deck_top, 110, LEAST)):
            canvas.rect(LEFT, self.deck_top, lip - 16 - LEFT, thick, fill=fill("deck"), kind="cut deck")
        taper = [(LEFT, ROOF), edge, (flange, self.low), (flange, self.low + 4), (lip - 12, self.low + 4),
                 (lip - 12, self.deck_top), (LEFT, self.deck_top)]  # fmt: skip
        with self.sheet.part("sump", (LEFT + 40, self.deck_top - LEAST, 60, LEAST)):
            canvas.path(taper, closed=True, fill=fill("insulation"), kind="cut insulation")
        self.bottom = max(self.low + DEEP * self.scale + 14, self.deck_top + thick + 6)
        pipe = self.x(1.6)
        bowl = [(flange, self.low), (lip, self.low), (lip, self.low + (DEEP - 0.8) * self.scale),
                (pipe, self.low + DEEP * self.scale), (pipe, self.bottom)]  # fmt: skip
        foot = self.low + (DEEP - 0.8) * self.scale + 3
        outer = [(pipe - 4, self.bottom), (pipe - 4, foot + 0.8 * self.scale), (lip - 4, foot), (lip - 4, self.low + 4),
                 (flange, self.low + 4)]  # fmt: skip
        with self.sheet.part("bowl", (lip - 8, self.low + 6, 30, max(self.bottom - self.low - 12, LEAST))):
            canvas.path([*bowl, *outer], closed=True, fill="currentColor", line=0, kind="cut bowl")

    bottom: float = 0.0

    def _ring(self) -> None:
        canvas, stack = self.sheet.canvas, self.stack
        top = self.low - stack.height(self.along(BOLT)) - 1
        outer, inner = self.x(RING), self.x(LIP + 0.2)
        with self.sheet.part("ring", (outer + 2, top - 20, inner - outer - 4, LEAST)):
            if "ring" not in self.omit:
                canvas.rect(outer, top - 5, inner - outer, 5, fill="currentColor", line=0, kind="cut ring")
                bolt = self.x(BOLT)
                canvas.rect(bolt - 4, top - 10, 8, 5, fill="currentColor", line=0, kind="cut bolt")
                canvas.line((bolt, top - 6), (bolt, self.low + 12), width=2.0, kind="bolt")

    def _strainer(self) -> None:
        canvas = self.sheet.canvas
        foot = self.low - self.stack.height(self.along(BOLT)) - 6
        x, rise = self.x(LIP + 0.1), 3.2 * self.scale
        wide = CENTER - x
        with self.sheet.part("strainer", (x + 2, foot - rise - 2, wide - 4, rise - 20)):
            if "strainer" in self.omit:
                return
            turns = [index * math.pi / 16 for index in range(9)]
            arc = [(CENTER - wide * math.cos(turn), foot - rise * math.sin(turn)) for turn in turns]
            canvas.path(arc, line=2.0, kind="line strainer")
            for across, high in arc[1:-1:2]:
                canvas.line((across, foot), (across, high), width=1.0, kind="line strainer")
            canvas.line((x, foot), (CENTER, foot), width=1.6, kind="line strainer")

    def dimensions(self) -> None:
        """Dimension how far the plies pass the bolts, and show where water runs."""
        sheet = self.sheet
        bolt, end, row = self.x(BOLT), self.x(BOLT - float(self.reach)), self.bottom + 18
        with sheet.part("reach", (bolt - 12, row - 12, LEAST + end - bolt, LEAST)):
            sheet.across(bolt, end, row, sheet.dimension("ring_reach", self.reach),
                         caption=sheet.label("ring_reach"), tops=(self.low + 14, self.low), below=True)  # fmt: skip
        sheet.water((LEFT + 6, 62), (LEFT + 54, 62))
        sheet.bottom = row + 36

    def words(self) -> None:
        """Number everything in the order in which it is laid."""
        sheet, ground, x = self.sheet, self.stack.ground, self.x
        row = 64.0
        spots: dict[str, tuple[Point, Point]] = {
            "deck": ((LEFT + 30, self.deck_top + 5), (LEFT + 30, self.deck_top + 26)),
            "sump": ((LEFT + 62, self.deck_top - 9), (LEFT + 62, self.deck_top + 26)),
            "bowl": ((x(LIP) - 2, self.low + 14), (CENTER - 14, self.bottom - 6)),
            "ring": ((x(RING) + 4, self.low - self.stack.height(self.along(BOLT)) - 4), (x(RING) - 34, row)),
            "strainer": ((x(LIP) + 6, self.low - 2.2 * self.scale - 20), (x(LIP) - 14, 50)),
        }
        places = {
            "base": (LEFT + 30, LEFT + 78),
            "cap": (LEFT + 60, LEFT + 100),
            "drain_sheet": (x(float(self.square) / 4 + FLANGE / 2), LEFT + 122),
            "bed": (x(FLANGE) + 6, LEFT + 144),
        }
        for name, laid in self.laid.items():
            spot, at = places[name]
            place = self.along((CENTER - spot) / self.scale)
            spots[name] = (middle(laid, ground, place), (at, row))
        for name in ("deck", "sump", "bowl", *self.order(), "ring", "strainer"):
            if name in self.omit:
                continue
            key = f"drain.{name}"
            if name == "drain_sheet":
                key += "_metal" if self.sheet_of == "metal" else ""
                key += "_on_cap" if self.on_cap else ""
            depth = sheet.dimension("sump_depth", self.depth) if name == "sump" else ""
            text = sheet.say("deck" if name == "deck" else key, depth=depth)
            if name in PLIES:
                text = f"{text}, {sheet.say('drain.ends' if name in self.stops else 'drain.turned')}"
            sheet.callout(*spots[name], text)

    def plan(self) -> None:
        """Draw the squares of the sump and of the sheet, the ring and the lines in which the sump's sides meet."""
        sheet, canvas = self.sheet, self.sheet.canvas
        most = max(float(self.side), float(self.square)) / 2
        scale = 74 / most
        top = sheet.bottom + 22
        sheet.view("view.plan", top, scale)
        cx, cy = (LEFT + RIGHT) / 2, top + 52 + most * scale
        half, inner, ring = float(self.side) / 2 * scale, float(self.square) / 2 * scale, RING * scale
        canvas.rect(cx - half, cy - half, 2 * half, 2 * half, line=2.4, kind="sump")
        for across in (-1, 1):
            for down in (-1, 1):
                near = ring * 0.75
                ends = ((cx + across * half, cy + down * half), (cx + across * near, cy + down * near))
                canvas.line(*ends, width=THIN, kind="line")
        if "drain_sheet" not in self.omit:
            canvas.rect(cx - inner, cy - inner, 2 * inner, 2 * inner, dash="6 3", kind="hidden")
        canvas.circle((cx, cy), ring, fill="#fff", line=2.0, kind="paper ring")
        canvas.circle((cx, cy), LIP * scale, line=1.2, kind="lip")
        over = cy - max(half, inner)
        sheet.across(cx - half, cx + half, over - 12, sheet.dimension("sump_side", self.side),
                     caption=sheet.label("sump_side"), tops=(cy - half, cy - half))  # fmt: skip
        sheet.bottom = cy + max(half, inner) + 4
        if "drain_sheet" not in self.omit:
            sheet.across(cx - inner, cx + inner, sheet.bottom + 10, sheet.dimension("drain_sheet", self.square),
                         caption=sheet.label("drain_sheet"), tops=(cy + inner, cy + inner), below=True)  # fmt: skip
            sheet.bottom += 14 + 2 * LEADING
