"""A rule whose result changes says so by a new edition."""

import json
from typing import Any

import pytest

from tests.rules.editions import FILE, forgotten, golden
from trainer.rules import REGISTRY, Rule

STORED: dict[str, Any] = json.loads(FILE.read_text(encoding="utf-8"))


@pytest.mark.parametrize("rule", REGISTRY.values(), ids=lambda rule: rule.name)
def test_it_gives_the_values_of_its_edition(rule: Rule[..., Any]) -> None:
    """Value and steps are those that `python -m tests.rules.editions` wrote when the edition was raised."""
    assert STORED[rule.name] == golden(rule)


def test_it_holds_no_rule_that_is_gone() -> None:
    """The file lists the rules there are."""
    assert set(STORED) == set(REGISTRY)


def test_it_notices_a_forgotten_edition() -> None:
    """A changed value under the same edition is named; under a raised one it is not."""
    name = next(iter(STORED))
    changed = json.loads(json.dumps(STORED[name]))
    changed["cases"][0]["value"] = "-1"

    assert forgotten(STORED, {name: changed}) == [name]
    assert forgotten(STORED, {name: {**changed, "edition": changed["edition"] + 1}}) == []
