"""Checking a lessons folder: a sound one passes, and each planted fault is found."""

import shutil
from datetime import date
from pathlib import Path

import pytest

from tests.content import copy_revisions
from trainer.questions.check import Report, check_lessons
from trainer.rules import Source, get_rule
from trainer.rules.specification import ContentError, Problem

LESSONS = Path(__file__).resolve().parents[2] / "lessons"
MODULE = """title = { en = "Samples", es = "Muestras" }
specification = "two-ply-self-adhered"
minutes = 5
summary = { en = "One sentence about it.", es = "Una frase sobre esto." }
[check]
questions = 2
topics = { layout = 2 }
passing_score = 2
reason = { en = "Both, for there are two.", es = "Las dos, porque son dos." }
minutes = 10
wait_hours = 24
valid_months = 12
critical = ["samples/courses"]
"""
ENGLISH = """# Samples

The lap is {{ base.side_lap }} wide. See [the steps](#the-steps) and the [nailer](glossary:nailer).

!!! caution
    Local codes come first.

## The steps

::: drawing side_lap part=base show=exposure
:::

Lay 3 courses, then look at [our page](https://example.org/roof).
"""
SPANISH = """# Muestras

El traslape mide {{ base.side_lap }}. Vea [los pasos](#los-pasos) y la [madera](glossary:nailer).

!!! caution
    Los códigos locales van primero.

## Los pasos

::: drawing side_lap part=base show=exposure
:::

Ponga 3 hileras y vea [nuestra página](https://example.org/roof).
"""
GLOSSARY = '[nailer]\nen = "nailer"\nes = "madera de clavado"\n'


@pytest.fixture
def folder(tmp_path, texts) -> Path:
    """A small lessons folder without a fault."""
    copy_revisions(tmp_path / "lessons")
    questions = tmp_path / "lessons" / "samples" / "questions"
    questions.mkdir(parents=True)
    for name, text in texts.items():
        (questions / f"{name}.toml").write_text(text, encoding="utf-8")
    module = questions.parent
    for name, text in (("module.toml", MODULE), ("lesson.en.md", ENGLISH), ("lesson.es.md", SPANISH)):
        (module / name).write_text(text, encoding="utf-8")
    (tmp_path / "lessons" / "glossary.toml").write_text(GLOSSARY, encoding="utf-8")
    return tmp_path / "lessons"


def _only(folder: Path, name: str) -> Path:
    """Leave one question, so that a test is short."""
    for path in (folder / "samples" / "questions").glob("*.toml"):
        if path.stem not in (name, "courses", "line"):
            path.unlink()
    return folder / "samples" / "questions" / f"{name}.toml"


def _change(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def _codes(report: Report) -> set[str]:
    return {problem.id.removeprefix("content.") for problem in report.problems}


def test_it_passes_a_sound_folder(folder):
    """Every question was made 200 times under both revisions; nothing is found."""
    report = check_lessons(folder)

    assert report.problems == []
    assert report.as_json() == {
        "modules": 1,
        "questions": 7,
        "cases": 7 * 200 * 2,
        "languages": ["en", "es"],
        "specifications": ["two-ply-self-adhered/2024", "two-ply-self-adhered/2026"],
        "problems": [],
        "warnings": [],
    }


@pytest.mark.parametrize(
    ("read_on", "said"),
    [
        ("", "base.side_lap: the source in California does not say when it was read."),
        (', read_on = "2025-11-24"', "base.side_lap: the source in California was read on 2025-11-24,"),
        (', read_on = "2025-11-25"', None),
    ],
)  # fmt: skip
def test_it_warns_of_a_states_row_that_nobody_read_again(read_on, said, folder):
    """A value after a state's rules holds for 12 months; after that it is a warning where it stands, no failure."""
    path = folder / "specifications" / "two-ply-self-adhered" / "2026.toml"
    lines = path.read_text(encoding="utf-8").splitlines()
    at = lines.index("[base.side_lap]")
    source = next(number for number in range(at, len(lines)) if lines[number].startswith("source"))
    lines[source] = f'source = {{ document = "a state\'s code", clause = "3", jurisdiction = "California"{read_on} }}'
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")

    report = check_lessons(folder, cases=20, today=date(2026, 11, 25))

    assert [problem for problem in report.problems if problem.file.endswith("2026.toml")] == []
    assert [(warning.id, warning.line, warning.file) for warning in report.warnings] == (
        [("content.W101", at + 1, "lessons/specifications/two-ply-self-adhered/2026.toml")] if said else []
    )
    assert all(warning.message.startswith(said) for warning in report.warnings)
    assert check_lessons(folder, cases=20).warnings == []


def test_it_warns_of_a_rule_after_a_states_text(folder, monkeypatch):
    """A rule whose record names a state is read again every year, too."""
    rule = get_rule("net_area")
    monkeypatch.setattr(rule, "source", Source("a state's code", "3", "", "Florida", "2025-01-31"))

    report = check_lessons(folder, cases=20, today=date(2026, 11, 25))

    assert [str(warning).partition(", over")[0] for warning in report.warnings] == [
        "rules:1 (content.W102): net_area: the source in Florida was read on 2025-01-31"
    ]


@pytest.mark.parametrize(
    ("name", "old", "new", "code"),
    [
        ("courses", 'at_least = "8 in"', 'at_least = "50 in"', "E220"),
        ("courses", 'from = "18 ft", to = "60 ft"', 'from = "18 ft", to = "22 ft"', "E221"),
        ("courses", 'step = "6 in" }', 'step = "1/8 in" }\nwide = { values = ["1 ft"], dimension = "length" }', None),
        ("courses", '"18 ft", to = "60 ft", step = "6 in"', '"40 ft", to = "41 ft", step = "1/16 in"', "E222"),
        ("line", "¿A qué distancia", "{{ told }} ¿A qué distancia", "E210"),
        ("courses", 'step = "6 in"', 'step = "1/32 in"', "E232"),
        ("courses", 'drawing = "roof_plan"', 'drawing = { name = "roof_plan", show = "height" }', "E226"),
        ("courses", 'drawing = "roof_plan"', 'drawing = { name = "roof_plan", overhang = "100 ft" }', "E226"),
        ("courses", "a course gains {{ exposure }}", "a course gains {{ expsure }}", "E210"),
        ("line", 'changed = { side_lap = "0 in" }', 'changed = { side_lap = "side_lap" }', "E223"),
        ("line", 'changed = { side_lap = "0 in" }', 'changed = { starter_width = "roll_width" }', "E224"),
        ("line", 'changed = { side_lap = "0 in" }', 'changed = { side_lap = "roll_width" }', "E205"),
        ("line", 'changed = { side_lap = "0 in" }', 'changed = { starter_width = "run" }', "E225"),
        ("rows", 'from = "3 in", to = "8 in"', 'from = "3 in", to = "5 in"', "E227"),
        ("readings", '"0 in", to = "3/16 in", step = "1/16 in"', '"2 in", to = "3 in", step = "1 in"', "E228"),
        ("steps", "show = 4", "", "E221"),
        ("spot", '"1/2 in", to = "3 in", step = "1/4 in"', '"0 in", to = "0 in", step = "1/4 in"', "E234"),
        ("spot", 'fault = { stray = "lower" }', 'fault = { stray = "none" }', "E235"),
        ("spot", 'values = ["3 in", "3 1/4 in"', 'values = ["0 in", "3 1/4 in"', "E226"),
    ],
)  # fmt: skip
def test_it_finds_a_planted_fault_of_a_question(name, old, new, code, folder):
    """Each fault has its id at the question's file; a harmless change has none."""
    path = _only(folder, name)
    _change(path, old, new)

    problems = check_lessons(folder).problems

    if code is None:
        assert problems == []
    else:
        assert {problem.file for problem in problems} >= {f"lessons/samples/questions/{name}.toml"}
        assert f"content.{code}" in {problem.id for problem in problems}, problems


def test_it_finds_an_answer_that_is_shown(folder):
    """A stem that names the very number it asks for is found, though each case by itself is sound."""
    path = _only(folder, "line")
    _change(path, "[answer]", 'laid = { rule = "chalk_lines", item = "line", dimension = "length" }\n[answer]')
    _change(path, "How far", "It is {{ laid }}. How far")
    _change(path, "¿A qué distancia", "Son {{ laid }}. ¿A qué distancia")

    assert _codes(check_lessons(folder)) == {"E233"}


def test_it_tells_a_fault_once_with_its_revisions(folder):
    """The same fault under both revisions is one problem that names both."""
    _change(_only(folder, "courses"), 'at_least = "8 in"', 'at_least = "50 in"')

    (problem,) = check_lessons(folder).problems

    assert "(under two-ply-self-adhered/2024, two-ply-self-adhered/2026)" in problem.message


@pytest.mark.parametrize(
    ("file", "old", "new", "code"),
    [
        ("lesson.es.md", "## Los pasos\n", "", "E241"),
        ("lesson.es.md", "::: drawing side_lap part=base show=exposure\n:::\n", "", "E242"),
        ("lesson.es.md", "show=exposure", "show=all", "E242"),
        ("lesson.es.md", "{{ base.side_lap }}", "algo", "E247"),
        ("lesson.es.md", "Ponga 3 hileras", "Ponga 4 hileras", "E247"),
        ("lesson.es.md", "Ponga 3 hileras y vea [nuestra página]", "Lay 3 courses, then look at [our page]", "E247"),
        ("lesson.en.md", "(#the-steps)", "(#the-stairs)", "E245"),
        ("lesson.en.md", "(https://example.org/roof)", "(http://example.org/roof)", "E245"),
        ("lesson.en.md", "(https://example.org/roof)", "(../nowhere/)", "E245"),
        ("lesson.en.md", "(glossary:nailer)", "(glossary:nail)", "E245"),
        ("module.toml", "questions = 2", "questions = 3", "E203"),
        ("module.toml", "passing_score = 2", "passing_score = 3", "E203"),
        ("module.toml", "topics = { layout = 2 }", "topics = { laps = 2 }", "E264"),
        ("module.toml", "samples/courses", "samples/rows", "E264"),
        ("module.toml", "two-ply-self-adhered", "one-ply", "E263"),
        ("module.toml", "minutes = 5\n", "", "E202"),
        ("module.toml", "Muestras", "Muestras", None),
    ],
)
def test_it_finds_a_planted_fault_of_a_module(file, old, new, code, folder):
    """Lessons that no longer agree, links that lead nowhere and plans that can't be met are found."""
    _only(folder, "courses")
    path = folder / "samples" / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")

    codes = _codes(check_lessons(folder))

    assert codes >= {code} if code else codes == set()


def test_it_finds_missing_and_stray_files(folder):
    """A language without a lesson, a folder without a module and a file that isn't UTF-8 are found."""
    _only(folder, "courses")
    (folder / "samples" / "lesson.es.md").unlink()
    (folder / "stray").mkdir()
    (folder / "samples" / "questions" / "line.toml").write_bytes(b'kind = "\xff"')

    assert _codes(check_lessons(folder)) >= {"E240", "E262", "E261"}
    assert _codes(check_lessons(folder / "nothing")) == {"E260"}


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ('[a]\nen = "nail"\n', "E202"),
        ('[a]\nen = "nail"\nes = "clavo"\n[b]\nen = "Nail"\nes = "otro"\n', "E203"),
        ('[a]\nen = "nail"\nes = "clavo"\navoid = ["Nail"]\n', "E203"),
        ('[a]\nen = "nail"\nes = "clavo"\ncolor = "red"\n', "E201"),
    ],
)
def test_it_finds_a_broken_glossary(text, code, folder):
    """A word lacking a language, one word for two things, and unknown keys are found."""
    _only(folder, "courses")
    (folder / "glossary.toml").write_text(text + GLOSSARY, encoding="utf-8")

    assert code in _codes(check_lessons(folder))


def test_it_tells_what_a_page_refuses(folder):
    """What making a lesson's page raises is among the problems, once."""
    _only(folder, "courses")

    def render(text, path, specification, language, words):
        assert words["nailer"]["es"] == "madera de clavado"
        raise ContentError([Problem(path, 3, "content.E404", "no such value")])

    problems = check_lessons(folder, render=render).problems

    assert [(problem.file, problem.line) for problem in problems] == [
        ("lessons/samples/lesson.en.md", 3),
        ("lessons/samples/lesson.es.md", 3),
    ]


def test_it_leaves_retired_questions_alone(folder):
    """A retired question is read, but not tried: it is asked no more."""
    path = _only(folder, "rows")
    _change(path, "show = 4", 'show = 4\nstate = "retired"')
    _change(path, 'from = "3 in", to = "8 in"', 'from = "3 in", to = "5 in"')

    report = check_lessons(folder)

    assert report.problems == []
    assert report.cases == 2 * 200 * 2


def test_it_tries_a_module_only_under_revisions_that_hold_its_values(folder):
    """A module that says since when its values are there is not tried under older revisions."""
    _only(folder, "line")
    module = folder / "samples" / "module.toml"
    _change(module, "minutes = 5", 'since = "2026"\nminutes = 5')

    report = check_lessons(folder)

    assert report.problems == []
    assert report.cases == 2 * 200


def test_it_refuses_a_module_since_a_revision_that_is_not_there(folder):
    """A misspelled revision would leave the questions untried, so it is a fault, told with what there is."""
    _only(folder, "line")
    module = folder / "samples" / "module.toml"
    _change(module, "minutes = 5", 'since = "2027"\nminutes = 5')

    found = [problem for problem in check_lessons(folder).problems if problem.id == "content.E265"]

    assert [(problem.file, problem.line) for problem in found] == [("lessons/samples/module.toml", 3)]
    assert found[0].message == 'since = "2027" is no revision of two-ply-self-adhered; there are 2024, 2026'


def test_it_checks_only_the_modules_asked_for(folder):
    """One module is checked by its name; a name that is not there is told with those that are."""
    _only(folder, "line")
    shutil.copytree(folder / "samples", folder / "others")

    assert check_lessons(folder, only=["samples"]).modules == ["samples"]
    message = check_lessons(folder, only=["sample"]).problems[0].message
    assert message == "there is no module sample; there are others, samples"


def test_it_finds_a_right_row_that_its_length_gives_away(folder):
    """Where the right row is the longest in most cases, nobody needs to know the work."""
    path = _only(folder, "rows")
    text = path.read_text(encoding="utf-8")
    text = text.replace("right = { least = 1, most = 2 }\n", "")
    text = text.replace('to = "8 in"', 'to = "6 1/2 in"')
    text = text.replace('rows.cover_it = "', 'rows.cover_it = "Look at it, think it over, then do what is right: ', 1)
    path.write_text(text, encoding="utf-8")

    assert "E255" in _codes(check_lessons(folder))
