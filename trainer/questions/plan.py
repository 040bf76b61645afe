"""A question under one specification, compiled: every name found, every working and text ready to run many times."""

import operator
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from trainer.drawings.registry import get_drawing
from trainer.questions.expressions import Expression, compile_expression
from trainer.questions.lines import Path
from trainer.questions.model import (
    LANGUAGES,
    BothLanguages,
    Constraint,
    DrawingCall,
    Grid,
    Language,
    Mistake,
    Pair,
    Question,
    Source,
)
from trainer.questions.names import Names, Wrong
from trainer.questions.quantities import alike, any_quantity, is_name, stored_text
from trainer.questions.templates import Template
from trainer.questions.wording import ANSWER_WORDS, texts_of
from trainer.questions.working import Impossible, NameWork, RuleWork, Scope, SumWork, Work
from trainer.rules import Dimension, Input, Rule, RuleInputError, get_rule
from trainer.rules.dimensions import COUNT, LENGTH
from trainer.rules.lengths import METRIC_MARK, TAPE_MARK, nearest_mark
from trainer.rules.specification import Specification, Value

MOST_CHOICES: Final = 100_000
BOUNDS: Final[Mapping[str, Callable[[Any, Any], Any]]] = {
    "at_least": operator.ge,
    "at_most": operator.le,
    "above": operator.gt,
    "below": operator.lt,
    "equals": operator.eq,
    "not_equals": operator.ne,
}


@dataclass(frozen=True)
class Draw:
    """A parameter's choices: each value with its stored text."""

    name: str
    dimension: Dimension
    choices: tuple[tuple[Any, str], ...]

    @property
    def least(self) -> Any:
        """The least value."""
        return min(value for value, _ in self.choices)

    @property
    def most(self) -> Any:
        """The greatest value."""
        return max(value for value, _ in self.choices)


@dataclass(frozen=True)
class PlannedReading:
    """A reading with the specification's value behind its limit, and its offsets on the good and the bad side."""

    id: str
    value: Value
    dimension: Dimension
    good: tuple[Any, ...]
    bad: tuple[Any, ...]
    near: bool


@dataclass(frozen=True)
class Condition:
    """A test on the scope; `path` is its key, `text` what the file says, for the message when it never holds."""

    path: Path
    text: str
    test: Callable[[Scope], Any]


@dataclass(frozen=True)
class PlannedDrawing:
    """A drawing's fixed inputs and the inputs that a case's scope gives."""

    key: str
    name: str
    part: str | None
    fixed: Mapping[str, object]
    named: Mapping[str, str]


class Plan:
    """The compiled question.

    Raises:
        ContentError: A name, operand, input or text that does not fit this specification; each with its line.
    """

    def __init__(self, question: Question, specification: Specification) -> None:
        self.question, self.specification = question, specification
        self.names = names = Names(question, specification)
        self.draws = self._draws()
        names.stop_on_problems()
        self.spans = {draw.name: (draw.least, draw.most) for draw in self.draws}
        self.all_values = self._values()
        self.values = tuple((name, work) for name, work in self.all_values if name not in names.given)
        self.answer = self._answer()
        self.within, self.nearest = self._within(), self._nearest()
        self.mistakes = self._mistakes()
        names.stop_on_problems()
        self.conditions = self._conditions()
        self.required_mistakes = frozenset(item.mistake for item in question.constraints if item.mistake)
        self.rows = self._rows()
        self.readings = self._readings()
        self.drawing, self.after_drawing = (
            self._drawing("drawing", question.drawing), self._drawing("after_drawing", question.after_drawing),
        )  # fmt: skip
        self._find_names_of_texts()
        names.stop_on_problems()
        self.dimensions: Mapping[str, Dimension] = names.dimensions
        self.base: Mapping[str, Any] = dict(names.given)
        self.texts = {language: self._folded(language) for language in LANGUAGES}
        self.editions = self._editions()
        self.closure = closure_of(question.pairs)
        self.values_behind_answer = self._behind_answer()
        self.titles: BothLanguages = {language: question.texts[language].title for language in LANGUAGES}

    def _draws(self) -> tuple[Draw, ...]:
        found = []
        for parameter in self.question.parameters:
            with self.names.at("parameters", parameter.name):
                dimension = self.names.dimension(parameter.name, parameter.dimension)
                self.names.dimensions[parameter.name] = dimension
                self.names.own.add(parameter.name)
                metric = parameter.metric if self.specification.units == "metric" else None
                values = choices_of(metric or parameter.grid, dimension)
                stored = tuple((value, stored_text(value, dimension)) for value in values)
                found.append(Draw(parameter.name, dimension, stored))
        return tuple(found)

    def _values(self) -> tuple[tuple[str, Work], ...]:
        found = []
        for name, source in self.question.values:
            work = self._work(source, ("values", name))
            if work is not None:
                self.names.dimensions[name] = work.dimension
                self.names.own.add(name)
                if isinstance(work, RuleWork) and work.constant:
                    with self.names.at("values", name):
                        self.names.given[name] = _once(work)
                found.append((name, work))
        self.names.stop_on_problems()
        return tuple(found)

    def _answer(self) -> Work | None:
        """Compile the answer; an answer by value is that value's own working, so that it has steps."""
        source = self.question.answer
        if source is None:
            return None
        work = self._work(source, ("answer",))
        return dict(self.all_values).get(source.value, work) if source.value is not None else work

    def _work(self, source: Source, path: Path) -> Work | None:
        with self.names.at(*path):
            if source.rule is not None:
                return self._rule_work(get_rule(source.rule), source.inputs, source.item)
            if source.value is not None:
                return NameWork(source.value, self.names.need(source.value))
            if source.expression is not None:
                return self._sum_work(source, path)
        return None

    def _rule_work(self, rule: Rule[..., Any], given: Mapping[str, str], item: str | None) -> Work:
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
        value = self.specification.give(name, self.question.part or rule.part)
        if value is None and rule.part and self.question.part:
            value = self.specification.give(name, rule.part)
        if value is None and required:
            message = (
                f'rule "{rule.name}" needs "{name}", which is no parameter, no value and not in '
                f"{self.specification.label}; give it under inputs"
            )
            raise Wrong("E204", message)
        return default if value is None else value

    def _item(self, item: str | None) -> int | str | None:
        if item is None or item == "last":
            return item
        name, value = self.names.operand(item, COUNT)
        return int(value) if name is None else name

    def _sum_work(self, source: Source, path: Path) -> Work:
        expression = self._expression(source.expression or "", condition=False)
        given = source.dimension
        if given is None and path[0] == "answer":
            given = "count" if self.question.kind == "count" else "length"
        if given is None and path[0] == "mistakes" and self.answer is not None:
            return SumWork(expression, self.answer.dimension)
        name = str(path[-1]) if path[0] == "values" else ""
        first = next((self.names.dimensions[one] for one in expression.names), COUNT)
        dimension = first if not name and given is None else self.names.dimension(name, given)
        return SumWork(expression, dimension)

    def _expression(self, text: str, *, condition: bool) -> Expression:
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

    def _within(self) -> Any:
        if self.question.within is None or self.answer is None:
            return None
        with self.names.at("answer", "within"):
            name, value = self.names.operand(self.question.within, self.answer.dimension)
            return value if name is None else self._fixed_value(name)

    def _nearest(self) -> Fraction:
        mark = METRIC_MARK if self.specification.units == "metric" else TAPE_MARK
        if self.question.nearest is not None:
            with self.names.at("answer", "nearest"):
                name, value = self.names.operand(self.question.nearest, LENGTH)
                mark = value if name is None else self._fixed_value(name)
                if mark <= 0:
                    raise Wrong("E203", f'"{self.question.nearest}" is no tape mark; write one such as "1/16 in"')
        return Fraction(mark)

    def _fixed_value(self, name: str) -> Any:
        if name not in self.names.given:
            raise Wrong("E204", f'"{name}" changes from case to case; write a quantity or a name of the specification')
        return self.names.given[name]

    def _mistakes(self) -> tuple[tuple[str, Work], ...]:
        found = []
        for mistake in self.question.mistakes:
            path: Path = ("mistakes", mistake.id)
            with self.names.at(*path):
                work = self._mistake(mistake, path)
                if work is not None and self.answer is not None and not alike(work.dimension, self.answer.dimension):
                    kinds = f"{work.dimension.spoken[0]}, the answer {self.answer.dimension.spoken[0]}"
                    raise Wrong("E214", f'mistake "{mistake.id}" gives {kinds}; both must be of one kind')
                if work is not None:
                    found.append((mistake.id, work))
        return tuple(found)

    def _mistake(self, mistake: Mistake, path: Path) -> Work | None:
        answer = self.question.answer
        source = mistake.source
        if answer is None or self.answer is None:
            return None
        if source is None:
            if answer.rule is not None:
                changed = {**answer.inputs, **mistake.changed}
                return self._rule_work(get_rule(answer.rule), changed, answer.item)
            return self._changed_sum(mistake)
        if source.rule is not None and answer.rule is not None:
            rule = get_rule(source.rule)
            known = {entry.name for entry in rule.inputs}
            kept = {name: text for name, text in answer.inputs.items() if name in known}
            item = source.item or (answer.item if rule.result.kind is tuple else None)
            return self._rule_work(rule, {**kept, **source.inputs}, item)
        return self._work(source, path)

    def _changed_sum(self, mistake: Mistake) -> Work | None:
        work = self.answer
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

    def _conditions(self) -> tuple[Condition, ...]:
        found = []
        for index, constraint in enumerate(self.question.constraints):
            path: Path = ("constraints", index)
            with self.names.at(*path):
                if constraint.condition is not None:
                    test = self._expression(constraint.condition, condition=True).work
                    found.append(Condition(path, constraint.condition, test))
                found += self._bounds(constraint, path)
        return tuple(found)

    def _bounds(self, constraint: Constraint, path: Path) -> list[Condition]:
        work = self._work(constraint.source, path) if constraint.source is not None else None
        if work is None:
            return []
        found = []
        for word, text in constraint.bounds.items():
            name, value = self.names.operand(text, work.dimension)
            found.append(Condition(path, f"{word} {text}", _bound(work, BOUNDS[word], name, value)))
        return found

    def _rows(self) -> tuple[tuple[Callable[[Scope], Any], Callable[[Scope], Any]], ...]:
        """Give for each row its tests: is it right, may it be drawn."""
        section = "steps" if self.question.kind == "order" else "rows"
        found = []
        for index, row in enumerate(self.question.rows):
            tests: list[Callable[[Scope], Any]] = []
            for key, said in (("right", row.right), ("when", row.when)):
                with self.names.at(section, index, key):
                    tests.append(self._test(said))
            if len(tests) == 2:  # noqa: PLR2004 - right and when
                found.append((tests[0], tests[1]))
        return tuple(found)

    def _test(self, said: bool | str) -> Callable[[Scope], Any]:
        if isinstance(said, str):
            return self._expression(said, condition=True).work
        return _always if said else _never

    def _readings(self) -> tuple[PlannedReading, ...]:
        found = []
        for index, reading in enumerate(self.question.readings):
            with self.names.at("readings", index, "limit"):
                value = self.limit(reading.limit)
                dimension = value.dimension
                with self.names.at("readings", index, "good"):
                    good = choices_of(reading.good, dimension)
                    with self.names.at("readings", index, "bad"):
                        bad = choices_of(reading.bad, dimension)
                        if min(good) < 0 or min(bad) < 0:
                            raise Wrong("E213", "a distance from the limit is below zero; write how far, from zero up")
                        found.append(PlannedReading(reading.id, value, dimension, good, bad, reading.near))
        return tuple(found)

    def limit(self, name: str) -> Value:
        """Find a whole value of the specification, with its limit kind and tolerance."""
        try:
            return self.specification.lookup(name, self.question.part)
        except LookupError as error:
            raise Wrong("E204", str(error)) from None

    def _drawing(self, key: str, call: DrawingCall | None) -> PlannedDrawing | None:
        if call is None:
            return None
        with self.names.at(key):
            return plan_drawing(self.names, key, call)
        return None

    def _find_names_of_texts(self) -> None:
        """Find every name of every text; names of the answer's steps are left to each case."""
        for language in LANGUAGES:
            for path, template in texts_of(self.question, language).items():
                with self.names.at("text", language, *path):
                    self._find_all(template, steps=path[0] in ("mistakes", "after") and self.answer is not None)

    def _find_all(self, template: Template, *, steps: bool) -> None:
        for name in template.names:
            if name not in ANSWER_WORDS and not (steps and self.names.find(name) is None and "." not in name):
                self.names.need(name)

    def _behind_answer(self) -> tuple[tuple[str, Work], ...]:
        """Give the values that the answer rests on, in the file's order, without the one that is the answer."""
        needed = set(self.answer.names) if self.answer is not None else set()
        found = []
        for name, work in reversed(self.all_values):
            if name in needed and work is not self.answer:
                needed.update(work.names)
                found.append((name, work))
        return tuple(reversed(found))

    def same(self, one: Any, other: Any) -> bool:
        """Tell whether two answers count as one: within the tolerance, or for rows on the same tape mark."""
        if one == other:
            return True
        if self.within is not None and abs(one - other) <= self.within:
            return True
        if self.question.kind != "choice" or self.answer is None:
            return False
        if alike(self.answer.dimension, LENGTH):
            return nearest_mark(one, self.nearest) == nearest_mark(other, self.nearest)
        return self.answer.dimension.text(one) == self.answer.dimension.text(other)

    def pairs_among(self, taken: frozenset[str]) -> list[tuple[str, str]]:
        """Give the pairs "A before B", carried through, of the steps taken."""
        return [pair for pair in self.closure if taken.issuperset(pair)]

    def _folded(self, language: Language) -> dict[Path, Template]:
        """Put into the texts what is the same in every case, so that a case fills only its own numbers."""
        units = self.specification.units
        shown = {name: self.dimensions[name].text(value, units, language) for name, value in self.base.items()}
        return {path: template.folded(shown) for path, template in texts_of(self.question, language).items()}

    def _editions(self) -> dict[str, int]:
        """Give the edition of every rule that a case can ask, by name."""
        works = [*(work for _, work in self.all_values), *(work for _, work in self.mistakes)]
        rules = [work.rule for work in [*works, *([self.answer] if self.answer else [])] if work.rule is not None]
        return {rule.name: rule.edition for rule in sorted(rules, key=lambda rule: rule.name)}


def closure_of(pairs: Sequence[Pair]) -> dict[tuple[str, str], int]:
    """Carry the pairs through; each pair of steps has the place of the first of the file's pairs that leads to it."""
    found = {(pair.before, pair.after): index for index, pair in reversed(list(enumerate(pairs)))}
    grown = True
    while grown:
        more = {
            (before, later): index
            for (before, middle), index in found.items()
            for (start, later) in found
            if start == middle and (before, later) not in found
        }
        grown = bool(more)
        found |= more
    return found


def plan_drawing(names: Names, key: str, call: DrawingCall) -> PlannedDrawing:
    """Find a drawing's inputs: those given, then names of the question, then the specification."""
    kind = get_drawing(call.name)
    fixed: dict[str, object] = {word: call.inputs[word] for word in ("show", "ask") if word in call.inputs}
    named: dict[str, str] = {}
    for entry in kind.inputs:
        if not isinstance(entry.kind, Dimension):
            if entry.name in call.inputs:
                fixed[entry.name] = call.inputs[entry.name]
        elif entry.name in call.inputs:
            name, value = names.operand(call.inputs[entry.name], entry.kind)
            if name is None:
                fixed[entry.name] = value
            else:
                named[entry.name] = name
        elif entry.name in names.own:
            if alike(names.dimensions[entry.name], entry.kind):
                named[entry.name] = entry.name
    return PlannedDrawing(key, call.name, call.inputs.get("part"), fixed, named)


def choices_of(grid: Grid, dimension: Dimension) -> tuple[Any, ...]:
    """Give every value of a grid.

    Raises:
        Wrong: A text is no quantity of the dimension, or the grid is empty or too fine.
    """
    try:
        if grid.values:
            return tuple(dict.fromkeys(dimension.parse(text) for text in grid.values))
        first, last = dimension.parse(grid.first), dimension.parse(grid.last)
        step = dimension.parse(grid.step) if grid.step else (1 if dimension.kind is int else None)
    except ValueError as error:
        raise Wrong("E203", str(error)) from None
    if step is None:
        raise Wrong("E202", '"step" is missing; write how far apart the values lie, such as step = "6 in"')
    if step <= 0 or last < first:
        raise Wrong(
            "E203",
            f"from {grid.first} to {grid.last} by {grid.step or 1} is empty; put the smaller one first",
        )
    count = int((last - first) // step) + 1
    if count > MOST_CHOICES:
        raise Wrong("E203", f"the grid has {count} values, more than {MOST_CHOICES}; make the step larger")
    return tuple(first + step * place for place in range(count))


def _once(work: RuleWork) -> Any:
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


__all__ = ["Language", "Plan", "is_name"]
