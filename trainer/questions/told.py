"""Words worked out when somebody reads them: a case made for an exam tells its steps and drawings only when stored."""

from collections.abc import Callable, Iterator, Mapping
from typing import Generic, TypeVar

from trainer.questions.model import LANGUAGES, Language

T = TypeVar("T")


class Told(Mapping[Language, T], Generic[T]):
    """A mapping from language to a text (or drawing, or steps), each worked out once, on first reading."""

    __slots__ = ("_kept", "_tell")

    def __init__(self, tell: Callable[[Language], T]) -> None:
        self._tell = tell
        self._kept: dict[Language, T] = {}

    def __getitem__(self, language: Language) -> T:
        if language not in self._kept:
            if language not in LANGUAGES:
                raise KeyError(language)
            self._kept[language] = self._tell(language)
        return self._kept[language]

    def __iter__(self) -> Iterator[Language]:
        return iter(LANGUAGES)

    def __len__(self) -> int:
        return len(LANGUAGES)

    def __repr__(self) -> str:
        return f"Told({dict(self)!r})"


NOTHING: Mapping[Language, str] = dict.fromkeys(LANGUAGES, "")
