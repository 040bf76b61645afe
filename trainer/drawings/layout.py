"""The roof from above: deck, courses of base sheet with their laps, chalk lines, and the laps of the cap sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import LINE, THICK, THIN, wrap
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.derive import steps_of, worked_out
from trainer.drawings.errors import DrawingInputError
from trainer.drawings.registry import FoundAs, drawing
from trainer.drawings.sheet import LEFT, RIGHT, SMALL, Sheet, spread
from trainer.rules.dimensions import LENGTH, SHARE, Length

TOP, TALL = 64.0, 350.0
BOX_LEFT, BOX_RIGHT = 66.0, 176.0
LABELS = BOX_RIGHT + 12
_ZERO = Fraction(0)

BaseCut = Annotated[Fraction, SHARE, FoundAs("base.starter_cut")]
CapRollWidth = Annotated[Fraction, LENGTH, FoundAs("cap.roll_width")]
CapSideLap = Annotated[Fraction, LENGTH, FoundAs("cap.side_lap")]
CapStarter = Annotated[Fraction, LENGTH, FoundAs("cap.starter_width")]


def starter(sheet: Sheet, given: Fraction | None, roll_width: Fraction, cut: Fraction | None) -> Fraction:
    """Take the starter's width as given, else work it out from the share that is cut off the roll.

    Raises:
        DrawingInputError: Neither is there.
    """
    if given is not None:
        return given
    if cut is None:
        raise DrawingInputError(
            sheet.name,
            "starter_width",
            "missing",
            "this drawing needs it",
            "give starter_width or starter_cut",
        )
    found: Fraction = worked_out(sheet, "starter_width", roll_width=roll_width, starter_cut=cut)
    return found


PARTS = ("starter", "second", "side_lap", "overhang", "bare_deck")


@drawing("courses", "chalk_lines", "exposure", "last_course_width", "cap_laps", parts=PARTS)
def roof_plan(
    sheet: Sheet,
    *,
    run: Length,
    roll_width: Length,
    side_lap: Length,
    overhang: Length,
    starter_width: Length | None = None,
    starter_cut: BaseCut | None = None,
    eave: Length | None = None,
    cap_roll_width: CapRollWidth | None = None,
    cap_side_lap: CapSideLap | None = None,
    cap_starter_width: CapStarter | None = None,
) -> None:
    """The deck from its low edge up: the first two courses, or every course, chalk line and lap when asked for."""
    positive(sheet, run=run, roll_width=roll_width, side_lap=side_lap, eave=eave)
    not_negative(sheet, overhang=overhang)
    first = starter(sheet, starter_width, roll_width, starter_cut)
    base = Base(run, overhang, first, roll_width, side_lap)
    base.check(sheet)
    # A number that is asked for is not drawn: courses on the plan could be counted.
    wanted = [name for name in ("courses", "chalk_lines", "last_course_width", "cap_laps") if sheet.prints(name)]
    if cap_roll_width is None or cap_side_lap is None:
        wanted = [name for name in wanted if name != "cap_laps"]
    if wanted:
        cap = None
        if "cap_laps" in wanted and cap_roll_width is not None and cap_side_lap is not None:
            cap = (cap_roll_width, cap_side_lap, cap_starter_width)
        _WholePlan(sheet, base, eave).draw(wanted, cap)
    else:
        _start_of_plan(sheet, base, eave)


@dataclass(frozen=True, slots=True)
class Base:
    """The base sheet's layout: distances up the slope in inches from the low edge of the deck."""

    run: Fraction
    overhang: Fraction
    starter_width: Fraction
    roll_width: Fraction
    side_lap: Fraction

    def inputs(self) -> dict[str, Fraction]:
        """The inputs of the layout rules, by their names."""
        return {name: getattr(self, name) for name in self.__slots__}

    def check(self, sheet: Sheet) -> None:
        """Refuse what cannot be laid out, in the words of the rule that counts the courses."""
        sheet.need(self.starter_width <= self.roll_width, "starter_width", self.starter_width,
            "it is cut from one roll", "give at most the roll width",
        )  # fmt: skip
        worked_out(sheet, "course_count", **self.inputs())


class _WholePlan:
    """The whole slope at one scale; course numbers and chalk lines are thinned where they would run together."""

    def __init__(self, sheet: Sheet, base: Base, eave: Fraction | None) -> None:
        self.sheet, self.base, self.eave = sheet, base, eave
        self.halves = False
        self.scale = min(TALL / float(base.run + 2 * base.overhang), 5.0)
        self.high = TOP + float(base.overhang) * self.scale
        self.low = self.high + float(base.run) * self.scale
        wide = float(eave) * self.scale if eave is not None else 1e9
        self.broken = wide > BOX_RIGHT - BOX_LEFT
        self.right = BOX_RIGHT if self.broken else BOX_LEFT + max(wide, 40)
        courses: int = worked_out(sheet, "course_count", **base.inputs())
        gain = base.roll_width - base.side_lap
        self.uppers = [base.starter_width - base.overhang + gain * index for index in range(courses)]

    def y(self, distance: Fraction) -> float:
        """Where a distance up the slope from the low edge lies on the sheet."""
        return self.low - float(distance) * self.scale

    def draw(self, wanted: Sequence[str], cap: tuple[Fraction, Fraction, Fraction | None] | None) -> None:
        """Draw deck, courses and whatever of the worked-out numbers is wanted."""
        sheet, base = self.sheet, self.base
        sheet.scale(self.scale)
        sheet.describe("alt.roof_plan")
        self._courses()
        self._deck()
        if cap is not None:
            self._cap(*cap, labels="chalk_lines" not in wanted)
        if "chalk_lines" in wanted:
            self._chalk_lines()
        if sheet.shows("courses"):
            self._numbers((self.right + BOX_LEFT) / 2 if cap is None else BOX_LEFT + (self.right - BOX_LEFT) * 0.25)
        sheet.bottom = self.low + float(base.overhang) * self.scale + 22
        self._facts()

    def _courses(self) -> None:
        canvas, base = self.sheet.canvas, self.base
        lowest = self.y(-base.overhang)
        highest = self.y(base.run)
        # The last course is cut at the high edge; below it each course shows its seam and, dashed, its hidden edge.
        canvas.rect(BOX_LEFT, highest, self.right - BOX_LEFT, lowest - highest, line=LINE, kind="line sheet-edge")
        for upper in self.uppers[:-1]:
            seam, hidden = self.y(upper - base.side_lap), self.y(upper)
            if hidden < seam - 3:
                top = max(hidden, highest)
                fill = self.sheet.fill("lap")
                canvas.rect(BOX_LEFT, top, self.right - BOX_LEFT, seam - top, fill=fill, line=0, kind="lap")
            canvas.line((BOX_LEFT, seam), (self.right, seam), width=LINE, kind="line seam")

    def _deck(self) -> None:
        sheet, canvas = self.sheet, self.sheet.canvas
        for y in (self.low, self.high):
            canvas.line((BOX_LEFT - 6, y), (self.right + 4, y), width=THICK, kind="line deck-edge")
        if self.broken:
            sheet.exaggerate("broken")
            sheet.break_across(self.right, self.high, self.low)
        _run(sheet, self.high, self.low, BOX_LEFT - 14, self.base.run)
        canvas.text((BOX_LEFT - 6, self.high - 10), sheet.say("high_edge"), size=SMALL)
        canvas.text((BOX_LEFT - 6, self.low + 18), sheet.say("low_edge"), size=SMALL)
        sheet.water((26, self.low - 40), (26, self.low - 12))
        if self.eave is not None:
            sheet.dimension("eave", self.eave)

    def _heading(self, key: str) -> None:
        for index, line in enumerate(wrap(self.sheet.say(key), RIGHT - LABELS, SMALL, bold=True)):
            self.sheet.canvas.text((LABELS, 20 + index * 14), line, size=SMALL, bold=True)

    def _numbers(self, x: float) -> None:
        base = self.base
        lowers = [-base.overhang, *(upper - base.side_lap for upper in self.uppers[:-1])]
        uppers = [*self.uppers[:-1], base.run]
        middles = [(self.y(low) + self.y(high)) / 2 for low, high in zip(lowers, uppers, strict=True)]
        room = abs(middles[0] - middles[1]) if len(middles) > 1 else 99
        for index in spread(middles, 19):
            last = index == len(middles) - 1
            text = "?" if last and index and not self.sheet.prints("courses") else str(index + 1)
            if room > 18:
                self.sheet.mark((x, middles[index]), (x, middles[index]), text)
            else:
                at = (x, middles[index] + SMALL * 0.36)
                self.sheet.canvas.text(at, text, anchor="middle", size=SMALL, bold=True, clear=True)

    def _chalk_lines(self) -> None:
        sheet, canvas, base = self.sheet, self.sheet.canvas, self.base
        lines: Sequence[Fraction] = worked_out(sheet, "chalk_lines", **base.inputs())
        self._heading("chalk_from_low_edge")
        places = [self.y(line) for line in lines]
        for place in places:
            # Where line and seam would run together only the end of the chalk line is drawn, beside the deck.
            start = BOX_LEFT if float(base.side_lap) * self.scale > 2.5 else self.right + 5
            canvas.line((start, place), (self.right + 10, place), width=LINE, kind="chalk", dash="8 3")
        printed = sheet.prints("chalk_lines")
        for index in spread(places, 15):
            text = sheet.length(lines[index]) if printed else "?"
            number = f"{index + 1}:" if len(lines) > 1 else ""
            canvas.text((LABELS, places[index] + 4), f"{number} {text}".strip(), size=SMALL, kind="dim", clear=True)
        texts = "; ".join(sheet.length(line) for line in lines) or sheet.say("none")
        sheet.dimension("chalk_lines", None, texts)

    def _cap(self, roll: Fraction, lap: Fraction, first: Fraction | None, *, labels: bool) -> None:
        sheet, canvas, base = self.sheet, self.sheet.canvas, self.base
        lines = ply_laps(sheet, base, roll, lap, first)[1]
        middle = (BOX_LEFT + self.right) / 2
        canvas.paper(middle, self.high, self.right - middle - 4, self.low - self.high)
        canvas.rect(
            middle,
            self.high,
            self.right - middle - 4,
            self.low - self.high,
            fill=sheet.fill("cap"),
            line=THIN,
            kind="cut cap",
        )
        places = [self.y(line) for line in lines]
        for place in places:
            canvas.line((middle, place), (self.right - 4, place), width=THICK, kind="line cap-seam")
        if labels:
            self._heading("cap_from_low_edge")
            for index in spread(places, 15):
                text = sheet.length(lines[index]) if sheet.prints("cap_laps") else "?"
                canvas.text((LABELS, places[index] + 4), text, size=SMALL, kind="dim", clear=True)
        sheet.dimension("cap_laps", None, "; ".join(sheet.length(line) for line in lines))
        sheet.describe("alt.cap_half")
        self.halves = True

    def _facts(self) -> None:
        """List, under the plan, the measures that are too small to dimension on it."""
        sheet, base = self.sheet, self.base
        values: list[tuple[str, Fraction | None, str | None]] = [
            ("starter_width", base.starter_width, None),
            ("roll_width", base.roll_width, None),
            ("side_lap", base.side_lap, None),
            ("overhang", base.overhang, None),
        ]
        if self.eave is not None:
            values.append(("eave", self.eave, None))
        if sheet.shows("exposure"):
            value = worked_out(sheet, "exposure", roll_width=base.roll_width, side_lap=base.side_lap)
            values.append(("exposure", value, None))
        if sheet.shows("courses"):
            values.append(("courses", None, str(len(self.uppers))))
        if sheet.shows("last_course_width"):
            values.append(("last_course_width", worked_out(sheet, "last_course_width", **base.inputs()), None))
        sheet.note_asked("chalk_lines", "cap_laps")
        if self.halves:
            sheet.note(sheet.say("halves"))
        for name, value, text in values:
            sheet.note(f"{sheet.label(name)}: {sheet.dimension(name, value, text)}")


def _run(sheet: Sheet, high: float, low: float, x: float, run: Fraction) -> None:
    """Dimension the slope; its text stands over the plan, where a phone has room for it."""
    sheet.upward(high, low, x, "", tops=(x + 8, x + 8))
    sheet.canvas.text((LEFT, 20), sheet.label("run"), kind="dim")
    sheet.canvas.text((LEFT, 36), sheet.dimension("run", run), kind="dim")
    sheet.canvas.line((LEFT + 4, 41), (LEFT + 4, high + 14), width=THIN, kind="leader")
    sheet.canvas.line((LEFT + 4, high + 14), (x, high + 14), width=THIN, kind="leader")


def ply_laps(
    sheet: Sheet, base: Base, roll: Fraction, lap: Fraction, first: Fraction | None
) -> tuple[Sequence[Fraction], Sequence[Fraction], Fraction]:
    """Ask the rule for both plies' lap lines and the least distance between them."""
    steps = steps_of(
        sheet, "lap_offset", run=base.run, overhang=base.overhang, starter_width=base.starter_width,
        base_roll_width=base.roll_width, base_side_lap=base.side_lap, cap_roll_width=roll, cap_side_lap=lap,
        cap_starter_width=first,
    )  # fmt: skip
    return steps["base_laps"], steps["cap_laps"], steps["lap_offset"]


def _start_of_plan(sheet: Sheet, base: Base, eave: Fraction | None) -> None:
    """Draw the low edge with the starter and the second course; the rest of the deck is broken off and blank."""
    canvas = sheet.canvas
    second = base.starter_width - base.side_lap + base.roll_width
    scale = 190 / float(second)
    low = 340.0 - float(base.overhang) * scale
    y_start, y_seam = low - float(base.starter_width - base.overhang) * scale, 0.0
    y_seam = y_start + float(base.side_lap) * scale
    y_top = y_seam - float(base.roll_width) * scale
    lowest = low + float(base.overhang) * scale
    high = 64.0
    left, right = BOX_LEFT, BOX_LEFT + 92
    sheet.scale(scale)
    sheet.exaggerate("broken")
    sheet.describe("alt.roof_plan_start")
    canvas.rect(left, high, right - left, low - high, line=0, fill="none", kind="deck")
    wide = right - left
    with sheet.part("starter", (left, y_seam + 2, wide, low - y_seam - 14)):
        canvas.rect(left, y_start, wide, lowest - y_start, line=LINE, kind="line sheet-edge", dash=None)
    with sheet.part("side_lap", (left, y_start, wide, y_seam - y_start)):
        canvas.rect(left, y_start, wide, y_seam - y_start, fill=sheet.fill("lap"), line=0, kind="lap")
    with sheet.part("second", (left, y_top, wide, y_start - y_top - 2)):
        canvas.rect(left, y_top, wide, y_seam - y_top, line=LINE, kind="line sheet-edge")
    with sheet.part("overhang", (left, low, wide, lowest - low)):
        pass
    with sheet.part("bare_deck", (left, high, wide, y_top - high - 2)):
        pass
    canvas.line((left, high), (left, low), width=LINE, kind="line deck-edge")
    for y in (low, high):
        canvas.line((left - 6, y), (right + 4, y), width=THICK, kind="line deck-edge")
    sheet.break_up((high + y_top) / 2 - 4, left, right, 9)
    sheet.break_across(right, high, lowest)
    _run(sheet, high, low, left - 14, base.run)
    for index, middle in enumerate(((y_seam + lowest) / 2, (y_top + y_seam) / 2), 1):
        sheet.mark(((left + right) / 2, middle), ((left + right) / 2, middle), str(index))
    _start_dimensions(sheet, base, right, (y_top, y_start, y_seam, lowest), low)
    canvas.text((left - 6, high - 10), sheet.say("high_edge"), size=SMALL)
    canvas.text((left - 6, lowest + 18), sheet.say("low_edge"), size=SMALL)
    sheet.water((26, low - 40), (26, low - 12))
    sheet.bottom = lowest + 22
    if eave is not None:
        sheet.note(f"{sheet.label('eave')}: {sheet.dimension('eave', eave)}")
    sheet.note_asked("courses", "chalk_lines", "last_course_width", "cap_laps")


def _start_dimensions(
    sheet: Sheet, base: Base, right: float, heights: tuple[float, float, float, float], low: float
) -> None:
    y_top, y_start, y_seam, lowest = heights
    room = RIGHT - right - 26
    tops = (right + 4, right + 4)
    sheet.upward(
        y_start, lowest, right + 18, sheet.dimension("starter_width", base.starter_width),
        caption=sheet.label("starter_width"), tops=tops, room=room,
    )  # fmt: skip
    sheet.upward(
        y_top, y_seam, right + 30, sheet.dimension("roll_width", base.roll_width), caption=sheet.label("roll_width"),
        tops=tops, room=room - 12,
    )  # fmt: skip
    sheet.upward(
        y_start,
        y_seam,
        BOX_LEFT + 22,
        sheet.dimension("side_lap", base.side_lap),
        caption=sheet.label("side_lap"),
        room=90,
    )
    sheet.upward(
        low, lowest, right + 30, sheet.dimension("overhang", base.overhang), caption=sheet.label("overhang"),
        tops=(right + 4, right + 4), room=RIGHT - right - 36,
    )  # fmt: skip
    if sheet.shows("exposure"):
        value = worked_out(sheet, "exposure", roll_width=base.roll_width, side_lap=base.side_lap)
        sheet.upward(y_top, y_start, right - 12, sheet.dimension("exposure", value), side="left", room=60)
