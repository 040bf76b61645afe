"""SVG by hand: the few shapes a job drawing needs, as presentation attributes and classes only.

Lengths here are drawing units (about one CSS pixel on a narrow phone), x to the right, y down. Nothing in this
file knows about roofs. Colors are `currentColor`, so that a drawing follows the page from light to dark and to print;
only the class `paper` is filled with the page's own background.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache, lru_cache
from xml.sax.saxutils import escape

THIN = 0.7
LINE = 1.2
THICK = 2.4
TEXT = 13.0
LEADING = 16.0

# Widths of characters as a share of the type size, for a plain sans serif. Taken a little wide: a text with
# too much room does no harm, one with too little runs into its neighbor.
_NARROW = dict.fromkeys("iljI.,:;'|! ′″", 0.32) | dict.fromkeys("tfr()[]/-", 0.4)
_WIDE = dict.fromkeys("mwMW—%…", 0.95)
_CAPITAL = 0.72
_OTHER = 0.62

_QUOTE = {'"': "&quot;"}
_SPECIAL = re.compile(r"[&<>\"]")

Point = tuple[float, float]


@lru_cache(maxsize=4096)
def number(value: float) -> str:
    """Write a coordinate with at most two decimals and no trailing zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


@lru_cache(maxsize=4096)
def text_width(text: str, size: float = TEXT, *, bold: bool = False) -> float:
    """Estimate the width of a line of text in drawing units."""
    return _share(text) * size * (1.07 if bold else 1.0)


def _share(text: str, share: float = 0.0) -> float:
    """Add the widths of a text's characters to `share`."""
    for character in text:
        share += _character(character)
    return share


@cache
def _character(character: str) -> float:
    return _NARROW.get(character) or _WIDE.get(character) or (_CAPITAL if character.isupper() else _OTHER)


def wrap(text: str, width: float, size: float = TEXT, *, bold: bool = False) -> list[str]:
    """Break a text into lines that fit `width`, at plain spaces only; a word that is wider stands alone on its line."""
    return list(_wrapped(text, width, size, bold))


@lru_cache(maxsize=4096)
def _wrapped(text: str, width: float, size: float, bold: bool) -> tuple[str, ...]:
    lines: list[str] = []
    line, share = "", 0.0
    for word in text.split(" "):
        longer = _share(f" {word}", share) if line else _share(word)
        if line and longer * size * (1.07 if bold else 1.0) > width:
            lines.append(line)
            line, share = word, _share(word)
        else:
            line, share = f"{line} {word}" if line else word, longer
    return (*lines, line) if line else tuple(lines)


class Canvas:
    """An SVG document under way: elements in the order they are painted, and the patterns they use.

    Kinds, paints and dashes are the drawings' own words and need no escape; a text does.
    """

    def __init__(self, key: str) -> None:
        self.key = key
        self._elements: list[str] = []
        self._patterns: dict[str, str] = {}
        self._extent: list[Point] | None = None

    # -- plumbing ---------------------------------------------------------------------------------------------------

    def element(self, tag: str, text: str | None = None, /, **attributes: str | float | None) -> None:
        """Add one element; `_` in a name becomes `-` (`stroke_width`), a trailing `_` falls away (`class_`)."""
        self._elements.append(_element(tag, text, attributes))

    def open_part(self, name: str) -> None:
        """Begin a group of elements that are one part of the drawing; what is drawn from now on is measured."""
        self._elements.append(f'<g class="part" data-part="{name}">')
        self._extent = []

    def close_part(self) -> list[Point]:
        """End the group; give corners of what was drawn in it, texts and cleared paper left out."""
        self._elements.append("</g>")
        drawn, self._extent = self._extent or [], None
        return drawn

    def _reach(self, *points: Point) -> None:
        """Note how far a shape reaches, while a part is being drawn."""
        if self._extent is not None:
            self._extent.extend(points)

    def pattern(self, name: str, size: tuple[float, float], shapes: Iterable[str], *, turn: float = 0) -> str:
        """Register a fill pattern once and give the paint that uses it; its id is made unique by the key."""
        pattern_id = f"{self.key}-{name}"
        if name not in self._patterns:
            turned = f' patternTransform="rotate({number(turn)})"' if turn else ""
            self._patterns[name] = (
                f'<pattern id="{pattern_id}" patternUnits="userSpaceOnUse" width="{number(size[0])}" '
                f'height="{number(size[1])}"{turned}>{"".join(shapes)}</pattern>'
            )
        return f"url(#{pattern_id})"

    def body(self) -> str:
        """All that was drawn, with the patterns in front."""
        patterns = "".join(self._patterns.values())
        definitions = f"<defs>{patterns}</defs>" if patterns else ""
        return definitions + "".join(self._elements)

    # -- shapes -----------------------------------------------------------------------------------------------------

    def line(
        self, start: Point, end: Point, *, width: float = LINE, kind: str = "line", dash: str | None = None
    ) -> None:
        """Draw a straight line."""
        self._reach(start, end)
        self._elements.append(
            f'<line x1="{number(start[0])}" y1="{number(start[1])}" x2="{number(end[0])}" y2="{number(end[1])}" '
            f'class="{kind}" stroke="currentColor" stroke-width="{number(width)}"{_dashed(dash)}/>'
        )

    def rect(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        *,
        fill: str = "none",
        line: float = LINE,
        kind: str = "cut",
        dash: str | None = None,
    ) -> None:
        """Draw a rectangle; `line` is the weight of its outline, 0 for none."""
        self._reach((x, y), (x + width, y + height))
        self._elements.append(
            f'<rect x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}" '
            f'class="{kind}" fill="{fill}"{_stroked(line)}{_dashed(dash)}/>'
        )

    def path(
        self,
        points: Sequence[Point],
        *,
        closed: bool = False,
        fill: str = "none",
        line: float = LINE,
        kind: str = "cut",
        dash: str | None = None,
    ) -> None:
        """Draw a run of straight lines through the points."""
        self._reach(*points)
        data = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + ("Z" if closed else "")
        self.curve(data, fill=fill, line=line, kind=kind, dash=dash)

    def curve(
        self,
        data: str,
        *,
        fill: str = "none",
        line: float = LINE,
        kind: str = "cut",
        dash: str | None = None,
    ) -> None:
        """Draw a path given as SVG path data; how far it reaches is not measured."""
        joined = ' stroke-linejoin="round"' if line else ""
        self._elements.append(f'<path d="{data}" class="{kind}" fill="{fill}"{_stroked(line)}{joined}{_dashed(dash)}/>')

    def circle(
        self, center: Point, radius: float, *, fill: str = "none", line: float = LINE, kind: str = "cut"
    ) -> None:
        """Draw a circle."""
        self._reach((center[0] - radius, center[1] - radius), (center[0] + radius, center[1] + radius))
        self._elements.append(
            f'<circle cx="{number(center[0])}" cy="{number(center[1])}" r="{number(radius)}" class="{kind}" '
            f'fill="{fill}"{_stroked(line)}/>'
        )

    def paper(self, x: float, y: float, width: float, height: float) -> None:
        """Clear a rectangle to the page's own background, so that a text can be read over a hatch."""
        self._elements.append(
            f'<rect x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}" '
            f'class="paper" fill="#fff"/>'
        )

    def text(
        self,
        at: Point,
        text: str,
        *,
        anchor: str = "start",
        size: float = TEXT,
        bold: bool = False,
        kind: str = "label",
        clear: bool = False,
    ) -> None:
        """Write one line of text, `at` on its base line; `clear` blanks what lies behind it."""
        if clear:
            width = text_width(text, size, bold=bold)
            left = at[0] - {"start": 0.0, "middle": width / 2, "end": width}[anchor]
            self.paper(left - 2, at[1] - size * 0.85, width + 4, size * 1.1)
        weight = ' font-weight="bold"' if bold else ""
        placed = "" if anchor == "start" else f' text-anchor="{anchor}"'
        self._elements.append(
            f'<text x="{number(at[0])}" y="{number(at[1])}" class="{kind}" font-size="{number(size)}"{weight}{placed} '
            f'fill="currentColor">{escape(text)}</text>'
        )


@cache
def _stroked(line: float) -> str:
    """The attributes of an outline; none where its weight is 0."""
    return f' stroke="currentColor" stroke-width="{number(line)}"' if line else ""


def _dashed(dash: str | None) -> str:
    return f' stroke-dasharray="{dash}"' if dash is not None else ""


@cache
def _name(keyword: str) -> str:
    return keyword.rstrip("_").replace("_", "-")


def _element(tag: str, text: str | None, attributes: dict[str, str | float | None]) -> str:
    opening = tag
    for name, value in attributes.items():
        if value is None:
            continue
        written = _escaped(value) if isinstance(value, str) else number(value)
        opening = f'{opening} {_name(name)}="{written}"'
    return f"<{opening}/>" if text is None else f"<{opening}>{escape(text)}</{tag}>"


def _escaped(value: str) -> str:
    """Write an attribute's value; hardly one needs an escape, and to look costs less than to replace."""
    return escape(value, _QUOTE) if _SPECIAL.search(value) else value


def shape(tag: str, **attributes: str | float | None) -> str:
    """Give one element as text, for the inside of a pattern."""
    return _element(tag, None, attributes)
