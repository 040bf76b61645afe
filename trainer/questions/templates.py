"""`{{ name }}` in questions and lessons: strict, with no filters and no arithmetic, compiled once."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from trainer.questions.expressions import NAME

_BRACES: Final = re.compile(r"\{\{\s*((?:(?!\{\{).)*?)\s*\}\}|\{\{|\}\}", re.DOTALL)


class TemplateError(ValueError):
    """A text with braces that don't hold just a name; `offset` counts characters from the text's start."""

    def __init__(self, message: str, offset: int) -> None:
        super().__init__(message)
        self.offset = offset


@dataclass(frozen=True)
class Template:
    """A compiled text: literal pieces around names, one piece more than names."""

    pieces: tuple[str, ...]
    names: tuple[str, ...]
    offsets: tuple[int, ...]

    def fill(self, shown: Callable[[str], str]) -> str:
        """Put `shown(name)` in each name's place."""
        if not self.names:
            return self.pieces[0]
        parts = [self.pieces[0]]
        for name, piece in zip(self.names, self.pieces[1:], strict=True):
            parts += (shown(name), piece)
        return "".join(parts)

    def folded(self, shown: Mapping[str, str]) -> "Template":
        """Put in what is known already; the names that are left keep their places."""
        pieces, names, offsets = [self.pieces[0]], [], []
        for name, offset, piece in zip(self.names, self.offsets, self.pieces[1:], strict=True):
            if name in shown:
                pieces[-1] += shown[name] + piece
            else:
                names.append(name)
                offsets.append(offset)
                pieces.append(piece)
        return Template(tuple(pieces), tuple(names), tuple(offsets))


def compile_template(text: str) -> Template:
    """Compile a text.

    Raises:
        TemplateError: Braces that are left open, or hold something else than a name.
    """
    pieces: list[str] = []
    names: list[str] = []
    offsets: list[int] = []
    position = 0
    for match in _BRACES.finditer(text):
        if match[1] is None:
            raise TemplateError(f'"{match[0]}" has no partner; write {{{{ name }}}}', match.start())
        if not NAME.fullmatch(match[1]):
            raise TemplateError(
                f'"{match[0]}" holds something else than a name; write just a name, such as {{{{ side_lap }}}}',
                match.start(),
            )
        pieces.append(text[position : match.start()])
        names.append(match[1])
        offsets.append(match.start())
        position = match.end()
    pieces.append(text[position:])
    return Template(tuple(pieces), tuple(names), tuple(offsets))
