"""A case in numbers, and the chance it is drawn by. No words yet, so that a case costs little."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from hashlib import blake2b
from typing import Any, Final

from trainer.rules import Working

ANSWER_ROW: Final = "answer"
SHOWN, REFUSED, EQUALS_ANSWER, EQUALS_OTHER = (
    "shown",
    "refused",
    "equals the answer",
    "equals another mistake",
)
_WHOLE: Final = 1 << 64


class Redraw(Exception):
    """These numbers make no case; says why, for the message when none ever does."""


class Chance:
    """Numbers that depend on nothing but the question's version, the seed, the try and a name."""

    def __init__(self, digest: str, seed: str, attempt: int) -> None:
        self._state = blake2b(f"{digest}\0{seed}\0{attempt}\0".encode(), digest_size=8)

    def number(self, name: str) -> int:
        """Give a number from 0 to 2**64 - 1."""
        state = self._state.copy()
        state.update(name.encode())
        return int.from_bytes(state.digest(), "big")

    def below(self, name: str, count: int) -> int:
        """Give a number from 0 to count - 1."""
        return self.number(name) % count

    def happens(self, name: str, share: Fraction) -> bool:
        """Come true with this probability."""
        return self.number(name) * share.denominator < share.numerator * _WHOLE

    def shuffled(self, name: str, ids: Sequence[str]) -> list[str]:
        """Give the ids in another order."""
        return sorted(ids, key=lambda one: self.number(f"{name}\0{one}"))


@dataclass(slots=True)
class Draft:
    """A case in numbers.

    Attributes:
        scope: every name the question uses, with its value.
        drawn: what remakes the case: parameter names, `rows`, `reading.ID`, `fault`, as stored texts.
        value, working: the answer and, where a rule gives it, its working.
        mistakes: id, value (None where refused) and what became of it, in the file's order.
        rows: ids in the order shown; a numeric choice's right row is `answer`.
        readings: a judge's or spot's readings by id.
        fault: the id of a spot's target whose fault is planted by words; empty where there is none.
    """

    scope: dict[str, Any]
    drawn: dict[str, str]
    value: Any = None
    working: Working[Any] | None = None
    mistakes: list[tuple[str, Any, str]] = field(default_factory=list)
    rows: list[str] = field(default_factory=list)
    right: frozenset[str] = frozenset()
    readings: dict[str, Any] = field(default_factory=dict)
    fault: str = ""

    def shown_mistakes(self) -> list[tuple[str, Any]]:
        """Give the mistakes that stand in this case."""
        return [(one, value) for one, value, became in self.mistakes if became == SHOWN]
