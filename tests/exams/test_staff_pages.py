"""The staff's pages: plans and sittings."""

import re
from collections.abc import Callable
from html import unescape
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests import factories
from tests.exams.conftest import MODULE, answer_all, start
from tests.exams.test_pages import text_of
from trainer.exams import cases, services
from trainer.exams.models import ExamPlan, Sitting
from trainer.library.templatetags.answers import paragraphs
from trainer.people.access import Member
from trainer.people.models import Company

SignIn = Callable[[Member], Client]
FORM = {
    "passing_score": "6",
    "reason_en": "All of them.",
    "reason_es": "Todas.",
    "minutes": "15",
    "wait_hours": "48",
    "valid_months": "12",
}


def url(name: str, **parts: Any) -> str:
    """Give a staff address of the company."""
    return reverse(name, kwargs={"company": "own", **parts})


def folded(html: str) -> str:
    """Give the words of a piece of a page."""
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


@pytest.fixture
def failed(ready: Company, trainee: Member, save: Callable[..., Any]) -> Sitting:
    """Give an ended sitting with one wrong answer, on the nails."""
    sitting = start(trainee)
    answer_all(sitting, save, wrong=(sitting.sheets.get(question="sample/nails").number,))
    services.end_sitting(sitting=sitting)
    return sitting


def test_it_shows_what_a_passing_score_lets_through(ready: Company, trainer: Member, sign_in: SignIn) -> None:
    """The plan's page prints the four lines, and that so few questions cannot tell people near the score apart."""
    text = text_of(sign_in(trainer).get(url("exam-plan", module=MODULE)))

    assert "To pass: 5 of 6 right. Five of six: one slip is forgiven." in text
    assert "60 23 70 42 80 66 90 89" in text
    assert "cannot tell apart people near the passing score" in text
    assert "A short end lap" in text


def test_it_publishes_a_companys_own_plan(ready: Company, trainer: Member, sign_in: SignIn) -> None:
    """From the day named on; the page then offers the way back to the default."""
    client = sign_in(trainer)
    data = {**FORM, "effective_from": ready.today().isoformat()}
    page = client.post(url("exam-plan", module=MODULE), data, follow=True)
    assert "To pass: 6 of 6 right. All of them." in text_of(page)
    back = client.post(url("exam-plan-default", module=MODULE), follow=True)

    assert "To pass: 5 of 6 right." in text_of(back)
    assert ExamPlan.objects.filter(company=ready).count() == 2


def test_it_keeps_what_was_entered_when_a_plan_is_refused(ready: Company, trainer: Member, sign_in: SignIn) -> None:
    """The sentence stands beside the field and nothing typed is lost."""
    data = {**FORM, "effective_from": "2024-01-01"}
    page = sign_in(trainer).post(url("exam-plan", module=MODULE), data)

    assert "cannot begin on a day that is over" in text_of(page)
    assert "All of them." in page.content.decode()
    assert not ExamPlan.objects.filter(company=ready).exists()


def test_it_shows_the_trainer_each_verdict(failed: Sitting, trainer: Member, sign_in: SignIn) -> None:
    """Entered, right answer and verdict of each sheet, once the sitting has ended."""
    text = text_of(sign_in(trainer).get(url("sitting", ref=failed.ref)))

    assert "5 of 6, 5 needed" in text
    assert "Nails along an eave Fastening not right 1 " in text


def test_it_shows_each_question_as_it_was_asked(
    ready: Company, save: Callable[..., Any], trainer: Member, sign_in: SignIn
) -> None:
    """Stem and rows stand in the sitting's language with the stored numbers, each row with what came of it."""
    reader = factories.member(ready, language="es-us")
    sitting = start(reader)
    lettered = [
        sheet.number
        for sheet in sitting.sheets.select_related("evidence")
        if cases.stored_case(sheet.evidence).kind == "choice"
    ]
    answer_all(sitting, save, wrong=tuple(lettered[:1]))
    services.end_sitting(sitting=sitting)
    html = sign_in(trainer).get(url("sitting", ref=sitting.ref)).content.decode()
    sections = html.split('<h3 id="question-')[1:]
    assert len(sections) == sitting.sheets.count()
    for sheet, section in zip(sitting.sheets.select_related("evidence"), sections, strict=True):
        case, shown = cases.stored_case(sheet.evidence), unescape(section)
        assert '<div lang="es-us">' in section
        assert all(part in shown for part in paragraphs(case.stem["es"]))
        assert case.answer.text["en"] in shown
        if case.kind != "judge":
            assert all(row.text["es"] in shown for row in case.rows)
        else:
            assert all(row.reading and row.reading["es"] in shown for row in case.rows)
    wrong = cases.stored_case(sitting.sheets.get(number=lettered[0]).evidence)
    shown = folded(sections[lettered[0] - 1])
    marked = next(row for row in wrong.rows if not row.right)
    for row in wrong.rows:
        said = {True: " (right answer)", False: " (marked)" if row is marked else ""}[row.right]
        assert f"{row.letter} {row.text['es']}{said}" in shown
    assert shown.count("(marked)") == shown.count("(right answer)") == 1
    assert "Verdict not right" in shown


def test_it_hides_the_answers_of_an_open_sitting(
    ready: Company, trainee: Member, office: Member, sign_in: SignIn
) -> None:
    """While somebody sits, staff see no answers either."""
    text = text_of(sign_in(office).get(url("sitting", ref=start(trainee).ref)))

    assert "The answers are shown when the sitting has ended." in text
    assert "Right answer" not in text


def test_it_lists_only_the_foremans_own_crew(failed: Sitting, ready: Company, foreman: Member, sign_in: SignIn) -> None:
    """The foreman sees the crew's sittings, not those of others, and no answers."""
    other = factories.member(ready, name="Somebody Else")
    start(other)
    client = sign_in(foreman)
    text = text_of(client.get(url("sittings")))

    assert failed.account.name in text
    assert "Somebody Else" not in text
    assert client.get(url("sitting", ref=failed.ref)).status_code == 404


def test_it_finds_sittings_by_name_and_module(
    failed: Sitting, ready: Company, trainer: Member, sign_in: SignIn
) -> None:
    """One search field and the module."""
    start(factories.member(ready, name="Somebody Else"))
    client = sign_in(trainer)

    assert "Somebody Else" not in text_of(client.get(url("sittings"), {"q": failed.account.name}))
    assert "No sitting is found." in text_of(client.get(url("sittings"), {"module": "nowhere"}))


def test_it_lists_sittings_in_as_many_queries_for_many(
    ready: Company, trainer: Member, sign_in: SignIn, django_assert_max_num_queries: Any
) -> None:
    """The list does not ask once for each row."""
    for _person in range(5):
        start(factories.member(ready))
    client = sign_in(trainer)

    with django_assert_max_num_queries(14):
        client.get(url("sittings"))
