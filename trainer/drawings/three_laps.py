"""Three side laps of one slope in section, each with its own measure, so that they can be compared."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import Point
from trainer.drawings.checks import positive
from trainer.drawings.laps import stepped, stepped_left
from trainer.drawings.registry import FoundAs, OneOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import LENGTH

LAPS = ("lap_1", "lap_2", "lap_3")
PARTS = ("course_1", "lap_1", "course_2", "lap_2", "course_3", "lap_3", "course_4", "deck")
THICK, DECK, FLOOR = 11.0, 16.0, 150.0
# How much of each course is drawn bare between its laps, in drawing units; the rest of it is broken out.
BARE = 38.0

SideLap = Annotated[Fraction, LENGTH, FoundAs("base.side_lap")]
WhichLap = Annotated[str, OneOf(("none", *LAPS))]


@drawing(parts=PARTS)
def three_laps(
    sheet: Sheet,
    *,
    lap_1: SideLap,
    lap_2: SideLap,
    lap_3: SideLap,
    ply: Annotated[str, OneOf(("base", "cap"))] = "base",
    lower_on_top: WhichLap = "none",
    open_edge: WhichLap = "none",
) -> None:
    """Four courses in section up the slope with their three laps, numbered from the low edge.

    At the lap that `lower_on_top` names the lower course lies on the upper one; at the one that `open_edge` names the
    edge of the sheet on top stands off the sheet below.
    """
    lengths = (lap_1, lap_2, lap_3)
    for name, value in zip(LAPS, lengths, strict=True):
        positive(sheet, **{name: value})
    sheet.exaggerate()
    sheet.exaggerate("broken")
    sheet.describe(f"alt.three_laps.{ply}")
    slope = _Slope(sheet, lengths, ply, lower_on_top, open_edge)
    sheet.scale(slope.scale)
    slope.draw()
    slope.label(lengths)


@dataclass(frozen=True)
class _Slope:
    """Where courses and laps fall on the sheet, the low edge to the left."""

    sheet: Sheet
    lengths: tuple[Fraction, Fraction, Fraction]
    ply: str
    lower_on_top: str
    open_edge: str

    @property
    def scale(self) -> float:
        """Drawing units an inch: three laps and four bare pieces fill the sheet."""
        return (RIGHT - LEFT - 4 * BARE) / float(sum(self.lengths))

    def lap(self, index: int) -> tuple[float, float]:
        """The low and the high end of a lap."""
        start = LEFT + BARE * (index + 1) + float(sum(self.lengths[:index])) * self.scale
        return start, start + float(self.lengths[index]) * self.scale

    def reversed(self, index: int) -> bool:
        """Whether the lower course lies on top at a lap; false past the first and the last."""
        return 0 <= index < len(LAPS) and LAPS[index] == self.lower_on_top

    def draw(self) -> None:
        """Draw the deck and the four courses, each from its own lap to the next."""
        canvas, fill = self.sheet.canvas, self.sheet.fill
        with self.sheet.part("deck", (LEFT, FLOOR + 4, RIGHT - LEFT, 24)):
            canvas.rect(LEFT, FLOOR, RIGHT - LEFT, DECK, fill=fill("deck"), kind="cut deck")
        for course in range(4):
            low = LEFT if course == 0 else self.lap(course - 1)[0]
            high = RIGHT if course == 3 else self.lap(course)[1]
            bare = (LEFT if course == 0 else self.lap(course - 1)[1], RIGHT if course == 3 else self.lap(course)[0])
            box = (bare[0] + 5, FLOOR - THICK - 8, bare[1] - bare[0] - 10, 24)
            with self.sheet.part(f"course_{course + 1}", box):
                for outline in self._course(course, low, high):
                    canvas.path(outline, closed=True, fill=fill(self.ply), kind=f"cut {self.ply}")
        for course in range(4):
            middle = LEFT + BARE / 2 if course == 0 else (self.lap(course - 1)[1] + BARE / 2)
            self.sheet.break_across(middle, FLOOR - THICK, FLOOR)
        for index, name in enumerate(LAPS):
            start, end = self.lap(index)
            with self.sheet.part(name, (start - 3, FLOOR - 2 * THICK - 12, end - start + 6, 2 * THICK + 14)):
                pass

    def _course(self, course: int, low: float, high: float) -> list[list[Point]]:
        """The outlines of a course: flat where it lies below, stepped where it lies on its neighbor."""
        climbs_low = course > 0 and not self.reversed(course - 1)
        climbs_high = self.reversed(course)
        middle = LEFT + BARE / 2 if course == 0 else self.lap(course - 1)[1] + BARE / 2
        left, right = self._flat(low, middle), self._flat(middle, high)
        if climbs_low:
            lift = THICK if LAPS[course - 1] == self.open_edge else 0.0
            left = _lifted(stepped(low, self.lap(course - 1)[1], middle, FLOOR, THICK), lift)
        if climbs_high:
            lift = THICK if LAPS[course] == self.open_edge else 0.0
            right = _lifted(stepped_left(high, self.lap(course)[0], middle, FLOOR, THICK), lift)
        return [left, right]

    @staticmethod
    def _flat(start: float, end: float) -> list[Point]:
        return [(start, FLOOR - THICK), (end, FLOOR - THICK), (end, FLOOR), (start, FLOOR)]

    def label(self, lengths: tuple[Fraction, ...]) -> None:
        """Dimension each lap, number the courses, show where water runs, and say what lies on top."""
        sheet = self.sheet
        for index, name in enumerate(LAPS):
            start, end = self.lap(index)
            y = 92.0 if index % 2 else 62.0
            written = sheet.dimension(name, lengths[index])
            sheet.across(start, end, y, written, caption=sheet.label(name), tops=(FLOOR - 2 * THICK - 4,) * 2)
        for course in range(4):
            middle = LEFT + BARE / 2 if course == 0 else self.lap(course - 1)[1] + BARE / 2
            sheet.mark((middle, FLOOR + DECK + 18), (middle, FLOOR + DECK + 18), str(course + 1))
        sheet.canvas.text((LEFT, 22), sheet.say("water_runs_left"))
        sheet.bottom = FLOOR + DECK + 34
        for index, name in enumerate(LAPS):
            on_top = index + 1 if self.reversed(index) else index + 2
            below = index + 2 if self.reversed(index) else index + 1
            key = "alt.three_laps.open" if name == self.open_edge else "alt.three_laps.closed"
            sheet.describe(key, lap=sheet.label(name), upper=on_top, lower=below)


def _lifted(outline: list[Point], lift: float) -> list[Point]:
    """Raise the free edge of a sheet that lies on another: the corners where its outline starts and ends."""
    if not lift:
        return outline
    (x1, y1), (x2, y2) = outline[0], outline[-1]
    knee = x1 + (outline[1][0] - x1) * 0.55
    return [(x1, y1 - lift), (knee, y1), *outline[1:-1], (knee, y2), (x2, y2 - lift)]
