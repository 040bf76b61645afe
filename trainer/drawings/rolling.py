"""How a self-adhered sheet is laid and rolled: six pictures from above, out of order where their order is asked."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import LINE, THICK, THIN, Point
from trainer.drawings.errors import DrawingInputError
from trainer.drawings.registry import FoundAs, OneOf, drawing
from trainer.drawings.sheet import LEFT, Sheet
from trainer.rules.dimensions import DURATION, MASS, Duration, Mass

STEPS = ("align", "relax", "roll_back", "film", "press", "roller")
# The order in which the pictures stand where their order is asked.
MIXED = (3, 0, 5, 1, 4, 2)
WIDE, TALL, ACROSS = 152.0, 96.0, 164.0
SHEET_WIDE, SHEET_TALL = 112.0, 40.0

RelaxTime = Annotated[Fraction, DURATION, FoundAs("base.relax_time")]
RollerWeight = Annotated[Fraction, MASS, FoundAs("rolling.roller_weight")]


@drawing("order", parts=STEPS)
def rolling(
    sheet: Sheet,
    *,
    relax_time: RelaxTime,
    roller_weight: RollerWeight | None = None,
    align: Annotated[str, OneOf(("on_line", "off_line"))] = "on_line",
    film: Annotated[str, OneOf(("half", "whole"))] = "half",
    press: Annotated[str, OneOf(("from_middle", "from_edges"))] = "from_middle",
) -> None:
    """Align dry, relax, roll back half, pull its film, press from the middle outward, roll.

    The pictures are numbered unless `order` is asked; then they stand out of order.
    """
    if not 0 < relax_time <= Fraction(1440):
        raise DrawingInputError(
            sheet.name, "relax_time", relax_time, "it lies above 0 and within a day", "read it again"
        )
    sheet.describe("alt.rolling")
    asked = sheet.asks("order")
    relax: Duration = relax_time
    time = sheet.dimension("relax_time", None, DURATION.text(relax, sheet.units, sheet.language))
    words = {"align": align, "film": film, "press": press}
    texts = {name: sheet.say(f"rolling_{name}.{words[name]}" if name in words else f"rolling_{name}") for name in STEPS}
    texts["relax"] = f"{texts['relax']} ({time})"
    if roller_weight is not None:
        weight: Mass = roller_weight
        text = sheet.dimension("roller_weight", None, MASS.text(weight, sheet.units, sheet.language))
        texts["roller"] = f"{texts['roller']} ({text})"
    for index in range(len(STEPS)):
        name = STEPS[MIXED[index] if asked else index]
        x, y = LEFT + index % 2 * ACROSS, 12 + index // 2 * (TALL + 8)
        with sheet.part(name, (x, y, WIDE, TALL)):
            sheet.canvas.rect(x, y, WIDE, TALL, line=THIN, kind="line picture")
            _DRAWN[name](sheet, (x + 20, y + 30), words.get(name, ""))
        if asked:
            sheet.describe("picture", text=texts[name])
        else:
            sheet.callout((x + 14, y + 14), (x + 14, y + 14), texts[name])
    sheet.bottom = 12 + 3 * (TALL + 8)
    sheet.exaggerate("pictures")
    sheet.note_asked("order")


def _chalk(sheet: Sheet, at: Point) -> None:
    y = at[1] + SHEET_TALL
    sheet.canvas.line((at[0] - 16, y), (at[0] + SHEET_WIDE + 16, y), dash="8 3", kind="chalk")


def _flat(sheet: Sheet, at: Point, wide: float = SHEET_WIDE) -> None:
    sheet.canvas.rect(at[0], at[1], wide, SHEET_TALL, fill=sheet.fill("base"), kind="cut base")


def _align(sheet: Sheet, at: Point, word: str) -> None:
    _chalk(sheet, at)
    lean = 13.0 if word == "off_line" else 0.0
    (x, y), right = at, at[0] + SHEET_WIDE
    outline = [(x, y), (right, y - lean), (right, y + SHEET_TALL - lean), (x, y + SHEET_TALL)]
    sheet.canvas.path(outline, closed=True, fill=sheet.fill("base"), kind="cut base")


def _relax(sheet: Sheet, at: Point, _: str) -> None:
    _chalk(sheet, at)
    _flat(sheet, at)
    x, y = at[0] + SHEET_WIDE / 2, at[1] + SHEET_TALL / 2
    sheet.canvas.circle((x, y), 14, fill="#fff", line=LINE, kind="paper clock")
    sheet.canvas.path([(x, y - 10), (x, y), (x + 7, y + 4)], line=THICK, kind="line clock")


def _coil(sheet: Sheet, x: float, y: float) -> None:
    sheet.canvas.rect(x, y - 4, 16, SHEET_TALL + 8, fill="#fff", kind="paper coil")
    for along in (5.0, 10.5):
        sheet.canvas.line((x + along, y - 4), (x + along, y + SHEET_TALL + 4), width=THIN, kind="line coil")


def _roll_back(sheet: Sheet, at: Point, _: str) -> None:
    _chalk(sheet, at)
    _flat(sheet, at, SHEET_WIDE / 2)
    sheet.canvas.rect(at[0] + SHEET_WIDE / 2, at[1], SHEET_WIDE / 2, SHEET_TALL, line=THIN, dash="3 3", kind="hidden")
    _coil(sheet, at[0] + SHEET_WIDE / 2, at[1])
    x, y = at[0] + SHEET_WIDE - 8, at[1] + SHEET_TALL / 2
    sheet.canvas.line((x, y), (x - 24, y), width=LINE)
    sheet.arrowhead((x - 28, y), (-1.0, 0.0))


def _film(sheet: Sheet, at: Point, word: str) -> None:
    _chalk(sheet, at)
    whole = word == "whole"
    start = at[0] if whole else at[0] + SHEET_WIDE / 2
    if not whole:
        _flat(sheet, at, SHEET_WIDE / 2)
        _coil(sheet, start, at[1])
    bare = start if whole else start + 16
    sheet.canvas.rect(bare, at[1], at[0] + SHEET_WIDE - bare, SHEET_TALL, line=LINE, kind="line bared")
    low, tip = at[1] + SHEET_TALL, at[1] - 22
    reach = (low - tip) * 0.6
    outline = [(bare + 4, low), (bare + 24, low), (bare + 24 + reach, tip), (bare + 4 + reach, tip)]
    sheet.canvas.path(outline, closed=True, fill="#fff", line=LINE, dash="2 2", kind="paper film")
    x, y = bare + 14 + reach * 0.7, low + (tip - low) * 0.7
    sheet.canvas.line((x - 12, y + 20), (x, y), width=THICK)
    sheet.arrowhead((x + 3, y - 5), (0.51, -0.86), 9)


def _press(sheet: Sheet, at: Point, word: str) -> None:
    _chalk(sheet, at)
    _flat(sheet, at)
    middle = at[1] + SHEET_TALL / 2
    sheet.canvas.line((at[0], middle), (at[0] + SHEET_WIDE, middle), width=THIN, dash="9 3 2 3", kind="center")
    for share in (0.2, 0.5, 0.8):
        x = at[0] + SHEET_WIDE * share
        for side in (-1, 1):
            ends = (middle + side * 3, middle + side * (SHEET_TALL / 2 + 6))
            start, end = ends if word == "from_middle" else ends[::-1]
            sheet.canvas.line((x, start), (x, end), width=THICK, kind="line press")
            sheet.arrowhead((x, end), (0.0, side if word == "from_middle" else -side), 9)


def _roller(sheet: Sheet, at: Point, _: str) -> None:
    _chalk(sheet, at)
    _flat(sheet, at)
    x, y = at[0] + 34, at[1] + 3
    sheet.canvas.rect(x, y, 16, 26, fill="#fff", kind="paper roller")
    sheet.canvas.line((x + 16, y + 13), (x + 44, y + 13), width=THICK, kind="line handle")
    low = at[1] + SHEET_TALL
    sheet.canvas.rect(at[0] + 84, low - 8, 9, 12, fill="#fff", kind="paper hand-roller")
    sheet.canvas.line((at[0] + 93, low - 2), (at[0] + 106, low + 6), width=THICK, kind="line handle")


_DRAWN = {
    "align": _align, "relax": _relax, "roll_back": _roll_back, "film": _film, "press": _press, "roller": _roller,
}  # fmt: skip
