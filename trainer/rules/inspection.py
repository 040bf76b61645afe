"""Inspection: what a second look can miss, and how large it must be.

On a roof every seam is probed the same day and every open one repaired; a sample is only an evaluator's second look.
"""

import math
from bisect import bisect_left
from fractions import Fraction

from trainer.rules.dimensions import SHARE, Count, Length, Letter, Share
from trainer.rules.registry import (
    DEFINITION,
    RuleInputError,
    Source,
    Working,
    above,
    at_least,
    at_most,
    below,
    rule,
)

_HYPERGEOMETRIC = Source("hypergeometric distribution", "drawn without replacement", "", "")
_SUCCESS_RUN = Source("binomial distribution", "success-run relation", "", "")
_MIL_STD_105E = Source("MIL-STD-105E", "tables I and II-A", "1989", "US")
_LOTS = (8, 15, 25, 50, 90, 150, 280, 500, 1200)
_BINOMIAL = Source("binomial distribution", "a large lot", "", "")
# limit of quality in percent, and the place in the table of the letter whose plan accepts none
_NONE_AT = {Fraction("0.01"): 4, Fraction("0.015"): 3, Fraction("0.025"): 2, Fraction("0.04"): 1, Fraction("0.065"): 0}
_ACCEPTS = (1, 2, 3, 5, 7, 10)
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


_LOT = (at_least("lot", 2), at_most("lot", _LOTS[-1]))


@rule("inspection", gives="code_letter", source=_MIL_STD_105E, limits=_LOT)
def sampling_letter(lot: Count) -> Working[Letter]:
    """Find the code letter of a lot at general level II."""
    letter = bisect_left(_LOTS, lot)
    return Working(letter, ("code_letter", letter, "letter({lot})"))


def _plan(rule_name: str, lot: int, quality_limit: Fraction) -> tuple[int, int, int]:
    """Find letter, sample and acceptance number of the single normal plan; where the table has an arrow, follow it."""
    if quality_limit not in _NONE_AT:
        known = ", ".join(SHARE.text(limit) for limit in _NONE_AT)
        raise RuleInputError(
            rule_name, "quality_limit", SHARE.text(quality_limit), f"one of {known}", "Take one of the table's.",
            spanish=(f"uno de {known}", "Use uno de la tabla."),
        )  # fmt: skip
    letter, none_at = bisect_left(_LOTS, lot), _NONE_AT[quality_limit]
    past = letter - none_at
    if past <= 1:  # the arrow points to the plan that accepts none
        return letter, _SIZES[none_at], 0
    step = max(past - 3, 0)  # the cell before the plan that accepts one points to it
    return letter, _SIZES[none_at + 3 + step], _ACCEPTS[step]


@rule("inspection", gives="looks", source=_MIL_STD_105E, limits=_LOT)
def plan_looks(lot: Count, quality_limit: Share) -> Working[Count]:
    """Find the sample of the single normal plan at general level II for a limit of quality; the lot if it is smaller.

    An evaluator's second look only: on a roof every seam is probed and every open one repaired.
    """
    letter, size, _ = _plan("plan_looks", lot, quality_limit)
    return Working(
        min(size, lot),
        ("code_letter", letter, "letter({lot})"),
        ("looks", min(size, lot), "min(plan({code_letter}; {quality_limit}), {lot})"),
    )


@rule("inspection", gives="accepted", source=_MIL_STD_105E, limits=_LOT)
def plan_accepts(lot: Count, quality_limit: Share) -> Working[Count]:
    """Find how many bad seams in that sample the plan lets pass. Every one of them is repaired all the same."""
    letter, _, accepts = _plan("plan_accepts", lot, quality_limit)
    return Working(
        accepts,
        ("code_letter", letter, "letter({lot})"),
        ("accepted", accepts, "accepts({code_letter}; {quality_limit})"),
    )


@rule("inspection", gives="rejected", source=_MIL_STD_105E, limits=_LOT)
def plan_rejects(lot: Count, quality_limit: Share) -> Working[Count]:
    """Find how many bad seams in that sample reject the lot: one more than the plan lets pass."""
    letter, _, accepts = _plan("plan_rejects", lot, quality_limit)
    return Working(
        accepts + 1,
        ("code_letter", letter, "letter({lot})"),
        ("accepted", accepts, "accepts({code_letter}; {quality_limit})"),
        ("rejected", accepts + 1, "{accepted} + 1"),
    )


@rule("inspection", gives="chance_accepted", source=_HYPERGEOMETRIC,
      limits=(at_least("lot", 1), at_most("lot", 5000), at_least("lot", "bad"), at_least("lot", "looked"),
              at_most("accepted", 100)))  # fmt: skip
def chance_accepted(lot: Count, bad: Count, looked: Count, accepted: Count) -> Working[Share]:
    """Find the chance that a second look accepts a lot with some bad seams: no more of them than `accepted` are found.

    Exact, drawn without replacement.
    """
    ways = sum(
        math.comb(bad, found) * math.comb(lot - bad, looked - found) for found in range(min(accepted, looked) + 1)
    )
    chance = Fraction(ways, math.comb(lot, looked))
    return Working(chance, ("chance_accepted", chance, "hypergeometric({lot}; {bad}; {looked}; {accepted})"))


@rule("inspection", gives="chance_accepted", source=_BINOMIAL,
      limits=(at_most("share_bad", 1), at_least("looked", 1), at_most("looked", 1250),
              at_most("accepted", 100)))  # fmt: skip
def chance_accepted_large(share_bad: Share, looked: Count, accepted: Count) -> Working[Share]:
    """Find the chance that a second look accepts a large lot in which a share of the seams is bad."""
    chance = sum(
        (math.comb(looked, found) * share_bad**found * (1 - share_bad) ** (looked - found)
         for found in range(min(accepted, looked) + 1)),
        Fraction(0),
    )  # fmt: skip
    return Working(chance, ("chance_accepted", chance, "binomial({share_bad}; {looked}; {accepted})"))


@rule("inspection", gives="surely_short", source=DEFINITION)
def lap_surely_short(lap: Length, limit: Length, tape_error: Length) -> Working[Length]:
    """Find by how much a lap is short that no error of the tape explains; 0 where the tape may be to blame: read again.

    A lap that reads short is short until a second reading says otherwise.
    """
    short = max(limit - lap - tape_error, Fraction(0))
    return Working(short, ("surely_short", short, "max({limit} − {lap} − {tape_error}, 0)"))


@rule(
    "inspection",
    gives="open_share",
    source=DEFINITION,
    limits=(at_least("probed", 1), at_least("probed", "open_seams")),
)
def open_seam_share(probed: Count, open_seams: Count) -> Working[Share]:
    """Find the share of the seams probed that were found open. Every one of them is repaired, whatever the share."""
    share = Fraction(open_seams, probed)
    return Working(share, ("open_share", share, "{open_seams} ÷ {probed}"))
