"""Rules against worked examples: several inputs to several outputs, each row with its source."""

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from tests.outside.proofs import EXAMPLE, against
from tests.outside.published import WORKED
from trainer.rules import get_rule
from trainer.rules.dimensions import LENGTH


def value(name: str, **inputs: Any) -> Any:
    """The value of a rule."""
    return get_rule(name)(**inputs).value


def row(row_id: str) -> tuple[dict[str, str], dict[str, str]]:
    """What the example gives and what comes out."""
    return WORKED[row_id]["given"], WORKED[row_id]["result"]


@against(EXAMPLE)
def test_it_finds_pieces_nails_and_cartridges_of_an_eave() -> None:
    """WX-060: laps and nails of UFGS 07600 3.1.15, volumes of NIST Handbook 44; nails in the two rows together."""
    given, result = row("WX-060")
    edge = given["run"]

    assert value("metal_pieces", edge=edge, metal_length=given["piece"], metal_lap=given["lap"]) == int(
        result["pieces"]
    )
    assert value("nails_two_rows", edge=edge, spacing="3 in") == int(result["nails"])
    count = value(
        "cartridges",
        edge=edge,
        beads=1,
        cartridge=given["cartridge"],
        bead_width="1/4 in",
        bead_depth="1/4 in",
        waste=0,
    )
    assert count == int(result["cartridges"])


@against(EXAMPLE)
def test_it_finds_tubes_for_two_beads_with_waste() -> None:
    """WX-062: volume formula."""
    given, result = row("WX-062")
    count = value(
        "cartridges", edge=given["run"], beads=given["beads"], cartridge=given["cartridge"], bead_width="1/4 in",
        bead_depth="1/4 in", waste=given["waste"],
    )  # fmt: skip

    assert count == int(result["cartridges"])


@against(EXAMPLE)
@pytest.mark.parametrize("row_id", ["WX-070", "WX-071"])
def test_it_finds_courses_last_width_and_pieces(row_id: str) -> None:
    """Laps of UFGS 07 52 00 3.3.6; no turn-down and a whole first course, as the row says."""
    given, result = row(row_id)
    layout = {
        "run": given["width"], "overhang": 0, "starter_width": given["sheet"], "roll_width": given["sheet"],
        "side_lap": given["side_lap"],
    }  # fmt: skip

    assert value("course_count", **layout) == int(result["courses"])
    assert value("last_course_width", **layout) == Fraction(result["width_used_of_last_course_in"])
    pieces = value(
        "pieces_in_course", length=given["length"], roll_length=given["roll_length"], end_lap=given["end_lap"]
    )
    assert pieces == int(result["pieces_in_each_course"])


@against(EXAMPLE)
def test_it_finds_end_laps_too_near() -> None:
    """WX-073: the stagger of UFGS 07 52 00 3.3.6 is 36 in; 30 is not acceptable."""
    given, result = row("WX-073")
    laps = {key: given[key].replace(",", ";") for key in given}
    stagger = value("least_stagger", upper=laps["course2_end_laps"], lower=laps["course1_end_laps"])

    assert stagger == int(result["least_stagger_in"])
    assert value("lap_shortfall", lap=stagger, limit="36 in") == 6


@against(EXAMPLE)
def test_it_finds_the_offset_of_two_plies() -> None:
    """WX-074: base starts with two thirds of a roll; the offset is 13-1/8 in against a limit of 12 in."""
    given, result = row("WX-074")
    starter = value("starter_width", roll_width=given["sheet"], starter_cut="1/3")
    plies = {
        "run": "20 ft", "overhang": 0, "starter_width": starter,
        "base_roll_width": given["sheet"], "base_side_lap": given["side_lap"],
        "cap_roll_width": given["sheet"], "cap_side_lap": given["side_lap"],
    }  # fmt: skip

    assert value("lap_offset", **plies) == LENGTH.parse(result["offset"])
    assert value("cap_restart", **plies, side_lap_offset="12 in") == 0


@against(EXAMPLE)
@pytest.mark.parametrize("row_id", ["WX-076", "WX-077"])
def test_it_finds_what_laps_take_of_a_roll(row_id: str) -> None:
    """Laps of UFGS 07 52 00; one side lap and one end lap charged to each roll."""
    given, result = row(row_id)
    width, _, length = given["roll"].partition(" x ")
    gross = value("gross_area", rolls=1, roll_width=width, roll_length=length)
    net = value(
        "roll_cover", roll_width=width, roll_length=length, side_lap=given["side_lap"], end_lap=given["end_lap"]
    )
    share = value("waste_share", gross_area=gross, net_area=net)

    assert float(gross) == pytest.approx(float(result["gross_ft2"]), abs=0.005)
    assert float(net) == pytest.approx(float(result["net_ft2"]), abs=0.005)
    assert float(share) * 100 == pytest.approx(float(result["loss_percent"]), abs=0.01)


@against(EXAMPLE)
def test_it_finds_a_true_length_up_a_slope() -> None:
    """WX-101: 20 ft at 4:12 rises 80 in; the tape reads 21 ft 1 in."""
    _, result = row("WX-101")
    length = value("squaring_diagonal", side_a="20 ft", side_b="80 in")

    assert float(length) / 12 == pytest.approx(float(result["length_ft"]), abs=0.00005)
    assert LENGTH.text(length) == result["length"]


@against(EXAMPLE)
def test_it_finds_chalk_lines_of_four_courses() -> None:
    """WX-103: 39-3/8 in and three times 36-3/8 in more, from an eave without overhang."""
    _, result = row("WX-103")
    marks = [LENGTH.parse(mark.strip().removesuffix(" in")) for mark in result["marks"].split(",")]
    lines = value(
        "chalk_lines", run="14 ft", overhang=0, starter_width="39 3/8 in", roll_width="39 3/8 in", side_lap="3 in"
    )

    assert list(lines) == marks


def test_it_works_every_example() -> None:
    """Every worked example of the file is named in a test."""
    texts = "".join(path.read_text(encoding="utf-8") for path in Path(__file__).parent.glob("test_*.py"))

    assert [row_id for row_id in WORKED if row_id not in texts] == []
