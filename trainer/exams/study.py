"""Which parts of the lesson to read again after questions were missed.

A part belongs to a question when it uses the same values of the specification or the same drawing. A value that stands
in many parts says little, so each counts by one over the number of parts that use it.
"""

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from markdown.extensions.toc import slugify_unicode

from trainer.library import queries as library
from trainer.library.models import ModuleVersion
from trainer.library.rendering import HEADING
from trainer.questions.model import Question
from trainer.rules import get_rule

PARTS_A_QUESTION = 2
_HEADING = re.compile(r"^(#{2,3})[ \t]+(.+?)[ \t]*$", re.MULTILINE)
_VALUE = re.compile(r"\{\{\s*([a-z0-9_.]+)\s*\}\}")
_DRAWING = re.compile(r"^:::[ \t]*drawing[ \t]+([a-z_]+)", re.MULTILINE)


@dataclass(frozen=True)
class LessonPart:
    """A part of a lesson: its heading and the anchor of the heading on the lesson's page."""

    title: str
    anchor: str


@dataclass(frozen=True)
class _Section:
    part: LessonPart
    terms: frozenset[str]


@lru_cache(maxsize=64)
def _sections(text: str) -> tuple[_Section, ...]:
    """Part a lesson's Markdown at its headings, with the values and drawings of each part of the deepest kind.

    Lists of all values and summaries stand above the steps: they would go with every question and help nobody.
    """
    found = list(_HEADING.finditer(text))
    deepest = max((len(match[1]) for match in found), default=2)  # the steps, where a lesson has them
    ends = [match.start() for match in found[1:]] + [len(text)]
    sections = []
    for match, end in zip(found, ends, strict=True):
        if len(match[1]) < deepest:
            continue
        body = text[match.end() : end]
        values = {name.removesuffix(".least").removesuffix(".most") for name in _VALUE.findall(body)}
        drawings = {f"drawing {name}" for name in _DRAWING.findall(body)}
        part = LessonPart(match[2], HEADING + slugify_unicode(match[2], "-"))
        sections.append(_Section(part, frozenset(values | drawings)))
    return tuple(sections)


def terms_of(question: Question) -> set[str]:
    """Give the names that a question may draw on: the values it tells or works with, and its drawings."""
    names = set(question.texts["en"].stem.names) | {reading.limit for reading in question.readings}
    rules = [source.rule for source in (question.answer, *(source for _name, source in question.values)) if source]
    for rule in filter(None, rules):
        names |= {given.name for given in get_rule(rule).inputs}
    part = f"{question.part}." if question.part else ""
    values = {name if "." in name else part + name for name in names} | {f"common.{name}" for name in names}
    drawings = {f"drawing {call.name}" for call in (question.drawing, question.after_drawing) if call is not None}
    return {name.removesuffix(".least").removesuffix(".most") for name in values} | drawings


def parts_for(lesson: str, wanted: Iterable[set[str]]) -> list[LessonPart]:
    """Give the parts of a lesson that go with each set of terms, in the lesson's order, each once."""
    sections = _sections(lesson)
    used_in = Counter(term for section in sections for term in section.terms)
    chosen: set[int] = set()
    for terms in wanted:
        weights = [sum(1 / used_in[term] for term in section.terms & terms) for section in sections]
        best = sorted(range(len(sections)), key=lambda place: (-weights[place], place))[:PARTS_A_QUESTION]
        chosen |= {place for place in best if weights[place] > 0}
    return [sections[place].part for place in sorted(chosen)]


def parts_to_read(version: ModuleVersion, questions: Iterable[str], language: str) -> list[LessonPart]:
    """Give the parts of the module's lesson that go with these questions, in `en` or `es`."""
    wanted = [terms_of(library.question(question, version)) for question in questions]
    return parts_for(library.lesson_text(version, language), wanted)
