"""What a trainee is told after answering in practice: verdict, mistakes, worked steps, drawing, and why it matters."""

import json
from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from trainer.library.calculator.sources import source_facts
from trainer.questions.case import Case, Steps
from trainer.questions.model import Language, Question
from trainer.questions.verdict import judge
from trainer.rules.registry import get_rule
from trainer.rules.words import rule_title
from trainer.training.models import PracticeCase


@dataclass(frozen=True)
class Origin:
    """The source of one rule that the worked steps follow: its title, and name and text of each fact."""

    title: str
    facts: tuple[dict[str, str], ...]


@dataclass(frozen=True)
class Feedback:
    """The answer and all that explains it, in one language; `drawing` is empty where the question has none."""

    right: bool
    message: str
    given: str
    answer: str
    mistakes: tuple[str, ...]
    danger: str
    after: str
    steps: Steps
    drawing: SafeString
    sources: tuple[Origin, ...]


def feedback_on(row: PracticeCase, case: Case, question: Question, language: Language) -> Feedback | None:
    """Explain an answered case; None while it is open."""
    if row.answered_at is None:
        return None
    verdict = judge(case, json.loads(row.response), language)
    drawing = case.after_drawing or case.drawing
    return Feedback(
        right=verdict.right,
        message=verdict.message,
        given=verdict.given_text,
        answer=verdict.answer_text,
        mistakes=tuple(mistake.message for mistake in verdict.mistakes),
        danger=case.danger[language],
        after=case.after[language],
        steps=case.steps[language],
        drawing=mark_safe(drawing[language].svg if drawing is not None else ""),  # noqa: S308  drawn by our own code
        sources=tuple(_origins(question, language)),
    )


def _origins(question: Question, language: Language) -> Iterator[Origin]:
    """Give where the rules come from that the answer and the values before it are worked by, each once."""
    worked = [source for _, source in question.values] + ([question.answer] if question.answer else [])
    for name in dict.fromkeys(source.rule for source in worked if source.rule):
        yield Origin(rule_title(name, language), tuple(source_facts(get_rule(name))))
