"""Specifications: the values a roof is installed to, read from a file, refused when broken or contradicting itself.

A file is `lessons/specifications/NAME/REVISION.toml`. A value is `[part.name]`, or `[common.name]` when every part
shares it.
"""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any, NamedTuple

from trainer.rules.contradictions import contradictions, missing
from trainer.rules.dimensions import COUNT, TEMPERATURE, TEMPERATURE_DIFFERENCE, Dimension
from trainer.rules.registry import Source
from trainer.rules.words import words

LIMITS = ("minimum", "maximum", "exact", "range")
COMMON = "common"


class Problem(NamedTuple):
    """One fault in a file of content: where it is, its stable id, and what to do about it."""

    file: str
    line: int
    id: str
    message: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line} ({self.id}): {self.message}"


class ContentError(ValueError):
    """A file of content that is refused, with every fault found in it."""

    def __init__(self, problems: list[Problem] | tuple[Problem, ...]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class UnknownValueError(KeyError):
    """A name that a specification has no single value for; the message says why."""

    def __str__(self) -> str:
        return str(self.args[0])


@dataclass(frozen=True, slots=True)
class Value:
    """One value of a specification.

    Attributes:
        key: `part.name`, or the bare name for a common one.
        limit: "minimum", "maximum", "exact" or "range".
        value: the limit itself; None for a range.
        least, most: the bounds that the limit makes; None where it makes none.
        tolerance: how far a reading may stray because a tape can't tell; in the dimension's unit.
        maker: only the maker's printed instructions can give this value.
    """

    key: str
    dimension: Dimension
    limit: str
    value: Any
    least: Any
    most: Any
    tolerance: Any
    source: Source
    maker: bool = False

    def judges(self, reading: Any) -> str:
        """Judge a reading: "accept", "within tolerance" (beyond the limit, but the tape can't tell), or "reject"."""
        short = self.least - reading if self.least is not None else 0
        over = reading - self.most if self.most is not None else 0
        beyond = max(short, over)
        if beyond <= 0:
            return "accept"
        return "within tolerance" if beyond <= self.tolerance else "reject"

    def accepts(self, reading: Any) -> bool:
        """Say whether a reading passes, the reading tolerance allowed for."""
        return self.judges(reading) != "reject"

    def end(self, name: str) -> "Value":
        """Give one end of the value, "least" or "most", or its reading "tolerance", as an exact value.

        Raises:
            UnknownValueError: The limit has no such end.
        """
        bound = {"least": self.least, "most": self.most, "tolerance": self.tolerance}[name]
        if bound is None:
            raise UnknownValueError(f"{self.key} is a {self.limit}; it has no {name!r}")
        return replace(self, key=f"{self.key}.{name}", limit="exact", value=bound, least=bound, most=bound)


@dataclass(frozen=True)
class Specification:
    """An immutable revision of a specification.

    Attributes:
        name, revision: as the path names them.
        title: in "en" and "es".
        units: "imperial" or "metric".
        values: by `part.name`, or the bare name for a common one.
    """

    name: str
    revision: str
    title: Mapping[str, str]
    units: str
    values: Mapping[str, Value]
    _found: dict[tuple[str, str | None], Value | None] = field(default_factory=dict, compare=False, repr=False)

    @property
    def label(self) -> str:
        """NAME/REVISION."""
        return f"{self.name}/{self.revision}"

    def lookup(self, name: str, part: str | None = None) -> Value:
        """Find a value: `part.name`, then the common `name`, then the only part that has it.

        A name that starts with a part (`base_side_lap`) is looked for in that part; `.least`, `.most` ask for an end,
        `.tolerance` for the reading tolerance.

        Raises:
            UnknownValueError: There is none, or several parts have one.
        """
        found = self._find(name, part)
        if found is None:
            held = [key for key in self.values if key.rpartition(".")[2] == name.rpartition(".")[2]]
            hint = f"it has {', '.join(held)}: name the part" if held else "mend the name, or add the value"
            raise UnknownValueError(f"{self.label} has no single value for {name!r}; {hint}")
        return found

    def give(self, name: str, part: str | None = None) -> Any:
        """Find a plain value for a rule's input; None where there is none, or only a range."""
        found = self._find(name, part)
        return None if found is None else found.value

    def _find(self, name: str, part: str | None) -> Value | None:
        asked = (name, part)
        if asked not in self._found:
            self._found[asked] = self._seek(name, part)
        return self._found[asked]

    def _seek(self, name: str, part: str | None) -> Value | None:
        bare, _, end = name.rpartition(".")
        if end in ("least", "most", "tolerance") and bare:
            whole = self._find(bare, part)
            return whole.end(end) if whole is not None else None
        for key in self._keys(name, part):
            if key in self.values:
                return self.values[key]
        names = self._names(name)
        held = [value for key, value in self.values.items() if "." in key and key.partition(".")[2] in names]
        return held[0] if len(held) == 1 else None

    def _keys(self, name: str, part: str | None) -> Iterator[str]:
        if "." in name:
            yield name.removeprefix(f"{COMMON}.")
            return
        for also in self._names(name):
            if part:
                yield f"{part}.{also}"
            yield also
        first, _, rest = name.partition("_")
        if rest and any(key.startswith(f"{first}.") for key in self.values):
            yield f"{first}.{rest}"

    @staticmethod
    def _names(name: str) -> tuple[str, ...]:
        entry = words().get(name)
        return (name, *(entry.also if entry else ()))


class _Reader:
    """Reads one file and gathers every fault in it."""

    def __init__(self, text: str, path: str) -> None:
        self.path, self.problems = path, list[Problem]()
        self._lines = _key_lines(text)

    def line(self, *keys: str) -> int:
        """Find the line of a key, of its table, else the first."""
        for at in (".".join(keys), ".".join(keys[:-1])):
            if at in self._lines:
                return self._lines[at]
        return 1

    def fault(self, number: int, message: str, *keys: str) -> None:
        """Note a fault at a key."""
        self.problems.append(Problem(self.path, self.line(*keys), f"content.E{number}", message))

    def text(self, table: Mapping[str, Any], key: str, *, of: tuple[str, ...] = ()) -> str:
        """Read a text that must be there."""
        found = table.get(key)
        if isinstance(found, str) and found.strip():
            return found.strip()
        where = ".".join((*of, key))
        self.fault(103, f'{where} is missing or not a text. Write {key} = "…".', *of, key)
        return ""


def _key_lines(text: str) -> dict[str, int]:
    """Find the line where each table and each key of it starts."""
    lines, table = dict[str, int](), ""
    for number, line in enumerate(text.splitlines(), 1):
        stripped = line.strip()
        if stripped.startswith("[") and "]" in stripped:
            table = stripped.strip("[").partition("]")[0].strip()
            lines.setdefault(table, number)
        elif "=" in stripped and not stripped.startswith("#"):
            key = stripped.partition("=")[0].strip().strip('"')
            lines.setdefault(f"{table}.{key}" if table else key, number)
    return lines


def parse_specification(text: str, path: str) -> Specification:
    """Read a specification file.

    Args:
        text: the file.
        path: where it lies, `…/NAME/REVISION.toml`; faults name it, and it must agree with the file.

    Raises:
        ContentError: The file is broken, incomplete or contradicts itself; every fault has line, id and mending.
    """
    reader = _Reader(text, path)
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise ContentError([_broken(error, path)]) from None
    values = dict(_values(reader, document))
    made = _head(reader, document, values)
    if not reader.problems:
        for number, message, keys in (*missing(values), *contradictions(values)):
            reader.fault(number, message, *keys)
    if reader.problems:
        raise ContentError(sorted(reader.problems, key=lambda problem: problem.line))
    return made


def _broken(error: tomllib.TOMLDecodeError, path: str) -> Problem:
    message = str(error)
    digits = message.partition("at line ")[2].split(",")[0]
    return Problem(path, int(digits) if digits.isdigit() else 1, "content.E101",
                   f"this is not TOML: {message}. Mend the line.")  # fmt: skip


def _head(reader: _Reader, document: Mapping[str, Any], values: Mapping[str, Value]) -> Specification:
    name, revision = reader.text(document, "name"), reader.text(document, "revision")
    folders = reader.path.replace("\\", "/").removesuffix(".toml").split("/")
    if len(folders) >= 2:
        for key, stated, folder in (("name", name, folders[-2]), ("revision", revision, folders[-1])):
            if stated and stated != folder:
                reader.fault(104, f"{key} is {stated!r}, the path says {folder!r}. Make them the same.", key)
    units = reader.text(document, "units")
    if units and units not in ("imperial", "metric"):
        reader.fault(105, f'units is {units!r}. Write "imperial" or "metric".', "units")
    title = document.get("title")
    if not isinstance(title, dict) or not all(isinstance(title.get(key), str) and title[key] for key in ("en", "es")):
        reader.fault(103, 'title is missing a language. Write title = { en = "…", es = "…" }.', "title")
        title = {}
    return Specification(name, revision, title, units, values)


def _values(reader: _Reader, document: Mapping[str, Any]) -> Iterator[tuple[str, Value]]:
    for part, table in document.items():
        if part in ("name", "revision", "units", "title"):
            continue
        if not isinstance(table, dict):
            reader.fault(102, f"{part} is not a known key. Values stand in tables such as [base.side_lap].", part)
            continue
        for name, entry in table.items():
            if not isinstance(entry, dict):
                reader.fault(102, f"{part}.{name} is not a table. Write [{part}.{name}] with value = …", part, name)
                continue
            value = _value(reader, part, name, entry)
            if value is not None:
                yield value.key, value


_KEYS = {"value", "least", "most", "limit", "tolerance", "source", "maker"}


def _value(reader: _Reader, part: str, name: str, entry: Mapping[str, Any]) -> Value | None:
    key = f"{part}.{name}"
    known = words().get(name)
    if known is None:
        reader.fault(106, f"{key}: {name!r} is not a name of the words table. Mend it, or add it there.", part, name)
        return None
    for extra in entry.keys() - _KEYS:
        reader.fault(102, f"{key}.{extra} is not a known key. Use {', '.join(sorted(_KEYS))}.", part, name, extra)
    limit = entry.get("limit")
    if limit not in LIMITS:
        reader.fault(107, f"{key}: limit is {limit!r}. Write one of {', '.join(LIMITS)}.", part, name, "limit")
        return None
    bounds = _bounds(reader, key, known.dimension, limit, entry)
    tolerance = _quantity(reader, key, known.dimension, "tolerance", entry.get("tolerance", "0"))
    source = _source(reader, key, entry.get("source"))
    if bounds is None or tolerance is None or source is None:
        return None
    if not isinstance(entry.get("maker", False), bool):
        reader.fault(105, f"{key}: maker is {entry['maker']!r}. Write true or false.", part, name, "maker")
        return None
    value, least, most = bounds
    shown = name if part == COMMON else key
    return Value(shown, known.dimension, limit, value, least, most, tolerance, source, entry.get("maker", False))


def _bounds(
    reader: _Reader, key: str, dimension: Dimension, limit: str, entry: Mapping[str, Any]
) -> tuple[Any, Any, Any] | None:
    part, name = key.split(".")
    asked = ("least", "most") if limit == "range" else ("value",)
    for stray in {"value", "least", "most"} & entry.keys() - set(asked):
        write = " and ".join(asked)
        reader.fault(108, f"{key}: {stray} does not go with the limit {limit!r}. Write {write}.", part, name, stray)
        return None
    for needed in asked:
        if needed not in entry:
            reader.fault(103, f"{key}: {needed} is missing. Write {needed} = {dimension.example!r}.", part, name)
            return None
    found = [_quantity(reader, key, dimension, needed, entry[needed]) for needed in asked]
    if any(item is None for item in found):
        return None
    if limit == "range":
        if found[0] >= found[1]:
            reader.fault(109, f"{key}: least {entry['least']} is not below most {entry['most']}. Swap or mend them.",
                         part, name, "least")  # fmt: skip
            return None
        return None, found[0], found[1]
    value = found[0]
    return value, (None if limit == "maximum" else value), (None if limit == "minimum" else value)


def _quantity(reader: _Reader, key: str, dimension: Dimension, what: str, written: object) -> Any:
    part, name = key.split(".")
    if isinstance(written, int) and not isinstance(written, bool) and dimension is COUNT:
        written = str(written)
    if not isinstance(written, str):
        reader.fault(105, f"{key}: {what} is {written!r}. Write it as a text with its unit, such as "
                          f"{dimension.example!r}.", part, name, what)  # fmt: skip
        return None
    try:
        value = (_difference(dimension) if what == "tolerance" else dimension).parse(written)
    except ValueError as error:
        reader.fault(105, f"{key}: {what}: {error}", part, name, what)
        return None
    least = 0 if what == "tolerance" else dimension.least
    if (least is not None and value < least) or value > dimension.most:
        reader.fault(105, f"{key}: {what} {written} is impossible for {dimension.spoken[0]}. Mend the number.",
                     part, name, what)  # fmt: skip
        return None
    return value


def _difference(dimension: Dimension) -> Dimension:
    """A tolerance on a temperature is a difference: it has no zero of its own."""
    return TEMPERATURE_DIFFERENCE if dimension is TEMPERATURE else dimension


def _source(reader: _Reader, key: str, written: object) -> Source | None:
    part, name = key.split(".")
    if isinstance(written, str) and written.strip():
        return Source(written.strip())
    fields = set(Source._fields)
    named = isinstance(written, dict) and written.get("document") and written.keys() <= fields
    if isinstance(written, dict) and named and all(isinstance(item, str) for item in written.values()):
        found = Source(**written)
        if found.read_on and not _is_day(found.read_on):
            reader.fault(105, f'{key}: read_on is {found.read_on!r}. Write the day it was read, such as "2026-11-25".',
                         part, name, "source")  # fmt: skip
            return None
        return found
    reader.fault(110, f'{key}: source is missing or incomplete. Write source = "common practice", or '
                      'source = { document = "…", clause = "…", edition = "…", jurisdiction = "…" }.',
                 part, name, "source")  # fmt: skip
    return None


def _is_day(text: str) -> bool:
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False
