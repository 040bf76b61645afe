"""Every rule is used where people work: by a question, a drawing, the bill of materials or the calculator."""

import ast
import tomllib
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from trainer.library.calculator.catalog import FIRST
from trainer.rules import REGISTRY

ROOT = Path(__file__).parents[2]
ASKED_BY = {"worked_out", "steps_of", "get_rule", "work"}
"""What drawings and the bill of materials call to ask a rule, its name among the arguments."""


@cache
def uses() -> dict[str, set[str]]:
    """Give, for every rule, where it is used apart from the calculator's longer list."""
    found: dict[str, set[str]] = defaultdict(set)
    for path in (ROOT / "lessons").glob("*/questions/*.toml"):
        for name in _in_question(tomllib.loads(path.read_text(encoding="utf-8"))):
            found[name].add(f"question {path.parts[-3]}/{path.stem}")
    for path in (ROOT / "trainer" / "drawings").glob("*.py"):
        for name in _in_code(path):
            found[name].add(f"drawing {path.stem}")
    for name in _in_code(ROOT / "trainer" / "rules" / "bill.py"):
        found[name].add("bill of materials")
    for name in _in_code(ROOT / "trainer" / "library" / "calculator" / "answer.py"):
        found[name].add("drawing of the calculator")
    for name in FIRST:
        found[name].add("front of the calculator")
    return found


def _in_question(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        if isinstance(value.get("rule"), str):
            yield value["rule"]
        for entry in value.values():
            yield from _in_question(entry)
    elif isinstance(value, list):
        for entry in value:
            yield from _in_question(entry)


def _in_code(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and _asks(node):
            yield from _names(node.args)
        elif isinstance(node, ast.For) and any(isinstance(one, ast.Call) and _asks(one) for one in ast.walk(node)):
            yield from _names([entry for entry in ast.walk(node.iter) if isinstance(entry, ast.expr)])


def _asks(call: ast.Call) -> bool:
    return getattr(call.func, "id", getattr(call.func, "attr", "")) in ASKED_BY


def _names(entries: list[ast.expr]) -> Iterator[str]:
    for entry in entries:
        if isinstance(entry, ast.Constant) and isinstance(entry.value, str) and entry.value in REGISTRY:
            yield entry.value


FALLS = (
    "falls are taught on site by a competent person: lessons caution, and the number is looked up with its jurisdiction"
)
WRITTEN = "worked out at a desk, from a plan or a delivery note, not on the roof"
CHECKED = "questions read the same limit off a sheet, one reading at a time; a foreman reckons with the rule"
BESIDE = "another way to say or to reach what a neighboring rule, asked by questions, gives"
ON_THE_CALCULATOR: dict[str, str] = {
    **dict.fromkeys(
        (
            "is_low_slope", "monitor_alone_allowed", "setback_by_work", "warning_line_length",
            "area_inside_warning_line", "flags_round_line", "flags_between_stanchions", "free_fall",
            "free_fall_allowed", "fall_clearance", "fall_clearance_left", "top_rail_within",
            "warning_line_height_within", "hole_cover_accepted", "ladder_top_height",
            "ladder_working_length", "rungs_above_landing", "extinguishers_by_area", "extinguisher_in_reach",
            "extinguisher_10b_in_reach", "flammables_owe_10b",
        ),
        FALLS,
    ),
    **dict.fromkeys(("plan_area", "plan_edge", "nails_weight", "steel_thickness"), WRITTEN),
    **dict.fromkeys(("joint_gap_over", "lap_shortfall", "stacked_load_within", "surface_above_dew"), CHECKED),
    **dict.fromkeys(
        ("slope_angle", "length_up_slope", "sampling_letter", "chance_accepted_large", "clean_looks_needed"), BESIDE
    ),
}  # fmt: skip
"""Rules that only the calculator's longer list asks, and why no question or drawing does."""


@pytest.mark.parametrize("name", REGISTRY)
def test_it_uses_every_rule(name: str) -> None:
    """A rule that nobody asks is dead; one that only the calculator asks says why."""
    assert uses()[name] or ON_THE_CALCULATOR.get(name), f"nothing asks {name}"


def test_it_excuses_no_rule_that_is_used() -> None:
    """The list of excuses is as short as it can be, and names rules that there are."""
    assert [name for name in ON_THE_CALCULATOR if uses()[name]] == []
    assert set(ON_THE_CALCULATOR) <= set(REGISTRY)


def test_it_finds_uses_where_they_are() -> None:
    """The search itself sees each kind of use."""
    assert "question base-sheet-layout/course-count" in uses()["course_count"]
    assert "drawing metal" in uses()["metal_pieces"]
    assert "bill of materials" in uses()["strip_still_needed"]
    assert "front of the calculator" in uses()["ladder_rail_length"]
    assert all(name in REGISTRY for name in uses())
