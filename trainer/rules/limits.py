"""Bounds on the inputs of rules, and the one error that says which was passed."""

import operator
from collections.abc import Callable
from fractions import Fraction
from typing import Any, NamedTuple

from trainer.rules.languages import place_of
from trainer.rules.words import label


class Limit(NamedTuple):
    """A bound on an input: `value` or another input, `plus` a length."""

    name: str
    relation: str
    bound: str | Fraction
    plus: Fraction = Fraction(0)


def above(name: str, bound: str | int) -> Limit:
    """The input must be more than a number or another input."""
    return Limit(name, ">", bound if isinstance(bound, str) else Fraction(bound))


def at_least(name: str, bound: str | int | Fraction, plus: int | Fraction = 0) -> Limit:
    """The input must not be less than a number or another input plus a number."""
    return Limit(name, ">=", bound if isinstance(bound, str) else Fraction(bound), Fraction(plus))


def below(name: str, bound: str | int) -> Limit:
    """The input must be less than a number or another input."""
    return Limit(name, "<", bound if isinstance(bound, str) else Fraction(bound))


def at_most(name: str, bound: str | int | Fraction) -> Limit:
    """The input must not be more than a number or another input."""
    return Limit(name, "<=", bound if isinstance(bound, str) else Fraction(bound))


RELATIONS: dict[str, tuple[Callable[[Any, Any], Any], str, str]] = {
    ">": (operator.gt, "more than", "más de"),
    ">=": (operator.ge, "at least", "por lo menos"),
    "<": (operator.lt, "less than", "menos de"),
    "<=": (operator.le, "at most", "como máximo"),
}


class RuleInputError(ValueError):
    """An input that a rule can't work with.

    Attributes:
        rule, name: the rule and its input.
        value: what was given, as text.
        limit: what it must be.
        mending: what to do about it.
    """

    def __init__(
        self,
        rule: str,
        name: str,
        value: str,
        limit: str,
        mending: str,
        *,
        spoken: str | None = None,
        spanish: tuple[str, str] | None = None,
        valor: str | None = None,
    ) -> None:
        self.rule, self.name, self.value, self.limit, self.mending = rule, name, value, limit, mending
        self._spoken, self._spanish, self._valor = spoken or limit, spanish, valor or value
        super().__init__(f"{rule}: {name} is {value}; it must be {limit}. {mending}")

    def text(self, language: str = "en") -> str:
        """Give one sentence for the reader, with the input's label in the reader's language.

        Raises:
            ValueError: There is no such language.
        """
        if place_of(language) and self._spanish:
            limit, mending = self._spanish
            return f"{label(self.name, 'es')}: {self._valor}; debe ser {limit}. {mending}"
        return f"{label(self.name)}: {self.value}; it must be {self._spoken}. {self.mending}"


class Refusal(Exception):
    """Raised inside a rule for an input that only the work itself shows to be impossible."""

    def __init__(self, limit: Limit) -> None:
        self.limit = limit
        super().__init__(limit.name)
