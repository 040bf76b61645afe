"""A tape with a reading: the marks of the reader's own tape and the edge that is measured."""

from __future__ import annotations

from fractions import Fraction

from trainer.drawings.canvas import LINE, THICK, THIN, text_width
from trainer.drawings.checks import not_negative
from trainer.drawings.registry import drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import Length
from trainer.rules.lengths import MM_PER_INCH

TOP, HEIGHT = 44.0, 66.0
SIXTEENTH = Fraction(1, 16)
MILLIMETER = 1 / MM_PER_INCH
# How far the marks of a sixteenth, eighth, quarter and half inch reach into the blade, in drawing units.
_INCH_MARKS = ((16, 44.0), (8, 33.0), (4, 26.0), (2, 19.0), (1, 12.0))
_METRIC_MARKS = ((10, 44.0), (5, 27.0), (1, 14.0))


@drawing("reading")
def tape(sheet: Sheet, *, reading: Length) -> None:
    """A piece of tape with the measured edge on its mark; the reading itself is printed only when it is asked for."""
    not_negative(sheet, reading=reading)
    metric = sheet.units == "metric"
    mark = MILLIMETER if metric else SIXTEENTH
    counted = reading / mark
    whole = int(counted)
    sheet.need(metric or counted == whole, "reading", reading, "it lies between two marks of the tape",
        "give a whole number of sixteenths",
    )  # fmt: skip
    window = Fraction(90) * MILLIMETER if metric else Fraction(3)
    scale = (RIGHT - LEFT) / float(window)
    start = max(Fraction(0), reading - window / 2)
    _edge(sheet, LEFT + float(reading - start) * scale)
    _blade(sheet, start, window, scale, mark)
    sheet.scale(scale)
    _say_marks(sheet, metric, whole)
    if sheet.shows("reading"):
        written = sheet.dimension("reading", reading)
        sheet.canvas.text((LEFT, 26), f"{sheet.label('reading')}: {written}", bold=True, kind="dim")


def _blade(sheet: Sheet, start: Fraction, window: Fraction, scale: float, mark: Fraction) -> None:
    canvas = sheet.canvas
    canvas.rect(LEFT, TOP, RIGHT - LEFT, HEIGHT, line=LINE, kind="cut tape")
    metric = sheet.units == "metric"
    for index in range(-(-start // mark), int((start + window) / mark) + 1):
        reach = next(length for step, length in (_METRIC_MARKS if metric else _INCH_MARKS) if index % step == 0)
        x = LEFT + float(index * mark - start) * scale
        canvas.line((x, TOP), (x, TOP + reach), width=THIN if reach < 30 else LINE, kind="tape-mark")
        if index % (10 if metric else 16) == 0:
            _numeral(sheet, x, index // (10 if metric else 16), metric)
    if start == 0:
        canvas.line((LEFT, TOP - 8), (LEFT, TOP + HEIGHT + 14), width=THICK, kind="line hook")
    else:
        sheet.break_across(LEFT, TOP, TOP + HEIGHT)
    sheet.break_across(RIGHT, TOP, TOP + HEIGHT)


def _numeral(sheet: Sheet, x: float, value: int, metric: bool) -> None:
    """Write the number of the inch (centimeter) beside its mark, and the feet where a foot ends."""
    if value == 0 or not LEFT + 4 < x < RIGHT - 4:
        return
    size = 14.0 if metric else 17.0
    room = text_width(str(value), size, bold=True) + 8
    # A numeral stands right of its mark; at the end of the window there is room only in inches, on the left.
    at_right = x + room < RIGHT
    if metric and not at_right:
        return
    shift, anchor = (4, "start") if at_right else (-4, "end")
    canvas, floor = sheet.canvas, TOP + HEIGHT
    canvas.text(
        (x + shift, floor - 20), str(value), anchor=anchor, size=size, bold=True, kind="tape-number", clear=True
    )
    if not metric and value % 12 == 0:
        foot = sheet.length(Fraction(value))
        canvas.text((x + shift, floor - 6), foot, anchor=anchor, size=12, bold=True, kind="tape-number")


def _edge(sheet: Sheet, x: float) -> None:
    """Draw the edge of what is measured, from under the blade up to its mark."""
    canvas, floor = sheet.canvas, TOP + HEIGHT
    canvas.line((x, TOP - 12), (x, floor + 34), width=LINE, kind="line measured")
    sheet.arrowhead((x, TOP), (0, 1), 11)
    canvas.rect(LEFT, floor + 8, x - LEFT, 26, fill=sheet.fill("base"), kind="cut base")
    sheet.bottom = floor + 42
    anchor, at = ("start", LEFT) if x > (LEFT + RIGHT) / 2 else ("end", RIGHT)
    canvas.text((at, floor + 54), sheet.say("measured_edge"), anchor=anchor)
    sheet.bottom = floor + 58


def _say_marks(sheet: Sheet, metric: bool, whole: int) -> None:
    """Tell where the edge stands by counting marks, as the eye would, without reading it off."""
    numeral, marks = divmod(whole, 10 if metric else 16)
    sheet.describe("alt.tape.metric" if metric else "alt.tape.imperial", numeral=numeral, marks=marks)
