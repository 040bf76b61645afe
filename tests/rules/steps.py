"""Whether the steps of a working add up, read by the second reader."""

from typing import Any

import pytest

from tests.rules.arithmetic import work_out
from tests.rules.samples import inches
from trainer.rules import Rule, Working
from trainer.rules.words import word


def dimension_of(rule: Rule[..., Any], name: str) -> Any:
    """The dimension a name has within a rule: the signature's, else the table's."""
    if name == rule.gives:
        return rule.result
    return next((item.dimension for item in rule.inputs if item.name == name), None) or word(name).dimension


def assert_steps(working: Working[Any]) -> None:
    """Every step's expression gives the value shown, whatever branch was taken; the last one is the result."""
    rule = working.rule
    assert rule is not None
    values = {
        item.name: inches(item.dimension, working.inputs[item.name])
        for item in rule.inputs
        if working.inputs[item.name] is not None
    }
    for step in working.steps:
        shown = inches(dimension_of(rule, step.name), step.value)
        values[step.name] = shown
        assert work_out(step.expression, values, shown) == pytest.approx(shown, rel=1e-12, abs=1e-12), step
    assert working.steps[-1].name == rule.gives
    assert working.steps[-1].value == working.value
