"""What the names of a question stand for under a specification."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from trainer.questions.lines import Path
from trainer.questions.model import Question
from trainer.questions.quantities import alike, is_name
from trainer.rules import DIMENSIONS, Dimension
from trainer.rules.specification import ContentError, Problem, Specification
from trainer.rules.words import words


class Wrong(Exception):
    """One thing that does not fit; becomes a problem at the key being read."""

    def __init__(self, code: str, message: str) -> None:
        super().__init__(message)
        self.code = code


class Names:
    """The scope's names: dimensions of all, values of those that the specification gives.

    Attributes:
        dimensions: each known name's dimension.
        given: what is the same in every case: values of the specification, by the name the question uses, and values
            worked out from them alone.
        own: the question's own names, its parameters and values.
        problems: what didn't fit so far.
    """

    def __init__(self, question: Question, specification: Specification) -> None:
        self.question, self.specification = question, specification
        self.dimensions: dict[str, Dimension] = {}
        self.given: dict[str, Any] = {}
        self.own: set[str] = set()
        self.problems: list[Problem] = []

    @contextmanager
    def at(self, *path: str | int) -> Iterator[None]:
        """Note what goes wrong inside as a problem at this key, and go on after it."""
        try:
            yield
        except Wrong as wrong:
            self.note(path, wrong.code, str(wrong))

    def note(self, path: Path, code: str, message: str) -> None:
        """Note a problem once; revisions repeat the same ones."""
        problem = self.question.problem(code, path, message)
        if problem not in self.problems:
            self.problems.append(problem)

    def stop_on_problems(self) -> None:
        """Raise what was noted so far."""
        if self.problems:
            raise ContentError(self.problems)

    def find(self, name: str) -> Dimension | None:
        """Give the dimension of a name, from the specification if it is not known yet; None if nobody has it."""
        if name in self.dimensions:
            return self.dimensions[name]
        value = self.specified(name, self.question.part)
        if value is None:
            return None
        self.given[name] = value[0]
        self.dimensions[name] = value[1]
        return value[1]

    def need(self, name: str) -> Dimension:
        """Give the dimension of a name.

        Raises:
            Wrong: Neither the question nor the specification has it.
        """
        found = self.find(name)
        if found is None:
            where = f"{self.specification.name}/{self.specification.revision}"
            message = (
                f'"{name}" is no parameter, no value worked out before this, and not in {where}; correct it, '
                "or name the part, such as base.side_lap"
            )
            raise Wrong("E204", message)
        return found

    def specified(self, name: str, part: str | None) -> tuple[Any, Dimension] | None:
        """Give a value of the specification with its dimension, or None."""
        try:
            found = self.specification.lookup(name, part)
        except LookupError:
            return None
        return (found.value, found.dimension) if found.value is not None else None

    def operand(self, text: str, dimension: Dimension) -> tuple[str | None, Any]:
        """Read an operand where `dimension` is asked for: (name, None) or (None, value).

        Raises:
            Wrong: The name is unknown or of another dimension, or the text is no quantity of it.
        """
        if is_name(text) and not self._is_word(text, dimension):
            found = self.need(text)
            if not alike(found, dimension):
                message = f'"{text}" is {_a(found)}, but {_a(dimension)} is asked for; use another name'
                raise Wrong("E204", message)
            return text, None
        try:
            return None, dimension.parse(text)
        except ValueError as error:
            raise Wrong("E204", f"{error} (or write a name)") from None

    def _is_word(self, text: str, dimension: Dimension) -> bool:
        return dimension.kind is bool and text in ("yes", "no", "true", "false")

    def dimension(self, name: str, given: str | None) -> Dimension:
        """Give the dimension of a new name: the one the file gives, or the one of the table of words.

        Raises:
            Wrong: Neither has it.
        """
        if given is not None:
            if given not in DIMENSIONS:
                raise Wrong("E203", f'"{given}" is no dimension; write one of {", ".join(DIMENSIONS)}')
            return DIMENSIONS[given]
        found = words().get(name)
        if found is None:
            raise Wrong("E202", f'"{name}" is not in the table of words; add dimension = "length" (or count, area …)')
        return found.dimension


def _a(dimension: Dimension) -> str:
    return f"{dimension.spoken[0]} ({dimension.unit})" if dimension.unit else dimension.spoken[0]
