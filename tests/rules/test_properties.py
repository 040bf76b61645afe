"""Properties that hold for any roof, tried on many of them."""

from fractions import Fraction
from itertools import pairwise, permutations
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.rules.samples import INVARIANT, REFUSAL, examples, sample
from trainer.rules import REGISTRY, Rule, RuleInputError
from trainer.rules.dimensions import DIMENSIONS, LENGTHS, Dimension
from trainer.rules.edge_metal import last_metal_piece, metal_laps, metal_pieces
from trainer.rules.fastening import nails_along, nails_around, nails_two_rows, nails_two_rows_each
from trainer.rules.laps import end_lap_marks, pieces_in_course
from trainer.rules.layout import cap_restart, chalk_lines, course_count, lap_offset, last_course_width
from trainer.rules.sealant import bead_yield, cartridges
from trainer.rules.take_off import cut_list, rolls_for_roof, split_by_course


def tape(least: int, most: int) -> st.SearchStrategy[Fraction]:
    """Lengths between two whole inches, on sixteenths or on millimeters."""
    # one draw for both tapes: every third number counts millimeters, the others sixteenths
    return st.integers(least * 26, most * 25).map(
        lambda marks: (
            Fraction(marks * 10, 254) if marks % 3 == 0 else Fraction(min(max(marks, least * 16), most * 16), 16)
        )
    )


def roofs() -> st.SearchStrategy[dict[str, Fraction]]:
    """A deck and a sheet that can cover it."""
    return st.fixed_dictionaries({
        "run": tape(12, 2400),
        "overhang": tape(0, 6),
        "starter_width": tape(12, 48),
        "roll_width": tape(24, 48),
        "side_lap": tape(0, 8),
        "top_overhang": tape(0, 6),
    })  # fmt: skip


@given(roofs(), tape(0, 600))
@INVARIANT
def test_it_never_needs_fewer_courses_for_more_run(roof: dict[str, Fraction], more: Fraction) -> None:
    """A deck that goes on up the slope takes at least as many courses."""
    longer = {**roof, "run": roof["run"] + more}

    assert course_count.work(**longer).value >= course_count.work(**roof).value


@given(roofs())
@INVARIANT
def test_it_covers_the_deck_and_no_more_than_it_must(roof: dict[str, Fraction]) -> None:
    """The courses cover deck and overhangs; one fewer would not; the last is between its lap and a whole sheet."""
    courses = course_count.work(**roof).value
    cover = roof["overhang"] + roof["run"] + roof["top_overhang"]
    gain = roof["roll_width"] - roof["side_lap"]
    last = last_course_width.work(**roof).value

    assert roof["starter_width"] + (courses - 1) * gain >= cover
    if courses > 1:
        assert roof["starter_width"] + (courses - 2) * gain < cover
        assert roof["side_lap"] < last <= roof["roll_width"]
    else:
        assert last == cover <= roof["starter_width"]


@given(roofs())
@INVARIANT
def test_it_snaps_lines_that_rise_and_reach_the_high_edge(roof: dict[str, Fraction]) -> None:
    """Chalk lines lie on the deck, rise by one exposure, and one more course from the last reaches past the deck."""
    lines = chalk_lines.work(**{name: length for name, length in roof.items() if name != "top_overhang"}).value
    gain = roof["roll_width"] - roof["side_lap"]
    courses = course_count.work(**roof).value

    assert all(later - line == gain for line, later in pairwise(lines))
    assert all(0 < line < roof["run"] for line in lines)
    assert len(lines) <= courses - 1
    assert roof["top_overhang"] or len(lines) == courses - 1
    reached = lines[-1] + gain if lines else roof["starter_width"] - roof["overhang"]
    assert reached >= roof["run"]


def two_plies() -> st.SearchStrategy[dict[str, Fraction]]:
    """A deck with two plies whose exposures may differ."""
    return st.fixed_dictionaries({
        "run": tape(60, 1200),
        "overhang": tape(0, 4),
        "starter_width": tape(14, 30),
        "base_roll_width": tape(30, 48),
        "base_side_lap": tape(0, 6),
        "cap_roll_width": tape(30, 48),
        "cap_side_lap": tape(0, 6),
    })  # fmt: skip


@given(two_plies(), tape(0, 20))
@INVARIANT
def test_it_restarts_the_cap_only_where_the_offset_is_lost(plies: dict[str, Fraction], offset: Fraction) -> None:
    """The course named is the first whose lap loses the offset; where none is named, none loses it."""
    working = cap_restart.work(**plies, side_lap_offset=offset)
    named = {step.name: step.value for step in working.steps}
    gaps = [min(abs(cap - base) for base in named["base_laps"]) for cap in named["cap_laps"]]

    if working.value == 0:
        assert min(gaps) >= offset
    else:
        assert gaps[working.value - 1] < offset
        assert all(gap >= offset for gap in gaps[: working.value - 1])


@given(two_plies(), tape(0, 600))
@INVARIANT
def test_it_never_finds_a_wider_offset_on_a_longer_slope(plies: dict[str, Fraction], more: Fraction) -> None:
    """Base laps already there keep their nearest cap lap or get a nearer one."""
    longer = {**plies, "run": plies["run"] + more}

    assert lap_offset.work(**longer).value <= lap_offset.work(**plies).value


@given(tape(12, 6000), st.integers(1, 12), tape(240, 800), tape(0, 12), tape(0, 48))
@INVARIANT
def test_it_cuts_pieces_that_cover_and_fit_a_roll(
    length: Fraction, courses: int, roll: Fraction, lap: Fraction, stagger: Fraction
) -> None:
    """Pieces of a course, laps taken off, add up to its length; none is longer than a roll; rolls hold them all."""
    inputs = {"length": length, "courses": courses, "roll_length": roll, "end_lap": lap, "end_lap_stagger": stagger}
    pieces = cut_list.work(**inputs).value
    rolls = rolls_for_roof.work(**inputs)

    assert all(0 < piece <= roll for piece in pieces)
    joints = len(pieces) - courses
    assert sum(pieces) - joints * lap == courses * length
    assert sum(pieces) <= rolls.value * roll
    assert -(-sum(pieces) // roll) <= rolls.value <= len(pieces)
    assert rolls.before_rounding <= rolls.value


@given(tape(12, 6000), tape(240, 800), tape(0, 12), tape(13, 48))
@INVARIANT
def test_it_staggers_every_cut_list(length: Fraction, roll: Fraction, lap: Fraction, stagger: Fraction) -> None:
    """End laps of neighboring courses stand at least the stagger apart."""
    assume(length > roll)
    pieces = cut_list.work(length=length, courses=2, roll_length=roll, end_lap=lap, end_lap_stagger=stagger).value
    marks: list[list[Fraction]] = []
    reach = length
    for piece in pieces:
        if reach >= length:
            marks.append([])
            reach = piece
        else:
            marks[-1].append(reach - lap)
            reach += piece - lap

    assert all(abs(mark - other) >= stagger for mark in marks[1] for other in marks[0])


@given(tape(12, 6000), tape(24, 800), tape(0, 12))
@INVARIANT
def test_it_agrees_about_pieces_and_laps(length: Fraction, roll: Fraction, lap: Fraction) -> None:
    """A course of whole rolls has one end lap fewer than pieces; edge metal the same, and its last piece fits."""
    marks = end_lap_marks.work(length=length, first_piece=roll, roll_length=roll, end_lap=lap).value
    pieces = pieces_in_course.work(length=length, roll_length=roll, end_lap=lap).value
    metal = {"edge": length, "metal_length": roll, "metal_lap": lap}
    last = last_metal_piece.work(**metal).value

    assert len(marks) == pieces - 1
    assert metal_laps.work(**metal).value == metal_pieces.work(**metal).value - 1 == pieces - 1
    assert (lap if pieces > 1 else 0) < last <= roll
    assert last + (pieces - 1) * (roll - lap) == length


@given(tape(1, 3000), tape(1, 3000), tape(1, 24))
@INVARIANT
def test_it_nails_no_gap_wider_than_the_spacing(run: Fraction, eave: Fraction, spacing: Fraction) -> None:
    """Gaps spread evenly are within the spacing, and with one nail fewer they would not be; rows agree."""
    nails = nails_along.work(edge=run, spacing=spacing).value

    assert run / (nails - 1) <= spacing
    assert nails == 2 or run / (nails - 2) > spacing
    assert nails_two_rows.work(edge=run, spacing=spacing).value == nails
    assert nails_two_rows_each.work(edge=run, spacing=spacing).value == 2 * nails - 1
    round_deck = nails_around.work(run=run, eave=eave, spacing=spacing).value
    sides = 2 * (nails - 1) + 2 * (nails_along.work(edge=eave, spacing=spacing).value - 1)
    assert round_deck == sides


@given(tape(12, 3000), st.integers(1, 4), tape(1, 2), tape(1, 2), st.fractions(0, 1))
@INVARIANT
def test_it_buys_cartridges_that_reach(
    edge: Fraction, beads: int, bead_width: Fraction, bead_depth: Fraction, waste: Fraction
) -> None:
    """The cartridges hold the bead with its waste; one fewer does not."""
    section = {"cartridge": Fraction("10.1"), "bead_width": bead_width, "bead_depth": bead_depth}
    each = bead_yield.work(**section).value
    count = cartridges.work(edge=edge, beads=beads, waste=waste, **section).value
    needed = edge * beads * (1 + waste)

    assert (count - 1) * each < needed <= count * each


@given(tape(1, 8000), tape(240, 800), tape(0, 12), st.integers(1, 9))
@INVARIANT
def test_it_splits_a_cut_list_by_course(length: Fraction, roll: Fraction, lap: Fraction, courses: int) -> None:
    """Every course reaches its length, none has a piece too many, and together they are the list."""
    pieces = cut_list.work(
        length=length, courses=courses, roll_length=roll, end_lap=lap, end_lap_stagger=Fraction(36)
    ).value  # fmt: skip
    split = split_by_course(pieces, length, lap)

    assert len(split) == courses
    assert sum(split, ()) == pieces
    for course in split:
        assert sum(course) - (len(course) - 1) * lap >= length
        assert sum(course[:-1], Fraction(0)) - (len(course) - 2) * lap < length or len(course) == 1


def written(dimension: Dimension, value: Any, unit: str) -> Any:
    """Write a value exactly in a unit, as a fraction; what has no unit stays as it is."""
    if isinstance(value, tuple):
        return "; ".join(str(written(LENGTHS.item, entry, unit)) for entry in value)
    if not isinstance(value, Fraction):
        return value
    size, zero = dimension.units[unit]
    number = value / size + zero
    return f"{number.numerator}/{number.denominator} {unit}".strip()


EVERY = list(REGISTRY.values())
SAMPLES = {rule.name: sample(rule) for rule in REGISTRY.values()}
MEASURED = [dimension for dimension in DIMENSIONS.values() if len(dimension.units) > 1 and dimension.kind is Fraction]


PAIRS = [(one, *units) for one in MEASURED for units in permutations(sorted(one.units), 2)]


@given(st.sampled_from(PAIRS), st.fractions(0, 5000, max_denominator=64))
@INVARIANT
def test_it_is_the_same_quantity_in_every_unit(pair: tuple[Dimension, str, str], number: Fraction) -> None:
    """Written in one unit and read, then written in any other and read: nothing is lost, to the last digit."""
    dimension, one, other = pair
    value = dimension.parse(f"{number.numerator}/{number.denominator} {one}")

    assert dimension.parse(written(dimension, value, other)) == value


def outcome(rule: Rule[..., Any], inputs: dict[str, Any]) -> tuple[str, Any]:
    """Work a rule, or say which input it refuses."""
    try:
        working = rule.answer(inputs)
    except RuleInputError as refused:
        return "refused", refused.name
    return "worked", (working.value, [step.value for step in working.steps])


def metric_unit(dimension: Dimension) -> str:
    """The metric unit that a dimension is written in; its own where it knows none."""
    known = {"degF": "degC", "in per ft": "ratio", "psf": "kPa", "lb": "kg"}
    metric = known.get(dimension.unit, dimension.metric)
    return metric if metric in dimension.units else dimension.unit


@given(data=st.data())
@INVARIANT
def test_it_gives_the_same_in_metric_and_imperial(data: st.DataObject) -> None:
    """Any rule at any size: what is written in meters, kilograms and degrees Celsius gives the same, step for step."""
    rule = data.draw(st.sampled_from(EVERY))
    times = data.draw(st.fractions(Fraction(1, 4), 4, max_denominator=16))
    imperial, metric = {}, {}
    for item in rule.inputs:
        value = SAMPLES[rule.name][item.name]
        if item.dimension.kind is Fraction and item.dimension.power:
            value *= times**item.dimension.power
        elif isinstance(value, tuple):
            value = tuple(entry * times for entry in value)
        imperial[item.name] = written(item.dimension, value, item.dimension.unit)
        metric[item.name] = written(item.dimension, value, metric_unit(item.dimension))

    assert outcome(rule, metric) == outcome(rule, imperial)


@given(st.integers(-63360 * 25, 63360 * 25), st.sampled_from(["en", "es"]))
@INVARIANT
def test_it_reads_back_every_millimeter(millimeters: int, language: str) -> None:
    """What is written for a metric job is read back as the same length."""
    length = DIMENSIONS["difference of lengths"]
    value = Fraction(millimeters * 10, 254)

    assert length.parse(length.text(value, "metric", language)) == value


@pytest.mark.parametrize(("profile", "invariant", "refusal"), [("", 2_000, 200), ("long", 20_000, 2_000)])
def test_it_tries_as_often_as_it_should(profile: str, invariant: int, refusal: int) -> None:
    """2,000 examples for what always holds and 200 for what is refused; ten times that in a long run."""
    assert (examples(2_000, profile), examples(200, profile)) == (invariant, refusal)
    assert (INVARIANT.max_examples, REFUSAL.max_examples) == (examples(2_000), examples(200))
