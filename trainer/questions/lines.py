"""Where a key of a TOML text stands, so that an error can name the line.

The standard library's reader keeps no positions. This scanner reads only what it needs for them: table headers, keys,
and where a value that runs over several lines ends.
"""

import re
from collections.abc import Mapping
from typing import Final

Path = tuple[str | int, ...]

_HEADER: Final = re.compile(r"^\s*(\[\[?)\s*([^\[\]]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY: Final = re.compile(
    r"""^\s*((?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*'))*)\s*=(.*)$"""
)
_PART: Final = re.compile(r"""[A-Za-z0-9_-]+|"[^"]*"|'[^']*'""")
_TOKEN: Final = re.compile(r"""\"\"\"|'''|"(?:\\.|[^"\\])*"|'[^']*'|\#.*|[\[\]{}]""")


def key_lines(text: str) -> dict[Path, int]:
    """Give the 1-based line of each table and key; an element of an array of tables has its index in the path."""
    found: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    table: Path = ()
    depth, quote = 0, ""
    for number, line in enumerate(text.splitlines(), start=1):
        if quote or depth:
            depth, quote = _carry(line, depth, quote)
            continue
        if header := _HEADER.match(line):
            table = _open(_parts(header[2]), header[1] == "[[", counts)
            found.setdefault(table, number)
        elif key := _KEY.match(line):
            names = _parts(key[1])
            for end in range(1, len(names) + 1):
                found.setdefault((*table, *names[:end]), number)
            depth, quote = _carry(key[2], 0, "")
    return found


def line_of(lines: Mapping[Path, int], path: Path) -> int:
    """Give the line of the key, or of the nearest table around it that has one, or 1."""
    while path:
        if path in lines:
            return lines[path]
        path = path[:-1]
    return 1


def _parts(dotted: str) -> tuple[str, ...]:
    return tuple(part.strip("\"'") for part in _PART.findall(dotted))


def _open(names: tuple[str, ...], array: bool, counts: dict[Path, int]) -> Path:
    """Give the path of a table header; a header below an array of tables belongs to the array's last element."""
    path: Path = ()
    for position, name in enumerate(names):
        path = (*path, name)
        if array and position == len(names) - 1:
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = (*path, counts[path])
    return path


def _carry(line: str, depth: int, quote: str) -> tuple[int, str]:
    """Follow brackets and long strings over a line's end; give the open brackets and the open quote."""
    position = 0
    while position < len(line):
        if quote:
            end = line.find(quote, position)
            if end < 0:
                return depth, quote
            position, quote = end + 3, ""
            continue
        token = _TOKEN.search(line, position)
        if token is None:
            break
        mark, position = token[0], token.end()
        if mark in ('"""', "'''"):
            quote = mark
        elif mark in "[{":
            depth += 1
        elif mark in "]}":
            depth -= 1
    return depth, quote
