"""What the library's tests share: a small lessons folder, loaded, and a company that adopted a revision."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from tests.library.folder import NEW, SLUG, SPECIFICATION, write_folder
from trainer.library import queries, services
from trainer.library.models import Adoption, ModuleVersion, SpecificationRevision
from trainer.people.models import Company


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Give a lessons folder that is whole."""
    return write_folder(tmp_path / "lessons")


@pytest.fixture
def version(folder: Path, db: None) -> ModuleVersion:
    """Give the module's version, loaded from the folder."""
    services.load_lessons(folder=folder)
    found = queries.current_module(SLUG)
    assert found is not None
    return found


@pytest.fixture
def revision(version: ModuleVersion) -> SpecificationRevision:
    """Give the newer revision of the specification."""
    found = queries.revision(SPECIFICATION, NEW)
    assert found is not None
    return found


@pytest.fixture
def adoption(company: Company, revision: SpecificationRevision) -> Adoption:
    """Let the company install to the newer revision since long ago."""
    return services.adopt_specification(company=company, revision=revision, on=date(2024, 1, 1))


@pytest.fixture
def adopted_after_load(company: Company) -> Callable[[], None]:
    """Give a function that lets the company install to the newer revision once content is loaded."""

    def adopt() -> None:
        found = queries.revision(SPECIFICATION, NEW)
        assert found is not None
        services.adopt_specification(company=company, revision=found, on=date(2024, 1, 1))

    return adopt
