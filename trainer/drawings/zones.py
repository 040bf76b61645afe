"""Zones of a roof and the fasteners in them: the roof in plan with samples, and boards with their plates."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Annotated

from trainer.drawings.canvas import LINE, THICK, THIN
from trainer.drawings.checks import positive
from trainer.drawings.derive import worked_out
from trainer.drawings.errors import DrawingInputError
from trainer.drawings.registry import OneOf, SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import AREA, Count, Length

ZONES = ("field", "edge", "corner")
HATCH = {"field": None, "edge": "base", "corner": "lap"}
TOP = 62.0
MOST_PLATES = 40


@drawing("corner_zones", "edge_zones", "field_zone", parts=ZONES)
def roof_zones(
    sheet: Sheet,
    *,
    side_a: Length,
    side_b: Length,
    zone_width: Length,
    field_spacing: Length | None = None,
    edge_spacing: Length | None = None,
    corner_spacing: Length | None = None,
    omit: Annotated[tuple[str, ...], SomeOf(("corner",))] = (),
) -> None:
    """A roof from above with its field, edge and corner zones as the job's drawing gives them, and their fasteners.

    Width of the zones and spacing of the fasteners are inputs from that drawing; none is worked out here.
    """
    spacings = {"field": field_spacing, "edge": edge_spacing, "corner": corner_spacing}
    positive(sheet, side_a=side_a, side_b=side_b, zone_width=zone_width, field_spacing=field_spacing,
             edge_spacing=edge_spacing, corner_spacing=corner_spacing)  # fmt: skip
    limit, mending = "both zones must leave a field between them", "read the drawing again"
    sheet.need(2 * zone_width < min(side_a, side_b), "zone_width", zone_width, limit, mending)
    for name, spacing in spacings.items():
        if spacing is not None:
            sheet.need(3 <= spacing <= 48, f"{name}_spacing", spacing, "it lies between 3 in and 48 in", mending)
    sheet.describe("alt.roof_zones.plain" if "corner" in omit else "alt.roof_zones")
    bottom = _plan(sheet, side_a, side_b, zone_width, corners="corner" not in omit)
    sheet.bottom = bottom
    if any(spacings.values()):
        _samples(sheet, spacings)
    for name, rule in (
        ("corner_zones", "corner_zone_area"),
        ("edge_zones", "edge_zone_area"),
        ("field_zone", "field_zone_area"),
    ):
        if sheet.shows(name):
            area = worked_out(sheet, rule, side_a=side_a, side_b=side_b, zone_width=zone_width)
            text = AREA.text(area, sheet.units, sheet.language)
            sheet.note(f"{sheet.label(name)}: {sheet.dimension(name, None, text)}")
    sheet.bottom += 6
    for name in ZONES:
        sheet.describe(f"zone_{name}")


def _plan(sheet: Sheet, side_a: Fraction, side_b: Fraction, width: Fraction, *, corners: bool) -> float:
    canvas = sheet.canvas
    scale = min((RIGHT - LEFT - 78) / float(side_a), 190 / float(side_b))
    sheet.view("view.plan", 22, scale)
    left, wide, tall, zone = LEFT + 2, float(side_a) * scale, float(side_b) * scale, float(width) * scale
    right, bottom = left + wide, TOP + tall
    with sheet.part("field", (left + zone, TOP + zone, wide - 2 * zone, tall - 2 * zone)):
        canvas.rect(left + zone, TOP + zone, wide - 2 * zone, tall - 2 * zone, kind="cut field")
    inner = zone if corners else 0.0
    strips = [(left + inner, TOP, wide - 2 * inner, zone), (left + inner, bottom - zone, wide - 2 * inner, zone),
              (left, TOP + zone, zone, tall - 2 * zone), (right - zone, TOP + zone, zone, tall - 2 * zone)]  # fmt: skip
    for x, y, strip_wide, strip_tall in strips:
        with sheet.part(
            "edge", (left + wide / 2 - 20 if strip_wide > zone else x, y, 40 if strip_wide > zone else zone, strip_tall)
        ):
            canvas.rect(x, y, strip_wide, strip_tall, fill=sheet.fill("base"), line=LINE, kind="cut edge-zone")
    for x in (left, right - zone):
        for y in (TOP, bottom - zone):
            with sheet.part("corner", (x, y, zone, zone)):
                if corners:
                    canvas.rect(x, y, zone, zone, fill=sheet.fill("lap"), line=LINE, kind="cut corner-zone")
    canvas.rect(left, TOP, wide, tall, line=THICK, kind="line roof-edge")
    sheet.across(left, right, 44, sheet.dimension("side_a", side_a), tops=(TOP, TOP))
    tops = (right, right)
    sheet.upward(TOP, bottom, right + 14, sheet.dimension("side_b", side_b), tops=tops, room=RIGHT - right - 22)
    sheet.across(left, left + zone, bottom + 20, "", tops=(bottom, bottom))
    text = f"{sheet.label('zone_width')} {sheet.dimension('zone_width', width)}"
    canvas.text((LEFT, bottom + 42), text, kind="dim")
    names = {"field": (left + wide / 2, TOP + tall / 2), "edge": (left + wide / 2, TOP + zone / 2)}
    if corners:
        names["corner"] = (right - zone / 2, bottom - zone / 2)
    for index, name in enumerate(names, 1):
        sheet.mark(
            names[name],
            names[name] if name == "field" else (names[name][0], bottom + 20 if name == "corner" else names[name][1]),
            str(index),
        )
    low = bottom + 62
    for index, name in enumerate(names, 1):
        canvas.text((LEFT, low), f"{index}: {sheet.say(f'zone_{name}')}")
        low += 17
    return low - 8


def _samples(sheet: Sheet, spacings: dict[str, Fraction | None]) -> None:
    """Draw a piece of each zone at one scale, a fastener at every crossing of its spacing."""
    canvas, top = sheet.canvas, sheet.bottom + 22
    side = 96.0
    given = [spacing for spacing in spacings.values() if spacing is not None]
    scale = side / float(max(max(given) * Fraction(5, 2), Fraction(24)))
    sheet.view("view.samples", top, scale)
    for index, (name, spacing) in enumerate(spacings.items()):
        if spacing is None:
            continue
        x, y, step = LEFT + index * (side + 16), top + 30, float(spacing) * scale
        canvas.text((x, y - 8), sheet.say(f"short_{name}"))
        with sheet.part(name, (x, y, side, side)):
            canvas.rect(x, y, side, side, line=THIN, kind="line sample")
            for row in range(int((side - 8) / step) + 1):
                for column in range(int((side - 8) / step) + 1):
                    canvas.circle(
                        (x + 4 + column * step, y + 4 + row * step),
                        2,
                        fill="currentColor",
                        line=0,
                        kind=f"fastener {name}",
                    )
        canvas.text((x, y + side + 16), sheet.dimension(f"{name}_spacing", spacing), kind="dim")
    sheet.bottom = top + 30 + side + 20


@drawing(parts=(*ZONES, "edge_distance"))
def board_fasteners(
    sheet: Sheet,
    *,
    field_plates: Count,
    edge_plates: Count | None = None,
    corner_plates: Count | None = None,
    board_length: Length = Fraction(96),
    board_width: Length = Fraction(48),
    plate_edge: Length = Fraction(6),
    pattern: Annotated[str, OneOf(("even", "one_end"))] = "even",
) -> None:
    """One board of each zone with its plates; `plate_edge` runs from the board's edges to the middle of the plates.

    `pattern` = one_end: the plates of the field's board stand close together at one end.
    """
    positive(sheet, board_length=board_length, board_width=board_width, plate_edge=plate_edge)
    limit = "the plates must fit on the board"
    sheet.need(4 * plate_edge <= min(board_length, board_width), "plate_edge", plate_edge, limit, "measure it again")
    counts = {"field": field_plates, "edge": edge_plates, "corner": corner_plates}
    given = {name: count for name, count in counts.items() if count is not None}
    for name, count in given.items():
        if not 1 <= count <= MOST_PLATES:
            raise DrawingInputError(
                sheet.name, f"{name}_plates", count, f"a board takes 1 to {MOST_PLATES} plates", "count again"
            )
    room = 250 if len(given) == 1 else 200
    scale = min(room / float(board_length), (150 if len(given) == 1 else 96) / float(board_width))
    sheet.scale(scale)
    sheet.describe("alt.board_fasteners")
    sheet.describe(f"alt.board_fasteners.{pattern}")
    board = _Board(sheet, board_length, board_width, plate_edge, scale)
    y = 56.0
    for index, (name, count) in enumerate(given.items()):
        board.draw(name, count, y, first=index == 0, crowded=pattern == "one_end" and index == 0)
        y += float(board_width) * scale + 40
    sheet.bottom = y - 16


@dataclass(frozen=True)
class _Board:
    """A board at one scale."""

    sheet: Sheet
    length: Fraction
    width: Fraction
    edge: Fraction
    scale: float

    def draw(self, name: str, count: int, y: float, *, first: bool, crowded: bool) -> None:
        """Draw a board with its plates, their number beside it."""
        sheet, canvas = self.sheet, self.sheet.canvas
        x = LEFT + 34
        wide, tall, inset = (float(size) * self.scale for size in (self.length, self.width, self.edge))
        places = list(_places(count, float(self.length - 2 * self.edge), float(self.width - 2 * self.edge)))
        share = 0.45 if crowded else 1.0
        with sheet.part(name, (x, y, wide, tall)):
            canvas.rect(x, y, wide, tall, fill="none", kind="cut insulation-board")
            for across, down in places:
                at = (x + inset + across * share * self.scale, y + inset + down * self.scale)
                canvas.circle(at, max(1.5 * self.scale, 3.2), line=LINE, kind=f"plate {name}")
                canvas.circle(at, 1.2, fill="currentColor", line=0, kind="fastener")
        label = f"{sheet.say(f'short_{name}')}: {sheet.dimension(f'{name}_plates', None, str(count))}"
        canvas.text((x, y + tall + 16), label, kind="dim")
        if first:
            with sheet.part("edge_distance", (x - 6, y - 6, 24, 24)):
                pass
            sheet.across(x, x + inset, y - 14, sheet.dimension("plate_edge", self.edge), tops=(y, y + inset))
            sheet.upward(y, y + inset, x - 12, "", tops=(x, x + inset))
            if self.edge:
                sheet.dimension("board_length", self.length)
                sheet.dimension("board_width", self.width)


@lru_cache(maxsize=256)
def _rows(count: int, length: float, width: float) -> tuple[int, ...]:
    """Choose how many plates stand in each row, so that they stand about as far apart both ways."""
    return min(_patterns(count), key=lambda rows: _uneven(rows, length, width))


def _places(count: int, length: float, width: float) -> Iterator[tuple[float, float]]:
    """Spread plates over a length and a width: rows of as many or, in turn, of one fewer set between them."""
    rows = _rows(count, length, width)
    most = max(rows)
    for index, row in enumerate(rows):
        y = width * index / (len(rows) - 1) if len(rows) > 1 else width / 2
        step = length / (most - 1) if most > 1 else 0.0
        start = (length - step * (row - 1)) / 2
        for place in range(row):
            yield start + step * place, y


def _patterns(count: int) -> Iterator[tuple[int, ...]]:
    for rows in range(1, count + 1):
        if count % rows == 0:
            yield (count // rows,) * rows
        for first in range(2, count + 1):
            for second in (first - 1, first + 1):
                found = tuple(first if row % 2 == 0 else second for row in range(rows))
                if rows > 1 and sum(found) == count:
                    yield found


def _uneven(rows: tuple[int, ...], length: float, width: float) -> float:
    """How far spacing along and across differ; a staggered pattern spreads its plates over every second row."""
    along = length / max(max(rows) - 1, 0.5)
    across = width / max(len(rows) - 1, 0.5)
    staggered = len(set(rows)) > 1
    return abs(math.log(along / (across * (2 if staggered and len(rows) > 2 else 1)))) + (0.25 if staggered else 0.0)
