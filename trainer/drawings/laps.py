"""Laps of one ply in section: side lap and end lap."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import LINE, THICK, Point
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.derive import worked_out
from trainer.drawings.registry import OneOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import Length

DECK = 13.0


@drawing("exposure", parts=("lower", "upper", "side_lap", "floor"))
def side_lap(
    sheet: Sheet,
    *,
    roll_width: Length,
    side_lap: Length,
    ply: Annotated[str, OneOf(("base", "cap"))] = "base",
    selvage_cover: Length | None = None,
    on_top: Annotated[str, OneOf(("upper", "lower"))] = "upper",
) -> None:
    """Two courses in section up the slope, whole and enlarged at the lap; `on_top` says which one lies on top."""
    positive(sheet, roll_width=roll_width, side_lap=side_lap)
    sheet.need(
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
        sheet.need(selvage_cover < side_lap, "selvage_cover", selvage_cover, "it must be less than the side lap",
            "measure it again",
        )  # fmt: skip
    sheet.describe(f"alt.side_lap.{ply}")
    sheet.describe(f"alt.on_top.{on_top}")
    _two_courses(sheet, roll_width, side_lap, ply, on_top)
    _lap_enlarged(sheet, side_lap, ply, selvage_cover if on_top == "upper" else None, on_top)


def _two_courses(sheet: Sheet, roll_width: Fraction, lap: Fraction, ply: str, on_top: str) -> None:
    canvas = sheet.canvas
    scale = (RIGHT - LEFT - 8) / float(2 * roll_width - lap)
    left, deck = LEFT + 4, 128.0
    upper = left + float(roll_width - lap) * scale
    lower_end = left + float(roll_width) * scale
    end = left + float(2 * roll_width - lap) * scale
    sheet.view("view.whole", 22, scale)
    _floor(sheet, deck, ply)
    fill = sheet.fill(ply)
    if on_top == "upper":
        canvas.rect(left, deck - 5, lower_end - left, 5, fill=fill, kind=f"cut {ply}")
        canvas.path(stepped(upper, lower_end, end, deck, 5), closed=True, fill=fill, kind=f"cut {ply}")
    else:
        canvas.rect(upper, deck - 5, end - upper, 5, fill=fill, kind=f"cut {ply}")
        canvas.path(stepped_left(lower_end, upper, left, deck, 5), closed=True, fill=fill, kind=f"cut {ply}")
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


def stepped_left(start: float, step: float, end: float, floor: float, thick: float) -> list[Point]:
    """The outline of a sheet that lies on another up to `step`, then on the floor; both run to the left."""
    return [(-x, y) for x, y in stepped(-start, -step, -end, floor, thick)]


def _lap_enlarged(sheet: Sheet, lap: Fraction, ply: str, cover: Fraction | None, on_top: str) -> None:
    canvas = sheet.canvas
    scale = 150 / float(lap)
    left, right = 96.0, 246.0
    deck, thick = 270.0, 14.0
    sheet.view("view.lap", 174, scale)
    sheet.exaggerate()
    fill = sheet.fill(ply)
    with sheet.part("floor", (LEFT, deck + 2, RIGHT - LEFT, DECK + 8)):
        _floor(sheet, deck, ply, DECK + 5)
    with sheet.part("lower", (LEFT, deck - thick - 8, left - LEFT - 8, thick + 10)):
        if on_top == "upper":
            canvas.rect(LEFT, deck - thick, right - LEFT, thick, fill="#fff", line=0, kind="paper")
            shown = right if cover is None else left + float(cover) * scale
            canvas.rect(LEFT, deck - thick, shown - LEFT, thick, fill=fill, line=0, kind=f"cut {ply}")
            canvas.rect(LEFT, deck - thick, right - LEFT, thick, kind=f"cut {ply}")
        else:
            outline = stepped_left(right, left, LEFT, deck, thick)
            canvas.path(outline, closed=True, fill=fill, kind=f"cut {ply}")
    with sheet.part("upper", (right + 24, deck - thick - 8, RIGHT - right - 24, thick + 10)):
        if on_top == "upper":
            canvas.path(stepped(left, right, RIGHT, deck, thick), closed=True, fill=fill, kind=f"cut {ply}")
        else:
            canvas.rect(left, deck - thick, RIGHT - left, thick, fill=fill, kind=f"cut {ply}")
    with sheet.part("side_lap", (left - 6, deck - 2 * thick - 6, right - left + 12, 2 * thick + 7)):
        pass
    sheet.across(
        left, right, 222, sheet.dimension("side_lap", lap), caption=sheet.label("side_lap"),
        tops=(deck - 2 * thick, deck - 2 * thick),
    )  # fmt: skip
    sheet.bottom = deck + DECK + 26
    if cover is not None:
        under = left + float(cover) * scale
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
        under = left + float(cover) * scale
        sheet.callout((under, deck - 4), (under + 96, deck + 38), sheet.say("selvage"))


@drawing(parts=("first", "second", "end_lap", "side_lap", "deck"))
def end_lap(sheet: Sheet, *, end_lap: Length, side_lap: Length, roll_width: Length = Fraction(315, 8)) -> None:
    """Two lengths of one course: in plan with the courses beside it, and in section along the course."""
    positive(sheet, end_lap=end_lap, side_lap=side_lap, roll_width=roll_width)
    sheet.need(
        side_lap < roll_width,
        "side_lap",
        side_lap,
        "it must be less than the roll width",
        "measure it again",
    )
    sheet.describe("alt.end_lap")
    _end_lap_plan(sheet, end_lap, side_lap, roll_width)
    _end_lap_section(sheet, end_lap)


def _end_lap_plan(sheet: Sheet, lap: Fraction, side: Fraction, width: Fraction) -> None:
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
    with sheet.part("end_lap", (start, top + float(side) * scale, end - start, bottom - top - float(side) * scale)):
        canvas.rect(start, top, end - start, bottom - top, fill=sheet.fill("lap"), line=0, kind="lap")
    canvas.line((start, top), (start, bottom), width=THICK, kind="line")
    with sheet.part("side_lap", (end + 8, top, right - end - 8, float(side) * scale)):
        pass
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


def _end_lap_section(sheet: Sheet, lap: Fraction) -> None:
    canvas = sheet.canvas
    top = sheet.bottom + 22
    scale = 140 / float(lap)
    left, right = 100.0, 240.0
    deck, thick = top + 86, 14.0
    sheet.view("view.section", top, scale)
    sheet.exaggerate()
    fill = sheet.fill("base")
    with sheet.part("deck", (LEFT, deck + 2, RIGHT - LEFT, DECK + 11)):
        canvas.rect(LEFT, deck, RIGHT - LEFT, DECK + 3, fill=sheet.fill("deck"), kind="cut deck")
    with sheet.part("first", (LEFT, deck - thick - 8, left - LEFT - 8, thick + 10)):
        canvas.rect(LEFT, deck - thick, right - LEFT, thick, fill=fill, kind="cut base")
    with sheet.part("second", (right + 24, deck - thick - 8, RIGHT - right - 24, thick + 10)):
        canvas.path(stepped(left, right, RIGHT, deck, thick), closed=True, fill=fill, kind="cut base")
    with sheet.part("end_lap", (left - 6, deck - 2 * thick - 6, right - left + 12, 2 * thick + 7)):
        pass
    sheet.across(
        left, right, deck - 44, sheet.dimension("end_lap", lap), caption=sheet.label("end_lap"),
        tops=(deck - 2 * thick, deck - 2 * thick),
    )  # fmt: skip
    sheet.bottom = deck + DECK + 8
    sheet.callout((50, deck - thick / 2), (50, deck - 44), sheet.say("length_overlapped"))
    sheet.callout((290, deck - thick / 2), (290, deck - 44), sheet.say("length_overlapping"))
