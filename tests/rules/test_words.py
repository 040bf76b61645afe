"""The table of words: labels, titles, and steps written out for the reader."""

from fractions import Fraction

import pytest

from tests.rules.samples import sample
from trainer.rules import REGISTRY, get_rule
from trainer.rules.dimensions import COUNT, LENGTH
from trainer.rules.words import label, rule_title, steps_text, topic_title, value_text, word


def test_it_finds_a_word_with_its_dimension_and_other_names() -> None:
    """Dimension, both labels and what specifications call it besides."""
    assert word("run").dimension is LENGTH
    assert word("run").labels == {"en": "deck up the slope", "es": "plataforma pendiente arriba"}
    assert word("run").also == ()
    assert word("spacing").also == ("nail_spacing",)
    assert word("courses").dimension is COUNT


def test_it_names_a_word_that_the_table_lacks() -> None:
    """The message says what to add; a label is made of the name itself."""
    with pytest.raises(KeyError) as refused:
        word("no_such_name")

    assert refused.value.args[0] == "'no_such_name' is not in words.toml; add it with its dimension and both labels"
    assert label("no_such_name") == label("no_such_name", "es") == "no such name"
    assert (label("run"), label("run", "es")) == ("deck up the slope", "plataforma pendiente arriba")


def test_it_titles_rules_and_topics() -> None:
    """In both languages; a name without a title is an error."""
    assert rule_title("starter_width") == rule_title("starter_width", "en")
    assert rule_title("starter_width", "es") != rule_title("starter_width")
    assert topic_title("take-off") == topic_title("take-off", "en") == "Take-off"
    assert topic_title("take-off", "es") != "Take-off"
    for name, rule in REGISTRY.items():
        for language in ("en", "es"):
            assert rule_title(name, language).strip()
            assert topic_title(rule.topic, language).strip()
    for title in (rule_title, topic_title):
        with pytest.raises(KeyError):
            title("no_such_name")


def test_it_writes_a_value_of_a_name() -> None:
    """By the name's dimension, in the reader's language and units."""
    assert value_text("run", Fraction(294)) == "24 ft 6 in"
    assert value_text("run", Fraction(294), "es") == "24 pies 6 pulg"
    assert value_text("run", Fraction(294), "en", "metric") == value_text("run", Fraction(294), units="metric")
    assert value_text("run", Fraction(10_000, 254), units="metric") == "1 m"


def test_it_writes_steps_out() -> None:
    """Name, label, expression with its values, value as a number and as a text."""
    working = get_rule("starter_width")("39 3/8 in", "1/3")

    assert steps_text(working) == steps_text(working, "en", "imperial") == [
        {"name": "starter_rip", "label": "strip cut off the first course", "expression": "3 ft 3 3/8 in × 1/3",
         "value": 13.125, "text": "1 ft 1 1/8 in"},
        {"name": "starter_width", "label": "first course width", "expression": "3 ft 3 3/8 in − 1 ft 1 1/8 in",
         "value": 26.25, "text": "2 ft 2 1/4 in"},
    ]  # fmt: skip
    assert steps_text(working, "es", "metric")[0] == {
        "name": "starter_rip", "label": "tira que se corta de la hilera de arranque", "expression": "1 m × 1/3",
        "value": 13.125, "text": "333 mm",
    }  # fmt: skip


def test_it_names_functions_and_long_lists_in_an_expression() -> None:
    """A function is called by its name in the language; a list of more than three by its label."""
    short = get_rule("least_stagger")(["16 ft", "32 ft"], ["13 ft"])
    long = get_rule("least_stagger")(["16 ft", "32 ft", "48 ft", "64 ft"], ["13 ft", "29 ft", "45 ft"])

    assert steps_text(short)[0]["expression"] == "nearest of (16 ft; 32 ft; 13 ft)"
    assert steps_text(long)[0]["expression"] == f"nearest of ({label('upper')}; 13 ft; 29 ft; 45 ft)"
    spanish = steps_text(long, "es")[0]["expression"]
    assert spanish.endswith(f"({label('upper', 'es')}; 13 pies; 29 pies; 45 pies)")
    assert not spanish.startswith("nearest")


@pytest.mark.parametrize(
    ("rule", "step", "expression"),
    [
        ("squaring_diagonal", "diagonal", "√((60 ft)² + (80 ft)²)"),  # 60 ft² would be an area
        ("wind_chill", "wind_term", "(15 mph)^0.16"),
        ("fall_over_run", "fall", "24 ft 6 in × 3/16 in per ft"),
        ("dew_point", "magnus", "ln(50%) + 17.625 × 21.1111 ÷ (243.04 + 21.1111)"),
        ("joint_gap_over", "gap_over", "greatest of (3/8 in − 1/4 in; 0)"),
        ("nails_two_rows_each", "nails_row_two", "gaps"),  # "130 = 130" would say nothing
        ("plan_looks", "looks", "least of (sample for (D; 6.5%); 40)"),
    ],
)
def test_it_writes_an_expression_as_people_read_it(rule: str, step: str, expression: str) -> None:
    """Powers of a quantity in brackets, functions in words, no comma that could be one of thousands."""
    lines = steps_text(get_rule(rule).work(**sample(get_rule(rule))))

    assert {line["name"]: line["expression"] for line in lines}[step] == expression


def test_it_leaves_out_inputs_that_were_not_given() -> None:
    """An optional input without a value does not stand among the values."""
    rule = get_rule("lap_offset")
    working = rule.work(**{**sample(rule), "cap_starter_width": None})

    assert "{" not in "".join(line["expression"] for line in steps_text(working))
