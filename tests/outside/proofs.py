"""What proves a rule from outside: a test that compares with somebody else's number, and fails when the rule is wrong.

A test says with `against` what it compares with. A rule counts as proven only where such a test fails once the rule's
result is spoiled, so neither a name in a text nor a call without a comparison is a proof.
"""

import importlib
import random
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from fractions import Fraction
from functools import cache, partial
from itertools import product
from pathlib import Path
from typing import Any, NamedTuple, TypeVar

import pytest

from trainer.rules import REGISTRY, Rule, Working

PUBLISHED, EXAMPLE, CHART = "published value", "published worked example", "published table or chart"
LIBRARY, SOLVER = "library", "exact solver"
BYTES = [random.Random(seed).randbytes(2_000) for seed in range(25)]
FEW = 40  # cases of one test that are tried until one notices: a test with more of them repeats itself
Test = TypeVar("Test", bound=Callable[..., None])


class Trial(NamedTuple):
    """One case of a test, and what it compares with."""

    oracle: str
    test: str
    run: Callable[[], object]


def against(oracle: str, name: str = "") -> Callable[[Test], Test]:
    """Say what a test compares with: a published number, or a library or solver by its name."""

    def mark(test: Test) -> Test:
        test.oracle = f"{oracle} ({name})" if name else oracle  # type: ignore[attr-defined]
        return test

    return mark


def _cases(test: Callable[..., None]) -> Iterator[dict[str, Any]]:
    """Give the arguments of every case of a test, as pytest would."""
    sets: list[list[dict[str, Any]]] = []
    for mark in getattr(test, "pytestmark", []):
        if mark.name == "parametrize":
            names = mark.args[0].split(",") if isinstance(mark.args[0], str) else list(mark.args[0])
            entries = [getattr(entry, "values", entry) if isinstance(entry, tuple) else entry for entry in mark.args[1]]
            sets.append([
                dict(zip((name.strip() for name in names), entry if len(names) > 1 else [_alone(entry)], strict=True))
                for entry in entries
            ])  # fmt: skip
    for chosen in product(*sets):
        yield {name: value for given in chosen for name, value in given.items()}


def _alone(entry: Any) -> Any:
    return entry[0] if isinstance(entry, tuple) and len(entry) == 1 else entry


@cache
def trials() -> dict[str, list[Trial]]:
    """Give, for every rule, the cases that ask it: each is run once, unspoiled, and watched."""
    asking: dict[str, list[Trial]] = defaultdict(list)
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        if path.stem == "test_every_rule":
            continue
        module = importlib.import_module(f"tests.outside.{path.stem}")
        for name, test in vars(module).items():
            if name.startswith("test_") and hasattr(test, "oracle"):
                for trial in _trials_of(test, name):
                    for rule in _asked(trial):
                        asking[rule].append(trial)
    return asking


def _trials_of(test: Any, name: str) -> Iterator[Trial]:
    if hasattr(test, "hypothesis"):  # a failing run would look for the smallest example: a few drawn here do
        for drawn in BYTES:
            yield Trial(test.oracle, name, partial(test.hypothesis.fuzz_one_input, drawn))
    else:
        for given in _cases(test):
            yield Trial(test.oracle, name, partial(test, **given))


def _asked(trial: Trial) -> set[str]:
    asked: set[str] = set()

    def watching(rule: Rule[..., Any]) -> Callable[..., Working[Any]]:
        function = rule.function

        def watched(*args: Any, **inputs: Any) -> Working[Any]:
            asked.add(rule.name)
            return function(*args, **inputs)

        return watched

    with _replaced({name: watching(rule) for name, rule in REGISTRY.items()}):
        trial.run()
    return asked


@contextmanager
def _replaced(functions: dict[str, Callable[..., Working[Any]]]) -> Iterator[None]:
    kept = {name: REGISTRY[name].function for name in functions}
    try:
        for name, function in functions.items():
            REGISTRY[name].function = function
        yield
    finally:
        for name, function in kept.items():
            REGISTRY[name].function = function


def spoiled(value: Any) -> Any:
    """Give a wrong value: the other truth, one more, a tenth and a hundredth more."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, tuple):
        return tuple(spoiled(entry) for entry in value)
    return value + 1 if isinstance(value, int) else value * Fraction(11, 10) + Fraction(1, 100)


def _wrong(function: Callable[..., Working[Any]]) -> Callable[..., Working[Any]]:
    def wrong(*args: Any, **inputs: Any) -> Working[Any]:
        working = function(*args, **inputs)
        steps = tuple((name, spoiled(value), expression) for name, value, expression in working.steps)
        return Working(spoiled(working.value), *steps)

    return wrong


@cache
def proofs(name: str) -> tuple[str, ...]:
    """Give what a rule is proven against: every kind of which a test fails when the rule is spoiled."""
    found: dict[str, None] = {}
    tried: dict[str, int] = defaultdict(int)
    asking = trials()[name]  # watched before anything is spoiled
    with _replaced({name: _wrong(REGISTRY[name].function)}):
        for trial in asking:
            if trial.oracle not in found and tried[trial.test] < FEW:
                tried[trial.test] += 1
                if _fails(trial):
                    found[trial.oracle] = None
    return tuple(found)


def _fails(trial: Trial) -> bool:
    try:
        trial.run()
    except (AssertionError, pytest.fail.Exception):
        return True
    except ExceptionGroup as group:  # several examples failed, each in its own way
        return group.subgroup(AssertionError) is not None
    except (ArithmeticError, ValueError):  # a wrong number that another rule refused: no comparison
        return False
    return False
