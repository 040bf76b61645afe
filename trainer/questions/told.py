"""Words worked out when somebody reads them: a case made for an exam tells its steps and drawings only when stored."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any, Generic, TypeVar

from trainer.questions.model import LANGUAGES, Language

T = TypeVar("T")


class Told(Mapping[Language, T], Generic[T]):
    """A mapping from language to a text (or drawing, or steps), each worked out once, on first reading.

    `tell` is called with `of` and the language: a case holds dozens of these, so each is as small as can be.
    """

    __slots__ = ("_of", "_tell", "en", "es")

    def __init__(self, tell: Callable[..., T], *of: Any) -> None:
        self._tell, self._of = tell, of
        self.en: T | None = None
        self.es: T | None = None

    def __getitem__(self, language: Language) -> T:
        if language == "en":
            kept = self.en
            if kept is None:
                kept = self.en = self._tell(*self._of, "en")
        elif language == "es":
            kept = self.es
            if kept is None:
                kept = self.es = self._tell(*self._of, "es")
        else:
            raise KeyError(language)
        return kept

    def __iter__(self) -> Iterator[Language]:
        return iter(LANGUAGES)

    def __len__(self) -> int:
        return len(LANGUAGES)

    def __repr__(self) -> str:
        return f"Told({dict(self)!r})"


NOTHING: Mapping[Language, str] = dict.fromkeys(LANGUAGES, "")
