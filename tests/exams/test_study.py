"""Which parts of a lesson go with missed questions, and which English trade words with a Spanish sheet."""

import pytest

from trainer.exams.study import parts_for
from trainer.exams.trade_words import Pair, pairs_among

LESSON = """# Title

## Steps

### 1. Chalk lines

Side laps are {{ base.side_lap }}, sheets {{ base.roll_width }}.

::: drawing roof_plan part=base
:::

### 2. End laps

An end lap is {{ base.end_lap }} on a sheet {{ base.roll_width }} wide.

### 3. Strips

{{ edge.strip_width.least }} to {{ edge.strip_width.most }}.

## On one screen

{{ base.side_lap }} {{ base.end_lap }} {{ edge.strip_width.least }}
"""


@pytest.mark.parametrize(
    ("terms", "titles"),
    [
        ({"base.end_lap"}, ["2. End laps"]),
        ({"base.side_lap", "base.roll_width"}, ["1. Chalk lines", "2. End laps"]),
        ({"drawing roof_plan"}, ["1. Chalk lines"]),
        ({"edge.strip_width"}, ["3. Strips"]),
        ({"weather.least_temperature"}, []),
    ],
)
def test_it_finds_the_steps_that_use_what_a_question_uses(terms: set[str], titles: list[str]) -> None:
    """Steps are named by shared values and drawings, never the summary that holds them all."""
    assert [part.title for part in parts_for(LESSON, [terms])] == titles


def test_it_names_each_part_once_in_the_lessons_order() -> None:
    """Two missed questions on one step lead there once."""
    parts = parts_for(LESSON, [{"edge.strip_width"}, {"base.end_lap"}, {"base.end_lap"}])

    assert [part.anchor for part in parts] == ["h-2-end-laps", "h-3-strips"]


GLOSSARY = """
[end-lap]
en = "end lap"
es = "traslape de punta"
[lap]
en = "lap"
es = "traslape"
[primer]
en = "primer"
es = "primer"
"""


@pytest.mark.parametrize(
    ("text", "pairs"),
    [
        ("Mide un traslape de punta.", [Pair("traslape de punta", "end lap")]),
        ("Traslapes de punta y un traslape.", [Pair("traslape", "lap"), Pair("traslape de punta", "end lap")]),
        ("El primer clavo.", []),
        ("Los clavos.", []),
    ],
)
def test_it_finds_trade_words_in_singular_and_plural(text: str, pairs: list[Pair]) -> None:
    """The longer word wins where one stands inside another; a word that is the same in both is not listed."""
    assert pairs_among([text], GLOSSARY) == pairs
