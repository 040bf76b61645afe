"""Edge metal: the nails through its flange, its lengths along an edge, and the bead it is set in."""

from __future__ import annotations

from fractions import Fraction

from trainer.drawings.canvas import LINE, THICK, THIN, text_width
from trainer.drawings.checks import need, positive
from trainer.drawings.derive import worked_out
from trainer.drawings.registry import drawing
from trainer.drawings.sheet import LEFT, RIGHT, SMALL, Sheet, spread
from trainer.rules.dimensions import Length

# A nail's head, drawn a little larger than it is so that it can be seen on a phone.
HEAD = 4.0


@drawing("nails")
def nail_rows(
    sheet: Sheet,
    row_spacing: Length,
    nail_spacing: Length | None = None,
    flange: Length = Fraction(3),
    edge: Length | None = None,
) -> None:
    """The flange from above with its two staggered rows; `nail_spacing` counts both rows together."""
    between = row_spacing / 2 if nail_spacing is None else nail_spacing
    positive(sheet, row_spacing=row_spacing, nail_spacing=between, flange=flange, edge=edge)
    need(
        sheet, between <= row_spacing, "nail_spacing", between, "it cannot pass the spacing within one row",
        "count both rows together",
    )  # fmt: skip
    window = 4 * row_spacing + between
    whole = edge is not None and edge <= window
    length = edge if whole and edge is not None else window
    scale = min((RIGHT - LEFT - 16) / float(length), 96 / float(flange))
    left = (LEFT + RIGHT) / 2 - float(length) * scale / 2
    right = left + float(length) * scale
    top, deep = 84.0, max(float(flange) * scale, 22)
    if deep > float(flange) * scale + 0.01:
        sheet.exaggerate("width")
    sheet.scale(scale)
    sheet.describe("alt.nail_rows")
    _flange(sheet, left, right, top, deep, broken=not whole)
    rows = (top + deep * 0.27, top + deep * 0.73)
    for row, first in zip(rows, (Fraction(0), between), strict=True):
        _nails(sheet, row, left, length, first, row_spacing, scale)
    _nail_dimensions(sheet, rows, left, scale, row_spacing, between, top, deep)
    if edge is not None:
        sheet.across(
            left, right, top + deep + 96, sheet.dimension("edge", edge), caption=sheet.label("edge"),
            tops=(top + deep + 70, top + deep + 70),
        )  # fmt: skip
        sheet.bottom = top + deep + 104
        if sheet.shows("nails"):
            count = worked_out(sheet, "nails_two_rows", edge=edge, spacing=between)
            written = sheet.dimension("nails", None, str(count))
            sheet.canvas.text((LEFT, sheet.bottom + 16), f"{sheet.label('nails')}: {written}", kind="dim")
            sheet.bottom += 22


def _flange(sheet: Sheet, left: float, right: float, top: float, deep: float, *, broken: bool) -> None:
    canvas = sheet.canvas
    canvas.rect(left, top, right - left, deep, line=LINE, kind="cut metal")
    canvas.line((left, top + deep), (right, top + deep), width=THICK * 1.4, kind="line metal-edge")
    if broken:
        sheet.break_across(right, top, top + deep)


def _nails(
    sheet: Sheet, y: float, left: float, length: Fraction, first: Fraction, spacing: Fraction, scale: float
) -> None:
    at = first
    while at <= length:
        x = left + float(at) * scale
        # The first nail stands a head inside the end of the metal; the spacing is from center to center.
        sheet.canvas.circle((x, y), HEAD, fill="#fff", line=LINE, kind="paper nail")
        sheet.canvas.line((x - 2, y), (x + 2, y), width=THIN, kind="nail")
        sheet.canvas.line((x, y - 2), (x, y + 2), width=THIN, kind="nail")
        at += spacing


def _nail_dimensions(
    sheet: Sheet,
    rows: tuple[float, float],
    left: float,
    scale: float,
    row_spacing: Fraction,
    between: Fraction,
    top: float,
    deep: float,
) -> None:
    first, second = left + float(row_spacing) * scale, left + float(2 * row_spacing) * scale
    sheet.across(
        first, second, top - 26, sheet.dimension("row_spacing", row_spacing), caption=sheet.label("row_spacing"),
        tops=(rows[0] - HEAD - 2, rows[0] - HEAD - 2),
    )  # fmt: skip
    staggered = first + float(between) * scale
    sheet.across(
        first, staggered, top + deep + 30, sheet.dimension("nail_spacing", between),
        caption=sheet.label("nail_spacing"), tops=(rows[0] + HEAD + 2, rows[1] + HEAD + 2), below=True,
    )  # fmt: skip
    sheet.canvas.text((LEFT, 22), sheet.say("roof_side"))
    sheet.canvas.text((RIGHT, top + deep + 20), sheet.say("outside"), anchor="end", clear=True)
    sheet.bottom = top + deep + 68


@drawing("metal_pieces", "last_metal_piece")
def metal_run(sheet: Sheet, edge: Length, metal_length: Length, metal_lap: Length) -> None:
    """Edge metal along an edge, every length and lap when asked for, else the first two; and the lap enlarged."""
    positive(sheet, edge=edge, metal_length=metal_length, metal_lap=metal_lap)
    need(
        sheet, 2 * metal_lap <= metal_length, "metal_lap", metal_lap, "a length has a lap at both ends",
        "give a lap of at most half a length",
    )  # fmt: skip
    sheet.describe("alt.metal_run")
    # A number that is asked for is not drawn: pieces along the whole edge could be counted.
    if sheet.prints("metal_pieces") or sheet.prints("last_metal_piece"):
        _whole_run(sheet, edge, metal_length, metal_lap)
    else:
        _start_of_run(sheet, edge, metal_length, metal_lap)
    _lap_of_metal(sheet, metal_lap)


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


def _lap_of_metal(sheet: Sheet, lap: Fraction) -> None:
    canvas = sheet.canvas
    top = sheet.bottom + 24
    scale = 120 / float(lap)
    left, right = 110.0, 230.0
    sheet.view("view.metal_lap", top, scale)
    low, high = top + 64, 56.0
    canvas.rect(LEFT, low, right - LEFT, high, line=LINE, kind="cut metal")
    canvas.rect(left, low, RIGHT - left, high, fill="#fff", line=0, kind="paper")
    canvas.rect(left, low, right - left, high, fill=sheet.fill("sealant"), line=0, kind="sealant")
    canvas.rect(left, low, RIGHT - left, high, line=LINE, kind="cut metal")
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
    sheet.callout((170, low + 30), (170, low + 30), sheet.say("sealant_in_lap"))


@drawing()
def bead_position(
    sheet: Sheet, bead_width: Length, bead_depth: Length, bead_setback: Length, flange: Length = Fraction(3)
) -> None:
    """The bead at the deck edge before the metal is set in it; the setback runs from the deck edge to the bead's middle."""
    positive(sheet, bead_width=bead_width, bead_depth=bead_depth, bead_setback=bead_setback, flange=flange)
    need(
        sheet, bead_setback + bead_width / 2 <= flange, "bead_setback", bead_setback,
        "the bead must lie under the flange", "give a setback and a bead that the flange covers",
    )  # fmt: skip
    canvas = sheet.canvas
    scale = (RIGHT - LEFT - 24) / float(flange + 1)
    edge = RIGHT - 30.0
    top, sheet_thick = 128.0, 9.0
    deck = top + sheet_thick
    sheet.scale(scale)
    sheet.exaggerate()
    sheet.describe("alt.bead_position")
    canvas.rect(LEFT, deck, edge - LEFT, 52, fill=sheet.fill("nailer"), kind="cut nailer")
    canvas.path(
        [(LEFT, top), (edge + sheet_thick, top), (edge + sheet_thick, deck + 60), (edge, deck + 60), (edge, deck), (LEFT, deck)],
        closed=True, fill=sheet.fill("base"), kind="cut base",
    )  # fmt: skip
    middle = edge - float(bead_setback) * scale
    half, high = float(bead_width) * scale / 2, float(bead_depth) * scale
    canvas.curve(
        f"M{middle - half:.2f} {top:.2f}v{-high * 0.45:.2f}q0 {-high * 0.55:.2f} {half:.2f} {-high * 0.55:.2f}"
        f"t{half:.2f} {high * 0.55:.2f}v{high * 0.45:.2f}Z",
        fill=sheet.fill("sealant"), kind="cut sealant",
    )  # fmt: skip
    raised = top - high - 24
    inner = edge - float(flange) * scale
    canvas.path([(inner, raised), (edge + 15, raised), (edge + 15, deck + 66)], line=3.2, kind="line metal")
    sheet.across(
        inner, edge, raised - 26, sheet.dimension("flange", flange), caption=sheet.label("flange"),
        tops=(raised - 3, raised - 3),
    )  # fmt: skip
    _bead_dimensions(sheet, middle, half, high, edge, top, deck)
    sheet.dimension("bead_setback", bead_setback)
    sheet.bottom = deck + 114
    _bead_notes(sheet, inner, edge, top, deck, raised, (bead_setback, bead_width, bead_depth), middle, half, high)


def _bead_dimensions(
    sheet: Sheet, middle: float, half: float, high: float, edge: float, top: float, deck: float
) -> None:
    canvas = sheet.canvas
    canvas.line((middle, top - high - 8), (middle, deck + 108), width=THIN, dash="9 3 2 3", kind="center")
    canvas.line((edge, deck + 70), (edge, deck + 108), width=THIN, kind="dim")


def _bead_notes(
    sheet: Sheet,
    inner: float,
    edge: float,
    top: float,
    deck: float,
    raised: float,
    sizes: tuple[Fraction, Fraction, Fraction],
    middle: float,
    half: float,
    high: float,
) -> None:
    setback, width, depth = sizes
    sheet.across(
        middle, edge, deck + 104, sheet.dimension("bead_setback", setback), caption=sheet.label("bead_setback")
    )
    bead = sheet.say(
        "bead_sized", width=sheet.dimension("bead_width", width), depth=sheet.dimension("bead_depth", depth)
    )
    sheet.callout((middle - half * 0.4, top - high * 0.4), (LEFT + 24, top - 16), bead)
    sheet.callout((inner + 20, raised), (LEFT + 24, raised - 22), sheet.say("metal_not_set"))
    sheet.callout((LEFT + 46, top + 4), (LEFT + 24, deck + 78), sheet.say("base_at_edge"))
    sheet.callout((LEFT + 80, deck + 34), (LEFT + 80, deck + 78), sheet.say("nailer"))
