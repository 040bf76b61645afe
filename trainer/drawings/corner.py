"""Outside and inside corners of a flashing: folded, drawn along three axes, and laid flat with cuts and folds."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Annotated

from trainer.drawings.canvas import THIN, Point
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.corner_flat import Pattern
from trainer.drawings.folding import Flap, Place, axonometric, corner_flaps, flashing_flaps
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
    corner = Corner(sheet, flashing_height, roof_lap, strip_lap, corner_reach, cut_past, frozenset(omit), inside=False)
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
    corner = Corner(sheet, flashing_height, roof_lap, strip_lap, corner_reach, cut_past, frozenset(omit), inside=True)
    corner.draw()


@dataclass
class Corner:
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
        pattern = Pattern(self)
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

    def _words(self, pattern: Pattern) -> None:
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
