"""End laps of neighboring courses, which must keep apart along the roof."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from trainer.drawings.canvas import LINE, THICK
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.derive import worked_out
from trainer.drawings.errors import DrawingInputError
from trainer.drawings.registry import drawing
from trainer.drawings.sheet import LEFT, RIGHT, SMALL, Sheet, spread
from trainer.rules.dimensions import Length, Lengths

_ZERO = Fraction(0)
_TOP_ALONG = 92.0


@drawing("stagger", parts=("upper_lap", "lower_lap", "stagger", "side_lap"))
def end_lap_stagger(
    sheet: Sheet,
    *,
    roll_width: Length,
    side_lap: Length,
    end_lap: Length,
    end_lap_stagger: Length | None = None,
    upper: Lengths | None = None,
    lower: Lengths | None = None,
    eave: Length | None = None,
    upper_end_lap: Length | None = None,
) -> None:
    """Two courses from above with their end laps: one of each and the stagger, or every lap along an edge.

    `upper_end_lap` is the upper course's own end lap, where it differs from the lower one's.
    """
    high = end_lap if upper_end_lap is None else upper_end_lap
    positive(sheet, roll_width=roll_width, side_lap=side_lap, end_lap=end_lap, eave=eave, upper_end_lap=high)
    sheet.need(
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
        _one_stagger(sheet, (roll_width, side_lap), (high, end_lap), end_lap_stagger)
        if eave is not None:
            sheet.note(f"{sheet.label('eave')}: {sheet.dimension('eave', eave)}")
    else:
        raise DrawingInputError(
            sheet.name,
            "end_lap_stagger",
            "missing",
            "this drawing needs it",
            "give it, or both upper and lower",
        )


def _one_stagger(
    sheet: Sheet, sizes: tuple[Fraction, Fraction], laps: tuple[Fraction, Fraction], stagger: Fraction
) -> None:
    """Draw one end lap in each course; `sizes` are roll and side lap, `laps` the upper and the lower end lap."""
    canvas, (roll, side), (high, lap) = sheet.canvas, sizes, laps
    widest = max(high, lap)
    scale = min((RIGHT - LEFT - 40) / float(stagger + widest + 8), 210 / float(2 * roll - side))
    top = 74.0
    tall, over = float(roll) * scale, float(side) * scale
    seam = top + tall
    bottom = seam + tall - over
    low_x = (LEFT + RIGHT) / 2 - float(stagger + widest) * scale / 2
    high_x = low_x + float(stagger) * scale
    sheet.scale(scale)
    sheet.describe("alt.end_lap_stagger")
    # The upper course lies on the lower one: its laps are drawn whole, the lower one's stop at the seam.
    with sheet.part("lower_lap", (low_x, seam + 26, float(lap) * scale, bottom - seam - 26)):
        _strip_of_lap(sheet, low_x, float(lap) * scale, (seam, bottom))
    with sheet.part("upper_lap", (high_x, top, float(high) * scale, seam - over - top)):
        _strip_of_lap(sheet, high_x, float(high) * scale, (top, seam))
    for y in (top, seam, bottom):
        canvas.line((LEFT, y), (RIGHT, y), width=LINE, kind="line seam")
    canvas.line((LEFT, seam - over), (RIGHT, seam - over), dash="5 3", kind="hidden")
    for x in (LEFT + 4, RIGHT - 4):
        sheet.break_across(x, top, bottom)
    with sheet.part("side_lap", (LEFT + 8, seam - over, 60, over)):
        pass
    with sheet.part("stagger", (min(low_x, high_x) - 2, bottom + 24, float(stagger) * scale + 4, 24)):
        pass
    high_end = high_x + float(high) * scale
    name = "end_lap" if high == lap else "upper_end_lap"
    sheet.across(high_x, high_end, 48, sheet.dimension(name, high), caption=sheet.label(name), tops=(top, top))
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
    if name == "upper_end_lap":
        sheet.bottom += 6
        sheet.note(f"{sheet.label('lower_end_lap')}: {sheet.dimension('lower_end_lap', lap)}")


def _strip_of_lap(sheet: Sheet, x: float, width: float, heights: tuple[float, float]) -> None:
    """Draw an end lap from above: its hatch, the end of the sheet on top, and the hidden end of the one below."""
    canvas, (top, bottom) = sheet.canvas, heights
    canvas.rect(x, top, width, bottom - top, fill=sheet.fill("lap"), line=0, kind="lap")
    canvas.line((x, top), (x, bottom), width=THICK, kind="line end-lap")
    canvas.line((x + width, top), (x + width, bottom), dash="5 3", kind="hidden")


def _laps_along(
    sheet: Sheet,
    sizes: tuple[Fraction, Fraction, Fraction],
    upper: Sequence[Fraction],
    lower: Sequence[Fraction],
    eave: Fraction | None,
) -> None:
    roll, side, lap = sizes
    length = max([*upper, *lower], default=_ZERO) + lap + roll if eave is None else eave
    for name, marks in (("upper", upper), ("lower", lower)):
        sheet.need(bool(marks), name, _ZERO, "the course has no end lap", "give at least one place")
        not_negative(sheet, **{name: min(marks)})
        sheet.need(max(marks) <= length, name, max(marks), "it lies past the end of the course", "measure it again")
    scale = (RIGHT - LEFT) / float(length)
    tall = float(roll - side) * scale
    if tall < 30:
        tall = 30.0
        sheet.exaggerate("width")
    sheet.scale(scale)
    sheet.describe("alt.laps_along")
    bottom = _TOP_ALONG + 2 * tall
    for y in (_TOP_ALONG, _TOP_ALONG + tall, bottom):
        sheet.canvas.line((LEFT, y), (RIGHT, y), width=LINE, kind="line seam")
    for x in (LEFT, RIGHT):
        sheet.canvas.line((x, _TOP_ALONG), (x, bottom), width=LINE, kind="line")
    _course(sheet, "upper", upper, (_TOP_ALONG, tall, _TOP_ALONG - 8), (scale, lap))
    _course(sheet, "lower", lower, (_TOP_ALONG + tall, tall, bottom + 17), (scale, lap))
    courses = f"{sheet.say('upper_course')} ↑  {sheet.say('lower_course')} ↓"
    sheet.canvas.text((LEFT, 24), courses, size=SMALL)
    sheet.canvas.text((LEFT, 42), sheet.say("from_left_edge"), size=SMALL)
    sheet.bottom = bottom + 24
    if sheet.shows("stagger"):
        _least(sheet, upper, lower, scale)
    if eave is not None:
        sheet.note(f"{sheet.label('eave')}: {sheet.dimension('eave', eave)}")
    sheet.note(f"{sheet.label('end_lap')}: {sheet.dimension('end_lap', lap)}")


def _course(
    sheet: Sheet,
    name: str,
    marks: Sequence[Fraction],
    heights: tuple[float, float, float],
    sizes: tuple[float, Fraction],
) -> None:
    """Draw the end laps of one course; `heights` are its top, its height, and the line its texts stand on."""
    (top, tall, text_y), (scale, lap) = heights, sizes
    canvas = sheet.canvas
    places = [LEFT + float(mark) * scale for mark in marks]
    for place in places:
        width = max(float(lap) * scale, 2)
        canvas.rect(place, top, width, tall, fill=sheet.fill("lap"), line=0, kind="lap")
        canvas.line((place, top), (place, top + tall), width=THICK, kind="line end-lap")
    for index in spread(places, 92):
        center = min(max(places[index], LEFT + 34), RIGHT - 34)
        written = "?" if sheet.asks(name) else sheet.length(marks[index])
        canvas.text((center, text_y), written, anchor="middle", kind="dim")
    sheet.dimension(name, None, "; ".join(sheet.length(mark) for mark in marks))


def _least(sheet: Sheet, upper: Sequence[Fraction], lower: Sequence[Fraction], scale: float) -> None:
    """Dimension the least stagger between the two laps that are nearest."""
    value = worked_out(sheet, "least_stagger", upper=tuple(upper), lower=tuple(lower))
    pair = min(((one, other) for one in upper for other in lower), key=lambda laps: abs(laps[0] - laps[1]))
    first, second = sorted(LEFT + float(place) * scale for place in pair)
    y, top = sheet.bottom + 12, sheet.bottom - 2
    written = sheet.dimension("stagger", value)
    sheet.across(first, second, y, written, caption=sheet.label("stagger"), tops=(top, top), below=True)
    sheet.bottom += 48
