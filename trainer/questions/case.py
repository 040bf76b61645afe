"""A case: one question with its own numbers, in both languages, with all that judging a response needs."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final, NamedTuple, Protocol

from trainer.drawings import Drawing
from trainer.questions.model import BothLanguages, Language
from trainer.rules import Dimension, Working

LETTERS: Final = "ABCDEFGHIJKLMNOP"
Steps = list[dict[str, str]]


class Answer(NamedTuple):
    """What is right.

    `value` is a quantity of `dimension` (measure, count), or the letters of the right rows (choice), the letters in a
    right order (order), or ("accept",) or ("reject", number of the failing reading, …) (judge), or the letters of the
    parts at fault (spot), with no dimension.
    """

    value: Any
    dimension: Dimension | None
    text: BothLanguages
    within: Any = None
    within_text: BothLanguages | None = None
    rounded: Working[Any] | Fraction | None = None

    @property
    def before_rounding(self) -> Fraction | None:
        """A count's value before it was rounded to whole pieces; None where it was not."""
        before = self.rounded.before_rounding if isinstance(self.rounded, Working) else self.rounded
        return None if before is None or before == self.value else Fraction(before)

    @property
    def unit(self) -> str:
        """The unit `value` is in; empty for counts and rows."""
        return self.dimension.unit if self.dimension is not None else ""


class CaseMistake(NamedTuple):
    """A wrong value, as shown, and what was done to get it (`text`)."""

    id: str
    value: Any
    shown: BothLanguages
    text: BothLanguages
    dimension: Dimension


class CaseRow(NamedTuple):
    """A row on the sheet.

    `letter` is A, B … (choice, order) or 1, 2 … (judge); `right` says the row is right, or the reading sound; `why` is
    said when it is taken wrongly. A judge's row has its `reading`, `limit` and `tolerance` as texts.
    """

    letter: str
    id: str
    right: bool
    text: BothLanguages
    why: BothLanguages | None = None
    reading: BothLanguages | None = None
    limit: BothLanguages | None = None
    tolerance: BothLanguages | None = None


class CaseLimit(NamedTuple):
    """A length of a spot's drawing and what is asked for; it says nothing of what was drawn."""

    place: BothLanguages
    limit: BothLanguages
    tolerance: BothLanguages


class CasePair(NamedTuple):
    """Letters: `before` must stand before `after`; `why` is empty where the file gives no reason."""

    before: str
    after: str
    why: BothLanguages


class Facts(NamedTuple):
    """What all cases of one question under one specification share."""

    question: str
    digest: str
    kind: str
    topic: str
    critical: bool
    specification: str
    units: str
    rule_editions: Mapping[str, int]
    title: BothLanguages
    danger: BothLanguages
    limits: tuple[CaseLimit, ...] = ()
    pick: str = ""
    show_limits: bool = True


class Words(Protocol):
    """What a case says and shows; a case that was drawn works each of them out when it is first read."""

    @property
    def stem(self) -> BothLanguages:
        """The question."""

    @property
    def after(self) -> BothLanguages:
        """What to take along; empty where there is nothing."""

    @property
    def steps(self) -> Mapping[Language, Steps]:
        """The working of the answer."""

    @property
    def drawing(self) -> Mapping[Language, Drawing] | None:
        """The drawing that stands with the question."""

    @property
    def after_drawing(self) -> Mapping[Language, Drawing] | None:
        """The drawing that stands with the verdict."""


@dataclass(frozen=True, eq=False)
class Case:
    """One case: what it shares with others of its question, its own numbers, and its words; `parameters` remake it."""

    facts: Facts
    words: Words
    seed: str
    parameters: Mapping[str, str]
    answer: Answer
    mistakes: tuple[CaseMistake, ...] = ()
    rows: tuple[CaseRow, ...] = ()
    pairs: tuple[CasePair, ...] = ()

    @property
    def question(self) -> str:
        """MODULE/QUESTION."""
        return self.facts.question

    @property
    def kind(self) -> str:
        """The question's kind: measure, count, choice, order, judge or spot."""
        return self.facts.kind

    @property
    def units(self) -> str:
        """The specification's units: imperial or metric."""
        return self.facts.units

    @property
    def digest(self) -> str:
        """The SHA-256 of the question's file, hex."""
        return self.facts.digest

    @property
    def topic(self) -> str:
        """The topic that an exam plan counts it under."""
        return self.facts.topic

    @property
    def critical(self) -> bool:
        """Whether a wrong answer fails the check."""
        return self.facts.critical

    @property
    def specification(self) -> str:
        """NAME/REVISION."""
        return self.facts.specification

    @property
    def rule_editions(self) -> Mapping[str, int]:
        """The edition of every rule that a case can ask, by name."""
        return self.facts.rule_editions

    @property
    def title(self) -> BothLanguages:
        """What lists call the question."""
        return self.facts.title

    @property
    def danger(self) -> BothLanguages:
        """What goes wrong on a roof."""
        return self.facts.danger

    @property
    def limits(self) -> tuple[CaseLimit, ...]:
        """The limits that stand beside a spot's drawing."""
        return self.facts.limits

    @property
    def pick(self) -> str:
        """How many rows to pick: one or many; empty but for a choice."""
        return self.facts.pick

    @property
    def show_limits(self) -> bool:
        """Whether limits are shown with the question."""
        return self.facts.show_limits

    @property
    def stem(self) -> BothLanguages:
        """The question as it is asked."""
        return self.words.stem

    @property
    def after(self) -> BothLanguages:
        """What to take along; empty where there is nothing."""
        return self.words.after

    @property
    def steps(self) -> Mapping[Language, Steps]:
        """The working of the answer."""
        return self.words.steps

    @property
    def drawing(self) -> Mapping[Language, Drawing] | None:
        """The drawing that stands with the question."""
        return self.words.drawing

    @property
    def after_drawing(self) -> Mapping[Language, Drawing] | None:
        """The drawing that stands with the verdict."""
        return self.words.after_drawing
