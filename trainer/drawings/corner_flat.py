"""The pieces of a corner laid flat: outlines, folds, cuts and their dimensions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trainer.drawings.canvas import THICK, Point, text_width
from trainer.drawings.folding import Flat
from trainer.drawings.parts import LEAST
from trainer.drawings.sheet import LEFT, RIGHT

if TYPE_CHECKING:
    from trainer.drawings.corner import Corner


class Pattern:
    """Both pieces laid flat, at one scale: the flashing at the left, the corner piece at the right."""

    def __init__(self, corner: Corner) -> None:
        self.corner, self.sheet, self.canvas = corner, corner.sheet, corner.sheet.canvas
        wide = corner.first + float(corner.strip_lap)
        high = float(corner.height + corner.roof_lap)
        square = 0.0 if "corner_piece" in corner.omit else 2 * float(corner.reach)
        self.scale = min((RIGHT - 26 - self.left) / (wide + square), 130 / max(high, square))
        self.head = corner.sheet.bottom + 26

    @property
    def left(self) -> float:
        """The left end of the flashing piece: far enough in for the words beside it."""
        texts = (self.sheet.length(self.corner.height), self.sheet.length(self.corner.roof_lap))
        return LEFT + max(84.0, *(text_width(text) + 18 for text in texts))

    @property
    def fold(self) -> float:
        """The bend between wall and roof."""
        return self.head + 52 + float(self.corner.height) * self.scale

    @property
    def line(self) -> float:
        """The line that comes to lie on the corner."""
        return self.left + self.corner.first * self.scale

    def at(self, u: float, v: float) -> Point:
        """Where a point of the flashing piece lies on the sheet."""
        return self.line + u * self.scale, self.fold - v * self.scale

    @property
    def center(self) -> Point:
        """The middle of the corner piece."""
        reach = float(self.corner.reach) * self.scale
        over = self.head + 40 + reach
        return RIGHT - reach - 2, max(self.fold + float(self.corner.roof_lap) * self.scale - reach, over)

    def draw(self) -> None:
        """Draw both pieces with their folds, cuts and dimensions."""
        sheet, corner = self.sheet, self.corner
        sheet.view("view.flat", self.head, self.scale)
        self._flashing()
        self._dimensions()
        self.mark_faces()
        low = self.at(0, -float(corner.roof_lap))[1]
        if "corner_piece" not in corner.omit:
            low = max(low, self._piece())
        else:
            with sheet.part("corner_reach", (RIGHT - 60, self.fold - 60, LEAST, LEAST)):
                pass
        self.low = low
        sheet.bottom = low + 10
        sheet.note(sheet.say("corner.lines"))
        sheet.bottom += 8

    def _flashing(self) -> None:
        corner, canvas = self.corner, self.canvas
        high, roof = float(corner.height), float(corner.roof_lap)
        lap, past = float(corner.strip_lap), float(corner.cut_past)
        outline: list[Flat] = [(-corner.first, -roof), (lap, -roof), (lap, high), (-corner.first, high)]
        canvas.path([self.at(*point) for point in outline], closed=True, kind="flat flashing")
        canvas.line(self.at(-corner.first, 0), self.at(lap, 0), dash="6 3", kind="fold bend")
        canvas.line(self.at(0, past), self.at(0, high), dash="6 3", kind="fold corner")
        x, y = self.at(0, -roof)
        top = self.at(0, past)[1]
        with self.sheet.part("cut", (x - LEAST / 2, top - 4, LEAST, max(y - top, LEAST))):
            canvas.line((x, y), (x, top), width=THICK * 1.3, kind="line cut-line")
        self.sheet.break_across(self.at(-corner.first, 0)[0] + 3, self.at(0, high)[1], y)

    def _dimensions(self) -> None:
        sheet, corner = self.sheet, self.corner
        high, roof, x = float(corner.height), float(corner.roof_lap), self.left - 12
        top, bend, low = self.at(0, high)[1], self.fold, self.at(0, -roof)[1]
        with sheet.part("height", (x - 16, top, LEAST, bend - top)):
            sheet.upward(top, bend, x, sheet.dimension("flashing_height", corner.height),
                         caption=sheet.say("corner.up"), side="left", room=58)  # fmt: skip
        with sheet.part("roof_lap", (x - 16, bend, LEAST, max(low - bend, LEAST))):
            words = sheet.say("corner.on_roof") if low - bend > 40 else ""
            sheet.upward(bend, low, x, sheet.dimension("roof_lap", corner.roof_lap),
                         caption=words, side="left", room=58)  # fmt: skip
        start, end = self.at(0, high)[0], self.at(float(corner.strip_lap), high)[0]
        with sheet.part("strip_lap", (start, top - 26, end - start, LEAST)):
            sheet.across(start, end, top - 12, sheet.dimension("strip_lap", corner.strip_lap),
                         caption=sheet.say("corner.round"), tops=(top, top))  # fmt: skip

    def _piece(self) -> float:
        """Draw the corner piece; gives its lower edge."""
        corner, sheet, canvas = self.corner, self.sheet, self.canvas
        reach = float(corner.reach) * self.scale
        cx, cy = self.center
        canvas.rect(cx - reach, cy - reach, 2 * reach, 2 * reach, kind="flat piece")
        if corner.inside:
            folds = [((cx, cy), (cx + reach, cy)), ((cx, cy), (cx, cy + reach)), ((cx, cy), (cx, cy - reach))]
            cut = ((cx - reach, cy), (cx, cy))
        else:
            folds = [((cx - reach, cy), (cx, cy)), ((cx, cy - reach), (cx, cy))]
            cut = ((cx - reach, cy - reach), (cx, cy))
        for start, end in folds:
            canvas.line(start, end, dash="6 3", kind="fold piece")
        canvas.line(*cut, width=THICK * 1.3, kind="line piece-cut")
        with sheet.part("corner_reach", (cx, cy + reach + 2, reach, LEAST)):
            sheet.across(cx, cx + reach, cy + reach + 14, sheet.dimension("corner_reach", corner.reach),
                         caption=sheet.say("corner.reach"), tops=(cy + reach, cy + reach), below=True)  # fmt: skip
        return cy + reach + 42

    def mark_cut(self, text: str) -> None:
        """Number the cut beside the flashing piece."""
        x, y = self.at(0, -float(self.corner.roof_lap) * 0.6)
        self.sheet.callout((x, y), (x + 20 if self.scale * float(self.corner.strip_lap) > 40 else x - 22, y), text)

    def mark_faces(self) -> None:
        """Number both faces of the flashing piece as in the folded view."""
        up = float(self.corner.height) * 0.5
        for number, u in (("1", -self.corner.first * 0.45), ("2", float(self.corner.strip_lap) * 0.5)):
            if number == "1" or float(self.corner.strip_lap) * self.scale > 22:
                place = self.at(u, up)
                self.sheet.mark(place, place, number)

    def mark_piece(self, number: str) -> None:
        """Number the corner piece as in the folded view, where there is room."""
        reach = float(self.corner.reach) * self.scale
        if reach > 22:
            place = (self.center[0] + reach * 0.55, self.center[1] + reach * 0.55)
            self.sheet.mark(place, place, number)
