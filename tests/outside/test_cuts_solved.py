"""The cut list and its rolls beside an exact solver: an integer program that knows nothing of how the rules cut."""

from collections import Counter
from fractions import Fraction
from functools import cache
from itertools import combinations, pairwise, product

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp  # type: ignore[import-untyped]

from tests.outside.proofs import SOLVER, against
from trainer.rules.take_off import cut_list, rolls_for_roof, split_by_course

ROLL, LAP, STAGGER, GRID = 396, 6, 36, 44
Course = tuple[int, ...]  # its pieces, in inches


def _solve(cost: list[float], rows: list[tuple[dict[int, float], float, float]]) -> int:
    """Solve an integer program exactly: the least cost; each row holds sums of variables between two bounds."""
    matrix = np.zeros((len(rows), len(cost)))
    for at, (entries, _, _) in enumerate(rows):
        for variable, factor in entries.items():
            matrix[at, variable] = factor
    low, high = ([row[side] for row in rows] for side in (1, 2))
    solved = milp(
        cost,
        constraints=LinearConstraint(matrix, low, high),
        integrality=np.ones(len(cost)),
        bounds=Bounds(0, np.inf),
    )
    assert solved.success, "the program has no solution: a piece fits no roll, or a course leaves laps too near"
    fewest: int = round(solved.fun)
    return fewest


def joints(course: Course) -> list[int]:
    """How far each piece but the last reaches along the course."""
    return [sum(course[: at + 1]) - at * LAP for at in range(len(course) - 1)]


def courses_of(length: int) -> list[Course]:
    """Every way to lay a course in pieces whose joints stand on a grid, none longer than a roll."""
    found = []
    for count in range(3):
        for marks in combinations(range(GRID, length, GRID), count):
            ends = (*marks, length)
            pieces = (ends[0], *(end - start + LAP for start, end in pairwise(ends)))
            if max(pieces) <= ROLL and min(pieces) >= GRID:
                found.append(pieces)
    return found


def cuttings(sizes: list[int], room: int = ROLL) -> list[Counter[int]]:
    """Every way to cut one roll into pieces of these sizes, largest first."""
    found: list[Counter[int]] = [Counter()]
    for at, size in enumerate(sizes):
        if size <= room:
            found += [Counter([size]) + rest for rest in cuttings(sizes[at:], room - size)]
    return found


@cache
def fewest_rolls(choices: tuple[tuple[Course, ...], ...]) -> int:
    """Choose a course from each list, neighbors' joints a stagger apart, and cut all pieces from the fewest rolls."""
    sizes = sorted({piece for course in choices for pieces in course for piece in pieces}, reverse=True)
    rolls = [cutting for cutting in cuttings(sizes) if cutting]
    first: list[int] = []
    total = len(rolls)
    for course in choices:
        first.append(total)
        total += len(course)
    rows: list[tuple[dict[int, float], float, float]] = [
        (dict.fromkeys(range(start, start + len(course)), 1.0), 1.0, 1.0)
        for start, course in zip(first, choices, strict=True)
    ]
    for size in sizes:  # as many pieces of each size are cut as are laid, or more
        entries: dict[int, float] = {at: float(cutting[size]) for at, cutting in enumerate(rolls) if size in cutting}
        for start, course in zip(first, choices, strict=True):
            entries |= {start + at: -float(pieces.count(size)) for at, pieces in enumerate(course) if size in pieces}
        rows.append((entries, 0.0, np.inf))
    for below in range(len(choices) - 1):
        for (one, lower), (other, upper) in product(enumerate(choices[below]), enumerate(choices[below + 1])):
            if any(abs(mark - near) < STAGGER for mark, near in product(joints(lower), joints(upper))):
                rows.append(({first[below] + one: 1.0, first[below + 1] + other: 1.0}, 0.0, 1.0))
    return _solve([1.0] * len(rolls) + [0.0] * (total - len(rolls)), rows)


@against(SOLVER, "scipy milp")
@pytest.mark.parametrize(
    ("length", "courses"),
    [(396, 5), (411, 2), (411, 3), (500, 3), (573, 2), (633, 2), (633, 3), (900, 2), (900, 5), (1100, 3)],
)
def test_it_cuts_as_few_rolls_as_the_exact_solver_but_for_one(length: int, courses: int) -> None:
    """The list is a solution of the program; best packed it takes as many rolls, freely cut at most one fewer."""
    inputs = {
        "length": Fraction(length), "courses": courses, "roll_length": Fraction(ROLL), "end_lap": Fraction(LAP),
        "end_lap_stagger": Fraction(STAGGER),
    }  # fmt: skip
    pieces = cut_list.work(**inputs).value
    own = [tuple(map(int, course)) for course in split_by_course(pieces, Fraction(length), Fraction(LAP))]
    rolls = rolls_for_roof.work(**inputs).value

    assert [joints((*course, LAP))[-1] for course in own] == [length] * courses
    packed = fewest_rolls(tuple((course,) for course in own))
    free = fewest_rolls(tuple((*courses_of(length), course) for course in own))
    assert free <= packed <= rolls <= free + 1
