"""The edge of the roof in section, every layer named, in the order in which it is laid."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import THICK, Point
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.derive import worked_out
from trainer.drawings.edge_boxes import PARTS, edge_boxes
from trainer.drawings.registry import FoundAs, SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import LENGTH, Length

LAYERS = ("deck", "nailer", "base", "bead", "metal", "nails", "primer", "strip", "cap")
MAY_LACK = ("bead", "nails", "primer", "strip", "cap")

BaseOverhang = Annotated[Fraction, LENGTH, FoundAs("base.overhang")]
BaseNailSpacing = Annotated[Fraction, LENGTH, FoundAs("base.nail_spacing")]

# Thicknesses as drawn, in drawing units: many times what they are, so that each layer is a band with its hatch.
BASE, METAL, PRIMER, STRIP, CAP, GAP = 8.0, 3.2, 4.4, 8.0, 8.0, 2.6


@drawing("strip_cover", parts=PARTS)
def edge_section(
    sheet: Sheet,
    *,
    flange: Length,
    strip_width: Length,
    bead_width: Length,
    bead_depth: Length,
    bead_setback: Length,
    overhang: BaseOverhang,
    row_spacing: Length,
    nail_spacing: Length | None = None,
    face: Length | None = None,
    base_nail_spacing: BaseNailSpacing | None = None,
    omit: Annotated[tuple[str, ...], SomeOf(MAY_LACK)] = (),
) -> None:
    """The edge, deck to cap sheet: base sheet turned down and nailed, bead, metal, nails, primer, stripping ply."""
    positive(
        sheet, flange=flange, strip_width=strip_width, bead_width=bead_width, bead_depth=bead_depth,
        overhang=overhang, row_spacing=row_spacing, nail_spacing=nail_spacing, face=face,
        base_nail_spacing=base_nail_spacing,
    )  # fmt: skip
    not_negative(sheet, bead_setback=bead_setback)
    sheet.need(bead_setback + bead_width / 2 <= flange, "bead_setback", bead_setback,
        "the bead must lie under the flange", "give a setback and a bead that the flange covers",
    )  # fmt: skip
    sheet.need(overhang <= 12, "overhang", overhang, "it is turned down over one nailer", "give at most 12 in")
    height = face if face is not None else max(Fraction(4), overhang + 1)
    edge = Edge(sheet, flange, strip_width, bead_width, bead_depth, bead_setback, overhang, height, frozenset(omit))
    sheet.describe("alt.edge_section")
    edge.draw()
    edge.dimensions(face)
    _callouts(edge, row_spacing, nail_spacing if nail_spacing is not None else row_spacing / 2, base_nail_spacing)


@dataclass(frozen=True)
class Edge:
    """Where the parts of the edge fall on the sheet: the roof to the left, outside to the right."""

    sheet: Sheet
    flange: Fraction
    strip_width: Fraction
    bead_width: Fraction
    bead_depth: Fraction
    bead_setback: Fraction
    overhang: Fraction
    face: Fraction
    omit: frozenset[str]

    @property
    def scale(self) -> float:
        """Drawing units an inch: the strip and some roof beyond it fill the sheet."""
        return min((self.edge - LEFT) / float(max(self.strip_width, self.flange) + 3), 130 / float(self.face))

    @property
    def edge(self) -> float:
        """The outer side of deck and nailer."""
        return RIGHT - 88

    @property
    def deck_top(self) -> float:
        """The upper side of deck and nailer."""
        return 160.0

    @property
    def base_top(self) -> float:
        """The upper side of the base sheet."""
        return self.deck_top - BASE

    @property
    def metal_bottom(self) -> float:
        """The under side of the flange: it stands on the bead where there is one."""
        bead = 0.0 if "bead" in self.omit else float(self.bead_depth) * self.scale
        return self.base_top - max(bead, GAP)

    @property
    def outer(self) -> float:
        """The back of the metal's face."""
        return self.edge + BASE + GAP + METAL / 2

    def x(self, inches: Fraction) -> float:
        """A place on the roof, by its distance from the deck edge."""
        return self.edge - float(inches) * self.scale

    def draw(self) -> None:
        """Draw every layer, bottom to top; one that is left out keeps its place to point at."""
        self.sheet.scale(self.scale)
        self.sheet.exaggerate()
        self._wood()
        self._base()
        boxes = edge_boxes(self)
        layers = {"bead": self._bead, "flange": self._metal, "nails": self._nails, "primer": self._primer}
        layers |= {"strip": self._strip, "cap": self._cap}
        for name, layer in layers.items():
            with self.sheet.part(name, boxes[name]):
                if name not in self.omit:
                    layer()
        with self.sheet.part("face", boxes["face"]):
            pass

    def _primer(self) -> None:
        y = self.metal_bottom - METAL - PRIMER - 0.6
        width = float(self.flange) * self.scale
        fill = self.sheet.fill("primer")
        self.sheet.canvas.rect(self.x(self.flange), y, width, PRIMER, fill=fill, line=0, kind="cut primer")

    def _strip(self) -> None:
        self._band("strip", self.strip_width, STRIP, self.strip_floor())

    def _cap(self) -> None:
        self._band("cap", None, CAP, self.cap_floor())

    def strip_cover(self) -> str:
        """How far the stripping ply passes the flange, by the rule."""
        cover = worked_out(self.sheet, "strip_cover", strip_width=self.strip_width, flange=self.flange)
        return self.sheet.dimension("strip_cover", cover)

    def _wood(self) -> None:
        canvas, fill, boxes = self.sheet.canvas, self.sheet.fill, edge_boxes(self)
        inner = self.nailer_start
        with self.sheet.part("deck", boxes["deck"]):
            canvas.rect(LEFT, self.deck_top, inner - LEFT, 0.75 * self.scale, fill=fill("deck"), kind="cut deck")
        depth = self.nailer_bottom - self.deck_top
        with self.sheet.part("nailer", boxes["nailer"]):
            canvas.rect(inner, self.deck_top, self.edge - inner, depth, fill=fill("nailer"), kind="cut nailer")

    @property
    def nailer_start(self) -> float:
        """Where the deck ends and the nailer begins."""
        return max(self.x(max(Fraction(11, 2), self.flange + 1)), LEFT + 30)

    @property
    def nailer_bottom(self) -> float:
        """The under side of the nailer: two thicknesses of lumber, or more where the sheet is turned down further."""
        return self.deck_top + max(3.0, float(self.overhang) + 0.5) * self.scale

    def _base(self) -> None:
        turned = self.deck_top + float(self.overhang) * self.scale
        outside = self.edge + BASE
        outline = [
            (LEFT, self.base_top),
            (outside - 3, self.base_top),
            (outside, self.base_top + 3),
            (outside, turned),
            (self.edge, turned),
            (self.edge, self.deck_top),
            (LEFT, self.deck_top),
        ]
        boxes = edge_boxes(self)
        with self.sheet.part("base", boxes["base"]):
            self.sheet.canvas.path(outline, closed=True, fill=self.sheet.fill("base"), kind="cut base")
        with self.sheet.part("turn_down", boxes["turn_down"]):
            self._nail((outside, self.cap_nail_y), (self.edge - 22, self.cap_nail_y), head=7)

    @property
    def cap_nail_y(self) -> float:
        """The height of the cap nail through the turned-down sheet."""
        return self.deck_top + float(self.overhang) * self.scale * 0.6

    def _nail(self, head_at: Point, tip: Point, *, head: float, hidden: bool = False) -> None:
        canvas = self.sheet.canvas
        across = head_at[1] == tip[1]
        spread = (0.0, head) if across else (head, 0.0)
        ends = [
            (head_at[0] - spread[0], head_at[1] - spread[1]),
            (head_at[0] + spread[0], head_at[1] + spread[1]),
        ]
        canvas.line(ends[0], ends[1], width=THICK, kind="nail")
        canvas.line(head_at, tip, width=1.6, kind="nail", dash="4 2" if hidden else None)

    def _bead(self) -> None:
        middle = self.x(self.bead_setback)
        half = float(self.bead_width) * self.scale / 2
        high = float(self.bead_depth) * self.scale
        self.sheet.canvas.rect(
            middle - half,
            self.base_top - high,
            2 * half,
            high,
            fill="currentColor",
            line=0,
            kind="cut sealant",
        )

    def _metal(self) -> None:
        y = self.metal_bottom - METAL / 2
        low = self.deck_top + float(self.face) * self.scale
        kick = 0.4 * self.scale
        self.sheet.canvas.path(
            [(self.x(self.flange), y), (self.outer, y), (self.outer, low - kick), (self.outer + kick, low)],
            line=METAL,
            kind="line metal",
        )

    @property
    def nail_places(self) -> tuple[float, float]:
        """The two rows: near the inner edge of the flange, and between that row and the bead."""
        inner = self.flange * Fraction(5, 6)
        clear = self.bead_setback + self.bead_width / 2
        outer = (inner + clear) / 2 if clear < self.flange / 2 else self.bead_setback / 2
        return self.x(outer), self.x(inner)

    def _nails(self) -> None:
        top = self.metal_bottom - METAL
        tip = self.deck_top + 1.4 * self.scale
        outer, inner = self.nail_places
        # One row is cut by the section; the other stands behind it, staggered, and is drawn hidden.
        self._nail((inner, top), (inner, tip), head=4.5)
        self._nail((outer, top), (outer, tip), head=4.5, hidden=True)

    def strip_floor(self) -> list[Point]:
        """The line on which the stripping ply lies, outside to inside: flange with its primer, then base sheet."""
        high = self.metal_bottom - METAL - (0 if "primer" in self.omit else PRIMER) - GAP
        inner = self.x(self.flange)
        return [(self.edge, high), (inner - 3, high), (inner - 16, self.base_top - GAP)]

    def cap_floor(self) -> list[Point]:
        """The line on which the cap sheet lies: stripping ply, then base sheet."""
        floor = self.strip_floor()
        if "strip" in self.omit:
            return floor
        high = [(x, y - STRIP - GAP) for x, y in floor]
        end = self.x(self.strip_width)
        if end > high[-1][0] - 1:
            return [(x, y) for x, y in high if x >= end] + [
                (end - 3, high[0][1]),
                (end - 18, self.base_top - GAP),
            ]
        return [*high, (end - 3, high[-1][1]), (end - 14, self.base_top - GAP)]

    def _band(self, material: str, width: Fraction | None, thick: float, floor: list[Point]) -> None:
        end = LEFT if width is None else self.x(width)
        points = [point for point in floor if point[0] > end]
        points.append((end, points[-1][1]))
        upper = [(x, y - thick) for x, y in reversed(points)]
        outline = [*points, *upper]
        self.sheet.canvas.path(outline, closed=True, fill="#fff", line=0, kind="paper")
        self.sheet.canvas.path(outline, closed=True, fill=self.sheet.fill(material), kind=f"cut {material}")

    def dimensions(self, face: Fraction | None) -> None:
        """Dimension flange, strip, what the strip covers beyond the flange, turn-down and bead."""
        sheet = self.sheet
        over = self.metal_bottom - METAL - PRIMER - STRIP - CAP - 3 * GAP
        sheet.across(
            self.x(self.flange), self.edge, 84, sheet.dimension("flange", self.flange), caption=sheet.label("flange"),
            tops=(over, over),
        )  # fmt: skip
        if "strip" not in self.omit:
            sheet.across(
                self.x(self.strip_width), self.edge, 46, sheet.dimension("strip_width", self.strip_width),
                caption=sheet.label("strip_width"), tops=(over + 6, 84),
            )  # fmt: skip
            if sheet.shows("strip_cover"):
                sheet.across(self.x(self.strip_width), self.x(self.flange), 84, self.strip_cover())
        turned = self.deck_top + float(self.overhang) * self.scale
        side = self.edge + BASE + METAL + 6
        sheet.upward(self.deck_top, turned, RIGHT - 24, "", tops=(side, side))
        sheet.canvas.text((RIGHT, turned + 20), sheet.dimension("overhang", self.overhang), anchor="end", kind="dim")
        if face is not None:
            sheet.dimension("face", face)
        sheet.bottom = self.deck_top + float(self.face) * self.scale + 8


def _callouts(edge: Edge, row_spacing: Fraction, nail_spacing: Fraction, base_nails: Fraction | None) -> None:
    sheet = edge.sheet
    low = max(edge.nailer_bottom, sheet.bottom) + 20
    say = sheet.say
    bead_x = edge.x(edge.bead_setback)
    # Nails, nailer and bead stand side by side below, in the order of their parts, so that no two leaders cross.
    sheet.callout((LEFT + 24, edge.deck_top + 6), (LEFT + 24, low), say("deck"))
    sheet.callout((bead_x - 16, edge.nailer_bottom - 10), (bead_x - 16, low), say("nailer_flush"))
    base = say("base_turned_down", overhang=sheet.dimension("overhang", edge.overhang))
    if base_nails is not None:
        base = say("base_turned_down_nailed", overhang=sheet.dimension("overhang", edge.overhang),
                   spacing=sheet.dimension("base_nail_spacing", base_nails))  # fmt: skip
    sheet.callout((LEFT + 62, edge.base_top + BASE / 2), (LEFT + 62, low), base)
    if "bead" not in edge.omit:
        text = say(
            "bead_placed", width=sheet.dimension("bead_width", edge.bead_width),
            depth=sheet.dimension("bead_depth", edge.bead_depth),
            setback=sheet.dimension("bead_setback", edge.bead_setback),
        )  # fmt: skip
        sheet.callout((bead_x, edge.base_top - 2), (bead_x + 12, low), text)
    sheet.callout(
        (edge.outer, edge.deck_top + float(edge.face) * edge.scale * 0.8), (RIGHT - 24, low),
        say("metal_dry" if "bead" in edge.omit else "metal"),
    )  # fmt: skip
    if "nails" not in edge.omit:
        text = say(
            "nails_staggered", row=sheet.dimension("row_spacing", row_spacing),
            both=sheet.dimension("nail_spacing", nail_spacing),
        )  # fmt: skip
        tip = edge.deck_top + 1.2 * edge.scale
        sheet.callout((edge.nail_places[1], tip), (bead_x - 46, low), text)
    _top_callouts(edge)
    sheet.bottom = low + 12


def _top_callouts(edge: Edge) -> None:
    sheet, say = edge.sheet, edge.sheet.say
    floor = edge.metal_bottom - METAL
    if "primer" not in edge.omit:
        target = (edge.edge - 8, floor - PRIMER / 2 - 0.6)
        sheet.callout(target, (RIGHT - 24, 108), say("primer_on_flange"))
    if "strip" not in edge.omit:
        strip = edge.strip_floor()
        target = (edge.edge - 3, strip[0][1] - STRIP / 2)
        width = sheet.dimension("strip_width", edge.strip_width)
        text = say("strip", width=width)
        if sheet.shows("strip_cover"):
            text = say("strip_with_cover", width=width, cover=edge.strip_cover())
        sheet.callout(target, (RIGHT - 24, 78), text)
    if "cap" not in edge.omit:
        target = (LEFT + 14, edge.base_top - GAP - CAP / 2)
        sheet.callout(target, (LEFT + 14, 108), say("cap_sheet"))
