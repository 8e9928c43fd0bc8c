"""What is for two people, and what nobody should lift, whoever agrees. Knows nothing of a relief.

By guideline figures of the Health and Safety Executive (GB), L23, and by what the authors of the lifting equation say
of an index over 3.
"""

from __future__ import annotations

from bossage.handling.lifting import TEAM_SHARE
from bossage.ranges import within

ONE_PERSON_G = 15_000.0
"""Anything awkward over 15 kg (33 lb) is for two: common practice, our assumption."""

INDEX_MOST = 3.0
"""Above this index nearly every worker is at risk: NIOSH 94-110, as attributed there to some experts."""

ARM_LENGTH_G = ((0.0, 5_000.0), (400.0, 10_000.0), (750.0, 15_000.0), (1000.0, 10_000.0), (1400.0, 5_000.0))
"""Guideline figure of one person at arm's length, from each height of the hands in mm up: L23, figure 23, from memory.

The heights are ours: the figure shows the lower leg, the knuckles, the elbows, the shoulders. Where bands meet the
smaller weight counts, as the guidance asks.
"""

OVER_GUIDELINE = 2.0
"""More than about so many times the guideline figure is a serious risk even to the fit: L23, from memory."""


BEST_G = 23_000.0
"""The most that the lifting equation recommends to one person, in the best of places: NIOSH 94-110 (51 lb)."""


def nobodys_g(recommended_g: float, height_mm: float, people: int = 1) -> float:
    """More than this nobody should lift, whoever agrees.

    Args:
        recommended_g: Recommended weight of one person there; 0 where the lifting equation does not hold.
        height_mm: Hands above the floor, 0 to 5000 mm.
        people: 1 or 2.

    Returns:
        Grams. Where the equation holds: an index of `INDEX_MOST`, and `BEST_G` for each. Where it does not, as over a
        bed or kneeling: `OVER_GUIDELINE` times the guideline figure at arm's length. Two people count for two thirds
        of the sum of both.

    Raises:
        OutOfRange: The height lies outside its range.

    Leaves out:
        Whoever is small, young, old, pregnant or hurt: for them even the guideline figure is too much.

    Source:
        NIOSH 94-110; HSE L23 (2004), paragraph 120 (read), figure 23 and its appendix (from memory).
    """
    height = within("Height of the hands", height_mm, 0, 5000, "mm")
    guideline_g = next(g for start, g in reversed(ARM_LENGTH_G) if height >= start)
    one_g = min(BEST_G, INDEX_MOST * recommended_g) if recommended_g > 0 else OVER_GUIDELINE * guideline_g
    return one_g * people * TEAM_SHARE[people]


def wants_two(load_g: float, index_of_one: float) -> bool:
    """Whether a load is for two: too awkward by its mass, or too much for one where one stands."""
    return load_g > ONE_PERSON_G or index_of_one > 1
