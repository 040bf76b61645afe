"""A small module, loaded and adopted, for the tests of exams."""

import shutil
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings

from tests.content import copy_revisions
from trainer.base import clock, ids
from trainer.exams import cases, queries, services
from trainer.exams.models import Sitting
from trainer.library import queries as library
from trainer.library.services import adopt_specification, load_lessons
from trainer.people.access import Member
from trainer.people.models import Company

HERE = Path(__file__).parent
MODULE = "sample"


@pytest.fixture
def lessons(tmp_path: Path) -> Path:
    """Give a folder with the sample module, the project's specifications and its glossary; a test may change it."""
    folder = tmp_path / "lessons"
    shutil.copytree(HERE / "lessons", folder)
    copy_revisions(folder)
    shutil.copy(Path(settings.BASE_DIR) / "lessons" / "glossary.toml", folder / "glossary.toml")
    return folder


def ask_to_point(lessons: Path) -> Path:
    """Put a drawing to point at in the place of the count of nails, so that each sitting has one."""
    questions = lessons / MODULE / "questions"
    (questions / "nails.toml").unlink()
    shutil.copy(HERE / "spot-rows.toml", questions / "spot-rows.toml")
    return lessons


@pytest.fixture
def loaded(db: None, lessons: Path) -> None:
    """Load the sample module, long before any sitting."""
    with clock.fixed(datetime(2021, 1, 2, tzinfo=UTC)):
        load_lessons(folder=lessons)


@pytest.fixture
def ready(company: Company, loaded: None) -> Company:
    """Give the company once it has adopted the specification of the sample module."""
    adopt(company)
    return company


def adopt(company: Company, label: str = "2024") -> None:
    """Let the company install to a revision since long ago."""
    revision = library.revision("two-ply-self-adhered", label)
    assert revision is not None
    adopt_specification(company=company, revision=revision, on=date(2021, 1, 1))


def start(member: Member, module: str = MODULE) -> Sitting:
    """Start a sitting of the member."""
    return services.start_sitting(
        company=member.company, account=member.account, module=module, language=member.account.language
    )


def right_response(sitting: Sitting, number: int) -> dict[str, Any]:
    """Give the response that is right, read from the stored case, as a form would send it."""
    sheet = sitting.sheets.get(number=number)
    case = cases.stored_case(sheet.evidence)
    value = case.answer.value
    entered: dict[str, Callable[[], dict[str, Any]]] = {
        "measure": lambda: {"text": case.answer.text["en"]},
        "count": lambda: {"text": str(value)},
        "choice": lambda: {"rows": list(value)},
        "order": lambda: {"order": list(value)},
        "judge": lambda: {"decision": value[0], **({"reading": value[1]} if len(value) > 1 else {})},
        "spot": lambda: {"part": value[0]},
    }
    return entered[case.kind]()


def wrong_response(sitting: Sitting, number: int) -> dict[str, Any]:
    """Give a response that can be read and is wrong."""
    sheet = sitting.sheets.get(number=number)
    case = cases.stored_case(sheet.evidence)
    if case.kind in ("measure", "count"):
        return {"text": "1"}
    if case.kind == "choice":
        return {"rows": [next(row.letter for row in case.rows if not row.right)]}
    if case.kind == "order":
        return {"order": list(reversed(case.answer.value))}
    if case.kind == "spot":
        return {"part": next(row.letter for row in case.rows if not row.right)}
    return {"decision": "accept"} if case.answer.value[0] == "reject" else {"decision": "reject", "reading": "1"}


@pytest.fixture
def save() -> Callable[..., Any]:
    """Give a function that saves an answer with a fresh send."""

    def save(sitting: Sitting, number: int, response: dict[str, Any], **changed: Any) -> Any:
        given = {"send": ids.new_ref(), "language": sitting.language, **changed}
        return services.save_answer(sitting=sitting, number=number, response=response, **given)

    return save


def answer_all(sitting: Sitting, save: Callable[..., Any], *, wrong: tuple[int, ...] = ()) -> None:
    """Answer every sheet, right but for the numbers in `wrong`."""
    for one in queries.answered_sheets(sitting):
        number = one.sheet.number
        save(sitting, number, wrong_response(sitting, number) if number in wrong else right_response(sitting, number))
