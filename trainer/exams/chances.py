"""What a passing score lets through: how often somebody who knows so much passes by the luck of the draw."""

from fractions import Fraction
from math import comb


def chance_to_pass(*, knows: Fraction, questions: int, passing_score: int) -> Fraction:
    """Give the share of sittings passed by somebody who gets the share `knows` of all such questions right.

    The binomial tail: every question as hard as the next, each answered by itself. Critical questions are left out.
    """
    return sum(
        (comb(questions, right) * knows**right * (1 - knows) ** (questions - right))
        for right in range(passing_score, questions + 1)
    ) or Fraction(0)


def chances(*, questions: int, passing_score: int) -> list[dict[str, int]]:
    """Give a line for each of 60, 70, 80 and 90 right in 100: `knows` and `passes`, both in 100, rounded to whole."""
    return [
        {
            "knows": knows,
            "passes": round(
                100 * chance_to_pass(knows=Fraction(knows, 100), questions=questions, passing_score=passing_score)
            ),
        }
        for knows in (60, 70, 80, 90)
    ]
