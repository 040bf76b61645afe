"""What a specification must hold, and the pairs of its values that can't both be true."""

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from trainer.rules.specification import Value

Fault = tuple[int, str, tuple[str, ...]]

REQUIRED = (
    "base.roll_width", "base.roll_length", "base.side_lap", "base.end_lap", "base.end_lap_stagger",
    "base.overhang", "base.starter_cut", "plies.side_lap_offset",
)  # fmt: skip
FROM_MAKER = ("weather.least_temperature", "open.most_days_open", "primer.primer_rate")
REQUIRED_OF_ONE_PLY = ("sheet.roll_width", "sheet.roll_length", "sheet.side_lap")
FROM_MAKER_OF_ONE_PLY = ("weather.least_temperature", "sheet.weld_width")


class _Pair(NamedTuple):
    """Two values of one part, or of two, that must agree."""

    keys: tuple[str, ...]
    holds: Callable[..., bool]
    must: str


def _pairs(part: str) -> tuple[_Pair, ...]:
    return (
        _Pair((f"{part}.roll_width", f"{part}.side_lap"), lambda width, lap: width > lap,
              "the roll must be wider than its side lap"),
        _Pair((f"{part}.roll_length", f"{part}.end_lap", f"{part}.end_lap_stagger"),
              lambda length, lap, stagger: length >= lap + 2 * stagger,
              "the roll must be as long as an end lap and two staggers, or the laps can't be staggered"),
        _Pair((f"{part}.roll_length", f"{part}.end_lap"), lambda length, lap: length > lap,
              "the roll must be longer than its end lap"),
        _Pair((f"{part}.roll_width", f"{part}.starter_cut", f"{part}.side_lap"),
              lambda width, cut, lap: width * (1 - cut) > lap, "the first course must be wider than its side lap"),
        _Pair((f"{part}.roll_width", f"{part}.starter_cut", f"{part}.overhang"),
              lambda width, cut, past: width * (1 - cut) > past,
              "the first course must be wider than what hangs past the edge"),
        _Pair((f"{part}.selvage_cover", f"{part}.side_lap"), lambda cover, lap: cover < lap,
              "the sheet must not pass the selvage line by its whole side lap"),
    )  # fmt: skip


_PAIRS = (
    *_pairs("base"),
    *_pairs("cap"),
    *_pairs("sheet"),
    _Pair(("sheet.side_lap", "sheet.weld_width"), lambda lap, weld: weld <= lap,
          "the weld can't be wider than the lap it lies in"),
    _Pair(("edge.strip_width", "edge.flange"), lambda strip, flange: strip > flange,
          "the strip must be wider than the flange it covers"),
    _Pair(("edge.metal_length", "edge.metal_lap"), lambda length, lap: length > lap,
          "a piece of edge metal must be longer than its lap"),
    _Pair(("edge.flange", "edge.bead_setback", "edge.bead_width"),
          lambda flange, back, bead: back + bead <= flange, "the bead must lie under the flange"),
    _Pair(("edge.row_spacing", "edge.nail_spacing"), lambda row, both: row == 2 * both,
          "two staggered rows stand at twice the spacing that counts both together"),
    _Pair(("plies.side_lap_offset", "base.roll_width", "base.side_lap"),
          lambda offset, width, lap: 2 * offset <= width - lap,
          "the laps of two plies can't stand farther apart than half an exposure"),
)  # fmt: skip


def missing(values: Mapping[str, "Value"]) -> Iterator[Fault]:
    """Find values that every specification of its system must hold, and those that must come from the maker.

    A specification with values of `sheet` is of one ply with welded seams; every other one is of two plies.
    """
    one_ply = any(key.startswith("sheet.") for key in values)
    required, from_maker = (REQUIRED_OF_ONE_PLY, FROM_MAKER_OF_ONE_PLY) if one_ply else (REQUIRED, FROM_MAKER)
    for key in (*required, *from_maker):
        name = key.split(".")[1]
        if key not in values and name not in values:
            by = "; only the maker's printed instructions can give it" if key in from_maker else ""
            yield 111, f"{key} is missing{by}. Add [{key}] with value, limit and source.", (key, "")
        elif key in from_maker and not values.get(key, values.get(name)).maker:  # type: ignore[union-attr]
            yield 112, f"{key} can only come from the maker. Write maker = true and the maker's source.", _keys(key)


def contradictions(values: Mapping[str, "Value"]) -> Iterator[Fault]:
    """Find pairs of values that can't both be true, and values that their own reading tolerance swallows."""
    for pair in _PAIRS:
        found = [values.get(key) for key in pair.keys]
        held = [item for item in found if item is not None]
        if len(held) == len(found) and not pair.holds(*(_tightest(item) for item in held)):
            shown = ", ".join(f"{item.key} {item.dimension.text(_tightest(item))}" for item in held)
            yield 113, f"{shown}: {pair.must}. Mend one of them.", _keys(pair.keys[0])
    for key, value in values.items():
        bound = _tightest(value)
        if value.tolerance and bound and value.tolerance >= abs(bound):
            text = value.dimension.text
            yield 114, (f"{key}: the reading tolerance {text(value.tolerance)} is as large as the value {text(bound)}. "
                        "Mend one of them."), (*_keys(key), "tolerance")  # fmt: skip


def _tightest(value: "Value") -> Any:
    """The value itself, or the least end of a range."""
    return value.least if value.value is None else value.value


def _keys(key: str) -> tuple[str, ...]:
    part, _, name = key.partition(".")
    return (part, name) if name else ("common", part)
