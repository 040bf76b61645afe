"""Reads a drawing back from its SVG: elements by class, and the room each text takes."""

from __future__ import annotations

import re
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from trainer.drawings import Drawing
from trainer.drawings.canvas import text_width

SVG = "{http://www.w3.org/2000/svg}"


def root(drawing: Drawing) -> ET.Element:
    """Parse the SVG; fails where it is not well formed."""
    return ET.fromstring(drawing.svg)  # noqa: S314  the text is our own


def shapes(drawing: Drawing) -> list[ET.Element]:
    """Every element that is painted, in its order: those of the sheet itself and those in the groups of its parts."""
    found = []
    for element in root(drawing):
        found.extend(list(element) if element.tag == f"{SVG}g" else [element])
    return found


def find(drawing: Drawing, tag: str, kind: str) -> list[ET.Element]:
    """Every element of a tag whose class holds all the words of `kind`, outside the patterns."""
    words = set(kind.split())
    return [
        element
        for element in shapes(drawing)
        if element.tag == f"{SVG}{tag}" and words <= set(element.get("class", "").split())
    ]


def values(element: ET.Element, *names: str) -> tuple[float, ...]:
    """Number attributes of an element."""
    return tuple(float(element.get(name, "0")) for name in names)


def points(element: ET.Element) -> list[tuple[float, float]]:
    """The corners of a path of straight lines."""
    return [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", element.get("d", ""))]


@dataclass(frozen=True)
class Text:
    """A line of text and the box of its letters."""

    words: str
    left: float
    right: float
    top: float
    bottom: float

    def overlaps(self, other: Text) -> bool:
        """Tell whether two texts touch; a hair is forgiven, for the widths are estimates on the wide side."""
        return (
            min(self.right, other.right) - max(self.left, other.left) > 2
            and min(self.bottom, other.bottom) - max(self.top, other.top) > 1.5
        )


def texts(drawing: Drawing) -> list[Text]:
    """Every text of a drawing with the room it takes."""
    found = []
    for element in find(drawing, "text", ""):
        words = element.text or ""
        x, y, size = values(element, "x", "y", "font-size")
        width = text_width(words, size, bold=element.get("font-weight") == "bold")
        left = x - {"start": 0.0, "middle": width / 2, "end": width}[element.get("text-anchor", "start")]
        found.append(Text(words, left, left + width, y - 0.74 * size, y + 0.05 * size))
    return found
