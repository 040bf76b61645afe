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

    def __getitem__(self, language: Language) -> T:
        try:
            kept: T = getattr(self, language)
        except AttributeError:
            if language not in LANGUAGES:
                raise KeyError(language) from None
            kept = self._tell(*self._of, language)
            setattr(self, language, kept)
        return kept

    def __iter__(self) -> Iterator[Language]:
        return iter(LANGUAGES)

    def __len__(self) -> int:
        return len(LANGUAGES)

    def __repr__(self) -> str:
        return f"Told({dict(self)!r})"


NOTHING: Mapping[Language, str] = dict.fromkeys(LANGUAGES, "")
