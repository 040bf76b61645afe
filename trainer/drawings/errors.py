"""The one error of the drawings."""

from __future__ import annotations


class DrawingInputError(ValueError):
    """A drawing cannot be made of what it was given: which drawing, which input, what is wrong, how to mend it."""

    def __init__(self, drawing: str, name: str, value: object, limit: str, mending: str) -> None:
        self.drawing = drawing
        self.name = name
        self.value = value
        self.limit = limit
        self.mending = mending
        super().__init__(f'drawing "{drawing}": {name} is {value}, but {limit}; {mending}')
