"""Sheets laid over each other on a bent line, in section: roof, cant, wall; or roof, sump, bowl.

The line runs from the roof toward the detail, and sheets lie on its left hand: on the roof's upper side, on the wall's
roof side. Each sheet lies on what was laid before it, and steps down where that ends. Lengths are drawing units.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

from trainer.drawings.canvas import LINE, Point
from trainer.drawings.parts import Area
from trainer.drawings.sheet import Sheet

# Thickness of a sheet as drawn, and of what parts it from the next one: many times what they are.
PLY, GAP = 6.4, 1.7
RAMP = 1.7

Profile = tuple[tuple[float, float], ...]
"""Places along the line with a height over it, in order."""


class Ground:
    """A bent line: where each place along it lies on the sheet, and which way is up from it.

    With `mirror` it is drawn as its own image beyond that upright line: the other side of a pipe.
    """

    def __init__(self, points: Sequence[Point], mirror: float | None = None) -> None:
        self.points, self.mirror = tuple(points), mirror
        along = [_toward(start, end) for start, end in pairwise(points)]
        bends = [0.0, *(_bend(before, after) for before, after in pairwise(along)), 0.0]
        self.turns: list[float] = [0.0]
        self._runs: list[_Run] = []
        for index, ((start, end), (dx, dy)) in enumerate(zip(pairwise(points), along, strict=True)):
            first = self.turns[-1]
            self.turns.append(first + math.dist(start, end))
            self._runs.append(_Run(first, self.turns[-1], start, (dx, dy), bends[index], bends[index + 1]))

    @property
    def length(self) -> float:
        """The whole length of the line."""
        return self.turns[-1]

    def at(self, place: float, height: float = 0.0) -> Point:
        """Where a place lies, so far over the line; at a bend on the line that halves it."""
        run = self._run(place)
        past = place - run.first
        if past == 0:
            past += height * run.before
        elif place == run.last:
            past -= height * run.after
        (x, y), (dx, dy) = run.start, run.along
        across, down = x + dx * past + dy * height, y + dy * past - dx * height
        return (across if self.mirror is None else 2 * self.mirror - across), down

    def hidden(self, place: float, height: float) -> bool:
        """Tell whether the other side of a hollow bend already takes the room so near to it."""
        run = self._run(place)
        return 0 < place - run.first <= height * run.before or 0 < run.last - place <= height * run.after

    def _run(self, place: float) -> _Run:
        for run in self._runs:
            if place < run.last:
                return run
        return self._runs[-1]


class _Run(NamedTuple):
    """One straight run of a line: its places, where it starts and whither, and the bends before and after it.

    A bend is how much shorter a line over it is, for each side and unit of height; below 0 round a ridge.
    """

    first: float
    last: float
    start: Point
    along: Point
    before: float
    after: float


def _toward(start: Point, end: Point) -> Point:
    length = math.dist(start, end)
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length


def _bend(before: Point, after: Point) -> float:
    (ax, ay), (bx, by) = before, after
    return math.tan(math.atan2(ay * bx - ax * by, ax * bx + ay * by) / 2)


@dataclass(frozen=True, slots=True)
class Laid:
    """A sheet as it lies: its lower and its upper side."""

    low: Profile
    high: Profile

    def top(self, place: float) -> float:
        """How high its upper side is at a place; beyond its ends it runs out on a ramp."""
        (start, first), (end, last) = self.high[0], self.high[-1]
        if start <= place <= end:
            return _height(self.high, place)
        away, top, floor = (start - place, first, self.low[0][1]) if place < start else (
            place - end, last, self.low[-1][1])  # fmt: skip
        ramp = (top - floor) * RAMP
        return top - (top - floor) * away / ramp if away < ramp else 0.0

    @property
    def breaks(self) -> tuple[float, ...]:
        """Where its upper side bends, the feet of the ramps at its ends included."""
        start, end = self.high[0][0], self.high[-1][0]
        first, last = ((high[1] - low[1]) * RAMP for high, low in ((self.high[0], self.low[0]),
                                                                  (self.high[-1], self.low[-1])))  # fmt: skip
        return (start - first, *(place for place, _ in self.high), end + last)


@dataclass(slots=True)
class Stack:
    """The sheets on one ground, in the order in which they are laid.

    With `image` each is drawn a second time, mirrored at that upright line.
    """

    sheet: Sheet
    ground: Ground
    image: float | None = None
    laid: list[Laid] = field(default_factory=list)

    def lay(
        self,
        part: str | None,
        material: str,
        start: float,
        end: float,
        thick: float = PLY,
        *,
        gap: float = GAP,
        box: Area | None = None,
        line: float = LINE,
    ) -> Laid:
        """Lay a sheet between two places and draw it, as a part where it is one."""
        low = self._floor(start, end, gap)
        laid = Laid(low, tuple((place, height + thick) for place, height in low))
        self.laid.append(laid)
        outline = [*self._points(laid.low), *reversed(self._points(laid.high))]
        fill = self.sheet.fill(material)

        def paint() -> None:
            kind = f"cut {material}"
            self.sheet.canvas.path(outline, closed=True, fill=fill, kind=kind, line=line)
            if self.image is not None:
                mirrored = [(2 * self.image - x, y) for x, y in outline]
                self.sheet.canvas.path(mirrored, closed=True, fill=fill, kind=kind, line=line)

        if part is None:
            paint()
        else:
            with self.sheet.part(part, box):
                paint()
        return laid

    def height(self, place: float) -> float:
        """How high the uppermost sheet is at a place."""
        return max((laid.top(place) for laid in self.laid), default=0.0)

    def on(self, place: float, more: float = 0.0) -> Point:
        """Where the upper side of all sheets lies at a place, and so much over it."""
        return self.ground.at(place, self.height(place) + more)

    def _floor(self, start: float, end: float, gap: float) -> Profile:
        places = {start, end, *(turn for turn in self.ground.turns if start < turn < end)}
        for laid in self.laid:
            places.update(place for place in laid.breaks if start < place < end)
        return tuple((place, height + gap if (height := self.height(place)) else 0.0) for place in sorted(places))

    def _points(self, profile: Profile) -> list[Point]:
        inner = range(1, len(profile) - 1)
        return [
            self.ground.at(place, height)
            for index, (place, height) in enumerate(profile)
            if index not in inner or not self.ground.hidden(place, height)
        ]


def middle(laid: Laid, ground: Ground, place: float) -> Point:
    """The middle of a sheet's thickness at a place: what a leader points at."""
    return ground.at(place, (_height(laid.low, place) + _height(laid.high, place)) / 2)


def _height(profile: Profile, place: float) -> float:
    for (x1, y1), (x2, y2) in pairwise(profile):
        if x1 <= place <= x2:
            return y1 + (y2 - y1) * (place - x1) / (x2 - x1) if x2 > x1 else max(y1, y2)
    return profile[-1][1]
