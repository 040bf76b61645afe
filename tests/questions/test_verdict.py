"""Verdicts: right, wrong with its mistakes, blank and unreadable responses of every kind."""

from fractions import Fraction
from itertools import count
from random import Random

import pytest

from trainer.questions.case import Case
from trainer.questions.cases import make_case
from trainer.questions.sample_responses import right_response, wrong_response
from trainer.questions.told import Told
from trainer.questions.verdict import judge
from trainer.rules import length_text


def _case(question, specification, wanted) -> Case:
    """Make cases until one is as wanted."""
    return next(case for seed in count() if wanted(case := make_case(question, specification, seed)))


@pytest.fixture
def line(questions, new) -> Case:
    """A case of a chalk line whose answer is not whole inches."""
    return _case(questions["line"], new, lambda case: case.answer.value % 1 and len(case.mistakes) == 2)


@pytest.fixture
def courses(questions, new) -> Case:
    """A case of counted courses."""
    return make_case(questions["courses"], new, 1)


def _tape(inches: Fraction) -> list[dict[str, str]]:
    """Write a length in every way a trainee may enter it; the pad and the tape have sixteenths."""
    feet, rest = divmod(inches, 12)
    whole, part = divmod(rest, 1)
    sixteenths = part * 16
    pad = {"feet": str(feet), "inches": str(whole), "sixteenths": str(sixteenths)}
    fraction = f"{sixteenths}/16"
    return [
        pad,
        {"text": f"{feet}' {whole} {fraction}\""},
        {"text": f"{feet} ft {whole}-{fraction} in"},
        {"text": f"{feet} pies {whole} {fraction} pulg"},
        {"text": f"{feet * 12 + whole} {fraction}"},
        {"text": f"{float(inches)}"},
        {"text": f"{float(inches):.4f}".replace(".", ",")},
        {"text": f"{float(inches * Fraction(254, 10)):.2f} mm"},
        {"text": length_text(inches, language="es")},
    ]


def test_it_reads_the_tape_however_it_is_written(line):
    """Pad, tape notation, decimals with point or comma, millimeters: all the same length."""
    for response in _tape(line.answer.value):
        verdict = judge(line, response)
        assert verdict.right, (response, verdict)
        assert not verdict.mistakes


@pytest.mark.parametrize(
    ("off", "right"), [("0", True), ("1/8", True), ("-1/8", True), ("3/16", False), ("-3/16", False)]
)
def test_it_takes_what_is_near_enough(line, off, right):
    """Within the tolerance is right, its edge included; beyond it is wrong, and the verdict says how near counts."""
    verdict = judge(line, {"text": length_text(line.answer.value + Fraction(off), exact=True)})

    assert verdict.right is right
    assert verdict.answer_text == line.answer.text["en"]
    if not right:
        assert "1/8 in of it counts" in verdict.message


def test_it_names_the_mistakes_that_explain_a_length(line):
    """Each of the question's mistakes is found by its value, in the reader's language."""
    for mistake in line.mistakes:
        for language in ("en", "es"):
            verdict = judge(line, {"text": mistake.shown["en"]}, language)
            assert not verdict.right
            assert (mistake.id, mistake.text[language]) in {(one.id, one.message) for one in verdict.mistakes}


def test_it_names_feet_for_inches_both_ways(line):
    """The right number with the other unit is told as that, and is not right."""
    answer = line.answer.value
    for given in (answer * 12, answer / 12):
        verdict = judge(line, {"text": f"{given.numerator}/{given.denominator} in"})
        assert not verdict.right
        assert "feet_for_inches" in verdict.codes


def test_it_names_inch_for_millimeter_both_ways(line):
    """Millimeters typed as inches, and inches typed as millimeters, are told as that."""
    millimeters = round(float(line.answer.value) * 25.4)
    for text in (str(millimeters), f"{float(line.answer.value)} mm"):
        verdict = judge(line, {"text": text})
        assert not verdict.right
        assert verdict.codes == ("inch_for_millimeter",)


@pytest.mark.parametrize(
    "response",
    [
        {"text": "about two feet"},
        {"text": "3 furlongs"},
        {"text": "1/0"},
        {"feet": "two"},
        {"sixteenths": "16"},
        {"inches": "-3"},
    ],
)
def test_it_asks_again_for_a_length_it_cannot_read(line, response):
    """What can't be read is a problem with a sentence in the reader's language, neither right nor wrong nor blank."""
    english, spanish = judge(line, response, "en"), judge(line, response, "es")

    for verdict in (english, spanish):
        assert verdict.problem
        assert not verdict.right
        assert not verdict.blank
        assert not verdict.mistakes
    assert english.problem != spanish.problem


@pytest.mark.parametrize("response", [{}, {"text": ""}, {"text": "   "}, {"feet": "", "inches": "", "sixteenths": ""}])
def test_it_tells_a_blank_from_a_wrong_length(line, response):
    """Nothing entered is blank: not right, no mistake, no problem."""
    verdict = judge(line, response)

    assert verdict.blank
    assert not verdict.right
    assert not verdict.problem
    assert not verdict.mistakes


def test_it_counts_whole_pieces_exactly(courses):
    """A count has no tolerance; thousands may have a comma."""
    right = courses.answer.value

    assert judge(courses, {"text": str(right)}).right
    assert not judge(courses, {"text": str(right + 1)}).right
    assert judge(courses, {"text": f"{right}.5"}).problem
    assert judge(courses, {"text": "1,0000"}).problem
    assert judge(courses, {}).blank


def test_it_names_rounding_the_wrong_way(courses):
    """The count below a value that is rounded up is rounded the wrong way, with the value shown."""
    before = courses.answer.before_rounding
    assert before is not None
    assert before.numerator // before.denominator == courses.answer.value - 1

    verdict = judge(courses, {"text": str(courses.answer.value - 1)})

    assert "rounded_the_wrong_way" in verdict.codes
    assert not any(one.startswith("off_by_one") for one in verdict.codes)


def test_it_names_one_too_many(courses):
    """One more than the answer is one too many."""
    verdict = judge(courses, {"text": str(courses.answer.value + 1)}, "es")

    assert "off_by_one_more" in verdict.codes
    assert any(one.common and "Sobra uno" in one.message for one in verdict.mistakes)


def test_it_names_one_too_few_where_nothing_is_rounded(questions, texts, parse, new):
    """Without a rounding, one fewer than the answer is one too few."""
    text = (
        texts["courses"]
        .replace('[answer]\nrule = "course_count"', '[answer]\nexpression = "laid + 1 - 1"')
        .replace("[answer]", 'laid = { rule = "course_count", dimension = "count" }\n[answer]')
        .replace('changed = { side_lap = "0 in" }', 'expression = "laid + 5"')
        .replace("{{ exposure }}", "{{ answer }}")
    )
    case = make_case(parse(text), new, 2)

    assert judge(case, {"text": str(case.answer.value - 1)}).codes == ("off_by_one_less",)


def test_it_judges_rows_of_numbers(questions, new):
    """The right letter is right; a wrong one is explained; two letters where one is asked can't be taken."""
    case = make_case(questions["numbers"], new, 4)
    right = next(row for row in case.rows if row.right)
    wrong = next(row for row in case.rows if not row.right)

    assert judge(case, {"rows": [right.letter]}).right
    assert judge(case, {"rows": right.letter.lower()}).right
    verdict = judge(case, {"rows": [wrong.letter]})
    assert verdict.codes == (wrong.id,)
    assert verdict.mistakes[0].message == wrong.why["en"]
    assert verdict.given_text == wrong.letter
    assert judge(case, {"rows": ["A", "B"]}).problem
    assert "A, B, C" in judge(case, {"rows": ["Z"]}).problem
    assert judge(case, {"rows": []}).blank


def test_it_judges_rows_as_a_set(questions, new):
    """Where several rows are right, all and only these are right; one left out is told."""
    case = _case(questions["rows"], new, lambda case: len(case.answer.value) == 2)
    one, other = case.answer.value
    wrong = next(row for row in case.rows if not row.right)

    assert case.pick == "many"
    assert judge(case, {"rows": [other, one, one]}).right
    left_out = judge(case, {"rows": [one]})
    assert not left_out.right
    assert f"Row {other} is right too" in left_out.message
    assert judge(case, {"rows": [one, other, wrong.letter]}).codes == (wrong.id,)


def test_it_takes_every_order_that_breaks_no_pair(questions, new):
    """The steps may be given by letter or id; the answer's own order is right."""
    case = make_case(questions["steps"], new, 6)
    ids = {row.letter: row.id for row in case.rows}

    assert judge(case, {"order": list(case.answer.value)}).right
    assert judge(case, {"order": [ids[letter] for letter in case.answer.value]}).right


def test_it_names_the_broken_pair(questions, new):
    """Two steps swapped: the verdict says which comes before which, and why where the file does."""
    case = _case(questions["steps"], new, lambda case: {"nailer", "sheet"} <= {row.id for row in case.rows})
    order = list(case.answer.value)
    order[0], order[1] = order[1], order[0]

    verdict = judge(case, {"order": order}, "es")

    assert verdict.codes == ("nailer>sheet",)
    assert verdict.mistakes[0].message == (
        "“Revisar la madera de clavado” va antes de “Pegar la hoja base”. Después ya no se ve."
    )


def test_it_carries_pairs_through(questions, new):
    """Steps tied only through steps that aren't shown still have their order."""
    case = _case(questions["steps"], new, lambda case: "sheet" not in {row.id for row in case.rows})

    assert len(case.pairs) == 6
    assert not judge(case, {"order": list(reversed(case.answer.value))}).right


@pytest.mark.parametrize(
    "response", [{"order": ["A", "B"]}, {"order": ["A", "A", "B", "C"]}, {"places": ["A=1", "B=1"]}]
)
def test_it_asks_for_each_steps_own_place(questions, new, response):
    """Steps missing or given twice are a problem, not a wrong answer."""
    case = make_case(questions["steps"], new, 6)

    assert judge(case, response).problem == "Give each step its own number, from 1 to 4."
    assert judge(case, {}).blank


def test_it_judges_sound_work(questions, new):
    """Accepting sound work is right; rejecting it is explained with the reading that was marked."""
    case = _case(questions["readings"], new, lambda case: case.answer.value == ("accept",))

    assert judge(case, {"decision": "accept"}).right
    verdict = judge(case, {"decision": "reject", "reading": "2"})
    assert not verdict.right
    assert verdict.codes == (case.rows[1].id,)
    assert "Every reading keeps its limit" in verdict.message
    assert judge(case, {}).blank


def test_it_judges_a_planted_fault(questions, new):
    """Only rejecting with the failing reading marked is right; missing it is told with place, reading and limit."""
    case = _case(questions["readings"], new, lambda case: case.answer.value == ("reject", "2"))
    failing = case.rows[1]

    assert judge(case, {"decision": "reject", "reading": "2"}).right
    missed = judge(case, {"decision": "accept"})
    assert missed.codes == (failing.id,)
    for fact in (failing.text["en"], failing.reading["en"], failing.limit["en"]):
        assert fact in missed.message
    other = judge(case, {"decision": "reject", "reading": "1"})
    assert other.codes == (failing.id, case.rows[0].id)
    assert judge(case, {"decision": "reject"}).problem == "Mark the reading that fails, from 1 to 3."
    assert judge(case, {"decision": "reject", "reading": "9"}).problem
    assert judge(case, {"reading": "2"}).problem
    assert judge(case, {"decision": "maybe"}).problem


def test_it_accepts_what_the_tape_cannot_tell(questions, new):
    """A reading short of its limit by no more than the reading tolerance is sound; limit and tolerance stand apart."""

    def near(case: Case) -> bool:
        return any(row.id == "side_lap" and row.reading["en"] == "3 15/16 in" for row in case.rows)

    case = _case(questions["readings"], new, near)
    row = next(row for row in case.rows if row.id == "side_lap")

    assert row.right
    assert row.limit["en"] == "at least 4 in"
    assert row.tolerance["en"] == "± 1/16 in"


def _at_fault(questions, specification, wanted: str) -> Case:
    """Make the first case whose fault is the one asked for."""
    return _case(questions["spot"], specification, lambda case: case.parameters["fault"] == wanted)


@pytest.mark.parametrize("fault", ["skipped_upper", "stray_lower", "wide_spacing"])
def test_it_takes_only_the_part_at_fault(questions, new, fault):
    """Pointing at the planted fault is right, at any other part wrong; the verdict names both and says what it is."""
    case = _at_fault(questions, new, fault)
    right = [row.letter for row in case.rows if judge(case, {"part": row.letter}).right]
    at = next(row for row in case.rows if row.letter in right)

    assert list(case.answer.value) == right
    assert len(right) == 1
    assert at.id == fault
    assert judge(case, {"part": at.letter.lower()}).right
    for row in (row for row in case.rows if not row.right):
        verdict = judge(case, {"part": row.letter}, "es")
        assert (verdict.right, verdict.blank, verdict.problem) == (False, False, "")
        assert f"{at.letter}, {at.text['es']}" in verdict.message
        assert verdict.codes[0] == fault
        assert verdict.mistakes[0].message == at.why["es"]


def test_it_tells_what_a_part_measures(questions, new):
    """A fault that can be measured is told with reading and limit, and so is a sound part that was pointed at."""
    wide = _at_fault(questions, new, "wide_spacing")
    row = next(row for row in wide.rows if row.id == "wide_spacing")
    fact = f"It is {row.reading['en']}; the limit is {row.limit['en']}."
    other = _at_fault(questions, new, "skipped_upper")
    sound = next(row for row in other.rows if row.id == "pointed_at_spacing")
    wrong = judge(other, {"part": sound.letter})

    assert row.limit["en"] == "at most 6 in"  # the sample specification's own value, edge.row_spacing
    assert fact in judge(wide, {"part": row.letter}).message
    assert fact in judge(wide, {"part": "A"}).message
    assert f"is sound: it is {sound.reading['en']}; the limit is at most 6 in." in wrong.mistakes[1].message
    assert wrong.codes == ("skipped_upper", "pointed_at_spacing")


def test_it_says_why_a_sound_part_is_sound(questions, new):
    """What the file says of a part that is never at fault is told to whom points there; else only that it is sound."""
    case = _at_fault(questions, new, "stray_lower")
    letters = {row.id: row.letter for row in case.rows}

    inside = judge(case, {"part": letters["pointed_at_inner_edge"]}).mistakes[1].message
    outside = judge(case, {"part": letters["pointed_at_outer_edge"]}).mistakes[1].message

    assert inside.endswith("is as it should be. This edge runs straight.")
    assert outside.endswith("is as it should be.")


def test_it_judges_a_drawing_without_fault(questions, new):
    """Where nothing is planted only the row that says so is right; where something is, that row misses it."""
    sound, faulty = _at_fault(questions, new, "none"), _at_fault(questions, new, "stray_lower")
    accept = sound.rows[-1].letter
    verdict = judge(sound, {"part": "A"})
    missed = judge(faulty, {"part": accept})

    assert sound.rows[-1].text == {"en": "no fault", "es": "sin falla"}
    assert [row.text for row in sound.rows] == [row.text for row in faulty.rows]
    assert judge(sound, {"part": accept}).right
    assert not verdict.right
    assert "nothing is at fault" in verdict.message
    assert "There is a fault" in missed.message
    assert missed.codes == ("stray_lower",)


def test_it_asks_again_for_a_part_that_is_not_there(questions, new):
    """A letter without a row is a problem that names the letters; none is a blank."""
    case = _at_fault(questions, new, "stray_lower")

    assert judge(case, {"part": "Z"}).problem == "There is no part “Z”. Point at one of A, B, C, D, E, F."
    assert judge(case, {"part": ["A", "B"]}).problem
    assert judge(case, {}).blank
    assert judge(case, {"rows": ["A"]}).blank


def test_it_rings_the_fault_with_the_verdict_only(questions, new):
    """The drawing of the question has no ring and does not name the part at fault; the verdict's has both."""
    case = _at_fault(questions, new, "wide_spacing")

    for language, said in (("en", "In the ring:"), ("es", "En el círculo:")):
        assert 'class="ring"' not in case.drawing[language].svg
        assert said not in case.drawing[language].alt
        assert 'class="ring"' in case.after_drawing[language].svg
        assert said in case.after_drawing[language].alt
    assert 'class="ring"' not in _at_fault(questions, new, "none").after_drawing["en"].svg


@pytest.mark.parametrize("fault", ["skipped_upper", "wide_spacing", "none"])
def test_it_has_a_wrong_answer_to_every_spot(questions, new, fault):
    """What the demo's people enter is judged as meant: right, or wrong by another part, never unreadable."""
    case = _at_fault(questions, new, fault)
    wrong = [judge(case, wrong_response(case, Random(seed))) for seed in range(8)]

    assert judge(case, right_response(case)).right
    assert {(verdict.right, verdict.blank, verdict.problem) for verdict in wrong} == {(False, False, "")}
    assert len({verdict.given_text for verdict in wrong}) > 1


@pytest.mark.parametrize("name", ["courses", "line", "numbers", "rows", "steps", "readings", "spot"])
def test_it_judges_before_it_puts_into_words(name, questions, new, monkeypatch):
    """Right, wrong, blank and the mistakes' ids are found without writing a text; sentences come when read."""
    case = make_case(questions[name], new, 5)
    responses = [right_response(case), wrong_response(case, Random(5)), {}]
    written: list[str] = []

    with monkeypatch.context() as patched:
        patched.setattr(Told, "__getitem__", lambda _told, language: written.append(language))
        verdicts = [judge(case, response) for response in responses]
        assert [verdict.right for verdict in verdicts] == [True, False, False]
        assert [verdict.blank for verdict in verdicts] == [False, False, True]
    assert written == []
    assert [one.id for one in verdicts[1].mistakes] == list(verdicts[1].codes)
