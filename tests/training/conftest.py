"""What tests of training share: the real lessons, loaded once a test, and a company that adopted the specification."""

import pytest
from django.conf import settings

from trainer.library import queries as library
from trainer.library.services import adopt_specification, load_lessons
from trainer.people.models import Company

MODULE = "base-sheet-layout"


@pytest.fixture
def lessons(company: Company) -> Company:
    """Load the project's own lessons and let the company install to the newest revision."""
    load_lessons(folder=settings.LESSONS_DIR)
    revision = library.revisions()[0]
    adopt_specification(company=company, revision=revision, on=company.today())
    return company
