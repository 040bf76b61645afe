"""Checks a question's texts: every one there in both languages, saying the same names and numbers."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from trainer.questions.lines import Path
from trainer.questions.model import LANGUAGES, Language, Question
from trainer.questions.templates import Template
from trainer.rules.specification import Problem

ITEMS_OF: Final = {"choice": "rows", "order": "steps", "judge": "readings"}
ANSWER_WORDS: Final = frozenset({"answer", "mistake"})
_NUMBER: Final = re.compile(r"\d+(?:[.,/]\d+)*")
_WORD: Final = re.compile(r"[^\W\d_]{2,}")


def problems_of(question: Question) -> Iterator[Problem]:
    """Give every problem of the texts."""
    for language in LANGUAGES:
        texts = question.texts[language]
        yield from _ids(question, language, "mistakes", texts.mistakes, _ids_that_can_be_wrong(question))
        if question.kind in ITEMS_OF:
            items = [*(row.id for row in question.rows), *(reading.id for reading in question.readings)]
            yield from _ids(question, language, ITEMS_OF[question.kind], texts.items, items)
        yield from _no_answer(question, language)
    yield from _both(question)


def texts_of(question: Question, language: Language) -> dict[Path, Template]:
    """Give every text of a language by its path below [text.LANGUAGE]."""
    texts = question.texts[language]
    found: dict[Path, Template] = {("stem",): texts.stem}
    if texts.title:
        found["title",] = Template((texts.title,), (), ())
    if texts.after is not None:
        found["after",] = texts.after
    found |= {("mistakes", key): text for key, text in texts.mistakes.items()}
    found |= {(ITEMS_OF.get(question.kind, "rows"), key): text for key, text in texts.items.items()}
    return found


def numbers_in(text: str) -> Counter[str]:
    """Count the numbers typed in a text, a decimal comma read as a point."""
    return Counter(number.replace(",", ".") for number in _NUMBER.findall(text))


def is_untranslated(english: str, spanish: str) -> bool:
    """Tell whether the Spanish is the English left as it was (short texts of names and numbers may be the same)."""
    return english.strip() == spanish.strip() and len(_WORD.findall(english)) >= 3


def _ids_that_can_be_wrong(question: Question) -> list[str]:
    if question.kind == "choice" and question.rows:
        return [row.id for row in question.rows if row.right is not True]
    if question.kind == "judge":
        return [reading.id for reading in question.readings]
    if question.kind == "spot":
        return [target.id for target in question.targets if target.plants]
    return [mistake.id for mistake in question.mistakes]


def _ids(
    question: Question,
    language: Language,
    section: str,
    texts: Mapping[str, Template],
    needed: Sequence[str],
) -> Iterator[Problem]:
    """Find ids that are needed and have no text, and texts of ids that are neither needed nor optional."""
    path: Path = ("text", language, section)
    for one in needed:
        if one not in texts:
            message = f"[text.{language}] has no {section}.{one}; write it, in both languages"
            yield question.problem("E208", path, message)
    ids = list(dict.fromkeys([*needed, *_optional(question)]))
    for one in texts:
        if one not in ids:
            has = f"the ids are {', '.join(ids)}" if ids else f"this question needs no {section} here"
            message = f"{section}.{one} of [text.{language}] belongs to nothing; {has}; correct or remove it"
            yield question.problem("E208", (*path, one), message)


def _optional(question: Question) -> list[str]:
    """Give the targets whose sentence may be left out, but then in both languages."""
    return [target.id for target in question.targets if not target.plants]


def _no_answer(question: Question, language: Language) -> Iterator[Problem]:
    allowed = {"mistakes": frozenset({"answer", "mistake"}), "after": frozenset({"answer"})}
    if question.answer is None:
        allowed = {}
    for path, template in texts_of(question, language).items():
        for name in template.names:
            if name in ANSWER_WORDS and name not in allowed.get(str(path[0]), frozenset()):
                where = ".".join(str(part) for part in path)
                message = f'"{{{{ {name} }}}}" may not stand in {where} of [text.{language}]; remove it'
                yield question.problem("E209", ("text", language, *path), message)


def _both(question: Question) -> Iterator[Problem]:
    english, spanish = (texts_of(question, language) for language in LANGUAGES)
    for path in {**english, **spanish}:
        where = ".".join(str(part) for part in path)
        at: Path = ("text", "es", *path)
        if path not in english or path not in spanish:
            if path[0] in ("title", "after") or (path[1:] and path[1] in _optional(question)):
                lacking = "en" if path not in english else "es"
                message = f"{where} is missing in [text.{lacking}]; write it in both languages"
                yield question.problem("E208", ("text", lacking), message)
            continue
        one, other = english[path], spanish[path]
        if set(one.names) != set(other.names):
            lone = ", ".join(sorted(set(one.names) ^ set(other.names)))
            message = f"{where} names {lone} in one language only; translate again"
            yield question.problem("E210", at, message)
        if numbers_in("".join(one.pieces)) != numbers_in("".join(other.pieces)):
            message = f"{where} holds other numbers in English than in Spanish; translate again, or use names"
            yield question.problem("E210", at, message)
        if is_untranslated("".join(one.pieces), "".join(other.pieces)):
            yield question.problem("E210", at, f"{where} is the same in both languages; translate it")
    for path, text in (
        (("danger",), question.danger),
        *((("pairs", i, "why"), p.why) for i, p in enumerate(question.pairs)),
    ):
        if text and is_untranslated(text["en"], text["es"]):
            yield question.problem("E210", path, f"{path[-1]} is the same in both languages; translate it")
