"""The words on the drawings, English and Spanish, from `words.toml`; names of dimensions come from the rules' table."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

from trainer.rules.words import label

_PATH = Path(__file__).with_name("words.toml")


@cache
def table() -> dict[str, dict[str, str]]:
    """Every word by its key: `{"en": ..., "es": ...}`."""
    with _PATH.open("rb") as file:
        sections = tomllib.load(file)
    found: dict[str, dict[str, str]] = {}
    for section, words in sections.items():
        for key, texts in words.items():
            found[key if section == "words" else f"{section}.{key}"] = texts
    return found


def word(key: str, language: str, **values: object) -> str:
    """Give a word or sentence, its named gaps filled.

    Raises:
        KeyError: The table has no such key; shows it.
    """
    text = table()[key][language]
    return text.format(**values) if values else text


def dimension_label(name: str, language: str, drawing: str = "") -> str:
    """Give the name of a dimension: this drawing's own, else the drawings' common one, else the rules' label."""
    own = table().get(f"dimension.{drawing}.{name}") or table().get(f"dimension.{name}")
    return own[language] if own else label(name, language)


def part_label(drawing: str, name: str, language: str) -> str:
    """Give what a part of a drawing is called: the drawing's own word where there is one, else the common one.

    Raises:
        KeyError: The table has neither; shows the common key.
    """
    own = table().get(f"part.{drawing}.{name}")
    return (own or table()[f"part.{name}"])[language]
