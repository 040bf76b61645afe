"""Many requests at once, each with a connection of its own: one sitting, one row a send, one score."""

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier
from typing import Any, TypeVar

import pytest
from django.db import connection, connections

from tests import factories
from tests.exams.conftest import adopt, right_response, start
from trainer.base import ids
from trainer.base.errors import Refused
from trainer.exams import queries, services
from trainer.exams.models import Sheet, SheetAnswer, Sitting, SittingEnd, SittingScore
from trainer.exams.signals import sitting_scored
from trainer.library.services import load_lessons
from trainer.people.access import Member

AT_ONCE = 6
T = TypeVar("T")


@pytest.fixture
def real_database(tmp_path: Path, transactional_db: None) -> Iterator[None]:
    """Give a database that connections share as in use: a copy in a file where the tests' own is in memory."""
    if connection.vendor != "sqlite":
        yield
        return
    path, in_memory = tmp_path / "copy.sqlite3", connections["default"]
    with in_memory.cursor() as cursor:
        cursor.execute("VACUUM INTO %s", [str(path)])
    settings = connections.settings["default"]
    kept = settings["NAME"]
    settings["NAME"] = str(path)
    del connections["default"]
    try:
        yield
    finally:
        connections["default"].close()
        settings["NAME"] = kept
        connections["default"] = in_memory


@pytest.fixture
def sitter(lessons: Any, real_database: None) -> Member:
    """Give a trainee whose company is ready, with everything committed."""
    load_lessons(folder=lessons)
    company = factories.CompanyFactory.create()
    adopt(company)
    return factories.member(company)


def at_once(work: Callable[[int], T]) -> list[T]:
    """Run the work in several threads that begin together; each closes its own connection."""
    gate = Barrier(AT_ONCE)

    def one(number: int) -> T:
        gate.wait()
        try:
            return work(number)
        finally:
            connection.close()

    with ThreadPoolExecutor(AT_ONCE) as pool:
        return list(pool.map(one, range(AT_ONCE)))


def test_it_opens_one_sitting(sitter: Member) -> None:
    """Started from six phones at once, there is one sitting with its six sheets, and all get it."""
    opened = at_once(lambda _number: start(sitter).pk)

    assert len(set(opened)) == 1
    assert Sitting.objects.count() == 1
    assert Sheet.objects.count() == 6


def test_it_keeps_one_row_a_send(sitter: Member) -> None:
    """The same form sent six times at once is one row."""
    sitting, send = start(sitter), ids.new_ref()
    saved = at_once(
        lambda _number: services.save_answer(
            sitting=sitting, number=1, send=send, response={"text": "1"}, language="en-us"
        )
    )

    assert len({answer.pk for answer in saved if answer is not None}) == 1
    assert SheetAnswer.objects.count() == 1


def test_it_scores_once(sitter: Member) -> None:
    """Ended six times at once: one end, one score, told once."""
    sitting, told = start(sitter), []

    def hear(score: SittingScore, **_rest: Any) -> None:
        told.append(score.pk)

    sitting_scored.connect(hear)
    try:
        scores = at_once(lambda _number: services.end_sitting(sitting=sitting).pk)
    finally:
        sitting_scored.disconnect(hear)

    assert len(set(scores)) == len(told) == 1
    assert SittingEnd.objects.count() == SittingScore.objects.count() == 1


def test_it_counts_every_answer_that_it_acknowledged(sitter: Member) -> None:
    """Answers race with the end: what was acknowledged is in the score, the rest was refused."""
    sitting = start(sitter)
    right = {number: right_response(sitting, number) for number in range(1, AT_ONCE + 1)}

    def work(number: int) -> int | None:
        if number == 0:
            services.end_sitting(sitting=sitting)
            return None
        try:
            services.save_answer(
                sitting=sitting, number=number, send=ids.new_ref(), response=right[number], language="en-us"
            )
        except Refused:
            return None
        return number

    acknowledged = {number for number in at_once(work) if number is not None}

    standing = {one.sheet.number for one in queries.answered_sheets(sitting) if not one.is_blank}
    assert standing == acknowledged
    assert SittingScore.objects.get().right == len(acknowledged)
