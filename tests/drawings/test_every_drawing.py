"""What holds for every drawing, in both languages and both systems of units."""

from __future__ import annotations

import itertools

import pytest

from tests.drawings.cases import CASES
from tests.drawings.reading import SVG, find, root, texts, values
from trainer.drawings import DRAWINGS, Drawing, draw
from trainer.drawings.words import table

READERS = [(language, units) for language in ("en", "es") for units in ("imperial", "metric")]
EVERY = [
    pytest.param(case, language, units, id=f"{case}, {language}, {units}")
    for case in CASES
    for language, units in READERS
]
ALLOWED = {"svg", "title", "desc", "defs", "pattern", "g", "line", "rect", "path", "circle", "text"}


def make(case: str, language: str = "en", units: str = "imperial", key: str = "d1") -> Drawing:
    """Draw a case of the table."""
    name, inputs = CASES[case]
    inputs = dict(inputs)
    if name == "tape" and units == "metric":
        inputs["reading"] = "1.437 m" if inputs["reading"] else 0
    return draw(name, inputs, units=units, language=language, key=key)


def test_it_tests_every_drawing() -> None:
    """No drawing is left out of the cases."""
    assert {name for name, _ in CASES.values()} == set(DRAWINGS)
    assert len(DRAWINGS) > 12


@pytest.mark.parametrize(("case", "language", "units"), EVERY)
def test_it_is_a_picture_that_a_screen_reader_can_name(case: str, language: str, units: str) -> None:
    """The SVG is well formed, has a role, a title, and a description that is the text alternative."""
    drawing = make(case, language, units)
    svg = root(drawing)
    title, desc = svg.find(f"{SVG}title"), svg.find(f"{SVG}desc")

    assert svg.get("role") == "img"
    assert svg.get("lang") == language
    assert svg.get("viewBox") == f"0 0 {drawing.width} {drawing.height}"
    assert title is not None
    assert svg.get("aria-labelledby") == title.get("id")
    assert desc is not None
    assert svg.get("aria-describedby") == desc.get("id")
    assert desc.text == drawing.alt
    assert drawing.alt.startswith(f"{title.text}.")


@pytest.mark.parametrize(("case", "language", "units"), EVERY)
def test_it_holds_nothing_that_runs_or_reaches_out(case: str, language: str, units: str) -> None:
    """Only shapes and texts, presentation attributes and classes; paints refer to the drawing's own patterns."""
    svg = root(make(case, language, units))
    ids = [element.get("id") for element in svg.iter() if element.get("id")]

    assert len(ids) == len(set(ids))
    assert all(str(found).startswith("d1-") for found in ids)
    for element in svg.iter():
        assert element.tag.removeprefix(SVG) in ALLOWED
        for name, value in element.attrib.items():
            assert name not in {"style", "href"}
            assert not name.startswith(("on", "{"))
            if "url(" in value:
                assert value.removeprefix("url(#").removesuffix(")") in ids


@pytest.mark.parametrize(("case", "language", "units"), EVERY)
def test_it_keeps_every_text_on_the_sheet_and_apart(case: str, language: str, units: str) -> None:
    """No text runs over the edge of the sheet or into another text, and none is smaller than 12 units of 340."""
    drawing = make(case, language, units)
    found = texts(drawing)

    assert [text for text in found if text.left < 0 or text.right > drawing.width or text.bottom > drawing.height] == []
    assert [pair for pair in itertools.combinations(found, 2) if pair[0].overlaps(pair[1])] == []
    assert all(float(element.get("font-size", "0")) >= 12 for element in find(drawing, "text", ""))


@pytest.mark.parametrize("case", CASES)
def test_it_follows_the_page_from_light_to_dark(case: str) -> None:
    """Every color is the page's own: the current color, none, a hatch, or the class that is filled with paper."""
    for element in root(make(case)).iter():
        for paint in ("fill", "stroke"):
            value = element.get(paint, "none")
            if value == "#fff":
                assert "paper" in element.get("class", "").split()
            else:
                assert value in {"none", "currentColor"} or value.startswith("url(#")


@pytest.mark.parametrize("case", CASES)
def test_it_makes_ids_its_own_by_the_key(case: str) -> None:
    """Two drawings on one page share no id, and are otherwise the same picture."""
    one, two = make(case, key="a"), make(case, key="b")
    ids = [{element.get("id") for element in root(drawing).iter() if element.get("id")} for drawing in (one, two)]

    assert not ids[0] & ids[1]
    assert one.alt == two.alt
    assert one == make(case, key="a")


def test_it_has_both_languages_for_every_word() -> None:
    """Each entry of the table has English and Spanish, with the same gaps to fill."""
    for key, entry in table().items():
        assert set(entry) == {"en", "es"}, key
        gaps = [sorted(part.split("}")[0] for part in entry[language].split("{")[1:]) for language in ("en", "es")]
        assert gaps[0] == gaps[1], key


@pytest.mark.parametrize("case", CASES)
def test_it_speaks_the_readers_language(case: str) -> None:
    """The Spanish sheet shares no text with the English one but numbers, marks and "?"."""
    english = {text.words for text in texts(make(case, "en")) if any(letter.isalpha() for letter in text.words)}
    spanish = {text.words for text in texts(make(case, "es"))}

    assert english & spanish <= {"…"}


@pytest.mark.parametrize("case", CASES)
def test_it_keeps_the_marks_of_callouts_apart(case: str) -> None:
    """No two circled numbers touch."""
    marks = [values(circle, "cx", "cy", "r") for circle in find(make(case), "circle", "callout")]

    for x1, y1, radius, (x2, y2) in [(a[0], a[1], a[2], b[:2]) for a, b in itertools.combinations(marks, 2)]:
        assert ((x1 - x2) ** 2 + (y1 - y2) ** 2) ** 0.5 >= 2 * radius
