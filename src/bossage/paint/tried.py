"""Clear finishes are tried on the wood itself before a block is coated: how a mix is said, how many pieces, days."""

from __future__ import annotations

from bossage.brief.records import Brief
from bossage.paint.way_records import StainFamily

TRIED_STRENGTHS = 3
"""Of a stain: full, half, a quarter, as the test card sheet has fields for (`cards`)."""


def dilution_words(finish: str, parts: tuple[int, int]) -> str:
    """`1 part stain + 3 parts thinner`: the order stands in words, as 3 : 1 is read in both."""
    own, thinner = parts
    if not thinner:
        return "as it is"
    return f"{own} part{'s' * (own > 1)} {finish} + {thinner} part{'s' * (thinner > 1)} thinner"


def pieces_to_try(families: tuple[StainFamily, ...]) -> int:
    """Slices of the wood that are coated before a block is: one bare a family, and one for each strength or coat."""
    return sum(1 + (TRIED_STRENGTHS if one.finish == "stain" else max(s.coats for s in one.shades)) for one in families)


def days_to_try(brief: Brief, families: tuple[StainFamily, ...]) -> int:
    """Days till the test pieces are seen dry: a day a coat, the topcoat's too. Common practice, no source."""
    if not families:
        return 0
    coats = max(1 if one.finish == "stain" else max(s.coats for s in one.shades) for one in families)
    return coats + (brief.paint.topcoat_coats if brief.paint.topcoat else 0)
