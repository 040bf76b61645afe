"""What people read: sentences, reading grade, words to avoid, typed limits."""

from pathlib import Path

import pytest

from trainer.questions.format import parse_question
from trainer.questions.glossary import parse_glossary
from trainer.questions.prose import lesson_problems, passages_of, question_problems, reading_grade, sentences
from trainer.rules.specification import parse_specification

FILE = Path(__file__).resolve().parents[2] / "lessons" / "specifications" / "two-ply-self-adhered" / "2026.toml"
KNOWN = [parse_specification(FILE.read_text(encoding="utf-8"), FILE.as_posix())]
GLOSSARY = parse_glossary(
    '[cap-sheet]\nen = "cap sheet"\nes = "hoja superior"\navoid = ["top sheet", "hoja tapa"]\n', "glossary.toml"
)
LONG = "The crew lays the sheet along the line and then it " + "rolls and " * 7 + "stops."


def _found(text: str, language: str = "en") -> list[tuple[int, str]]:
    problems = lesson_problems(text, "lesson.md", language, GLOSSARY, KNOWN)  # type: ignore[arg-type]
    return [(problem.line, problem.id.removeprefix("content.")) for problem in problems]


def test_it_finds_a_sentence_of_more_than_25_words():
    """Twenty-five words pass, the twenty-sixth does not; the message tells how many there are."""
    just = " ".join(["word"] * 25) + "."
    assert _found(f"# Head\n\n{just}\n") == []

    problems = list(lesson_problems(f"# Head\n\nmore {just}\n", "lesson.md", "en", {}, []))

    assert [(problem.file, problem.line, problem.id) for problem in problems] == [("lesson.md", 3, "content.E250")]
    assert problems[0].message.startswith("26 words in one sentence, 25 is the most: ")


def test_it_reads_a_sentence_over_the_ends_of_lines():
    """A paragraph's lines belong together; list items, headings and drawings stand alone."""
    words = " ".join(["so"] * 13)

    assert _found(f"{words}\n{words}.\n") == [(1, "E250")]
    assert _found(f"- {words}\n- {words}.\n") == []
    assert _found(f"{words}\n\n{words}.\n") == []
    assert _found(f"::: drawing tape reading='{words} {words}'\n:::\n") == []


def test_it_reads_links_and_values_as_they_are_read_aloud():
    """A link counts by its words and a value as one number."""
    found = passages_of("See the [base sheet](glossary:base-sheet), {{ base.side_lap }} **wide**.")

    assert [passage.text for passage in found] == ["See the base sheet, 4 wide."]
    assert sentences("Stop. Look! Really? Yes.") == ["Stop.", "Look!", "Really?", "Yes."]


def test_it_gives_the_automated_readability_index():
    """The grade follows the published formula (Senter and Smith, AMRL-TR-66-220, 1967), worked here by hand.

    "The crew rolls the seam. They probe it." has 8 words, 30 letters, 2 sentences:
    4.71 x 30 / 8 + 0.5 x 8 / 2 - 21.43 = -1.7675.
    """
    grade = reading_grade(passages_of("The crew rolls the seam. They probe it."))

    assert grade == pytest.approx(4.71 * 30 / 8 + 0.5 * 8 / 2 - 21.43)
    assert reading_grade([]) == 0


def test_it_refuses_a_lesson_that_reads_above_grade_8():
    """Long words in long sentences are hard to read; the English lesson is told its grade once."""
    hard = "Responsible contractors systematically demonstrate waterproofing continuity considerations. " * 3

    assert _found(hard) == [(1, "E251")]
    assert _found(hard, "es") == []


@pytest.mark.parametrize(
    ("text", "language", "found"),
    [
        ("The top sheet has granules.", "en", ["E252"]),
        ("The Top Sheet has granules.", "en", ["E252"]),
        ("The top sheets have granules.", "en", []),
        ("La hoja tapa lleva gránulos.", "es", ["E252"]),
        ("The cap sheet has granules.", "en", []),
    ],
)
def test_it_finds_words_to_avoid(text, language, found):
    """A word that the glossary avoids is found whole, whatever its capitals."""
    assert [code for _, code in _found(text, language)] == found


@pytest.mark.parametrize(
    ("text", "language", "found"),
    [
        ("Side laps are at least 4 in wide.", "en", True),
        ("Side laps are at least 4 inches wide.", "en", True),
        ("Los traslapes laterales miden 4 pulgadas.", "es", True),
        ("Side laps are at least {{ base.side_lap }} wide.", "en", False),
        ("Side laps of 3 1/2 in were found.", "en", False),
        ("The rails stand 3 feet above the landing.", "en", False),
        ("The stagger of end laps is 3 feet.", "en", True),
        ("Let the cut sheet lie flat, a time of 30 minutes.", "en", True),
        ("29 CFR 1926.501(b)(10): side laps stand 4 in apart.", "en", False),
    ],
)
def test_it_finds_a_number_that_the_specification_holds(text, language, found):
    """A quantity typed beside the words of the value that it equals would stay behind when the value changes."""
    assert [code for _, code in _found(text, language)] == (["E254"] if found else [])


def test_it_names_the_value_that_belongs_there():
    """The message gives the name to write instead."""
    (problem,) = lesson_problems("Side laps are 4 in wide.", "lesson.md", "en", {}, KNOWN)

    assert problem.message == (
        '"4 in" is typed where base.side_lap of the specification belongs; write {{ base.side_lap }}'
    )


def test_it_reads_a_questions_texts(texts):
    """Stem, rows, mistakes and danger of both languages are read; a fault points at its line."""
    text = texts["courses"].replace("Count the starter too", f"{LONG} Count the starter too")
    question = parse_question(text, "lessons/samples/questions/courses.toml")

    (problem,) = question_problems(question, GLOSSARY, KNOWN)

    assert problem.id == "content.E250"
    assert text.splitlines()[problem.line - 1].startswith("after = ")
