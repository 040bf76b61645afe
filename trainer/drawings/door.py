"""The flashing under a door in section: up the wall, in under the sill and up behind it."""

from __future__ import annotations

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
from trainer.drawings.wall import METAL, BaseAbove, PlyStep, RoofLap
from trainer.rules.dimensions import LENGTH, Length

PARTS = (
    "deck", "wall", "cant", "base", "base_flashing", "under", "cap", "cap_flashing", "roof_lap", "height", "sill",
    "leg", "sealant",
)  # fmt: skip
MAY_LACK = ("cant", "under", "cap_flashing", "sealant", "leg")
# How deep the sill is, how high the first ply turns up behind it, how far the sill's leg hangs down, inches.
DEEP, BACK, LEG = 3.6, 1.1, 2.0

# The cant as drawn: under a low sill no full one has room.
CANT = Fraction(4)

DoorHeight = Annotated[Fraction, LENGTH, FoundAs("door.flashing_height")]


@drawing(parts=PARTS)
def door_sill(
    sheet: Sheet,
    *,
    flashing_height: DoorHeight,
    roof_lap: RoofLap,
    ply_step: PlyStep,
    base_above_cant: BaseAbove = Fraction(2),
    insulation: Length = Fraction(0),
    omit: Annotated[tuple[str, ...], SomeOf(MAY_LACK)] = (),
    reversed: Annotated[tuple[str, ...], SomeOf(("leg", "roof_lap"))] = (),  # noqa: A002  the trade's word
) -> None:
    """A door's sill over the roof: the first flashing ply goes in under it and up behind, its leg hangs outside.

    `omit` = under: the first ply ends below the sill. `reversed` = leg: the sill's leg goes behind the flashing;
    = roof_lap: the field's cap sheet lies on the flashing's lower edge.
    """
    positive(sheet, flashing_height=flashing_height, roof_lap=roof_lap)
    not_negative(sheet, ply_step=ply_step, base_above_cant=base_above_cant, insulation=insulation)
    cant = Fraction(0) if "cant" in omit else min(CANT, flashing_height / 2)
    sheet.need(insulation <= 24, "insulation", insulation, "it must be at most 24 in", "check the unit")
    sheet.need(flashing_height >= 1, "flashing_height", flashing_height, "there must be a wall under the sill",
               "give at least 1 in")  # fmt: skip
    door = Upstand(sheet, flashing_height, cant, roof_lap, ply_step, insulation, body=112, top=100)
    deep = DEEP * door.scale
    door.beyond = ((deep, 0.0), (deep, BACK * door.scale))
    sheet.scale(door.scale)
    sheet.exaggerate()
    sheet.describe("alt.door_sill")
    _Door(door, frozenset(omit), frozenset(reversed), base_above_cant).draw()


@dataclass
class _Door:
    """A sill under way: the wall below it, the plies, the sill with its leg, and the words beside them."""

    door: Upstand
    omit: frozenset[str]
    reverse: frozenset[str]
    base_above: Fraction
    leg: float = RIGHT
    flat: float = 0.0

    @property
    def sheet(self) -> Sheet:
        """The sheet that it is drawn on."""
        return self.door.sheet

    @property
    def behind(self) -> bool:
        """Whether the sill's leg goes behind the flashing."""
        return "leg" in self.reverse and "leg" not in self.omit

    @property
    def lower(self) -> float:
        """The lower edge of the sill's leg: it never reaches the roof."""
        return self.door.top + min(LEG, float(self.door.height) * 0.4) * self.door.scale

    def draw(self) -> None:
        """Draw everything from the deck up, then dimensions and words."""
        door = self.door
        door.wood()
        self._wall()
        door.strip()
        inner = (DEEP + BACK - 0.1) * door.scale
        past = -3.0 if "under" in self.omit or self.behind else inner
        if self.behind:
            self._behind()
        door.plies(self.omit, self.base_above, field_last="roof_lap" in self.reverse, past=(past, -3.0))
        box = (door.face + 16, door.top - 6, DEEP * door.scale - 20, LEAST)
        with self.sheet.part("under", box):
            pass
        self._sill()
        door.dimensions()
        self._words()

    def _wall(self) -> None:
        door = self.door
        width = RIGHT - door.face - 26
        with self.sheet.part("wall", (door.face + 10, (door.top + door.deck_top) / 2, width - 20, LEAST)):
            self.sheet.canvas.rect(door.face, door.top, width, door.deck_bottom - door.top,
                                   fill=self.sheet.fill("masonry"), kind="cut masonry")  # fmt: skip
        # Inside, the floor's nosing stands behind the turned-up ply.
        edge = door.face + DEEP * door.scale
        self.sheet.canvas.rect(edge, door.top - BACK * door.scale, door.face + width - edge, BACK * door.scale,
                               fill=self.sheet.fill("nailer"), kind="cut nailer")  # fmt: skip

    def _behind(self) -> None:
        """Hang the sill's leg on the wall before the plies come."""
        door = self.door
        self.leg = door.face - METAL / 2
        self.sheet.canvas.line((self.leg, door.top), (self.leg, self.lower), width=METAL, kind="line metal")
        ends = (door.up(self.lower), door.flashing_top)
        door.stack.laid.append(Laid(tuple((end, 0.0) for end in ends), tuple((end, METAL) for end in ends)))

    def _sill(self) -> None:
        door, canvas = self.door, self.sheet.canvas
        out = door.stack.height(door.flashing_top - 4)
        over = 0.0 if "under" in self.omit or self.behind else PLY + GAP
        bed = 4.0
        floor = door.top - over
        high = 14.0
        inner = door.face + DEEP * door.scale - over - 1
        with self.sheet.part("sealant", (inner - LEAST, floor - 20, LEAST, LEAST)):
            if "sealant" not in self.omit:
                canvas.rect(door.face + 10, floor - bed, inner - door.face - 14, bed - 0.5,
                            fill=self.sheet.fill("sealant"), line=0.6, kind="cut sealant")  # fmt: skip
        self.flat = floor - bed - METAL / 2
        if not self.behind:
            self.leg = door.face - out - 9 - door.lean(self.lower)
        with self.sheet.part("sill", (door.face - 8, self.flat - high - 8, LEAST + 2, LEAST)):
            start = door.face if "leg" in self.omit else self.leg
            canvas.path([(start, self.flat), (inner, self.flat), (inner, self.flat - high)], line=METAL,
                        kind="line metal")  # fmt: skip
            canvas.rect(door.face + 4, self.flat - high, inner - door.face - 12, high - 2, fill=self.sheet.fill("deck"),
                        kind="cut sill")  # fmt: skip
        with self.sheet.part("leg", (self.leg - 16, self.flat + 4, LEAST, max(self.lower - self.flat, LEAST))):
            if "leg" not in self.omit:
                bends = [(self.leg, self.flat), (self.leg, self.lower - 4), (self.leg - 4, self.lower + 2)]
                if self.behind:
                    bends = [(self.leg, self.flat), (self.leg, self.lower)]
                canvas.path(bends, line=METAL, kind="line metal")
        middle = (door.face + inner) / 2
        canvas.rect(middle - 9, 44, 18, self.flat - high - 48, fill=self.sheet.fill("nailer"), kind="cut door")
        self.sheet.break_up(46, middle - 12, middle + 12)

    def _words(self) -> None:
        sheet, door, omit = self.sheet, self.door, self.omit
        tall = door.finished - door.top > 100
        row = door.finished - 2 * (PLY + GAP) - 20 if tall else door.top - 16
        left = LEFT + 37 if tall else LEFT + 90
        column = RIGHT - 12
        low = door.ground.at(door.cant_top)[1]
        items: list[tuple[str, str, Point, Point]] = [
            ("deck", sheet.say("deck"), (LEFT + 12, door.deck_bottom - 5), (LEFT + 12, door.deck_bottom + 18)),
            ("wall", sheet.say("door.wall"), (RIGHT - 40, (door.top + door.deck_bottom) / 2 + 12),
             (column, (door.top + door.deck_bottom) / 2 + 12)),
        ]  # fmt: skip
        if door.insulation:
            text = sheet.say("insulation_deep", depth=sheet.dimension("insulation", door.insulation))
            items.append(("insulation", text, (left + 46, (door.roof + door.deck_top) / 2), (left + 46, row)))
        if "cant" not in omit:
            items.append(("cant", sheet.say("cant"), (door.face - 6, door.roof - 8), (column, door.deck_bottom - 6)))
        base = sheet.say("base_up", above=sheet.dimension("base_above_cant", self.base_above))
        items.append(("base", base, door.on_ply("base", left + 23 - LEFT), (left + 23, row)))
        key = "door.first_ends" if "under" in omit or self.behind else "door.first"
        high = min(max(door.top + 14, self.lower + 6), low - 3)
        spot = door.on_ply("base_flashing", door.up(high))
        items.append(("base_flashing", sheet.say(key), spot, (column, door.top + 14)))
        last = "roof_lap" in self.reverse
        text = sheet.say("cap_over_flashing" if last else "cap_to_cant" if door.cant else "cap_to_wall")
        cap = ("cap", text, door.on_ply("cap", left - LEFT), (left, row))
        plies = [cap]
        if "cap_flashing" not in omit:
            spot = door.on_ply("cap_flashing", (door.before(door.roof_lap) + door.ground.turns[1]) / 2)
            flashing = ("cap_flashing", sheet.say("cap_flashing"), spot, (left + (69 if door.insulation else 46), row))
            plies = [flashing, cap] if last else [cap, flashing]
        items += plies
        if "sealant" not in omit:
            items.append(
                ("sealant", sheet.say("door.sealant"), (door.face + 22, self.flat + METAL), (column, door.top - 9))
            )
        sill = sheet.say("door.sill" if "leg" in omit else "door.sill_behind" if self.behind else "door.sill_over")
        items.append(("sill", sill, (door.face + 14, self.flat - 8), (column, door.top - 34)))
        for _, text, target, at in items:
            sheet.callout(target, at, text)
        sheet.bottom = door.low + 6
