"""What runs inside the copy that `tests/mutation.py` lays out: the switch in every changed function, and the trying.

Every function of the copy holds all its changes beside itself. Tests are collected once and run once without a change,
to learn which lines each of them comes by; then every change is tried in a process forked from there, on the tests
that come by its statement, and only until one fails. Tests that noticed a neighbor go first, then the narrow ones.

A statement may have done its work before, while modules were imported. Where a change of such a one goes unnoticed it
is tried once more, by a second run: there each process is forked before anything of the rules or tests is imported.
"""

import gc
import importlib
import json
import os
import resource
import signal
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import wraps
from pathlib import Path
from types import FrameType
from typing import Any

import pytest
from _pytest.runner import runtestprotocol

MutantDict = dict[str, Callable[..., Any]]
PLAN, FOUND = Path("plan.json"), Path("found.json")
LEAST_SECONDS = 5.0
TIMES_SLOWER = 10.0
MOST_MEMORY = 4 * 2**30
NO_CHANGE = "trainer.rules.no.change"
KEPT = ("trainer.rules.words.x_work__table", "trainer.rules.words.x_work_words")  # what these gave is kept
OURS = ("trainer", "tests")


class _Chosen:
    """The change that is in force, by module and name; none of them when empty."""

    module, name = "", ""


RULES = str(Path("trainer/rules").resolve()) + os.sep
PASSED: set[tuple[str, int]] = set()


def _trace(frame: FrameType, event: str, argument: object) -> Callable[..., Any] | None:
    """Note the lines of the rules that are worked: file and number."""
    if not frame.f_code.co_filename.startswith(RULES):
        return None
    if event == "line":
        PASSED.add((frame.f_code.co_filename, frame.f_lineno))
    return _trace


def switch(changes: MutantDict) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Make a function call the change in force in its stead."""

    def decorate(function: Callable[..., Any]) -> Callable[..., Any]:
        where = function.__module__

        @wraps(function)
        def call(*args: Any, **kwargs: Any) -> Any:
            name = _Chosen.name if _Chosen.module == where else "_mutmut_orig"
            return (changes.get(name) or changes["_mutmut_orig"])(*args, **kwargs)

        return call

    return decorate


def function_of(mutant: str) -> str:
    """Give the function that a change belongs to."""
    return mutant.rpartition("__mutmut_")[0]


def module_of(mutant: str) -> str:
    """Give the module that a change belongs to."""
    return mutant.split(".")[2]


def _allow(usual: float) -> None:
    """End the process once it has worked far longer than usual: what is that slow hangs."""
    signal.setitimer(signal.ITIMER_PROF, LEAST_SECONDS + TIMES_SLOWER * usual)


def _failed(item: pytest.Item, after: pytest.Item | None) -> str:
    """Run a test; give why it failed, nothing when it did not."""
    return "".join(report.longreprtext for report in runtestprotocol(item, log=False, nextitem=after) if report.failed)


def _first_failed(items: list[pytest.Item], took: dict[str, float]) -> pytest.Item | None:
    """Run tests until one fails; give that one. One that takes far longer than it took before ends the process."""
    for item, after in zip(items, [*items[1:], None], strict=True):
        _allow(took[item.nodeid])
        if _failed(item, after):
            return item
    return None


class Forks:
    """Processes that try one change each, several at a time."""

    def __init__(self, at_a_time: int) -> None:
        self.at_a_time = at_a_time
        self.running: dict[int, tuple[str, int]] = {}
        self.telling = 0

    def fork(self, mutant: str) -> bool:
        """Say whether this is the new process, where the change is in force."""
        reading, writing = os.pipe()
        child = os.fork()
        if child:
            os.close(writing)
            self.running[child] = (mutant, reading)
            return False
        os.close(reading)
        self.telling = writing
        signal.signal(signal.SIGPROF, signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
        _Chosen.module, _, _Chosen.name = mutant.rpartition(".")
        return True

    def end(self, noticed_by: pytest.Item | None) -> None:
        """End the new process; tell the first one which test noticed the change."""
        if noticed_by:
            os.write(self.telling, noticed_by.nodeid.encode())
        os._exit(1 if noticed_by else 0)

    def ended(self, *, below: int) -> Iterator[tuple[str, bool, str]]:
        """Wait until fewer are running; give each change that ended, whether it was noticed and by which test."""
        while len(self.running) >= below:
            child, status = os.wait()
            mutant, reading = self.running.pop(child)
            with os.fdopen(reading) as told:
                yield mutant, os.waitstatus_to_exitcode(status) != 0, told.read()


class Trying:
    """The first run: all changes, on tests that are collected once."""

    def __init__(self, items: list[pytest.Item], reach: dict[str, tuple[str, int, int]]) -> None:
        self.items, self.reach = items, reach
        self.early = set(PASSED)
        self.found: dict[str, str] = {}
        self.passing: dict[tuple[str, int], list[int]] = {}
        self.took: dict[str, float] = {}
        self.narrow: list[tuple[int, float]] = []
        self.sharp: dict[str, Counter[str]] = {}

    def learn(self) -> None:
        """Run every test once without a change; note which lines it comes by and how long it takes."""
        for at, (item, after) in enumerate(zip(self.items, [*self.items[1:], None], strict=True)):
            PASSED.clear()
            start = time.process_time()
            reason = _failed(item, after)
            if reason:
                sys.stderr.write(f"{item.nodeid} fails without any change\n{reason}\n")
                pytest.exit("nothing was tried", 1)
            self.took[item.nodeid] = time.process_time() - start
            self.narrow.append((len(PASSED), self.took[item.nodeid]))
            for line in PASSED:
                self.passing.setdefault(line, []).append(at)

    def lines(self, mutant: str) -> list[tuple[str, int]]:
        """Give the lines that a change stands on."""
        module, first, last = self.reach[mutant]
        return [(f"{RULES}{module}.py", number) for number in range(first, last + 1)]

    def order(self, mutant: str) -> list[int]:
        """Give the tests that come by a change: first those that noticed most neighbors, then the narrow ones."""
        sharp = self.sharp.get(function_of(mutant), Counter())
        passing = {at for line in self.lines(mutant) for at in self.passing.get(line, ())}
        return sorted(passing, key=lambda at: (-sharp[self.items[at].nodeid], self.narrow[at]))

    def try_all(self, forks: Forks) -> None:
        """Try all changes."""
        gc.collect()
        gc.freeze()  # what is shared with the new processes stays shared
        for count, mutant in enumerate(self.reach):
            if count % 500 == 0:
                sys.stderr.write(f"{count} of {len(self.reach)}\n")
            order = self.order(mutant)
            if not order:
                self.note(mutant, "")
                continue
            self.note_all(forks.ended(below=forks.at_a_time))
            if forks.fork(mutant):
                forks.end(_first_failed([self.items[at] for at in order], self.took))
        self.note_all(forks.ended(below=1))

    def note_all(self, ended: Iterator[tuple[str, bool, str]]) -> None:
        """Note how changes ended."""
        for mutant, noticed, by in ended:
            self.note(mutant, by, noticed=noticed)

    def note(self, mutant: str, by: str, *, noticed: bool = False) -> None:
        """Note how a change ended, and which test noticed it."""
        early = function_of(mutant) in KEPT or not self.early.isdisjoint(self.lines(mutant))
        self.found[mutant] = "noticed" if noticed else "unsure" if early else "survived"
        if by:
            self.sharp.setdefault(function_of(mutant), Counter())[by] += 1


def _try_afresh(plan: dict[str, Any], forks: Forks) -> str | None:
    """The second run: give the change to try in this new process; in the first process, None once all were tried."""
    for name in plan["others"]:
        with suppress(ImportError):
            importlib.import_module(name)
    found = json.loads(FOUND.read_text(encoding="utf-8"))
    plan["sharp"] = {function: Counter(some) for function, some in plan["sharp"].items()}

    def note_all(below: int) -> None:
        for mutant, noticed, by in forks.ended(below=below):
            found[mutant] = "noticed" if noticed else "survived"
            if by:
                plan["sharp"].setdefault(function_of(mutant), Counter())[by] += 1

    mutants = [NO_CHANGE, *(name for name, how in found.items() if how == "unsure")]
    for count, mutant in enumerate(mutants):
        if count % 50 == 0:
            sys.stderr.write(f"{count} of {len(mutants)} afresh\n")
        note_all(forks.at_a_time)
        if forks.fork(mutant):
            _allow(plan["collecting"])
            return mutant
    note_all(1)
    if found.pop(NO_CHANGE) != "survived":
        pytest.exit("tests fail afresh without any change", 1)
    FOUND.write_text(json.dumps(found), encoding="utf-8")
    return None


class Afresh:
    """What a process of the second run does once it has a change: collect, then run the likeliest tests first."""

    def __init__(self, forks: Forks, mutant: str, sharp: dict[str, Counter[str]], took: dict[str, float]) -> None:
        self.forks, self.took, self.own = forks, took, sharp.get(function_of(mutant), Counter())
        same = (some for function, some in sharp.items() if module_of(function) == module_of(mutant))
        self.near = sum(same, Counter())

    def pytest_runtestloop(self, session: pytest.Session) -> None:
        """Run the tests until one fails."""
        if session.testsfailed:  # not even collected
            os._exit(1)
        session.items.sort(key=lambda item: (-self.own[item.nodeid], -self.near[item.nodeid]))
        self.forks.end(_first_failed(session.items, self.took))


@pytest.hookimpl(tryfirst=True)
def pytest_collection(session: pytest.Session) -> None:
    """Fork here, before anything is imported, on the second run."""
    plan = json.loads(PLAN.read_text(encoding="utf-8"))
    if "others" not in plan:
        sys.settrace(_trace)
        return
    forks = Forks(plan["children"])
    mutant = _try_afresh(plan, forks)
    if mutant is None:
        pytest.exit("all were tried", 0)
    session.config.pluginmanager.register(Afresh(forks, mutant, plan["sharp"], plan["took"]))


def pytest_runtestloop(session: pytest.Session) -> bool:
    """Try the changes of the plan instead of running the tests once, on the first run."""
    plan = json.loads(PLAN.read_text(encoding="utf-8"))
    plan["collecting"] = time.process_time()
    trying = Trying(session.items, plan["mutants"])
    trying.learn()
    sys.settrace(None)
    sys.stderr.write(f"{len(session.items)} tests in {sum(trying.took.values()):.1f} s\n")
    trying.try_all(Forks(plan["children"]))
    FOUND.write_text(json.dumps(trying.found), encoding="utf-8")
    plan["took"] = trying.took
    plan["others"] = [name for name in sys.modules if name.split(".")[0] not in OURS]
    plan["sharp"] = trying.sharp
    PLAN.write_text(json.dumps(plan), encoding="utf-8")
    return True
