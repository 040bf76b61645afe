"""The parts of a drawing that a reader can point at: a name, what it is called, and the boxes that a finger hits.

A box is what was drawn of the part, or where the drawing says the part belongs. A thin one is grown until a finger can
hit it, away from its neighbors. Boxes are whole drawing units, so that they can be kept as text.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

# The least width and height of a box, in drawing units; a sheet is at least as many CSS pixels wide as it has units.
LEAST = 24

Area = tuple[float, float, float, float]
"""What was drawn: x, y, width, height in drawing units."""


class Box(NamedTuple):
    """A rectangle on the sheet in whole drawing units, x to the right and y down."""

    x: int
    y: int
    width: int
    height: int

    @property
    def middle(self) -> tuple[float, float]:
        """The middle of the box."""
        return self.x + self.width / 2, self.y + self.height / 2

    @property
    def size(self) -> int:
        """How much of the sheet it takes."""
        return self.width * self.height

    def holds(self, x: float, y: float) -> bool:
        """Tell whether a place lies in the box, its rim included."""
        return self.x <= x <= self.x + self.width and self.y <= y <= self.y + self.height


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a drawing: its name, what it is called in the reader's language, and one box for each piece of it."""

    name: str
    label: str
    boxes: tuple[Box, ...]


def around(points: Iterable[tuple[float, float]]) -> Area | None:
    """The area that holds all the points; none where there are none."""
    found = list(points)
    if not found:
        return None
    xs, ys = [x for x, _ in found], [y for _, y in found]
    return min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)


def fitted(drawn: Mapping[str, Sequence[Area]], sheet: tuple[float, float]) -> dict[str, tuple[Box, ...]]:
    """Turn what was drawn into boxes on the sheet that a finger hits, `sheet` being its width and height.

    A box that must be grown is moved, still holding what was drawn, to where it covers no middle of another part; where
    there is no such place, to where it covers fewest.
    """
    found = {}
    for name, areas in drawn.items():
        others = [_middle(area) for other, pieces in drawn.items() if other != name for area in pieces]
        found[name] = tuple(_fitted(area, others, sheet) for area in areas)
    return found


def big_first(parts: Sequence[Part]) -> list[tuple[Part, Box]]:
    """Every box with its part, in the order in which they lie over each other: the smallest on top."""
    boxes = [(part, box) for part in parts for box in part.boxes]
    return sorted(boxes, key=lambda pair: -pair[1].size)


def _middle(area: Area) -> tuple[float, float]:
    x, y, width, height = area
    return x + width / 2, y + height / 2


def _fitted(area: Area, others: Sequence[tuple[float, float]], sheet: tuple[float, float]) -> Box:
    places = [
        _box(left, top, (width, height), sheet)
        for left, width in _grown(area[0], area[2])
        for top, height in _grown(area[1], area[3])
    ]
    if len(places) == 1:
        return places[0]
    return min(places, key=lambda box: sum(box.holds(*middle) for middle in others))


def _grown(start: float, size: float) -> list[tuple[float, float]]:
    """Places of an extent that is grown to the least size and still holds what was drawn, the middle one first."""
    if size >= LEAST:
        return [(start, size)]
    spare = LEAST - size
    return [(start - spare * share, LEAST) for share in (0.5, 0.25, 0.75, 0.0, 1.0)]


def _box(left: float, top: float, size: tuple[float, float], sheet: tuple[float, float]) -> Box:
    width, height = min(math.ceil(size[0]), int(sheet[0])), min(math.ceil(size[1]), int(sheet[1]))
    x = min(max(round(left), 0), int(sheet[0]) - width)
    y = min(max(round(top), 0), int(sheet[1]) - height)
    return Box(x, y, width, height)
