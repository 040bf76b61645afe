"""The parts of drawings that a reader can point at."""

from __future__ import annotations

import pytest

from tests.drawings.cases import CASES
from tests.drawings.reading import SVG, root
from tests.drawings.test_every_drawing import make
from trainer.drawings import DRAWINGS, big_first
from trainer.drawings.parts import LEAST, Box, fitted
from trainer.drawings.sheet import Sheet

WITH_PARTS = [case for case, (name, _) in CASES.items() if DRAWINGS[name].parts]
ORDINARY = {name: case for case, (name, _) in reversed(CASES.items()) if DRAWINGS[name].parts}


@pytest.mark.parametrize("name", ORDINARY)
def test_it_draws_every_part_that_it_declares(name: str) -> None:
    """Under ordinary inputs each part of the closed list has a place on the sheet, in the declared order."""
    drawing = make(ORDINARY[name])
    groups = {group.get("data-part") for group in root(drawing).findall(f"{SVG}g")}

    assert tuple(part.name for part in drawing.parts) == DRAWINGS[name].parts
    assert groups == set(DRAWINGS[name].parts)


@pytest.mark.parametrize("case", WITH_PARTS)
def test_it_keeps_boxes_on_the_sheet_and_large_enough_for_a_finger(case: str) -> None:
    """Each box lies on the sheet and is at least 24 units wide and high."""
    drawing = make(case)
    boxes = [box for part in drawing.parts for box in part.boxes]

    assert boxes or case not in ORDINARY.values()
    for box in boxes:
        assert min(box.width, box.height) >= LEAST
        assert 0 <= box.x <= box.x + box.width <= drawing.width
        assert 0 <= box.y <= box.y + box.height <= drawing.height


@pytest.mark.parametrize("case", WITH_PARTS)
def test_it_lets_a_finger_reach_every_part(case: str) -> None:
    """At the middle of each box the topmost box, the smallest, is one of the same part."""
    pairs = big_first(make(case).parts)

    for part, box in pairs:
        top = [other for other, over in pairs if over.holds(*box.middle)][-1]
        assert top.name == part.name, (part.name, box)


@pytest.mark.parametrize("case", WITH_PARTS)
def test_it_names_every_part_in_both_languages(case: str) -> None:
    """Names differ between the languages, and no two parts of one drawing are called the same."""
    english, spanish = ([part.label for part in make(case, language).parts] for language in ("en", "es"))

    assert len(set(english)) == len(english)
    assert len(set(spanish)) == len(spanish)
    assert not set(english) & set(spanish)


@pytest.mark.parametrize("case", WITH_PARTS)
def test_it_keeps_parts_out_of_the_text_alternative(case: str) -> None:
    """The list of parts has its own place: no name of a part as the program writes it is read out."""
    drawing = make(case)

    assert not [part.name for part in drawing.parts if "_" in part.name and part.name in drawing.alt]


def sheet(*parts: str) -> Sheet:
    """A bare sheet with declared parts."""
    return Sheet("deck_joint", parts=parts)


def test_it_measures_a_part_by_its_shapes() -> None:
    """The box holds lines, rectangles, paths and circles, each piece apart; texts do not count."""
    page = sheet("gap", "step")
    with page.part("gap"):
        page.canvas.rect(20, 30, 40, 50)
        page.canvas.circle((100, 60), 10)
        page.canvas.text((200, 200), "far away")
    with page.part("gap"):
        page.canvas.path([(150, 40), (190, 40), (190, 90)])
    page.bottom = 200
    (part,) = page.finish().parts

    assert part.boxes == (Box(20, 30, 90, 50), Box(150, 40, 40, 50))


def test_it_grows_a_thin_part_away_from_its_neighbor() -> None:
    """A thin layer is grown to 24 units, to the side on which it covers no middle of another part."""
    boxes = fitted({"thin": [(10, 100, 60, 4)], "next": [(10, 104, 60, 10)]}, (340, 300))

    assert boxes["thin"][0].height == LEAST
    assert not boxes["thin"][0].holds(40, 109)
    assert boxes["thin"][0].holds(40, 102)


@pytest.mark.parametrize(
    ("parts", "problem"),
    [(("lap",), "it is not declared"), (("gap", "gap"), 'part "gap" is still open'), (("gap",), "give it a box")],
    ids=["unknown", "one in another", "nothing drawn"],
)
def test_it_refuses_a_part_that_cannot_be_pointed_at(parts: tuple[str, ...], problem: str) -> None:
    """A slip in a drawing is found at once: a part that is not declared, one inside another, or one without a place."""
    page = sheet("gap")

    def nest(names: tuple[str, ...]) -> None:
        if names:
            with page.part(names[0]):
                nest(names[1:])

    with pytest.raises(ValueError, match=problem):
        nest(parts)
