"""How often somebody passes by the luck of the draw."""

from fractions import Fraction

import pytest
from scipy.stats import binom

from trainer.exams.chances import chance_to_pass, chances


@pytest.mark.parametrize("questions", [8, 10, 30])
@pytest.mark.parametrize("knows", [60, 70, 80, 90])
def test_it_agrees_with_a_reference_library(questions: int, knows: int) -> None:
    """The tail equals scipy's binomial survival function at every passing score."""
    for passing in range(1, questions + 1):
        ours = chance_to_pass(knows=Fraction(knows, 100), questions=questions, passing_score=passing)

        assert float(ours) == pytest.approx(binom.sf(passing - 1, questions, knows / 100), abs=1e-12)


def test_it_prints_whole_hundreds() -> None:
    """8 of 10: the sums of the last three terms of each binomial, worked by hand for 0.7: 0.2335+0.1211+0.0282."""
    assert chances(questions=10, passing_score=8) == [
        {"knows": 60, "passes": 17},
        {"knows": 70, "passes": 38},
        {"knows": 80, "passes": 68},
        {"knows": 90, "passes": 93},
    ]
