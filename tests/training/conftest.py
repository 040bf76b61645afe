"""What tests of training share: two of the real lessons, loaded once a test, and a company that adopted a revision."""

from pathlib import Path

import pytest

from trainer.library import queries as library
from trainer.library.services import adopt_specification, load_lessons
from trainer.people.models import Company

MODULE = "base-sheet-layout"


@pytest.fixture
def lessons(company: Company, few_lessons: Path) -> Company:
    """Load two of the project's own lessons and let the company install to the newest revision."""
    load_lessons(folder=few_lessons)
    revision = library.revisions()[0]
    adopt_specification(company=company, revision=revision, on=company.today())
    return company
