"""Side laps of the two plies, which must keep apart over the whole slope."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import THICK, THIN
from trainer.drawings.checks import positive
from trainer.drawings.laps import DECK, stepped
from trainer.drawings.layout import Base, BaseCut, CapRollWidth, CapSideLap, CapStarter, ply_laps, starter
from trainer.drawings.registry import FoundAs, drawing
from trainer.drawings.sheet import LEFT, RIGHT, SMALL, Sheet
from trainer.rules.dimensions import LENGTH, Length

# The thickness of a sheet as drawn, in drawing units.
THICKNESS = 10.0

BaseRollWidth = Annotated[Fraction, LENGTH, FoundAs("base.roll_width")]
BaseSideLap = Annotated[Fraction, LENGTH, FoundAs("base.side_lap")]
BaseOverhang = Annotated[Fraction, LENGTH, FoundAs("base.overhang")]


@drawing("lap_offset", "base_laps", "cap_laps", parts=("base_lap", "cap_lap", "lap_offset", "deck"))
def ply_offset(
    sheet: Sheet,
    *,
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
    """Both plies in section up the slope: every lap on it, and the laps enlarged where they are nearest."""
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
    plies = (
        _Ply(-overhang, base_laps, base_roll_width, base_side_lap),
        _Ply(Fraction(0), cap_laps, cap_roll_width, cap_side_lap),
    )
    _nearest_laps(sheet, run, plies, near, least)
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
    run: Fraction,
    plies: tuple[_Ply, _Ply],
    near: tuple[Fraction, Fraction],
    least: Fraction,
) -> None:
    """Enlarge one lap of each ply; their distance is dimensioned where it is asked for."""
    canvas = sheet.canvas
    top = sheet.bottom + 22
    width = max(ply.roll for ply in plies) * Fraction(3, 2)
    lowest = plies[0].start - 2
    start = max(min((near[0] + near[1]) / 2 - width / 2, run + 2 - width), lowest)
    window = _Window(sheet, start, (RIGHT - LEFT) / float(width), run)
    base_floor = top + 166
    cap_floor = base_floor - 2 * THICKNESS - 5
    sheet.view("view.nearest" if sheet.shows("lap_offset") else "view.first_laps", top, window.scale)
    left, right = window.x(Fraction(0)), window.x(run)
    with sheet.part("deck", (left, base_floor + 2, right - left, DECK + 8)):
        canvas.rect(left, base_floor, right - left, DECK, fill=sheet.fill("deck"), kind="cut deck")
    window.ply("base", base_floor, plies[0])
    window.ply("cap", cap_floor, plies[1])
    x_base, x_cap = (window.x(lap) for lap in near)
    for name, x, lap, high in (
        ("base_lap", x_base, plies[0].lap, base_floor - 22),
        ("cap_lap", x_cap, plies[1].lap, cap_floor - 24),
    ):
        with sheet.part(name, (x - 6, high, max(float(lap) * window.scale, 12) + 12, 24)):
            pass
    with sheet.part("lap_offset", (min(x_base, x_cap), top + 40, abs(x_base - x_cap), 24)):
        pass
    sheet.across(
        x_base, window.x(near[0] + plies[0].lap), base_floor + 42, sheet.dimension("base_side_lap", plies[0].lap),
        caption=sheet.label("base_side_lap"), tops=(base_floor, base_floor), below=True,
    )  # fmt: skip
    sheet.bottom = base_floor + 80
    above = cap_floor - 2 * THICKNESS
    sheet.across(
        x_cap, window.x(near[1] + plies[1].lap), top + 96, sheet.dimension("cap_side_lap", plies[1].lap),
        caption=sheet.label("cap_side_lap"), tops=(above, above),
    )  # fmt: skip
    if sheet.shows("lap_offset"):
        x1, x2 = sorted((x_base, x_cap))
        sheet.across(
            x1, x2, top + 52, sheet.dimension("lap_offset", least), caption=sheet.label("lap_offset"),
            tops=(above, above),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Ply:
    """One ply up the slope: where its first sheet starts, its laps, its roll and its side lap, inches."""

    start: Fraction
    laps: Sequence[Fraction]
    roll: Fraction
    lap: Fraction


@dataclass(frozen=True, slots=True)
class _Window:
    """A piece of the slope from the side: turns distances from the low edge into places, cut off at its sides."""

    sheet: Sheet
    start: Fraction
    scale: float
    run: Fraction

    def x(self, place: Fraction) -> float:
        """Where a distance up the slope lies on the sheet."""
        return min(max(LEFT + float(place - self.start) * self.scale, LEFT), RIGHT)

    def ply(self, name: str, floor: float, ply: _Ply) -> None:
        """Draw the sheets of one ply; the first lies flat, each other one on the sheet below it."""
        fill, kind = self.sheet.fill(name), f"cut {name}"
        end = self.x(ply.laps[0] + ply.lap)
        if end > self.x(ply.start):
            self.sheet.canvas.rect(
                self.x(ply.start), floor - THICKNESS, end - self.x(ply.start), THICKNESS, fill=fill, kind=kind
            )
        for lower in ply.laps:
            begin, step, end = (self.x(min(place, self.run)) for place in (lower, lower + ply.lap, lower + ply.roll))
            if end <= LEFT or begin >= RIGHT:
                continue
            ramp = THICKNESS * 1.6
            if LEFT < step < end - ramp:
                outline = stepped(begin, step, end, floor, THICKNESS)
                self.sheet.canvas.path(outline, closed=True, fill=fill, kind=kind)
            else:
                # Only one level of this sheet is in the window: on the deck above its lap, or on the sheet below it.
                level = floor - THICKNESS if step <= LEFT else floor - 2 * THICKNESS
                self.sheet.canvas.rect(begin, level, end - begin, THICKNESS, fill=fill, kind=kind)
