"""The commands `case` and `check_lessons`: their JSON, their exit codes, and that they need no database."""

import json
from datetime import datetime
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from tests.content import copy_revisions
from trainer.base import clock

LESSONS = Path(__file__).resolve().parents[2] / "lessons"


@pytest.fixture
def project(tmp_path, texts, settings) -> Path:
    """A project folder with one module of sample questions; the database is not there."""
    settings.BASE_DIR = tmp_path
    copy_revisions(tmp_path / "lessons")
    module = tmp_path / "lessons" / "samples"
    (module / "questions").mkdir(parents=True)
    for name, text in texts.items():
        (module / "questions" / f"{name}.toml").write_text(text, encoding="utf-8")
    text = (LESSONS / "base-sheet-layout" / "module.toml").read_text(encoding="utf-8")
    (module / "module.toml").write_text(text, encoding="utf-8")
    return tmp_path


def _json(*arguments: str) -> dict:
    out = StringIO()
    call_command(*arguments, "--json", stdout=out)
    found = json.loads(out.getvalue())
    assert isinstance(found, dict)
    return found


def test_it_gives_a_case_that_programs_can_read(project):
    """The case has the agreed keys; numbers are numbers in the unit beside them."""
    case = _json("case", "samples/line", "--seed", "7")

    assert case.keys() >= {
        "question", "seed", "specification", "parameters", "stem", "answer", "mistakes", "steps", "drawing",
    }  # fmt: skip
    assert (case["question"], case["seed"], case["specification"]) == ("samples/line", 7, "two-ply-self-adhered/2026")
    assert case["answer"]["unit"] == "in"
    assert case["answer"]["within"] == 0.125
    assert case["mistakes"][0].keys() >= {"id", "value", "text"}
    assert abs(case["mistakes"][0]["value"] - case["answer"]["value"]) > 0.125


def test_it_works_the_answer_that_the_rule_command_works(project):
    """The parameters of a case, given to `rule`, lead to the same answer and mistakes."""
    case = _json("case", "samples/courses", "--seed", "11", "--specification", "two-ply-self-adhered/2024")
    under = ("--specification", "two-ply-self-adhered/2024")
    starter = _json("rule", "starter_width", *under)["value"]
    given = ("course_count", f"run={case['parameters']['run']}", f"starter_width={starter} in")

    worked = _json("rule", *given, *under)
    forgot = _json("rule", *given, "side_lap=0 in", *under)

    assert worked["value"] == case["answer"]["value"]
    assert forgot["value"] == case["mistakes"][0]["value"]


def test_it_speaks_the_language_asked_for(project):
    """Stem, answer, mistakes and drawing are in Spanish when Spanish is asked for."""
    case = _json("case", "samples/courses", "--seed", "7", "--language", "es")

    assert case["stem"].startswith("La plataforma mide")
    assert "olvida el traslape" in case["mistakes"][0]["text"]
    assert 'lang="es"' in case["drawing"]["svg"]


@pytest.mark.parametrize("name", ["numbers", "rows", "steps", "readings"])
def test_it_gives_the_rows_of_the_other_kinds(name, project):
    """Choice, order and judge give their rows and the letters that are right."""
    case = _json("case", f"samples/{name}", "--seed", "7")

    letters = [row["letter"] for row in case["rows"]]
    assert set(case["answer"]["value"]) <= {*letters, "accept", "reject"}


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("samples/lines", "--seed", "1"), "samples/line"),
        (("line", "--seed", "1"), "no question is called"),
        (("samples/line", "--seed", "1", "--specification", "two-ply-self-adhered/1999"), "no specification is called"),
    ],
)
def test_it_says_why_there_is_no_case(arguments, said, project):
    """A question or revision that is not there ends the command with 2 and what there is."""
    with pytest.raises(CommandError, match=said) as refused:
        call_command("case", *arguments)

    assert refused.value.returncode == 2


def test_it_ends_the_check_with_1_when_there_are_problems(project):
    """The check writes what it found in the agreed shape and ends with 1."""
    (project / "lessons" / "samples" / "lesson.en.md").write_text(
        "# Samples\n\n{{ base.side_lop }}\n", encoding="utf-8"
    )
    out = StringIO()

    with pytest.raises(SystemExit) as ended:
        call_command("check_lessons", "--json", stdout=out)

    report = json.loads(out.getvalue())
    assert ended.value.code == 1
    assert report.keys() == {"modules", "questions", "cases", "languages", "specifications", "problems", "warnings"}
    found = {(problem["file"], problem["line"], problem["id"]) for problem in report["problems"]}
    assert ("lessons/samples/lesson.es.md", 1, "content.E240") in found
    assert ("lessons/samples/lesson.en.md", 3, "content.E404") in found
    plan = (project / "lessons" / "samples" / "module.toml").read_text(encoding="utf-8").splitlines()
    line = next(number for number, text in enumerate(plan, start=1) if text.startswith("topics = "))
    assert ("lessons/samples/module.toml", line, "content.E264") in found


def test_it_writes_warnings_and_ends_well(project):
    """A state's row that expired is said in a line of its own; alone it does not stop anything."""
    path = project / "lessons" / "specifications" / "two-ply-self-adhered" / "2024.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(
        text.replace('source = "common practice"', 'source = { document = "a code", jurisdiction = "Ohio" }', 1),
        encoding="utf-8",
    )
    out = StringIO()

    with pytest.raises(SystemExit):  # for the faults of the sample module
        call_command("check_lessons", stdout=out)

    warnings = [line for line in out.getvalue().splitlines() if line.startswith("warning: ")]
    assert len(warnings) == 1
    assert "(content.W101)" in warnings[0]
    assert "the source in Ohio does not say when it was read" in warnings[0]


@pytest.mark.parametrize(("now", "warned"), [("2026-11-25", False), ("2027-11-20", False), ("2027-11-21", True)])
def test_it_warns_as_the_clock_goes_on(project, now, warned):
    """A row that was read holds for 12 months by the project's clock, and not a day longer."""
    path = project / "lessons" / "specifications" / "two-ply-self-adhered" / "2024.toml"
    source = '{ document = "a code", clause = "1", edition = "2026", jurisdiction = "Ohio", read_on = "2026-11-20" }'
    text = path.read_text(encoding="utf-8").replace('source = "common practice"', f"source = {source}", 1)
    path.write_text(text, encoding="utf-8")
    out = StringIO()

    with clock.fixed(datetime.fromisoformat(f"{now}T12:00+00:00")), pytest.raises(SystemExit):  # the module's faults
        call_command("check_lessons", stdout=out)

    assert ("the source in Ohio was read on 2026-11-20, over 12 months ago" in out.getvalue()) is warned


def test_it_refuses_too_few_cases(project):
    """Fewer than 200 cases can't show what a question does."""
    with pytest.raises(CommandError, match="at least 200"):
        call_command("check_lessons", "--cases", "10")


def test_it_finds_the_lessons_of_this_project_sound():
    """Every question, lesson and revision that crews get passes the check."""
    out = StringIO()

    call_command("check_lessons", "--json", stdout=out)

    report = json.loads(out.getvalue())
    assert report["problems"] == []
    assert report["cases"] % 200 == 0
    assert report["questions"] * 200 < report["cases"] < report["questions"] * len(report["specifications"]) * 200
