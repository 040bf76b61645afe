"""Outside and inside corners of a flashing: folded, drawn along three axes, and laid flat with cuts and folds."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Annotated

from trainer.drawings.canvas import THICK, THIN, Point, text_width
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.folding import Flap, Flat, Place, axonometric, corner_flaps, flashing_flaps
from trainer.drawings.parts import LEAST, Area
from trainer.drawings.registry import FoundAs, SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import LENGTH, Length

PARTS = ("flashing", "cut", "corner_piece", "bead", "height", "roof_lap", "strip_lap", "corner_reach")
MAY_LACK = ("corner_piece", "bead")
# How much of the first side is drawn past the corner piece, inches.
MORE = 3.0

Height = Annotated[Fraction, LENGTH, FoundAs("curb.flashing_height")]
WallHeight = Annotated[Fraction, LENGTH, FoundAs("wall.flashing_height")]
RoofLap = Annotated[Fraction, LENGTH, FoundAs("wall.roof_lap")]
StripLap = Annotated[Fraction, LENGTH, FoundAs("curb.strip_lap")]
Reach = Annotated[Fraction, LENGTH, FoundAs("corner.corner_reach")]
Omit = Annotated[tuple[str, ...], SomeOf(MAY_LACK)]


@drawing(parts=PARTS)
def outside_corner(
    sheet: Sheet,
    *,
    flashing_height: Height,
    roof_lap: RoofLap,
    strip_lap: StripLap,
    corner_reach: Reach,
    cut_past: Length = Fraction(0),
    omit: Omit = (),
) -> None:
    """One flashing ply round the outside corner of a curb, and the corner piece over its cut: folded and laid flat.

    `cut_past` is how far the cut runs up the wall past the bend.
    """
    corner = _Corner(sheet, flashing_height, roof_lap, strip_lap, corner_reach, cut_past, frozenset(omit), inside=False)
    corner.draw()


@drawing(parts=PARTS)
def inside_corner(
    sheet: Sheet,
    *,
    flashing_height: WallHeight,
    roof_lap: RoofLap,
    strip_lap: StripLap,
    corner_reach: Reach,
    cut_past: Length = Fraction(0),
    omit: Omit = (),
) -> None:
    """One flashing ply into the inside corner of two walls, and the corner piece over its cut: folded and laid flat.

    `cut_past` is how far the cut runs up the wall past the bend.
    """
    corner = _Corner(sheet, flashing_height, roof_lap, strip_lap, corner_reach, cut_past, frozenset(omit), inside=True)
    corner.draw()


@dataclass
class _Corner:
    """A corner under way: the folded view above, both flat pieces below at a scale of their own."""

    sheet: Sheet
    height: Fraction
    roof_lap: Fraction
    strip_lap: Fraction
    reach: Fraction
    cut_past: Fraction
    omit: frozenset[str]
    inside: bool

    @property
    def first(self) -> float:
        """How much of the first side is drawn, inches."""
        return max(float(self.reach), float(self.roof_lap)) + MORE

    @property
    def kind(self) -> str:
        """Which corner it is, as its words are named."""
        return "inside" if self.inside else "outside"

    def draw(self) -> None:
        """Check the measures, then draw both views and the words."""
        sheet = self.sheet
        positive(sheet, flashing_height=self.height, roof_lap=self.roof_lap, strip_lap=self.strip_lap,
                 corner_reach=self.reach)  # fmt: skip
        not_negative(sheet, cut_past=self.cut_past)
        sheet.need(self.cut_past < self.height, "cut_past", self.cut_past, "the cut ends on the wall",
                   "give less than the flashing's height")  # fmt: skip
        for name, value in (("roof_lap", self.roof_lap), ("strip_lap", self.strip_lap), ("corner_reach", self.reach)):
            sheet.need(value <= 3 * self.height, name, value, "a corner's pieces are about as wide as they are high",
                       "check the unit")  # fmt: skip
        sheet.describe(f"alt.{self.kind}_corner")
        self._folded()
        pattern = _Pattern(self)
        pattern.draw()
        self._words(pattern)

    @cached_property
    def flaps(self) -> dict[str, Flap]:
        """The faces of the flashing piece."""
        sizes = (self.first, float(self.strip_lap), float(self.height), float(self.roof_lap))
        return {flap.name: flap for flap in flashing_flaps(*sizes, inside=self.inside)}

    @cached_property
    def piece(self) -> dict[str, Flap]:
        """The faces of the corner piece."""
        return {flap.name: flap for flap in corner_flaps(float(self.reach), inside=self.inside)}

    @cached_property
    def body(self) -> list[tuple[Place, ...]]:
        """What stands there before the flashing: the curb's second side and top, or the two walls."""
        high, far = float(self.height), max(float(self.strip_lap), float(self.reach)) + MORE
        near = self.first
        if self.inside:
            over = high + 1.2
            return [((0, 0, 0), (far, 0, 0), (far, 0, over), (0, 0, over)),
                    ((0, 0, 0), (0, near, 0), (0, near, over), (0, 0, over))]  # fmt: skip
        return [((0, 0, 0), (0, -far, 0), (0, -far, high), (0, 0, high)),
                ((0, 0, high), (0, -far, high), (-near, -far, high), (-near, 0, high))]  # fmt: skip

    @cached_property
    def _fit(self) -> tuple[float, float, float]:
        """Scale of the folded view and where its origin lies on the sheet."""
        places = [place for face in self.body for place in face]
        places += [place for flap in (*self.flaps.values(), *self.piece.values()) for place in flap.folded]
        flat = axonometric(places)
        xs, ys = [x for x, _ in flat], [y for _, y in flat]
        scale = min(250 / (max(xs) - min(xs)), 210 / (max(ys) - min(ys)))
        return scale, (LEFT + RIGHT) / 2 - (max(xs) + min(xs)) / 2 * scale, 38 - min(ys) * scale

    def at(self, *place: float) -> Point:
        """Where a place of the corner lies on the sheet."""
        scale, left, top = self._fit
        ((x, y),) = axonometric([(place[0], place[1], place[2])])
        return left + x * scale, top + y * scale

    def on_first(self, past: float, high: float) -> Point:
        """A place on the first side, so far from the corner and so high."""
        return self.at(0, past, high) if self.inside else self.at(-past, 0, high)

    def on_second(self, past: float, high: float) -> Point:
        """A place on the second side, so far from the corner and so high."""
        return self.at(past, 0, high) if self.inside else self.at(0, -past, high)

    def _face(self, folded: tuple[Place, ...], fill: str, kind: str) -> None:
        points = [self.at(*place) for place in folded]
        self.sheet.canvas.path(points, closed=True, fill="#fff", line=0, kind="paper")
        self.sheet.canvas.path(points, closed=True, fill=fill, kind=f"axis {kind}")

    def _folded(self) -> None:
        """Draw the corner with the flashing on it, then the corner piece over the cut."""
        sheet, canvas = self.sheet, self.sheet.canvas
        sheet.view("view.folded", 22, self._fit[0])
        for face in self.body:
            canvas.path([self.at(*place) for place in face], closed=True, line=THIN, kind="body")
        hatch = sheet.fill("base")
        with sheet.part("flashing", self._flashing_box()):
            for name in ("first_leg", "second_leg", "first_wall", "second_wall"):
                self._face(self.flaps[name].folded, hatch, f"flashing {name}")
        with sheet.part("corner_piece", self._around_piece()):
            if "corner_piece" not in self.omit:
                for flap in self.piece.values():
                    self._face(flap.folded, sheet.fill("strip"), f"piece {flap.name}")
        foot = self.at(0, 0, 0)
        if self.cut_past:
            canvas.line(foot, self.at(0, 0, float(self.cut_past)), width=3.4, kind="line cut-past")
        with sheet.part("bead", (foot[0] - LEAST / 2, foot[1] - LEAST / 2, LEAST, LEAST)):
            if "bead" not in self.omit:
                canvas.circle(foot, 4.2, fill="currentColor", line=0, kind="cut sealant")
        lowest = [self.at(*place)[1] for flap in (*self.flaps.values(), *self.piece.values()) for place in flap.folded]
        sheet.bottom = max([*lowest, *(self.at(*place)[1] for face in self.body for place in face)]) + 4

    def _flashing_box(self) -> Area:
        """Where a finger points at the flashing: the first side, over the corner piece."""
        x, y = self.on_first(self.first * 0.6, float(self.height) * 0.72)
        return x - 26, y - 20, 52, 40

    def _around_piece(self) -> Area:
        """Where a finger points at the corner piece: on the roof, before the foot of the corner."""
        far = float(self.reach) * 0.65
        x, y = self.at(far, far, 0)
        return x - 18, max(y - 14, self.at(0, 0, 0)[1] + LEAST / 2 + 1), 36, 28

    def _words(self, pattern: _Pattern) -> None:
        sheet, kind, high = self.sheet, self.kind, float(self.height)
        lap, reach = float(self.strip_lap), float(self.reach)
        side = self.on_first(self.first * 0.75, high * 0.75)
        sheet.callout(side, (LEFT + 12, side[1] - 26), sheet.say("corner.flashing"))
        end = self.on_second(lap * 0.6, high * 0.8)
        sheet.callout(end, (RIGHT - 12, end[1] - 20), sheet.say("corner.end"))
        cut = sheet.say("corner.cut")
        if self.cut_past:
            cut = sheet.say("corner.cut_past", past=sheet.dimension("cut_past", self.cut_past))
        pattern.mark_cut(cut)
        if "corner_piece" not in self.omit:
            spot = self.at(reach * 0.7, reach * 0.7, 0)
            sheet.callout(spot, (LEFT + 12, spot[1]), sheet.say(f"corner.{kind}_piece"))
            pattern.mark_piece("4")
        if "bead" not in self.omit:
            foot = self.at(0, 0, 0)
            sheet.callout(foot, (RIGHT - 12, foot[1] + 6), sheet.say("corner.bead"))


class _Pattern:
    """Both pieces laid flat, at one scale: the flashing at the left, the corner piece at the right."""

    def __init__(self, corner: _Corner) -> None:
        self.corner, self.sheet, self.canvas = corner, corner.sheet, corner.sheet.canvas
        wide = corner.first + float(corner.strip_lap)
        high = float(corner.height + corner.roof_lap)
        square = 0.0 if "corner_piece" in corner.omit else 2 * float(corner.reach)
        self.scale = min((RIGHT - 26 - self.left) / (wide + square), 130 / max(high, square))
        self.head = corner.sheet.bottom + 26

    @property
    def left(self) -> float:
        """The left end of the flashing piece: far enough in for the words beside it."""
        texts = (self.sheet.length(self.corner.height), self.sheet.length(self.corner.roof_lap))
        return LEFT + max(84.0, *(text_width(text) + 18 for text in texts))

    @property
    def fold(self) -> float:
        """The bend between wall and roof."""
        return self.head + 52 + float(self.corner.height) * self.scale

    @property
    def line(self) -> float:
        """The line that comes to lie on the corner."""
        return self.left + self.corner.first * self.scale

    def at(self, u: float, v: float) -> Point:
        """Where a point of the flashing piece lies on the sheet."""
        return self.line + u * self.scale, self.fold - v * self.scale

    @property
    def center(self) -> Point:
        """The middle of the corner piece."""
        reach = float(self.corner.reach) * self.scale
        over = self.head + 40 + reach
        return RIGHT - reach - 2, max(self.fold + float(self.corner.roof_lap) * self.scale - reach, over)

    def draw(self) -> None:
        """Draw both pieces with their folds, cuts and dimensions."""
        sheet, corner = self.sheet, self.corner
        sheet.view("view.flat", self.head, self.scale)
        self._flashing()
        self._dimensions()
        self.mark_faces()
        low = self.at(0, -float(corner.roof_lap))[1]
        if "corner_piece" not in corner.omit:
            low = max(low, self._piece())
        else:
            with sheet.part("corner_reach", (RIGHT - 60, self.fold - 60, LEAST, LEAST)):
                pass
        self.low = low
        sheet.bottom = low + 10
        sheet.note(sheet.say("corner.lines"))
        sheet.bottom += 8

    def _flashing(self) -> None:
        corner, canvas = self.corner, self.canvas
        high, roof = float(corner.height), float(corner.roof_lap)
        lap, past = float(corner.strip_lap), float(corner.cut_past)
        outline: list[Flat] = [(-corner.first, -roof), (lap, -roof), (lap, high), (-corner.first, high)]
        canvas.path([self.at(*point) for point in outline], closed=True, kind="flat flashing")
        canvas.line(self.at(-corner.first, 0), self.at(lap, 0), dash="6 3", kind="fold bend")
        canvas.line(self.at(0, past), self.at(0, high), dash="6 3", kind="fold corner")
        x, y = self.at(0, -roof)
        top = self.at(0, past)[1]
        with self.sheet.part("cut", (x - LEAST / 2, top - 4, LEAST, max(y - top, LEAST))):
            canvas.line((x, y), (x, top), width=THICK * 1.3, kind="line cut-line")
        self.sheet.break_across(self.at(-corner.first, 0)[0] + 3, self.at(0, high)[1], y)

    def _dimensions(self) -> None:
        sheet, corner = self.sheet, self.corner
        high, roof, x = float(corner.height), float(corner.roof_lap), self.left - 12
        top, bend, low = self.at(0, high)[1], self.fold, self.at(0, -roof)[1]
        with sheet.part("height", (x - 16, top, LEAST, bend - top)):
            sheet.upward(top, bend, x, sheet.dimension("flashing_height", corner.height),
                         caption=sheet.say("corner.up"), side="left", room=58)  # fmt: skip
        with sheet.part("roof_lap", (x - 16, bend, LEAST, max(low - bend, LEAST))):
            words = sheet.say("corner.on_roof") if low - bend > 40 else ""
            sheet.upward(bend, low, x, sheet.dimension("roof_lap", corner.roof_lap),
                         caption=words, side="left", room=58)  # fmt: skip
        start, end = self.at(0, high)[0], self.at(float(corner.strip_lap), high)[0]
        with sheet.part("strip_lap", (start, top - 26, end - start, LEAST)):
            sheet.across(start, end, top - 12, sheet.dimension("strip_lap", corner.strip_lap),
                         caption=sheet.say("corner.round"), tops=(top, top))  # fmt: skip

    def _piece(self) -> float:
        """Draw the corner piece; gives its lower edge."""
        corner, sheet, canvas = self.corner, self.sheet, self.canvas
        reach = float(corner.reach) * self.scale
        cx, cy = self.center
        canvas.rect(cx - reach, cy - reach, 2 * reach, 2 * reach, kind="flat piece")
        if corner.inside:
            folds = [((cx, cy), (cx + reach, cy)), ((cx, cy), (cx, cy + reach)), ((cx, cy), (cx, cy - reach))]
            cut = ((cx - reach, cy), (cx, cy))
        else:
            folds = [((cx - reach, cy), (cx, cy)), ((cx, cy - reach), (cx, cy))]
            cut = ((cx - reach, cy - reach), (cx, cy))
        for start, end in folds:
            canvas.line(start, end, dash="6 3", kind="fold piece")
        canvas.line(*cut, width=THICK * 1.3, kind="line piece-cut")
        with sheet.part("corner_reach", (cx, cy + reach + 2, reach, LEAST)):
            sheet.across(cx, cx + reach, cy + reach + 14, sheet.dimension("corner_reach", corner.reach),
                         caption=sheet.say("corner.reach"), tops=(cy + reach, cy + reach), below=True)  # fmt: skip
        return cy + reach + 42

    def mark_cut(self, text: str) -> None:
        """Number the cut beside the flashing piece."""
        x, y = self.at(0, -float(self.corner.roof_lap) * 0.6)
        self.sheet.callout((x, y), (x + 20 if self.scale * float(self.corner.strip_lap) > 40 else x - 22, y), text)

    def mark_faces(self) -> None:
        """Number both faces of the flashing piece as in the folded view."""
        up = float(self.corner.height) * 0.5
        for number, u in (("1", -self.corner.first * 0.45), ("2", float(self.corner.strip_lap) * 0.5)):
            if number == "1" or float(self.corner.strip_lap) * self.scale > 22:
                place = self.at(u, up)
                self.sheet.mark(place, place, number)

    def mark_piece(self, number: str) -> None:
        """Number the corner piece as in the folded view, where there is room."""
        reach = float(self.corner.reach) * self.scale
        if reach > 22:
            place = (self.center[0] + reach * 0.55, self.center[1] + reach * 0.55)
            self.sheet.mark(place, place, number)
