"""What runs inside the copy that `tests/mutation.py` lays out: the switch in every changed function, and the trying.

Every function of the copy holds all its changes beside itself. Tests are collected once and run once without a change,
to learn which function each of them calls; then every change is tried in a process forked from there, the tests that
noticed a neighbor first, and only until one fails. `MUTANT` in the environment chooses a change from the start, for
those that work while modules are imported.
"""

import json
import os
import signal
import sys
import time
from collections.abc import Callable, Iterator
from functools import wraps
from pathlib import Path
from typing import Any

import pytest
from _pytest.runner import runtestprotocol

MutantDict = dict[str, Callable[..., Any]]
PLAN, FOUND = Path("plan.json"), Path("found.json")
LEAST_SECONDS = 20.0
TIMES_SLOWER = 20.0


class _Chosen:
    """The change that is in force, by module and name; none of them when empty."""

    module, name = os.environ.get("MUTANT", ".").rsplit(".", 1)


CALLED: set[str] = set()


def switch(changes: MutantDict) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Make a function call the change in force in its stead, and note that it was called."""

    def decorate(function: Callable[..., Any]) -> Callable[..., Any]:
        where = function.__module__
        key = ""

        @wraps(function)
        def call(*args: Any, **kwargs: Any) -> Any:
            nonlocal key
            key = key or f"{where}.{changes['_mutmut_orig'].__name__.removesuffix('__mutmut_orig')}"
            CALLED.add(key)
            name = _Chosen.name if _Chosen.module == where else "_mutmut_orig"
            return (changes.get(name) or changes["_mutmut_orig"])(*args, **kwargs)

        return call

    return decorate


def function_of(mutant: str) -> str:
    """Give the function that a change belongs to."""
    return mutant.rpartition("__mutmut_")[0]


def _failed(item: pytest.Item, after: pytest.Item | None) -> str:
    """Run a test; give why it failed, nothing when it did not."""
    return "".join(report.longreprtext for report in runtestprotocol(item, log=False, nextitem=after) if report.failed)


class Trying:
    """Tries changes one after the other, several at a time."""

    def __init__(self, items: list[pytest.Item]) -> None:
        self.items = items
        self.early = set(CALLED)
        self.found: dict[str, str] = {}
        self.callers: dict[str, list[int]] = {}
        self.took: list[float] = []
        self.running: dict[int, tuple[str, int]] = {}

    def learn(self) -> None:
        """Run every test once without a change; note what it calls and how long it takes."""
        for at, item in enumerate(self.items):
            CALLED.clear()
            start = time.perf_counter()
            reason = _failed(item, self.items[at + 1] if at + 1 < len(self.items) else None)
            if reason:
                sys.stderr.write(f"{item.nodeid} fails without any change\n{reason}\n")
                pytest.exit("nothing was tried", 1)
            self.took.append(time.perf_counter() - start)
            for key in CALLED:
                self.callers.setdefault(key, []).append(at)
        for order in self.callers.values():
            order.sort(key=self.took.__getitem__)

    def fork(self, mutant: str) -> None:
        """Try one change in a process of its own, which tells the number of the test that noticed it."""
        order = self.callers.get(function_of(mutant), [])
        if not order:
            self.found[mutant] = self.unnoticed(mutant)
            return
        reading, writing = os.pipe()
        child = os.fork()
        if child:
            os.close(writing)
            self.running[child] = (mutant, reading)
            return
        os.close(reading)
        try:
            usual = sum(self.took[at] for at in order)
            signal.signal(signal.SIGALRM, signal.SIG_DFL)
            signal.alarm(round(LEAST_SECONDS + TIMES_SLOWER * usual))
            _Chosen.module, _Chosen.name = mutant.rsplit(".", 1)
            for place, at in enumerate(order):
                after = self.items[order[place + 1]] if place + 1 < len(order) else None
                if _failed(self.items[at], after):
                    os.write(writing, str(at).encode())
                    os._exit(1)
            os._exit(0)
        finally:
            os._exit(2)

    def wait(self) -> None:
        """Wait for one of the processes and note how it ended."""
        child, status = os.wait()
        mutant, reading = self.running.pop(child)
        told = os.read(reading, 20).decode()
        os.close(reading)
        ended = os.waitstatus_to_exitcode(status)
        self.found[mutant] = "noticed" if ended else self.unnoticed(mutant)
        if told:
            order = self.callers[function_of(mutant)]
            order.remove(int(told))
            order.insert(0, int(told))

    def unnoticed(self, mutant: str) -> str:
        """Say whether a change that no test noticed may have worked before, while modules were imported."""
        return "unsure" if function_of(mutant) in self.early else "survived"

    def try_all(self, mutants: list[str], children: int) -> Iterator[int]:
        """Try all changes; give how many are done, now and then."""
        for mutant in mutants:
            while len(self.running) >= children:
                self.wait()
            self.fork(mutant)
            if len(self.found) % 100 == 0:
                yield len(self.found)
        while self.running:
            self.wait()


def pytest_runtestloop(session: pytest.Session) -> bool | None:
    """Try the changes of the plan instead of running the tests once."""
    if "MUTANT" in os.environ:
        return None
    plan = json.loads(PLAN.read_text(encoding="utf-8"))
    trying = Trying(session.items)
    trying.learn()
    sys.stderr.write(f"{len(session.items)} tests in {sum(trying.took):.1f} s\n")
    for done in trying.try_all(plan["mutants"], plan["children"]):
        sys.stderr.write(f"{done} of {len(plan['mutants'])}\n")
    FOUND.write_text(json.dumps(trying.found), encoding="utf-8")
    return True
