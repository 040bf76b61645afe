"""Nothing that is sent during a sitting holds an answer, a seed, a mistake or a right-flag."""

import json
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.exams.conftest import MODULE, ask_to_point, right_response, wrong_response
from tests.exams.filling import sent
from trainer.exams import cases
from trainer.exams.models import Sheet, Sitting
from trainer.exams.selection import seed_of
from trainer.people.access import Member
from trainer.people.models import Company
from trainer.questions.case import Case, CaseMistake
from trainer.questions.model import BothLanguages

SignIn = Callable[[Member], Client]
LANGUAGES = ("en-us", "es-us")


@pytest.fixture
def lessons(lessons: Path) -> Path:
    """Let each sitting hold a drawing to point at, beside the other kinds."""
    return ask_to_point(lessons)


def sheet_url(sitting: Sitting, number: int) -> str:
    """Give the address of a sheet."""
    return reverse("exam-sheet", kwargs={"ref": sitting.ref, "number": number})


def begin(client: Client, language: str) -> tuple[Sitting, list[str]]:
    """Start the exam; give the sitting and what was sent so far."""
    url = reverse("exam-start", kwargs={"module": MODULE})
    bodies = [
        whole(client.get(reverse("exams"))),
        whole(client.get(url)),
        whole(client.post(url, {"language": language})),
    ]
    return Sitting.objects.get(), bodies


def whole(response: Any) -> str:
    """Give all that is sent: headers, cookies and body."""
    headers = "\n".join(f"{name}: {value}" for name, value in response.headers.items())
    return f"{headers}\n{response.cookies.output()}\n{response.content.decode()}"


def everything_sent(client: Client, language: str) -> tuple[Sitting, list[str]]:
    """Walk a whole sitting: every page, every answer right, wrong, unreadable, from script, and the table."""
    sitting, bodies = begin(client, language)
    for number in range(1, 7):
        url = sheet_url(sitting, number)
        page = client.get(url)
        bodies.append(whole(page))
        unread = (
            {"part": "Z"} if sitting.sheets.get(number=number).question == "sample/spot-rows" else {"text": "no idea"}
        )
        for response in (wrong_response(sitting, number), unread, right_response(sitting, number)):
            data = sent(page.content.decode(), response)
            bodies.append(whole(client.post(url, data)))
            bodies.append(whole(client.post(url, data, headers={"HX-Request": "true"})))
            if response != right_response(
                sitting, number
            ):  # a page that shows somebody's own right entry gives nothing away
                bodies.append(whole(client.get(url)))
    bodies.append(whole(client.get(reverse("exam-table", kwargs={"ref": sitting.ref}))))
    bodies.append(whole(client.get(reverse("exams"))))
    return sitting, bodies


def secrets_of(sitting: Sitting, sheet: Sheet) -> Iterator[str]:
    """Give each text of a sheet's stored case that must not be sent."""
    document = json.loads(sheet.evidence.text)
    yield sitting.seed
    yield document["seed"]
    yield seed_of(sitting.seed, f"case {sheet.question}")
    yield document["digest"]
    yield sheet.evidence.digest
    for row in document["rows"]:
        yield f'value="{row["id"]}"' if row["id"] == "answer" else row["id"]  # the word itself is a style of every page
        yield from row.get("why", {}).values()
    for mistake in document["mistakes"]:
        yield mistake["id"]
        yield from mistake["text"].values()
    yield from document["after"].values()
    if document["kind"] in ("measure", "spot"):
        yield from document["answer"]["text"].values()
    if document["kind"] == "spot":
        yield document["parameters"]["fault"]
        for drawn in document["after_drawing"].values():
            yield drawn["svg"]
            yield drawn["alt"]
            yield drawn["alt"].rpartition(": ")[0].rpartition(". ")[2]  # "In the ring"
    for lines in document["steps"].values():
        yield from (line["expression"] for line in lines if len(line["expression"]) > 5)


@pytest.mark.parametrize("language", LANGUAGES)
def test_it_sends_no_secret(ready: Company, trainee: Member, sign_in: SignIn, language: str) -> None:
    """Over all HTML, headers and cookies of a sitting: no seed, answer, mistake, row id or working."""
    sitting, bodies = everything_sent(sign_in(trainee), language)
    sent_text = "\n".join(bodies)
    secrets = {text for sheet in sitting.sheets.all() for text in secrets_of(sitting, sheet) if text}

    assert sitting.sheets.filter(question="sample/spot-rows").exists()
    assert len(secrets) > 40
    assert sorted(text for text in secrets if re.search(rf"(?<!\w){re.escape(text)}(?!\w)", sent_text)) == []
    assert re.findall(r"data-[a-z-]*(?:right|correct|answer|mistake)[a-z-]*", sent_text) == []


def test_it_would_notice_a_secret(ready: Company, trainee: Member, sign_in: SignIn) -> None:
    """What is searched for is there to be found in the stored case; the sitting's seed is not even there."""
    sitting, _bodies = begin(sign_in(trainee), "en-us")
    for sheet in sitting.sheets.all():
        found = [text for text in secrets_of(sitting, sheet) if text and text in sheet.evidence.text]

        assert sitting.seed not in sheet.evidence.text
        assert len(found) > 3


def otherwise(case: Case) -> Case:
    """Give the same case with every part changed that a person who sits must not learn from the page."""
    both: BothLanguages = {"en": "changed", "es": "cambiado"}
    value = case.answer.value
    other = value + 1 if not isinstance(value, tuple) else tuple(reversed(value))
    mistake = [CaseMistake("changed", value, both, both, case.answer.dimension)] if case.answer.dimension else []
    return replace(
        case,
        seed="changed",
        digest="changed",
        answer=case.answer._replace(value=other, text=both),
        mistakes=tuple(mistake),
        rows=tuple(row._replace(id=f"changed{n}", right=not row.right, why=both) for n, row in enumerate(case.rows)),
        pairs=(),
        steps={"en": [], "es": []},
        after=both,
        after_drawing=None,
        danger=both,
        parameters={},
        rule_editions={},
        critical=not case.critical,
    )


@pytest.mark.parametrize("language", LANGUAGES)
def test_it_sends_the_same_page_whatever_is_right(
    ready: Company, trainee: Member, sign_in: SignIn, monkeypatch: pytest.MonkeyPatch, language: str
) -> None:
    """With another answer, other mistakes and other right rows in the case, each sheet is the same to the byte."""
    client = sign_in(trainee)
    sitting, _bodies = begin(client, language)

    def pages() -> list[str]:
        found = [client.get(sheet_url(sitting, number)).content.decode() for number in range(1, 7)]
        return [re.sub(r'name="(send|csrfmiddlewaretoken)" value="[^"]+"', "", page) for page in found]

    before = pages()
    stored = cases.stored_case
    monkeypatch.setattr(cases, "stored_case", lambda evidence: otherwise(stored(evidence)))

    assert pages() == before
