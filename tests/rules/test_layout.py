"""Layout rules against tables worked by hand; each row says how."""

from fractions import Fraction
from typing import Any

import pytest

from tests.rules.steps import assert_steps
from trainer.rules import RuleInputError, get_rule

SHEET = {"roll_width": "39 3/8 in", "side_lap": "4 in", "overhang": "2 in", "starter_width": "26 1/4 in"}
PLAIN = {"roll_width": "36 in", "side_lap": "3 in", "overhang": "0 in", "starter_width": "36 in"}
PLIES = {
    "overhang": "0 in",
    "starter_width": "24 in",
    "base_roll_width": "36 in",
    "base_side_lap": "4 in",
    "cap_roll_width": "36 in",
    "cap_side_lap": "3 in",
}
COURSES = {
    # exposure 33: 36 + 3 × 33 = 135 fits exactly, one sixteenth more needs another course
    "fits exactly": ({**PLAIN, "run": "135 in"}, 4),
    "a sixteenth too wide": ({**PLAIN, "run": "135 1/16 in"}, 5),
    # 2 + 294 = 296; less 26.25 leaves 269.75; over 35.375 is 7.63
    "starter and overhang": ({**SHEET, "run": "24 ft 6 in"}, 9),
    # the same with 2 in past the high edge: 271.75 over 35.375 is 7.68
    "past the high edge": ({**SHEET, "run": "24 ft 6 in", "top_overhang": "2 in"}, 9),
    "starter alone": ({**SHEET, "run": "24 in"}, 1),
    "starter and one sixteenth": ({**SHEET, "run": "24 5/16 in"}, 2),
}
LAST = {
    # 135 − (36 + 2 × 33) = 33, and its lap 3
    "whole sheet": ({**PLAIN, "run": "135 in"}, "36 in"),
    # 1/16 past 135, and its lap
    "a rip of little more than the lap": ({**PLAIN, "run": "135 1/16 in"}, "3 1/16 in"),
    "one course": ({**SHEET, "run": "20 in"}, "22 in"),
}


def value(name: str, inputs: dict[str, Any]) -> Any:
    """The value of a rule."""
    working = get_rule(name)(**inputs)
    assert_steps(working)
    return working.value


def length(text: str) -> Fraction:
    """A length in inches."""
    return get_rule("lap_shortfall").inputs[0].dimension.parse(text)


@pytest.mark.parametrize(("inputs", "courses"), COURSES.values(), ids=COURSES)
def test_it_counts_courses(inputs: dict[str, Any], courses: int) -> None:
    """A course that fits exactly is the last; anything left takes one more."""
    assert value("course_count", inputs) == courses


@pytest.mark.parametrize(("inputs", "width"), LAST.values(), ids=LAST)
def test_it_finds_the_last_course_with_its_lap(inputs: dict[str, Any], width: str) -> None:
    """The last course is what is left and its side lap."""
    assert value("last_course_width", inputs) == length(width)


def test_it_snaps_a_line_for_every_course_but_the_last() -> None:
    """Lines stand at the upper edges: 36 and then every 33 in; none where the sheet meets the high edge."""
    assert value("chalk_lines", {**PLAIN, "run": "135 in"}) == (36, 69, 102)
    assert value("chalk_lines", {**PLAIN, "run": "135 1/16 in"}) == (36, 69, 102, 135)
    assert value("chalk_lines", {**SHEET, "run": "20 in"}) == ()


def test_it_measures_chalk_lines_from_the_edge_of_the_deck() -> None:
    """The base sheet hangs 2 in past the low edge, so its first line stands 2 in lower than its width."""
    lines = value("chalk_lines", {**SHEET, "run": "10 ft"})

    assert lines[0] == length("24 1/4 in")
    assert lines[1] - lines[0] == length("35 3/8 in")


@pytest.mark.parametrize(
    ("roll_width", "starter_cut", "width", "rip"),
    [("36 in", "1/3", "24 in", "12 in"), ("39 3/8 in", "1/3", "26 1/4 in", "13 1/8 in"), ("1 m", "0", "1 m", "0")],
)
def test_it_rips_the_starter(roll_width: str, starter_cut: str, width: str, rip: str) -> None:
    """The strip and the first course make up the roll."""
    inputs = {"roll_width": roll_width, "starter_cut": starter_cut}

    assert value("starter_width", inputs) == length(width)
    assert value("starter_rip", inputs) == length(rip)


def test_it_finds_an_offset_that_is_lost_up_the_slope() -> None:
    """Exposures 32 and 33 drift 1 in a course: 13 in at the first lap, 12 at the second, then under 12."""
    # base laps 20, 52, 84, 116 …; cap laps 33, 66, 99, 132 …: apart 13, 14 (to 66), 15 …
    offset = get_rule("lap_offset")(run="60 in", **PLIES)
    assert offset.value == 13
    # over 40 ft the distances go 13, 14, 15, 16, then the cap lap below is nearer: 16, 15, 14 … 6 (468 to 462)
    far = get_rule("lap_offset")(run="40 ft", **PLIES)
    distances = next(step.value for step in far.steps if step.name == "lap_distances")

    assert distances[:6] == (13, 14, 15, 16, 16, 15)
    assert far.value == min(distances) == 6


def test_it_names_the_cap_course_to_start_again_at() -> None:
    """Cap lap 11 stands at 363 in, base laps at 340 and 372: 9 in. Lap 8 (264; base 276) still has its 12."""
    restart = get_rule("cap_restart")

    assert restart(run="40 ft", side_lap_offset="12 in", **PLIES).value == 9
    assert restart(run="40 ft", side_lap_offset="10 in", **PLIES).value == 11
    assert restart(run="20 ft", side_lap_offset="12 in", **PLIES).value == 0
    assert restart(run="40 ft", side_lap_offset="0 in", **PLIES).value == 0


def test_it_never_restarts_plies_that_do_not_drift() -> None:
    """Equal exposures keep their offset for any slope."""
    even = {**PLIES, "cap_side_lap": "4 in"}

    assert value("lap_drift", {key: even[key] for key in even if key.startswith(("base_", "cap_"))}) == 0
    assert get_rule("cap_restart")(run="400 ft", side_lap_offset="12 in", **even).value == 0
    assert get_rule("lap_offset")(run="400 ft", **even).value == 12


def test_it_takes_a_cap_sheet_that_starts_with_less_than_a_roll() -> None:
    """A ripped first cap course moves every cap lap down."""
    assert get_rule("lap_offset")(run="60 in", cap_starter_width="30 in", **PLIES).value == 7


def test_it_refuses_a_deck_without_laps_in_both_plies() -> None:
    """There is nothing to compare where one course covers the deck."""
    with pytest.raises(RuleInputError, match="lap_offset: run is 1 ft 6 in; it must be more than starter_width"):
        get_rule("lap_offset")(run="18 in", **PLIES)
    with pytest.raises(RuleInputError, match="more than cap_roll_width"):
        get_rule("cap_restart")(run="30 in", side_lap_offset="12 in", **PLIES)


@pytest.mark.parametrize(
    ("side_a", "side_b", "diagonal"), [("3 ft", "4 ft", "5 ft"), ("6 ft", "8 ft", "10 ft"), ("5 in", "12 in", "13 in")]
)
def test_it_squares_a_corner_exactly_where_it_can(side_a: str, side_b: str, diagonal: str) -> None:
    """Whole triangles have whole diagonals, to the last bit."""
    assert value("squaring_diagonal", {"side_a": side_a, "side_b": side_b}) == length(diagonal)


def test_it_squares_other_corners_to_double_precision() -> None:
    """One by one gives the square root of two."""
    diagonal = value("squaring_diagonal", {"side_a": "1 in", "side_b": "1 in"})

    assert abs(diagonal**2 - 2) < Fraction(1, 10**15)


@pytest.mark.parametrize(
    ("changed", "name", "limit"),
    [
        ({"side_lap": "39 in"}, "roll_width", "at least side_lap (3 ft 3 in) + 1 in"),
        ({"run": "0 in"}, "run", "more than 0 in"),
        ({"starter_width": "2 in"}, "starter_width", "more than side_lap (4 in)"),
        ({"starter_width": "5 in", "overhang": "5 in"}, "starter_width", "more than overhang (5 in)"),
        ({"overhang": "-1 in"}, "overhang", "at least 0 in"),
        ({"run": "2 mi"}, "run", "a length"),
        ({"run": "6000 ft"}, "run", "at most 5280 ft"),
    ],
)
def test_it_refuses_impossible_layouts(changed: dict[str, str], name: str, limit: str) -> None:
    """The error names the input, what it is, and the limit with the other input's value."""
    with pytest.raises(RuleInputError) as refused:
        get_rule("course_count")(**{**SHEET, "run": "24 ft", **changed})

    assert (refused.value.name, refused.value.limit) == (name, limit)
