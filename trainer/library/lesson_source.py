"""A lesson's Markdown before it becomes a page: its title, its text with values to fill in, its drawing blocks."""

import re
import shlex
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from trainer.drawings import DRAWINGS, Drawing, DrawingInputError, draw, drawing_inputs
from trainer.questions.templates import TemplateError, compile_template
from trainer.rules.dimensions import Dimension
from trainer.rules.specification import ContentError, Problem, Specification

_TITLE: Final = re.compile(r"\s*#\s+(?P<title>.+?)\s*#*\s*(?:\n|\Z)")
_BLOCK: Final = re.compile(r"^:::[ \t]*(?P<head>.*?)[ \t]*\n(?P<body>.*?)^:::[ \t]*$", re.MULTILINE | re.DOTALL)
_OPEN: Final = re.compile(r"^:::", re.MULTILINE)
_NAME: Final = re.compile(r"[a-z][a-z0-9_]*(?:\.[a-z][a-z0-9_]*){0,2}")
_PLACE: Final = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_PHOTO: Final = re.compile(r"^:::[ \t]*photo[ \t]+(\S+)[ \t]*$", re.MULTILINE)
_HOW: Final = (
    'write ::: drawing NAME input=value input="24 ft 6 in" part=base, or ::: photo NAME, and ::: on the next line'
)


@dataclass(frozen=True)
class DrawingBlock:
    """A `::: drawing` block: which drawing, the inputs given, and the part whose values fill the rest."""

    name: str
    inputs: Mapping[str, str]
    part: str | None
    line: int


@dataclass(frozen=True)
class PhotoBlock:
    """A `::: photo` block: a place for a company's own pictures, by its name."""

    place: str
    line: int


@dataclass(frozen=True)
class LessonSource:
    """A lesson read but not filled; `text` holds a marker, made by the caller's function, where each block stands."""

    path: str
    title: str
    text: str
    first_line: int
    blocks: tuple[DrawingBlock | PhotoBlock, ...]


def read_lesson(source: str, path: str, marker: Callable[[int], str]) -> LessonSource:
    """Take a lesson's file apart.

    Args:
        source: The file's text.
        path: Named in problems.
        marker: Gives the text that stands in the place of block number 0, 1, …

    Raises:
        ContentError: There is no title, or a block that cannot be read.
    """
    source = source.replace("\r\n", "\n")
    title = _TITLE.match(source)
    if title is None:
        raise ContentError([Problem(path, 1, "content.E401", "the lesson has no title; begin it with # and its title")])
    blocks: list[DrawingBlock | PhotoBlock] = []

    def place(match: re.Match[str]) -> str:
        blocks.append(_block(match, path, source.count("\n", 0, match.start()) + 1))
        lines = match[0].count("\n") - 1  # the same number of lines, so that problems name the right one
        return f"\n{marker(len(blocks) - 1)}\n" + "\n" * max(0, lines - 1)

    text = _BLOCK.sub(place, source)
    left = _OPEN.search(text)
    if left is not None:
        line = text.count("\n", 0, left.start()) + 1
        raise ContentError([Problem(path, line, "content.E402", f"a ::: block is not closed; {_HOW}")])
    return LessonSource(path, title["title"], text[title.end() :], text.count("\n", 0, title.end()) + 1, tuple(blocks))


def _problem(lesson: LessonSource, offset: int, code: str, message: str) -> Problem:
    line = lesson.text.count("\n", 0, offset) + lesson.first_line
    return Problem(lesson.path, line, f"content.{code}", message)


def _block(match: re.Match[str], path: str, line: int) -> DrawingBlock | PhotoBlock:
    def refuse(message: str) -> ContentError:
        return ContentError([Problem(path, line, "content.E402", f"{message}; {_HOW}")])

    try:
        words = shlex.split(match["head"])
    except ValueError:
        raise refuse("a quotation mark is not closed") from None
    if len(words) < 2 or words[0] not in ("drawing", "photo"):
        raise refuse(f'":::{" " if match["head"] else ""}{match["head"]}" is no drawing block')
    if match["body"].strip():
        raise refuse(f"a {words[0]} block holds no text of its own")
    if words[0] == "photo":
        if len(words) > 2 or not _PLACE.fullmatch(words[1]):
            raise refuse("a photo block has one name, of small letters, digits and hyphens")
        return PhotoBlock(words[1], line)
    inputs: dict[str, str] = {}
    for word in words[2:]:
        name, equals, value = word.partition("=")
        if not equals or not value or name in inputs:
            raise refuse(f'"{word}" is not an input with one value')
        inputs[name] = value
    part = inputs.pop("part", None)
    return DrawingBlock(words[1], inputs, part, line)


def photo_places(source: str) -> list[str]:
    """List the places for pictures that a lesson's text has."""
    return _PHOTO.findall(source.replace("\r\n", "\n"))


def fill_values(lesson: LessonSource, specification: Specification, language: str) -> str:
    """Give the lesson's Markdown with each `{{ part.name }}` filled from the specification, in the reader's language.

    Raises:
        ContentError: Braces hold something else than a name, or a name that the specification lacks.
    """
    try:
        template = compile_template(lesson.text)
    except TemplateError as error:
        raise ContentError([_problem(lesson, error.offset, "E403", str(error))]) from None
    problems: list[Problem] = []
    shown: dict[str, str] = {}
    for name, offset in zip(template.names, template.offsets, strict=True):
        try:
            value = specification.lookup(name)
        except LookupError as error:
            problems.append(_problem(lesson, offset, "E404", str(error)))
            continue
        if value.value is None:
            problems.append(_problem(lesson, offset, "E404", f"{name} is a range; write {name}.least or {name}.most"))
        else:
            shown[name] = value.dimension.text(value.value, specification.units, language)
    if problems:
        raise ContentError(problems)
    return template.fill(shown.__getitem__)


def draw_block(block: DrawingBlock, path: str, specification: Specification, language: str, key: str) -> Drawing:
    """Draw a block with the specification's values; `key` makes the ids of one page unique.

    Raises:
        ContentError: There is no such drawing, an input is wrong, or a name is not in the specification.
    """
    try:
        given = {name: _operand(block, name, value, specification) for name, value in block.inputs.items()}
        inputs = drawing_inputs(block.name, given, specification, block.part)
        return draw(block.name, inputs, units=specification.units, language=language, key=key)
    except DrawingInputError as error:
        message = str(error)
    except (LookupError, ValueError) as error:
        message = f'drawing "{block.name}": {error}'
    raise ContentError([Problem(path, block.line, "content.E405", message)])


def _operand(block: DrawingBlock, name: str, text: str, specification: Specification) -> object:
    """Give what an input stands for: a word or quantity as written, or a value of the specification by its name."""
    declared = (
        next((item for item in DRAWINGS[block.name].inputs if item.name == name), None)
        if block.name in DRAWINGS
        else None
    )
    if declared is None or not isinstance(declared.kind, Dimension) or _NAME.fullmatch(text) is None:
        return text
    return specification.lookup(text, block.part).value
