"""Inspection: what a second look can miss, and how large it must be.

On a roof every seam is probed the same day and every open one repaired; a sample is only an evaluator's second look.
"""

import math
from bisect import bisect_left
from fractions import Fraction

from trainer.rules.dimensions import Count, Share
from trainer.rules.registry import Source, Working, above, at_least, at_most, below, rule

_HYPERGEOMETRIC = Source("hypergeometric distribution", "drawn without replacement", "", "")
_SUCCESS_RUN = Source("binomial distribution", "success-run relation", "", "")
_MIL_STD_105E = Source("MIL-STD-105E", "tables I and II-A", "1989", "US")
_LOTS = (8, 15, 25, 50, 90, 150, 280, 500, 1200)
_SIZES = (2, 3, 5, 8, 13, 20, 32, 50, 80)


@rule("inspection", gives="chance_missed", source=_HYPERGEOMETRIC,
      limits=(at_least("lot", 1), at_most("lot", 5000), at_least("lot", "bad"), at_least("lot", "looked")))  # fmt: skip
def chance_missed(lot: Count, bad: Count, looked: Count) -> Working[Share]:
    """Find the chance that a second look at some seams, chosen by lot, finds none of the bad ones.

    Exact: the ways to choose only sound seams over all ways to choose.
    """
    sound = math.comb(lot - bad, looked)
    ways = math.comb(lot, looked)
    return Working(
        Fraction(sound, ways),
        ("sound_seams", lot - bad, "{lot} − {bad}"),
        ("chance_missed", Fraction(sound, ways), "choose({sound_seams}; {looked}) ÷ choose({lot}; {looked})"),
    )


@rule("inspection", gives="looks", source=_SUCCESS_RUN,
      limits=(above("confidence", 0), at_most("confidence", Fraction(9999, 10000)),
              at_least("share_bad", Fraction(1, 1000)), below("share_bad", 1)))  # fmt: skip
def clean_looks_needed(confidence: Share, share_bad: Share) -> Working[Count]:
    """Count the looks, all sound, that show with some confidence that no more than a share of all seams is bad."""
    exact = math.log(1 - confidence) / math.log(1 - share_bad)
    looks = max(round(exact) - 1, 1)
    while (1 - share_bad) ** looks > 1 - confidence:
        looks += 1
    return Working(
        looks,
        ("looks", looks, "ln(1 − {confidence}) ÷ ln(1 − {share_bad}) ↑"),
        before_rounding=Fraction(exact),
    )


@rule("inspection", gives="looks", source=_MIL_STD_105E, limits=(at_least("lot", 2), at_most("lot", _LOTS[-1])))
def second_look_size(lot: Count) -> Working[Count]:
    """Find the sample for a second look at a lot of seams: general level II, and not one open seam allowed.

    Where the sample is as large as the lot, look at all.
    """
    looks = min(_SIZES[bisect_left(_LOTS, lot)], lot)
    return Working(looks, ("looks", looks, "table({lot})"))
