"""Checks of what people read: sentences that run on, hard reading, words to avoid, numbers a specification holds."""

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from functools import cache
from typing import Final, NamedTuple

from trainer.questions.glossary import Word
from trainer.questions.model import LANGUAGES, Language, Question
from trainer.questions.wording import texts_of
from trainer.rules.dimensions import Dimension
from trainer.rules.specification import Problem, Specification, Value
from trainer.rules.words import label

LONGEST: Final = 25
HARDEST: Final = 8
_LINK: Final = re.compile(r"\[([^\]\n]*)\]\([^)\n]*\)")
_BRACES: Final = re.compile(r"\{\{.*?\}\}")
_NEW_BLOCK: Final = re.compile(r"\s*(?:#|:::|!!!|[-*]\s|\d+[.)]\s|\||$)")
_MARKS: Final = re.compile(r"^\s*(?:#+\s+|!!!\s*|[-*]\s+|\d+[.)]\s+)|\*\*|`")
_END: Final = re.compile(r"(?<=[.!?])[\"”')]*\s+")
_WORD: Final = re.compile(r"[^\W_]+(?:['’./-][^\W_]+)*(?:\(\w+\))*")
_QUANTITY: Final = re.compile(
    r"(?<![\w.,/(])(\d+(?:[ -]\d+/\d+|/\d+|\.\d+)?)\s+"
    r"(inch(?:es)?|in|feet|foot|ft|pulgadas?|pulg|pies?|mm|minut[eo]s?|min|hours?|horas?|h|days?|d[ií]as?)\b",
    re.IGNORECASE,
)
_UNITS: Final = {
    "pulg": "in", "inch": "in", "in": "in", "feet": "ft", "foot": "ft", "ft": "ft", "pie": "ft", "mm": "mm",
    "min": "min", "hour": "h", "hora": "h", "h": "h", "day": "day", "día": "day", "dia": "day",
}  # fmt: skip
_CITED: Final = re.compile(r"\bCFR\b|\bUFGS\b|\bIBC\b|\bOSHA\b")
_NO_CONTENT: Final = frozenset({
    "between", "the", "and", "from", "past", "each", "with", "that", "below", "above", "under", "over", "for", "one",
    "two", "its", "into", "all", "entre", "del", "con", "sobre", "bajo", "por", "los", "las", "una", "uno", "dos",
    "más", "allá", "desde", "hasta", "para",
})  # fmt: skip


class Passage(NamedTuple):
    """A piece of text that people read, and the line it begins on."""

    text: str
    line: int


def passages_of(lesson: str) -> list[Passage]:
    """Take a lesson's Markdown apart into paragraphs and list items, without marks, links, values and drawings."""
    found: list[Passage] = []
    inside = False
    lines = lesson.splitlines()
    for number, line in enumerate(lines, start=1):
        if line.strip().startswith(":::"):
            inside = line.strip() != ":::"
            continue
        if inside or not line.strip():
            continue
        follows = found and found[-1].line + found[-1].text.count("\n") + 1 == number
        if follows and not _NEW_BLOCK.match(line) and not lines[number - 2].lstrip().startswith("!!!"):
            found[-1] = Passage(f"{found[-1].text}\n{line.strip()}", found[-1].line)
        else:
            found.append(Passage(line.strip(), number))
    return [Passage(plain(text), line) for text, line in found]


def plain(text: str) -> str:
    """Give a text as it is read aloud: links by their words, a value as one number."""
    return _MARKS.sub("", _BRACES.sub("4", _LINK.sub(r"\1", text))).strip()


def sentences(text: str) -> list[str]:
    """Split a plain text at its full stops, question marks and exclamation marks."""
    return [part for part in _END.split(text.replace("\n", " ")) if part.strip()]


def word_count(sentence: str) -> int:
    """Count words; a clause such as 1926.501(b)(10) is one."""
    return len(_WORD.findall(sentence))


def reading_grade(passages: Iterable[Passage]) -> float:
    """Give the Automated Readability Index of English passages: about the school grade that reads them with ease.

    4.71 × characters per word + 0.5 × words per sentence − 21.43.
    Source: Senter and Smith, Automated Readability Index, AMRL-TR-66-220, 1967.
    """
    spoken = [sentence for text, _ in passages for sentence in sentences(text)]
    listed = [[word for word in _WORD.findall(sentence) if not word[0].isdigit()] for sentence in spoken]
    total = sum(len(found) for found in listed)
    if not total:
        return 0.0
    letters = sum(len(word) for found in listed for word in found)
    return 4.71 * letters / total + 0.5 * total / len([found for found in listed if found]) - 21.43


# ----------------------------------------------------------------------------------------------------------- lessons
def lesson_problems(
    text: str, path: str, language: Language, glossary: Mapping[str, Word], known: Collection[Specification]
) -> Iterator[Problem]:
    """Give what is wrong with a lesson's sentences."""
    passages = passages_of(text)
    for passage in passages:
        for code, message in _faults(passage.text, language, glossary, known):
            yield Problem(path, passage.line, f"content.{code}", message)
    if language == "en":
        grade = reading_grade(passages)
        if grade > HARDEST:
            message = (
                f"the lesson reads like school grade {grade:.1f}, {HARDEST} is the most "
                "(Automated Readability Index); use shorter words and sentences"
            )
            yield Problem(path, 1, "content.E251", message)


def question_problems(
    question: Question, glossary: Mapping[str, Word], known: Collection[Specification]
) -> Iterator[Problem]:
    """Give what is wrong with the sentences of a question's texts."""
    own = {parameter.name for parameter in question.parameters} | {name for name, _ in question.values}
    for language in LANGUAGES:
        read = {("text", language, *path): "4".join(text.pieces) for path, text in texts_of(question, language).items()}
        read["danger",] = question.danger[language]
        for path, text in read.items():
            for code, message in _faults(plain(text), language, glossary, known, own):
                yield question.problem(code, path, message)


def _faults(
    text: str,
    language: Language,
    glossary: Mapping[str, Word],
    known: Collection[Specification],
    own: Collection[str] = (),
) -> Iterator[tuple[str, str]]:
    for sentence in sentences(text):
        count = word_count(sentence)
        if count > LONGEST:
            yield "E250", f'{count} words in one sentence, {LONGEST} is the most: "{_short(sentence)}"; split it'
        yield from _typed(sentence, language, known, own)
    for word, pattern, instead in _avoided(
        tuple((w.avoid, w.en if language == "en" else w.es) for w in glossary.values())
    ):
        if pattern.search(text):
            yield "E252", f'"{word}" is a word to avoid; write "{instead}" as the glossary does'


@cache
def _avoided(listed: tuple[tuple[tuple[str, ...], str], ...]) -> tuple[tuple[str, re.Pattern[str], str], ...]:
    """Give each word to avoid with its pattern and the word to use."""
    return tuple(
        (word, re.compile(rf"(?<!\w){re.escape(word)}(?!\w)", re.IGNORECASE), instead)
        for avoid, instead in listed
        for word in avoid
    )


# ----------------------------------------------------------------------------------------------------- typed numbers
def _typed(
    sentence: str, language: Language, known: Collection[Specification], own: Collection[str]
) -> Iterator[tuple[str, str]]:
    """Find quantities typed beside the words of the very value of the specification that they equal."""
    if _CITED.search(sentence):
        return  # a regulation's own number stays its own, whatever the specification says
    said = _stems(sentence)
    for match in _QUANTITY.finditer(sentence):
        for specification in known:
            value = next((v for v in specification.values.values() if _is(v, match, said, language, own)), None)
            if value is not None:
                message = (
                    f'"{match[0]}" is typed where {value.key} of the specification belongs; write {{{{ {value.key} }}}}'
                )
                yield "E254", message
                break


def _is(value: Value, match: re.Match[str], said: set[str], language: Language, own: Collection[str]) -> bool:
    name = value.key.rpartition(".")[2]
    number = _read(match, value.dimension)
    if number is None or name in own or number not in (value.value, value.least, value.most):
        return False
    meant = _stems(label(name, language))
    return bool(meant) and len(meant & said) * 3 >= len(meant) * 2


def _read(match: re.Match[str], dimension: Dimension) -> object:
    unit = next(unit for word, unit in _UNITS.items() if match[2].lower().startswith(word))
    parse: Callable[[str], object] = dimension.parse
    try:
        return parse(f"{match[1].replace('-', ' ')} {unit}")
    except (ValueError, ArithmeticError):
        return None


def _stems(text: str) -> set[str]:
    """Give the first letters of the words that carry meaning, so that plurals agree."""
    found = (word.lower() for word in re.findall(r"[^\W\d_]{3,}", text))
    return {word[:5].rstrip("s") for word in found if word not in _NO_CONTENT}


def _short(text: str) -> str:
    return text if len(text) <= 60 else text[:57] + "…"


__all__ = ["Passage", "lesson_problems", "passages_of", "question_problems", "reading_grade", "sentences"]
