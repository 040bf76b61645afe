"""Reads of the library: what a version held, in a bounded number of queries."""

import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.library.folder import LESSON, QUESTIONS, SLUG
from trainer.library import queries, services
from trainer.library.models import ModuleVersion

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _nothing_in_memory(version: ModuleVersion) -> None:
    queries._texts.clear()


def test_it_gives_the_questions_in_use(version: ModuleVersion) -> None:
    """Drafts are for authors; practice and exams draw from what is in use."""
    assert [question.id for question in queries.questions_of(version)] == [
        f"{SLUG}/{name}" for name in sorted(QUESTIONS) if name != "nails"
    ]
    assert len(queries.all_questions_of(version)) == len(QUESTIONS)


def test_it_gives_a_question_as_it_stood(version: ModuleVersion) -> None:
    """One question by its id, whatever its state."""
    assert queries.question(f"{SLUG}/nails", version).state == "draft"
    with pytest.raises(LookupError, match=f'module "{SLUG}" .* has no question "{SLUG}/gone"'):
        queries.question(f"{SLUG}/gone", version)


def test_it_gives_what_the_module_says(version: ModuleVersion) -> None:
    """The module's titles and check come from its file."""
    assert queries.module_of(version).check.passing_score == 2
    assert queries.modules_of(queries.module_versions())[SLUG].title["es"] == "Traslapes en un techo chico"


def test_it_knows_no_module_that_was_never_loaded(version: ModuleVersion) -> None:
    """A slug that nobody loaded is None, for a page to answer with 404."""
    assert queries.current_module("no-such-module") is None


def test_it_refuses_a_text_that_was_never_loaded(version: ModuleVersion) -> None:
    """A digest without a row is a fault with a mending, never an empty page."""
    with pytest.raises(LookupError, match=r"run manage\.py load_lessons"):
        queries.texts_of({f"{SLUG}/lesson.en.md": "0" * 64})


def test_it_reads_all_questions_in_one_query_and_then_in_none(
    version: ModuleVersion, django_assert_num_queries: Any
) -> None:
    """The number of queries does not grow with the questions, and nothing is read twice."""
    with django_assert_num_queries(1):
        queries.all_questions_of(version)
    with django_assert_num_queries(0):
        queries.all_questions_of(version)


def test_it_keeps_only_so_many_texts_in_memory(version: ModuleVersion, monkeypatch: pytest.MonkeyPatch) -> None:
    """Memory is bounded; what was dropped is read again."""
    monkeypatch.setattr(queries, "_KEPT", 2)
    queries.all_questions_of(version)

    assert len(queries._texts) == 2
    assert queries.lesson_text(version, "en") == LESSON["en"]


def test_it_takes_a_text_of_the_right_path_only(version: ModuleVersion) -> None:
    """Two files with the same text are two contents: each is found under its own path."""
    manifest = queries.manifest_of(version)
    english, spanish = f"{SLUG}/lesson.en.md", f"{SLUG}/lesson.es.md"
    with pytest.raises(LookupError):
        queries.texts_of({english: manifest[spanish]})


def test_it_lists_modules_in_the_order_that_somebody_new_reads_them(folder: Path, version: ModuleVersion) -> None:
    """A module's own order counts before its name; without one it comes first."""
    for slug, order in (("a-late-one", 20), ("z-early-one", 10)):
        shutil.copytree(folder / SLUG, folder / slug)
        path = folder / slug / "module.toml"
        path.write_text(path.read_text().replace("minutes = 5", f"order = {order}\nminutes = 5", 1))
    services.load_lessons(folder=folder)

    modules = queries.modules_of(queries.module_versions())

    assert list(modules) == [SLUG, "z-early-one", "a-late-one"]
