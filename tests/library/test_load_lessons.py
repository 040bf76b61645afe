"""Loading content: immutable versions of what changed, all or nothing."""

import json
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from tests.library.folder import LESSON, NEW, OLD, QUESTIONS, SLUG, SPECIFICATION
from trainer.base.models import JournalEntry
from trainer.library import queries, services
from trainer.library.models import ContentVersion, ModuleVersion, SpecificationRevision
from trainer.library.signals import module_loaded
from trainer.rules.specification import ContentError

pytestmark = pytest.mark.django_db


def lesson_file(folder: Path) -> Path:
    """Give the English lesson's file."""
    return folder / SLUG / "lesson.en.md"


def test_it_makes_a_version_of_each_file_revision_and_module(folder: Path) -> None:
    """A first load keeps every file as it is, and says what it made."""
    loaded = services.load_lessons(folder=folder)

    assert ContentVersion.objects.count() == loaded.files == 1 + 2 + 1 + 2 + len(QUESTIONS)
    assert sorted(loaded.revisions) == [f"{SPECIFICATION}/{OLD}", f"{SPECIFICATION}/{NEW}"]
    assert [version.slug for version in loaded.modules] == [SLUG]
    assert queries.lesson_text(loaded.modules[0], "es") == LESSON["es"]
    assert JournalEntry.objects.get(verb="lessons-loaded").subject == "lessons"


def test_it_makes_nothing_when_nothing_changed(folder: Path) -> None:
    """Loading again the same files adds no row and no journal line."""
    services.load_lessons(folder=folder)
    before = (ContentVersion.objects.count(), ModuleVersion.objects.count(), JournalEntry.objects.count())

    loaded = services.load_lessons(folder=folder)

    assert (ContentVersion.objects.count(), ModuleVersion.objects.count(), JournalEntry.objects.count()) == before
    assert loaded.unchanged_modules == [SLUG]


def test_it_keeps_the_version_before_readable(folder: Path) -> None:
    """A changed lesson makes a new module version; the earlier one still gives its own text."""
    first = services.load_lessons(folder=folder).modules[0]
    lesson_file(folder).write_text(LESSON["en"] + "\nMore.\n")

    second = services.load_lessons(folder=folder).modules[0]

    assert queries.current_module(SLUG) == second
    assert queries.lesson_text(first, "en") == LESSON["en"]
    assert queries.lesson_text(second, "en").endswith("More.\n")
    assert ContentVersion.objects.filter(path=f"{SLUG}/lesson.en.md").count() == 2


def test_it_goes_back_to_an_earlier_text(folder: Path) -> None:
    """Files put back to an earlier state are in use again, without storing their texts twice."""
    first = services.load_lessons(folder=folder).modules[0]
    lesson_file(folder).write_text(LESSON["en"] + "\nMore.\n")
    services.load_lessons(folder=folder)
    lesson_file(folder).write_text(LESSON["en"])

    third = services.load_lessons(folder=folder).modules[0]

    assert third.digest == first.digest
    assert queries.current_module(SLUG) == third
    assert ContentVersion.objects.filter(path=f"{SLUG}/lesson.en.md").count() == 2


def test_it_refuses_a_changed_revision_and_says_how_to_go_on(folder: Path) -> None:
    """A revision that was loaded never changes; nothing else of the load is kept either."""
    services.load_lessons(folder=folder)
    path = folder / "specifications" / SPECIFICATION / f"{OLD}.toml"
    path.write_text(path.read_text().replace('"1/4 in"', '"3/8 in"'))
    lesson_file(folder).write_text(LESSON["en"] + "\nMore.\n")
    before = ContentVersion.objects.count()

    with pytest.raises(ContentError) as refused:
        services.load_lessons(folder=folder)

    problem = refused.value.problems[0]
    assert (problem.file, problem.id) == (f"lessons/specifications/{SPECIFICATION}/{OLD}.toml", "content.E310")
    assert f"specifications/{SPECIFICATION}/NEW-REVISION.toml" in problem.message
    assert ContentVersion.objects.count() == before
    current = queries.current_module(SLUG)
    assert current is not None
    assert queries.lesson_text(current, "en") == LESSON["en"]


def test_it_loads_nothing_while_any_file_is_broken(folder: Path) -> None:
    """Every problem is told with file, line and id, and no row is made."""
    question = folder / SLUG / "questions" / "nails.toml"
    question.write_text(QUESTIONS["nails"].replace('kind = "count"', 'kind = "guess"'))
    lesson_file(folder).write_text(LESSON["en"].replace("base.side_lap", "base.no_such_lap"))

    with pytest.raises(ContentError) as refused:
        services.load_lessons(folder=folder)

    found = {(problem.file, problem.line) for problem in refused.value.problems}
    assert {(f"lessons/{SLUG}/questions/nails.toml", 2), (f"lessons/{SLUG}/lesson.en.md", 5)} <= found
    assert not ContentVersion.objects.exists()


@pytest.mark.parametrize(
    ("path", "content", "problem_id"),
    [
        pytest.param(f"{SLUG}/notes.md", b"notes", "content.E301", id="a file that nothing reads"),
        pytest.param("Small Laps/module.toml", b"", "content.E301", id="a folder name with capitals and spaces"),
        pytest.param("glossary.toml", b"\xff\xfe", "content.E302", id="not UTF-8"),
        pytest.param("other/module.toml", b"", "content.E240", id="a module without lessons"),
    ],
)
def test_it_refuses_files_that_it_cannot_place(folder: Path, path: str, content: bytes, problem_id: str) -> None:
    """A stray, misnamed or unreadable file is told, not skipped."""
    (folder / path).parent.mkdir(exist_ok=True)
    (folder / path).write_bytes(content)

    with pytest.raises(ContentError) as refused:
        services.load_lessons(folder=folder)

    assert problem_id in {problem.id for problem in refused.value.problems}


def test_it_refuses_an_empty_folder(tmp_path: Path) -> None:
    """A wrong folder is an error, not a load of nothing."""
    with pytest.raises(ContentError, match=r"content\.E303"):
        services.load_lessons(folder=tmp_path / "nowhere")


def test_it_keeps_a_module_whose_folder_is_gone(folder: Path, tmp_path: Path) -> None:
    """Nothing is lost: the module stays in use, and the load says that its folder is missing."""
    services.load_lessons(folder=folder)
    (folder / SLUG).rename(tmp_path / "elsewhere")

    loaded = services.load_lessons(folder=folder)

    assert loaded.missing_modules == [SLUG]
    assert queries.current_module(SLUG) is not None


def test_it_tells_of_each_new_module_version_inside_the_transaction(folder: Path) -> None:
    """Who listens can refuse the load: then nothing of it is kept."""

    def refuse(sender: Any, **_kwargs: Any) -> None:
        raise ValueError("not this one")

    module_loaded.connect(refuse)
    try:
        with pytest.raises(ValueError, match="not this one"):
            services.load_lessons(folder=folder)
    finally:
        module_loaded.disconnect(refuse)

    assert not ContentVersion.objects.exists()
    assert not SpecificationRevision.objects.exists()


def test_the_command_prints_what_it_loaded(folder: Path) -> None:
    """Each new file, revision and module version has its line."""
    out = StringIO()
    call_command("load_lessons", folder, stdout=out)

    assert f"Specification revision {SPECIFICATION}/{NEW} is new." in out.getvalue()
    assert f"Module {SLUG} is now version" in out.getvalue()
    assert f"  {SLUG}/questions/exposure.toml" in out.getvalue()


def test_the_command_fails_with_each_problem(folder: Path) -> None:
    """Problems go out with file, line, id and mending; the exit code is 1."""
    (folder / SLUG / "lesson.es.md").unlink()
    err = StringIO()

    with pytest.raises(CommandError) as failed:
        call_command("load_lessons", folder, stderr=err)

    assert failed.value.returncode == 1
    assert f"lessons/{SLUG}/lesson.es.md:1 (content.E240)" in err.getvalue()


def test_the_command_speaks_json(folder: Path) -> None:
    """With --json the same facts come as one document, problems included."""
    out = StringIO()
    call_command("load_lessons", folder, "--json", stdout=out)
    loaded = json.loads(out.getvalue())

    assert loaded["problems"] == []
    assert [module["slug"] for module in loaded["modules"]] == [SLUG]
