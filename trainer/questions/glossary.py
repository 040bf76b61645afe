"""Reads `lessons/glossary.toml`: the trade's words in both languages, words by region, words to avoid."""

from collections.abc import Mapping
from dataclasses import dataclass

from trainer.questions.model import BothLanguages
from trainer.questions.tables import WRONG, Reader, Table
from trainer.rules.specification import ContentError


@dataclass(frozen=True)
class Word:
    """One thing: `en` and `es` are the words every text uses, `regions` what a company may choose instead."""

    key: str
    en: str
    es: str
    note: BothLanguages
    regions: Mapping[str, str]
    avoid: tuple[str, ...]


def parse_glossary(text: str, path: str) -> dict[str, Word]:
    """Read the glossary, by key.

    Raises:
        ContentError: Every problem found, each with file, line, id and how to mend it.
    """
    reader = Reader(text, path)
    words = {key: _word(reader.root.table(key), key) for key in reader.root}
    reader.stop_on_problems()
    seen: dict[tuple[str, str], str] = {}
    for word in words.values():
        for language, said in (("en", word.en), ("es", word.es)):
            other = seen.setdefault((language, said.lower()), word.key)
            if other != word.key:
                message = f'"{said}" stands for {other} as well; one word for one thing: choose another for one of them'
                reader.problem(WRONG, (word.key, language), message)
            if said.lower() in (avoided.lower() for avoided in word.avoid):
                reader.problem(
                    WRONG, (word.key, "avoid"), f'"{said}" is the word to use and a word to avoid; remove it from one'
                )
    reader.stop_on_problems()
    return words


def _word(table: Table, key: str) -> Word:
    regions = table.table("regions")
    word = Word(
        key=key,
        en=table.text("en", required=True),
        es=table.text("es", required=True),
        note=table.both("note"),
        regions={name: regions.text(name, required=True) for name in regions},
        avoid=table.texts("avoid"),
    )
    table.close()
    return word


__all__ = ["ContentError", "Word", "parse_glossary"]
