"""Compiled workings: how a value, an answer or a mistake is worked out from a case's scope.

A scope maps each name a question uses to its value. Inputs that never change are gathered and checked once; a case
checks only the bounds its own numbers can break, then calls the rule's bare `work`.
"""

import operator
from collections.abc import Callable, Mapping
from itertools import product
from typing import Any, Final, Protocol

from trainer.questions.expressions import Expression
from trainer.questions.quantities import whole
from trainer.rules import Dimension, Rule, Working

Scope = Mapping[str, Any]
Check = Callable[[Scope], Any]
Spans = Mapping[str, tuple[Any, Any]]
_COMPARE: Final = {">": operator.gt, ">=": operator.ge, "<": operator.lt, "<=": operator.le}


class Impossible(ValueError):
    """These numbers have no such value: a division by zero, or an item the list lacks."""


class Work(Protocol):
    """What gives a value: its dimension, the names it reads, and for a rule also its working."""

    dimension: Dimension
    rule: Rule[..., Any] | None
    names: tuple[str, ...]

    def value(self, scope: Scope) -> Any:
        """Work the value out; raises RuleInputError or Impossible."""
        ...

    def worked(self, scope: Scope) -> tuple[Any, Working[Any] | None]:
        """Give the value with the rule's working, or None where no rule is behind the value."""
        ...


class NameWork:
    """A value that another name holds."""

    rule: Rule[..., Any] | None = None

    def __init__(self, name: str, dimension: Dimension) -> None:
        self.name, self.dimension = name, dimension
        self.names: tuple[str, ...] = (name,)

    def value(self, scope: Scope) -> Any:
        """Give the named value."""
        return scope[self.name]

    def worked(self, scope: Scope) -> tuple[Any, None]:
        """Give the value; no rule is behind it."""
        return self.value(scope), None


class SumWork:
    """A value that an expression gives; `changed` puts other values (fixed, or another name's) in its names' places."""

    rule: Rule[..., Any] | None = None

    def __init__(
        self,
        expression: Expression,
        dimension: Dimension,
        changed_values: Mapping[str, Any] | None = None,
        changed_names: Mapping[str, str] | None = None,
    ) -> None:
        self.expression, self.dimension = expression, dimension
        self.changed_values, self.changed_names = dict(changed_values or {}), dict(changed_names or {})
        kept = [name for name in expression.names if name not in self.changed_values]
        self.names = tuple(self.changed_names.get(name, name) for name in kept)

    def value(self, scope: Scope) -> Any:
        """Work the sum out."""
        if self.changed_values or self.changed_names:
            named = {name: scope[other] for name, other in self.changed_names.items()}
            scope = {**scope, **self.changed_values, **named}
        try:
            return whole(self.expression.work(scope), self.dimension)
        except ZeroDivisionError:
            raise Impossible(f'"{self.expression.text}" divides by zero') from None

    def worked(self, scope: Scope) -> tuple[Any, None]:
        """Give the value; no rule is behind it."""
        return self.value(scope), None


class RuleWork:
    """A value that a rule gives from `fixed` inputs and inputs `named` in the scope; `item` picks from a list.

    `names` are all names of the question it rests on, those with one value for all cases too. `spans` give the least
    and the most that a name can be: what can't be broken within them isn't checked again in each case.

    Raises:
        RuleInputError: The fixed inputs alone break a bound of the rule.
    """

    def __init__(
        self,
        rule: Rule[..., Any],
        fixed: Mapping[str, Any],
        named: Mapping[str, str],
        *,
        item: int | str | None,
        dimension: Dimension,
        names: tuple[str, ...],
        spans: Spans,
    ) -> None:
        self.rule: Rule[..., Any] | None = rule
        self.dimension = dimension
        self._rule, self._fixed, self._named, self.item = rule, dict(fixed), tuple(named.items()), item
        self.names = names
        self._checks = _checks(rule, self._fixed, named, spans)
        self._once = None if named else rule.work(**self._fixed)

    @property
    def constant(self) -> bool:
        """Whether the value is the same in every case."""
        return self._once is not None and (self.item == "last" or not isinstance(self.item, str))

    def _working(self, scope: Scope) -> Working[Any]:
        if self._once is not None:
            return self._once
        inputs = dict(self._fixed)
        for name, source in self._named:
            inputs[name] = scope[source]
        for check in self._checks:
            if not check(inputs):
                return self._rule.answer(inputs)
        return self._rule.work(**inputs)

    def value(self, scope: Scope) -> Any:
        """Work the value out."""
        return self.worked(scope)[0]

    def worked(self, scope: Scope) -> tuple[Any, Working[Any]]:
        """Give the value and the rule's working."""
        working = self._working(scope)
        return (working.value if self.item is None else self._pick(working.value, scope)), working

    def place(self, scope: Scope, count: int) -> Any:
        """Give which item of `count` is picked, counted from 1."""
        if self.item == "last":
            return count
        return scope[self.item] if isinstance(self.item, str) else self.item

    def _pick(self, entries: tuple[Any, ...], scope: Scope) -> Any:
        place = self.place(scope, len(entries))
        if not isinstance(place, int) or not 1 <= place <= len(entries):
            raise Impossible(f"{self._rule.name} gives {len(entries)} items, so there is no item {place}")
        return entries[place - 1]


def _checks(
    rule: Rule[..., Any], fixed: Mapping[str, Any], named: Mapping[str, str], spans: Spans
) -> tuple[Check, ...]:
    """Give the checks a case needs; those that only fixed inputs touch, or that no value can break, are tried here."""
    checks: list[tuple[set[str], Check]] = [
        ({entry.name}, _within_bounds(entry.name, entry.dimension))
        for entry in rule.inputs
        if entry.dimension.kind is not bool
    ]
    for limit in rule.limits:
        touched = {limit.name, limit.bound} if isinstance(limit.bound, str) else {limit.name}
        checks.append((touched, _keeps(limit)))
    needed = []
    for touched, check in checks:
        moving = [name for name in touched if name in named]
        if not moving and not check(fixed):
            rule.answer({**fixed, **_plausible(rule, named)})
        if moving and not _never_broken(check, fixed, [(name, spans.get(named[name])) for name in moving]):
            needed.append(check)
    return tuple(needed)


def _never_broken(check: Check, fixed: Mapping[str, Any], moving: list[tuple[str, tuple[Any, Any] | None]]) -> bool:
    """Tell whether a check holds at every end of its inputs' spans; bounds are straight, so it then holds between."""
    ends = [[(name, end) for end in span] for name, span in moving if span is not None]
    if len(ends) < len(moving):
        return False
    return all(check({**fixed, **dict(corner)}) for corner in product(*ends))


def _plausible(rule: Rule[..., Any], named: Mapping[str, str]) -> dict[str, Any]:
    """Give in-bounds values for inputs not known yet, so that the rule itself words the refusal of the fixed ones."""
    return {item.name: item.dimension.parse(item.dimension.example) for item in rule.inputs if item.name in named}


def _within_bounds(name: str, dimension: Dimension) -> Check:
    least, most, many = dimension.least, dimension.most, dimension.kind is tuple

    def check(inputs: Scope) -> bool:
        value = inputs[name]
        if value is None:
            return True
        if many:
            return all((least is None or entry >= least) and abs(entry) <= most for entry in value)
        return bool((least is None or value >= least) and -most <= value <= most)

    return check


def _keeps(limit: Any) -> Check:
    compare, name, bound, plus = _COMPARE[limit.relation], limit.name, limit.bound, limit.plus
    named = isinstance(bound, str)
    fixed = None if named else bound + plus

    def check(inputs: Scope) -> bool:
        value = inputs[name]
        other = inputs[bound] if named else fixed
        if value is None or other is None:
            return True
        if isinstance(value, tuple):
            value = len(value)
        return bool(compare(value, other + plus if named else other))

    return check
