"""The pages of the person who sits, driven through their forms."""

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from html import unescape
from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from tests import factories
from tests.exams.conftest import MODULE, right_response, start, wrong_response
from tests.exams.filling import form_of, sent
from trainer.base import clock
from trainer.exams import cases, queries
from trainer.exams.models import Sheet, SheetAnswer, Sitting, SittingScore
from trainer.people import services
from trainer.people.access import Member
from trainer.people.models import Company

NOON = datetime(2026, 3, 4, 18, tzinfo=UTC)
SignIn = Callable[[Member], Client]


def text_of(response: Any) -> str:
    """Give the page's text with tags taken out and spaces folded."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))


def begin(client: Client, language: str = "en-us") -> Sitting:
    """Start the sample module's exam from its start page."""
    response = client.post(reverse("exam-start", kwargs={"module": MODULE}), {"language": language})
    sitting = Sitting.objects.get()
    assert response.headers["Location"] == sheet_url(sitting, 1)
    return sitting


def sheet_url(sitting: Sitting, number: int) -> str:
    """Give the address of a sheet."""
    return reverse("exam-sheet", kwargs={"ref": sitting.ref, "number": number})


def answer(client: Client, sitting: Sitting, number: int, response: dict[str, Any], go: str = "next") -> HttpResponse:
    """Open a sheet and send an answer from its form."""
    html = client.get(sheet_url(sitting, number)).content.decode()
    return client.post(sheet_url(sitting, number), sent(html, response, go))


@pytest.fixture
def client(ready: Company, trainee: Member, sign_in: SignIn) -> Client:
    """Give the trainee's phone, signed in."""
    return sign_in(trainee)


def test_it_tells_the_rules_before_the_start(client: Client) -> None:
    """Number, time, passing score with its reason, critical questions and the wait stand on the start page."""
    text = text_of(client.get(reverse("exam-start", kwargs={"module": MODULE})))

    for said in ("6 questions, one on each sheet", "20 minutes", "5 of 6 right", "one slip is forgiven",
                 "1 question is critical", "24 hours"):  # fmt: skip
        assert said in text


def test_it_carries_a_sitting_from_start_to_pass(client: Client) -> None:
    """Every kind of question answered by its own fields, the table, the end, the result."""
    sitting = begin(client)
    for number in range(1, 7):
        page = client.get(sheet_url(sitting, number))
        assert f"Question {number} of 6" in text_of(page)
        saved = answer(client, sitting, number, right_response(sitting, number))
        onward = sheet_url(sitting, number + 1) if number < 6 else reverse("exam-table", kwargs={"ref": sitting.ref})
        assert saved.headers["Location"] == onward
    table = reverse("exam-table", kwargs={"ref": sitting.ref})
    assert "Every question is answered." in text_of(client.get(table))
    ended = client.post(table, follow=True)

    assert "6 of 6 right." in text_of(ended)
    assert SittingScore.objects.get().passed is True


def test_it_takes_the_pad_without_script(ready: Company) -> None:
    """Feet, inches and sixteenths entered on the pad are saved and shown again."""
    while not Sheet.objects.filter(question="sample/chalk-line").exists():  # two of three layout questions are drawn
        start(factories.member(ready))
    sheet = Sheet.objects.get(question="sample/chalk-line")
    sitting = sheet.sitting
    client = factories.client_for(sitting.account)
    answer(client, sitting, sheet.number, {"feet": "8", "inches": "3", "sixteenths": "9"})
    form = form_of(client.get(sheet_url(sitting, sheet.number)).content.decode())

    assert (form.fields["feet"], form.fields["inches"], form.fields["sixteenths"]) == (["8"], ["3"], ["9"])


def test_it_shows_a_saved_answer_again(client: Client) -> None:
    """A closed browser loses nothing: each sheet comes back as saved, and the start leads to the first blank."""
    sitting = begin(client)
    for number in (1, 2):
        answer(client, sitting, number, right_response(sitting, number))
    back = client.post(reverse("exam-start", kwargs={"module": MODULE}), {"language": "en-us"})

    assert back.headers["Location"] == sheet_url(sitting, 3)
    for number, response in ((1, right_response(sitting, 1)), (2, right_response(sitting, 2))):
        form = form_of(client.get(sheet_url(sitting, number)).content.decode())
        for name, value in response.items():
            if name == "order":
                assert [form.fields[f"place-{step}"] for step in value] == [[str(n)] for n in range(1, len(value) + 1)]
            else:
                assert form.fields[name] == (value if isinstance(value, list) else [value])


def test_it_saves_on_back_too(client: Client) -> None:
    """Every button of a sheet saves before it leads anywhere."""
    sitting = begin(client)
    saved = answer(client, sitting, 2, right_response(sitting, 2), go="back")

    assert saved.headers["Location"] == sheet_url(sitting, 1)
    assert SheetAnswer.objects.count() == 1


def test_it_saves_without_leaving_the_sheet(client: Client) -> None:
    """A send from script answers with the time only."""
    sitting = begin(client)
    html = client.get(sheet_url(sitting, 1)).content.decode()
    saved = client.post(sheet_url(sitting, 1), sent(html, right_response(sitting, 1)), headers={"HX-Request": "true"})

    assert re.fullmatch(r"\s*Saved at \d{1,2}:\d\d [ap]\.m\.\s*", text_of(saved))
    assert SheetAnswer.objects.count() == 1


def test_it_says_how_to_type_what_it_cannot_read(client: Client) -> None:
    """The sheet comes back with the entry kept and a sentence beside the field; the table says so too."""
    sitting = begin(client)
    number = sitting.sheets.get(question="sample/nails").number
    saved = answer(client, sitting, number, {"text": "a box"})
    page = client.get(saved.headers["Location"])

    assert saved.headers["Location"] == sheet_url(sitting, number)
    assert form_of(page.content.decode()).fields["text"] == ["a box"]
    assert 'id="answer-problem"' in page.content.decode()
    assert "cannot be read" in text_of(client.get(reverse("exam-table", kwargs={"ref": sitting.ref})))


def test_it_lists_answered_and_blank(client: Client) -> None:
    """The table at the end tells them apart and nothing more."""
    sitting = begin(client)
    answer(client, sitting, 1, wrong_response(sitting, 1))
    text = text_of(client.get(reverse("exam-table", kwargs={"ref": sitting.ref})))

    assert "5 questions are blank." in text
    assert "Question 1" in text
    assert not re.search(r"\b(right|wrong)\b", text)


def test_it_ends_on_a_touch_after_time_is_up(client: Client) -> None:
    """Opening a sheet late shows the result; a late answer is refused in words and changes nothing."""
    with clock.fixed(NOON):
        sitting = begin(client)
        answer(client, sitting, 1, right_response(sitting, 1))
        html = client.get(sheet_url(sitting, 2)).content.decode()
        clock.advance(timedelta(minutes=20))
        late = client.post(sheet_url(sitting, 2), sent(html, right_response(sitting, 2)), follow=True)

    assert "the answer does not count" in text_of(late)
    assert "Time ran out." in text_of(late)
    assert SittingScore.objects.get().right == 1


def test_it_ends_an_overdue_sitting_from_the_list(client: Client) -> None:
    """The list of exams is a touch as well, and says when another may start."""
    with clock.fixed(NOON):
        begin(client)
        clock.advance(timedelta(hours=1))
        text = text_of(client.get(reverse("exams")))

    assert "0 of 6 right" in text
    assert "You may sit it again from March 5, 2026, 12:20 p.m." in text


def test_it_opens_nobody_elses_sitting(ready: Company, trainee: Member, sign_in: SignIn, foreman: Member) -> None:
    """Another trainee, and the foreman of the crew, get 404 for sheets, table and result."""
    sitting = start(trainee)
    for stranger in (factories.member(ready), factories.member(ready, "trainee", "foreman"), foreman):
        client = sign_in(stranger)
        for name in ("exam-table", "exam-result"):
            assert client.get(reverse(name, kwargs={"ref": sitting.ref})).status_code == 404
        assert client.get(sheet_url(sitting, 1)).status_code == 404
        assert client.post(sheet_url(sitting, 1), {"text": "1"}).status_code == 404
    assert not SheetAnswer.objects.exists()


def test_it_tells_topics_and_lesson_parts_but_no_answers(client: Client) -> None:
    """The result says how each topic went and what to read again; neither question texts nor answers."""
    sitting = begin(client)
    nails = sitting.sheets.get(question="sample/nails").number
    for number in range(1, 7):
        right = number != nails
        answer(client, sitting, number, right_response(sitting, number) if right else wrong_response(sitting, number))
    page = client.post(reverse("exam-table", kwargs={"ref": sitting.ref}), follow=True)
    text, html = text_of(page), page.content.decode()

    assert "Fastening 0 of 1" in text
    assert f'href="{reverse("lesson", kwargs={"slug": MODULE})}#h-nails"' in html
    assert "Laps 3 of 3" in text
    shown = [one.sheet.evidence for one in queries.answered_sheets(sitting)]
    for evidence in shown:
        assert '"stem":{"en":"' in evidence.text
        assert evidence.text.split('"stem":{"en":"')[1][:30] not in html


def test_it_names_a_missed_critical_question(client: Client) -> None:
    """Who misses one is told which by its title, and that it decides."""
    sitting = begin(client)
    critical = sitting.sheets.get(critical=True).number
    for number in range(1, 7):
        right = number != critical
        answer(client, sitting, number, right_response(sitting, number) if right else wrong_response(sitting, number))
    text = text_of(client.post(reverse("exam-table", kwargs={"ref": sitting.ref}), follow=True))

    assert "Not passed" in text
    assert "A critical question was missed, so the exam is not passed: A short end lap" in text


def test_it_speaks_one_language_to_whoever_signs_in_from_elsewhere(
    ready: Company, office: Member, other_company: Company, sign_in: SignIn
) -> None:
    """A trainee whose sign-in is of another company reads page and question in the language picked at the start."""
    elsewhere = factories.member(other_company)
    here = services.add_person(
        company=ready, name="X", email=elsewhere.account.email, roles=["trainee"], by=office.account
    )
    services.answer_place(company_account=here.company_account, yes=True)
    client = sign_in(elsewhere)
    client.post(reverse("company-choice"), {"company": str(ready.ref)})
    sitting = begin(client, "es-us")
    page = client.get(sheet_url(sitting, 1))

    assert sitting.account == here
    assert "Pregunta 1 de 6" in text_of(page)
    assert cases.stored_case(sitting.sheets.get(number=1).evidence).stem["es"] in unescape(page.content.decode())


def test_it_is_sat_in_the_language_picked_at_the_start(client: Client) -> None:
    """Spanish picked on the start page: the sheets and the pages around them are Spanish."""
    sitting = begin(client, "es-us")
    page = client.get(sheet_url(sitting, 1))

    assert "Pregunta 1 de 6" in text_of(page)
    assert sitting.language == "es-us"


def test_it_shows_english_trade_words_to_spanish_readers(client: Client) -> None:
    """The words that labels on site use stand beside the Spanish ones; English readers see no such list."""
    sitting = begin(client, "es-us")
    sheet = sitting.sheets.get(question="sample/short-lap").number
    html = client.get(sheet_url(sitting, sheet)).content.decode()

    assert '<dt>traslape de punta</dt><dd lang="en">end lap</dd>' in html


def test_it_refuses_a_form_that_did_not_arrive_whole(client: Client) -> None:
    """Without its UUID a send is not saved, and the page says so."""
    sitting = begin(client)
    page = client.post(sheet_url(sitting, 1), {"text": "1"}, follow=True)

    assert "did not arrive whole" in text_of(page)
    assert not SheetAnswer.objects.exists()
