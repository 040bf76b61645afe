"""The layers of a roof in section, cut back one after the other so that each is seen from above and from the side."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Annotated

from trainer.drawings.checks import positive
from trainer.drawings.parts import LEAST
from trainer.drawings.registry import FoundAs, OneOf, SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.drawings.stack import Ground, Laid, Stack, middle
from trainer.rules.dimensions import LENGTH, Length

TOP, SCALE, STEP = 138.0, 8.0, 26.0
# Where the laps lie, and the thinnest that a board is drawn.
CAP_LAP, BASE_LAP, THIN_BOARD, DECK = LEFT + 48, LEFT + 126, 8.0, 12.0
BOARDS = {"true": ("insulation", "cover_board"), "cover_board_below": ("cover_board", "insulation")}

BaseLap = Annotated[Fraction, LENGTH, FoundAs("base.side_lap")]
CapLap = Annotated[Fraction, LENGTH, FoundAs("cap.side_lap")]


@drawing(parts=("deck", "insulation", "cover_board", "base", "cap", "base_lap", "cap_lap"))
def roof_layers(
    sheet: Sheet,
    *,
    base_side_lap: BaseLap,
    cap_side_lap: CapLap,
    insulation: Length = Fraction(3),
    cover_board: Length = Fraction(1, 2),
    boards: Annotated[str, OneOf(("true", "cover_board_below"))] = "true",
    plies: Annotated[str, OneOf(("true", "cap_below"))] = "true",
    omit: Annotated[tuple[str, ...], SomeOf(("cover_board", "base"))] = (),
    reversed: Annotated[tuple[str, ...], SomeOf(("base_lap", "cap_lap"))] = (),  # noqa: A002  the trade's word
) -> None:
    """Deck, insulation, cover board, base sheet, cap sheet; water runs to the left.

    `boards` and `plies` say in which order they lie; a lap that is `reversed` has its upper course below.
    """
    positive(sheet, base_side_lap=base_side_lap, cap_side_lap=cap_side_lap, insulation=insulation,
             cover_board=cover_board)  # fmt: skip
    for name, value in (("base_side_lap", base_side_lap), ("cap_side_lap", cap_side_lap)):
        sheet.need(value <= 8, name, value, "it must be at most 8 in", "measure the lap alone")
    sheet.need(insulation <= 8, "insulation", insulation, "it must be at most 8 in", "check the unit")
    sheet.need(cover_board <= 2, "cover_board", cover_board, "it must be at most 2 in", "check the unit")
    sheet.describe("alt.roof_layers")
    for name in ("base_lap", "cap_lap"):
        if name == "cap_lap" or "base" not in omit:
            sheet.describe(f"alt.roof_layers.{name}.{'below' if name in reversed else 'above'}")
    kept = [*BOARDS[boards], *(("base", "cap") if plies == "true" else ("cap", "base"))]
    order = [name for name in kept if name not in omit]
    sheet.scale(SCALE)
    sheet.exaggerate()
    roof = _Roof(sheet, order, {"insulation": insulation, "cover_board": cover_board},
                 {"base": base_side_lap, "cap": cap_side_lap}, frozenset(reversed))  # fmt: skip
    roof.draw()
    roof.words()


@dataclass
class _Roof:
    """A roof under way: its layers from the deck up, each ending before the one below it."""

    sheet: Sheet
    order: list[str]
    boards: dict[str, Fraction]
    laps: dict[str, Fraction]
    reverse: frozenset[str]
    laid: dict[str, list[Laid]] = field(default_factory=dict)
    middles: dict[str, float] = field(default_factory=dict)

    def end(self, name: str) -> float:
        """Where a layer ends on the right: the upper ones first."""
        return RIGHT - STEP * (self.order.index(name) + 1) if name in self.order else RIGHT

    def thick(self, name: str) -> float:
        """How thick a board is drawn."""
        return max(float(self.boards[name]) * SCALE, THIN_BOARD)

    def draw(self) -> None:
        """Draw deck and boards from the top of the boards down, then the sheets on them."""
        sheet, canvas, y = self.sheet, self.sheet.canvas, TOP
        boards = [name for name in self.order if name in self.boards]
        for name in reversed(boards):
            high = self.thick(name)
            self.middles[name] = y + high / 2
            start = self.end(name) - STEP + 2
            with sheet.part(name, (start - 2, y - LEAST + min(high, 18), LEAST + 2, LEAST)):
                hatch = "board" if name == "cover_board" else "insulation"
                canvas.rect(LEFT, y, self.end(name) - LEFT, high, fill=sheet.fill(hatch), kind=f"cut {name}")
            y += high
        for name in self.boards:
            if name not in boards:
                with sheet.part(name, (LEFT + 14, TOP + 2, LEAST, LEAST)):
                    pass
        with sheet.part("deck", (RIGHT - STEP, y - 10, STEP, LEAST)):
            canvas.rect(LEFT, y, RIGHT - LEFT, DECK, fill=sheet.fill("deck"), kind="cut deck")
        self.middles["deck"] = y + DECK / 2
        self.deck = y
        self._sheets()
        sheet.break_across(LEFT + 3, TOP - 14, y + DECK)

    deck: float = 0.0

    def _sheets(self) -> None:
        stack = Stack(self.sheet, Ground([(LEFT, TOP), (RIGHT, TOP)]))
        for name in [name for name in self.order if name in self.laps]:
            place = (BASE_LAP if name == "base" else CAP_LAP) - LEFT
            lower, upper = (0.0, place + float(self.laps[name]) * SCALE), (place, self.end(name) - LEFT)
            courses = [upper, lower] if f"{name}_lap" in self.reverse else [lower, upper]
            self.laid[name] = [stack.lay(None, name, *ends) for ends in courses]
        for name in self.laps:
            place = BASE_LAP if name == "base" else CAP_LAP
            edge = place - 12 if f"{name}_lap" not in self.reverse else place + float(self.laps[name]) * SCALE - 12
            last = self.end(name) if name in self.order else BASE_LAP + 78
            with self.sheet.part(name, (last - STEP - 6, TOP - LEAST, LEAST, LEAST)):
                pass
            with self.sheet.part(f"{name}_lap", (edge, TOP - LEAST - 2, LEAST, LEAST)):
                pass
        self.stack = stack

    stack: Stack | None = None

    def words(self) -> None:
        """Dimension the laps, show the water, and number the layers from the deck up."""
        sheet, say = self.sheet, self.sheet.say
        for name, start, y in (("cap", CAP_LAP, 50.0), ("base", BASE_LAP, 88.0)):
            if name in self.order:
                text, label = sheet.dimension(f"{name}_side_lap", self.laps[name]), sheet.label(f"{name}_side_lap")
                sheet.across(start, start + float(self.laps[name]) * SCALE, y, text, caption=label,
                             tops=(TOP - 28, TOP - 28))  # fmt: skip
        sheet.water((RIGHT - 12, 50), (RIGHT - 56, 50))
        row = TOP - 28
        sheet.callout((RIGHT - STEP / 2, self.middles["deck"]), (RIGHT - STEP / 2, row), say("deck"))
        for name in self.order:
            x = self.end(name) - STEP / 2
            if name in self.boards:
                depth = sheet.length(self.boards[name])
                sheet.callout((x, self.middles[name]), (x, row), say(f"layers.{name}", depth=depth))
            elif self.stack is not None:
                laid = self.laid[name]
                course = laid[0] if f"{name}_lap" in self.reverse else laid[1]
                sheet.callout(middle(course, self.stack.ground, x - LEFT), (x, row), say(f"{name}_sheet"))
        sheet.bottom = self.deck + DECK + 8
