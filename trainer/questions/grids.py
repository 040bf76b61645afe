"""Grids: the values that a parameter or a distance from a limit is drawn from."""

from dataclasses import dataclass
from typing import Any, Final

from trainer.questions.model import Grid
from trainer.questions.names import Wrong
from trainer.rules import Dimension

MOST_CHOICES: Final = 100_000


@dataclass(frozen=True)
class Draw:
    """A parameter's choices: each value with its stored text."""

    name: str
    dimension: Dimension
    choices: tuple[tuple[Any, str], ...]

    @property
    def least(self) -> Any:
        """The least value."""
        return min(value for value, _ in self.choices)

    @property
    def most(self) -> Any:
        """The greatest value."""
        return max(value for value, _ in self.choices)


def choices_of(grid: Grid, dimension: Dimension) -> tuple[Any, ...]:
    """Give every value of a grid.

    Raises:
        Wrong: A text is no quantity of the dimension, or the grid is empty or too fine.
    """
    try:
        if grid.values:
            return tuple(dict.fromkeys(dimension.parse(text) for text in grid.values))
        first, last = dimension.parse(grid.first), dimension.parse(grid.last)
        step = dimension.parse(grid.step) if grid.step else (1 if dimension.kind is int else None)
    except ValueError as error:
        raise Wrong("E203", str(error)) from None
    if step is None:
        raise Wrong("E202", '"step" is missing; write how far apart the values lie, such as step = "6 in"')
    if step <= 0 or last < first:
        raise Wrong(
            "E203",
            f"from {grid.first} to {grid.last} by {grid.step or 1} is empty; put the smaller one first",
        )
    count = int((last - first) // step) + 1
    if count > MOST_CHOICES:
        raise Wrong("E203", f"the grid has {count} values, more than {MOST_CHOICES}; make the step larger")
    return tuple(first + step * place for place in range(count))
