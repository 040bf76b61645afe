"""Specifications: what is read, what is refused and where, how readings are judged."""

from fractions import Fraction

import pytest

from trainer.rules import get_rule, resolve_inputs
from trainer.rules.contradictions import FROM_MAKER, REQUIRED
from trainer.rules.dimensions import COUNT
from trainer.rules.specification import (
    ContentError,
    Problem,
    Specification,
    UnknownValueError,
    parse_specification,
)
from trainer.rules.words import words

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
    "cap.selvage_cover": ("1/4 in", "maximum", ""),
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
    "a day that is none": (
        written(base__overhang='value = "2 in"\nlimit = "exact"\nsource = { document = "a code", read_on = "in May" }'),
        "E105", (OVERHANG, "source"), "Write the day it was read, such as",
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


MESSAGES = {
    "unknown head": "hue is not a known key. Values stand in tables such as [base.side_lap].",
    "no title in Spanish": 'title is missing a language. Write title = { en = "…", es = "…" }.',
    "no name": 'name is missing or not a text. Write name = "…".',
    "another name than the path": "name is 'other', the path says 'test-roof'. Make them the same.",
    "another revision": "revision is '2031', the path says '2030'. Make them the same.",
    "unknown units": 'units is \'cubits\'. Write "imperial" or "metric".',
    "unknown name": "base.overhung: 'overhung' is not a name of the words table. Mend it, or add it there.",
    "unknown key": ("base.overhang.hue is not a known key. Use least, limit, maker, most, source, tolerance, value."),
    "unreadable value": (
        "base.overhang: value: “parsecs” in “2 parsecs” is not a unit of length. Use ft, in, mm, cm or m."
    ),
    "a bare number": ("base.overhang: value is 2. Write it as a text with its unit, such as '24 ft 6 1/2 in'."),
    "negative": "base.overhang: value -2 in is impossible for a length. Mend the number.",
    "unknown limit": "base.overhang: limit is 'about'. Write one of minimum, maximum, exact, range.",
    "an exact value with a most": "base.overhang: most does not go with the limit 'exact'. Write value.",
    "a range without its end": "edge.strip_width: most is missing. Write most = '24 ft 6 1/2 in'.",
    "a range upside down": "edge.strip_width: least 9 in is not below most 8 in. Swap or mend them.",
    "no source": (
        'base.overhang: source is missing or incomplete. Write source = "common practice", or '
        'source = { document = "…", clause = "…", edition = "…", jurisdiction = "…" }.'
    ),
    "a day that is none": ("base.overhang: read_on is 'in May'. Write the day it was read, such as \"2026-11-25\"."),
    "maker is a word": "open.most_days_open: maker is 'yes'. Write true or false.",
    "tolerance as large as the value": (
        "base.side_lap: the reading tolerance 4 in is as large as the value 4 in. Mend one of them."
    ),
    "roll narrower than its lap": (
        "cap.roll_width 3 in, cap.side_lap 3 1/4 in: the roll must be wider than its side lap. Mend one of them."
    ),
    "laps that can't be staggered": (
        "base.roll_length 6 ft, base.end_lap 6 in, base.end_lap_stagger 3 ft: the roll must be as long as an end lap "
        "and two staggers, or the laps can't be staggered. Mend one of them."
    ),
    "strip no wider than the flange": (
        "edge.strip_width 6 in, edge.flange 6 in: the strip must be wider than the flange it covers. Mend one of them."
    ),
    "bead past the flange": (
        "edge.flange 3 in, edge.bead_setback 3 in, edge.bead_width 1/4 in: the bead must lie under the flange. "
        "Mend one of them."
    ),
    "metal shorter than its lap": (
        "edge.metal_length 4 in, edge.metal_lap 4 in: a piece of edge metal must be longer than its lap. "
        "Mend one of them."
    ),
    "rows that are not staggered": (
        "edge.row_spacing 5 in, edge.nail_spacing 3 in: two staggered rows stand at twice the spacing that counts both "
        "together. Mend one of them."
    ),
    "plies farther apart than they can be": (
        "plies.side_lap_offset 1 ft 8 in, base.roll_width 3 ft 3 3/8 in, base.side_lap 4 in: the laps of two plies "
        "can't stand farther apart than half an exposure. Mend one of them."
    ),
    "starter no wider than the overhang": (
        "base.roll_width 3 ft 3 3/8 in, base.starter_cut 1/3, base.overhang 2 ft 3 in: the first course must be wider "
        "than what hangs past the edge. Mend one of them."
    ),
}


@pytest.mark.parametrize("name", MESSAGES)
def test_it_says_what_is_broken_and_how_to_mend_it(name: str) -> None:
    """The whole message of a fault."""
    with pytest.raises(ContentError) as refused:
        parse_specification(BROKEN[name][0], PATH)

    assert MESSAGES[name] in [entry.message for entry in refused.value.problems]
    assert str(refused.value) == "\n".join(map(str, refused.value.problems))


PAIRS = {
    # values that just agree; one of them moved until they don't; what must be said
    "roll wider than its lap": (
        {"cap.roll_width": "3 5/16 in", "cap.side_lap": "3 1/4 in"}, ("cap.roll_width", "3 1/4 in"),
        "the roll must be wider than its side lap",
    ),
    "two staggers and a lap in a roll": (
        {"base.roll_length": "6 ft 6 in"}, ("base.roll_length", "6 ft 5 15/16 in"),
        "the roll must be as long as an end lap and two staggers, or the laps can't be staggered",
    ),
    "roll longer than its lap": (
        {"base.roll_length": "6 ft 6 in"}, ("base.roll_length", "6 in"), "the roll must be longer than its end lap",
    ),
    "first course wider than its lap": (
        {"base.roll_width": "6 1/16 in", "base.overhang": "2 in", "plies.side_lap_offset": "1 in"},
        ("base.roll_width", "6 in"), "the first course must be wider than its side lap",
    ),
    "first course wider than what hangs over": (
        {"base.overhang": "26 3/16 in"}, ("base.overhang", "26 1/4 in"),
        "the first course must be wider than what hangs past the edge",
    ),
    "selvage line inside the lap": (
        {"cap.selvage_cover": "3 3/16 in"}, ("cap.selvage_cover", "3 1/4 in"),
        "the sheet must not pass the selvage line by its whole side lap",
    ),
    "strip wider than the flange": (
        {"edge.flange": "5 15/16 in"}, ("edge.flange", "6 in"), "the strip must be wider than the flange it covers",
    ),
    "metal longer than its lap": (
        {"edge.metal_lap": "9 ft 11 15/16 in"}, ("edge.metal_lap", "10 ft"),
        "a piece of edge metal must be longer than its lap",
    ),
    "bead to the edge of the flange": (
        {"edge.bead_setback": "2 3/4 in"}, ("edge.bead_setback", "2 13/16 in"), "the bead must lie under the flange",
    ),
    "half an exposure": (
        {"plies.side_lap_offset": "17 11/16 in"}, ("plies.side_lap_offset", "17 3/4 in"),
        "the laps of two plies can't stand farther apart than half an exposure",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("agree", "moved", "must"), PAIRS.values(), ids=PAIRS)
def test_it_refuses_values_that_only_just_disagree(agree: dict[str, str], moved: tuple[str, str], must: str) -> None:
    """At the bound the file is read; a sixteenth further it is refused, at the line of the first of the pair."""
    tables = {key: value(text, VALUES[key][1]) for key, text in agree.items()}
    parse_specification(written(**{key.replace(".", "__"): table for key, table in tables.items()}), PATH)

    key, text = moved
    tables[key] = value(text, VALUES[key][1])
    with pytest.raises(ContentError) as refused:
        parse_specification(written(**{key.replace(".", "__"): table for key, table in tables.items()}), PATH)

    assert any(f": {must}. Mend one of them." in entry.message for entry in refused.value.problems)
    assert {entry.id for entry in refused.value.problems} == {"content.E113"}
    assert all(entry.line > 1 for entry in refused.value.problems)


def test_it_takes_a_makers_value_that_every_part_shares() -> None:
    """A common value counts for the part that needs it; it must be marked all the same."""
    common = written(primer__primer_rate=None)
    shared = '\n[common.primer_rate]\nvalue = "0.75 gal per 100 ft2"\nlimit = "exact"\nsource = "x"\n'

    assert parse_specification(common + shared + "maker = true\n", PATH).give("primer_rate", "primer") == Fraction(3, 4)
    with pytest.raises(ContentError) as refused:
        parse_specification(common + shared, PATH)
    assert [(entry.id, entry.message) for entry in refused.value.problems] == [(
        "content.E112", "primer.primer_rate can only come from the maker. Write maker = true and the maker's source.",
    )]  # fmt: skip


def test_it_finds_a_tolerance_that_swallows_a_common_value() -> None:
    """The fault stands at the common table, and a tolerance just below the value is read."""
    more = '\n[common.gap]\nvalue = "1/4 in"\nlimit = "maximum"\nsource = "x"\ntolerance = '

    assert parse_specification(written() + more + '"3/16 in"\n', PATH).lookup("gap").tolerance == Fraction(3, 16)
    with pytest.raises(ContentError) as refused:
        parse_specification(written() + more + '"1/4 in"\n', PATH)
    fault = refused.value.problems[0]
    assert fault.message == "gap: the reading tolerance 1/4 in is as large as the value 1/4 in. Mend one of them."
    assert (fault.id, fault.line) == ("content.E114", line_of(written() + more, ("[common.gap]", "tolerance")))


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

    by = "; only the maker's printed instructions can give it" if key in FROM_MAKER else ""
    assert refused.value.problems == (
        Problem(PATH, 1, "content.E111", f"{key} is missing{by}. Add [{key}] with value, limit and source."),
    )


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


def test_it_gives_an_end_as_a_value_of_its_own(specification: Specification) -> None:
    """Least, most and reading tolerance: exact values whose key says which end they are."""
    for name, amount in (("base.side_lap.tolerance", Fraction(1, 16)), ("edge.strip_width.least", 6),
                         ("edge.strip_width.most", 8)):  # fmt: skip
        end = specification.lookup(name)
        assert (end.key, end.limit) == (name, "exact")
        assert (end.value, end.least, end.most) == (amount, amount, amount)
    with pytest.raises(UnknownValueError) as refused:
        specification.lookup("base.nail_spacing.least")
    assert str(refused.value) == "base.nail_spacing is a maximum; it has no 'least'"


def test_it_looks_in_the_part_that_is_named(specification: Specification) -> None:
    """The same name in two parts gives two values; a value keeps whether it is the maker's."""
    assert specification.lookup("side_lap", "cap").value == Fraction(13, 4)
    assert specification.lookup("side_lap", "base").value == 4
    assert specification.lookup("side_lap", "base").maker is False
    assert specification.lookup("primer_rate", "primer").maker is True
    assert specification.lookup("gauge").key == "gauge"
    with pytest.raises(UnknownValueError) as refused:
        specification.lookup("no_such_name")
    assert str(refused.value) == (
        "test-roof/2030 has no single value for 'no_such_name'; mend the name, or add the value"
    )


@pytest.mark.parametrize(
    ("path", "refused"),
    [
        ("2030.toml", False), ("test-roof/2030.toml", False), ("other/2030.toml", True), ("test-roof/2031.toml", True),
        ("lessons\\specifications\\test-roof\\2030.toml", False), ("a\\other\\2030.toml", True),
    ],
)  # fmt: skip
def test_it_compares_the_head_with_the_path(path: str, refused: bool) -> None:
    """Folder and file name are name and revision, on any system; a file by itself says nothing."""
    if refused:
        with pytest.raises(ContentError, match="Make them the same"):
            parse_specification(written(), path)
    else:
        assert parse_specification(written(), path).label == "test-roof/2030"


def test_it_takes_metric_units() -> None:
    """A specification in meters reads the same values."""
    found = parse_specification(written().replace('"imperial"', '"metric"'), PATH)

    assert (found.units, found.give("roll_width", "base")) == ("metric", Fraction(315, 8))
    assert (found.title["en"], found.title["es"]) == ("Test roof", "Techo de prueba")


def test_it_finds_the_line_of_what_is_not_toml() -> None:
    """The line that the reader of the file names; the first where it names none."""
    with pytest.raises(ContentError) as refused:
        parse_specification(HEAD + "\n[base]\nwidth = = 3\n", PATH)
    assert [(entry.line, entry.id) for entry in refused.value.problems] == [(7, "content.E101")]


STRAY = {
    "a value among the parts": (
        HEAD + '[base]\nside_lap = "4 in"\n', "content.E102", 6,
        "base.side_lap is not a table. Write [base.side_lap] with value = …",
    ),
    "a range with a value": (
        written(edge__strip_width='least = "6 in"\nmost = "8 in"\nvalue = "7 in"\nlimit = "range"\nsource = "x"'),
        "content.E108", None, "edge.strip_width: value does not go with the limit 'range'. Write least and most.",
    ),
    "a range of nothing": (
        written(edge__strip_width='least = "8 in"\nmost = "8 in"\nlimit = "range"\nsource = "x"'),
        "content.E109", None, "edge.strip_width: least 8 in is not below most 8 in. Swap or mend them.",
    ),
    "a tolerance below zero": (
        written(base__overhang=value("2 in", "exact", 'tolerance = "-1/16 in"')),
        "content.E105", None, "base.overhang: tolerance -1/16 in is impossible for a length. Mend the number.",
    ),
    "a temperature's tolerance below zero": (
        written(weather__least_temperature='value = "50 degF"\nlimit = "minimum"\nsource = "x"\nmaker = true\n'
                                           'tolerance = "-1 degF"'),
        "content.E105", None,
        "weather.least_temperature: tolerance -1 degF is impossible for a temperature. Mend the number.",
    ),
    "past what can be": (
        written(base__overhang=value("5281 ft", "exact")),
        "content.E105", None, "base.overhang: value 5281 ft is impossible for a length. Mend the number.",
    ),
    "a key in quotes": (
        HEAD + '"hue" = "red"\n', "content.E102", 5,
        "hue is not a known key. Values stand in tables such as [base.side_lap].",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("text", "problem", "line", "message"), STRAY.values(), ids=STRAY)
def test_it_says_what_stands_where_it_should_not(text: str, problem: str, line: int | None, message: str) -> None:
    """Id, message, and the line where that is plain."""
    with pytest.raises(ContentError) as refused:
        parse_specification(text, PATH)

    found = [entry for entry in refused.value.problems if entry.message == message]
    assert [entry.id for entry in found] == [problem]
    assert line is None or found[0].line == line


def test_it_keeps_a_temperature_below_zero() -> None:
    """What is impossible for a length is a cold day."""
    cold = 'value = "-5 degF"\nlimit = "minimum"\nsource = "x"\nmaker = true'

    assert parse_specification(written(weather__least_temperature=cold), PATH).give("least_temperature") == -5


def test_it_takes_a_count_without_quotes() -> None:
    """A whole number is a count; for a length it needs its unit."""
    text = written(common__gauge=None) + '\n[edge.rows]\nvalue = 2\nlimit = "exact"\nsource = "x"\n'
    counts = [name for name, entry in words().items() if entry.dimension is COUNT]
    found = parse_specification(text.replace("edge.rows", f"edge.{counts[0]}"), PATH)

    assert found.give(counts[0], "edge") == 2
