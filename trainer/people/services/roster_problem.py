"""What is wrong with a roster, row by row."""

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Problem:
    """What is wrong with a roster: the row of the file, the column, what, and how to mend it."""

    row: int
    column: str
    what: str
    mend: str


class RosterRefused(Exception):
    """The roster cannot be taken in; `problems` names every bad row."""

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__(f"{len(problems)} problems in the roster")
        self.problems = problems


def adder(problems: list[Problem], row: int) -> Callable[[str, str, str], None]:
    """Give a function that notes a problem of one row: column, what, how to mend it."""

    def add(column: str, what: str, mend: str) -> None:
        problems.append(Problem(row, column, what, mend))

    return add
