"""What came of a response: right or not and by which mistakes at once, its sentences when somebody reads them."""

from collections.abc import Callable
from typing import NamedTuple


class ExplainedMistake(NamedTuple):
    """A mistake that explains the response; `common` ones belong to the program, the others to the question."""

    id: str
    message: str
    common: bool = False


class Said(NamedTuple):
    """The sentences of a verdict, as its reader writes numbers."""

    message: str
    mistakes: tuple[ExplainedMistake, ...]
    given_text: str
    answer_text: str


class Verdict:
    """What came of a response.

    A response that can't be read has a `problem` (a sentence: how to write it) and is neither right nor wrong; a blank
    one is not right. `codes` are the ids of the mistakes that explain the response. The sentences are put together by
    `tell` on first reading: scoring an exam needs none.
    """

    __slots__ = ("_said", "_tell", "blank", "codes", "problem", "right")

    def __init__(
        self,
        *,
        right: bool,
        codes: tuple[str, ...],
        tell: Callable[[], Said],
        blank: bool = False,
        problem: str = "",
    ) -> None:
        self.right, self.codes, self.blank, self.problem = right, codes, blank, problem
        self._tell = tell
        self._said: Said | None = None

    @property
    def said(self) -> Said:
        """All its sentences."""
        if self._said is None:
            self._said = self._tell()
        return self._said

    @property
    def message(self) -> str:
        """What the reader is told first."""
        return self.said.message

    @property
    def mistakes(self) -> tuple[ExplainedMistake, ...]:
        """The mistakes that explain the response, the question's own first."""
        return self.said.mistakes

    @property
    def given_text(self) -> str:
        """What was entered, as the reader writes it."""
        return self.said.given_text

    @property
    def answer_text(self) -> str:
        """What is right, as the reader writes it."""
        return self.said.answer_text

    def _all(self) -> tuple[object, ...]:
        return self.right, self.blank, self.problem, self.codes, self.said

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Verdict) and self._all() == other._all()

    def __hash__(self) -> int:
        return hash(self._all())

    def __repr__(self) -> str:
        return f"Verdict(right={self.right}, blank={self.blank}, problem={self.problem!r}, said={self.said!r})"
