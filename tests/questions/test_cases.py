"""Cases: the same for the same seed, both languages at once, remade from old parameters, refused with a reason."""

import gc
from dataclasses import replace
from fractions import Fraction
from weakref import ref

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.questions.cases import CaseError, make_case
from trainer.questions.evidence import case_document
from trainer.rules.specification import ContentError

KINDS = ("courses", "line", "numbers", "rows", "steps", "readings", "spot")


@pytest.mark.parametrize("name", KINDS)
def test_it_makes_the_same_case_again(name, questions, parse, texts, new):
    """The same text, revision and seed give the same case, whoever makes it and whenever."""
    again = parse(texts[name])

    first = case_document(make_case(questions[name], new, 12))
    second = case_document(make_case(again, new, 12))

    for document in (first, second):
        document.pop("question")
    assert first == second


@pytest.mark.parametrize("name", KINDS)
def test_it_makes_other_cases_of_other_seeds(name, questions, new):
    """Twenty seeds give at least ten different cases of every kind."""
    seen = {str(make_case(questions[name], new, seed).parameters) for seed in range(20)}

    assert len(seen) >= 10


def test_it_makes_other_cases_of_another_version(texts, parse, new):
    """A changed text draws other numbers from the same seed, so nobody can carry answers over."""
    one, other = parse(texts["courses"]), parse(texts["courses"] + "\n# changed\n")

    drawn = [[make_case(q, new, seed).parameters["run"] for seed in range(12)] for q in (one, other)]

    assert drawn[0] != drawn[1]


def test_it_speaks_both_languages_with_the_same_numbers(questions, new):
    """The stem is filled in both languages, in the reader's own units of speech."""
    case = make_case(questions["courses"], new, 3)
    run = Fraction(case.parameters["run"].removesuffix(" in")) / 12

    assert f"{int(run)} ft" in case.stem["en"]
    assert f"{int(run)} pies" in case.stem["es"]
    assert "{{" not in case.stem["en"] + case.stem["es"]


@given(seed=st.integers(0, 10**9))
@settings(max_examples=60, deadline=None)
def test_it_counts_courses_as_a_crew_lays_them(seed, questions, new):
    """Laying sheet after sheet until the deck is covered gives the same count (worked out here without the rule)."""
    case = make_case(questions["courses"], new, seed)
    roll, lap = new.give("roll_width", "base"), new.give("side_lap", "base")
    covered = roll - roll * new.give("starter_cut", "base") - new.give("overhang", "base")
    courses = 1
    while covered < Fraction(case.parameters["run"].removesuffix(" in")):
        covered += roll - lap
        courses += 1

    assert case.answer.value == courses


@given(seed=st.integers(0, 10**9))
@settings(max_examples=60, deadline=None)
def test_it_keeps_constraints_and_required_mistakes(seed, questions, new):
    """A case never breaks a bound of its question, and a required mistake always differs from the answer."""
    case = make_case(questions["courses"], new, seed)

    assert [mistake.id for mistake in case.mistakes] == ["forgot_the_lap"]
    assert case.mistakes[0].value != case.answer.value


def test_it_tells_why_a_mistake_is_one_with_the_steps_of_the_answer(questions, new):
    """A mistake's sentence may name steps of the answer's working, its own value and the answer."""
    case = make_case(questions["courses"], new, 3)
    exposure = new.give("roll_width", "base") - new.give("side_lap", "base")

    text = case.mistakes[0].text["en"]

    assert text.startswith(f"{case.mistakes[0].value} forgets the lap")
    assert f"{exposure // 12} ft {exposure % 12 // 1}" in text
    assert case.after["es"] == f"Cuente también el arranque: {case.answer.value}."


@pytest.mark.parametrize("name", KINDS)
def test_it_makes_a_case_again_from_its_parameters(name, questions, new):
    """The parameters a case keeps remake it whole: numbers, rows and their order."""
    case = make_case(questions[name], new, 5)

    again = make_case(questions[name], new, parameters=case.parameters)

    first, second = case_document(case), case_document(again)
    first.pop("seed"), second.pop("seed")
    assert first == second


def test_it_answers_old_parameters_under_another_revision(questions, old, new):
    """A revision that asks for wider laps changes answers to the old numbers, not the numbers."""
    changed = 0
    for seed in range(40):
        case = make_case(questions["line"], old, seed)
        again = make_case(questions["line"], new, parameters=case.parameters)
        assert again.parameters == case.parameters
        changed += again.answer.value != case.answer.value

    assert changed > 0


def test_it_refuses_parameters_that_do_not_fit(questions, new):
    """Missing, unreadable or impossible old parameters are told by name."""
    for parameters, said in (
        ({}, '"run" is missing'),
        ({"run": "wide"}, '"run"'),
        ({"run": "2 in"}, "outside the grid"),
    ):
        with pytest.raises(CaseError, match=said):
            make_case(questions["courses"], new, parameters=parameters)


def test_it_says_which_constraint_can_never_be_kept(texts, parse, new):
    """When no draw keeps a constraint, the error names the question, the revision and that constraint."""
    question = parse(texts["courses"].replace('at_least = "8 in"', 'at_least = "50 in"'))

    with pytest.raises(CaseError, match=r"samples/sample under two-ply-self-adhered/2026.*at_least 50 in"):
        make_case(question, new, 1)


def test_it_names_the_line_of_a_name_that_a_revision_lacks(texts, parse, new):
    """A name that neither question nor specification has is a content error at its line."""
    text = (
        texts["courses"]
        .replace("{{ side_lap }}. How", "{{ slide_lap }}. How")
        .replace("{{ side_lap }}. ¿C", "{{ slide_lap }}. ¿C")
    )
    line = next(number for number, one in enumerate(text.splitlines(), 1) if "slide_lap }}. How" in one)

    with pytest.raises(ContentError) as refused:
        make_case(parse(text), new, 1)

    problem = refused.value.problems[0]
    assert (problem.file, problem.line, problem.id) == ("lessons/samples/questions/sample.toml", line, "content.E204")
    assert '"slide_lap"' in problem.message


@given(seed=st.integers(0, 10**9))
@settings(max_examples=80, deadline=None)
def test_it_plants_at_most_one_fault(seed, questions, new):
    """A judged sheet has one failing reading or none, and each reading lies on the side it was meant to."""
    case = make_case(questions["readings"], new, seed)
    failing = [row for row in case.rows if not row.right]

    assert len(case.rows) == 3
    assert len(failing) <= 1
    assert case.answer.value == (("reject", failing[0].letter) if failing else ("accept",))


@given(seed=st.integers(0, 10**9))
@settings(max_examples=80, deadline=None)
def test_it_never_shows_steps_in_a_right_order(seed, questions, new):
    """The steps stand shuffled: what is shown breaks at least one pair, the answer none."""
    case = make_case(questions["steps"], new, seed)
    shown = {row.letter: place for place, row in enumerate(case.rows)}
    right = {letter: place for place, letter in enumerate(case.answer.value)}

    assert any(shown[pair.before] > shown[pair.after] for pair in case.pairs)
    assert all(right[pair.before] < right[pair.after] for pair in case.pairs)


@given(seed=st.integers(0, 10**9))
@settings(max_examples=80, deadline=None)
def test_it_shows_rows_that_differ(seed, questions, new):
    """Rows of numbers are at least three, all different, exactly one of them right."""
    case = make_case(questions["numbers"], new, seed)

    assert len({row.text["en"] for row in case.rows}) == len(case.rows) == 3
    assert sum(row.right for row in case.rows) == 1


@given(seed=st.integers(0, 10**9))
@settings(max_examples=80, deadline=None)
def test_it_lets_the_numbers_decide_which_rows_are_right(seed, questions, new):
    """A row's condition is worked out with the case's own numbers; rows whose `when` fails don't show."""
    case = make_case(questions["rows"], new, seed)
    lap = sum((Fraction(part) for part in case.parameters["lap"].removesuffix(" in").split()), Fraction(0))
    limit = new.give("end_lap", "base")

    for row in case.rows:
        assert row.right == {"leave_it": lap >= limit, "note_it": lap >= limit, "cover_it": lap < limit}.get(
            row.id, False
        )
        assert row.id != "heat_it" or lap < limit - 1
    assert 1 <= sum(row.right for row in case.rows) <= 2


def test_it_keeps_a_specification_as_long_as_its_plan(texts, parse, new):
    """A plan is found by where its specification lies; no other one can come to lie there while the plan is kept."""
    question, specification = parse(texts["courses"]), replace(new, revision="another")
    assert make_case(question, specification, 1).specification == f"{new.name}/another"
    kept = ref(specification)

    del specification
    gc.collect()
    assert kept() is not None
    assert make_case(question, replace(new, revision="a third"), 1).specification == f"{new.name}/a third"


def test_it_speaks_no_third_language(questions, new):
    """A text is there in two languages; another one is a mistake of the program, never an empty text."""
    stem = make_case(questions["line"], new, 3).stem

    assert list(stem) == ["en", "es"]
    with pytest.raises(KeyError, match="fr"):
        _ = stem["fr"]


@pytest.mark.parametrize("name", KINDS)
def test_it_ends_with_its_last_reader(name, questions, new):
    """A case that was read whole is gone once nobody holds it; no collector has to find it."""
    case = make_case(questions[name], new, 3)
    case_document(case)
    words = ref(case.words)

    gc.disable()
    try:
        del case
        assert words() is None
    finally:
        gc.enable()
