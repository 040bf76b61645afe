"""Fastening: how many nails an edge takes at a given spacing."""

from fractions import Fraction

from trainer.rules.arithmetic import up
from trainer.rules.dimensions import Count, Length
from trainer.rules.registry import COMMON_PRACTICE, Working, above, at_least, rule
from trainer.rules.sources import ufgs_metal

_CLOSEST = Fraction(1, 4)
_EDGE = (above("edge", 0), at_least("spacing", _CLOSEST))


@rule("fastening", gives="nails", source=COMMON_PRACTICE, part="base", limits=_EDGE)
def nails_along(edge: Length, spacing: Length) -> Working[Count]:
    """Count nails in one row, both ends nailed, no gap above the spacing: one more nail than gaps."""
    gaps = up(edge, spacing)
    return Working(
        gaps + 1,
        ("gaps", gaps, "{edge} ÷ {spacing} ↑"),
        ("nails", gaps + 1, "{gaps} + 1"),
        before_rounding=(edge + spacing, spacing),
    )


@rule("fastening", gives="nails", source=COMMON_PRACTICE, part="base",
      limits=(above("run", 0), above("eave", 0), at_least("spacing", _CLOSEST)))  # fmt: skip
def nails_around(run: Length, eave: Length, spacing: Length) -> Working[Count]:
    """Count nails round a rectangle, one at each corner shared by its two edges: as many nails as gaps."""
    up_slope, along_eave = up(run, spacing), up(eave, spacing)
    nails = 2 * up_slope + 2 * along_eave
    return Working(
        nails,
        ("gaps_run", up_slope, "{run} ÷ {spacing} ↑"),
        ("gaps_eave", along_eave, "{eave} ÷ {spacing} ↑"),
        ("nails", nails, "2 × {gaps_run} + 2 × {gaps_eave}"),
        before_rounding=(2 * (run + eave), spacing),
    )


@rule("fastening", gives="nails", source=ufgs_metal("3.1.15"), part="edge", limits=_EDGE)
def nails_two_rows(edge: Length, spacing: Length) -> Working[Count]:
    """Count nails in two staggered rows, the spacing counted over both rows together.

    Each row stands at twice the spacing and the second is shifted by one spacing, so a nail stands every `spacing`
    along the flange, both ends nailed. The guide's wording also allows the other reading (`nails_two_rows_each`):
    say which one is meant.
    """
    gaps = up(edge, spacing)
    first, second = gaps // 2 + 1, (gaps + 1) // 2
    return Working(
        first + second,
        ("gaps", gaps, "{edge} ÷ {spacing} ↑"),
        ("nails_row_one", first, "({gaps} ÷ 2 ↓) + 1"),
        ("nails_row_two", second, "{gaps} ÷ 2 ↑"),
        ("nails", first + second, "{nails_row_one} + {nails_row_two}"),
        before_rounding=(edge + spacing, spacing),
    )


@rule("fastening", gives="nails", source=ufgs_metal("3.1.15"), part="edge", limits=_EDGE)
def nails_two_rows_each(edge: Length, spacing: Length) -> Working[Count]:
    """Count nails in two staggered rows, the spacing counted within each row.

    The first row is nailed at both ends; the second stands midway between its nails. The other reading of the same
    words is `nails_two_rows`: say which one is meant.
    """
    gaps = up(edge, spacing)
    return Working(
        2 * gaps + 1,
        ("gaps", gaps, "{edge} ÷ {spacing} ↑"),
        ("nails_row_one", gaps + 1, "{gaps} + 1"),
        ("nails_row_two", gaps, "{gaps}"),
        ("nails", 2 * gaps + 1, "{nails_row_one} + {nails_row_two}"),
        before_rounding=(2 * edge + spacing, spacing),
    )


@rule("fastening", gives="spacing_in_row", source=COMMON_PRACTICE, part="edge", limits=(above("spacing", 0),))
def spacing_in_row(spacing: Length) -> Working[Length]:
    """Find the spacing within each of two staggered rows when `spacing` counts both rows together."""
    return Working(2 * spacing, ("spacing_in_row", 2 * spacing, "2 × {spacing}"))


@rule("fastening", gives="widest_gap", source=COMMON_PRACTICE, part="base",
      limits=(above("edge", 0), at_least("nails", 2)))  # fmt: skip
def even_spacing(edge: Length, nails: Count) -> Working[Length]:
    """Find the spacing when a number of nails is spread evenly along an edge, both ends nailed."""
    spacing = edge / (nails - 1)
    return Working(
        spacing,
        ("gaps", nails - 1, "{nails} − 1"),
        ("widest_gap", spacing, "{edge} ÷ {gaps}"),
    )
