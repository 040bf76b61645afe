"""The shipped specification against the documents it cites: a cited value is the published one, in every revision."""

from pathlib import Path

import pytest

from tests.outside.published import CITED, COMMON_PRACTICE, VALUES, Row, values
from tests.outside.test_rules_published import SPECIFIED
from trainer.rules.specification import Specification, Value, parse_specification

FOLDER = Path(__file__).parents[2] / "lessons" / "specifications"
REVISIONS = {
    f"{path.parent.name}/{path.stem}": parse_specification(path.read_text(encoding="utf-8"), path.as_posix())
    for path in sorted(FOLDER.glob("*/*.toml"))
}
PRACTICE = {
    "cp-deck-joint": "deck.joint_gap", "cp-base-overhang": "base.overhang", "cp-starter-cut": "base.starter_cut",
    "cp-relax": "base.relax_time", "cp-side-lap": "base.side_lap", "cp-end-lap": "base.end_lap",
    "cp-corner-cut-angle": "laps.corner_cut_angle", "cp-corner-cut-size": "laps.corner_cut",
    "cp-cap-nail-spacing": "base.nail_spacing", "cp-metal-gauge": "edge.gauge", "cp-flange-better": "edge.flange",
    "cp-metal-lap": "edge.metal_lap", "cp-metal-nails": "edge.nail_spacing", "cp-bead": "edge.bead_width",
    "cp-bead-setback": "edge.bead_setback", "cp-strip-in": "edge.strip_width", "cp-selvage-cover": "cap.selvage_cover",
}  # fmt: skip
"""Common practice of the trade, and the value of the specification that follows it where it cites nothing else."""
NO_VALUE = {
    "cp-film-angle": "told in the lesson, not measured",
    "cp-flange-min": "the specification asks for the preferred flange",
    "cp-corner-relief": "told in the lesson, not measured",
    "cp-reinspect": "inspection comes with the checks on the roof",
}
SPEC = pytest.mark.parametrize("specification", REVISIONS.values(), ids=REVISIONS)


def cited(specification: Specification, name: str) -> list[Value]:
    """The values of that name which cite a guide specification."""
    return [
        value
        for key, value in specification.values.items()
        if key.rpartition(".")[2] == name and value.source.document.startswith("UFGS")
    ]


@SPEC
@pytest.mark.parametrize("row_id", SPECIFIED)
def test_it_holds_the_value_that_it_cites(specification: Specification, row_id: str) -> None:
    """A value that cites the guide specification is the guide's; one that departs from it cites something else."""
    row, name = VALUES[row_id], SPECIFIED[row_id]

    for value in cited(specification, name):
        assert value.value == value.dimension.parse(f"{row.value} {row.unit}"), row.source
        assert value.limit in {"minimum", "exact"} or "maximum" in value.limit
        assert value.source.clause in row.source


def test_it_cites_every_published_limit_in_one_revision_at_least() -> None:
    """Each limit of the guides stands in some revision; the primer rate is the maker's, at the guide's value."""
    for row_id, name in SPECIFIED.items():
        if name != "primer_rate":
            assert any(cited(specification, name) for specification in REVISIONS.values()), row_id
    rate = VALUES["UG-009"]
    assert REVISIONS["two-ply-self-adhered/2026"].lookup("primer_rate").value == rate.number


HELD = {
    "BC-001": ("drainage.least_slope",), "BC-007": ("drainage.dry_within",), "UG-007": ("wall.base_above_cant",),
    "UG-015": tuple(f"{part}.flashing_height" for part in ("wall", "curb", "door", "pipe", "expansion")),
    "UG-017": ("insulation.least_temperature",), "UG-018": ("storage.roll_temperature",),
    "UG-021": ("pipe.pipe_spacing",), "DP-020": ("weather.least_margin",), "DP-022": ("weather.reading_interval",),
}  # fmt: skip
"""Limits that only specifications hold, and where: the document a value cites must be the row's."""
LIMITS: dict[str, Row] = {**CITED, **values("site_values.csv"), **values("more_values.csv")}


@pytest.mark.parametrize("row_id", HELD)
def test_it_holds_the_limit_of_the_document(row_id: str) -> None:
    """In every revision that has it the value is the row's, and it cites the row's document; one has it at least."""
    row, found = LIMITS[row_id], 0
    for specification in REVISIONS.values():
        for key in HELD[row_id]:
            value = specification.values.get(key)
            if value is not None and str(value.source) != "common practice":
                found += 1
                assert value.value == value.dimension.parse(f"{row.value} {row.unit}"), row.source
                assert value.source.document.partition(",")[0].partition(" (")[0].removeprefix("UFGS ") in row.source

    assert found >= len(HELD[row_id])


FOLLOWED = [
    (label, row_id)
    for label, specification in REVISIONS.items()
    for row_id, name in PRACTICE.items()
    if name in specification.values and str(specification.values[name].source) == "common practice"
]


@pytest.mark.parametrize(("label", "row_id"), FOLLOWED)
def test_it_follows_common_practice_where_it_says_so(label: str, row_id: str) -> None:
    """A value whose source is common practice is the trade's, with the trade's kind of limit."""
    row, value = COMMON_PRACTICE[row_id], REVISIONS[label].lookup(PRACTICE[row_id])
    unit = "" if row["unit"] in {"fraction", "gauge"} else row["unit"]
    low, _, high = row["value"].partition(" to ")

    assert value.dimension.parse(f"{low} {unit}") == (value.least if value.value is None else value.value)
    assert not high or value.most == value.dimension.parse(f"{high} {unit}")
    gauge_turns_the_limit = {"minimum": "maximum"} if row_id == "cp-metal-gauge" else {}
    assert value.limit == gauge_turns_the_limit.get(row["kind"], row["kind"])


def test_it_takes_a_place_for_every_row_of_common_practice() -> None:
    """Each row is a value of the specification or is listed with the reason why not."""
    assert {*PRACTICE, *NO_VALUE} == set(COMMON_PRACTICE)


@SPEC
def test_it_marks_what_only_the_maker_can_say(specification: Specification) -> None:
    """Least temperature for laying, days the base may lie open and primer rate come from printed instructions."""
    held = {"weather.least_temperature", "open.most_days_open", "primer.primer_rate"} & specification.values.keys()

    assert "weather.least_temperature" in held
    assert all(specification.values[key].maker for key in held)


def test_it_differs_between_revisions_where_answers_change() -> None:
    """The two revisions differ in at least two values."""
    old, new = REVISIONS["two-ply-self-adhered/2024"], REVISIONS["two-ply-self-adhered/2026"]
    changed = {key for key in old.values if old.values[key].value != new.values[key].value}

    assert old.values.keys() == new.values.keys()
    assert {"base.side_lap"} < changed
