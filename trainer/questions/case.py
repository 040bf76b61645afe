"""A case: one question with its own numbers, in both languages, with all that judging a response needs."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final, NamedTuple

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


@dataclass(frozen=True, eq=False)
class Case:
    """One case; texts, steps and drawings are worked out when read, and `parameters` make it again."""

    question: str
    digest: str
    kind: str
    topic: str
    critical: bool
    seed: str
    specification: str
    units: str
    parameters: Mapping[str, str]
    rule_editions: Mapping[str, int]
    title: BothLanguages
    danger: BothLanguages
    stem: BothLanguages
    after: BothLanguages
    answer: Answer
    steps: Mapping[Language, Steps]
    mistakes: tuple[CaseMistake, ...] = ()
    rows: tuple[CaseRow, ...] = ()
    pairs: tuple[CasePair, ...] = ()
    limits: tuple[CaseLimit, ...] = ()
    pick: str = ""
    show_limits: bool = True
    drawing: Mapping[Language, Drawing] | None = None
    after_drawing: Mapping[Language, Drawing] | None = None
