"""The one error of a rule, to the letter: rule, input, value, limit and mending, in both languages."""

from fractions import Fraction
from typing import Any

import pytest

from trainer.rules import REGISTRY, Rule, RuleInputError, UnknownRuleError, Working, get_rule, resolve_inputs, rule
from trainer.rules.dimensions import Distance, Length, Lengths
from trainer.rules.limits import Limit, Refusal, above, at_least, at_most, below
from trainer.rules.registry import COMMON_PRACTICE, DEFINITION, Input

AGAIN = "Measure again, or mend the number."
OTRA = "Mida otra vez o corrija el número."
NUMBER = "Escriba un número con su unidad, por ejemplo 24 pies 6 1/2 pulg."
SAID = {
    "missing": (
        "starter_width", {"roll_width": "1 m"}, ("starter_cut", "missing", "given"),
        "Give it, such as starter_cut='10 %'.", "falta; debe ser un dato. Escríbalo, por ejemplo 10%.",
    ),
    "blank": (
        "starter_width", {"roll_width": " ", "starter_cut": "1/3"}, ("roll_width", "missing", "given"),
        "Give it, such as roll_width='24 ft 6 1/2 in'.",
        "falta; debe ser un dato. Escríbalo, por ejemplo 24 pies 6 1/2 pulg.",
    ),
    "a slip in a name": (
        "starter_width", {"rol_width": "1 m", "starter_cut": "1/3"},
        ("rol_width", "given", "an input of this rule"), "Did you mean roll_width?",
        "dado; debe ser un dato de esta regla. ¿Quiso decir roll_width?",
    ),
    "another name": (
        "starter_width", {"hue": "red"}, ("hue", "given", "an input of this rule"),
        "Its inputs are roll_width, starter_cut.",
        "dado; debe ser un dato de esta regla. Sus datos son roll_width, starter_cut.",
    ),
    "unread": (
        "starter_width", {"roll_width": "wide", "starter_cut": "1/3"}, ("roll_width", "wide", "a length"),
        "“wide” is not a length. Write one, such as 24 ft 6 1/2 in or 89 mm.",
        "wide; debe ser una longitud. “wide” no es una medida. Escriba una, por ejemplo 24 pies 6 1/2 pulg o 89 mm.",
    ),
    "no number": (
        "net_area", {"run": None, "eave": float("inf")}, ("run", "missing", "given"),
        "Give it, such as run='24 ft 6 1/2 in'.", "falta; debe ser un dato. Escríbalo, por ejemplo 24 pies 6 1/2 pulg.",
    ),
    "infinite": (
        "net_area", {"run": 1, "eave": float("inf")}, ("eave", "inf", "a length"),
        "“inf” is not a length. Write a number with its unit, such as 24 ft 6 1/2 in.",
        f"inf; debe ser una longitud. “inf” no es una longitud. {NUMBER}",
    ),
    "below zero": (
        "net_area", {"run": "-1/64 in", "eave": 1}, ("run", "-1/64 in", "at least 0 in"), AGAIN,
        f"-1/64 pulg; debe ser por lo menos 0 pulg. {OTRA}",
    ),
    "past a mile": (
        "net_area", {"run": 63361, "eave": 1}, ("run", "5280 ft 1 in", "at most 5280 ft"), AGAIN,
        f"5280 pies 1 pulg; debe ser como máximo 5280 pies. {OTRA}",
    ),
    "past a mile downward": (
        "lap_drift", {"base_roll_width": 1, "base_side_lap": 63361, "cap_roll_width": 2, "cap_side_lap": 1},
        ("base_side_lap", "5280 ft 1 in", "at most 5280 ft"), AGAIN,
        f"5280 pies 1 pulg; debe ser como máximo 5280 pies. {OTRA}",
    ),
    "not more than a number": (
        "net_area", {"run": 0, "eave": 1}, ("run", "0 in", "more than 0 in"), AGAIN,
        f"0 pulg; debe ser más de 0 pulg. {OTRA}",
    ),
    "not less than a number": (
        "starter_width", {"roll_width": 1, "starter_cut": 1}, ("starter_cut", "100%", "less than 100%"), AGAIN,
        f"100%; debe ser menos de 100%. {OTRA}",
    ),
    "not more than another input": (
        "exposure", {"roll_width": 4, "side_lap": 4}, ("roll_width", "4 in", "more than side_lap (4 in)"), AGAIN,
        f"4 pulg; debe ser más de 4 pulg (traslape lateral). {OTRA}",
    ),
    "not another input and some": (
        "pieces_in_course", {"length": 99, "roll_length": "6 1/2 in", "end_lap": 6},
        ("roll_length", "6 1/2 in", "at least end_lap (6 in) + 1 in"), AGAIN,
        f"6 1/2 pulg; debe ser por lo menos 6 pulg (traslape de punta) + 1 pulg. {OTRA}",
    ),
    "a list too short": (
        "plan_area", {"corners_across": "0; 1 ft", "corners_up": "0; 0; 1 ft"},
        ("corners_across", "2", "at least 3"), AGAIN, f"2; debe ser por lo menos 3. {OTRA}",
    ),
    "an item of a list": (
        "least_stagger", {"upper": "1 ft; -1 in", "lower": "1 ft"}, ("upper", "-1 in", "at least 0 in"), AGAIN,
        f"-1 pulg; debe ser por lo menos 0 pulg. {OTRA}",
    ),
    "a list too long": (
        "least_stagger", {"upper": [Fraction(at, 100) for at in range(10_001)], "lower": [1]},
        ("upper", "10,001", "at most 10,000"), AGAIN, f"10,001; debe ser como máximo 10,000. {OTRA}",
    ),
    "more base laps than can be read": (
        "cap_restart",
        {"run": "1001 ft", "overhang": 0, "starter_width": 9, "base_roll_width": 8, "base_side_lap": 2,
         "cap_roll_width": 9, "cap_side_lap": 2, "side_lap_offset": 1},
        ("base_roll_width", "8 in", "at least base_side_lap (2 in) + 7 in"), AGAIN,
        f"8 pulg; debe ser por lo menos 2 pulg (traslape lateral de la hoja base) + 7 pulg. {OTRA}",
    ),
    "more cap laps than can be read": (
        "lap_offset",
        {"run": "1001 ft", "overhang": 0, "starter_width": 9, "base_roll_width": 9, "base_side_lap": 2,
         "cap_roll_width": 8, "cap_side_lap": 2},
        ("cap_roll_width", "8 in", "at least cap_side_lap (2 in) + 7 in"), AGAIN,
        f"8 pulg; debe ser por lo menos 2 pulg (traslape lateral de la hoja superior) + 7 pulg. {OTRA}",
    ),
    "what only the work shows": (
        "lap_offset",
        {"run": "2 ft", "overhang": 2, "starter_width": 27, "base_roll_width": 39, "base_side_lap": 1,
         "cap_roll_width": 39, "cap_side_lap": 3},
        ("run", "2 ft", "more than starter_width (2 ft 3 in)"), AGAIN,
        f"2 pies; debe ser más de 2 pies 3 pulg (ancho de la hilera de arranque). {OTRA}",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("name", "given", "parts", "mending", "spanish"), SAID.values(), ids=SAID)
def test_it_says_what_is_wrong(
    name: str, given: dict[str, Any], parts: tuple[str, str, str], mending: str, spanish: str
) -> None:
    """Name, value, limit and mending, and the sentence for the reader in Spanish."""
    with pytest.raises(RuleInputError) as refused:
        get_rule(name)(**given)

    error = refused.value
    assert (error.rule, error.name, error.value, error.limit, error.mending) == (name, *parts, mending)
    assert str(error) == f"{name}: {parts[0]} is {parts[1]}; it must be {parts[2]}. {mending}"
    assert error.text("es").partition(": ")[2] == spanish
    assert error.text() == error.text("en")
    assert error.text().endswith(mending)


def test_it_works_at_the_most_laps_that_can_be_read() -> None:
    """Two thousand lines of a ply are worked, one inch of deck more is not."""
    given: dict[str, Any] = {"overhang": 0, "starter_width": 9, "base_roll_width": 8, "base_side_lap": 2,
                             "cap_roll_width": 8, "cap_side_lap": 2}  # fmt: skip

    assert get_rule("lap_offset")(run=12_000, **given).value >= 0
    with pytest.raises(RuleInputError, match="base_roll_width is 8 in"):
        get_rule("lap_offset")(run=12_001, **given)


def test_it_speaks_english_where_no_spanish_was_given() -> None:
    """An error made by hand in one language is said in it."""
    error = RuleInputError("some_rule", "run", "3 in", "more", "Mend it.")

    assert error.text("es") == error.text() == "deck up the slope: 3 in; it must be more. Mend it."
    spoken = RuleInputError("some_rule", "run", "3 in", "more", "Mend it.", spoken="a lot more")
    assert spoken.text() == "deck up the slope: 3 in; it must be a lot more. Mend it."
    with pytest.raises(ValueError, match=r"^no language is called 'fr'; there are en and es$"):
        error.text("fr")


def test_it_makes_limits() -> None:
    """Bounds are another input by name, or a number, plus a length."""
    assert above("run", 3) == Limit("run", ">", Fraction(3), Fraction(0))
    assert below("run", "eave") == Limit("run", "<", "eave", Fraction(0))
    assert at_most("run", 2) == Limit("run", "<=", Fraction(2), Fraction(0))
    assert at_least("run", "eave", 1) == Limit("run", ">=", "eave", Fraction(1))
    assert isinstance(at_least("run", 1, 2).plus, Fraction)
    refusal = Refusal(above("run", 3))
    assert (refusal.limit, str(refusal)) == (above("run", 3), "run")


def test_it_knows_its_declaration() -> None:
    """Name, topic, edition, part, source, inputs with what stands in for them, and its doc."""
    found = get_rule("course_count")

    assert (found.name, found.topic, found.gives, found.edition, found.part) == (
        "course_count", "layout", "courses", 1, "base",
    )  # fmt: skip
    assert [item.name for item in found.inputs] == [
        "run", "overhang", "starter_width", "roll_width", "side_lap", "top_overhang",
    ]  # fmt: skip
    assert [(item.required, item.default) for item in found.inputs] == [(True, None)] * 5 + [(False, 0)]
    assert get_rule("lap_offset").inputs[-1] == Input("cap_starter_width", found.inputs[0].dimension, False, None)
    assert found.doc.startswith("Count the courses that cover the deck up the slope")
    assert repr(found) == "<rule course_count>"
    assert found.scales
    assert not get_rule("gauge_thickness").scales


def test_it_keeps_what_it_was_given_with_the_result() -> None:
    """The working names its rule and inputs, those that stood in included."""
    working = get_rule("course_count")("24 ft 6 in", 2, "26 1/4 in", "39 3/8 in", side_lap=4)

    assert working.rule is get_rule("course_count")
    assert working.inputs == {
        "run": 294, "overhang": 2, "starter_width": Fraction(105, 4), "roll_width": Fraction(315, 8), "side_lap": 4,
        "top_overhang": 0,
    }  # fmt: skip
    with pytest.raises(TypeError, match=r"^net_area takes 2 inputs, 3 were given$"):
        get_rule("net_area")(1, 2, 3)


def _bare(length: Length, others: Lengths = (), far: Distance | None = None) -> Working[Length]:
    """Give the length."""
    return Working(length + (far or 0), ("length", length, "{length}"))


def _made(**more: Any) -> Rule[..., Any]:
    return Rule(_bare, "laps", "length", DEFINITION, 1, None, more.get("limits", ()), True)


def test_it_lets_lists_and_differences_stand_empty() -> None:
    """An empty list is a list; a difference may be below zero; a limit on what was not given holds."""
    made = _made(limits=(above("far", "length"), below("length", "far")))

    assert made.checked({"length": 3, "others": "", "far": None}) == {"length": 3, "others": (), "far": None}
    assert _made()("3 in", far="-1 in").value == 2
    with pytest.raises(RuleInputError, match="far is -5280 ft 1 in; it must be at most 5280 ft"):
        _made()(1, far=-63361)


def test_it_refuses_two_rules_of_one_name() -> None:
    """A name stands for one rule; the registry keeps the first."""
    first = get_rule("net_area")

    def net_area(run: Length) -> Working[Length]:
        return Working(run)

    with pytest.raises(TypeError, match=r"^two rules are called net_area$"):
        rule("take-off", gives="run", source=COMMON_PRACTICE)(net_area)
    assert get_rule("net_area") is first


def test_it_lists_rules() -> None:
    """Every one by name, as often as asked; an unknown one with names near it."""
    assert len(REGISTRY) == len(list(REGISTRY)) == len(set(REGISTRY)) > 100
    assert len(REGISTRY) == len(list(REGISTRY))
    with pytest.raises(UnknownRuleError) as refused:
        get_rule("starter_widht")
    assert str(refused.value).startswith("no rule is called 'starter_widht'. Did you mean starter_width")
    with pytest.raises(UnknownRuleError) as refused:
        get_rule("qqqq")
    assert str(refused.value) == "no rule is called 'qqqq'. List them with `manage.py rules`."


HELD = {
    "base": {"roll_width": 39, "starter_cut": Fraction(1, 3), "side_lap": 3, "overhang": 2},
    "cap": {"roll_width": 36, "starter_cut": Fraction(1, 4), "side_lap": 4, "overhang": 1},
}


class Sheets:
    """A specification of sheets by part."""

    def give(self, name: str, part: str | None = None) -> Any:
        """Find a value."""
        return HELD.get(part or "", {}).get(name)


def test_it_fills_inputs_from_the_part_asked_for() -> None:
    """The rule's own part unless another is named, down to an input that a rule of that name gives."""
    found = get_rule("course_count")

    own = resolve_inputs(found, {"run": 100}, Sheets())
    assert (own["roll_width"], own["side_lap"], own["starter_width"], own["overhang"]) == (39, 3, 26, 2)
    cap = resolve_inputs(found, {"run": 100}, Sheets(), "cap")
    assert (cap["roll_width"], cap["side_lap"], cap["starter_width"], cap["overhang"]) == (36, 4, 27, 1)
    wide = resolve_inputs(found, {"run": 100, "roll_width": "30 in"}, Sheets())
    assert (wide["roll_width"], wide["starter_width"]) == (30, 20)
    with pytest.raises(RuleInputError, match="run is missing"):
        resolve_inputs(found, {}, Sheets())
    with pytest.raises(RuleInputError, match="overhang is missing"):
        resolve_inputs(found, {"run": 100})
