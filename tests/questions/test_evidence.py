"""Stored cases: whole, without floats, judged like the live case; and nothing of the answer in what is sent."""

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trainer.questions.cases import make_case
from trainer.questions.evidence import EvidenceError, case_document, case_from_document, public_case
from trainer.questions.sample_responses import right_response
from trainer.questions.verdict import judge

KINDS = ("courses", "line", "numbers", "rows", "steps", "readings", "spot")


def _leaves(value: Any):
    if isinstance(value, dict):
        for key, inner in value.items():
            assert isinstance(key, str)
            yield from _leaves(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _leaves(inner)
    else:
        yield value


def _responses(case):
    """Give right, wrong, blank and unreadable responses to a case."""
    letters = [row.letter for row in case.rows]
    yield right_response(case)
    yield {}
    yield from ({"text": mistake.shown["en"]} for mistake in case.mistakes)
    yield from ({"text": text} for text in ("3", "7 ft", "7' 3 1/16\"", "82 mm", "wide"))
    yield from ({"rows": [letter]} for letter in letters)
    yield {"order": letters}
    yield {"order": letters[::-1]}
    yield {"decision": "accept"}
    yield from ({"decision": "reject", "reading": letter} for letter in letters)
    yield from ({"part": letter} for letter in (*letters, "Z"))


@pytest.mark.parametrize("name", KINDS)
@given(seed=st.integers(0, 10**6))
@settings(max_examples=15, deadline=None)
def test_it_judges_from_the_stored_document_alone(name, seed, questions, new):
    """A case written as JSON and read back gives the same verdict on every response, in both languages."""
    case = make_case(questions[name], new, seed)
    stored = case_from_document(json.loads(json.dumps(case_document(case))))

    for response in _responses(case):
        for language in ("en", "es"):
            assert judge(stored, response, language) == judge(case, response, language)


@pytest.mark.parametrize("name", KINDS)
def test_it_writes_the_same_document_again(name, questions, new):
    """Reading a document back and writing it again changes nothing."""
    document = case_document(make_case(questions[name], new, 8))

    assert case_document(case_from_document(document)) == document


@pytest.mark.parametrize("name", KINDS)
def test_it_stores_no_float_and_both_languages(name, questions, new):
    """A document holds texts, whole numbers and truth values only, and is whole in both languages."""
    document = case_document(make_case(questions[name], new, 8))

    assert {type(leaf) for leaf in _leaves(document)} <= {str, int, bool, type(None)}
    assert document["stem"]["en"] != document["stem"]["es"]
    assert document["specification"] == "two-ply-self-adhered/2026"


def test_it_stores_what_an_auditor_asks_for(questions, new):
    """Answer and tolerance as exact texts, rule editions, mistakes with their values, steps, the drawing."""
    document = case_document(make_case(questions["line"], new, 8))

    assert document["answer"]["value"].endswith(" in")
    assert document["answer"]["within"] == "1/8 in"
    assert set(document["rule_editions"]) == {"chalk_lines", "starter_width"}
    assert {mistake["id"] for mistake in document["mistakes"]} == {"forgot_the_lap", "full_first_sheet"}
    assert document["steps"]["es"][-1]["value"] == document["answer"]["value"]
    drawn = case_document(make_case(questions["courses"], new, 8))["drawing"]
    assert drawn["en"]["svg"].startswith("<svg")
    assert drawn["en"]["alt"] != drawn["es"]["alt"]


@pytest.mark.parametrize("damage", ["answer", "rows", "stem", "format"])
def test_it_refuses_a_document_that_is_not_whole(damage, questions, new):
    """A missing part or an unknown format is told, not guessed."""
    document = case_document(make_case(questions["numbers"], new, 8))
    del document[damage]

    with pytest.raises(EvidenceError):
        case_from_document(document)


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("name", KINDS)
def test_it_sends_nothing_of_the_answer(name, language, questions, new):
    """What a trainee sees holds no answer, mistake, seed, parameter, right flag or row id, in any nesting."""
    for seed in range(910_000, 910_030):
        case = make_case(questions[name], new, seed)
        public = public_case(case, language)
        leaves = [leaf for leaf in _leaves(public) if isinstance(leaf, str) and not leaf.startswith("<svg")]

        assert set(public) <= {
            "question", "kind", "units", "title", "stem", "drawing", "dimension", "unit", "pick", "rows", "readings",
            "within", "targets", "limits",
        }  # fmt: skip
        assert all(set(one) == {"letter", "x", "y", "width", "height"} for one in public.get("targets", []))
        assert all(set(one) == {"place", "limit", "tolerance"} for one in public.get("limits", []))
        assert all(set(row) == {"id", "letter", "text"} for row in public["rows"])
        assert all(set(row) == {"number", "place", "reading", "limit", "tolerance"} for row in public["readings"])
        assert str(seed) not in json.dumps(public)
        for row in case.rows:
            assert row.id not in leaves
            assert row.why is None or row.why[language] not in leaves
        for mistake in case.mistakes:
            assert mistake.id not in leaves
            assert mistake.text[language] not in leaves
        if case.kind in ("measure", "count"):
            assert case.answer.text[language] not in leaves
        assert case.steps[language] == [] or case.steps[language][-1]["label"] not in leaves


def test_it_hides_limits_when_the_question_says_so(texts, parse, new):
    """With show_limits = false the sheet has no limit and no tolerance; the verdict still has them."""
    case = make_case(parse(texts["readings"].replace("show = 3", "show = 3\nshow_limits = false")), new, 1)

    assert {(row["limit"], row["tolerance"]) for row in public_case(case, "en")["readings"]} == {("", "")}
    assert all(row.limit["en"] for row in case.rows)
