"""What holds for every rule: its steps, how it grows, what it refuses, and that nothing about it is missing."""

import subprocess
import sys
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rules.samples import INPUTS, REFUSAL, sample, scaled
from tests.rules.steps import assert_steps, dimension_of
from trainer.rules import REGISTRY, Rule, RuleInputError, UnknownRuleError, get_rule, resolve_inputs
from trainer.rules.dimensions import COUNT, FLAG, LENGTHS
from trainer.rules.languages import LANGUAGES
from trainer.rules.registry import TOPIC_MODULES
from trainer.rules.words import label, rule_title, steps_text, topic_title, word

RULES = pytest.mark.parametrize("rule", REGISTRY.values(), ids=lambda rule: rule.name)
Any_Rule = Rule[..., Any]


@RULES
def test_it_shows_steps_that_work_out(rule: Any_Rule) -> None:
    """Every step's expression, read by a second reader, gives the value shown; the last one is the result."""
    assert_steps(rule.work(**sample(rule)))


@RULES
def test_it_rounds_only_to_whole_pieces(rule: Any_Rule) -> None:
    """A value that is rounded is the whole number next above what it was before; any other is kept as it is."""
    working = rule.work(**sample(rule))

    if rule.result is COUNT:
        assert working.value >= working.before_rounding - 1
    else:
        assert working.before_rounding == working.value


@pytest.mark.parametrize("rule", [rule for rule in REGISTRY.values() if rule.scales], ids=lambda rule: rule.name)
def test_it_grows_as_its_dimension_says(rule: Any_Rule) -> None:
    """With every length three times as long a length triples, an area grows ninefold, a count stays."""
    inputs = sample(rule)
    once, thrice = rule.work(**inputs), rule.work(**scaled(rule, inputs, 3))

    for small, large in zip(once.steps, thrice.steps, strict=True):
        by = 3 ** dimension_of(rule, small.name).power
        entries = small.value if isinstance(small.value, tuple) else (small.value,)
        grown = large.value if isinstance(large.value, tuple) else (large.value,)
        assert grown == pytest.approx([entry * by for entry in entries], rel=1e-12), small.name


@RULES
def test_it_says_where_it_comes_from_and_what_it_is(rule: Any_Rule) -> None:
    """Every rule has a source, an edition, a docstring, a title and labelled names in both languages."""
    assert rule.source.document
    assert rule.edition >= 1
    assert rule.doc.endswith(".")
    names = {item.name for item in rule.inputs} | {step.name for step in rule.work(**sample(rule)).steps}
    for language in LANGUAGES:
        assert rule_title(rule.name, language)
        assert topic_title(rule.topic, language)
        assert all(label(name, language) for name in names)
    for name in names - {rule.gives}:
        assert word(name).dimension is dimension_of(rule, name), name


@RULES
@pytest.mark.parametrize("units", ["imperial", "metric"])
@pytest.mark.parametrize("language", LANGUAGES)
def test_it_writes_its_steps_out_in_both_languages_and_units(rule: Any_Rule, units: str, language: str) -> None:
    """Every step is written with its values filled in: no name in braces, no fraction object, a plain number."""
    lines = steps_text(rule.work(**sample(rule)), language, units)

    for line in lines:
        assert "{" not in line["expression"]
        assert "Fraction" not in line["expression"] + line["text"]
        assert line["label"]
        entries = line["value"] if isinstance(line["value"], list) else [line["value"]]
        assert all(isinstance(entry, int | float) for entry in entries)


@RULES
def test_it_names_an_input_that_is_missing(rule: Any_Rule) -> None:
    """Leaving out a required input is refused by name."""
    for item in rule.inputs:
        if item.required:
            given_inputs = {name: value for name, value in sample(rule).items() if name != item.name}
            with pytest.raises(RuleInputError) as refused:
                rule.answer(given_inputs)

            assert refused.value.name == item.name
            assert refused.value.value == "missing"


@RULES
@given(data=st.data())
@REFUSAL
def test_it_refuses_what_cannot_be(rule: Any_Rule, data: st.DataObject) -> None:
    """NaN, infinities, other dimensions, negatives and monsters are refused with input, value, limit and mending."""
    item = data.draw(st.sampled_from(rule.inputs))
    bad = data.draw(st.sampled_from(_bad_values(item.dimension)))
    inputs = {**sample(rule), item.name: bad}

    with pytest.raises(RuleInputError) as refused:
        rule.answer(inputs)

    error = refused.value
    assert error.rule == rule.name
    assert error.name == item.name
    assert error.value
    assert error.limit
    assert error.mending
    for part in (item.name, error.value, error.limit, error.mending):
        assert part in str(error)
    assert label(item.name, "es") in error.text("es")


def _bad_values(dimension: Any) -> list[Any]:
    """Values that no rule may take for an input of this dimension."""
    bad: list[Any] = [
        float("nan"),
        float("inf"),
        float("-inf"),
        "",
        "   ",
        "abc",
        "5 parsecs",
        object(),
        "1/0",
        {},
        b"1",
    ]
    if dimension is LENGTHS:
        return [*bad[:3], "abc", object(), {}, (float("nan"),), (Fraction(-1),), (Fraction(10**9),), "1 ft; x"]
    if dimension is FLAG:
        return [*bad, 2, "maybe"]
    bad += ["5 kg" if dimension.name != "mass" else "5 ft", True, (1, 2), 10**12, -(10**12)]
    if dimension.least is not None:
        bad += [-1 + dimension.least, str(-1 + dimension.least)]
    if dimension is COUNT:
        bad += ["2.5", 2.5, Fraction(1, 2), "3 in"]
    return bad


@RULES
def test_it_refuses_an_input_it_does_not_know(rule: Any_Rule) -> None:
    """A misspelt input is refused and the near one named."""
    with pytest.raises(RuleInputError, match="an input of this rule") as refused:
        rule.answer({**sample(rule), rule.inputs[0].name + "s": 1})

    assert rule.inputs[0].name in refused.value.mending


@RULES
def test_it_keeps_every_limit(rule: Any_Rule) -> None:
    """Every limit between inputs refuses the value just beyond it and names the input."""
    for limit in rule.limits:
        inputs = sample(rule)
        bound = inputs[limit.bound] if isinstance(limit.bound, str) else limit.bound
        edge = bound + limit.plus
        step = 0 if limit.relation in "><" else (Fraction(1, 64) if rule_kind(rule, limit.name) is Fraction else 1)
        beyond = edge - step if limit.relation.startswith(">") else edge + step
        if isinstance(inputs[limit.name], tuple):
            beyond = ()
        with pytest.raises(RuleInputError) as refused:
            rule.answer({**inputs, limit.name: beyond})

        assert refused.value.name == limit.name


def rule_kind(rule: Any_Rule, name: str) -> type:
    """The Python type of an input."""
    return next(item.dimension.kind for item in rule.inputs if item.name == name)


@RULES
def test_it_gives_the_same_in_metric(rule: Any_Rule) -> None:
    """Inputs written in metric units, exactly converted, give exactly the same value."""
    inputs = sample(rule)
    metric = {}
    for item in rule.inputs:
        value = inputs[item.name]
        if item.dimension.name in {"length", "difference of lengths"}:
            metric[item.name] = f"{(value * 254).numerator}/{(value * 254).denominator * 10} mm"
        elif item.dimension is LENGTHS:
            metric[item.name] = "; ".join(
                f"{(entry * 254).numerator}/{(entry * 254).denominator * 10} mm" for entry in value
            )
        else:
            metric[item.name] = value

    assert rule.answer(metric).value == rule.work(**inputs).value


def test_it_has_enough_rules_in_every_topic() -> None:
    """Every topic module registers rules, and every rule belongs to a topic module."""
    modules = {rule.function.__module__.rpartition(".")[2] for rule in REGISTRY.values()}

    assert modules == set(TOPIC_MODULES)
    assert len(REGISTRY) >= 18


def test_it_has_a_sample_for_every_input_and_no_other() -> None:
    """The table of samples holds just the inputs that rules have."""
    assert {item.name for rule in REGISTRY.values() for item in rule.inputs} == set(INPUTS)


def test_it_lists_near_names_for_an_unknown_rule() -> None:
    """A misspelt rule is answered with the near ones."""
    with pytest.raises(UnknownRuleError, match="Did you mean course_count") as refused:
        get_rule("course_cont")

    assert str(refused.value).startswith("no rule is called")
    with pytest.raises(UnknownRuleError, match=r"manage\.py rules"):
        get_rule("zzzz")


def test_it_takes_inputs_by_position_but_not_too_many() -> None:
    """A rule is called like the function it is."""
    nails = get_rule("nails_along")

    assert nails("10 ft", "8 in").value == 16
    with pytest.raises(TypeError, match="takes 2 inputs, 3 were given"):
        nails("10 ft", "8 in", "1 in")


def test_it_works_out_an_input_that_another_rule_gives() -> None:
    """The width of the starter comes from its own rule when the specification holds what that one needs."""

    class Held:
        def give(self, name: str, part: str | None = None) -> Any:
            held = {
                "roll_width": Fraction(36),
                "starter_cut": Fraction(1, 3),
                "side_lap": Fraction(3),
                "overhang": Fraction(2),
            }
            return held.get(name)

    inputs = resolve_inputs(get_rule("course_count"), {"run": "20 ft"}, Held())

    assert inputs["starter_width"] == 24
    with pytest.raises(RuleInputError, match="edge is missing"):
        resolve_inputs(get_rule("nails_along"), {}, Held())


def test_it_imports_without_heavy_modules() -> None:
    """Importing the rules loads neither Django nor numpy, pint or tomllib, nor what only errors or files need."""
    heavy = {
        "django", "numpy", "scipy", "pint", "tomllib", "inspect", "dataclasses", "difflib", "pathlib", "json",
        "logging", "asyncio", "random",
    }  # fmt: skip
    code = f"import sys, trainer.rules\nprint(sorted({heavy} & {{name.partition('.')[0] for name in sys.modules}}))"
    bare = [sys.executable, "-S", "-c", code]  # -S: what a site's own start-up files import says nothing of the rules
    found = subprocess.run(bare, capture_output=True, text=True, check=True)

    assert found.stdout.strip() == "[]"


def test_it_loads_no_topic_before_one_is_asked_for() -> None:
    """Topics, the table of words and the parser of specifications load on first use."""
    code = (
        "import sys, trainer.rules\n"
        "print(sorted(name for name in sys.modules if name.startswith('trainer.rules.')))\n"
        "trainer.rules.get_rule('net_area')\n"
        "print('trainer.rules.take_off' in sys.modules)"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert found.stdout.splitlines() == [
        str([f"trainer.rules.{name}" for name in (
            "dimensions", "exact", "languages", "lengths", "limits", "registry", "words", "working",
        )]),
        "True",
    ]  # fmt: skip
