"""What all tests share: two companies, somebody of every role, and a flush that may empty append-only tables."""

import os

os.environ.setdefault("TRAINER_MODE", "test")

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from django.core.cache import caches
from django.core.management.commands.flush import Command as Flush
from django.test import Client

from tests import content, factories
from trainer.base.append_only import lifted
from trainer.people.access import Member
from trainer.people.models import Company, Crew, Role


@pytest.fixture(autouse=True, scope="session")
def _flush_may_empty_append_only_tables() -> Iterator[None]:
    """Lift the append-only triggers around the flush that ends a test with real transactions, and nowhere else."""
    flush = Flush.handle

    def handle(self: Flush, **options: object) -> None:
        with lifted("the test database is emptied between tests", using=str(options["database"])):
            flush(self, **options)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Flush, "handle", handle)
        yield


@pytest.fixture(autouse=True)
def _empty_caches() -> Iterator[None]:
    """Let no test see what another one cached or counted."""
    yield
    for cache in caches.all(initialized_only=True):
        cache.clear()


@pytest.fixture(scope="session")
def few_lessons(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a lessons folder with two of the project's modules and two revisions; not to be written to."""
    return content.copy_lessons(tmp_path_factory.mktemp("content") / "lessons")


@pytest.fixture
def company(db: None) -> Company:
    """Give the company that the test is about."""
    return factories.CompanyFactory.create(name="Own Roofing", slug="own")


@pytest.fixture
def other_company(db: None) -> Company:
    """Give a company that must not see or touch anything of the first."""
    return factories.CompanyFactory.create(name="Other Roofing", slug="other")


@pytest.fixture
def crew(company: Company) -> Crew:
    """Give a crew of the company; its foreman is the fixture `foreman`, its hand the fixture `trainee`."""
    return factories.crew(company)


@pytest.fixture
def trainee(company: Company, crew: Crew) -> Member:
    """Give a trainee on the crew."""
    return factories.member(company, Role.TRAINEE, crew=crew)


@pytest.fixture
def foreman(company: Company, crew: Crew) -> Member:
    """Give the foreman who leads the crew."""
    return factories.member(company, Role.FOREMAN, crew=crew)


@pytest.fixture
def trainer(company: Company) -> Member:
    """Give a trainer of the company."""
    return factories.member(company, Role.TRAINER)


@pytest.fixture
def evaluator(company: Company) -> Member:
    """Give an evaluator of the company."""
    return factories.member(company, Role.EVALUATOR)


@pytest.fixture
def office(company: Company) -> Member:
    """Give somebody of the company's office."""
    return factories.member(company, Role.OFFICE)


@pytest.fixture
def administrator(company: Company) -> Member:
    """Give the company's administrator."""
    return factories.member(company, Role.ADMINISTRATOR)


@pytest.fixture
def outsider(other_company: Company) -> Member:
    """Give somebody who holds every role, but in the other company."""
    return factories.member(other_company, *Role.values)


@pytest.fixture
def sign_in() -> Callable[[Member], Client]:
    """Give a function that makes a client signed in as a member."""
    return factories.client_for
