"""Between stored evidence and the pure questions: make the case of a sheet, show it, judge an answer to it."""

import json
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from trainer.base.models import Evidence
from trainer.exams.selection import Candidate, seed_of
from trainer.library import queries as library
from trainer.library.models import ModuleVersion
from trainer.library.photographs.queries import photos_for
from trainer.library.rendering import kept_figures
from trainer.people.models import Company
from trainer.questions.cases import Case, make_case
from trainer.questions.evidence import case_document, case_from_document, public_case
from trainer.questions.model import Language
from trainer.questions.verdict import Verdict, judge
from trainer.rules.specification import Specification

Response = Mapping[str, str | list[str]]


def spoken(language: str) -> Language:
    """Give `en` or `es` for a language in either form, such as `es-us`."""
    return "es" if language.startswith("es") else "en"


def candidates(version: ModuleVersion) -> list[Candidate]:
    """List the module's questions that may stand in an exam: those in use, for exam or both."""
    return [
        Candidate(question.id, question.topic, question.critical)
        for question in library.questions_of(version)
        if question.use in ("exam", "both")
    ]


def made_document(
    question: str, version: ModuleVersion, specification: Specification, secret: str, company: Company
) -> dict[str, Any]:
    """Make the case of one sheet from the sitting's secret, whole, as it will be stored; with the company's picture."""
    seed = seed_of(secret, f"case {question}")
    found = library.question(question, version)
    document = case_document(make_case(found, specification, seed))
    photos = photos_for(company, found)
    return document | {"photos": photos} if photos else document


@lru_cache(maxsize=2000)
def _case(text: str) -> Case:
    return case_from_document(json.loads(text))


@lru_cache(maxsize=2000)
def _photos(text: str) -> list[dict[str, Any]]:
    return list(json.loads(text).get("photos", []))


def stored_case(evidence: Evidence) -> Case:
    """Read a case back from its evidence; the stored bytes are checked against their digest each time."""
    return _case(evidence.text)


def shown(evidence: Evidence, language: str) -> dict[str, Any]:
    """Give what the person who sits may see of a case, in `en` or `es`: no answer, mistake, right row or seed."""
    text = evidence.text
    public = public_case(_case(text), spoken(language))
    return public | {"photos": kept_figures(_photos(text), spoken(language))}


def verdict_on(evidence: Evidence, response: Response, language: str) -> Verdict:
    """Judge a response to a stored case."""
    return judge(stored_case(evidence), response, spoken(language))


def title_of(evidence: Evidence, language: str) -> str:
    """Give the short name of a stored case's question, in `en` or `es`; its id where the file gives none."""
    case = stored_case(evidence)
    return case.title[spoken(language)] or case.question
