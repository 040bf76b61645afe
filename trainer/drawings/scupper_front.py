"""A scupper seen from the roof: the main opening, and the overflow that stands higher."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trainer.drawings.canvas import LEADING
from trainer.drawings.sheet import LEFT, RIGHT

if TYPE_CHECKING:
    from trainer.drawings.scupper import Scupper


class Front:
    """The wall seen from the roof: the main opening with its flange, and the overflow."""

    def __init__(self, section: Scupper) -> None:
        self.section, self.sheet, self.canvas = section, section.sheet, section.sheet.canvas
        high = float(max(section.height, section.overflow + section.height) + section.flange) + 1
        wide = 2 * float(section.width) + 4 * float(section.flange) + 2
        self.scale = min((RIGHT - LEFT - 6) / wide, 120 / high, section.scale)
        self.head = section.sheet.bottom + 22
        self.roof = self.head + 26 + high * self.scale
        self.edge = float(section.flange) * self.scale

    def draw(self) -> None:
        """Draw the wall, both openings with their flanges, and the dimensions."""
        sheet, section = self.sheet, self.section
        sheet.view("view.from_roof", self.head, self.scale)
        self.canvas.line((LEFT, self.roof), (RIGHT, self.roof), width=2.4, kind="line roof")
        wide, high = float(section.width) * self.scale, float(section.height) * self.scale
        left = LEFT + 6 + self.edge
        with sheet.part("opening", (left, self.roof - high, wide, high)):
            self._opening(left, self.roof, (wide, high))
        center = (left + wide / 2, self.roof - high / 2)
        size = {"wide": sheet.dimension("scupper_width", section.width),
                "high": sheet.dimension("scupper_height", section.height)}  # fmt: skip
        sheet.callout(center, center, sheet.say("scupper.opening", **size))
        right = RIGHT - self.edge - wide
        low = self.roof - float(section.overflow) * self.scale
        with sheet.part("overflow", (right - 6, low - high, wide + 12, self.roof - low + high)):
            if "overflow" not in section.omit:
                self._opening(right, low, (wide, high))
                sheet.upward(low, self.roof, right - 6, "", tops=(right, right))
        if "overflow" not in section.omit:
            sheet.callout((right + wide / 2, low - high / 2), (right + wide / 2, low - high / 2),
                          sheet.say("scupper.overflow"))  # fmt: skip
            text = sheet.dimension("overflow_height", section.overflow)
            line = f"{sheet.say('scupper.up')} {text}"
            self.canvas.text((RIGHT, self.roof + 18 + LEADING), line, anchor="end", kind="dim")
        sheet.bottom = self.roof + 10 + (0 if "overflow" in section.omit else 2) * LEADING

    def _opening(self, left: float, low: float, size: tuple[float, float]) -> None:
        wide, high = size
        canvas, edge = self.canvas, self.edge
        top, foot = low - high - edge, min(low + edge, self.roof)
        outer = [(left - edge, foot), (left - edge, top), (left + wide + edge, top), (left + wide + edge, foot)]
        canvas.path(outer, dash="5 3", kind="hidden flange")
        canvas.rect(left, low - high, wide, high, line=2.4, kind="opening")
