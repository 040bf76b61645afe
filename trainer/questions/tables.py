"""Reads a TOML text key by key, collecting every problem with its line instead of stopping at the first."""

import re
import tomllib
from collections.abc import Collection, Iterator
from typing import Any, Final

from trainer.questions.lines import Path, key_lines, line_of
from trainer.rules.specification import ContentError, Problem

SYNTAX, UNKNOWN_KEY, MISSING, WRONG = "E200", "E201", "E202", "E203"
_AT_LINE: Final = re.compile(r"\s*\(at line (\d+), column \d+\)")
_LANGUAGES: Final = ("en", "es")


class Reader:
    """One TOML file being read: its data, its key lines, and the problems found so far."""

    def __init__(self, text: str, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []
        self.lines: dict[Path, int] = key_lines(text)
        self.root = Table(self, self._load(text), ())

    def _load(self, text: str) -> dict[str, Any]:
        try:
            return tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            at = _AT_LINE.search(str(error))
            line = int(at[1]) if at else max(1, len(text.splitlines()))
            what = _AT_LINE.sub("", str(error)).removesuffix("(at end of document)").strip()
            message = f"this is not TOML: {what}; mend the line, or the quotes and brackets before it"
            raise ContentError([Problem(self.file, line, f"content.{SYNTAX}", message)]) from None

    def problem(self, code: str, path: Path, message: str) -> None:
        """Note a problem at a key's line."""
        self.problems.append(Problem(self.file, line_of(self.lines, path), f"content.{code}", message))

    def stop_on_problems(self) -> None:
        """Raise what was found so far, in the order of the lines."""
        if self.problems:
            raise ContentError(sorted(self.problems, key=lambda problem: problem.line))


class Table:
    """A TOML table; each `take` marks its key as known, `close` reports the keys nobody took."""

    def __init__(self, reader: Reader, data: dict[str, Any], path: Path) -> None:
        self.reader, self.data, self.path = reader, data, path
        self._taken: set[str] = set()

    def __contains__(self, key: str) -> bool:
        return key in self.data

    def problem(self, code: str, key: str, message: str) -> None:
        """Note a problem at one of this table's keys."""
        self.reader.problem(code, (*self.path, key), message)

    def name(self, key: str = "") -> str:
        """Give a key's full name for a message."""
        return ".".join(str(part) for part in (*self.path, key) if part != "")

    def take(self, key: str, required: bool, expected: str) -> Any:
        """Give a key's raw value, or None; a required one that is missing is a problem."""
        self._taken.add(key)
        if key not in self.data and required:
            self.problem(MISSING, key, f'"{self.name(key)}" is missing; write {expected}')
        return self.data.get(key)

    def text(self, key: str, *, required: bool = False, words: Collection[str] = (), default: str = "") -> str:
        """Give a text; with `words`, one of these."""
        expected = " or ".join(f'"{word}"' for word in words) if words else "a text in quotes"
        value = self.take(key, required, expected)
        if value is None:
            return default
        if not isinstance(value, str) or not value.strip() or (words and value not in words):
            self.problem(WRONG, key, f'"{self.name(key)}" is {_shown(value)}; write {expected}')
            return default
        return value

    def operand(self, key: str, *, required: bool = False) -> str | None:
        """Give an operand's text (a quantity or a name); whole numbers may stand without quotes."""
        expected = 'a quantity with its unit such as "6 in", or a name'
        value = self.take(key, required, expected)
        if type(value) is int:
            return str(value)
        if value is None or (isinstance(value, str) and value.strip()):
            return value
        self.problem(WRONG, key, f'"{self.name(key)}" is {_shown(value)}; write {expected}')
        return None

    def condition(self, key: str, default: bool) -> bool | str:
        """Give true, false or a condition's text."""
        value = self.take(key, False, "")
        if value is None or isinstance(value, bool) or (isinstance(value, str) and value.strip()):
            return default if value is None else value
        expected = 'true, false or a condition such as "lap < side_lap"'
        self.problem(WRONG, key, f'"{self.name(key)}" is {_shown(value)}; write {expected}')
        return default

    def flag(self, key: str, default: bool) -> bool:
        """Give true or false."""
        value = self.take(key, False, "true or false")
        if value is None or isinstance(value, bool):
            return default if value is None else value
        self.problem(WRONG, key, f'"{self.name(key)}" is {_shown(value)}; write true or false without quotes')
        return default

    def whole(self, key: str, *, required: bool = False, least: int = 0, most: int = 10**6, default: int = 0) -> int:
        """Give a whole number within bounds."""
        expected = f"a whole number from {least} to {most}"
        value = self.take(key, required, expected)
        if value is None:
            return default
        if type(value) is not int or not least <= value <= most:
            self.problem(WRONG, key, f'"{self.name(key)}" is {_shown(value)}; write {expected}')
            return default
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """Give a list of texts."""
        value = self.take(key, False, "a list")
        if value is None:
            return ()
        if not isinstance(value, list) or not all(isinstance(item, str | int) for item in value):
            self.problem(WRONG, key, f'"{self.name(key)}" is {_shown(value)}; write a list such as ["6 in", "8 in"]')
            return ()
        return tuple(str(item) for item in value)

    def both(self, key: str, *, required: bool = False) -> dict[Any, str]:
        """Give a text in both languages, or an empty dict."""
        expected = '{ en = "...", es = "..." }'
        value = self.take(key, required, expected)
        if value is None:
            return {}
        if not isinstance(value, dict) or set(value) != set(_LANGUAGES):
            self.problem(WRONG, key, f'"{self.name(key)}" needs both languages and nothing else; write {expected}')
            return {}
        if not all(isinstance(text, str) and text.strip() for text in value.values()):
            self.problem(WRONG, key, f'"{self.name(key)}" has an empty language; write {expected}')
            return {}
        return {language: value[language] for language in _LANGUAGES}

    def table(self, key: str, *, required: bool = False) -> "Table":
        """Give a table below this one; empty when there is none."""
        value = self.take(key, required, f"the table [{self.name(key)}]")
        if value is not None and not isinstance(value, dict):
            self.problem(WRONG, key, f'"{self.name(key)}" is {_shown(value)}; write a table [{self.name(key)}]')
            value = None
        return Table(self.reader, value or {}, (*self.path, key))

    def tables(self, key: str) -> "list[Table]":
        """Give the elements of an array of tables."""
        value = self.take(key, False, f"[[{self.name(key)}]]")
        if value is None:
            return []
        if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
            self.problem(WRONG, key, f'"{self.name(key)}" is {_shown(value)}; write [[{self.name(key)}]] tables')
            return []
        return [Table(self.reader, item, (*self.path, key, index)) for index, item in enumerate(value)]

    def __iter__(self) -> Iterator[str]:
        """Give the keys in the file's order."""
        return iter(self.data)

    def close(self) -> None:
        """Report every key that was not taken."""
        for key in self.data:
            if key not in self._taken:
                known = ", ".join(sorted(self._taken))
                self.problem(
                    UNKNOWN_KEY,
                    key,
                    f'"{self.name(key)}" is not a key here; the keys are {known}; correct or remove it',
                )


def _shown(value: object) -> str:
    text = f'"{value}"' if isinstance(value, str) else repr(value)
    return text if len(text) <= 60 else text[:57] + "..."
