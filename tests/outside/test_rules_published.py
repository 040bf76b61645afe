"""Rules against published values and formulas: every row is checked by a rule, once.

Sources stand in the rows; the rules' own arithmetic is nowhere used to make an expected value.
"""

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from tests.outside.proofs import PUBLISHED, against
from tests.outside.published import VALUES, Row, number
from trainer.rules import get_rule, length_text, parse_length
from trainer.rules.dimensions import (
    AREA,
    GALLONS,
    LENGTH,
    LOAD,
    MASS,
    SQUARES,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    VOLUME,
)
from trainer.rules.lengths import nearest_mark

Check = Callable[[Row], Any]


def by_rule(name: str, unit: str | None = None, **inputs: str) -> Check:
    """Check a row with a rule: an input is taken from the row's key of that name, or is the text given after `=`."""

    def check(row: Row) -> Any:
        given = {key: entry[1:] if entry.startswith("=") else row.inputs[entry] for key, entry in inputs.items()}
        rule = get_rule(name)
        return Fraction(str(rule.result.number(rule(**given).value, unit)))

    return check


def unit(dimension: Any, to: str, key: str) -> Check:
    """Check a conversion: the row's input read in its unit and given in another."""
    return lambda row: Fraction(str(dimension.number(dimension.parse(row.inputs[key]), to)))


COURSES = {"run": "width", "overhang": "=0", "starter_width": "sheet", "roll_width": "sheet", "side_lap": "side_lap"}
BEAD = {"cartridge": "fill", "bead_width": "width", "bead_depth": "depth"}
PIECES = {"edge": "run", "metal_length": "piece", "metal_lap": "lap"}
ROW = {"edge": "length", "spacing": "pitch"}
CHECKS: dict[str, Check] = {
    **dict.fromkeys(("FA-001", "FA-002", "FA-003", "FA-004"), by_rule("nails_along", **ROW)),
    "FA-007": by_rule("nails_two_rows", edge="length", spacing="offset"),
    "FA-008": by_rule("nails_two_rows_each", edge="length", spacing="row_pitch"),
    **dict.fromkeys(("FA-009", "FA-010", "FA-011"), by_rule("metal_pieces", **PIECES)),
    **dict.fromkeys(("FA-014", "FA-015", "FA-016"), by_rule("course_count", **COURSES)),
    **dict.fromkeys(("FA-019", "FA-020"), by_rule("exposure", roll_width="sheet", side_lap="side_lap")),
    # the plies start alike but for the third of a roll that is cut off the base: laps are that third apart
    **dict.fromkeys(("FA-022", "FA-023"), by_rule("starter_rip", roll_width="sheet", starter_cut="=1/3")),
    "FA-024": by_rule(
        "nails_in_panel", panel_length="=8 ft", panel_width="=4 ft", support_spacing="supports", edge_spacing="=6 in",
        field_spacing="=12 in",
    ),
    **dict.fromkeys(("SE-001", "SE-002", "SE-003", "SE-004"), by_rule("bead_yield", "ft", **BEAD)),
    **dict.fromkeys(
        ("SE-010", "SE-011"), by_rule("bead_yield", "ft", cartridge="=1 gal", bead_width="width", bead_depth="depth")
    ),
    # as much as the bead holds is a cartridge that fills just its length
    "SE-012": lambda row: VOLUME.number(
        LENGTH.parse(row.inputs["length"]) / get_rule("bead_yield")(
            cartridge="1 in3", bead_width=row.inputs["width"], bead_depth=row.inputs["depth"]
        ).value * VOLUME.parse("1 in3"), "in3",
    ),
    "SE-013": by_rule("primer_volume", area="area", primer_rate="=0.75 gal per 100 ft2"),
    "UN-001": unit(LENGTH, "mm", "length"),
    "UN-002": unit(LENGTH, "m", "length"),
    "UN-003": unit(AREA, "m2", "area"),
    "UN-004": unit(SQUARES, "ft2", "area"),
    "UN-005": unit(SQUARES, "m2", "area"),
    "UN-006": unit(GALLONS, "in3", "volume"),
    "UN-012": lambda _: 1000 * Fraction(str(LOAD.number(LOAD.parse("1 psf"), "kPa"))),
    "UN-015": by_rule("pond_volume", area="=1 ft2", depth="=12 in"),
    "UN-008": unit(VOLUME, "mL", "volume"),
    "UN-009": lambda _: Fraction(str(VOLUME.number(VOLUME.parse("1 in3"), "mL"))),
    "UN-010": unit(MASS, "kg", "mass"),
    "UN-017": unit(VOLUME, "in3", "fill"),
    "UN-019": unit(VOLUME, "in3", "fill"),
    "UN-020": unit(TEMPERATURE, "degC", "value"),
    "UN-021": unit(TEMPERATURE_DIFFERENCE, "degC", "difference"),
    "UN-023": unit(LENGTH, "mm", "length"),
    "UN-024": unit(LENGTH, "mm", "length"),
    "TP-001": unit(LENGTH, "in", "length"),
    "TP-002": lambda row: round(Fraction(str(LENGTH.number(parse_length(row.inputs["length"]), "ft"))), 6),
    "TP-003": unit(LENGTH, "mm", "length"),
    **dict.fromkeys(
        ("TP-004", "TP-005", "TP-006"), lambda row: nearest_mark(parse_length(row.inputs["length"]))
    ),
    "TP-009": lambda row: parse_length(row.inputs["a"]) + parse_length(row.inputs["b"]),
    # every hundredth of an inch finds its mark; the ends are none of those between
    "TP-014": lambda _: Fraction(len({nearest_mark(Fraction(part, 100)) for part in range(101)} - {0, 1})),
}  # fmt: skip
TAPE_TEXT: dict[str, Callable[[Row], Fraction]] = {
    "UN-026": lambda row: parse_length(row.inputs["length"]),
    "UN-027": lambda row: parse_length(row.inputs["length"]),
    "TP-010": lambda row: parse_length(row.inputs["a"]) - parse_length(row.inputs["b"]),
    "TP-012": lambda row: parse_length(row.inputs["length"]),
}
"""Rows whose value is text of a tape, and the length it must be the text of."""
SPECIFIED = {
    "UG-001": "side_lap", "UG-002": "end_lap", "UG-003": "end_lap_stagger", "UG-004": "side_lap_offset",
    "UG-005": "end_lap_offset", "UG-008": "relax_time", "UG-009": "primer_rate", "UG-030": "nail_spacing",
}  # fmt: skip
"""Limits of the guide specifications, and the values that cite them (test_specification_published.py)."""
NO_RULE = {
    "DK-001": "the least joint of joint_gap_within, checked in test_topics_published.py",
    "DK-002": "an input of nails_in_panel, used by FA-024",
    "DK-003": "an input of nails_in_panel, used by FA-024",
    "UN-011": "force has no rule",
    "UN-013": "a mil is no unit of a tape",
}


@against(PUBLISHED)
@pytest.mark.parametrize("row_id", CHECKS)
def test_it_agrees_with_the_published_value(row_id: str) -> None:
    """The rule gives the published value, exactly or within the tolerance the row prints."""
    row = VALUES[row_id]

    assert abs(CHECKS[row_id](row) - row.number) <= row.within, row.source


def test_it_keeps_the_fluid_ounce_exactly() -> None:
    """UN-007: 231/128 cubic inches, as the handbook's gallon gives it; a chart that prints 1.805 is not good enough."""
    printed, _, decimal = VALUES["UN-007"].value.partition(" = ")

    assert VOLUME.parse("1 fl oz") / VOLUME.parse("1 in3") == Fraction(printed) == Fraction(decimal)


@pytest.mark.parametrize("row_id", TAPE_TEXT)
def test_it_writes_the_published_tape_text(row_id: str) -> None:
    """A length is written with the feet, inches and sixteenths that are published."""
    row = VALUES[row_id]
    unit_name = "" if row.unit == "ft-in" else f" {row.unit}"

    assert length_text(TAPE_TEXT[row_id](row)) == row.value.replace("-", " ") + unit_name, row.source


def test_it_checks_every_row_or_says_why_not() -> None:
    """No published row is passed over in silence, and none is listed that is not there."""
    listed = [*CHECKS, *TAPE_TEXT, *SPECIFIED, *NO_RULE, "UN-007"]

    assert sorted(listed) == sorted(VALUES)


def test_it_reads_printed_numbers() -> None:
    """Mixed fractions, decimals and powers of ten."""
    assert number("36-3/8") == Fraction(291, 8)
    assert number("1.28e-05") == Fraction(128, 10**7)
