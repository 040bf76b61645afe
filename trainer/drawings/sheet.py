"""A sheet of a job drawing: dimension lines, callouts, break lines, a title block, and the text alternative.

A drawing works on one sheet. Each dimension it draws is noted for the text alternative with the same words, so the
two cannot differ. Given numbers are always printed; numbers that were worked out are printed only when the caller asks
for them, so that the picture beside a question does not answer it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from fractions import Fraction
from xml.sax.saxutils import escape

from trainer.drawings import hatches
from trainer.drawings.canvas import LEADING, LINE, TEXT, THICK, THIN, Canvas, Point, number, text_width, wrap
from trainer.drawings.errors import DrawingInputError
from trainer.drawings.parts import Area, Box, Part, around, fitted
from trainer.drawings.words import dimension_label, part_label, word
from trainer.rules.lengths import METRIC_MARK, TAPE_MARK, exact_text, length_text, nearest_mark

WIDTH = 340.0
MARGIN = 10.0
LEFT = MARGIN
RIGHT = WIDTH - MARGIN
SMALL = 12.0
CALLOUT = 9.0
ALL = "all"
UNBROKEN = "\u00a0"

_BARS = {
    "imperial": tuple(
        Fraction(value) for value in ("1/4", "1/2", 1, 2, 3, 6, 12, 24, 48, 60, 120, 240, 480, 1200, 2400)
    ),
    "metric": tuple(
        Fraction(value) * 10 / 254 for value in (5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000, 50000)
    ),
}


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished drawing: SVG text, its text alternative, the size of its view box in drawing units, and its parts.

    Parts stand in the order in which the drawing declares them; one that was neither drawn nor given a box is left out.
    """

    svg: str
    alt: str
    width: int
    height: int
    parts: tuple[Part, ...] = ()


class Sheet:
    """One drawing under way, for one reader's language and one system of units."""

    def __init__(
        self,
        name: str,
        *,
        units: str = "imperial",
        language: str = "en",
        key: str = "d1",
        show: Iterable[str] = (),
        ask: Iterable[str] = (),
        parts: Sequence[str] = (),
    ) -> None:
        self.name = name
        self.units = units
        self.language = language
        self.canvas = Canvas(key)
        self.bottom = MARGIN
        self._show = frozenset(show)
        self._ask = frozenset(ask)
        self._legend: list[str] = []
        self._facts: list[str] = []
        self._sentences: list[str] = []
        self._exaggerated: set[str] = set()
        self._views = False
        self._scale: float | None = None
        self._parts: dict[str, list[Area]] = {name: [] for name in parts}
        self._part: str | None = None

    # -- parts ------------------------------------------------------------------------------------------------------

    @contextmanager
    def part(self, name: str, box: Area | None = None) -> Iterator[None]:
        """Draw what belongs to one part, which a reader can point at; a part may be drawn in several pieces.

        `box` (x, y, width, height in drawing units) is what a finger hits where the drawn thing is too thin, too large,
        or left out; else it is the area of the straight shapes drawn inside, texts left out.

        Raises:
            ValueError: The drawing does not declare the part, another part is open, or nothing tells where it is.
        """
        if name not in self._parts or self._part is not None:
            problem = f'part "{self._part}" is still open' if name in self._parts else "it is not declared"
            raise ValueError(f'drawing "{self.name}", part "{name}": {problem}')
        self._part = name
        self.canvas.open_part(name)
        yield
        drawn = around(self.canvas.close_part())
        self._part = None
        area = box or drawn
        if area is None:
            raise ValueError(f'drawing "{self.name}", part "{name}": nothing was drawn; give it a box')
        self._parts[name].append(area)

    # -- words and numbers ------------------------------------------------------------------------------------------

    def say(self, key: str, **values: object) -> str:
        """Give a word or sentence of the drawings in the reader's language; what fills its gaps is never broken."""
        return word(key, self.language, **{name: str(value).replace(" ", UNBROKEN) for name, value in values.items()})

    def length(self, inches: Fraction) -> str:
        """Write a length as the reader's tape would, with ≈ before it where it lies between two marks."""
        text = length_text(inches, units=self.units, language=self.language)
        mark = METRIC_MARK if self.units == "metric" else TAPE_MARK
        return text if nearest_mark(inches, mark) == inches else f"≈ {text}"

    def shows(self, name: str) -> bool:
        """Tell whether a number that was worked out is to be drawn (printed, or asked for with a question mark)."""
        return ALL in self._show or name in self._show or name in self._ask

    def prints(self, name: str) -> bool:
        """Tell whether the number itself may be read on the drawing."""
        return name not in self._ask and (ALL in self._show or name in self._show)

    def asks(self, name: str) -> bool:
        """Tell whether a number is to stand as a question mark."""
        return name in self._ask

    def note_asked(self, *names: str) -> None:
        """Write under the drawing which worked-out numbers are asked for, where no dimension line would show them."""
        for name in names:
            if name in self._ask:
                self.note(f"{self.label(name)}: {self.dimension(name, None)}")

    def describe(self, key: str, **values: object) -> None:
        """Add a sentence to the text alternative."""
        self._sentences.append(self.say(key, **values))

    def dimension(self, name: str, value: Fraction | None, text: str | None = None) -> str:
        """Note a dimension for the text alternative and give its text: a length, or ? where it is asked for."""
        written = "?" if name in self._ask else text if text is not None else self.length(value or Fraction(0))
        stated = self.say("to_be_found") if name in self._ask else written
        fact = f"{self.label(name)}: {stated}"
        if fact not in self._facts:
            self._facts.append(fact)
        return written

    def label(self, name: str) -> str:
        """The name of a dimension in the reader's language."""
        return dimension_label(name, self.language, self.name)

    def fill(self, material: str) -> str:
        """The hatch of a material."""
        return hatches.fill(self.canvas, material)

    def need(self, holds: bool, name: str, value: Fraction, limit: str, mending: str) -> None:
        """Refuse a length unless the condition holds.

        Raises:
            DrawingInputError: It does not; shows name, value, limit, mending.
        """
        if not holds:
            raise DrawingInputError(self.name, name, exact_text(value), limit, mending)

    def exaggerate(self, what: str = "thickness") -> None:
        """Mark what is not to scale: `thickness` or `width`, drawn larger; `broken`, with a piece left out."""
        self._exaggerated.add(f"scale.{what}")

    def scale(self, units_an_inch: float) -> None:
        """State the scale for the bar in the title block."""
        self._scale = units_an_inch

    # -- dimension lines --------------------------------------------------------------------------------------------

    def across(
        self,
        x1: float,
        x2: float,
        y: float,
        text: str,
        *,
        caption: str = "",
        tops: tuple[float, float] | None = None,
        below: bool = False,
    ) -> None:
        """Draw a horizontal dimension line at `y` between two places.

        `tops` are the ends of the extension lines on the object; the text stands over the line (under it with
        `below`), with its caption on the same line if there is room, and is kept on the sheet.
        """
        self._extensions(((x1, y), (x2, y)), tops, vertical=False)
        span = abs(x2 - x1)
        self._arrows((x1, y), (x2, y), (1, 0), outside=span < 22)
        lines = [part for part in (caption, text) if part]
        joined = " ".join(lines)
        if text_width(joined) <= max(span - 6, 0):
            lines = [joined]
        middle = (x1 + x2) / 2
        first = y + LEADING if below else y - 5 - LEADING * (len(lines) - 1)
        for index, line in enumerate(lines):
            half = text_width(line) / 2
            center = min(max(middle, LEFT + half), RIGHT - half)
            self.canvas.text((center, first + index * LEADING), line, anchor="middle", kind="dim", clear=True)

    def upward(
        self,
        y1: float,
        y2: float,
        x: float,
        text: str,
        *,
        caption: str = "",
        tops: tuple[float, float] | None = None,
        side: str = "right",
        room: float = 110,
    ) -> None:
        """Draw a vertical dimension line at `x`, its text level beside it on the given side, wrapped to `room`."""
        self._extensions(((x, y1), (x, y2)), tops, vertical=True)
        self._arrows((x, y1), (x, y2), (0, 1), outside=abs(y2 - y1) < 22)
        # A length is never broken over two lines: "3 ft 3 3/8" with its "in" below would be misread.
        lines = [*wrap(caption, room), *([text] if text else [])]
        joined = f"{caption} {text}".strip()
        if joined and text_width(joined) <= room:
            lines = [joined]
        top = (y1 + y2) / 2 - LEADING * (len(lines) - 1) / 2 + TEXT * 0.35
        anchor = "start" if side == "right" else "end"
        shift = 6 if side == "right" else -6
        for index, line in enumerate(lines):
            self.canvas.text((x + shift, top + index * LEADING), line, anchor=anchor, kind="dim", clear=True)

    def _extensions(self, ends: tuple[Point, Point], tops: tuple[float, float] | None, *, vertical: bool) -> None:
        if tops is None:
            return
        for (x, y), top in zip(ends, tops, strict=True):
            along = x if vertical else y
            if abs(along - top) < 4:
                continue
            past = 3 if along > top else -3
            start, end = top + past, along + past
            if vertical:
                self.canvas.line((start, y), (end, y), width=THIN, kind="dim")
            else:
                self.canvas.line((x, start), (x, end), width=THIN, kind="dim")

    def _arrows(self, start: Point, end: Point, toward: Point, *, outside: bool) -> None:
        (x1, y1), (x2, y2) = start, end
        length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
        dx, dy = ((x2 - x1) / length, (y2 - y1) / length) if length else toward
        if outside:
            self.canvas.line((x1 - dx * 14, y1 - dy * 14), (x2 + dx * 14, y2 + dy * 14), width=THIN, kind="dim")
            self.arrowhead(start, (dx, dy))
            self.arrowhead(end, (-dx, -dy))
        else:
            self.canvas.line(start, end, width=THIN, kind="dim")
            self.arrowhead(start, (-dx, -dy))
            self.arrowhead(end, (dx, dy))

    def arrowhead(self, tip: Point, toward: Point, size: float = 7.5) -> None:
        """Draw a filled arrowhead with its tip at a place, pointing along a unit vector."""
        (x, y), (dx, dy) = tip, toward
        back = (x - dx * size, y - dy * size)
        wing = size * 0.27
        self.canvas.path(
            [tip, (back[0] - dy * wing, back[1] + dx * wing), (back[0] + dy * wing, back[1] - dx * wing)],
            closed=True,
            fill="currentColor",
            line=0,
            kind="arrow",
        )

    # -- notes ------------------------------------------------------------------------------------------------------

    def leader(self, target: Point, at: Point, text: str, *, anchor: str = "start", room: float = 150) -> None:
        """Write a note at a place with a line to the part it names, ending in a dot."""
        lines = wrap(text, room)
        shift = -4 if anchor == "start" else 4
        self.canvas.line((at[0] + shift, at[1] - TEXT * 0.35), target, width=THIN, kind="leader")
        self.canvas.circle(target, 1.8, fill="currentColor", line=0, kind="leader")
        for index, line in enumerate(lines):
            self.canvas.text((at[0], at[1] + index * LEADING), line, anchor=anchor, clear=True)

    def note(self, text: str) -> None:
        """Write a line under what was drawn so far."""
        for line in wrap(text, RIGHT - LEFT):
            self.bottom += LEADING
            self.canvas.text((LEFT, self.bottom), line, kind="dim")

    def callout(self, target: Point, at: Point, text: str) -> None:
        """Draw a numbered callout with a line to the part; the text goes to the list below the drawing."""
        self._legend.append(text)
        self.mark(target, at, str(len(self._legend)))

    def mark(self, target: Point, at: Point, text: str) -> None:
        """Draw a circled mark with a line to a part."""
        if target != at:
            self.canvas.line(at, target, width=THIN, kind="leader")
            self.canvas.circle(target, 1.8, fill="currentColor", line=0, kind="leader")
        self.canvas.circle(at, CALLOUT, fill="#fff", line=LINE, kind="paper callout")
        self.canvas.text((at[0], at[1] + SMALL * 0.36), text, anchor="middle", size=SMALL, bold=True)

    def water(self, start: Point, end: Point, text: str | None = None) -> None:
        """Draw the arrow that shows where water runs, with its word over it."""
        self.canvas.line(start, end, width=THICK, kind="water")
        length = max(((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5, 0.001)
        toward = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
        self.arrowhead((end[0] + toward[0] * 6, end[1] + toward[1] * 6), toward, 12)
        written = self.say("water") if text is None else text
        self.canvas.text(((start[0] + end[0]) / 2, min(start[1], end[1]) - 7), written, anchor="middle")

    def break_across(self, x: float, top: float, bottom: float, gap: float = 7) -> None:
        """Break an object that is too long: two jagged lines down the drawing with a gap between."""
        self.canvas.paper(x - gap / 2, top - 2, gap, bottom - top + 4)
        for edge in (x - gap / 2, x + gap / 2):
            middle = (top + bottom) / 2
            points = [
                (edge, top - 5),
                (edge, middle - 5),
                (edge - 4, middle - 2),
                (edge + 4, middle + 2),
                (edge, middle + 5),
                (edge, bottom + 5),
            ]
            self.canvas.path(points, line=THIN, kind="break")

    def break_up(self, y: float, left: float, right: float, gap: float = 7) -> None:
        """Break an object that is too tall: two jagged lines across the drawing with a gap between."""
        self.canvas.paper(left - 2, y - gap / 2, right - left + 4, gap)
        for edge in (y - gap / 2, y + gap / 2):
            middle = (left + right) / 2
            points = [
                (left - 5, edge),
                (middle - 5, edge),
                (middle - 2, edge - 4),
                (middle + 2, edge + 4),
                (middle + 5, edge),
                (right + 5, edge),
            ]
            self.canvas.path(points, line=THIN, kind="break")

    def view(self, key: str, y: float, units_an_inch: float) -> None:
        """Write the name of a view over it, with the bar of its own scale at the right."""
        self._views = True
        self.canvas.text((LEFT, y), self.say(key), size=SMALL, bold=True, kind="label heading")
        bar, text = self._bar(units_an_inch)
        self._scale_bar(RIGHT - bar - 5 - text_width(text, SMALL), y, bar, text)

    # -- the finished sheet -----------------------------------------------------------------------------------------

    def finish(self, ring: Sequence[str] = ()) -> Drawing:
        """Close the sheet: list of callouts, title block, frame; then the SVG and the text alternative.

        Parts named by `ring` get a ring around each of their boxes, and their names stand below the drawing.
        """
        if ring:
            named = "; ".join(part_label(self.name, name, self.language) for name in ring)
            self.bottom += 8
            self.note(self.say("ringed", part=named))
            self.bottom += 6
            self.describe("ringed", part=named)
        y = self._list_callouts(self.bottom)
        height = float(math.ceil(self._title_block(y)))
        parts = self._fitted_parts(height)
        for box in (box for part in parts if part.name in ring for box in part.boxes):
            self._ring(box)
        self.canvas.rect(0.75, 0.75, WIDTH - 1.5, height - 1.5, line=1.5, kind="frame")
        title = self.say(f"title.{self.name}")
        alt = self._alternative(title)
        key = self.canvas.key
        svg = (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing drawing-{self.name.replace("_", "-")}" '
            f'viewBox="0 0 {number(WIDTH)} {number(height)}" width="100%" role="img" lang="{self.language}" '
            f'aria-labelledby="{key}-title" aria-describedby="{key}-desc" font-family="sans-serif">'
            f'<title id="{key}-title">{escape(title)}</title><desc id="{key}-desc">{escape(alt)}</desc>'
            f"{self.canvas.body()}</svg>"
        )
        return Drawing(svg, alt, int(WIDTH), int(height), parts)

    def _ring(self, box: Box) -> None:
        """Draw a ring of two lines around a box, so that it is told from every line of the drawing."""
        for past, width in ((1.5, THICK * 1.3), (6.0, THIN)):
            left, top = max(box.x - past, 2.5), max(box.y - past, 2.5)
            right = min(box.x + box.width + past, WIDTH - 2.5)
            self.canvas.element(
                "rect", x=left, y=top, width=right - left, height=box.y + box.height + past - top, rx=10 + past,
                class_="ring", fill="none", stroke="currentColor", stroke_width=width,
            )  # fmt: skip

    def _fitted_parts(self, height: float) -> tuple[Part, ...]:
        boxes = fitted(self._parts, (WIDTH, height))
        return tuple(
            Part(name, part_label(self.name, name, self.language), found) for name, found in boxes.items() if found
        )

    def _list_callouts(self, y: float) -> float:
        for index, text in enumerate(self._legend):
            y += 3
            self.canvas.circle((LEFT + CALLOUT, y + 8), CALLOUT, kind="callout")
            self.canvas.text(
                (LEFT + CALLOUT, y + 8 + SMALL * 0.36), str(index + 1), anchor="middle", size=SMALL, bold=True
            )
            lines = wrap(text, RIGHT - LEFT - 28)
            for line in lines:
                self.canvas.text((LEFT + 26, y + 8 + TEXT * 0.36), line)
                y += LEADING
            y += 3
        return y

    def _title_block(self, y: float) -> float:
        y += 10
        self.canvas.line((0, y), (WIDTH, y), width=THICK, kind="frame")
        for line in wrap(self.say(f"title.{self.name}"), RIGHT - LEFT, bold=True):
            y += LEADING + 1
            self.canvas.text((LEFT, y), line, bold=True, kind="label title")
        y += 7
        self.canvas.line((0, y), (WIDTH, y), width=THIN, kind="frame")
        x = LEFT
        if self._scale is not None:
            x = self._scale_bar(LEFT, y + 15, *self._bar(self._scale)) + 14
        for line in wrap(self._scale_note(), RIGHT - x, SMALL):
            y += LEADING
            self.canvas.text((x, y), line, size=SMALL)
        return y + 8

    def _scale_note(self) -> str:
        first = [] if "scale.pictures" in self._exaggerated else ["scale.views" if self._views else "scale.true"]
        keys = [*first, *sorted(self._exaggerated)]
        return " ".join(self.say(key) for key in keys)

    def _bar(self, units_an_inch: float) -> tuple[float, str]:
        """Choose a round length for the bar of a scale: its size on the sheet and its text."""
        bars = _BARS[self.units]
        fitting = [bar for bar in bars if 20 <= float(bar) * units_an_inch <= 80]
        bar = fitting[len(fitting) // 2] if fitting else min(bars, key=lambda bar: abs(float(bar) * units_an_inch - 40))
        return float(bar) * units_an_inch, self.length(bar)

    def _scale_bar(self, x: float, y: float, bar: float, text: str) -> float:
        self.canvas.rect(x, y - 6, bar / 2, 5, fill="currentColor", line=THIN, kind="scale-bar")
        self.canvas.rect(x, y - 6, bar, 5, line=THIN, kind="scale-bar")
        self.canvas.text((x + bar + 5, y), text, size=SMALL)
        return x + bar + 5 + text_width(text, SMALL)

    def _alternative(self, title: str) -> str:
        parts: list[str] = [f"{title}.", *self._sentences]
        if self._legend:
            listed = "; ".join(f"{index}, {text}" for index, text in enumerate(self._legend, 1))
            parts.append(f"{listed}.")
        if self._facts:
            facts = "; ".join(self._facts)
            parts.append(f"{facts[0].upper()}{facts[1:]}.")
        parts.append(self._scale_note())
        return " ".join(parts).replace(UNBROKEN, " ")


def spread(values: Sequence[float], least: float) -> list[int]:
    """Choose which of many marks get a text so that no two texts stand closer than `least`; first and last always do.

    Gives indexes into `values`, which run one way.
    """
    if len(values) < 3:
        return list(range(len(values)))
    kept = [0]
    last = len(values) - 1
    for index in range(1, last):
        if abs(values[index] - values[kept[-1]]) >= least and abs(values[index] - values[last]) >= least:
            kept.append(index)
    return [*kept, last]
