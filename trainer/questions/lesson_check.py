"""Checks a module's two lessons against each other, and their links; what a page needs is checked by rendering it."""

import re
from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from trainer.questions.templates import TemplateError, compile_template
from trainer.questions.wording import is_untranslated, numbers_in
from trainer.rules.specification import Problem

_HEADING: Final = re.compile(r"^(#{1,6})\s+(.+?)\s*#*\s*$")
_BLOCK: Final = re.compile(r"^:::[ \t]*(\S.*?)[ \t]*$")
_LINK: Final = re.compile(r"(?<!!)\[[^\]\n]*\]\(\s*<?([^)\s>]*)>?[^)\n]*\)")
_MODULE_LINK: Final = re.compile(r"\.\./([^/#]+)/?(?:#(.+))?")


@dataclass(frozen=True)
class LessonText:
    """What must agree between languages: headings (depth, text, line), drawing blocks, names, paragraphs."""

    path: str
    headings: tuple[tuple[int, str, int], ...]
    blocks: tuple[tuple[str, int], ...]
    names: frozenset[str]
    paragraphs: tuple[tuple[str, int], ...]
    links: tuple[tuple[str, int], ...]

    @property
    def anchors(self) -> frozenset[str]:
        """The names that a link to a heading may have."""
        return frozenset(anchor(text) for _, text, _ in self.headings)


def anchor(heading: str) -> str:
    """Give a heading's link name: small letters, digits and hyphens, accents kept, as the lesson's page makes it."""
    return re.sub(r"[-\s]+", "-", re.sub(r"[^\w\s-]", "", heading).strip().lower())


def read_lesson_text(text: str, path: str) -> LessonText:
    """Take a lesson apart, line by line; broken braces are left to the page's own check."""
    headings, blocks, links, paragraphs = [], [], [], []
    for number, line in enumerate(text.splitlines(), start=1):
        if heading := _HEADING.match(line):
            headings.append((len(heading[1]), heading[2], number))
        elif block := _BLOCK.match(line):
            blocks.append((" ".join(block[1].split()), number))
        elif line.strip() and line.strip() != ":::":
            paragraphs.append((line.strip(), number))
        links += [(match[1], number) for match in _LINK.finditer(line)]
    try:
        names = frozenset(compile_template(text).names)
    except TemplateError:
        names = frozenset()
    return LessonText(path, tuple(headings), tuple(blocks), names, tuple(paragraphs), tuple(links))


def compare(english: LessonText, spanish: LessonText) -> Iterator[Problem]:
    """Give what one language has and the other lacks: a missing or stale translation."""
    yield from _headings(english, spanish)
    yield from _blocks(english, spanish)
    for one, other, language in ((english, spanish, "Spanish"), (spanish, english, "English")):
        lacking = sorted(one.names - other.names)
        if lacking:
            message = (
                f"the {language} lesson lacks {{{{ {', '.join(lacking)} }}}}, which {one.path} uses; translate again"
            )
            yield Problem(other.path, 1, "content.E247", message)
    left = {text for text, _ in english.paragraphs}
    for text, line in spanish.paragraphs:
        if text in left and is_untranslated(text, text):
            yield Problem(spanish.path, line, "content.E247", f'"{_short(text)}" is still in English; translate it')
    numbers = [numbers_in(_prose(lesson)) for lesson in (english, spanish)]
    if numbers[0] != numbers[1]:
        differing = sorted(_lone(numbers[0], numbers[1]))
        message = f"the two lessons hold different numbers ({', '.join(differing)}); translate again, or use names"
        yield Problem(spanish.path, 1, "content.E247", message)


def _lone(one: Counter[str], other: Counter[str]) -> set[str]:
    return {number for number in {*one, *other} if one[number] != other[number]}


def _prose(lesson: LessonText) -> str:
    """Give the text without values, link targets and the numbers that begin a list's items."""
    lines = [re.sub(r"^\d+[.)]\s", "", text) for text, _ in lesson.paragraphs]
    text = "\n".join([*lines, *(heading for _, heading, _ in lesson.headings)])
    return re.sub(r"\{\{.*?\}\}|\]\([^)]*\)", " ", text)


def _headings(english: LessonText, spanish: LessonText) -> Iterator[Problem]:
    counts = [Counter(depth for depth, _, _ in lesson.headings) for lesson in (english, spanish)]
    for depth in sorted({*counts[0], *counts[1]}):
        if counts[0][depth] != counts[1][depth]:
            message = (
                f"{counts[1][depth]} headings {'#' * depth} where the English lesson has {counts[0][depth]}; "
                "translate the sections that were added, or remove those that are gone"
            )
            line = next((at for of, _, at in spanish.headings if of == depth), 1)
            yield Problem(spanish.path, line, "content.E241", message)


def _blocks(english: LessonText, spanish: LessonText) -> Iterator[Problem]:
    for place in range(max(len(english.blocks), len(spanish.blocks))):
        if place >= len(spanish.blocks):
            block = english.blocks[place][0]
            yield Problem(
                spanish.path, 1, "content.E242", f'the block "::: {block}" of the English lesson is missing; add it'
            )
        elif place >= len(english.blocks) or english.blocks[place][0] != spanish.blocks[place][0]:
            there = f'"::: {english.blocks[place][0]}"' if place < len(english.blocks) else "none"
            message = f"drawing number {place + 1} differs; the English lesson has {there} there; make them the same"
            yield Problem(spanish.path, spanish.blocks[place][1], "content.E242", message)


def check_links(
    lesson: LessonText, language: str, lessons: Mapping[tuple[str, str], LessonText], words: Collection[str]
) -> Iterator[Problem]:
    """Give the links that lead nowhere; `lessons` are known by (module, language), `words` are the glossary's keys."""
    for target, line in lesson.links:
        wrong = _wrong_link(target, lesson, language, lessons, words)
        if wrong:
            yield Problem(lesson.path, line, "content.E245", f'link "{target}" {wrong}')


def _wrong_link(
    target: str,
    lesson: LessonText,
    language: str,
    lessons: Mapping[tuple[str, str], LessonText],
    words: Collection[str],
) -> str:
    """Say what is wrong with a link, or nothing."""
    if target.startswith("https://") or target.removeprefix("glossary:") in words:
        return ""
    if target.startswith("glossary:"):
        return "names no word of glossary.toml; correct it, or add the word"
    if target.startswith("#"):
        return "" if target[1:] in lesson.anchors else f"leads to no heading; write one of {_some(lesson.anchors)}"
    match = _MODULE_LINK.fullmatch(target)
    if match is None:
        return "is none that a lesson may have; write https://…, #heading, ../MODULE/ or glossary:KEY"
    return _wrong_module_link(match, language, lessons)


def _wrong_module_link(match: re.Match[str], language: str, lessons: Mapping[tuple[str, str], LessonText]) -> str:
    other = lessons.get((match[1], language))
    if other is None:
        modules = {module for module, _ in lessons}
        return f"leads to no module; write one of {_some(modules)}"
    if match[2] and match[2] not in other.anchors:
        return f"leads to no heading of that lesson; write one of {_some(other.anchors)}"
    return ""


def _some(names: Collection[str]) -> str:
    shown = sorted(names)[:6]
    return ", ".join(shown) + (", …" if len(names) > len(shown) else "")


def _short(text: str) -> str:
    return text if len(text) <= 50 else text[:47] + "…"
