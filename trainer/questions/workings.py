"""Compiles a question's workings under a specification: rules, sums, mistakes, conditions, bounds."""

import operator
from collections.abc import Callable, Mapping
from typing import Any, Final

from trainer.questions.expressions import Expression, compile_expression
from trainer.questions.lines import Path
from trainer.questions.model import Constraint, Mistake, Source
from trainer.questions.names import Names, Wrong
from trainer.questions.quantities import alike, any_quantity
from trainer.questions.working import Impossible, NameWork, RuleWork, Scope, Spans, SumWork, Work
from trainer.rules import Input, Rule, RuleInputError, get_rule
from trainer.rules.dimensions import COUNT

BOUNDS: Final[Mapping[str, Callable[[Any, Any], Any]]] = {
    "at_least": operator.ge,
    "at_most": operator.le,
    "above": operator.gt,
    "below": operator.lt,
    "equals": operator.eq,
    "not_equals": operator.ne,
}


class Workings:
    """Makes workings of what a file says; what doesn't fit is noted with `names`, or raised as Wrong."""

    def __init__(self, names: Names, spans: Spans) -> None:
        self.names, self.spans = names, spans

    def work(self, source: Source, path: Path, answer: Work | None = None) -> Work | None:
        """Compile a working; a mistake's sum takes the dimension of the `answer`."""
        with self.names.at(*path):
            if source.rule is not None:
                return self.rule_work(get_rule(source.rule), source.inputs, source.item)
            if source.value is not None:
                return NameWork(source.value, self.names.need(source.value))
            if source.expression is not None:
                return self._sum_work(source, path, answer)
        return None

    def rule_work(self, rule: Rule[..., Any], given: Mapping[str, str], item: str | None) -> Work:
        """Compile a rule's working: inputs given, then names of the question, then the specification."""
        fixed: dict[str, Any] = {}
        named: dict[str, str] = {}
        names: list[str] = []
        for entry in rule.inputs:
            name = self._input(rule, entry, given, fixed)
            if name is not None:
                names.append(name)
                if name in self.names.given:
                    fixed[entry.name] = self.names.given[name]
                else:
                    named[entry.name] = name
        picked = self._item(item)
        if isinstance(picked, str) and picked != "last":
            names.append(picked)
        try:
            return RuleWork(
                rule,
                fixed,
                named,
                item=picked,
                dimension=rule.result.item if item else rule.result,
                names=tuple(names),
                spans=self.spans,
            )
        except RuleInputError as error:
            raise Wrong("E205", f"{error} (these inputs never change, so no case can be made)") from None

    def _input(self, rule: Rule[..., Any], entry: Input, given: Mapping[str, str], fixed: dict[str, Any]) -> str | None:
        """Give the name that an input takes its value from, or put its value among the fixed ones."""
        if entry.name in given:
            name, value = self.names.operand(given[entry.name], entry.dimension)
            if name is None:
                fixed[entry.name] = value
            return name
        if entry.name not in self.names.own:
            fixed[entry.name] = self._specified(rule, entry.name, entry.required, entry.default)
            return None
        if not alike(self.names.dimensions[entry.name], entry.dimension):
            message = f'"{entry.name}" is no {entry.dimension.spoken[0]}, which rule "{rule.name}" asks for'
            raise Wrong("E204", message + "; rename it, or give the rule another input")
        return entry.name

    def _specified(self, rule: Rule[..., Any], name: str, required: bool, default: Any) -> Any:
        value = self.names.specification.give(name, self.names.question.part or rule.part)
        if value is None and rule.part and self.names.question.part:
            value = self.names.specification.give(name, rule.part)
        if value is None and required:
            message = (
                f'rule "{rule.name}" needs "{name}", which is no parameter, no value and not in '
                f"{self.names.specification.label}; give it under inputs"
            )
            raise Wrong("E204", message)
        return default if value is None else value

    def _item(self, item: str | None) -> int | str | None:
        if item is None or item == "last":
            return item
        name, value = self.names.operand(item, COUNT)
        return int(value) if name is None else name

    def _sum_work(self, source: Source, path: Path, answer: Work | None) -> Work:
        expression = self.expression(source.expression or "", condition=False)
        given = source.dimension
        if given is None and path[0] == "answer":
            given = "count" if self.names.question.kind == "count" else "length"
        if given is None and path[0] == "mistakes" and answer is not None:
            return SumWork(expression, answer.dimension)
        name = str(path[-1]) if path[0] == "values" else ""
        first = next((self.names.dimensions[one] for one in expression.names), COUNT)
        dimension = first if not name and given is None else self.names.dimension(name, given)
        return SumWork(expression, dimension)

    def expression(self, text: str, *, condition: bool) -> Expression:
        """Compile a sum or condition whose names are known and go together."""
        expression = compile_expression(text, any_quantity, condition=condition)
        for name in expression.names:
            self.names.need(name)
        for one, other in expression.together:
            dimensions = self.names.dimensions[one], self.names.dimensions[other]
            if not alike(*dimensions):
                kinds = " and ".join(dimension.spoken[0] for dimension in dimensions)
                message = f'"{text}" puts "{one}" and "{other}" together, {kinds}; compare and add like things'
                raise Wrong("E204", message)
        return expression

    def mistake(self, mistake: Mistake, answer_work: Work, path: Path) -> Work | None:
        """Compile a mistake; another rule takes over the answer's inputs and item where it can."""
        answer = self.names.question.answer
        source = mistake.source
        if answer is None:
            return None
        if source is None:
            if answer.rule is not None:
                changed = {**answer.inputs, **mistake.changed}
                return self.rule_work(get_rule(answer.rule), changed, answer.item)
            return self._changed_sum(mistake, answer_work)
        if source.rule is not None and answer.rule is not None:
            rule = get_rule(source.rule)
            known = {entry.name for entry in rule.inputs}
            kept = {name: text for name, text in answer.inputs.items() if name in known}
            item = source.item or (answer.item if rule.result.kind is tuple else None)
            return self.rule_work(rule, {**kept, **source.inputs}, item)
        return self.work(source, path, answer_work)

    def _changed_sum(self, mistake: Mistake, work: Work) -> Work | None:
        if not isinstance(work, SumWork):
            return None
        values: dict[str, Any] = {}
        others: dict[str, str] = {}
        for name, text in mistake.changed.items():
            if name not in work.expression.names:
                known = ", ".join(work.expression.names)
                raise Wrong("E214", f'"{name}" is not in the answer\'s expression; its names are {known}')
            other, value = self.names.operand(text, self.names.need(name))
            if other is None:
                values[name] = value
            else:
                others[name] = other
        return SumWork(work.expression, work.dimension, values, others)

    def bounds(self, constraint: Constraint, path: Path) -> list[tuple[str, Callable[[Scope], Any]]]:
        """Compile a constraint's bounds: what each says, and its test."""
        work = self.work(constraint.source, path) if constraint.source is not None else None
        if work is None:
            return []
        found = []
        for word, text in constraint.bounds.items():
            name, value = self.names.operand(text, work.dimension)
            found.append((f"{word} {text}", _bound(work, BOUNDS[word], name, value)))
        return found

    def test(self, said: bool | str) -> Callable[[Scope], Any]:
        """Compile what a row says of itself: true, false or a condition."""
        if isinstance(said, str):
            return self.expression(said, condition=True).work
        return _always if said else _never

    def fixed_value(self, name: str) -> Any:
        """Give the value of a name that is the same in every case."""
        if name not in self.names.given:
            raise Wrong("E204", f'"{name}" changes from case to case; write a quantity or a name of the specification')
        return self.names.given[name]


def value_once(work: RuleWork) -> Any:
    """Give the value of a working that is the same in every case."""
    try:
        return work.value({})
    except (RuleInputError, Impossible) as error:
        raise Wrong("E205", f"{error} (its inputs never change, so no case can be made)") from None


def _bound(work: Work, compare: Callable[[Any, Any], Any], name: str | None, value: Any) -> Callable[[Scope], Any]:
    def test(scope: Scope) -> Any:
        return compare(work.value(scope), scope[name] if name is not None else value)

    return test


def _always(_scope: Scope) -> bool:
    return True


def _never(_scope: Scope) -> bool:
    return False
