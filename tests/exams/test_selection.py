"""Which questions a sitting holds."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.exams.selection import Candidate, PlanError, check_plan, choose, seed_of

POOL = [Candidate(f"m/{topic}-{n}", topic) for topic in ("layout", "laps", "take-off") for n in range(6)]
TOPICS = {"layout": 4, "laps": 4, "take-off": 2}
SECRETS = st.binary(min_size=32, max_size=32).map(bytes.hex)


@given(secret=SECRETS, critical=st.sets(st.sampled_from([one.question for one in POOL[:12]]), max_size=4))
def test_it_keeps_the_counts_and_every_critical_question(secret: str, critical: set[str]) -> None:
    """Whatever the seed: each topic's count, no question twice, all critical ones there."""
    chosen = choose(topics=TOPICS, critical=critical, among=POOL, secret=secret)

    assert Counter(one.topic for one in chosen) == TOPICS
    assert len({one.question for one in chosen}) == 10
    assert critical <= {one.question for one in chosen}


@given(secret=SECRETS)
def test_it_draws_the_same_sheets_for_the_same_seed(secret: str) -> None:
    """A sitting can be drawn again, whatever order the questions are read in."""
    again = choose(topics=TOPICS, critical=(), among=reversed(POOL), secret=secret)

    assert again == choose(topics=TOPICS, critical=(), among=POOL, secret=secret)


def test_it_gives_people_different_sheets() -> None:
    """Over many seeds every question turns up and nearly every set of sheets differs."""
    drawn = [
        tuple(one.question for one in choose(topics=TOPICS, critical=(), among=POOL, secret=f"{n:064x}"))
        for n in range(200)
    ]

    assert len(set(drawn)) > 195
    assert {question for sheets in drawn for question in sheets} == {one.question for one in POOL}


def test_it_draws_each_question_about_as_often() -> None:
    """No question is favored: 4 of 6 layout questions a sitting is two thirds, within four standard errors."""
    drawn = Counter(
        one.question
        for n in range(3000)
        for one in choose(topics=TOPICS, critical=(), among=POOL, secret=f"{n:064x}")
        if one.topic == "layout"
    )

    for question, times in drawn.items():
        assert abs(times / 3000 - 2 / 3) < 4 * (2 / 9 / 3000) ** 0.5, question


def test_it_parts_the_seeds_of_a_sitting() -> None:
    """Numbers of one question tell nothing of another's: each purpose has its own keyed digest."""
    secret = "ab" * 32

    assert seed_of(secret, "case m/a") != seed_of(secret, "case m/b")
    assert seed_of(secret, "case m/a") != seed_of("ac" * 32, "case m/a")
    assert secret not in seed_of(secret, "case m/a")


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"questions": 9}, "add up to 10 questions and the plan asks for 9"),
        ({"topics": {"layout": 10}}, "asks for 10 questions on layout and 6 are in use"),
        ({"critical": ["m/gone"]}, "m/gone is not in use in an exam"),
        ({"critical": ["m/take-off-0", "m/take-off-1", "m/take-off-2"]}, "3 critical questions are on take-off"),
        ({"topics": {"layout": 5, "laps": 5}, "critical": ["m/take-off-0"]}, "the plan asks for 0 there"),
    ],
)
def test_it_refuses_a_plan_that_cannot_be_drawn(changed: dict[str, object], says: str) -> None:
    """The refusal says which count or question is wrong."""
    plan = {"questions": 10, "topics": TOPICS, "critical": [], **changed}

    with pytest.raises(PlanError, match=says):
        check_plan(**plan, among=POOL)  # type: ignore[arg-type]
