"""A state's source holds for 12 months after it was read."""

from datetime import date

import pytest

from trainer.rules import COMMON_PRACTICE, DEFINITION, REGISTRY, Source
from trainer.rules.expiry import of_a_state, stale
from trainer.rules.sources import osha, ufgs_membrane

CODE = Source("8 CCR 1730", "(b)(1)", "", "California")
TODAY = date(2026, 11, 25)
MENDING = 'Read it again, mend the value if it changed, then write read_on = "2026-11-25".'


def test_it_knows_a_state_from_the_country() -> None:
    """Federal rules and models for all states begin with US; what has no jurisdiction holds everywhere."""
    assert of_a_state(CODE)
    assert of_a_state(CODE._replace(jurisdiction="Washington"))
    for source in (COMMON_PRACTICE, DEFINITION, osha("1926.500(b)"), ufgs_membrane("3.3.6")):
        assert not of_a_state(source)


@pytest.mark.parametrize(
    ("read_on", "said"),
    [
        ("", f"height: the source in California does not say when it was read. {MENDING}"),
        ("2025-11-24", f"height: the source in California was read on 2025-11-24, over 12 months ago. {MENDING}"),
        ("2024-11-25", f"height: the source in California was read on 2024-11-25, over 12 months ago. {MENDING}"),
        ("2025-11-25", None), ("2026-11-25", None), ("2025-12-31", None),
        ("2026-11-26", f"height: the source in California is said to be read on 2026-11-26, a day to come. {MENDING}"),
    ],
)  # fmt: skip
def test_it_expires_after_twelve_months(read_on: str, said: str | None) -> None:
    """On the day itself it still holds; the day after it must have been read again. Nobody reads tomorrow."""
    found = list(stale([("lap", COMMON_PRACTICE), ("height", CODE._replace(read_on=read_on))], TODAY))

    assert found == ([("height", said)] if said else [])


def test_it_can_be_read_on_a_leap_day() -> None:
    """Twelve months after February 29 is the last day before March."""
    leap = CODE._replace(read_on="2024-02-29")

    assert not list(stale([("height", leap)], date(2025, 2, 28)))
    assert list(stale([("height", leap)], date(2025, 3, 1)))


def test_it_says_what_it_cites_without_the_day() -> None:
    """The day is for those who look after the rows, not for the reader."""
    assert str(CODE._replace(read_on="2026-01-02")) == "8 CCR 1730, (b)(1), California"


def test_it_finds_every_rule_read() -> None:
    """No rule stands on a state's text that expired when it was written."""
    assert not list(stale(((name, rule.source) for name, rule in REGISTRY.items()), TODAY))


def test_it_finds_every_stale_source() -> None:
    """One after the other, those that hold left out."""
    sources = [
        ("one", CODE), ("two", COMMON_PRACTICE), ("three", CODE._replace(read_on="2020-01-01")),
        ("four", CODE._replace(read_on="2026-11-01")), ("five", CODE),
    ]  # fmt: skip

    assert [name for name, _ in stale(sources, TODAY)] == ["one", "three", "five"]
