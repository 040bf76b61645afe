"""What is drawn to scale is to scale: places on the sheet in proportion to the measures they stand for."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.drawings.cases import BEAD, EDGE, METAL, PLAN, PLIES, ROLL
from tests.drawings.reading import find, points, values
from trainer.drawings import draw
from trainer.rules import get_rule

QUICK = settings(max_examples=25, deadline=None)


def sixteenths(least: int, most: int) -> st.SearchStrategy[Fraction]:
    """Lengths on a mark of the tape, in whole inches from least to most."""
    return st.integers(least * 16, most * 16).map(lambda count: Fraction(count, 16))


def in_proportion(drawn: list[float], inches: list[Fraction]) -> bool:
    """Tell whether drawn distances have one scale, to a hundredth of a unit that the SVG rounds to, twice."""
    scale = max(drawn) / float(max(inches))
    return all(abs(one - float(other) * scale) < 0.03 for one, other in zip(drawn, inches, strict=True))


@QUICK
@given(run=sixteenths(120, 700))
def test_it_draws_chalk_lines_where_the_rule_puts_them(run: Fraction) -> None:
    """Each chalk line stands above the low edge as far, in proportion, as the rule says, out of the whole run."""
    drawing = draw("roof_plan", {**PLAN, "run": run, "show": "chalk_lines"})
    high, low = sorted(values(line, "y1")[0] for line in find(drawing, "line", "deck-edge"))
    drawn = [low - values(line, "y1")[0] for line in find(drawing, "line", "chalk")]
    lines = get_rule("chalk_lines")(
        run=run, overhang=2, starter_width=ROLL * Fraction(2, 3), roll_width=ROLL, side_lap=4
    ).value

    assert len(drawn) == len(lines)
    assert in_proportion([*drawn, low - high], [*lines, run])


@QUICK
@given(lap=sixteenths(1, 12))
def test_it_draws_the_side_lap_in_proportion_to_the_roll(lap: Fraction) -> None:
    """In the view of two courses the lower course has the roll's width and the upper starts at the exposure."""
    drawing = draw("side_lap", {"roll_width": ROLL, "side_lap": lap})
    lower = values(find(drawing, "rect", "cut base")[0], "x", "width")
    upper = [x for x, _ in points(find(drawing, "path", "cut base")[0])]

    assert in_proportion([lower[1], min(upper) - lower[0], max(upper) - lower[0]], [ROLL, ROLL - lap, 2 * ROLL - lap])


@QUICK
@given(lap=sixteenths(3, 12), side=sixteenths(2, 6))
def test_it_draws_the_end_lap_in_proportion_to_the_roll(lap: Fraction, side: Fraction) -> None:
    """On the plan the lap's width, the course's width and the side lap have one scale."""
    drawing = draw("end_lap", {"end_lap": lap, "side_lap": side})
    x, y, width, height = values(find(drawing, "rect", "lap")[0], "x", "y", "width", "height")
    level = next(line for line in find(drawing, "line", "hidden") if line.get("y1") == line.get("y2"))

    assert x > 0
    assert in_proportion([width, height, values(level, "y1")[0] - y], [lap, ROLL, side])


@QUICK
@given(stagger=sixteenths(0, 60), lap=sixteenths(4, 8))
def test_it_draws_the_stagger_in_proportion_to_the_lap(stagger: Fraction, lap: Fraction) -> None:
    """The two end laps stand the stagger apart, at the scale of the laps themselves and of the roll."""
    drawing = draw("end_lap_stagger", {"roll_width": ROLL, "side_lap": 4, "end_lap": lap, "end_lap_stagger": stagger})
    low, high = (values(line, "x1", "y1", "y2") for line in find(drawing, "line", "end-lap"))
    lap_width = values(find(drawing, "rect", "lap")[0], "width")[0]

    assert in_proportion([high[0] - low[0], lap_width, high[2] - high[1]], [stagger, lap, ROLL])


@QUICK
@given(run=sixteenths(200, 900))
def test_it_draws_the_laps_of_both_plies_where_the_rule_puts_them(run: Fraction) -> None:
    """On the whole slope each lap of each ply lies where the rule's working lists it."""
    drawing = draw("ply_offset", {**PLIES, "run": run})
    working = get_rule("lap_offset")(
        run=run, overhang=2, starter_width=ROLL * Fraction(2, 3), base_roll_width=ROLL, base_side_lap=4,
        cap_roll_width=ROLL, cap_side_lap=Fraction(13, 4),
    )  # fmt: skip
    steps = {step.name: step.value for step in working.steps}
    for ply in ("base", "cap"):
        left, width = values(find(drawing, "rect", f"cut {ply}")[0], "x", "width")
        drawn = [values(line, "x1")[0] - left for line in find(drawing, "line", f"{ply}-lap")]
        assert in_proportion([*drawn, width], [*steps[f"{ply}_laps"], run])


@QUICK
@given(cut=sixteenths(2, 6), side=sixteenths(2, 6), lap=sixteenths(4, 10))
@pytest.mark.parametrize("cut_on", ["overlapped", "overlapping"])
def test_it_cuts_the_corner_in_proportion_to_the_laps(
    cut: Fraction, side: Fraction, lap: Fraction, cut_on: str
) -> None:
    """At 45 degrees the cut takes as much of both edges; side lap and end lap have the same scale."""
    drawing = draw("t_joint", {"corner_cut": cut, "side_lap": side, "end_lap": lap, "cut_on": cut_on})
    x1, y1, x2, y2 = values(find(drawing, "line", "cut-line")[0], "x1", "y1", "x2", "y2")
    left, top, width = values(find(drawing, "rect", "lap")[0], "x", "y", "width")
    next_course = values(find(drawing, "line", "next-course")[0], "y1")[0]

    assert in_proportion([abs(x2 - x1), abs(y2 - y1), next_course - top, width], [cut, cut, side, lap])
    # The cut starts at the end of the sheet whose corner it takes: sheet 1 ends at the right of the lap.
    assert x2 == pytest.approx(left + width if cut_on == "overlapped" else left, abs=0.02)


@QUICK
@given(flange=sixteenths(2, 5), beyond=sixteenths(2, 6), setback=sixteenths(0, 1))
def test_it_draws_the_edge_in_proportion(flange: Fraction, beyond: Fraction, setback: Fraction) -> None:
    """Flange, stripping ply, turn-down, bead and its setback have one scale, from the deck edge."""
    inputs = {**EDGE, "flange": flange, "strip_width": flange + beyond, "bead_setback": setback}
    drawing = draw("edge_section", inputs)
    nailer = values(find(drawing, "rect", "nailer")[0], "x", "width", "y")
    edge = nailer[0] + nailer[1]
    metal = min(x for x, _ in points(find(drawing, "path", "metal")[0]))
    strip = min(x for x, _ in points(find(drawing, "path", "cut strip")[0]))
    turned = max(y for _, y in points(find(drawing, "path", "cut base")[0])) - nailer[2]
    bead = values(find(drawing, "rect", "sealant")[0], "x", "width", "height")
    drawn = [edge - metal, edge - strip, turned, bead[1], bead[2], edge - bead[0] - bead[1] / 2]

    assert in_proportion(drawn, [flange, flange + beyond, Fraction(2), Fraction(1, 4), Fraction(1, 4), setback])


@QUICK
@given(spacing=sixteenths(2, 9), share=st.integers(1, 8))
def test_it_spaces_nails_in_proportion(spacing: Fraction, share: int) -> None:
    """Within a row nails stand one spacing apart; the second row is offset by the spacing of both together."""
    both = spacing * share / 8
    drawing = draw("nail_rows", {"row_spacing": spacing, "nail_spacing": both})
    nails = [values(nail, "cx", "cy") for nail in find(drawing, "circle", "nail")]
    rows = [sorted(x for x, y in nails if y == row) for row in sorted({y for _, y in nails})]
    steps = [after - before for row in rows for before, after in pairwise(row)]

    assert len(rows) == 2
    assert in_proportion([*steps, rows[1][0] - rows[0][0]], [*[spacing] * len(steps), both])


@QUICK
@given(edge=sixteenths(130, 1500))
def test_it_draws_every_piece_of_metal_in_proportion(edge: Fraction) -> None:
    """Along the whole edge there are as many pieces as the rule counts, each as long as it is, the last as cut."""
    drawing = draw("metal_run", {**METAL, "edge": edge, "show": "all"})
    pieces = get_rule("metal_pieces")(edge=edge, metal_length=120, metal_lap=4).value
    last = get_rule("last_metal_piece")(edge=edge, metal_length=120, metal_lap=4).value
    # Two more of the kind belong to the view of one lap.
    drawn = [values(rect, "width")[0] for rect in find(drawing, "rect", "cut metal")][:-2]

    assert len(drawn) == pieces
    assert in_proportion([*drawn, 320.0], [*[Fraction(120)] * (pieces - 1), last, edge])


@QUICK
@given(setback=sixteenths(1, 2), flange=sixteenths(3, 5))
def test_it_places_the_bead_in_proportion(setback: Fraction, flange: Fraction) -> None:
    """The middle of the bead stands its setback from the deck edge, at the scale of the flange above it."""
    drawing = draw("bead_position", {**BEAD, "bead_setback": setback, "flange": flange})
    nailer = values(find(drawing, "rect", "nailer")[0], "x", "width")
    edge = nailer[0] + nailer[1]
    middle = values(find(drawing, "line", "center")[0], "x1")[0]
    inner = min(x for x, _ in points(find(drawing, "path", "metal")[0]))

    assert in_proportion([edge - middle, edge - inner], [setback, flange])


@QUICK
@given(gap=sixteenths(0, 2), step=sixteenths(0, 1))
def test_it_opens_the_deck_joint_in_proportion(gap: Fraction, step: Fraction) -> None:
    """The joint and the step have the scale of the panel's thickness."""
    drawing = draw("deck_joint", {"gap": gap, "step": step})
    left, right = (values(rect, "x", "width", "y", "height") for rect in find(drawing, "rect", "deck"))

    assert in_proportion([right[0] - left[0] - left[1], left[2] - right[2], left[3]], [gap, step, Fraction(5, 8)])


@QUICK
@given(reading=sixteenths(0, 400))
def test_it_sets_the_edge_on_its_mark(reading: Fraction) -> None:
    """The measured edge stands on a mark of the tape, as many sixteenths past the inch as the reading has."""
    drawing = draw("tape", {"reading": reading})
    edge = values(find(drawing, "line", "measured")[0], "x1")[0]
    marks = sorted(values(mark, "x1", "y2") for mark in find(drawing, "line", "tape-mark"))
    longest = max(reach for _, reach in marks)
    inches = [x for x, reach in marks if reach == longest and x <= edge + 0.01]
    sixteenth = marks[1][0] - marks[0][0]

    assert any(abs(x - edge) < 0.02 for x, _ in marks)
    assert round((edge - inches[-1]) / sixteenth) == reading % 1 * 16
