"""What a rule returns, a value with its steps, and where a rule comes from."""

from fractions import Fraction
from typing import TYPE_CHECKING, Any, Generic, NamedTuple, TypeVar

if TYPE_CHECKING:
    from trainer.rules.registry import Rule

T_co = TypeVar("T_co", covariant=True)


class Source(NamedTuple):
    """Where a rule comes from: a document with its clause and edition, common practice, or a definition.

    `jurisdiction` starts with US where it is federal or a model for all states; a state's source says the day it was
    last `read_on`, as YYYY-MM-DD.
    """

    document: str
    clause: str = ""
    edition: str = ""
    jurisdiction: str = ""
    read_on: str = ""

    def __str__(self) -> str:
        return ", ".join(part for part in self[:4] if part)


COMMON_PRACTICE = Source("common practice")
DEFINITION = Source("definition")


class Step(NamedTuple):
    """One line of a working: what was worked out, to what value, and how; names stand in braces."""

    name: str
    value: Any
    expression: str


class Working(Generic[T_co]):
    """A value and the steps that lead to it.

    Attributes:
        value: the result; the last step shows it.
        steps: the lines of the working, in order.
        inputs: what went in, by name; set by the rule that made this.
        rule: the rule that made this; None for a working made by hand.
    """

    __slots__ = ("_before", "_steps", "inputs", "rule", "value")

    def __init__(
        self,
        value: T_co,
        *steps: tuple[str, Any, str],
        before_rounding: Fraction | tuple[Fraction, Fraction] | None = None,
    ) -> None:
        self.value = value
        self._steps = steps
        self._before = before_rounding
        self.inputs: dict[str, Any] = {}
        self.rule: Rule[..., Any] | None = None

    @property
    def steps(self) -> tuple[Step, ...]:
        """The lines of the working."""
        return tuple(Step(*step) for step in self._steps)

    @property
    def before_rounding(self) -> Any:
        """The value before it was rounded to whole pieces; the value itself where nothing is rounded."""
        if self._before is None:
            return self.value
        return self._before[0] / self._before[1] if isinstance(self._before, tuple) else self._before
