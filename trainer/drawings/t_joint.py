"""The T-joint in plan: an end lap that runs under the next course, and the corner that is cut for it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import THICK, THIN
from trainer.drawings.checks import positive
from trainer.drawings.parts import around
from trainer.drawings.registry import OneOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import ANGLE, Angle, Length

TOP = 92.0


@drawing(parts=("corner", "end_lap", "side_lap", "first", "second", "next_course"))
def t_joint(
    sheet: Sheet,
    *,
    corner_cut: Length,
    side_lap: Length,
    end_lap: Length,
    corner_cut_angle: Angle = Fraction(45),
    cut_on: Annotated[str, OneOf(("overlapped", "overlapping", "none"))] = "overlapped",
) -> None:
    """The corner cut where an end lap runs under the next course, in plan; the next course is drawn as if clear."""
    positive(sheet, corner_cut=corner_cut, side_lap=side_lap, end_lap=end_lap)
    angle = Fraction(corner_cut_angle)
    limit = "a corner cut lies between 5 and 85 degrees"
    sheet.need(5 <= angle <= 85, "corner_cut_angle", angle, limit, "measure it from the edge of the sheet")
    sheet.describe("alt.t_joint")
    sheet.describe(f"alt.t_joint.{cut_on}")
    joint = _Joint(sheet, corner_cut, side_lap, end_lap, angle, first=cut_on != "overlapping", cut=cut_on != "none")
    sheet.scale(joint.scale)
    joint.draw()
    joint.dimensions()
    joint.notes()


@dataclass(frozen=True)
class _Joint:
    """Where the lines of the joint fall on the sheet: y down the slope, x along the course.

    Sheet 1 comes from the left and ends at `right`, sheet 2 lies on it from `left`; `first` tells whose corner is
    cut, `cut` whether it is cut away at all.
    """

    sheet: Sheet
    corner_cut: Fraction
    side_lap: Fraction
    end_lap: Fraction
    angle: Fraction
    first: bool
    cut: bool

    @property
    def deep(self) -> float:
        """How far the cut reaches down the end of the sheet, inches."""
        return float(self.corner_cut) * math.tan(math.radians(float(self.angle)))

    @property
    def scale(self) -> float:
        """Drawing units an inch: lap and cut with some sheet on every side."""
        wide = float(max(self.end_lap, self.corner_cut)) + 9
        return min((RIGHT - LEFT) / wide, 190 / (max(float(self.side_lap), self.deep) + 8))

    @property
    def left(self) -> float:
        """The end of sheet 2."""
        return (LEFT + RIGHT - float(self.end_lap) * self.scale) / 2

    @property
    def right(self) -> float:
        """The end of sheet 1."""
        return (LEFT + RIGHT + float(self.end_lap) * self.scale) / 2

    @property
    def next_course(self) -> float:
        """The lower edge of the next course up."""
        return TOP + float(self.side_lap) * self.scale

    @property
    def bottom(self) -> float:
        """Where the drawing of both sheets is broken off."""
        return TOP + max(float(self.side_lap), self.deep) * self.scale + 56

    @property
    def corner(self) -> float:
        """Where the corner was that is cut away."""
        return self.right if self.first else self.left

    @property
    def toward(self) -> int:
        """Which way the sheet lies from its corner."""
        return -1 if self.first else 1

    @property
    def cut_end(self) -> float:
        """Where the cut meets the upper edge of the sheet."""
        return self.corner + self.toward * float(self.corner_cut) * self.scale

    @property
    def cut_low(self) -> float:
        """Where the cut meets the end of the sheet."""
        return TOP + self.deep * self.scale

    def draw(self) -> None:
        """Draw the two lengths, the course above, the lap, and the corner that is cut away."""
        canvas, bottom = self.sheet.canvas, self.bottom
        lap, low = self.sheet.fill("lap"), self.next_course + 12
        with self.sheet.part("end_lap", (self.left, low, self.right - self.left, bottom - low)):
            canvas.rect(self.left, TOP, self.right - self.left, bottom - TOP, fill=lap, line=0, kind="lap")
        piece = [(self.corner, TOP), (self.cut_end, TOP), (self.corner, self.cut_low)]
        with self.sheet.part("corner", around(piece)):
            if self.cut:
                canvas.path(piece, closed=True, fill="#fff", line=0, kind="paper")
                canvas.path(piece, closed=True, fill=self.sheet.fill("sealant"), line=THIN, dash="2 2")
                canvas.line(piece[1], piece[2], width=THICK, kind="line cut-line")
        self._edges()
        self._courses()
        for x in (LEFT + 6, RIGHT - 6):
            self.sheet.break_across(x, TOP, bottom)
        self.sheet.break_up(bottom, LEFT + 14, RIGHT - 14)

    def _courses(self) -> None:
        """Draw the edge of the next course up; the sheets lie below it, the side lap above it."""
        canvas, y = self.sheet.canvas, self.next_course
        with self.sheet.part("next_course", (LEFT, y - 12, self.left - LEFT - 14, 24)):
            canvas.line((LEFT, y), (RIGHT, y), dash="9 3", kind="line next-course")
        low, high = self.bottom - y - 14, y - TOP
        for name, box in (
            ("first", (LEFT, y + 14, self.left - LEFT, low)),
            ("second", (self.right, y + 14, RIGHT - self.right, low)),
            ("side_lap", (self.right + 8, TOP, RIGHT - self.right - 8, high)),
        ):
            with self.sheet.part(name, box):
                pass

    def _edges(self) -> None:
        """Draw the ends and upper edges of both sheets, all but the piece that is gone."""
        canvas, bottom = self.sheet.canvas, self.bottom
        cut_low, cut_end = (self.cut_low, self.cut_end) if self.cut else (TOP, self.corner)
        hidden_top, seen_top = (cut_low, TOP) if self.first else (TOP, cut_low)
        canvas.line((self.right, hidden_top), (self.right, bottom), dash="5 3", kind="hidden")
        canvas.line((self.left, seen_top), (self.left, bottom), width=THICK, kind="line")
        first_ends, second_starts = (cut_end, self.left) if self.first else (self.right, cut_end)
        canvas.line((LEFT, TOP), (first_ends, TOP), kind="line")
        canvas.line((second_starts, TOP), (RIGHT, TOP), kind="line")

    def dimensions(self) -> None:
        """Dimension the cut, the side lap and the end lap."""
        sheet = self.sheet
        first, last = sorted((self.corner, self.cut_end))
        if self.cut:
            cut = sheet.dimension("corner_cut", self.corner_cut)
            sheet.across(first, last, 66, cut, caption=sheet.label("corner_cut"), tops=(TOP, TOP))
        side = sheet.dimension("side_lap", self.side_lap)
        sheet.upward(TOP, self.next_course, RIGHT - 78, side, side="right", room=60)
        lap, below = sheet.dimension("end_lap", self.end_lap), self.bottom + 6
        sheet.across(
            self.left,
            self.right,
            self.bottom + 22,
            lap,
            caption=sheet.label("end_lap"),
            tops=(below, below),
            below=True,
        )

    def notes(self) -> None:
        """Number the two sheets, the next course, and the corner that is gone."""
        sheet = self.sheet
        written = ANGLE.text(self.angle, sheet.units, sheet.language).replace(" °", "°")
        sheet.bottom = self.bottom + 58
        low = self.next_course + (self.bottom - self.next_course) * 0.55
        sheet.callout((46, low), (46, low), sheet.say("length_overlapped"))
        sheet.callout((RIGHT - 46, low), (RIGHT - 46, low), sheet.say("length_overlapping"))
        sheet.callout((58, self.next_course), (46, 66), sheet.say("next_course"))
        if not self.cut:
            return
        angle = sheet.dimension("corner_cut_angle", None, written)
        middle = ((self.corner + self.cut_end) / 2, (TOP + self.cut_low) / 2)
        beside = self.corner - (self.cut_end - self.corner) * 0.55
        sheet.callout(middle, (beside, 66), sheet.say("corner_cut_away", angle=angle))
