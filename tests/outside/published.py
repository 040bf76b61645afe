"""Published check values: rows that nobody of this project made up, with their sources.

`confidence` says how a row was checked: confirmed-in-text (read in the source or a quotation of it) or
recomputed-with-library. `common_practice.csv` is the trade's own practice, no published source.
"""

import csv
import re
from fractions import Fraction
from pathlib import Path
from typing import Any, NamedTuple

FOLDER = Path(__file__).parents[2] / "fixtures" / "published"
_MIXED = re.compile(r"(-?\d+)[- ](\d+/\d+)")


class Row(NamedTuple):
    """One published value."""

    id: str
    topic: str
    inputs: dict[str, str]
    value: str
    unit: str
    tolerance: str
    source: str

    @property
    def number(self) -> Fraction:
        """The value as an exact number."""
        return number(self.value)

    @property
    def within(self) -> Fraction:
        """How far a computed value may stray: nothing where the row says exact, or approx of a round number."""
        loose = not self.tolerance.startswith(("exact", "approx"))
        return number(self.tolerance.split()[0]) if loose else Fraction(0)


def number(text: str) -> Fraction:
    """Read a printed number: 24.30, 36-3/8, 5/16, 1.28e-05."""
    mixed = _MIXED.fullmatch(text.strip())
    if mixed:
        return Fraction(mixed[1]) + Fraction(mixed[2])
    return Fraction(text.strip().replace(",", ""))


def pairs(text: str) -> dict[str, str]:
    """Read `key=value; key=value`."""
    return {
        key.strip(): value.strip() for key, _, value in (item.partition("=") for item in text.split(";")) if key.strip()
    }


def _read(name: str) -> list[dict[str, str]]:
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def values(name: str) -> dict[str, Row]:
    """Read a file of single values."""
    return {
        row["id"]: Row(
            row["id"], row["topic"], pairs(row["inputs"]), row["value"], row["unit"], row["tolerance"], row["source"]
        )
        for row in _read(name)
    }


VALUES = values("values.csv")
CITED = values("cited_values.csv")
WORKED: dict[str, Any] = {
    row["id"]: {**row, "given": pairs(row["inputs"]), "result": pairs(row["outputs"])}
    for row in _read("worked_examples.csv")
}
COMMON_PRACTICE = {row["id"]: row for row in _read("common_practice.csv")}
