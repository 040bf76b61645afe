"""Laps of one ply: side lap and end lap in section, the T-joint in plan."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import LINE, THICK, THIN, Point
from trainer.drawings.checks import need, not_negative, positive
from trainer.drawings.derive import worked_out
from trainer.drawings.registry import OneOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import ANGLE, Angle, Length

DECK = 13.0


@drawing("exposure")
def side_lap(
    sheet: Sheet,
    roll_width: Length,
    side_lap: Length,
    ply: Annotated[str, OneOf(("base", "cap"))] = "base",
    selvage_cover: Length | None = None,
) -> None:
    """Two courses in section up the slope, whole and enlarged at the lap; the upper course lies on the lower."""
    positive(sheet, roll_width=roll_width, side_lap=side_lap)
    need(
        sheet,
        side_lap < roll_width,
        "side_lap",
        side_lap,
        "it must be less than the roll width",
        "measure it again",
    )
    not_negative(sheet, selvage_cover=selvage_cover)
    if ply == "base":
        selvage_cover = None
    if selvage_cover is not None:
        need(
            sheet, selvage_cover < side_lap, "selvage_cover", selvage_cover, "it must be less than the side lap",
            "measure it again",
        )  # fmt: skip
    sheet.describe(f"alt.side_lap.{ply}")
    _two_courses(sheet, roll_width, side_lap, ply)
    _lap_enlarged(sheet, side_lap, ply, selvage_cover)


def _two_courses(sheet: Sheet, roll_width: Fraction, lap: Fraction, ply: str) -> None:
    canvas = sheet.canvas
    scale = (RIGHT - LEFT - 8) / float(2 * roll_width - lap)
    left, deck = LEFT + 4, 128.0
    upper = left + float(roll_width - lap) * scale
    lower_end = left + float(roll_width) * scale
    end = left + float(2 * roll_width - lap) * scale
    sheet.view("view.whole", 22, scale)
    _floor(sheet, deck, ply)
    fill = sheet.fill(ply)
    canvas.rect(left, deck - 5, lower_end - left, 5, fill=fill, kind=f"cut {ply}")
    canvas.path(stepped(upper, lower_end, end, deck, 5), closed=True, fill=fill, kind=f"cut {ply}")
    sheet.across(
        left, lower_end, 100, sheet.dimension("roll_width", roll_width), caption=sheet.label("roll_width"),
        tops=(deck - 6, deck - 12),
    )  # fmt: skip
    if sheet.shows("exposure"):
        value = worked_out(sheet, "exposure", roll_width=roll_width, side_lap=lap)
        sheet.across(
            left, upper, 62, sheet.dimension("exposure", value), caption=sheet.label("exposure"),
            tops=(deck - 6, deck - 12),
        )  # fmt: skip
    sheet.water((RIGHT - 14, 74), (RIGHT - 58, 74))


def _floor(sheet: Sheet, top: float, ply: str, deep: float = DECK) -> None:
    """Draw what the courses lie on: the roof deck, or the base sheet on it under a cap sheet."""
    canvas = sheet.canvas
    if ply == "cap":
        canvas.rect(LEFT, top, RIGHT - LEFT, 6, fill=sheet.fill("base"), kind="cut base")
        top, deep = top + 6, deep - 3
    canvas.rect(LEFT, top, RIGHT - LEFT, deep, fill=sheet.fill("deck"), kind="cut deck")


def stepped(start: float, step: float, end: float, floor: float, thick: float) -> list[Point]:
    """The outline of a sheet that lies on another up to `step`, then on the floor; both run to the right."""
    ramp = thick * 1.2
    return [
        (start, floor - thick),
        (step, floor - thick),
        (step + ramp, floor),
        (end, floor),
        (end, floor - thick),
        (step + ramp + thick * 0.4, floor - thick),
        (step + thick * 0.4, floor - 2 * thick),
        (start, floor - 2 * thick),
    ]


def _lap_enlarged(sheet: Sheet, lap: Fraction, ply: str, cover: Fraction | None) -> None:
    canvas = sheet.canvas
    scale = 150 / float(lap)
    left, right = 96.0, 246.0
    deck, thick = 270.0, 14.0
    sheet.view("view.lap", 174, scale)
    sheet.exaggerate()
    fill = sheet.fill(ply)
    _floor(sheet, deck, ply, DECK + 5)
    canvas.rect(LEFT, deck - thick, right - LEFT, thick, fill="#fff", line=0, kind="paper")
    under = right if cover is None else left + float(cover) * scale
    canvas.rect(LEFT, deck - thick, under - LEFT, thick, fill=fill, line=0, kind=f"cut {ply}")
    canvas.rect(LEFT, deck - thick, right - LEFT, thick, kind=f"cut {ply}")
    canvas.path(stepped(left, right, RIGHT, deck, thick), closed=True, fill=fill, kind=f"cut {ply}")
    sheet.across(
        left, right, 222, sheet.dimension("side_lap", lap), caption=sheet.label("side_lap"),
        tops=(deck - 2 * thick, deck - 2 * thick),
    )  # fmt: skip
    sheet.bottom = deck + DECK + 26
    if cover is not None:
        canvas.line((under, deck - thick), (under, deck), width=THICK, kind="line selvage")
        sheet.across(
            left, under, deck + 36, sheet.dimension("selvage_cover", cover), caption=sheet.label("selvage_cover"),
            tops=(deck - thick, deck), below=True,
        )  # fmt: skip
        sheet.bottom = deck + 76
    sheet.callout((44, deck - thick / 2), (44, 222), sheet.say("lower_course"))
    sheet.callout((296, deck - thick / 2), (296, 222), sheet.say("upper_course"))
    sheet.callout((296, deck + 4), (296, deck + 38), sheet.say("base_sheet" if ply == "cap" else "deck"))
    if cover is not None:
        sheet.callout((under, deck - 4), (under + 96, deck + 38), sheet.say("selvage"))


@drawing()
def end_lap(sheet: Sheet, end_lap: Length, side_lap: Length, roll_width: Length = Fraction(315, 8)) -> None:
    """Two lengths of one course: in plan with the courses beside it, and in section along the course."""
    positive(sheet, end_lap=end_lap, side_lap=side_lap, roll_width=roll_width)
    need(
        sheet,
        side_lap < roll_width,
        "side_lap",
        side_lap,
        "it must be less than the roll width",
        "measure it again",
    )
    sheet.describe("alt.end_lap")
    scale = _end_lap_plan(sheet, end_lap, side_lap, roll_width)
    _end_lap_section(sheet, end_lap, scale)


def _end_lap_plan(sheet: Sheet, lap: Fraction, side: Fraction, width: Fraction) -> float:
    canvas = sheet.canvas
    scale = min(118 / float(width), 110 / float(lap))
    top, left, right = 50.0, LEFT + 26, RIGHT - 26
    bottom = top + float(width) * scale
    lower = bottom - float(side) * scale
    start = (left + right) / 2 - float(lap) * scale / 2
    end = start + float(lap) * scale
    sheet.view("view.plan", 22, scale)
    canvas.line((left, top), (right, top), kind="line")
    canvas.line((left, bottom), (right, bottom), width=LINE, kind="line")
    canvas.rect(start, top, end - start, bottom - top, fill=sheet.fill("lap"), line=0, kind="lap")
    canvas.line((start, top), (start, bottom), width=THICK, kind="line")
    canvas.line((end, top), (end, bottom), dash="5 3", kind="hidden")
    canvas.line((left, top + float(side) * scale), (right, top + float(side) * scale), dash="5 3", kind="hidden")
    sheet.mark(((left + start) / 2, (top + lower) / 2), ((left + start) / 2, (top + lower) / 2), "1")
    sheet.mark(((end + right) / 2, (top + lower) / 2), ((end + right) / 2, (top + lower) / 2), "2")
    sheet.break_across(left, top, bottom)
    sheet.break_across(right, top, bottom)
    sheet.upward(top, top + float(side) * scale, right - 30, sheet.dimension("side_lap", side), side="left", room=100)
    sheet.water((left + 34, bottom - 44), (left + 34, bottom - 16), "")
    canvas.text((left + 44, bottom - 24), sheet.say("water"))
    sheet.bottom = bottom + 12
    return scale


def _end_lap_section(sheet: Sheet, lap: Fraction, plan_scale: float) -> None:
    canvas = sheet.canvas
    top = sheet.bottom + 22
    scale = 140 / float(lap)
    left, right = 100.0, 240.0
    deck, thick = top + 86, 14.0
    sheet.view("view.section", top, scale)
    sheet.exaggerate()
    fill = sheet.fill("base")
    canvas.rect(LEFT, deck, RIGHT - LEFT, DECK + 3, fill=sheet.fill("deck"), kind="cut deck")
    canvas.rect(LEFT, deck - thick, right - LEFT, thick, fill=fill, kind="cut base")
    canvas.path(stepped(left, right, RIGHT, deck, thick), closed=True, fill=fill, kind="cut base")
    sheet.across(
        left, right, deck - 44, sheet.dimension("end_lap", lap), caption=sheet.label("end_lap"),
        tops=(deck - 2 * thick, deck - 2 * thick),
    )  # fmt: skip
    sheet.bottom = deck + DECK + 8
    sheet.callout((50, deck - thick / 2), (50, deck - 44), sheet.say("length_overlapped"))
    sheet.callout((290, deck - thick / 2), (290, deck - 44), sheet.say("length_overlapping"))


@drawing()
def t_joint(
    sheet: Sheet,
    corner_cut: Length,
    side_lap: Length,
    end_lap: Length,
    corner_cut_angle: Angle = Fraction(45),
    cut_on: Annotated[str, OneOf(("overlapped", "overlapping"))] = "overlapped",
) -> None:
    """The corner cut where an end lap runs under the next course, in plan; the next course is drawn as if clear."""
    positive(sheet, corner_cut=corner_cut, side_lap=side_lap, end_lap=end_lap)
    if not 5 <= corner_cut_angle <= 85:
        limit = "a corner cut lies between 5 and 85 degrees"
        need(sheet, False, "corner_cut_angle", Fraction(corner_cut_angle), limit, "measure it from the selvage")
    sheet.describe("alt.t_joint")
    sheet.describe(f"alt.t_joint.{cut_on}")
    down = float(corner_cut) * math.tan(math.radians(float(corner_cut_angle)))
    wide = float(max(end_lap, corner_cut)) + 9
    tall = max(float(side_lap), down) + 8
    scale = min((RIGHT - LEFT) / wide, 190 / tall)
    _Joint(sheet, scale, float(end_lap), float(side_lap), float(corner_cut), down).draw(cut_on)
    _joint_dimensions(sheet, scale, corner_cut, side_lap, end_lap, corner_cut_angle, cut_on)


class _Joint:
    """Where the lines of the T-joint fall on the sheet: y down the slope, x along the course."""

    def __init__(self, sheet: Sheet, scale: float, end: float, side: float, cut: float, down: float) -> None:
        self.sheet = sheet
        self.top = 92.0
        self.lower_edge = self.top + side * scale
        self.bottom = self.top + max(side, down) * scale + 56
        middle = (LEFT + RIGHT) / 2
        self.left, self.right = middle - end * scale / 2, middle + end * scale / 2
        self.cut, self.down = cut * scale, down * scale

    def draw(self, cut_on: str) -> None:
        """Draw the two lengths, the course above, the lap, and the corner that is cut away."""
        canvas, top, bottom = self.sheet.canvas, self.top, self.bottom
        corner, toward = (self.right, -1) if cut_on == "overlapped" else (self.left, 1)
        end = (corner + toward * self.cut, top)
        side = (corner, top + self.down)
        canvas.rect(
            self.left,
            top,
            self.right - self.left,
            bottom - top,
            fill=self.sheet.fill("lap"),
            line=0,
            kind="lap",
        )
        self.sheet.canvas.path([(corner, top), end, side], closed=True, fill="#fff", line=0, kind="paper")
        canvas.path([(corner, top), end, side], closed=True, fill=self.sheet.fill("sealant"), line=THIN, dash="2 2")
        canvas.line(end, side, width=THICK, kind="line cut-line")
        self._edges(cut_on, end[0], side[1])
        canvas.line((LEFT, self.lower_edge), (RIGHT, self.lower_edge), dash="9 3", kind="line next-course")
        for x in (LEFT, RIGHT):
            self.sheet.break_across(x + (6 if x == LEFT else -6), top, bottom)
        self.sheet.break_up(bottom, LEFT + 14, RIGHT - 14)

    def _edges(self, cut_on: str, end: float, side: float) -> None:
        canvas, top, bottom = self.sheet.canvas, self.top, self.bottom
        overlapped = cut_on == "overlapped"
        canvas.line((self.right, side if overlapped else top), (self.right, bottom), dash="5 3", kind="hidden")
        canvas.line((self.left, top if overlapped else side), (self.left, bottom), width=THICK, kind="line")
        if overlapped:
            canvas.line((LEFT, top), (end, top), kind="line")
            canvas.line((self.left, top), (RIGHT, top), kind="line")
        else:
            canvas.line((LEFT, top), (self.right, top), kind="line")
            canvas.line((end, top), (RIGHT, top), kind="line")


def _joint_dimensions(
    sheet: Sheet, scale: float, cut: Fraction, side: Fraction, end: Fraction, angle: Fraction, cut_on: str
) -> None:
    down = float(cut) * math.tan(math.radians(float(angle)))
    joint = _Joint(sheet, scale, float(end), float(side), float(cut), down)
    corner, toward = (joint.right, -1) if cut_on == "overlapped" else (joint.left, 1)
    first, last = sorted((corner, corner + toward * joint.cut))
    sheet.across(
        first, last, 66, sheet.dimension("corner_cut", cut), caption=sheet.label("corner_cut"),
        tops=(joint.top, joint.top),
    )  # fmt: skip
    beside = RIGHT - 78
    sheet.upward(joint.top, joint.lower_edge, beside, sheet.dimension("side_lap", side), side="right", room=60)
    sheet.across(
        joint.left, joint.right, joint.bottom + 22, sheet.dimension("end_lap", end), caption=sheet.label("end_lap"),
        tops=(joint.bottom + 6, joint.bottom + 6), below=True,
    )  # fmt: skip
    written = sheet.dimension(
        "corner_cut_angle", None, ANGLE.text(angle, sheet.units, sheet.language).replace(" °", "°")
    )
    sheet.bottom = joint.bottom + 58
    low = joint.lower_edge + (joint.bottom - joint.lower_edge) * 0.55
    sheet.callout((46, low), (46, low), sheet.say("length_overlapped"))
    sheet.callout((RIGHT - 46, low), (RIGHT - 46, low), sheet.say("length_overlapping"))
    sheet.callout((58, joint.lower_edge), (46, 66), sheet.say("next_course"))
    middle = (corner + toward * joint.cut * 0.5, joint.top + joint.down * 0.5)
    sheet.callout(middle, (corner + toward * joint.cut * -0.55, 66), sheet.say("corner_cut_away", angle=written))
