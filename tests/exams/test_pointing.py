"""A sheet with a drawing to point at: shown, saved, put back, scored, and judged again from what was stored."""

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.exams.conftest import ask_to_point, right_response, start, wrong_response
from tests.exams.filling import form_of, sent
from tests.exams.test_pages import text_of
from trainer.exams import cases, queries, services
from trainer.exams.models import Sheet, Sitting, SittingScore
from trainer.people.access import Member
from trainer.people.models import Company
from trainer.questions.evidence import case_document

SignIn = Callable[[Member], Client]


@pytest.fixture
def lessons(lessons: Path) -> Path:
    """Let each sitting hold a drawing to point at."""
    return ask_to_point(lessons)


@pytest.fixture
def sitting(ready: Company, trainee: Member) -> Sitting:
    """Give an open sitting."""
    return start(trainee)


@pytest.fixture
def sheet(sitting: Sitting) -> Sheet:
    """Give the sheet to point at."""
    return sitting.sheets.get(question="sample/spot-rows")


@pytest.fixture
def client(sheet: Sheet, trainee: Member, sign_in: SignIn) -> Client:
    """Give the trainee's phone, signed in."""
    return sign_in(trainee)


def url(sheet: Sheet) -> str:
    """Give the address of the sheet."""
    return reverse("exam-sheet", kwargs={"ref": sheet.sitting.ref, "number": sheet.number})


def test_it_shows_a_label_over_each_part(client: Client, sheet: Sheet) -> None:
    """Every row has its part in the drawing, tied to the row by its id, and none is marked yet."""
    html = client.get(url(sheet)).content.decode()
    form = form_of(html)

    assert form.choices["part"] == ["A", "B", "C", "D", "E"]
    assert {*re.findall(r'<label for="part-([A-Z])" data-letter="\1">', html)} == {*form.choices["part"]}
    assert "part" not in form.fields
    assert "library/pointing.css" in html


@pytest.mark.parametrize("by_script", [False, True], ids=["button", "script"])
def test_it_saves_the_part_and_shows_it_again(client: Client, sheet: Sheet, by_script: bool) -> None:
    """Sent by the button or by script, the part is kept and its row is marked when the sheet is opened again."""
    data = sent(client.get(url(sheet)).content.decode(), {"part": "C"})
    client.post(url(sheet), data, headers={"HX-Request": "true"} if by_script else {})
    table = text_of(client.get(reverse("exam-table", kwargs={"ref": sheet.sitting.ref})))

    assert form_of(client.get(url(sheet)).content.decode()).fields["part"] == ["C"]
    saved = {one.sheet.number: one.response for one in queries.answered_sheets(sheet.sitting)}
    assert saved[sheet.number] == {"part": "C"}
    assert table.count("answered") == 1


def test_it_asks_again_for_a_part_that_is_not_there(client: Client, sheet: Sheet) -> None:
    """A letter that no row has is kept, told beside the rows, and told in the table."""
    client.post(url(sheet), sent(client.get(url(sheet)).content.decode(), {"part": "Z"}))

    assert "There is no part “Z”. Point at one of A, B, C, D, E." in text_of(client.get(url(sheet)))


@pytest.mark.parametrize("right", [True, False], ids=["right", "wrong"])
def test_it_scores_what_was_pointed_at(
    client: Client, sheet: Sheet, trainer: Member, sign_in: SignIn, right: bool
) -> None:
    """The stored verdict counts the part at fault alone; staff see what was pointed at and what was at fault."""
    case = cases.stored_case(sheet.evidence)
    response = (right_response if right else wrong_response)(sheet.sitting, sheet.number)
    client.post(url(sheet), sent(client.get(url(sheet)).content.decode(), response))
    result = client.post(reverse("exam-table", kwargs={"ref": sheet.sitting.ref}), follow=True)
    row = next(row for row in case.rows if row.letter == response["part"])
    staff = text_of(sign_in(trainer).get(reverse("sitting", kwargs={"company": "own", "ref": sheet.sitting.ref})))

    judged = json.loads(SittingScore.objects.get().evidence.text)["sheets"][sheet.number - 1]
    assert (judged["right"], judged["blank"], judged["unread"]) == (right, False, False)
    assert bool(judged["mistakes"]) is not right
    assert f"Fastening {int(right)} of 1" in text_of(result)
    assert case.answer.text["en"] not in text_of(result)
    assert f"{row.letter}, {row.text['en']} {case.answer.text['en']}" in staff


def test_it_judges_the_stored_drawing_again_alike(
    sitting: Sitting, sheet: Sheet, save: Callable[..., Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The evidence holds drawing, parts and limits whole: read back it is the same, and every part is judged alike."""
    document = json.loads(sheet.evidence.text)
    case = cases.stored_case(sheet.evidence)
    save(sitting, sheet.number, right_response(sitting, sheet.number))
    monkeypatch.setattr(cases, "make_case", None)
    monkeypatch.setattr("trainer.library.queries.question", None)

    assert case_document(case) == document
    assert [part["name"] for part in document["parts"]["es"]] == [
        "upper_row", "lower_row", "spacing", "inner_edge", "outer_edge",
    ]  # fmt: skip
    assert 'class="ring"' in document["after_drawing"]["en"]["svg"]
    verdicts = [cases.verdict_on(sheet.evidence, {"part": row.letter}, "es-us").right for row in case.rows]
    assert verdicts == [row.right for row in case.rows]
    assert services.end_sitting(sitting=sitting).right == 1
