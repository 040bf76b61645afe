"""The small parts: expressions, texts with names, quantities as stored, module files."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.questions.expressions import ExpressionError, compile_expression
from trainer.questions.modules import parse_module
from trainer.questions.quantities import any_quantity, stored_text, stored_value
from trainer.questions.templates import TemplateError, compile_template
from trainer.rules import DIMENSIONS
from trainer.rules.specification import ContentError


def _work(text: str, *, condition: bool = False, **scope: object) -> object:
    return compile_expression(text, any_quantity, condition=condition).work(scope)


@given(st.integers(-50, 50), st.integers(1, 50), st.integers(1, 50))
def test_it_works_sums_out_exactly(one, other, third):
    """Whole numbers divide into fractions, never into floats; the usual order of operations holds."""
    assert _work("a / b", a=one, b=other) == Fraction(one, other)
    assert _work("a + b * c - 2", a=one, b=other, c=third) == one + other * third - 2
    assert _work("-(a - b) / c", a=one, b=other, c=third) == Fraction(other - one, third)


def test_it_reads_quantities_in_quotes():
    """A quantity in single quotes counts in its dimension's own unit."""
    assert _work("lap + '1/2 in'", lap=Fraction(4)) == Fraction(9, 2)
    assert _work("'2 ft' > lap and not lap == '4 in'", condition=True, lap=Fraction(5)) is True
    assert _work("low < cap.lap <= '6 in'", condition=True, **{"low": 3, "cap.lap": 6}) is True


@pytest.mark.parametrize(
    "text",
    [
        "open('x')", "a.__class__", "[a for a in b]", "lambda: 1", "a if b else c", "a ** 9", "1.5 + a", "a[0]",
        "f'{a}'", "a and b", "a < b", "(x := 1)", "a @ b", "True", "A + 1", "a +", "", "'3 furlongs' + a",
        "~a", "a, b", "*a",
    ],
)  # fmt: skip
def test_it_refuses_everything_that_is_no_sum(text):
    """Only names, whole numbers, quoted quantities and + - * / make a sum; nothing else runs."""
    with pytest.raises(ValueError, match=r"."):
        compile_expression(text, any_quantity)


def test_it_refuses_a_nest_without_end():
    """Thousands of brackets are refused, not run out of memory with."""
    with pytest.raises(ExpressionError):
        compile_expression("(" * 5000 + "a" + ")" * 5000, any_quantity)


def test_it_fills_names_and_leaves_the_rest():
    """Names are filled wherever they stand; braces around anything else are refused with their place."""
    template = compile_template("{{ a }} of {{part.b}}, {{ a }}.")

    assert template.names == ("a", "part.b", "a")
    assert template.fill({"a": "1", "part.b": "2"}.__getitem__) == "1 of 2, 1."
    assert template.folded({"a": "1"}).names == ("part.b",)
    assert template.folded({"a": "1"}).fill(lambda name: "x") == "1 of x, 1."
    with pytest.raises(TemplateError) as refused:
        compile_template("abc {{ a|b }}")
    assert refused.value.offset == 4


@given(st.fractions(min_value=-(10**6), max_value=10**6))
def test_it_stores_every_number_exactly(number):
    """Any exact quantity is written with its unit and read back the same."""
    for name in ("length", "area", "temperature", "volume", "rate", "share", "angle", "slope", "difference of lengths"):
        dimension = DIMENSIONS[name]
        assert stored_value(stored_text(number, dimension), dimension) == number


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("3", 3),
        ("1/3", Fraction(1, 3)),
        ("6 in", Fraction(6)),
        ("2 ft", Fraction(24)),
        ("10.1 fl oz", Fraction(101, 10)),
    ],
)
def test_it_reads_a_quantity_by_its_unit(text, expected):
    """The unit alone tells what a quantity is; a bare number is a count or a fraction."""
    assert any_quantity(text) == expected


MODULE = """title = { en = "Edge metal", es = "Metal de borde" }
specification = "two-ply-self-adhered"
minutes = 8
summary = { en = "Set the metal.", es = "Poner el metal." }
[check]
questions = 10
topics = { fastening = 6, laps = 4 }
passing_score = 8
reason = { en = "Eight of ten.", es = "Ocho de diez." }
minutes = 30
wait_hours = 24
valid_months = 24
critical = ["edge-metal/order"]
"""


def test_it_reads_a_module():
    """A module file gives the module's name from its folder and the whole plan of its check."""
    module = parse_module(MODULE, "lessons/edge-metal/module.toml")

    assert (module.name, module.title["es"], module.specification) == (
        "edge-metal",
        "Metal de borde",
        "two-ply-self-adhered",
    )
    assert module.check.topics == {"fastening": 6, "laps": 4}
    assert (module.check.passing_score, module.check.wait_hours, module.check.valid_months) == (8, 24, 24)
    assert module.check.critical == ("edge-metal/order",)


@pytest.mark.parametrize(
    ("old", "new", "line", "said"),
    [
        ("questions = 10", "questions = 11", 7, "the topics ask for 10"),
        ("passing_score = 8", "passing_score = 80", 8, "nobody can get 80 of 10"),
        ("passing_score = 8", 'passing_score = "8"', 8, "a whole number from 1 to 100"),
        ("wait_hours = 24", "wait_hours = -1", 11, "a whole number from 0"),
        ('es = "Metal de borde"', 'es = ""', 1, "an empty language"),
        ('es = "Ocho de diez."', 'de = "Acht von zehn."', 9, "both languages"),
        ("valid_months = 24", "valid_month = 24", 12, "valid_month"),
    ],
)
def test_it_refuses_a_broken_module(old, new, line, said):
    """Each fault is told at its line with how to mend it."""
    with pytest.raises(ContentError) as refused:
        parse_module(MODULE.replace(old, new), "lessons/edge-metal/module.toml")

    assert any(problem.line == line and said in problem.message for problem in refused.value.problems)
