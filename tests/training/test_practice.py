"""Practice: the next question, new numbers, the verdict at once, and nothing given away before."""

import json
from collections.abc import Callable
from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse

from trainer.base import clock
from trainer.library import queries as library
from trainer.people.access import Member
from trainer.people.models import Company
from trainer.questions.sample_responses import right_response, wrong_response
from trainer.training import queries, services
from trainer.training.models import PracticeCase

MODULE = "base-sheet-layout"


def answer(row: PracticeCase, *, right: bool) -> None:
    """Answer a drawn case right, or with a mistake that the question knows."""
    import random

    case = queries.case_of(row)
    response = right_response(case) if right else wrong_response(case, random.Random(1))
    verdict = services.answer_case(row=row, response=response, language="en")
    assert verdict.right is right, (row.question, response, verdict)


def test_it_judges_every_practice_question_both_ways(lessons: Company, trainee: Member) -> None:
    """Each question of the module can be answered right and wrong, and the verdict says which."""
    version = library.current_module(MODULE)
    assert version is not None
    questions = queries.practice_questions(version)

    for question in questions:
        for right in (True, False):
            answer(services.draw_case(member=trainee, module=MODULE, question_id=question.id), right=right)
    assert PracticeCase.objects.filter(right=True).count() == len(questions)
    assert PracticeCase.objects.filter(right=False).count() == len(questions)


def test_it_gives_an_open_case_again(lessons: Company, trainee: Member) -> None:
    """Going back to practice does not skip the case that is open."""
    first = services.draw_case(member=trainee, module=MODULE)

    assert services.draw_case(member=trainee, module=MODULE) == first


def test_it_gives_new_numbers_for_the_same_question(lessons: Company, trainee: Member) -> None:
    """Asked for new numbers, the same question comes with another seed."""
    first = services.draw_case(member=trainee, module=MODULE)
    answer(first, right=True)
    second = services.draw_case(member=trainee, module=MODULE, question_id=first.question)

    assert second.question == first.question
    assert second.seed != first.seed


def test_it_goes_on_until_the_mistakes_stop(lessons: Company, trainee: Member) -> None:
    """Answered right each time, every question is steady after two rounds; a wrong one comes back soon."""
    version = library.current_module(MODULE)
    assert version is not None
    count = len(queries.practice_questions(version))
    start = clock.now()
    seen = []
    for number in range(2 * count + 1):
        with clock.fixed(start + timedelta(minutes=number)):
            row = services.draw_case(member=trainee, module=MODULE)
            seen.append(row.question)
            answer(row, right=number != 0)

    standing = queries.module_standing(trainee, MODULE)
    assert standing["all"] == count
    assert standing["steady"] >= count - 1
    assert seen[2] == seen[0], "what went wrong comes back as soon as another question has passed"


def test_it_is_answered_once(lessons: Company, trainee: Member, sign_in: Callable[[Member], Client]) -> None:
    """A second answer to the same case changes nothing."""
    row = services.draw_case(member=trainee, module=MODULE)
    answer(row, right=False)
    services.answer_case(row=row, response=right_response(queries.case_of(row)), language="en")
    row.refresh_from_db()

    assert row.right is False


def test_it_keeps_an_unreadable_answer_open_and_says_how_to_write_it(
    lessons: Company, trainee: Member, sign_in: Callable[[Member], Client]
) -> None:
    """What cannot be read as a measurement is not wrong: the page shows it again with a sentence."""
    version = library.current_module(MODULE)
    assert version is not None
    measure = next(one for one in queries.practice_questions(version) if one.kind == "measure")
    row = services.draw_case(member=trainee, module=MODULE, question_id=measure.id)

    page = sign_in(trainee).post(reverse("practice-case", kwargs={"ref": row.ref}), {"text": "twelve and a bit"})

    row.refresh_from_db()
    assert row.answered_at is None
    assert "twelve and a bit" in page.content.decode()


def test_it_sends_nothing_that_gives_the_answer_away(
    lessons: Company, trainee: Member, sign_in: Callable[[Member], Client]
) -> None:
    """The page of an open case holds no seed, no mistake, no step and no verdict."""
    client = sign_in(trainee)
    version = library.current_module(MODULE)
    assert version is not None
    for question in queries.practice_questions(version):
        row = services.draw_case(member=trainee, module=MODULE, question_id=question.id)
        page = client.get(reverse("practice-case", kwargs={"ref": row.ref})).content.decode()

        case = queries.case_of(row)
        assert row.seed not in page
        for mistake in case.mistakes:
            assert mistake.text["en"] not in page
            assert f'"{mistake.id}"' not in page
        assert case.danger["en"] not in page


def test_it_shows_verdict_mistakes_and_steps_after_the_answer(
    lessons: Company, trainee: Member, sign_in: Callable[[Member], Client]
) -> None:
    """After a wrong answer the page names the mistake, the right answer and the worked steps, in Spanish too."""
    client = sign_in(trainee)
    version = library.current_module(MODULE)
    assert version is not None
    question = next(
        one for one in queries.practice_questions(version) if one.kind in ("measure", "count") and one.mistakes
    )
    row = services.draw_case(member=trainee, module=MODULE, question_id=question.id)
    answer(row, right=False)
    row.refresh_from_db()
    case = queries.case_of(row)
    for language, letters in (("en-us", "en"), ("es-us", "es")):
        trainee.account.language = language
        trainee.account.save()
        page = client.get(reverse("practice-case", kwargs={"ref": row.ref})).content.decode()

        assert case.answer.text[letters].replace('"', "&quot;").replace("'", "&#x27;") in page
        assert all(step["label"] in page for step in case.steps[letters])
    assert json.loads(row.response)


def test_it_shows_where_the_rule_comes_from(
    lessons: Company, trainee: Member, sign_in: Callable[[Member], Client]
) -> None:
    """With the worked answer stand document, clause, edition and jurisdiction, in Spanish too; not before."""
    client = sign_in(trainee)
    row = services.draw_case(member=trainee, module=MODULE, question_id=f"{MODULE}/course-count")
    address = reverse("practice-case", kwargs={"ref": row.ref})
    document = "UFGS 07 52 00 Modified Bituminous Membrane Roofing"

    assert document not in client.get(address).content.decode()
    answer(row, right=True)
    for language, words in (
        ("en-us", ("Source: Courses", "Clause", "Edition", "Jurisdiction", "US federal work", "Edition of this rule")),
        ("es-us", ("Fuente: Hileras", "Cláusula", "Edición", "Jurisdicción", "obra federal", "Edición de esta regla")),
    ):
        trainee.account.language = language
        trainee.account.save()
        page = client.get(address).content.decode()

        for said in (document, "3.3.6", "07550 / 07 52 00", *words):
            assert said in page, said


def test_it_keeps_practice_to_oneself(
    lessons: Company, trainee: Member, foreman: Member, sign_in: Callable[[Member], Client]
) -> None:
    """Nobody else, not even the foreman, opens somebody's practice case."""
    row = services.draw_case(member=trainee, module=MODULE)

    assert sign_in(foreman).get(reverse("practice-case", kwargs={"ref": row.ref})).status_code == 404


@pytest.mark.parametrize(("months", "left"), [(1, 1), (12, 2)])
def test_it_prunes_practice_that_is_older_than_the_company_keeps(
    lessons: Company, trainee: Member, months: int, left: int
) -> None:
    """Practice is no evidence: what is older than the company's months goes, the rest stays."""
    now = clock.now()
    for age in (0, 90):
        with clock.fixed(now - timedelta(days=age)):
            if age:
                PracticeCase.objects.create(
                    company=lessons,
                    account=trainee.account,
                    module=MODULE,
                    question=f"{MODULE}/any",
                    module_version=library.current_module(MODULE),
                    revision=library.revisions()[0],
                    language="en",
                    seed="1",
                    drawn_at=clock.now(),
                )
            else:
                services.draw_case(member=trainee, module=MODULE)
    lessons.practice_months = months
    lessons.save()
    services.prune_practice(company=lessons)

    assert PracticeCase.objects.count() == left
