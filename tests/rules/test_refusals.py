"""Every bad input told at once, in sentences that a crew can read."""

from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.rules.samples import INPUTS, REFUSAL, sample
from trainer.rules import REGISTRY, Rule, RuleInputError
from trainer.rules.dimensions import COUNT, FLAG, LENGTHS, Dimension

SAMPLES = {rule.name: sample(rule) for rule in REGISTRY.values()}
EVERY = [pytest.param(rule, id=rule.name) for rule in REGISTRY.values()]


def test_it_tells_of_every_bad_input_at_once() -> None:
    """Text that is no length, an input left out and a value beyond its limit each have their own error."""
    refused = REGISTRY["cartridges"].refusals(
        {"edge": "no idea", "beads": 2, "cartridge": "10.1 fl oz", "bead_width": "0 in", "waste": "10 %"}
    )

    assert sorted(refused) == ["bead_depth", "bead_width", "edge"]
    assert all(error.name == name for name, error in refused.items())


def test_it_finds_nothing_wrong_with_good_inputs() -> None:
    """Inputs that can be worked with are not refused."""
    assert REGISTRY["exposure"].refusals({"roll_width": "39 3/8 in", "side_lap": "4 in"}) == {}


@pytest.mark.parametrize("rule", EVERY)
def test_it_refuses_what_a_call_refuses(rule: Rule[..., Any]) -> None:
    """The first refusal of a call is among those told at once, in the same words."""
    for name in (item.name for item in rule.inputs):
        given = {item.name: INPUTS[item.name] for item in rule.inputs} | {name: "-7 parsecs"}
        with pytest.raises(RuleInputError) as raised:
            rule.checked(given)

        assert str(rule.refusals(given)[name]) == str(raised.value)


@pytest.mark.parametrize(
    ("language", "says"),
    [
        ("en", "roll width: 3 in; it must be more than side lap (4 in). Measure again, or mend the number."),
        (
            "es",
            "ancho del rollo: 3 pulg; debe ser más de 4 pulg (traslape lateral). Mida otra vez o corrija el número.",
        ),
    ],
)
def test_it_names_the_other_input_by_its_label(language: str, says: str) -> None:
    """A bound that is another input reads as its label, never as the name that code uses."""
    refused = REGISTRY["exposure"].refusals({"roll_width": "3 in", "side_lap": "4 in"})

    assert refused["roll_width"].text(language) == says


@pytest.mark.parametrize(
    ("rule", "name", "who", "quien"),
    [
        ("stacked_load_within", "deck_load", "the engineer", "al ingeniero"),
        ("uplift_rating_within", "uplift_pressure", "the engineer's drawing", "el plano del ingeniero"),
        ("uplift_rating_within", "uplift_rating", "the listing", "el listado"),
        ("fire_watch_left", "fire_watch", "the hot-work permit", "el permiso"),
        ("temperature_margin", "least_temperature", "the maker's printed instructions", "las instrucciones impresas"),
    ],
)
def test_it_gives_no_verdict_without_what_only_others_can_say(rule: str, name: str, who: str, quien: str) -> None:
    """The refusal says who gives the value, and shows no number that could be taken for one."""
    given = {item.name: INPUTS[item.name] for item in REGISTRY[rule].inputs if item.name != name}

    with pytest.raises(RuleInputError) as refused:
        REGISTRY[rule](**given)

    assert refused.value.name == name
    assert who in refused.value.text("en")
    assert quien in refused.value.text("es")
    assert not any(sign.isdigit() for sign in refused.value.text("en") + refused.value.text("es"))


def test_it_shows_a_value_finer_than_the_tape() -> None:
    """A limit of a 64th reads as one, not as 0 in."""
    refused = REGISTRY["bead_yield"].refusals(
        {"cartridge": "10.1 fl oz", "bead_width": "1/128 in", "bead_depth": "0 in"}
    )

    assert refused["bead_depth"].text("en").startswith("bead depth: 0 in; it must be at least 1/64 in.")


@pytest.mark.parametrize(
    ("given", "name"),
    [
        pytest.param(
            {"roll_length": "3 in", "end_lap": "1 in", "end_lap_stagger": "1 in"}, "roll_length", id="too short"
        ),
        pytest.param({"roll_length": "20 in", "end_lap": "1 in", "end_lap_stagger": "1 in"}, "courses", id="too many"),
    ],
)
@pytest.mark.parametrize("rule", ["cut_list", "rolls_for_roof"])
def test_it_refuses_a_cut_list_that_nobody_could_read(rule: str, given: dict[str, str], name: str) -> None:
    """A slip of the pen must not ask for millions of pieces; the refusal says what to mend."""
    with pytest.raises(RuleInputError) as raised:
        REGISTRY[rule].answer({"length": "5280 ft", "courses": 2000} | given)

    assert raised.value.name == name


@pytest.mark.parametrize(
    ("pieces", "courses", "limit"),
    [
        pytest.param(9_999, 1, None, id="one course to the limit"),
        pytest.param(10_000, 1, "at least end_lap (0 in) + 4 in", id="one course past it"),
        pytest.param(4_999, 2, None, id="two courses to the limit"),
        pytest.param(4_999, 3, "at most 2", id="a course more"),
    ],
)
def test_it_cuts_as_many_pieces_as_can_be_read(pieces: int, courses: int, limit: str | None) -> None:
    """Ten thousand pieces are listed, one a course kept back for the stagger; the refusal says how far to go."""
    given = {"length": 2 * pieces, "courses": courses, "roll_length": 2, "end_lap": 0, "end_lap_stagger": 1}

    if limit is None:
        assert len(REGISTRY["cut_list"](**given).value) == pieces * courses + courses // 2
    else:
        with pytest.raises(RuleInputError) as raised:
            REGISTRY["cut_list"](**given)
        assert raised.value.limit == limit


NO_NUMBERS = [
    float("nan"), float("inf"), float("-inf"), Decimal("NaN"), Decimal("Infinity"), 1 + 2j, b"5", object(), {},
]  # fmt: skip
NO_TEXTS = [
    "nan", "inf", "-inf", "NaN in", "1e999 ft", "1/0 in", "0/0", "5 parsecs", "½½", "--5 in", "9" * 5_000 + " lb",
]  # fmt: skip


def beyond(dimension: Dimension) -> st.SearchStrategy[Any]:
    """Values past the bounds of a dimension, near them and far off."""
    over = st.fractions(min_value=0, max_value=10**12, max_denominator=64).filter(bool)
    whole = dimension.kind is int
    past = over.map(lambda more: dimension.most + (int(more) + 1 if whole else more))
    if dimension.least is None:
        return past | past.map(lambda value: -value)
    least = dimension.least
    return past | over.map(lambda more: least - (int(more) + 1 if whole else more))


@cache
def impossible(dimension: Dimension) -> st.SearchStrategy[Any]:
    """Whatever no rule may take for an input of this dimension."""
    words = st.text("abcdghjkpqwxz#?!", min_size=3, max_size=12)
    no_value = st.sampled_from(NO_NUMBERS) | st.sampled_from(NO_TEXTS) | words
    if dimension is FLAG:
        return no_value | st.integers() | st.fractions()
    if dimension is LENGTHS:
        item = beyond(dimension.item) | st.sampled_from(NO_NUMBERS) | st.sampled_from(NO_TEXTS)
        return no_value | st.lists(item, min_size=1, max_size=3) | st.integers()
    wrong = st.sampled_from(["5 kg", "5 gal"] if dimension.name != "mass" else ["5 ft", "5 gal"])
    if dimension.name in {"volume", "liquid"}:
        wrong = st.sampled_from(["5 kg", "5 ft"])
    parts = st.fractions(-100, 100).filter(lambda value: value.denominator > 1)
    return no_value | beyond(dimension) | wrong | st.booleans() | (parts if dimension is COUNT else st.nothing())


TOPICS = sorted({rule.topic for rule in REGISTRY.values()})


@pytest.mark.parametrize("topic", TOPICS)
@given(data=st.data())
@REFUSAL
def test_it_refuses_the_impossible_whatever_its_form(topic: str, data: st.DataObject) -> None:
    """One error names rule, input, value, limit and mending: for no numbers, other dimensions and any size beyond."""
    rule = data.draw(st.sampled_from([rule for rule in REGISTRY.values() if rule.topic == topic]))
    item = data.draw(st.sampled_from(rule.inputs))
    bad = data.draw(impossible(item.dimension))

    with pytest.raises(RuleInputError) as refused:
        rule.answer({**SAMPLES[rule.name], item.name: bad})

    error = refused.value
    assert (error.rule, error.name) == (rule.name, item.name)
    assert str(error) == f"{rule.name}: {item.name} is {error.value}; it must be {error.limit}. {error.mending}"
    assert all((error.value, error.limit, error.mending, error.text("es")))


@pytest.mark.parametrize("topic", TOPICS)
@given(data=st.data())
@REFUSAL
def test_it_refuses_anything_beyond_a_limit(topic: str, data: st.DataObject) -> None:
    """However far past a bound of its own an input is, the error names it, or another input that it takes past one."""
    rule = data.draw(st.sampled_from([rule for rule in REGISTRY.values() if rule.topic == topic and rule.limits]))
    limit = data.draw(st.sampled_from(rule.limits))
    inputs = SAMPLES[rule.name]
    if isinstance(inputs[limit.name], tuple):
        return
    at: Any = inputs[limit.bound] if isinstance(limit.bound, str) else limit.bound
    bound = at + limit.plus
    whole = next(item.dimension.kind is int for item in rule.inputs if item.name == limit.name)
    more = data.draw(st.integers(1, 10**6) if whole else st.fractions(0, 10**6, max_denominator=64))
    past: Any = more if whole or limit.relation in {"<", ">"} else more + Fraction(1, 64)
    value = bound - past if limit.relation.startswith(">") else bound + past

    with pytest.raises(RuleInputError) as refused:
        rule.answer({**inputs, limit.name: int(value) if whole else value})

    tied = {limit.name} | {other.name for other in rule.limits if other.bound == limit.name}
    assert refused.value.name in tied
