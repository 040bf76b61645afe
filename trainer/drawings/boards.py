"""Insulation boards in two layers: their joints in plan, and one joint enlarged in section."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from trainer.drawings.canvas import LINE, THIN
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.registry import drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.rules.dimensions import Length

TOP = 34.0
# Rows drawn in plan: two of the upper layer, then the lower layer where the upper one is not yet laid.
ROWS, OPEN = 2, 0.9
THICK_BOARD = Fraction(3, 2)
SECTION = 30.0


@drawing(parts=("stagger", "offset", "gap", "step", "upper_layer", "lower_layer"))
def insulation_joints(
    sheet: Sheet,
    *,
    board_gap: Length,
    board_stagger: Length,
    layer_offset: Length = Fraction(12),
    step: Length = Fraction(0),
    board_length: Length = Fraction(48),
    board_width: Length = Fraction(48),
) -> None:
    """Two layers of insulation boards: joints of rows and of layers in plan, gap and step of one joint in section.

    `board_stagger` is measured from row to row of the upper layer, `layer_offset` from a joint of the upper layer to
    the one below it.
    """
    positive(sheet, board_length=board_length, board_width=board_width)
    not_negative(sheet, board_gap=board_gap, board_stagger=board_stagger, layer_offset=layer_offset, step=step)
    half, mending = board_length / 2, "measure to the nearer joint"
    limit = "no joint is farther than half a board from the next"
    sheet.need(board_stagger <= half, "board_stagger", board_stagger, limit, mending)
    sheet.need(layer_offset <= half, "layer_offset", layer_offset, limit, mending)
    sheet.need(board_gap <= 3, "board_gap", board_gap, "it must be at most 3 in", "measure the joint alone")
    sheet.need(step <= 1, "step", step, "it must be at most 1 in", "measure between two boards of one layer")
    sheet.need(board_width * 4 >= board_length, "board_width", board_width, "a board is at most four times as long",
               "check length and width")  # fmt: skip
    sheet.describe("alt.insulation_joints")
    plan = _Plan(sheet, board_length, board_width, board_stagger, layer_offset)
    plan.draw()
    plan.dimensions()
    _section(sheet, board_gap, step, layer_offset)


@dataclass(frozen=True)
class _Plan:
    """Where rows and joints of both layers fall on the sheet."""

    sheet: Sheet
    length: Fraction
    width: Fraction
    stagger: Fraction
    offset: Fraction

    @property
    def scale(self) -> float:
        """Drawing units an inch."""
        return min(60 / float(self.width), (RIGHT - LEFT) / (2.2 * float(self.length)))

    @property
    def row(self) -> float:
        """The height of a row."""
        return float(self.width) * self.scale

    @property
    def laid(self) -> float:
        """Where the upper layer ends."""
        return TOP + ROWS * self.row

    @property
    def bottom(self) -> float:
        """Where the plan is broken off."""
        return self.laid + max(OPEN * self.row, 52)

    @property
    def joint(self) -> float:
        """A joint of the first row, left of the middle."""
        return LEFT + 96

    def joints(self, first: float) -> list[float]:
        """Every joint of a row that has one at a place."""
        step = float(self.length) * self.scale
        start = first - step * int((first - LEFT) / step)
        found = [start + step * index for index in range(int((RIGHT - start) / step) + 1)]
        return [x for x in found if LEFT + 3 < x < RIGHT - 3]

    def lower(self, row: int) -> list[float]:
        """Joints of a row of the lower layer."""
        shifted = (row - self.open_row) % 2 == 0
        return self.joints(self.joint + float(self.offset + (self.stagger if shifted else 0)) * self.scale)

    @property
    def shift(self) -> float:
        """How far the rows of the lower layer start below those of the upper one."""
        return float(min(self.offset, self.width / 2)) * self.scale

    @property
    def open_row(self) -> int:
        """The row of the lower layer that lies open: its joints keep the offset from the upper layer's last row."""
        return next(n for n in range(ROWS + 2) if TOP + n * self.row + self.shift > self.laid + 16)

    def draw(self) -> None:
        """Draw the lower layer dashed under the upper one, whole where it still lies open."""
        sheet, canvas = self.sheet, self.sheet.canvas
        sheet.view("view.plan", 22, self.scale)
        with sheet.part("upper_layer", (LEFT + 2, TOP + 4, 60, 2 * self.row - 8)):
            canvas.rect(LEFT, TOP, RIGHT - LEFT, self.laid - TOP, line=0, kind="cut upper-layer")
        with sheet.part("lower_layer", (LEFT + 2, self.laid + 6, 60, self.bottom - self.laid - 8)):
            canvas.rect(LEFT, self.laid, RIGHT - LEFT, self.bottom - self.laid, fill=sheet.fill("insulation"), line=0,
                        kind="cut lower-layer")  # fmt: skip
        for index in range(ROWS + 2):
            bottom = TOP + index * self.row + self.shift
            top = bottom - self.row
            self._lower_row(index, max(top, TOP), min(bottom, self.bottom))
        for index in range(ROWS):
            y = TOP + index * self.row
            for x in self.joints(self.joint + index * float(self.stagger) * self.scale):
                canvas.line((x, y), (x, y + self.row), width=2, kind=f"line joint-{index}")
            canvas.line((LEFT, y + self.row), (RIGHT, y + self.row), width=2)
        canvas.line((LEFT, TOP), (RIGHT, TOP), width=2)
        sheet.break_up(self.bottom, LEFT + 8, RIGHT - 8)

    def _lower_row(self, index: int, top: float, bottom: float) -> None:
        canvas = self.sheet.canvas
        if bottom <= top:
            return
        for x in self.lower(index):
            if top < self.laid:
                canvas.line((x, top), (x, min(bottom, self.laid)), width=THIN, dash="5 3", kind="hidden")
            if bottom > self.laid:
                canvas.line((x, max(top, self.laid)), (x, bottom), width=LINE, kind="line joint-lower")
        if bottom < self.bottom:
            hidden = bottom < self.laid
            canvas.line((LEFT, bottom), (RIGHT, bottom), width=THIN if hidden else LINE, dash="5 3" if hidden else None,
                        kind="hidden" if hidden else "line")  # fmt: skip

    def dimensions(self) -> None:
        """Dimension stagger and offset, each between the joints it parts."""
        sheet = self.sheet
        second = self.joint + float(self.stagger) * self.scale
        y = TOP + self.row
        with sheet.part("stagger", (min(self.joint, second) - 12, y - 18, abs(second - self.joint) + 24, 36)):
            pass
        sheet.across(
            self.joint, second, y - 8, sheet.dimension("board_stagger", self.stagger),
            caption=sheet.label("board_stagger"), tops=(y - 8, y + 4),
        )  # fmt: skip
        away = float(self.offset) * self.scale
        upper = [x for x in self.joints(second) if x + away < RIGHT - 3][-1]
        near = upper + away
        with sheet.part("offset", (min(upper, near) - 12, self.laid - 14, abs(near - upper) + 24, 40)):
            pass
        sheet.across(
            upper, near, self.laid + 16, sheet.dimension("layer_offset", self.offset),
            caption=sheet.label("layer_offset"), tops=(self.laid, self.laid + 16), below=True,
        )  # fmt: skip
        sheet.bottom = self.bottom


def _section(sheet: Sheet, gap: Fraction, step: Fraction, offset: Fraction) -> None:
    canvas = sheet.canvas
    top = sheet.bottom + 40
    sheet.view("view.joint", top - 10, SECTION)  # clear of the caption of the gap, which stands over its dimension
    thick, rise = float(THICK_BOARD) * SECTION, float(step) * SECTION
    left = 122.0
    right = left + float(gap) * SECTION
    upper = top + 46 + rise
    lower, deck = upper + thick, upper + 2 * thick
    fill = sheet.fill("insulation")
    canvas.rect(LEFT, deck, RIGHT - LEFT, 12, fill=sheet.fill("deck"), kind="cut deck")
    far = float(offset) * SECTION
    broken = right + far > RIGHT - 46
    joint = RIGHT - 46 if broken else left + far
    for start, end in ((LEFT, joint), (joint + right - left, RIGHT)):
        canvas.rect(start, lower, end - start, thick, fill=fill, kind="cut lower-layer")
    canvas.rect(LEFT, upper, left - LEFT, thick, fill=fill, kind="cut upper-layer")
    canvas.rect(right, upper - rise, RIGHT - right, thick, fill=fill, kind="cut upper-layer")
    if rise:
        canvas.rect(right, upper + thick - rise, RIGHT - right, rise, fill="#fff", line=0, kind="paper")
    if broken:
        sheet.exaggerate("broken")
        sheet.break_across((right + joint) / 2 + 10, upper - rise, deck + 12)
    with sheet.part("gap", (left - 8, upper + 14, right - left + 16, thick - 14)):
        pass
    with sheet.part("step", (left - 22, upper - rise - 16, right - left + 44, 28)):
        pass
    sheet.across(left, right, top + 30, sheet.dimension("board_gap", gap), caption=sheet.label("board_gap"),
                 tops=(upper, upper - rise))  # fmt: skip
    if rise:
        sheet.upward(upper - rise, upper, left - 40, sheet.dimension("step", step), caption=sheet.label("step"),
                     tops=(right, left - 46), side="left", room=62)  # fmt: skip
    sheet.bottom = deck + 40
    sheet.callout((LEFT + 20, upper + thick / 2), (LEFT + 14, sheet.bottom), sheet.say("upper_boards"))
    sheet.callout((LEFT + 70, lower + thick / 2), (LEFT + 70, sheet.bottom), sheet.say("lower_boards"))
    sheet.callout((joint + (right - left) / 2, deck - 8), (joint - 20, sheet.bottom), sheet.say("lower_joint"))
    sheet.callout((RIGHT - 12, deck + 6), (RIGHT - 14, sheet.bottom), sheet.say("deck"))
    sheet.bottom += 14
