"""Specifications: what is read, what is refused and where, how readings are judged."""

from fractions import Fraction

import pytest

from trainer.rules import get_rule, resolve_inputs
from trainer.rules.contradictions import FROM_MAKER, REQUIRED
from trainer.rules.specification import ContentError, Specification, UnknownValueError, parse_specification

PATH = "lessons/specifications/test-roof/2030.toml"
HEAD = """name = "test-roof"
revision = "2030"
units = "imperial"
title = { en = "Test roof", es = "Techo de prueba" }
"""
VALUES = {
    "common.gauge": ("26", "maximum", ""),
    "base.roll_width": ("39 3/8 in", "exact", 'tolerance = "1/8 in"'),
    "base.roll_length": ("33 ft", "exact", ""),
    "base.side_lap": ("4 in", "minimum", 'tolerance = "1/16 in"'),
    "base.end_lap": ("6 in", "minimum", ""),
    "base.end_lap_stagger": ("36 in", "minimum", ""),
    "base.overhang": ("2 in", "exact", ""),
    "base.starter_cut": ("1/3", "exact", ""),
    "base.nail_spacing": ("8 in", "maximum", 'tolerance = "1/4 in"'),
    "cap.roll_width": ("1 m", "exact", ""),
    "cap.side_lap": ("3 1/4 in", "minimum", ""),
    "plies.side_lap_offset": ("12 in", "minimum", ""),
    "edge.flange": ("3 in", "minimum", ""),
    "edge.metal_length": ("10 ft", "exact", ""),
    "edge.metal_lap": ("4 in", "minimum", ""),
    "edge.nail_spacing": ("3 in", "maximum", ""),
    "edge.row_spacing": ("6 in", "exact", ""),
    "edge.bead_setback": ("1 in", "maximum", ""),
    "edge.bead_width": ("1/4 in", "exact", ""),
    "primer.primer_rate": ("0.75 gal per 100 ft2", "exact", "maker = true"),
    "weather.least_temperature": ("50 degF", "minimum", 'maker = true\ntolerance = "1 degC"'),
    "open.most_days_open": ("14 day", "maximum", "maker = true"),
}


def written(**changed: str | None) -> str:
    """Write the file; `changed` replaces a table's text (dots as two underscores), or leaves it out when None."""
    tables = []
    for key, (value, limit, more) in VALUES.items():
        text: str | None = f'value = "{value}"\nlimit = "{limit}"\nsource = "common practice"\n{more}'
        text = changed.get(key.replace(".", "__"), text)
        if text is not None:
            tables.append(f"[{key}]\n{text}\n")
    book = 'source = { document = "a book", clause = "3" }'
    strip = changed.get("edge__strip_width", f'least = "6 in"\nmost = "8 in"\nlimit = "range"\n{book}')
    tables.append(f"[edge.strip_width]\n{strip}\n")
    return HEAD + "\n" + "\n".join(tables)


@pytest.fixture
def specification() -> Specification:
    """The specification of these tests."""
    return parse_specification(written(), PATH)


def value(text: str, limit: str = "minimum", more: str = "") -> str:
    """One value's table."""
    return f'value = "{text}"\nlimit = "{limit}"\nsource = "common practice"\n{more}'


def test_it_reads_head_values_and_sources(specification: Specification) -> None:
    """Every value comes out with its limit, tolerance, source and whether only the maker can give it."""
    lap = specification.lookup("base.side_lap")

    assert (specification.label, specification.units) == ("test-roof/2030", "imperial")
    assert (lap.value, lap.least, lap.most, lap.tolerance) == (4, 4, None, Fraction(1, 16))
    assert str(lap.source) == "common practice"
    assert not lap.maker
    assert specification.lookup("primer_rate").maker
    assert str(specification.lookup("strip_width").source) == "a book, 3"


def test_it_finds_values_by_part_common_prefix_and_the_only_part(specification: Specification) -> None:
    """`part.name`, then the common name, then a name that starts with a part, then the only part that has it."""
    assert specification.give("side_lap", "base") == 4
    assert specification.give("side_lap", "cap") == Fraction(13, 4)
    assert specification.give("gauge", "base") == 26
    assert specification.give("common.gauge") == 26
    assert specification.give("cap_side_lap", "plies") == Fraction(13, 4)
    assert specification.give("starter_cut", "edge") == Fraction(1, 3)
    assert specification.give("spacing", "base") == 8
    assert specification.give("spacing", "edge") == 3


def test_it_asks_for_the_part_where_several_have_the_value(specification: Specification) -> None:
    """Two side laps and no part: neither is guessed."""
    assert specification.give("side_lap") is None
    with pytest.raises(UnknownValueError, match=r"it has base\.side_lap, cap\.side_lap: name the part"):
        specification.lookup("side_lap")
    with pytest.raises(UnknownValueError, match="add the value"):
        specification.lookup("no_such_name")


def test_it_gives_the_ends_of_a_range_but_no_middle(specification: Specification) -> None:
    """A range has a least and a most; as a plain value it is not given."""
    assert specification.lookup("strip_width.least").value == 6
    assert specification.lookup("strip_width.most", "edge").value == 8
    assert specification.lookup("edge.strip_width.most").value == 8
    assert specification.give("strip_width", "edge") is None
    with pytest.raises(UnknownValueError, match="is a minimum; it has no 'most'"):
        specification.lookup("base.side_lap.most")


@pytest.mark.parametrize(
    ("name", "reading", "verdict"),
    [
        ("base.side_lap", "4 in", "accept"),
        ("base.side_lap", "9 in", "accept"),
        ("base.side_lap", "3 15/16 in", "within tolerance"),
        ("base.side_lap", "3 7/8 in", "reject"),
        ("base.nail_spacing", "8 in", "accept"),
        ("base.nail_spacing", "8 1/4 in", "within tolerance"),
        ("base.nail_spacing", "8 5/16 in", "reject"),
        ("base.roll_width", "39 3/8 in", "accept"),
        ("base.roll_width", "39 1/4 in", "within tolerance"),
        ("base.roll_width", "39 1/2 in", "within tolerance"),
        ("base.roll_width", "39 9/16 in", "reject"),
        ("base.roll_width", "39 3/16 in", "reject"),
        ("edge.strip_width", "6 in", "accept"),
        ("edge.strip_width", "8 in", "accept"),
        ("edge.strip_width", "5 15/16 in", "reject"),
        ("edge.strip_width", "8 1/16 in", "reject"),
    ],
)
def test_it_judges_readings_with_limit_and_tolerance_apart(
    specification: Specification, name: str, reading: str, verdict: str
) -> None:
    """Minimum, maximum, exact and range, each with what the tape can't tell."""
    limit = specification.lookup(name)

    assert limit.judges(limit.dimension.parse(reading)) == verdict
    assert limit.accepts(limit.dimension.parse(reading)) is (verdict != "reject")


def test_it_reads_a_temperature_tolerance_as_a_difference(specification: Specification) -> None:
    """One degree Celsius of tolerance is 1.8 degrees Fahrenheit, not 33.8."""
    assert specification.lookup("least_temperature").tolerance == Fraction(9, 5)


def test_it_fills_the_inputs_of_a_rule(specification: Specification) -> None:
    """Only the deck is given; sheet, starter, lap and overhang come from the specification."""
    rule = get_rule("course_count")

    assert rule.work(**resolve_inputs(rule, {"run": "24 ft 6 in"}, specification)).value == 9
    assert rule.work(**resolve_inputs(rule, {"run": "24 ft 6 in", "side_lap": "3 in"}, specification)).value == 9
    assert rule.work(**resolve_inputs(rule, {"run": "27 ft", "side_lap": "0 in"}, specification)).value == 9
    assert rule.work(**resolve_inputs(rule, {"run": "27 ft"}, specification)).value == 10


NOT_A_TEXT = 'value = 2\nlimit = "exact"\nsource = "common practice"'
NO_MOST = 'least = "6 in"\nlimit = "range"\nsource = "x"'
UPSIDE_DOWN = 'least = "9 in"\nmost = "8 in"\nlimit = "range"\nsource = "x"'
OVERHANG = "[base.overhang]"
BROKEN = {
    # the file, the fault, the line it must be found at (a table, or how a line under it starts), its words
    "not TOML": ("name = ", "E101", ("name",), "not TOML"),
    "unknown head": (written().replace("units =", "hue = 'red'\nunits ="), "E102", ("hue",), "hue"),
    "no title in Spanish": (written().replace(', es = "Techo de prueba"', ""), "E103", ("title",), "title"),
    "no name": (written().replace('name = "test-roof"\n', ""), "E103", ("revision",), "name is missing"),
    "another name than the path": (written().replace('"test-roof"', '"other"'), "E104", ("name",), "'test-roof'"),
    "another revision": (written().replace('"2030"', '"2031"'), "E104", ("revision",), "'2030'"),
    "unknown units": (written().replace('"imperial"', '"cubits"'), "E105", ("units",), "cubits"),
    "unknown name": (written().replace(OVERHANG, "[base.overhung]"), "E106", ("[base.overhung]",), "overhung"),
    "unknown key": (written(base__overhang=value("2 in", "exact", "hue = 1")), "E102", (OVERHANG, "hue"), "hue"),
    "unreadable value": (written(base__overhang=value("2 parsecs", "exact")), "E105", (OVERHANG, "value"), "parsecs"),
    "a bare number": (written(base__overhang=NOT_A_TEXT), "E105", (OVERHANG, "value"), "as a text with its unit"),
    "negative": (written(base__overhang=value("-2 in", "exact")), "E105", (OVERHANG, "value"), "impossible"),
    "unknown limit": (written(base__overhang=value("2 in", "about")), "E107", (OVERHANG, "limit"), "about"),
    "an exact value with a most": (
        written(base__overhang=value("2 in", "exact", 'most = "3 in"')), "E108", (OVERHANG, "most"), "does not go with",
    ),
    "a range without its end": (
        written(edge__strip_width=NO_MOST), "E103", ("[edge.strip_width]",), "most is missing",
    ),
    "a range upside down": (
        written(edge__strip_width=UPSIDE_DOWN), "E109", ("[edge.strip_width]", "least"), "not below most",
    ),
    "no source": (
        written(base__overhang='value = "2 in"\nlimit = "exact"'), "E110", (OVERHANG,), "source is missing",
    ),
    "half a source": (
        written(base__overhang=value("2 in", "exact").replace('"common practice"', '{ clause = "3" }')),
        "E110", (OVERHANG, "source"), "source",
    ),
    "maker is a word": (
        written(open__most_days_open=value("14 day", "maximum", 'maker = "yes"')),
        "E105", ("[open.most_days_open]", "maker"), "true or false",
    ),
    "tolerance as large as the value": (
        written(base__side_lap=value("4 in", "minimum", 'tolerance = "4 in"')),
        "E114", ("[base.side_lap]", "tolerance"), "as large as the value",
    ),
    "roll narrower than its lap": (
        written(cap__roll_width=value("3 in", "exact")), "E113", ("[cap.roll_width]",), "wider than its side lap",
    ),
    "laps that can't be staggered": (
        written(base__roll_length=value("6 ft", "exact")), "E113", ("[base.roll_length]",), "can't be staggered",
    ),
    "strip no wider than the flange": (
        written(edge__flange=value("6 in")), "E113", ("[edge.strip_width]",), "wider than the flange",
    ),
    "bead past the flange": (
        written(edge__bead_setback=value("3 in", "maximum")), "E113", ("[edge.flange]",), "under the flange",
    ),
    "metal shorter than its lap": (
        written(edge__metal_length=value("4 in", "exact")), "E113", ("[edge.metal_length]",), "longer than its lap",
    ),
    "rows that are not staggered": (
        written(edge__row_spacing=value("5 in", "exact")), "E113", ("[edge.row_spacing]",), "twice the spacing",
    ),
    "plies farther apart than they can be": (
        written(plies__side_lap_offset=value("20 in")), "E113", ("[plies.side_lap_offset]",), "half an exposure",
    ),
    "starter no wider than the overhang": (
        written(base__overhang=value("27 in", "exact")), "E113", ("[base.roll_width]",), "hangs past the edge",
    ),
}  # fmt: skip


def line_of(text: str, starts: tuple[str, ...]) -> int:
    """Find the line that starts so, under the line before it where two are named."""
    lines, at = text.splitlines(), 0
    for start in starts:
        at = next(number for number in range(at, len(lines)) if lines[number].startswith(start))
    return at + 1


@pytest.mark.parametrize(("text", "problem", "starts", "words"), BROKEN.values(), ids=BROKEN)
def test_it_refuses_a_broken_file_where_it_is_broken(
    text: str, problem: str, starts: tuple[str, ...], words: str
) -> None:
    """One fault gives its id, file, line, and a message that names the key and the mending."""
    with pytest.raises(ContentError) as refused:
        parse_specification(text, PATH)

    found = [entry for entry in refused.value.problems if words in entry.message]
    assert [(entry.id, entry.file, entry.line) for entry in found] == [
        (f"content.{problem}", PATH, line_of(text, starts))
    ]
    assert found[0].message.endswith(".")


@pytest.mark.parametrize("key", [*REQUIRED, *FROM_MAKER])
def test_it_refuses_a_file_that_lacks_a_required_value(key: str) -> None:
    """Each required value is named when it is missing; the maker's say that only the maker can give them."""
    with pytest.raises(ContentError) as refused:
        parse_specification(written(**{key.replace(".", "__"): None}), PATH)

    message = str(refused.value)
    assert f"{key} is missing" in message
    assert ("only the maker" in message) is (key in FROM_MAKER)


@pytest.mark.parametrize("key", FROM_MAKER)
def test_it_refuses_a_makers_value_that_is_not_marked(key: str) -> None:
    """A least temperature out of common practice is no least temperature."""
    text, limit, _ = VALUES[key]
    with pytest.raises(ContentError, match="can only come from the maker"):
        parse_specification(written(**{key.replace(".", "__"): value(text, limit)}), PATH)


def test_it_reports_every_fault_at_once() -> None:
    """Two broken values give two problems, in the order of the file."""
    text = written(base__overhang=value("2 parsecs", "exact"), edge__flange=value("x"))
    with pytest.raises(ContentError) as refused:
        parse_specification(text, PATH)

    lines = [entry.line for entry in refused.value.problems]
    assert len(lines) == 2
    assert lines == sorted(lines)
