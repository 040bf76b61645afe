"""What was entered: read from the fields, judged by the questions' verdict, and put back into the fields."""

import re
from pathlib import Path
from typing import Any

import pytest
from django.http import QueryDict
from django.template.loader import render_to_string

from tests.library.folder import NEW, QUESTIONS, SLUG, SPECIFICATION
from tests.library.test_rendering import FOLDER, Tags
from trainer.drawings import DRAWINGS
from trainer.library.responses import read_response
from trainer.questions.case import LETTERS, Case
from trainer.questions.cases import make_case
from trainer.questions.evidence import public_case
from trainer.questions.format import parse_question
from trainer.questions.model import Language
from trainer.questions.verdict import judge
from trainer.rules.specification import parse_specification

SPECIFIED = parse_specification((FOLDER / f"{NEW}.toml").read_text(), f"{SPECIFICATION}/{NEW}.toml")


def case_of(name: str, seed: int = 1) -> Case:
    """Make a case of one of the small module's questions."""
    question = parse_question(QUESTIONS[name], f"{SLUG}/questions/{name}.toml")
    return make_case(question, SPECIFIED, seed)


def fields(case: Case, response: Any = None, language: Language = "en", **context: Any) -> str:
    """Give the fields' HTML as practice and exams include it."""
    shown = {"case": public_case(case, language), "response": response} | context
    return render_to_string("library/answer_fields.html", shown)


@pytest.mark.parametrize(
    ("kind", "entered", "expected"),
    [
        pytest.param("measure", "", {}, id="measure blank"),
        pytest.param("measure", "feet=&inches=0&sixteenths=0&text=", {}, id="pad untouched"),
        pytest.param(
            "measure",
            "feet=24&inches=6&sixteenths=8&text=",
            {"feet": "24", "inches": "6", "sixteenths": "8"},
            id="pad",
        ),
        pytest.param(
            "measure", "feet=0&inches=0&sixteenths=0", {"feet": "0", "inches": "0", "sixteenths": "0"}, id="pad says 0"
        ),
        pytest.param(
            "measure", "feet=&inches=7&sixteenths=0", {"feet": "0", "inches": "7", "sixteenths": "0"}, id="inches alone"
        ),
        pytest.param("measure", "feet=2&inches=1&text=+3+ft+", {"text": "3 ft"}, id="typed goes before the pad"),
        pytest.param("measure", "millimeters=89", {"millimeters": "89"}, id="millimeters"),
        pytest.param("count", "text=12", {"text": "12"}, id="count"),
        pytest.param("count", "text=twelve", {"text": "twelve"}, id="count as typed"),
        pytest.param("choice", "rows=C&rows=A&rows=A", {"rows": ["A", "C"]}, id="choice"),
        pytest.param("choice", "", {}, id="choice blank"),
        pytest.param("order", "place-A=2&place-B=1&place-C=3", {"order": ["B", "A", "C"]}, id="order"),
        pytest.param(
            "order", "place-A=1&place-B=1&place-C=", {"places": ["A=1", "B=1", "C="]}, id="order with a number twice"
        ),
        pytest.param("order", "place-A=&place-B=", {}, id="order blank"),
        pytest.param("judge", "decision=accept&reading=2", {"decision": "accept"}, id="accept drops the mark"),
        pytest.param("judge", "decision=reject&reading=2", {"decision": "reject", "reading": "2"}, id="reject"),
        pytest.param("judge", "decision=reject", {"decision": "reject"}, id="reject without a mark"),
        pytest.param("spot", "part=C", {"part": "C"}, id="spot"),
        pytest.param("spot", "part=", {}, id="spot blank"),
        pytest.param("spot", "part=Z&rows=A", {"part": "Z"}, id="spot as sent, for the verdict to ask again"),
    ],
)
def test_it_reads_what_was_entered(kind: str, entered: str, expected: dict[str, Any]) -> None:
    """Each kind's fields give the response that the verdict takes; nothing entered is a blank."""
    assert read_response(kind, QueryDict(entered)) == expected


def test_it_keeps_no_more_than_an_answer_takes() -> None:
    """A send of a book is cut, not stored."""
    long = QueryDict(mutable=True)
    long["text"] = "9" * 10_000
    long.setlist("rows", [str(number) for number in range(1000)])
    long["decision"] = "accept\x00"

    assert len(str(read_response("measure", long)["text"])) == 80
    assert len(read_response("choice", long)["rows"]) == 40
    assert read_response("judge", long) == {"decision": "accept"}


def test_it_refuses_an_unknown_kind() -> None:
    """A kind without fields is a fault in the program, said plainly."""
    with pytest.raises(ValueError, match='"essay" has no fields; kinds are measure'):
        read_response("essay", QueryDict(""))


@pytest.mark.parametrize("name", ["exposure", "nails", "short-lap", "steps", "readings", "rows-of-nails"])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_right_answer_passes_through_the_fields(name: str, seed: int) -> None:
    """The right answer, entered by the fields' own names, is judged right."""
    case = case_of(name, seed)
    entered = QueryDict(mutable=True)
    if case.kind in ("measure", "count"):
        entered["text"] = case.answer.text["en"]
    elif case.kind == "choice":
        entered.setlist("rows", list(case.answer.value))
    elif case.kind == "spot":
        entered["part"] = case.answer.value[0]
    elif case.kind == "order":
        entered.update({f"place-{letter}": str(place) for place, letter in enumerate(case.answer.value, start=1)})
    else:
        entered["decision"], *reading = case.answer.value
        entered["reading"] = reading[0] if reading else "1"

    assert judge(case, read_response(case.kind, entered)).right


@pytest.mark.parametrize(
    ("name", "entered"),
    [
        pytest.param("exposure", "feet=2&inches=11&sixteenths=6", id="measure by pad"),
        pytest.param("exposure", "text=35+3%2F8+in", id="measure typed"),
        pytest.param("nails", "text=41", id="count"),
        pytest.param("short-lap", "rows=B", id="choice"),
        pytest.param("steps", "place-A=3&place-B=1&place-C=2", id="order"),
        pytest.param("steps", "place-A=3&place-B=3&place-C=", id="order not settled"),
        pytest.param("readings", "decision=reject&reading=2", id="judge"),
        pytest.param("rows-of-nails", "part=B", id="spot"),
    ],
)
def test_it_shows_an_earlier_answer_again(name: str, entered: str) -> None:
    """Fields filled with a response send the same response again."""
    case = case_of(name)
    response = read_response(case.kind, QueryDict(entered))

    again = read_response(case.kind, sent_by(fields(case, response)))

    assert again == response


def sent_by(html: str) -> QueryDict:
    """Give what a browser would send for the fields as they stand."""
    found = QueryDict(mutable=True)
    parser = Form(html)
    for name, value in parser.sent:
        found.appendlist(name, value)
    return found


class Form(Tags):
    """Gather what a form would send."""

    def __init__(self, html: str) -> None:
        self.sent: list[tuple[str, str]] = []
        self._select = ""
        super().__init__(html)

    def handle_endtag(self, tag: str) -> None:
        """A list from which nothing is picked sends its first line, which is empty."""
        if tag == "select" and self._select not in dict(self.sent):
            self.sent.append((self._select, ""))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep what is filled in, checked or selected."""
        super().handle_starttag(tag, attrs)
        has = dict(attrs)
        if tag == "select":
            self._select = has["name"] or ""
        elif tag == "option" and "selected" in has:
            self.sent.append((self._select, has["value"] or ""))
        elif tag == "input" and (has["type"] == "text" or "checked" in has):
            self.sent.append((has["name"] or "", has["value"] or ""))


def test_the_pad_has_every_sixteenth_and_every_inch() -> None:
    """The strip shows 0 to 15 sixteenths as a tape prints them, reduced."""
    html = fields(case_of("exposure"))

    assert html.count('name="sixteenths"') == 16
    assert html.count('name="inches"') == 12
    for text in ("1/16", "1/8", "3/16", "1/4", "1/2", "15/16"):
        assert f"<span>{text}</span>" in html


@pytest.mark.parametrize("name", ["exposure", "nails", "short-lap", "steps", "readings", "rows-of-nails"])
def test_every_field_has_a_label(name: str) -> None:
    """Each input is inside a label or is named by one."""
    html = fields(case_of(name), problem="Say it again.")
    parser = Tags(html)
    named = {value for key, value in parser.attributes if key == "for"}
    ids = {value for key, value in parser.attributes if key == "id"} - {"answer-problem", "answer-text-help"}

    assert ids <= named
    assert html.count("<label") >= html.count("<input")
    assert 'id="answer-problem"' in html


def test_the_fields_give_no_answer_away() -> None:
    """Nothing of a choice, an order or a judge tells which row is right."""
    for name in ("short-lap", "steps", "readings", "rows-of-nails"):
        case = case_of(name)
        html = fields(case)
        assert "checked" not in html
        values = {value for _name, value in Tags(html).attributes}
        assert values.isdisjoint({row.id for row in case.rows})


def test_stems_are_text_and_nothing_else() -> None:
    """Tags in a stem are shown, not run; blank lines part paragraphs."""
    case = {"kind": "count", "stem": "One <script>alert(1)</script>\n\nTwo {{ x }}", "drawing": None}

    html = render_to_string("library/case_text.html", {"case": case})

    assert "<script" not in html
    assert html.count("<p>") == 2
    assert "{{ x }}" in html


def drawn(case: Case, language: Language = "en") -> str:
    """Give the stem and drawing's HTML as every page includes it."""
    return render_to_string("library/case_text.html", {"case": public_case(case, language)})


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("seed", range(6))
def test_a_tap_on_a_part_marks_its_row(seed: int, language: Language) -> None:
    """Over each box of each part lies a label of that part's row, as large as the box, the smallest box on top."""
    case = case_of("rows-of-nails", seed)
    assert case.drawing is not None
    parts = case.drawing[language].parts
    rows = {row.text[language]: row.letter for row in case.rows}
    labels = re.findall(
        r'<foreignObject x="(\d+)" y="(\d+)" width="(\d+)" height="(\d+)"><label for="part-([A-Z])"',
        drawn(case, language),
    )
    ids = {value for name, value in Tags(fields(case, language=language)).attributes if name == "id"}

    asked = {part.label: part.boxes for part in parts if part.label in rows}
    expected = sorted((*map(str, box), rows[label]) for label, boxes in asked.items() for box in boxes)
    assert sorted(labels) == expected
    sizes = [int(width) * int(height) for _x, _y, width, height, _letter in labels]
    assert sizes == sorted(sizes, reverse=True)
    assert {f"part-{letter}" for *_box, letter in labels} <= ids
    assert len(asked) == 4  # the row "no fault" has no place in the drawing


def test_a_drawing_to_point_at_needs_no_script_and_no_inline_style() -> None:
    """What lies over the drawing is foreign objects and labels alone: the content security policy bars the rest."""
    html = drawn(case_of("rows-of-nails")) + fields(case_of("rows-of-nails"))
    names = {name for name, _value in Tags(html).attributes}

    assert "<script" not in html
    assert not {name for name in names if name == "style" or name.startswith("on")}
    assert html.count("</svg>") == 1


def test_every_letter_of_a_spot_can_be_ringed() -> None:
    """The style sheet names each letter that any question of the project needs."""
    style = (Path(__file__).parents[2] / "trainer/library/static/library/pointing.css").read_text()
    most = max(len(kind.parts) for kind in DRAWINGS.values()) + 1  # and the row "no fault"

    for letter in LETTERS[:most]:
        for state in ("focus-visible", "checked"):
            assert f'body:has(#part-{letter}:{state}) .pointing [data-letter="{letter}"]' in style


def test_the_limits_stand_beside_a_drawing_to_point_at() -> None:
    """What is asked for is told with its reading tolerance, unless the question keeps it back."""
    shown = fields(case_of("rows-of-nails"))
    kept = QUESTIONS["rows-of-nails"].replace('sound = "1/4"', 'sound = "1/4"\nshow_limits = false')
    hidden = fields(make_case(parse_question(kept, f"{SLUG}/questions/rows-of-nails.toml"), SPECIFIED, 1))

    assert "at most 6 in" in shown
    assert "± 1/4 in" in shown
    assert "at most 6 in" not in hidden
    assert "<table" not in hidden


def test_locked_fields_cannot_be_pointed_at() -> None:
    """Where an answer is only shown, its rows are disabled; a label does not mark a disabled row."""
    html = fields(case_of("rows-of-nails"), {"part": "B"}, locked=True)

    assert '<fieldset class="parts" disabled' in html
    assert re.findall(r'value="([A-Z])" checked', html) == ["B"]
