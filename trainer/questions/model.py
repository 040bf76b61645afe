"""What a question file says, read and checked but not yet tied to a specification."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Final, Literal

from trainer.questions.lines import Path, line_of
from trainer.questions.templates import Template
from trainer.rules.specification import Problem

Language = Literal["en", "es"]
LANGUAGES: Final[tuple[Language, ...]] = ("en", "es")
KINDS: Final = ("measure", "count", "choice", "order", "judge", "spot")
USES: Final = ("practice", "exam", "both")
STATES: Final = ("draft", "in review", "in use", "retired")

BothLanguages = Mapping[Language, str]


@dataclass(frozen=True)
class Grid:
    """What a parameter is drawn from: every step from `first` to `last`, or one of `values` (operand texts)."""

    first: str = ""
    last: str = ""
    step: str = ""
    values: tuple[str, ...] = ()


@dataclass(frozen=True)
class Parameter:
    """A number drawn for each case; `metric` takes the grid's place under a metric specification."""

    name: str
    grid: Grid
    metric: Grid | None
    dimension: str | None


@dataclass(frozen=True)
class Source:
    """Where a number comes from: exactly one of `rule`, `expression`, `value` (a name).

    `inputs` are the rule's operands given in the file; `item` picks from a list, counted from 1, or "last".
    """

    rule: str | None = None
    inputs: Mapping[str, str] = field(default_factory=dict)
    item: str | None = None
    expression: str | None = None
    value: str | None = None
    dimension: str | None = None


@dataclass(frozen=True)
class Mistake:
    """A wrong way of working: another source, or the answer's own with some operands `changed`."""

    id: str
    source: Source | None
    changed: Mapping[str, str]


@dataclass(frozen=True)
class Constraint:
    """What a draw must keep: a condition, a mistake that must show, or bounds (word to operand) on a source."""

    condition: str | None = None
    mistake: str | None = None
    source: Source | None = None
    bounds: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Row:
    """A row of a choice, or a step of an order; `right` and `when` are truth or a condition."""

    id: str
    right: bool | str = True
    when: bool | str = True


@dataclass(frozen=True)
class Pair:
    """`before` must stand before `after`; `why` is said when a response breaks it."""

    before: str
    after: str
    why: BothLanguages | None


@dataclass(frozen=True)
class Reading:
    """A line of a judge's sheet: `good` and `bad` are distances from the limit (see the format's description)."""

    id: str
    limit: str
    good: Grid
    bad: Grid
    near: bool


@dataclass(frozen=True)
class Target:
    """A part of a spot's drawing that can be pointed at, and the fault that can be planted in it, if any.

    A fault is either drawn by `fault` (inputs of the drawing: words or operands), or is a length: the drawing's `input`
    then gets a reading, judged against the `limit`, with `good` and `bad` distances as in a judge.
    """

    id: str
    part: str
    fault: Mapping[str, str] = field(default_factory=dict)
    input: str = ""
    limit: str = ""
    good: Grid = Grid()
    bad: Grid = Grid()

    @property
    def plants(self) -> bool:
        """Tell whether a fault can be planted here."""
        return bool(self.fault or self.input)


@dataclass(frozen=True)
class DrawingCall:
    """A drawing's name and the inputs the file gives it (operands or words)."""

    name: str
    inputs: Mapping[str, str]


@dataclass(frozen=True)
class Texts:
    """A question's words in one language; `items` holds the rows', steps' or readings' texts by id."""

    stem: Template
    title: str = ""
    after: Template | None = None
    mistakes: Mapping[str, Template] = field(default_factory=dict)
    items: Mapping[str, Template] = field(default_factory=dict)


@dataclass(frozen=True, eq=False)
class Question:
    """One question file. `id` is MODULE/QUESTION, `digest` the SHA-256 of the file's text (hex)."""

    id: str
    path: str
    digest: str
    lines: Mapping[Path, int]
    kind: str
    topic: str
    use: str
    state: str
    critical: bool
    danger: BothLanguages
    part: str | None
    texts: Mapping[Language, Texts]
    drawing: DrawingCall | None = None
    after_drawing: DrawingCall | None = None
    photo: str = ""
    parameters: tuple[Parameter, ...] = ()
    values: tuple[tuple[str, Source], ...] = ()
    constraints: tuple[Constraint, ...] = ()
    answer: Source | None = None
    within: str | None = None
    nearest: str | None = None
    mistakes: tuple[Mistake, ...] = ()
    show: int | None = None
    right: tuple[int, int] = (1, 1)
    rows: tuple[Row, ...] = ()
    pairs: tuple[Pair, ...] = ()
    readings: tuple[Reading, ...] = ()
    targets: tuple[Target, ...] = ()
    sound: Fraction = Fraction(1, 3)
    show_limits: bool = True
    plans: dict[int, Any] = field(default_factory=dict, repr=False)

    def problem(self, code: str, path: Path, message: str) -> Problem:
        """Make a problem that points at a key's line."""
        return Problem(self.path, line_of(self.lines, path), f"content.{code}", message)
