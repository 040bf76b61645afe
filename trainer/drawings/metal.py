"""Edge metal along an edge: its pieces, the last one, and their laps."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import LINE, THICK, text_width
from trainer.drawings.checks import positive
from trainer.drawings.derive import worked_out
from trainer.drawings.registry import SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, SMALL, Sheet, spread
from trainer.rules.dimensions import Length


@drawing("metal_pieces", "last_metal_piece", parts=("first_piece", "second_piece", "metal_lap", "outer_edge"))
def metal_run(
    sheet: Sheet,
    *,
    edge: Length,
    metal_length: Length,
    metal_lap: Length,
    omit: Annotated[tuple[str, ...], SomeOf(("sealant",))] = (),
) -> None:
    """Edge metal along an edge, every length and lap when asked for, else the first two; and the lap enlarged."""
    positive(sheet, edge=edge, metal_length=metal_length, metal_lap=metal_lap)
    sheet.need(2 * metal_lap <= metal_length, "metal_lap", metal_lap, "a length has a lap at both ends",
        "give a lap of at most half a length",
    )  # fmt: skip
    sheet.describe("alt.metal_run")
    sheet.describe("alt.metal_run.dry" if omit else "alt.metal_run.sealed")
    # A number that is asked for is not drawn: pieces along the whole edge could be counted.
    if sheet.prints("metal_pieces") or sheet.prints("last_metal_piece"):
        _whole_run(sheet, edge, metal_length, metal_lap)
    else:
        _start_of_run(sheet, edge, metal_length, metal_lap)
    _lap_of_metal(sheet, metal_lap, sealed=not omit)


def _whole_run(sheet: Sheet, edge: Fraction, length: Fraction, lap: Fraction) -> None:
    canvas = sheet.canvas
    pieces = worked_out(sheet, "metal_pieces", edge=edge, metal_length=length, metal_lap=lap)
    last = worked_out(sheet, "last_metal_piece", edge=edge, metal_length=length, metal_lap=lap)
    scale = (RIGHT - LEFT) / float(edge)
    sheet.view("view.run", 22, scale)
    sheet.across(LEFT, RIGHT, 62, sheet.dimension("edge", edge), caption=sheet.label("edge"), tops=(84, 84))
    ends = [
        (LEFT + float(index * (length - lap)) * scale, LEFT + float(min(index * (length - lap) + length, edge)) * scale)
        for index in range(pieces)
    ]
    for index, (start, end) in enumerate(ends):
        canvas.rect(start, 88.0 + (index % 2) * 17, end - start, 14, line=LINE, kind="cut metal")
    _piece_numbers(sheet, ends)
    sheet.bottom = 134.0
    sheet.note(f"{sheet.label('metal_length')}: {sheet.dimension('metal_length', length)}")
    if sheet.shows("metal_pieces"):
        sheet.note(f"{sheet.label('metal_pieces')}: {sheet.dimension('metal_pieces', None, str(pieces))}")
    if sheet.shows("last_metal_piece"):
        sheet.note(f"{sheet.label('last_metal_piece')}: {sheet.dimension('last_metal_piece', last)}")


def _piece_numbers(sheet: Sheet, ends: list[tuple[float, float]]) -> None:
    """Number the pieces: in each where there is room, else some of them in a row below."""
    middles = [(start + end) / 2 for start, end in ends]
    roomy = all(end - start > 19 for start, end in ends[:-1])
    for index in range(len(ends)) if roomy else spread(middles, 26):
        last = index == len(ends) - 1
        number = "?" if last and index and not sheet.prints("metal_pieces") else str(index + 1)
        inside = roomy and ends[index][1] - ends[index][0] > text_width(number, SMALL, bold=True)
        y = 88.0 + (index % 2) * 17 + 11.5 if inside else 132.0
        sheet.canvas.text((min(middles[index], RIGHT - 8), y), number, anchor="middle", size=SMALL, bold=True)


def _start_of_run(sheet: Sheet, edge: Fraction, length: Fraction, lap: Fraction) -> None:
    canvas = sheet.canvas
    shown = min(edge, 2 * length - lap + length / 4)
    scale = (RIGHT - LEFT - 4) / float(shown)
    sheet.view("view.run_start", 22, scale)
    end = LEFT + float(shown) * scale
    sheet.across(LEFT, end, 62, sheet.dimension("edge", edge), caption=sheet.label("edge"), tops=(98, 98))
    at, index = Fraction(0), 0
    while at < shown:
        start, stop = LEFT + float(at) * scale, min(LEFT + float(at + length) * scale, end)
        y = 102.0 + (index % 2) * 19
        canvas.rect(start, y, stop - start, 16, line=LINE, kind="cut metal")
        if stop - start > 16:
            canvas.text(
                ((start + stop) / 2, y + 12.5),
                str(index + 1) if index < 2 else "…",
                anchor="middle",
                bold=True,
            )
        at, index = at + length - lap, index + 1
    if shown < edge:
        sheet.exaggerate("broken")
        sheet.break_across(end - 6, 96, 142)
    first = min(LEFT + float(length) * scale, end)
    if edge >= length:
        sheet.across(
            LEFT, first, 174, sheet.dimension("metal_length", length), caption=sheet.label("metal_length"),
            tops=(120, 120),
        )  # fmt: skip
    else:
        sheet.dimension("metal_length", length)
    sheet.bottom = 178.0
    sheet.note_asked("metal_pieces", "last_metal_piece")
    sheet.bottom += 6


def _lap_of_metal(sheet: Sheet, lap: Fraction, *, sealed: bool) -> None:
    canvas = sheet.canvas
    top = sheet.bottom + 24
    scale = 120 / float(lap)
    left, right = 110.0, 230.0
    sheet.view("view.metal_lap", top, scale)
    low, high = top + 64, 56.0
    canvas.rect(LEFT, low, right - LEFT, high, line=LINE, kind="cut metal")
    canvas.rect(left, low, RIGHT - left, high, fill="#fff", line=0, kind="paper")
    with sheet.part("metal_lap", (left, low, right - left, high - 12)):
        if sealed:
            canvas.rect(left, low, right - left, high, fill=sheet.fill("sealant"), line=0, kind="sealant")
    with sheet.part("first_piece", (LEFT, low, left - LEFT, high - 12)):
        pass
    with sheet.part("second_piece", (right, low, RIGHT - right, high - 12)):
        canvas.rect(left, low, RIGHT - left, high, line=LINE, kind="cut metal")
    with sheet.part("outer_edge", (LEFT, low + high - 10, RIGHT - LEFT, 24)):
        pass
    canvas.line((left, low), (left, low + high), width=THICK, kind="line")
    canvas.line((right, low), (right, low + high), dash="5 3", kind="hidden")
    canvas.line((LEFT, low + high), (RIGHT, low + high), width=THICK * 1.4, kind="line metal-edge")
    for x in (LEFT + 5, RIGHT - 5):
        sheet.break_across(x, low, low + high)
    sheet.across(
        left,
        right,
        low - 14,
        sheet.dimension("metal_lap", lap),
        caption=sheet.label("metal_lap"),
        tops=(low, low),
    )
    sheet.bottom = low + high + 10
    sheet.callout((58, low + 30), (58, low + 30), sheet.say("metal_below"))
    sheet.callout((282, low + 30), (282, low + 30), sheet.say("metal_above"))
    if sealed:
        sheet.callout((170, low + 30), (170, low + 30), sheet.say("sealant_in_lap"))
