"""A question under one specification, compiled: every name found, every working and text ready to run many times."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from trainer.questions.case import Facts
from trainer.questions.grids import Draw, choices_of
from trainer.questions.lines import Path
from trainer.questions.model import LANGUAGES, BothLanguages, DrawingCall, Language, Question
from trainer.questions.names import Names, Wrong
from trainer.questions.ordering import closure_of
from trainer.questions.planned_drawing import PlannedDrawing, after_call, plan_drawing
from trainer.questions.planned_reading import PlannedReading, plan_reading
from trainer.questions.planned_target import PlannedPart, PlannedTarget, limits_of, plan_parts, plan_target
from trainer.questions.quantities import alike, stored_text
from trainer.questions.templates import Template
from trainer.questions.told import NOTHING, Told
from trainer.questions.wording import ANSWER_WORDS, texts_of
from trainer.questions.working import RuleWork, Scope, Work
from trainer.questions.workings import Workings, value_once
from trainer.rules import Dimension
from trainer.rules.dimensions import LENGTH
from trainer.rules.exact import near_ones
from trainer.rules.lengths import METRIC_MARK, TAPE_MARK, length_text, nearest_mark
from trainer.rules.specification import Specification


@dataclass(frozen=True)
class Condition:
    """A test on the scope; `path` is its key, `text` what the file says, for the message when it never holds."""

    path: Path
    text: str
    test: Callable[[Scope], Any]


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
        self.has_rows = question.kind in ("choice", "order", "judge", "spot")
        self.spans = {draw.name: (draw.least, draw.most) for draw in self.draws}
        self.workings = Workings(names, self.spans)
        self.all_values = self._values()
        self.values = tuple((name, work) for name, work in self.all_values if name not in names.given)
        self.answer = self._answer()
        self.within, self.nearest = self._within(), self._nearest()
        self.within_text = self._within_text()
        self.mistakes = self._mistakes()
        names.stop_on_problems()
        self.conditions = self._conditions()
        self.required_mistakes = frozenset(item.mistake for item in question.constraints if item.mistake)
        self.rows = self._rows()
        self.readings = self._readings()
        self.drawing = self._drawing("drawing", question.drawing)
        self.after_drawing = self._drawing("after_drawing", after_call(question))
        self.targets = self._targets()
        self.parts = self._parts()
        self._find_names_of_texts()
        names.stop_on_problems()
        self.dimensions: Mapping[str, Dimension] = names.dimensions
        self.base: Mapping[str, Any] = dict(names.given)
        self.texts = {language: self._folded(language) for language in LANGUAGES}
        self.fixed_texts = self._fixed_texts()
        self.pairs = tuple(
            (before, after, question.pairs[index].why or NOTHING)
            for (before, after), index in closure_of(question.pairs).items()
        )
        self.values_behind_answer = self._behind_answer()
        self.facts = self._facts()

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
            work = self.workings.work(source, ("values", name))
            if work is not None:
                self.names.dimensions[name] = work.dimension
                self.names.own.add(name)
                if isinstance(work, RuleWork) and work.constant:
                    with self.names.at("values", name):
                        self.names.given[name] = value_once(work)
                found.append((name, work))
        self.names.stop_on_problems()
        return tuple(found)

    def _answer(self) -> Work | None:
        """Compile the answer; an answer by value is that value's own working, so that it has steps."""
        source = self.question.answer
        if source is None:
            return None
        work = self.workings.work(source, ("answer",))
        return dict(self.all_values).get(source.value, work) if source.value is not None else work

    def _within(self) -> Any:
        if self.question.within is None or self.answer is None:
            return None
        with self.names.at("answer", "within"):
            name, value = self.names.operand(self.question.within, self.answer.dimension)
            return value if name is None else self.workings.fixed_value(name)

    def _nearest(self) -> Fraction:
        mark = METRIC_MARK if self.specification.units == "metric" else TAPE_MARK
        if self.question.nearest is not None:
            with self.names.at("answer", "nearest"):
                name, value = self.names.operand(self.question.nearest, LENGTH)
                mark = value if name is None else self.workings.fixed_value(name)
                if mark <= 0:
                    raise Wrong("E203", f'"{self.question.nearest}" is no tape mark; write one such as "1/16 in"')
        return Fraction(mark)

    def _within_text(self) -> BothLanguages | None:
        if self.within is None or self.answer is None:
            return None
        return Told(self.write, self.within, self.answer.dimension)

    def write(self, value: Any, dimension: Dimension, language: Language) -> str:
        """Write a value, a length to the question's tape mark."""
        units = self.specification.units
        if alike(dimension, LENGTH):
            return length_text(value, units=units, language=language, nearest=self.nearest)
        return dimension.text(value, units, language)

    def _mistakes(self) -> tuple[tuple[str, Work], ...]:
        answer = self.answer
        found: list[tuple[str, Work]] = []
        if answer is None:
            return ()
        for mistake in self.question.mistakes:
            path: Path = ("mistakes", mistake.id)
            with self.names.at(*path):
                work = self.workings.mistake(mistake, answer, path)
                if work is not None and not alike(work.dimension, answer.dimension):
                    kinds = f"{work.dimension.spoken[0]}, the answer {answer.dimension.spoken[0]}"
                    raise Wrong("E214", f'mistake "{mistake.id}" gives {kinds}; both must be of one kind')
                if work is not None:
                    found.append((mistake.id, work))
        return tuple(found)

    def _conditions(self) -> tuple[Condition, ...]:
        found = []
        for index, constraint in enumerate(self.question.constraints):
            path: Path = ("constraints", index)
            with self.names.at(*path):
                if constraint.condition is not None:
                    test = self.workings.expression(constraint.condition, condition=True).work
                    found.append(Condition(path, constraint.condition, test))
                found += [Condition(path, said, test) for said, test in self.workings.bounds(constraint, path)]
        return tuple(found)

    def _rows(self) -> tuple[tuple[Callable[[Scope], Any], Callable[[Scope], Any]], ...]:
        """Give for each row its tests: is it right, may it be drawn."""
        section = "steps" if self.question.kind == "order" else "rows"
        found = []
        for index, row in enumerate(self.question.rows):
            with self.names.at(section, index, "right"):
                right = self.workings.test(row.right)
                with self.names.at(section, index, "when"):
                    found.append((right, self.workings.test(row.when)))
        return tuple(found)

    def _readings(self) -> tuple[PlannedReading, ...]:
        planned = [
            plan_reading(self.names, ("readings", index), reading)
            for index, reading in enumerate(self.question.readings)
        ]
        return tuple(reading for reading in planned if reading is not None)

    def _targets(self) -> tuple[PlannedTarget, ...]:
        drawing = self.drawing
        if drawing is None:
            return ()
        planned = [
            plan_target(self.names, ("targets", index), target, drawing)
            for index, target in enumerate(self.question.targets)
        ]
        return tuple(target for target in planned if target is not None)

    def _parts(self) -> tuple[PlannedPart, ...]:
        drawing, question = self.drawing, self.question
        if question.kind != "spot" or drawing is None:
            return ()
        return plan_parts(drawing, self.targets, sound=bool(question.sound))

    @property
    def all_readings(self) -> tuple[PlannedReading, ...]:
        """Every reading that a case can draw: a judge's, and those of a spot's targets."""
        return (*self.readings, *(target.reading for target in self.targets if target.reading is not None))

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

    def first_same(self, one: Any, others: Sequence[Any]) -> int | None:
        """Give the place of the first that counts as one with it: within the tolerance, or for rows of one text."""
        near = near_ones(one, others, self.within)
        if self.question.kind != "choice" or self.answer is None:
            return near[0] if near else None
        dimension, nearest = self.answer.dimension, self.nearest
        marked = alike(dimension, LENGTH)

        def row(value: Any) -> object:
            return nearest_mark(value, nearest) if marked else dimension.text(value)

        own = row(one)
        return next((at for at, other in enumerate(others) if at in near or row(other) == own), None)

    def pairs_among(self, taken: frozenset[str]) -> list[tuple[str, str]]:
        """Give the pairs "A before B", carried through, of the steps taken."""
        return [(before, after) for before, after, _ in self.pairs if before in taken and after in taken]

    def _folded(self, language: Language) -> dict[Path, Template]:
        """Put into the texts what is the same in every case, so that a case fills only its own numbers."""
        units = self.specification.units
        shown = {name: self.dimensions[name].text(value, units, language) for name, value in self.base.items()}
        return {path: template.folded(shown) for path, template in texts_of(self.question, language).items()}

    def _fixed_texts(self) -> dict[Path, BothLanguages]:
        """Give the texts that read the same in every case."""
        return {
            path: {language: self.texts[language][path].pieces[0] for language in LANGUAGES}
            for path in self.texts[LANGUAGES[0]]
            if not any(self.texts[language][path].names for language in LANGUAGES)
        }

    def _facts(self) -> Facts:
        question = self.question
        pick = "" if question.kind != "choice" else "one" if question.right == (1, 1) else "many"
        return Facts(
            question=question.id,
            digest=question.digest,
            kind=question.kind,
            topic=question.topic,
            critical=question.critical,
            specification=self.specification.label,
            units=self.specification.units,
            rule_editions=self._editions(),
            title={language: question.texts[language].title for language in LANGUAGES},
            danger=question.danger,
            limits=limits_of(self.targets),
            pick=pick,
            show_limits=question.show_limits,
        )

    def _editions(self) -> dict[str, int]:
        """Give the edition of every rule that a case can ask, by name."""
        works = [*(work for _, work in self.all_values), *(work for _, work in self.mistakes)]
        rules = [work.rule for work in [*works, *([self.answer] if self.answer else [])] if work.rule is not None]
        return {rule.name: rule.edition for rule in sorted(rules, key=lambda rule: rule.name)}
