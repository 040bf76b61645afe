"""Practice with a drawing to point at: asked without ring, answered by a part, told with the faulty part ringed."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from django.test import Client
from django.urls import reverse

from tests.library.folder import NEW, SLUG, SPECIFICATION, write_folder
from trainer.library import queries as library
from trainer.library.services import adopt_specification, load_lessons
from trainer.people.access import Member
from trainer.people.models import Company
from trainer.questions.case import Case
from trainer.training import queries, services
from trainer.training.models import PracticeCase

QUESTION = f"{SLUG}/rows-of-nails"


@pytest.fixture
def row(company: Company, trainee: Member, tmp_path: Path) -> PracticeCase:
    """Give an open case of a drawing to point at, which the trainee practices."""
    folder = write_folder(tmp_path)
    file = folder / SLUG / "questions" / "rows-of-nails.toml"
    always = file.read_text().replace('sound = "1/4"', "")
    file.write_text(always.replace('use = "exam"', 'use = "practice"'))
    load_lessons(folder=folder)
    revision = library.revision(SPECIFICATION, NEW)
    assert revision is not None
    adopt_specification(company=company, revision=revision, on=date(2021, 1, 1))
    return services.draw_case(member=trainee, module=SLUG, question_id=QUESTION)


@pytest.fixture
def client(row: PracticeCase, trainee: Member, sign_in: Callable[[Member], Client]) -> Client:
    """Give the trainee's phone, signed in."""
    return sign_in(trainee)


def url(row: PracticeCase) -> str:
    """Give the address of the case."""
    return reverse("practice-case", kwargs={"ref": row.ref})


def parts_of(case: Case, *, right: bool) -> list[str]:
    """Give the letters that are right, or those that are not."""
    return [row.letter for row in case.rows if row.right is right]


def test_it_asks_without_giving_the_part_away(client: Client, row: PracticeCase) -> None:
    """The open case has a label over each part and no ring, no sentence of the verdict, nothing of the fault's id."""
    html = client.get(url(row)).content.decode()
    case = queries.case_of(row)
    secrets = [one.id for one in case.rows] + [one.why["en"] for one in case.rows if one.why]

    assert html.count("<foreignObject") == 4
    assert 'class="ring"' not in html
    assert len(secrets) > 4
    assert [secret for secret in secrets if secret in html] == []


@pytest.mark.parametrize("right", [True, False], ids=["right", "wrong"])
def test_it_rings_the_part_with_the_verdict(client: Client, row: PracticeCase, right: bool) -> None:
    """After the answer the drawing comes once, with the part at fault ringed and nothing left to point at."""
    case = queries.case_of(row)
    html = client.post(url(row), {"part": parts_of(case, right=right)[0]}, follow=True).content.decode()

    row.refresh_from_db()
    assert row.right is right
    assert ('<h2 id="verdict-heading">Right</h2>' in html) is right
    assert 'class="ring"' in html
    assert html.count('<figure class="drawing') == 1
    assert "<foreignObject" not in html
    assert 'name="part"' not in html


def test_it_asks_again_when_nothing_was_pointed_at(client: Client, row: PracticeCase) -> None:
    """A blank or a letter without a row leaves the case open and says what to do."""
    blank = client.post(url(row), {})
    stray = client.post(url(row), {"part": "Z"}).content.decode()

    row.refresh_from_db()
    assert row.answered_at is None
    assert 'id="answer-problem"' in blank.content.decode()
    assert "There is no part “Z”. Point at one of A, B, C, D." in stray
