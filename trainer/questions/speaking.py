"""Puts a draft into words: texts with their values filled in, steps, and quantities as the reader writes them."""

import re
from typing import Any, Final

from trainer.questions.case import Steps
from trainer.questions.draft import Draft
from trainer.questions.lines import Path
from trainer.questions.model import BothLanguages, Language
from trainer.questions.phrases import phrase
from trainer.questions.plan import Plan
from trainer.questions.quantities import any_quantity, stored_text
from trainer.questions.told import NOTHING, Told
from trainer.questions.working import RuleWork, SumWork, Work
from trainer.rules import Dimension, Working
from trainer.rules.dimensions import LENGTH
from trainer.rules.lengths import length_text
from trainer.rules.specification import ContentError
from trainer.rules.words import label, steps_text, word

_SIGNS: Final = {"*": "×", "/": "÷", "-": "−"}
_TOKEN: Final = re.compile(r"'([^']*)'|([a-z][a-z0-9_]*(?:\.[a-z][a-z0-9_]*)*)|([*/-])")


class Speaker:
    """Words for one draft under its plan."""

    def __init__(self, plan: Plan, draft: Draft) -> None:
        self.plan, self.draft = plan, draft
        self.units = plan.facts.units

    def of(self, value: Any, dimension: Dimension) -> BothLanguages:
        """Write a quantity."""
        return Told(dimension.text, value, self.units)

    def shown(self, value: Any, dimension: Dimension) -> BothLanguages:
        """Write an answer's value, to its tape mark."""
        return Told(self.plan.write, value, dimension)

    def said(self, path: Path) -> BothLanguages:
        """Give the text at this path below [text.LANGUAGE]; it names only what the question holds."""
        return self.plan.fixed_texts.get(path) or Told(self._fill, path)

    def _fill(self, path: Path, language: Language) -> str:
        scope, dimensions, units = self.draft.scope, self.plan.dimensions, self.units
        return self.plan.texts[language][path].fill(lambda name: dimensions[name].text(scope[name], units, language))

    def why(self, one: str) -> BothLanguages | None:
        """Give what is said when a row is wrongly taken, or None."""
        path: Path = ("mistakes", one)
        return self.said(path) if path in self.plan.texts["en"] else None

    def after(self) -> BothLanguages:
        """Give what to take along, or nothing."""
        path: Path = ("after",)
        return self._explained(path) if path in self.plan.texts["en"] else NOTHING

    def mistake(self, one: str, value: Any) -> BothLanguages:
        """Give a mistake's sentence."""
        return self._explained(("mistakes", one), value)

    def _explained(self, path: Path, mistake: Any = None) -> BothLanguages:
        """Give a text that may name the answer, its steps or a mistake's value, too."""
        return self.plan.fixed_texts.get(path) or Told(self._fill_with_steps, path, mistake)

    def _fill_with_steps(self, path: Path, mistake: Any, language: Language) -> str:
        answer, scope, dimensions = self.plan.answer, self.draft.scope, self.plan.dimensions

        def shown(name: str) -> str:
            if answer is not None and name in ("answer", "mistake"):
                return self.plan.write(self.draft.value if name == "answer" else mistake, answer.dimension, language)
            if name in dimensions:
                return dimensions[name].text(scope[name], self.units, language)
            return self._step(name, language, ("text", language, *path))

        return self.plan.texts[language][path].fill(shown)

    def _step(self, name: str, language: Language, path: Path) -> str:
        working = self.draft.working
        steps = working.steps if working is not None else ()
        for step in steps:
            if step.name == name:
                return _dimension(working, name).text(step.value, self.units, language)
        known = ", ".join(step.name for step in steps) or "none"
        message = (
            f'"{{{{ {name} }}}}" is no parameter, no value, not in {self.plan.specification.label} '
            f"and no step of the answer (its steps are {known}); correct it"
        )
        raise ContentError([self.plan.question.problem("E209", path, message)])

    def steps(self, language: Language) -> Steps:
        """Write out the working: the values the answer rests on, then the answer."""
        answer = self.plan.answer
        if answer is None:
            return []
        lines: Steps = []
        for name, work in self.plan.values_behind_answer:
            lines += self._lines(work, work.worked(self.draft.scope), name, language)
        return lines + self._lines(answer, (self.draft.value, self.draft.working), "answer", language)

    def _lines(self, work: Work, worked: tuple[Any, Working[Any] | None], name: str, language: Language) -> Steps:
        value, working = worked
        lines: Steps = []
        if working is not None:
            for line, step in zip(steps_text(working, language, self.units), working.steps, strict=True):
                stored = stored_text(step.value, _dimension(working, step.name))
                lines.append({key: line[key] for key in ("name", "label", "expression", "text")} | {"value": stored})
        if isinstance(work, SumWork):
            lines.append(self._last(name, value, work.dimension, self._sum(work, language), language))
        elif isinstance(work, RuleWork) and work.item is not None and working is not None:
            picked = phrase("item", language, place=work.place(self.draft.scope, len(working.value)))
            lines.append(self._last(name, value, work.dimension, picked, language))
        return lines

    def _last(self, name: str, value: Any, dimension: Dimension, expression: str, language: Language) -> dict[str, str]:
        called = phrase("answer", language) if name == "answer" else label(name, language)
        shown = self.plan.write(value, dimension, language)
        stored = stored_text(value, dimension)
        return {"name": name, "label": called, "expression": expression, "text": shown, "value": stored}

    def _sum(self, work: SumWork, language: Language) -> str:
        """Write an expression with its names' values in their places."""
        scope, dimensions = self.draft.scope, self.plan.dimensions

        def shown(match: re.Match[str]) -> str:
            quoted, name, sign = match.groups()
            if sign:
                return _SIGNS[sign]
            if name:
                return dimensions[name].text(scope[name], self.units, language)
            quantity = any_quantity(quoted)
            return length_text(quantity, units=self.units, language=language) if _is_length(quoted) else quoted

        return _TOKEN.sub(shown, work.expression.text)


def _is_length(text: str) -> bool:
    try:
        LENGTH.parse(text)
    except ValueError:
        return False
    return not text.strip().replace("/", "").isdigit()


def _dimension(working: Working[Any] | None, name: str) -> Dimension:
    """Give a step's dimension: the rule's own for what it gives, else the table's."""
    rule = working.rule if working is not None else None
    if rule is not None and name == rule.gives:
        return rule.result
    return word(name).dimension
