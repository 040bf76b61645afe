"""Judges a number: right within its tolerance, or explained by every mistake that leads to it."""

from collections.abc import Mapping
from functools import partial
from typing import Any

from trainer.questions.case import Case, CaseMistake
from trainer.questions.common_mistakes import Named, common_mistakes
from trainer.questions.model import Language
from trainer.questions.phrases import phrase
from trainer.questions.responses import read_quantity
from trainer.questions.verdicts import ExplainedMistake, Said, Verdict
from trainer.rules.exact import near_ones


def judge_number(case: Case, response: Mapping[str, str | list[str]], language: Language) -> Verdict | None:
    """Judge a measure or count; None where nothing was entered.

    Raises:
        Unreadable: What was entered is no quantity of the answer's dimension.
    """
    answer = case.answer
    if answer.dimension is None:
        raise TypeError(f"{case.question}: a {case.kind} without a dimension")
    given = read_quantity(response, answer.dimension, case.units, language)
    if given is None:
        return None
    mistakes = case.mistakes
    near = near_ones(given, [answer.value, *[mistake.value for mistake in mistakes]], answer.within)
    if near and near[0] == 0:
        return Verdict(right=True, codes=(), tell=partial(_right, case, given, language))
    own, common = [mistakes[place - 1] for place in near], common_mistakes(answer, given)
    codes = (*[mistake.id for mistake in own], *[one for one, _ in common])
    return Verdict(right=False, codes=codes, tell=partial(_wrong, case, given, language, own, common))


def _texts(case: Case, given: Any, language: Language) -> tuple[str, str]:
    """Write what was entered, and the answer."""
    dimension = case.answer.dimension
    shown = dimension.text(given, case.units, language) if dimension is not None else str(given)
    return shown, case.answer.text[language]


def _right(case: Case, given: Any, language: Language) -> Said:
    answer = case.answer
    given_text, answer_text = _texts(case, given, language)
    if given == answer.value or answer.within_text is None:
        message = phrase("right", language, answer=answer_text)
    else:
        message = phrase("near", language, given=given_text, within=answer.within_text[language], answer=answer_text)
    return Said(message, (), given_text, answer_text)


def _wrong(case: Case, given: Any, language: Language, own: list[CaseMistake], common: list[Named]) -> Said:
    answer = case.answer
    given_text, answer_text = _texts(case, given, language)
    mistakes = (
        *(ExplainedMistake(mistake.id, mistake.text[language]) for mistake in own),
        *(ExplainedMistake(one, phrase(one, language, **values), common=True) for one, values in common),
    )
    if answer.within_text is not None and answer.within:
        within = answer.within_text[language]
        message = phrase("wrong_within", language, given=given_text, answer=answer_text, within=within)
    else:
        message = phrase("wrong", language, given=given_text, answer=answer_text)
    return Said(message, mistakes, given_text, answer_text)
