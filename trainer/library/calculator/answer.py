"""The answer of a rule as a page shows it: the value in words, the steps, and the drawing where one fits."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Any, Final, NamedTuple

from django.utils.translation import gettext

from trainer.drawings import DrawingInputError, draw, drawing_inputs, get_drawing
from trainer.drawings.sheet import Drawing
from trainer.library.calculator.notes import meaning
from trainer.rules.dimensions import AREA, COUNT, DISTANCE, LENGTH, SHARE, SQUARES, Dimension, decimal
from trainer.rules.lengths import length_text
from trainer.rules.registry import Rule, Working, get_rule
from trainer.rules.specification import Specification
from trainer.rules.take_off import split_by_course
from trainer.rules.words import LONGEST_LIST, label, steps_text

MOST_ENTRIES: Final = 200  # of a list of lengths; a longer one is told by its number
MOST_IN_STEP: Final = 40  # entries of a list within a step
MOST_DRAWN: Final = 200  # pieces or lines of one drawing; more would be one black block

# The drawing that shows a rule's answer, and which of its worked-out numbers are printed on it.
DRAWN: Final[dict[str, tuple[str, str]]] = {
    "exposure": ("side_lap", "exposure"),
    "course_count": ("roof_plan", "courses"),
    "chalk_lines": ("roof_plan", "chalk_lines"),
    "last_course_width": ("roof_plan", "last_course_width"),
    "lap_offset": ("ply_offset", "lap_offset"),
    "cap_restart": ("ply_offset", "lap_offset"),
    "least_stagger": ("end_lap_stagger", "stagger"),
    "metal_pieces": ("metal_run", "metal_pieces"),
    "metal_laps": ("metal_run", "metal_pieces"),
    "last_metal_piece": ("metal_run", "last_metal_piece"),
    "nails_two_rows": ("nail_rows", "nails"),
    "strip_cover": ("edge_section", "strip_cover"),
    "joint_gap_over": ("deck_joint", ""),
    "corner_cut_edge": ("t_joint", ""),
    "bead_yield": ("bead_position", ""),
    "cartridges": ("bead_position", ""),
    "corner_zone_area": ("roof_zones", "corner_zones"),
    "edge_zone_area": ("roof_zones", "edge_zones"),
    "field_zone_area": ("roof_zones", "field_zone"),
    "plates_by_zone": ("roof_zones", ""),
    "slope_from_fall": ("slope_and_water", "slope_percent"),
    "fall_over_run": ("slope_and_water", "slope_percent"),
    "cricket_height": ("cricket", "cricket_height"),
    "patch_size": ("fishmouth", "patch_size"),
    "collar_size": ("pipe_collar", "collar_size"),
    "scupper_depth": ("scupper", "scupper_depth"),
}
PIECE_BY_PIECE: Final = {"roof_plan", "ply_offset", "end_lap_stagger", "metal_run"}  # drawn each at its place


class Entry(NamedTuple):
    """One length of a list; `course` is the number of the course that it begins, 0 where it begins none."""

    text: str
    course: int = 0


@dataclass(frozen=True)
class Answer:
    """What a rule gave, in words.

    Attributes:
        label, text: what was found, and how much.
        means: what the value says about the work; empty where it speaks for itself.
        other: the same in other units; empty where that says nothing new.
        exact: a count before it was rounded up; empty where nothing was.
        entries: a list's lengths in order; `left_out` how many more there are.
        steps: lines of `steps_text`.
        rounds_up, rounds_down: whether a step is rounded, so that its arrow is explained.
    """

    label: str
    text: str
    means: str
    other: str
    exact: str
    entries: tuple[Entry, ...]
    left_out: int
    steps: list[dict[str, Any]]
    rounds_up: bool
    rounds_down: bool
    drawing: Drawing | None


def answer_of(
    working: Working[Any], specification: Specification | None, part: str | None, units: str, language: str
) -> Answer:
    """Put a rule's working into words."""
    rule = working.rule
    assert rule is not None  # noqa: S101  a rule that was called sets it
    entries = working.value if isinstance(working.value, tuple) else ()
    steps = steps_text(working, language, units)
    for step in steps:
        step["text"] = _shortened(step["text"])
    if len(entries) > LONGEST_LIST:
        steps[-1]["text"] = gettext("the list above")
    how = "".join(step["expression"] for step in steps)
    return Answer(
        label=label(rule.gives, language),
        text=_text(rule.result, working.value, units, language),
        means=meaning(rule.name, working.value),
        other=_other(rule.result, working.value, units, language),
        exact=_exact(working),
        entries=tuple(_entries(working, entries, units, language)),
        left_out=max(len(entries) - MOST_ENTRIES, 0),
        steps=steps,
        rounds_up="↑" in how,
        rounds_down="↓" in how,
        drawing=_drawing(working, specification, part, units, language),
    )


def _entries(working: Working[Any], lengths: tuple[Any, ...], units: str, language: str) -> Iterator[Entry]:
    """Write out the lengths of a list; those of a cut list with the courses that they begin."""
    begins: dict[int, int] = {}
    if working.rule is not None and working.rule.name == "cut_list":
        at = 0
        for number, course in enumerate(
            split_by_course(lengths, working.inputs["length"], working.inputs["end_lap"]), 1
        ):
            begins[at] = number
            at += len(course)
    for at, length in enumerate(lengths[:MOST_ENTRIES]):
        yield Entry(length_text(length, units=units, language=language), begins.get(at, 0))


def _shortened(text: str) -> str:
    """Leave out the middle of a list of lengths that nobody would read: its first and its last stay."""
    entries = text.split("; ")
    return text if len(entries) <= MOST_IN_STEP else "; ".join([*entries[: MOST_IN_STEP - 1], "…", entries[-1]])


def _text(dimension: Dimension, value: Any, units: str, language: str) -> str:
    if isinstance(value, tuple):
        return str(len(value))
    text = dimension.text(value, units, language)
    if dimension in (LENGTH, DISTANCE) and text != length_text(value, units=units, language=language, about=True):
        return gettext("about %(length)s") % {"length": text}
    return text


def _other(dimension: Dimension, value: Any, units: str, language: str) -> str:
    if isinstance(value, tuple | bool):
        return ""
    shown = dimension.text(value, units, language)
    texts = [dimension.text(value, "imperial" if units == "metric" else "metric", language)]
    if dimension is AREA and value >= 100:  # a roof's area is spoken of, and its material sold, in squares
        texts.insert(0, SQUARES.text(value / 100, "imperial", language))
    if dimension is SHARE:
        texts.append(f"{decimal(Fraction(value) * 100, 2)}%")
    return " · ".join(text for text in texts if text != shown)


def _exact(working: Working[Any]) -> str:
    """Give a count before it was rounded up; nothing where it was put together of several that were."""
    before = working.before_rounding
    if working.rule is None or working.rule.result is not COUNT or before == working.value:
        return ""
    if ceil(before) != working.value:
        return ""
    return decimal(Fraction(before), 2)


def _drawing(
    working: Working[Any], specification: Specification | None, part: str | None, units: str, language: str
) -> Drawing | None:
    """Draw what was worked out, to scale; None where no drawing fits, or where these measures can't be drawn."""
    rule = working.rule
    if rule is None or rule.name not in DRAWN:
        return None
    name, show = DRAWN[rule.name]
    if name in PIECE_BY_PIECE and _crowded(working):
        return None
    given = _drawn_inputs(rule, name, working)
    try:
        filled = drawing_inputs(name, given, specification, part)
        return draw(name, filled, units=units, language=language, key="answer", show=show)
    except DrawingInputError:
        return None


def _crowded(working: Working[Any]) -> bool:
    counts = [step.value for step in working.steps if isinstance(step.value, int) and not isinstance(step.value, bool)]
    lists = [len(value) for value in (working.value, *working.inputs.values()) if isinstance(value, tuple)]
    return max([0, *lists, *counts]) > MOST_DRAWN


def _drawn_inputs(rule: Rule[..., Any], name: str, working: Working[Any]) -> dict[str, object]:
    """Give the drawing the rule's inputs that it has by the same name, and those that it calls otherwise."""
    inputs = working.inputs
    known = {declared.name for declared in get_drawing(name).inputs}
    given: dict[str, object] = {key: value for key, value in inputs.items() if key in known and value is not None}
    if rule.name == "nails_two_rows":
        given |= {
            "nail_spacing": inputs["spacing"],
            "row_spacing": get_rule("spacing_in_row")(spacing=inputs["spacing"]).value,
        }
    if rule.name == "fall_over_run":
        del given["slope"]  # or the fall, which was asked for, would not be drawn
        given["fall"] = working.value
    if name == "deck_joint":
        given["step"] = Fraction(0)  # nobody measured one
    return given
