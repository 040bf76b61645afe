"""Question files: what is refused, at which line, and how to mend it."""

import contextlib
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.drawings import DrawingInputError
from trainer.questions.cases import CaseError, make_case
from trainer.questions.evidence import case_document
from trainer.questions.format import ContentError, parse_question, question_id
from trainer.questions.lines import key_lines, line_of

PATH = "lessons/samples/questions/sample.toml"


def _refused(text: str) -> list[tuple[int, str, str]]:
    with pytest.raises(ContentError) as refused:
        parse_question(text, PATH)
    assert {problem.file for problem in refused.value.problems} == {PATH}
    return [(problem.line, problem.id, problem.message) for problem in refused.value.problems]


def _line(text: str, part: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), start=1) if part in line)


@pytest.mark.parametrize(
    ("name", "old", "new", "code", "said"),
    [
        ("courses", 'kind = "count"', 'kind = "tally"', "E203", '"measure" or "count"'),
        ("courses", 'kind = "count"', "kind = count", "E200", "not TOML"),
        ("courses", 'topic = "layout"', 'topic = "The Layout"', "E203", "a word such as"),
        ("courses", 'topic = "layout"', 'topics = "layout"', "E201", '"topics" is not a key here'),
        ("numbers", 'use = "exam"', 'use = "both"', "E215", 'never "both"'),
        ("courses", 'drawing = "roof_plan"', 'drawing = "roof_plann"', "E206", "roof_plan"),
        ("courses", 'drawing = "roof_plan"', 'drawing = { name = "roof_plan", hight = "3 ft" }', "E206", "no input"),
        ("courses", 'rule = "course_count"', 'rule = "course_counts"', "E205", "Did you mean course_count"),
        ("courses", "changed = { side_lap", "changed = { slide_lap", "E205", 'no input "slide_lap"'),
        ("courses", 'mistake = "forgot_the_lap"', 'mistake = "forgot_a_lap"', "E214", "forgot_the_lap"),
        ("courses", 'at_least = "8 in"', 'at_lest = "8 in"', "E201", "at_lest"),
        ("courses", "{{ run }} up", "{{ run | feet }} up", "E209", "just a name"),
        ("courses", "{{ run }} up", "{{ run up", "E209", "no partner"),
        ("courses", "How many courses?", "It is {{ answer }}?", "E209", "may not stand in stem"),
        ("courses", "¿Cuántas hileras?", "¿Cuántas, con {{ end_lap }}?", "E210", "end_lap"),
        ("courses", "¿Cuántas hileras?", "¿Cuántas de 3 hileras?", "E210", "other numbers"),
        ("courses", "Hileras de la pendiente", "Courses up the slope", "E210", "translate it"),
        ("courses", "Cuente también el arranque", "Count the starter too", "E210", "translate it"),
        ("line", 'within = "1/8 in"', "", "E202", "within"),
        ("line", 'item = "line"', "", "E205", "gives a list"),
        ("rows", 'id = "nail_it"', 'id = "caulk_it"', "E212", "stands twice"),
        ("rows", '"lap < end_lap"', '"lap < "', "E207", "does not read"),
        ("rows", '"lap < end_lap"', '"lap + end_lap"', "E207", "a sum where a condition"),
        ("rows", '"lap < end_lap"', "\"__import__('os').system('true') > 1\"", "E207", "Call"),
        ("rows", "show = 4", "show = 40", "E203", "from 3 to 12"),
        ("rows", "right = { least = 1, most = 2 }", "right = { least = 2, most = 1 }", "E203", "swap"),
        ("rows", 'mistakes.nail_it = "A nail', 'mistakes.nailed = "A nail', "E208", "mistakes.nail_it"),
        ("steps", 'before = "sheet"', 'before = "sheets"', "E211", 'no step "sheets"'),
        ("steps", 'before = "sheet"\nafter = "turn"', 'before = "turn"\nafter = "sheet"', "E211", "circle"),
        ("steps", '"length"\nafter = "prime"', '"corner"\nafter = "length"', "E211", "may stand anywhere"),
        ("steps", 'steps.prime = "Prime', 'steps.primer = "Prime', "E208", "steps.prime"),
        ("readings", "show = 3", 'show = 3\nsound = "1/20"', "E203", '"1/5" to "4/5"'),
        ("readings", 'bad = { from = "1/4 in", to = "2 in", step = "1/8 in" }', "", "E202", "bad"),
        ("courses", "[parameters]\nrun", "[parameters]\nRun", "E203", "small letters"),
        ("spot", 'use = "exam"', 'use = "both"', "E215", 'never "both"'),
        ("spot", 'name = "nail_rows"', 'name = "roof_plan"', "E216", "has no part"),
        ("spot", 'part = "lower_row"', 'part = "low_row"', "E216", "its parts are upper_row, lower_row"),
        ("spot", '{ stray = "lower" }', '{ strays = "lower" }', "E216", "its inputs are"),
        ("spot", '{ stray = "lower" }', '{ stray = "middle" }', "E216", "middle"),
        ("spot", 'fault = { stray = "lower" }\n', "", "E216", "at least 3 are needed"),
        ("spot", 'id = "stray_lower"', 'id = "skipped_upper"', "E216", "stands twice"),
        ("spot", 'id = "outside"', 'id = "accept"', "E216", "a word of the format"),
        ("spot", 'input = "row_spacing"', 'input = "skipped"', "E216", "its lengths are"),
        ("spot", '"inside"\npart = "inner_edge"\n[[targets]]\nid = "outside"\npart = "outer_edge"',
         '"inside"\npart = "upper_row"', "E216", "at least 4 are needed"),
    ],
)  # fmt: skip
def test_it_refuses_a_broken_file(name, old, new, code, said, texts):
    """Each fault is reported with its id, at the line where it stands (or that of its table), saying what to do."""
    assert texts[name].count(old) >= 1
    text = texts[name].replace(old, new, 1)

    problems = _refused(text)

    found = [(line, message) for line, one, message in problems if one == f"content.{code}"]
    assert any(said in message for _, message in found), problems
    assert all(1 <= line <= len(text.splitlines()) for line, _ in found)


@pytest.mark.parametrize(
    ("name", "old", "new", "mark"),
    [
        ("courses", 'rule = "course_count"', 'rule = "course_counts"', 'rule = "course_counts"'),
        ("courses", "changed = { side_lap", "changed = { slide_lap", "changed = {"),
        ("rows", '"lap < end_lap"', '"lap < "', '"lap < "'),
        ("steps", 'before = "sheet"', 'before = "sheets"', 'before = "sheets"'),
        ("courses", "¿Cuántas hileras?", "¿Cuántas de 3 hileras?", "¿Cuántas de 3 hileras?"),
        ("numbers", 'use = "exam"', 'use = "both"', 'use = "both"'),
    ],
)
def test_it_points_at_the_line(name, old, new, mark, texts):
    """The line of a problem is the line an author has to mend."""
    text = texts[name].replace(old, new, 1)

    assert _line(text, mark) in {line for line, _, _ in _refused(text)}


def test_it_reports_every_problem_at_once(texts):
    """An author sees all faults of a file in one go, in the order of the lines."""
    text = (
        texts["courses"]
        .replace('topic = "layout"', "")
        .replace("danger", "dangers")
        .replace("How many", "{{ how many }}")
    )

    problems = _refused(text)

    assert {code for _, code, _ in problems} >= {"content.E201", "content.E202", "content.E209"}
    assert [line for line, _, _ in problems] == sorted(line for line, _, _ in problems)


VALUES = (
    "3", '"x"', "[]", "{}", "true", '"6 in"', "-1", '"run"', '"-5 in"', '""', "[{}]", "1.5", '"side_lap"', '"0 in"',
    '"answer"', '"1/0"', '"99999999 ft"', '"edge.strip_width"', "2024-01-01", '"edge.strip_width.least"', '"lap"',
)  # fmt: skip


@given(data=st.data())
@settings(max_examples=300, deadline=None)
def test_it_never_fails_in_another_way(data, texts, new):
    """Whatever value an author puts in the place of another: a case, or an error that says what is wrong and where."""
    text = texts[data.draw(st.sampled_from(sorted(texts)))]
    places = list(re.finditer(r'"[^"\n]*"|\btrue\b|\bfalse\b|\b\d+\b', text))
    place = data.draw(st.sampled_from(places))
    changed = text[: place.start()] + data.draw(st.sampled_from(VALUES)) + text[place.end() :]

    with contextlib.suppress(CaseError, DrawingInputError):  # a drawing names its own input, value and limit
        try:
            case_document(make_case(parse_question(changed, PATH), new, 1))
        except ContentError as refused:
            lines = {problem.line for problem in refused.problems}
        else:
            lines = {1}

        assert lines <= set(range(1, len(changed.splitlines()) + 1))


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        ("lessons/edge-metal/questions/flange-nails.toml", "edge-metal/flange-nails"),
        ("edge-metal/questions/flange-nails.toml", "edge-metal/flange-nails"),
        ("C:\\lessons\\edge-metal\\questions\\flange-nails.toml", "edge-metal/flange-nails"),
        ("draft.toml", "draft"),
    ],
)
def test_it_knows_a_question_by_module_and_file(path, expected):
    """The id is the same wherever the lessons folder lies."""
    assert question_id(path) == expected


def test_it_finds_lines_over_long_values():
    """Lines are right after texts and lists that run over several lines, in tables and arrays of tables."""
    text = 'a = """\nb = 1\n"""\nc = [\n  "x", # [d]\n  "]",\n]\n[t.u]\ne.f = 1\n'
    text += "[[r]]\ng = 2\n[[r]]\ng = 3\n[r.s]\nh = 4\n"

    lines = key_lines(text)

    assert ("b",) not in lines
    assert lines["c",] == 4
    assert lines["t", "u", "e", "f"] == 9
    assert lines["r", 0, "g"] == 11
    assert lines["r", 1, "g"] == 13
    assert lines["r", 1, "s", "h"] == 15
    assert line_of(lines, ("r", 1, "s", "missing")) == 14
    assert line_of(lines, ("nowhere",)) == 1
