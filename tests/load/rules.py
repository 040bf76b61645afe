"""What the rules cost before they work and over a large roof, each beside something bare.

Importing the rules, with compiled files at hand, stands beside a bare start of the interpreter and beside the four
modules of the standard library that they cannot do without. A bill of materials for 50 rectangles stands beside the
bare rule calls it makes. The processor's own time counts, and each figure is the median of several runs.
"""

import os
import random
import resource
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Callable
from fractions import Fraction
from typing import Any

from tests.load.cases import ROOT, Calls, again, newest_of, noted, seconds
from trainer.rules.bill import Deck, bill_of_materials
from trainer.rules.exact import exact
from trainer.rules.specification import parse_specification

RUNS = 15
NEEDED = "import re, typing, fractions, math"
DECKS = 50
NEWEST = newest_of("two-ply-self-adhered")


def started(code: str, cache: str) -> float:
    """Give the processor seconds of a new interpreter that does one thing."""
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "", "PYTHONPYCACHEPREFIX": cache}
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", code], cwd=ROOT, env=environment, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def median(act: Callable[..., float], *arguments: Any) -> float:
    """Give the median of several runs, a first one left out."""
    act(*arguments)
    return statistics.median(act(*arguments) for _ in range(RUNS))


def imports() -> None:
    """Print the time that importing the rules takes."""
    codes = ("", NEEDED, "import trainer.rules")
    with tempfile.TemporaryDirectory() as cache:
        runs = [[started(code, cache) for code in codes] for _ in range(RUNS)]  # in turn, for machines are restless
    bare, needed, whole = (statistics.median(column) for column in zip(*runs[1:], strict=True))
    print(
        f"import of the rules: {1000 * (whole - bare):.1f} ms, {1000 * (whole - needed):.1f} ms of it their own\n"
        f"  bare start of the interpreter: {1000 * bare:.1f} ms; ratio {(whole - bare) / bare:.1f}"
    )


def additions() -> None:
    """Print how many exact sums this machine works out a second, the plain figure behind all others."""
    some, other, times = exact(631, 16), exact(35, 8), range(200_000)

    def add() -> None:
        for _ in times:
            some + other

    def add_standard() -> None:
        for _ in times:
            standard + other_standard

    standard, other_standard = Fraction(631, 16), Fraction(35, 8)
    ours, theirs = (len(times) / median(seconds, act) for act in (add, add_standard))
    print(f"exact sums: {ours:,.0f} a second\n  by the standard class: {theirs:,.0f}; ratio {ours / theirs:.1f}")


def bill() -> None:
    """Print the time that a bill of materials for many rectangles takes."""
    specification = parse_specification(NEWEST.read_text(), NEWEST.as_posix())
    chance = random.Random(7)
    decks = [Deck(exact(chance.randint(96, 900)), exact(chance.randint(96, 1800))) for _ in range(DECKS)]
    edge = exact(14_400)
    calls: Calls = []
    with noted(calls):
        bill_of_materials(decks, specification, edge=edge)
    whole = median(seconds, lambda: bill_of_materials(decks, specification, edge=edge))
    bare = median(seconds, again, calls)
    print(
        f"bill of materials for {DECKS} rectangles: {1000 * whole:.1f} ms\n"
        f"  its {len(calls)} bare rule calls: {1000 * bare:.1f} ms; ratio {whole / bare:.1f}"
    )


def main() -> None:
    """Print the figures."""
    imports()
    additions()
    bill()


if __name__ == "__main__":
    main()
