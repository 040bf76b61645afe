"""The English trade word beside the Spanish one: labels and drawings on site are in English."""

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from trainer.library import queries as library


@dataclass(frozen=True)
class Pair:
    """One trade word in both languages."""

    es: str
    en: str


@lru_cache(maxsize=8)
def _patterns(glossary: str) -> tuple[tuple[re.Pattern[str], Pair], ...]:
    """Give a pattern for each Spanish word, singular or plural, the longest first."""
    entries = [Pair(entry["es"], entry["en"]) for entry in tomllib.loads(glossary).values()]
    entries.sort(key=lambda pair: -len(pair.es))
    return tuple((re.compile(rf"\b{_loose(pair.es)}\b", re.IGNORECASE), pair) for pair in entries)


def _loose(term: str) -> str:
    return r"\s+".join(re.escape(word) + r"(?:e?s)?" for word in term.split())


def pairs_among(texts: Iterable[str], glossary: str) -> list[Pair]:
    """Find the Spanish trade words in the texts; inside a longer word a shorter one is not found again."""
    rest = "\n".join(texts)
    found = []
    for pattern, pair in _patterns(glossary):
        rest, times = pattern.subn(" ", rest)
        if times and pair.es.lower() != pair.en.lower():
            found.append(pair)
    return sorted(found, key=lambda pair: pair.es)


def pairs_in(texts: Iterable[str]) -> list[Pair]:
    """Find the Spanish trade words in the texts, with the glossary loaded last."""
    return pairs_among(texts, library.glossary_text()[1])


def words_of(case: Mapping[str, Any]) -> list[str]:
    """Give the texts that a public case shows: the stem, its rows, its readings' places."""
    rows = [row.get("text", "") for row in case.get("rows") or []]
    places = [row.get("place", "") for row in case.get("readings") or []]
    return [case["stem"], *rows, *places]
