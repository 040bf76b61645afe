"""The languages and the units that every text is written in, and the refusal of any other."""

from typing import Final

LANGUAGES: Final = ("en", "es")
UNITS: Final = ("imperial", "metric")


def place_of(language: str) -> int:
    """Give the place of a language in a pair of texts: 0 for English, 1 for Spanish.

    Raises:
        ValueError: There is no such language; the message lists them.
    """
    if language not in LANGUAGES:
        raise ValueError(f"no language is called {language!r}; there are {' and '.join(LANGUAGES)}")
    return LANGUAGES.index(language)


def is_metric(units: str) -> bool:
    """Say whether the units are metric, not imperial.

    Raises:
        ValueError: There are no such units; the message lists them.
    """
    if units not in UNITS:
        raise ValueError(f"no units are called {units!r}; there are {' and '.join(UNITS)}")
    return units == "metric"
