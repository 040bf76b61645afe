"""Checks over several texts: questions alike, one clause with two values, hazards without a caution."""

from pathlib import Path

import pytest

from trainer.questions.across import alike_problems, caution_problems, source_problems
from trainer.questions.format import parse_question
from trainer.rules.specification import parse_specification

FILE = Path(__file__).resolve().parents[2] / "lessons" / "specifications" / "two-ply-self-adhered" / "2026.toml"
TEXT = FILE.read_text(encoding="utf-8")
CAUTION = "!!! caution\n    Falls: stay back. Local codes come first.\n\n"


def _specification(text: str, revision: str):
    path = f"specifications/two-ply-self-adhered/{revision}.toml"
    return path, parse_specification(text.replace('revision = "2026"', f'revision = "{revision}"'), path)


def test_it_finds_a_question_told_twice(texts):
    """The same scene with other numbers reads alike; the later one is told, with the earlier one's name."""
    first = parse_question(texts["courses"], "lessons/samples/questions/courses.toml")
    again = parse_question(texts["courses"].replace("18 ft", "20 ft"), "lessons/other/questions/again.toml")
    other = parse_question(texts["line"], "lessons/samples/questions/line.toml")

    found = list(alike_problems([first, other, again]))

    assert [(problem.file, problem.id) for problem in found] == [("lessons/other/questions/again.toml", "content.E257")]
    assert "samples/courses" in found[0].message


def test_it_finds_one_clause_cited_for_two_values():
    """A clause says one thing: two revisions that cite it for different values can't both be right."""
    older = _specification(TEXT, "2026")
    newer = _specification(TEXT.replace('[base.end_lap]\nvalue = "6 in"', '[base.end_lap]\nvalue = "8 in"'), "2027")

    found = list(source_problems([older, newer]))

    assert {(problem.file, problem.id) for problem in found} == {(newer[0], "content.E258")}
    assert found[0].message.startswith("base.end_lap is 8 in after UFGS 07 52 00")
    assert "base.end_lap in specifications/two-ply-self-adhered/2026.toml is 6 in" in found[0].message


def test_it_lets_practice_and_makers_differ():
    """Common practice and a maker's label may say another value for another sheet."""
    newer = _specification(TEXT.replace('[base.overhang]\nvalue = "2 in"', '[base.overhang]\nvalue = "3 in"'), "2027")

    assert list(source_problems([_specification(TEXT, "2026"), newer])) == []


@pytest.mark.parametrize(
    ("body", "hazard"),
    [
        ("Carry rolls up the ladder.", "ladders"),
        ("Light the torch.", "flame"),
        ("Brush on the primer.", "vapors"),
        ("Cut it with a hook knife.", "cuts"),
        ("Walk round the skylight.", "holes"),
    ],
)
def test_it_asks_for_a_caution_on_what_the_lesson_speaks_of(body, hazard):
    """A hazard in the steps that the caution leaves out is found at its line."""
    (problem,) = caution_problems(f"# Head\n\n{CAUTION}{body}\n", "lesson.en.md", "en")

    assert (problem.id, problem.line) == ("content.E259", 6)
    assert f"says nothing of {hazard}" in problem.message


def test_it_takes_a_caution_that_names_the_hazard():
    """Where the caution speaks of it, nothing is found; so in Spanish."""
    english = CAUTION.replace("Falls:", "Ladders, falls:") + "Carry rolls up the ladder to the edge.\n"
    spanish = "!!! caution\n    Caídas: quédese atrás. Los códigos locales van primero.\n\nSuba al borde.\n"

    assert list(caution_problems(english, "lesson.en.md", "en")) == []
    assert list(caution_problems(spanish, "lesson.es.md", "es")) == []


def test_it_refuses_a_lesson_without_a_caution():
    """A lesson of roof work without a caution, or one that does not put local codes first, is found."""
    (none,) = caution_problems("# Head\n\nWork.\n", "lesson.en.md", "en")
    (silent,) = caution_problems("# Head\n\n!!! caution\n    Falls.\n", "lesson.en.md", "en")

    assert "no caution" in none.message
    assert "local codes come first" in silent.message
