"""The nails through the flange of edge metal, from above."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import LINE, THICK, THIN
from trainer.drawings.checks import positive
from trainer.drawings.derive import worked_out
from trainer.drawings.registry import OneOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import Length

# A nail's head, drawn a little larger than it is so that it can be seen on a phone.
HEAD = 4.0
TOP = 84.0


@drawing("nails", parts=("upper_row", "lower_row", "spacing", "inner_edge", "outer_edge"))
def nail_rows(
    sheet: Sheet,
    *,
    row_spacing: Length,
    nail_spacing: Length | None = None,
    flange: Length = Fraction(3),
    edge: Length | None = None,
    skipped: Annotated[str, OneOf(("none", "upper", "lower"))] = "none",
    stray: Annotated[str, OneOf(("none", "upper", "lower"))] = "none",
) -> None:
    """The flange from above with its two staggered rows; `nail_spacing` counts both rows together.

    In the row that `skipped` names one nail is left out; one of the row that `stray` names stands at the flange's edge.
    """
    between = row_spacing / 2 if nail_spacing is None else nail_spacing
    positive(sheet, row_spacing=row_spacing, nail_spacing=between, flange=flange, edge=edge)
    limit, mending = "it cannot pass the spacing within one row", "count both rows together"
    sheet.need(between <= row_spacing, "nail_spacing", between, limit, mending)
    sheet.describe("alt.nail_rows")
    for key, row in (("skipped", skipped), ("stray", stray)):
        if row != "none":
            sheet.describe(f"alt.nail_rows.{key}.{row}")
    rows = _Rows(sheet, row_spacing, between, flange, edge, (skipped, stray))
    sheet.scale(rows.scale)
    rows.draw()
    rows.dimensions()
    if edge is not None:
        rows.dimension_edge(edge)


@dataclass(frozen=True)
class _Rows:
    """Where flange and nails fall on the sheet: the roof above, the outer edge of the metal below."""

    sheet: Sheet
    row_spacing: Fraction
    nail_spacing: Fraction
    flange: Fraction
    edge: Fraction | None
    amiss: tuple[str, str]

    @property
    def length(self) -> Fraction:
        """How much of the edge is drawn: a few spacings, or all of a short edge."""
        window = 4 * self.row_spacing + self.nail_spacing
        return window if self.edge is None else min(window, self.edge)

    @property
    def broken(self) -> bool:
        """Whether the edge goes on past the drawing."""
        return self.edge is None or self.edge > self.length

    @property
    def scale(self) -> float:
        """Drawing units an inch."""
        return min((RIGHT - LEFT - 16) / float(self.length), 96 / float(self.flange))

    @property
    def left(self) -> float:
        """Where the drawn edge starts."""
        return (LEFT + RIGHT - float(self.length) * self.scale) / 2

    @property
    def deep(self) -> float:
        """How deep the flange is drawn: to scale unless two rows would not fit."""
        return max(float(self.flange) * self.scale, 22)

    @property
    def rows(self) -> tuple[float, float]:
        """The height of each row."""
        return TOP + self.deep * 0.27, TOP + self.deep * 0.73

    def x(self, along: Fraction) -> float:
        """A place along the edge."""
        return self.left + float(along) * self.scale

    def draw(self) -> None:
        """Draw the flange and every nail on the drawn length."""
        canvas, right = self.sheet.canvas, self.x(self.length)
        if self.deep > float(self.flange) * self.scale + 0.01:
            self.sheet.exaggerate("width")
        canvas.rect(self.left, TOP, right - self.left, self.deep, line=LINE, kind="cut metal")
        low = TOP + self.deep
        canvas.line((self.left, low), (right, low), width=THICK * 1.4, kind="line metal-edge")
        if self.broken:
            self.sheet.break_across(right, TOP, low)
        starts = (Fraction(0), self.nail_spacing)
        for name, y, first in zip(("upper", "lower"), self.rows, starts, strict=True):
            start, end = self.x(Fraction(0)), self.x(self.length)
            with self.sheet.part(f"{name}_row", (start, y - 9, end - start, 18)):
                self._row(name, y, first)
        for name, y in (("inner_edge", TOP - 12), ("outer_edge", low)):
            with self.sheet.part(name, (right - 80, y - 4, 80, 16)):
                pass

    def _row(self, name: str, y: float, first: Fraction) -> None:
        """Draw a row's nails; the fourth is the one that is left out or stands at the edge of the flange."""
        skipped, stray = (row == name for row in self.amiss)
        edge = TOP + 1 if name == "upper" else TOP + self.deep - 1
        along, index = first, 0
        while along <= self.length:
            if index != 3 or not skipped:
                self._nail((self.x(along), edge if stray and index == 3 else y))
            along, index = along + self.row_spacing, index + 1

    def _nail(self, at: tuple[float, float]) -> None:
        x, y = at
        self.sheet.canvas.circle(at, HEAD, fill="#fff", line=LINE, kind="paper nail")
        self.sheet.canvas.line((x - 2, y), (x + 2, y), width=THIN, kind="nail")
        self.sheet.canvas.line((x, y - 2), (x, y + 2), width=THIN, kind="nail")

    def dimensions(self) -> None:
        """Dimension the spacing within one row, and from one row to the other."""
        sheet, low = self.sheet, TOP + self.deep
        first, second = self.x(self.row_spacing), self.x(2 * self.row_spacing)
        upper, lower = self.rows
        row = sheet.dimension("row_spacing", self.row_spacing)
        over = upper - HEAD - 2
        with sheet.part("spacing", (first, TOP - 44, second - first, 26)):
            pass
        sheet.across(first, second, TOP - 26, row, caption=sheet.label("row_spacing"), tops=(over, over))
        sheet.across(
            first, self.x(self.row_spacing + self.nail_spacing), low + 30,
            sheet.dimension("nail_spacing", self.nail_spacing), caption=sheet.label("nail_spacing"),
            tops=(upper + HEAD + 2, lower + HEAD + 2), below=True,
        )  # fmt: skip
        sheet.dimension("flange", self.flange)
        sheet.canvas.text((LEFT, 22), sheet.say("roof_side"))
        sheet.canvas.text((RIGHT, low + 20), sheet.say("outside"), anchor="end", clear=True)
        sheet.bottom = low + 68

    def dimension_edge(self, edge: Fraction) -> None:
        """Dimension the whole edge, and give its nails where they are asked for."""
        sheet, low = self.sheet, TOP + self.deep
        length = sheet.dimension("edge", edge)
        sheet.across(
            self.left, self.x(self.length), low + 96, length, caption=sheet.label("edge"), tops=(low + 70, low + 70)
        )
        sheet.bottom = low + 98
        if sheet.shows("nails"):
            count = worked_out(sheet, "nails_two_rows", edge=edge, spacing=self.nail_spacing)
            sheet.note(f"{sheet.label('nails')}: {sheet.dimension('nails', None, str(count))}")
        sheet.bottom += 6
