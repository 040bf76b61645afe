"""The flashing of a curb in section: both plies up its side and over its wood, the unit's flange on top."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from trainer.drawings.canvas import Point
from trainer.drawings.checks import not_negative, positive
from trainer.drawings.parts import LEAST
from trainer.drawings.registry import FoundAs, SomeOf, drawing
from trainer.drawings.sheet import LEFT, RIGHT, Sheet
from trainer.drawings.stack import GAP, PLY, Laid
from trainer.drawings.upstand import Upstand
from trainer.drawings.wall import METAL, BaseAbove, Cant, PlyStep, RoofLap
from trainer.rules.dimensions import LENGTH, Length

PARTS = (
    "deck", "curb", "nailer", "cant", "base", "base_flashing", "cap", "cap_flashing", "roof_lap", "height", "nails",
    "gasket", "flange",
)  # fmt: skip
MAY_LACK = ("cant", "base_flashing", "cap_flashing", "nails", "gasket")
# Lumber as it is sold, inches: the thickness of one piece and the width of the nailer.
THICK, WIDE = 1.5, 3.5
GASKET = 5.0

CurbHeight = Annotated[Fraction, LENGTH, FoundAs("curb.flashing_height")]
NailSpacing = Annotated[Fraction, LENGTH, FoundAs("curb.nail_spacing")]
Skirt = Annotated[Fraction, LENGTH, FoundAs("curb.skirt")]


@drawing(parts=PARTS)
def curb_flashing(
    sheet: Sheet,
    *,
    flashing_height: CurbHeight,
    roof_lap: RoofLap,
    ply_step: PlyStep,
    cant_face: Cant = Fraction(4),
    base_above_cant: BaseAbove = Fraction(2),
    skirt: Skirt = Fraction(2),
    nail_spacing: NailSpacing | None = None,
    insulation: Length = Fraction(0),
    omit: Annotated[tuple[str, ...], SomeOf(MAY_LACK)] = (),
    reversed: Annotated[tuple[str, ...], SomeOf(("flange", "roof_lap"))] = (),  # noqa: A002  the trade's word
) -> None:
    """A curb's flashing, deck to the unit that stands on it; heights count from the finished roof.

    `skirt` is how far the unit's flange is bent down over the flashing. `reversed` = flange: bent down behind the
    flashing; = roof_lap: the field's cap sheet lies on the flashing's lower edge.
    """
    positive(sheet, flashing_height=flashing_height, roof_lap=roof_lap, cant_face=cant_face, skirt=skirt,
             nail_spacing=nail_spacing)  # fmt: skip
    not_negative(sheet, ply_step=ply_step, base_above_cant=base_above_cant, insulation=insulation)
    cant = Fraction(0) if "cant" in omit else cant_face
    sheet.need(flashing_height > cant, "flashing_height", flashing_height, "the flashing must pass the cant",
               "give more than the cant's height")  # fmt: skip
    sheet.need(skirt < flashing_height, "skirt", skirt, "the unit must end over the roof",
               "give less than the flashing's height")  # fmt: skip
    sheet.need(insulation <= 24, "insulation", insulation, "it must be at most 24 in", "check the unit")
    curb = Upstand(sheet, flashing_height, cant, roof_lap, ply_step, insulation, body=104, top=86)
    curb.beyond = ((WIDE * curb.scale, 0.0),)
    sheet.scale(curb.scale)
    sheet.exaggerate()
    sheet.describe("alt.curb_flashing")
    _Curb(curb, frozenset(omit), frozenset(reversed), skirt, base_above_cant, nail_spacing).draw()


@dataclass
class _Curb:
    """A curb's flashing under way: the wood, the plies, the unit, and the words beside them."""

    curb: Upstand
    omit: frozenset[str]
    reverse: frozenset[str]
    skirt: Fraction
    base_above: Fraction
    nail_spacing: Fraction | None
    leg: float = RIGHT

    @property
    def sheet(self) -> Sheet:
        """The sheet that it is drawn on."""
        return self.curb.sheet

    @property
    def behind(self) -> bool:
        """Whether the unit's flange is bent down behind the flashing."""
        return "flange" in self.reverse

    @property
    def lower(self) -> float:
        """The lower edge of the unit's flange."""
        return self.curb.top + float(self.skirt) * self.curb.scale

    def draw(self) -> None:
        """Draw everything from the deck up, then dimensions and words."""
        curb = self.curb
        curb.wood()
        self._lumber()
        curb.strip()
        turn = -3.0 if self.behind else WIDE * curb.scale * 0.75
        if self.behind:
            self._unit()
        curb.plies(self.omit, self.base_above, field_last="roof_lap" in self.reverse, past=(turn, turn))
        self._nails()
        if not self.behind:
            self._unit()
        curb.dimensions()
        self._words()

    def _lumber(self) -> None:
        curb, canvas, fill = self.curb, self.sheet.canvas, self.sheet.fill("nailer")
        thick = THICK * curb.scale
        low = curb.top + thick
        with self.sheet.part("curb", (curb.face, low + 4, thick, (curb.deck_top - low) / 2)):
            canvas.rect(curb.face, low, thick, curb.deck_top - low, fill=fill, kind="cut curb")
        with self.sheet.part("nailer", (curb.face + thick, curb.top + 4, (WIDE - THICK) * curb.scale, thick)):
            canvas.rect(curb.face, curb.top, WIDE * curb.scale, thick, fill=fill, kind="cut nailer")
        end = curb.face + thick
        canvas.rect(curb.face, curb.deck_top, thick, curb.deck_bottom - curb.deck_top, fill=self.sheet.fill("deck"),
                    kind="cut deck")  # fmt: skip
        self.sheet.canvas.line((end, curb.deck_top), (end, curb.deck_bottom))

    @property
    def out(self) -> float:
        """How far the flashing stands out from the curb near its top."""
        return self.curb.stack.height(self.curb.flashing_top - 2)

    def _nails(self) -> None:
        curb = self.curb
        y = curb.top + THICK * curb.scale * 0.5
        x = curb.face - self.out
        with self.sheet.part("nails", (x + 6, y - LEAST / 2, LEAST, LEAST)):
            if "nails" not in self.omit:
                curb.nail((x, y), (curb.face + 1.4 * curb.scale, y))

    def _unit(self) -> None:
        """Draw the unit's flange with the sealing strip under it."""
        curb, canvas = self.curb, self.sheet.canvas
        over = curb.stack.height(curb.flashing_top + 4) if not self.behind else 0.0
        floor = curb.top - over
        x = curb.face - (METAL / 2 if self.behind else self.out + 9 + curb.lean(self.lower))
        self.leg = x
        flat = floor - GASKET - METAL / 2 - 1
        with self.sheet.part("gasket", (curb.face + 6, floor - 16, LEAST + 6, LEAST)):
            if "gasket" not in self.omit:
                canvas.rect(curb.face + 8, floor - GASKET, WIDE * curb.scale * 0.85 - 8, GASKET - 1,
                            fill=self.sheet.fill("sealant"), line=0.7, kind="cut sealant")  # fmt: skip
        box = (x - 16, flat - 10, curb.face - x + 14, max(self.lower - flat, LEAST))
        if self.behind:
            box = (RIGHT - 60, flat - 12, 40, LEAST)
        with self.sheet.part("flange", box):
            kick = (x - 4, self.lower + 3) if not self.behind else (x, self.lower)
            canvas.path([(RIGHT, flat), (x, flat), (x, self.lower - 4), kick], line=METAL, kind="line metal")
        side = curb.face + WIDE * curb.scale * 0.35
        canvas.path([(side, flat - METAL / 2), (side, 30), (RIGHT, 30)], line=METAL / 2, kind="line metal")
        self.sheet.break_up(34, side - 3, RIGHT)
        if self.behind:
            ends = (curb.up(self.lower), curb.flashing_top)
            curb.stack.laid.append(Laid(tuple((end, 0.0) for end in ends), tuple((end, METAL) for end in ends)))

    def _words(self) -> None:
        sheet, curb = self.sheet, self.curb
        row = curb.finished - 2 * (PLY + GAP) - 20
        left = LEFT + 37 if curb.finished - curb.top > 130 else LEFT + 126
        below = curb.roof - 10
        items: list[tuple[str, Point | None, Point, Callable[[], str]]] = [
            ("deck", (left + 69, curb.deck_bottom - 5), (left + 69, row), lambda: sheet.say("deck")),
        ]
        if curb.insulation:
            text = sheet.say("insulation_deep", depth=sheet.dimension("insulation", curb.insulation))
            items.append(("insulation", (left + 46, (curb.roof + curb.deck_top) / 2), (left + 46, row), lambda: text))
        column = self._column(("flange", "gasket", "nailer", "nails", "cap_flashing", "base_flashing", "curb", "cant"))
        items += [
            ("curb", (curb.face + 10, column["curb"][1]), column["curb"], lambda: sheet.say("curb_side")),
            ("nailer", (curb.face + (WIDE - 0.5) * curb.scale, curb.top + 10), column["nailer"],
             lambda: sheet.say("curb_nailer")),
            ("cant", (curb.face - 6, below), column["cant"],
             lambda: sheet.say("cant_strip_curb", side=sheet.dimension("cant_face", curb.cant))),
            ("base", curb.on_ply("base", left + 23 - LEFT), (left + 23, row),
             lambda: sheet.say("base_up", above=sheet.dimension("base_above_cant", self.base_above))),
        ]  # fmt: skip
        if self.behind:
            items.append(self._flange(column["flange"]))
        items.append(("base_flashing", None, column["base_flashing"], lambda: sheet.say("base_flashing")))
        last = "roof_lap" in self.reverse
        key = "cap_over_flashing" if last else "cap_to_cant" if curb.cant else "cap_to_curb"
        cap = ("cap", curb.on_ply("cap", left - LEFT), (left, row), lambda: sheet.say(key))
        flashing = ("cap_flashing", None, column["cap_flashing"], lambda: sheet.say("cap_flashing"))
        items += [flashing, cap] if last else [cap, flashing]
        nails = (curb.face + 12, curb.top + THICK * curb.scale * 0.5)
        items += [("nails", nails, column["nails"], self._nails_text)]
        over = curb.stack.height(curb.flashing_top + 4) if not self.behind else 0.0
        items.append(("gasket", (curb.face + WIDE * curb.scale * 0.5, curb.top - over - 3), column["gasket"],
                      lambda: sheet.say("gasket")))  # fmt: skip
        if not self.behind:
            items.append(self._flange(column["flange"]))
        for name, target, at, text_of in items:
            if name not in self.omit:
                sheet.callout(target or self._on(name, at[1]), at, text_of())
        sheet.bottom = curb.low + 6

    def _column(self, names: tuple[str, ...]) -> dict[str, Point]:
        shown = [name for name in names if name not in self.omit]
        first, last = 50.0, self.curb.roof + 2
        step = max(21.0, (last - first) / max(len(shown) - 1, 1))
        return {name: (RIGHT - 12, first + step * index) for index, name in enumerate(shown)} | dict.fromkeys(
            self.omit, (0.0, 0.0)
        )

    def _on(self, name: str, y: float) -> Point:
        curb = self.curb
        high = min(max(y, curb.top + 10), curb.ground.at(curb.cant_top)[1] - 6)
        return curb.on_ply(name, curb.up(high))

    def _nails_text(self) -> str:
        if self.nail_spacing is None:
            return self.sheet.say("curb_nails")
        return self.sheet.say("curb_nails_spaced", spacing=self.sheet.dimension("nail_spacing", self.nail_spacing))

    def _flange(self, at: Point) -> tuple[str, Point, Point, Callable[[], str]]:
        sheet = self.sheet
        key = "unit_behind" if self.behind else "unit_over"
        return ("flange", (RIGHT - 34, self._flat()), at,
                lambda: sheet.say(key, skirt=sheet.dimension("skirt", self.skirt)))  # fmt: skip

    def _flat(self) -> float:
        curb = self.curb
        over = curb.stack.height(curb.flashing_top + 4) if not self.behind else 0.0
        return curb.top - over - GASKET - METAL / 2 - 1
