"""Laps that must keep apart: end laps of neighboring courses, side laps of the two plies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import LINE, THICK, THIN
from trainer.drawings.checks import need, not_negative, positive
from trainer.drawings.derive import worked_out
from trainer.drawings.laps import DECK, stepped
from trainer.drawings.layout import BaseCut, Base, CapRollWidth, CapSideLap, CapStarter, ply_laps, starter
from trainer.drawings.registry import DrawingInputError, FoundAs, drawing
from trainer.drawings.sheet import LEFT, RIGHT, SMALL, Sheet, spread
from trainer.rules.dimensions import LENGTH, Length, Lengths

# The thickness of a sheet as drawn, in drawing units.
THICKNESS = 10.0

BaseRollWidth = Annotated[Fraction, LENGTH, FoundAs("base.roll_width")]
BaseSideLap = Annotated[Fraction, LENGTH, FoundAs("base.side_lap")]
BaseOverhang = Annotated[Fraction, LENGTH, FoundAs("base.overhang")]


@drawing("stagger")
def end_lap_stagger(
    sheet: Sheet,
    roll_width: Length,
    side_lap: Length,
    end_lap: Length,
    end_lap_stagger: Length | None = None,
    upper: Lengths | None = None,
    lower: Lengths | None = None,
    eave: Length | None = None,
) -> None:
    """Two courses from above with their end laps: one of each and the stagger, or every lap along an edge."""
    positive(sheet, roll_width=roll_width, side_lap=side_lap, end_lap=end_lap, eave=eave)
    need(
        sheet,
        side_lap < roll_width,
        "side_lap",
        side_lap,
        "it must be less than the roll width",
        "measure it again",
    )
    not_negative(sheet, end_lap_stagger=end_lap_stagger)
    if upper is not None and lower is not None:
        _laps_along(sheet, (roll_width, side_lap, end_lap), upper, lower, eave)
    elif end_lap_stagger is not None:
        _one_stagger(sheet, roll_width, side_lap, end_lap, end_lap_stagger)
    else:
        raise DrawingInputError(
            sheet.name,
            "end_lap_stagger",
            "missing",
            "this drawing needs it",
            "give it, or both upper and lower",
        )


def _one_stagger(sheet: Sheet, roll: Fraction, side: Fraction, lap: Fraction, stagger: Fraction) -> None:
    canvas = sheet.canvas
    scale = min((RIGHT - LEFT - 40) / float(stagger + lap + 8), 210 / float(2 * roll - side))
    top = 74.0
    tall, over = float(roll) * scale, float(side) * scale
    seam = top + tall
    bottom = seam + tall - over
    middle = (LEFT + RIGHT) / 2
    low_x = middle - float(stagger + lap) * scale / 2
    high_x = low_x + float(stagger) * scale
    width = float(lap) * scale
    sheet.scale(scale)
    sheet.describe("alt.end_lap_stagger")
    # The upper course lies on the lower one: its laps are drawn whole, the lower one's stop at the seam.
    for x, y1, y2 in ((low_x, seam, bottom), (high_x, top, seam)):
        canvas.rect(x, y1, width, y2 - y1, fill=sheet.fill("lap"), line=0, kind="lap")
        canvas.line((x, y1), (x, y2), width=THICK, kind="line end-lap")
        canvas.line((x + width, y1), (x + width, y2), dash="5 3", kind="hidden")
    for y in (top, seam, bottom):
        canvas.line((LEFT, y), (RIGHT, y), width=LINE, kind="line seam")
    canvas.line((LEFT, seam - over), (RIGHT, seam - over), dash="5 3", kind="hidden")
    for x in (LEFT + 4, RIGHT - 4):
        sheet.break_across(x, top, bottom)
    sheet.across(
        high_x,
        high_x + width,
        48,
        sheet.dimension("end_lap", lap),
        caption=sheet.label("end_lap"),
        tops=(top, top),
    )
    sheet.across(
        low_x, high_x, bottom + 36, sheet.dimension("end_lap_stagger", stagger),
        caption=sheet.label("end_lap_stagger"), tops=(bottom, seam + 4),
    )  # fmt: skip
    canvas.text((LEFT + 14, top + 20), sheet.say("upper_course"), clear=True)
    canvas.text((RIGHT - 14, bottom - 10), sheet.say("lower_course"), anchor="end", clear=True)
    sheet.upward(seam - over, seam, LEFT + 30, sheet.dimension("side_lap", side), room=80)
    sheet.dimension("roll_width", roll)
    sheet.water((RIGHT - 30, seam + 20), (RIGHT - 30, seam + 44))
    sheet.bottom = bottom + 46


def _laps_along(
    sheet: Sheet,
    sizes: tuple[Fraction, Fraction, Fraction],
    upper: Sequence[Fraction],
    lower: Sequence[Fraction],
    eave: Fraction | None,
) -> None:
    roll, side, lap = sizes
    furthest = max([*upper, *lower], default=Fraction(0)) + lap
    length = furthest + roll if eave is None else eave
    for name, marks in (("upper", upper), ("lower", lower)):
        need(sheet, bool(marks), name, Fraction(0), "the course has no end lap", "give at least one place")
        not_negative(sheet, **{name: min(marks)})
        need(
            sheet,
            max(marks) <= length,
            name,
            max(marks),
            "it lies past the end of the course",
            "measure it again",
        )
    canvas = sheet.canvas
    scale = (RIGHT - LEFT) / float(length)
    tall = float(roll - side) * scale
    if tall < 30:
        tall = 30.0
        sheet.exaggerate("width")
    top = 92.0
    seam, bottom = top + tall, top + 2 * tall
    sheet.scale(scale)
    sheet.describe("alt.laps_along")
    for y in (top, seam, bottom):
        canvas.line((LEFT, y), (RIGHT, y), width=LINE, kind="line seam")
    for x in (LEFT, RIGHT):
        canvas.line((x, top), (x, bottom), width=LINE, kind="line")
    for name, marks, y1, y2, text_y in (
        ("upper", upper, top, seam, top - 8),
        ("lower", lower, seam, bottom, bottom + 17),
    ):
        places = [LEFT + float(mark) * scale for mark in marks]
        for place in places:
            canvas.rect(place, y1, max(float(lap) * scale, 2), y2 - y1, fill=sheet.fill("lap"), line=0, kind="lap")
            canvas.line((place, y1), (place, y2), width=THICK, kind="line end-lap")
        for index in spread(places, 92):
            canvas.text(
                (min(max(places[index], LEFT + 34), RIGHT - 34), text_y),
                sheet.length(marks[index]),
                anchor="middle",
                kind="dim",
            )
        sheet.dimension(name, None, "; ".join(sheet.length(mark) for mark in marks))
    canvas.text((LEFT, 24), f"{sheet.say('upper_course')} ↑  {sheet.say('lower_course')} ↓", size=SMALL)
    canvas.text((LEFT, 42), sheet.say("from_left_edge"), size=SMALL)
    sheet.bottom = bottom + 24
    if sheet.shows("stagger"):
        value = worked_out(sheet, "least_stagger", upper=tuple(upper), lower=tuple(lower))
        high, low = min(((u, w) for u in upper for w in lower), key=lambda pair: abs(pair[0] - pair[1]))
        first, second = sorted((LEFT + float(high) * scale, LEFT + float(low) * scale))
        sheet.across(
            first, second, bottom + 36, sheet.dimension("stagger", value), caption=sheet.label("stagger"),
            tops=(bottom + 22, bottom + 22), below=True,
        )  # fmt: skip
        sheet.bottom = bottom + 72
    if eave is not None:
        sheet.note(f"{sheet.label('eave')}: {sheet.dimension('eave', eave)}")
    sheet.note(f"{sheet.label('end_lap')}: {sheet.dimension('end_lap', lap)}")


@drawing("lap_offset", "base_laps", "cap_laps")
def ply_offset(
    sheet: Sheet,
    run: Length,
    overhang: BaseOverhang,
    base_roll_width: BaseRollWidth,
    base_side_lap: BaseSideLap,
    cap_roll_width: CapRollWidth,
    cap_side_lap: CapSideLap,
    starter_width: Length | None = None,
    starter_cut: BaseCut | None = None,
    cap_starter_width: CapStarter | None = None,
) -> None:
    """Both plies in section up the slope: every lap on the whole slope, and the laps enlarged where they are nearest."""
    positive(
        sheet, run=run, base_roll_width=base_roll_width, base_side_lap=base_side_lap, cap_roll_width=cap_roll_width,
        cap_side_lap=cap_side_lap, cap_starter_width=cap_starter_width,
    )  # fmt: skip
    first = starter(sheet, starter_width, base_roll_width, starter_cut)
    base = Base(run, overhang, first, base_roll_width, base_side_lap)
    base.check(sheet)
    base_laps, cap_laps, least = ply_laps(sheet, base, cap_roll_width, cap_side_lap, cap_starter_width)
    sheet.describe("alt.ply_offset")
    sheet.exaggerate()
    _slope_of_laps(sheet, run, base_laps, cap_laps)
    near = (base_laps[0], min(cap_laps, key=lambda lap: abs(lap - base_laps[0])))
    if sheet.shows("lap_offset"):
        near = min(((b, c) for b in base_laps for c in cap_laps), key=lambda pair: abs(pair[0] - pair[1]))
    _nearest_laps(sheet, base, (cap_roll_width, cap_side_lap), (base_laps, cap_laps), near, least)
    for name, value in (
        ("starter_width", first),
        ("base_roll_width", base_roll_width),
        ("cap_roll_width", cap_roll_width),
        ("cap_starter_width", cap_starter_width),
    ):
        if value is not None:
            sheet.note(f"{sheet.label(name)}: {sheet.dimension(name, value)}")
    sheet.note_asked("base_laps", "cap_laps")


def _slope_of_laps(sheet: Sheet, run: Fraction, base_laps: Sequence[Fraction], cap_laps: Sequence[Fraction]) -> None:
    canvas = sheet.canvas
    scale = (RIGHT - LEFT) / float(run)
    sheet.view("view.slope", 22, scale)
    floor = 118.0
    for name, laps, y, fill in (
        ("cap_laps", cap_laps, floor - 16, "cap"),
        ("base_laps", base_laps, floor, "base"),
    ):
        canvas.rect(LEFT, y, RIGHT - LEFT, 9, fill=sheet.fill(fill), line=THIN, kind=f"cut {fill}")
        for lap in laps:
            x = LEFT + float(lap) * scale
            canvas.line((x, y - 4), (x, y + 12), width=THICK, kind=f"line {fill}-lap")
        if sheet.shows(name):
            texts = "; ".join(sheet.length(lap) for lap in laps)
            sheet.dimension(name, None, texts)
    canvas.text((LEFT, floor - 24), sheet.say("cap_sheet"), size=SMALL)
    canvas.text((LEFT, floor + 27), sheet.say("base_sheet"), size=SMALL)
    canvas.text((RIGHT, floor + 27), sheet.say("water_runs_left"), anchor="end", size=SMALL)
    sheet.across(
        LEFT,
        RIGHT,
        62,
        sheet.dimension("run", run),
        caption=sheet.label("run"),
        tops=(floor - 20, floor - 20),
    )
    sheet.bottom = floor + 34


def _nearest_laps(
    sheet: Sheet,
    base: Base,
    cap: tuple[Fraction, Fraction],
    laps: tuple[Sequence[Fraction], Sequence[Fraction]],
    near: tuple[Fraction, Fraction],
    least: Fraction,
) -> None:
    """Enlarge one lap of each ply; their distance is dimensioned where it is asked for."""
    canvas = sheet.canvas
    top = sheet.bottom + 22
    width = max(base.roll_width, cap[0]) * Fraction(3, 2)
    lowest = -base.overhang - 2
    start = max(min((near[0] + near[1]) / 2 - width / 2, base.run + 2 - width), lowest)
    window = _Window(sheet, start, (RIGHT - LEFT) / float(width), base.run)
    base_floor = top + 166
    cap_floor = base_floor - 2 * THICKNESS - 5
    sheet.view("view.nearest" if sheet.shows("lap_offset") else "view.first_laps", top, window.scale)
    left, right = window.x(Fraction(0)), window.x(base.run)
    canvas.rect(left, base_floor, right - left, DECK, fill=sheet.fill("deck"), kind="cut deck")
    window.ply("base", base_floor, -base.overhang, laps[0], base.roll_width, base.side_lap)
    window.ply("cap", cap_floor, Fraction(0), laps[1], cap[0], cap[1])
    x_base, x_cap = (window.x(lap) for lap in near)
    sheet.across(
        x_base, window.x(near[0] + base.side_lap), base_floor + 42, sheet.dimension("base_side_lap", base.side_lap),
        caption=sheet.label("base_side_lap"), tops=(base_floor, base_floor), below=True,
    )  # fmt: skip
    sheet.bottom = base_floor + 80
    above = cap_floor - 2 * THICKNESS
    sheet.across(
        x_cap, window.x(near[1] + cap[1]), top + 96, sheet.dimension("cap_side_lap", cap[1]),
        caption=sheet.label("cap_side_lap"), tops=(above, above),
    )  # fmt: skip
    if sheet.shows("lap_offset"):
        x1, x2 = sorted((x_base, x_cap))
        sheet.across(
            x1, x2, top + 52, sheet.dimension("lap_offset", least), caption=sheet.label("lap_offset"),
            tops=(above, above),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Window:
    """A piece of the slope seen from the side: distances from the low edge become places on the sheet, cut off at its sides."""

    sheet: Sheet
    start: Fraction
    scale: float
    run: Fraction

    def x(self, place: Fraction) -> float:
        """Where a distance up the slope lies on the sheet."""
        return min(max(LEFT + float(place - self.start) * self.scale, LEFT), RIGHT)

    def ply(
        self, name: str, floor: float, first: Fraction, laps: Sequence[Fraction], roll: Fraction, lap: Fraction
    ) -> None:
        """Draw the sheets of one ply; the first lies flat, each other one on the sheet below it."""
        fill, kind = self.sheet.fill(name), f"cut {name}"
        end = self.x(laps[0] + lap)
        if end > self.x(first):
            self.sheet.canvas.rect(
                self.x(first), floor - THICKNESS, end - self.x(first), THICKNESS, fill=fill, kind=kind
            )
        for lower in laps:
            begin, step, end = (self.x(min(place, self.run)) for place in (lower, lower + lap, lower + roll))
            if end <= LEFT or begin >= RIGHT:
                continue
            ramp = THICKNESS * 1.6
            if LEFT < step and step + ramp < end:
                outline = stepped(begin, step, end, floor, THICKNESS)
                self.sheet.canvas.path(outline, closed=True, fill=fill, kind=kind)
            else:
                # Only one level of this sheet is in the window: on the deck above its lap, or on the sheet below it.
                level = floor - THICKNESS if step <= LEFT else floor - 2 * THICKNESS
                self.sheet.canvas.rect(begin, level, end - begin, THICKNESS, fill=fill, kind=kind)
