"""Cards that are painted before a block is: test cards of tinters that nobody knows yet, a dab of every mixed shade.

A dab that dries too dark or too light is put right and dabbed again. Cards are primed and coated like the blocks, for a
shade is another on bare card.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from bossage.brief.records import Brief
from bossage.paint.cards import card_fields
from bossage.paint.coats import face_primer_coats
from bossage.paint.days import card_days
from bossage.paint.records import FamilyPots

DAB_MIN = 20
"""Minutes to add, stir, dab and clean up, for each dab (a first guess, ours)."""

GUESSED_TRIES, MOST_TRIES = 1.5, 2
"""Dabs that a shade takes where the strength of its tinter is a guess: every second shade is put right once. Days are
counted by that; cards, which cost next to nothing, as though every shade were (first guesses, ours)."""

CARD_SIDE_MM = 60.0  # 2-1/2 in, large enough to hold beside a block


@dataclass(frozen=True, slots=True, kw_only=True)
class Mixing:
    """Days before a block is coloured, a day a card or dab (common practice, no source)."""

    test_card_days: int = 0  # first of all, where a tinter is not known
    dab_days: int = 0


def mixing(brief: Brief, pots: tuple[FamilyPots, ...]) -> Mixing:
    """What mixed shades take: the test card where a tinter is not known, then dabs.

    From one pot each shade waits for its dab, families beside one another; with a pot each all dabs dry together.
    """
    to_mix = [one for one in pots if not one.mixed]
    dabs = max((_tries(one) * (len(one.recipes) if one.one_pot_advised else 1) for one in to_mix), default=0)
    guessed = any(one.guessed for one in to_mix)
    return Mixing(test_card_days=card_days(brief) if guessed else 0, dab_days=ceil(dabs))


def card_count(brief: Brief, pots: tuple[FamilyPots, ...]) -> int:
    """White cards to cut: a field each on the test card sheets, and the dabs of every mixed shade."""
    fields = sum(len(sheet) for sheet in card_fields(brief))
    dabs = sum((MOST_TRIES if one.guessed else 1) * len(one.recipes) for one in pots if not one.mixed)
    return fields + dabs


def card_primer_ml(brief: Brief, pots: tuple[FamilyPots, ...], ready: int) -> float:
    """Primer on those cards and on one of each shade that is bought ready, as many coats as on the blocks' faces."""
    each_mm2 = CARD_SIDE_MM**2 * face_primer_coats(brief)
    return ((card_count(brief, pots) if pots else 0) + ready) * each_mm2 / 1e6 / brief.paint.primer_m2_per_l * 1e3


def _tries(pots: FamilyPots) -> float:
    return GUESSED_TRIES if pots.guessed else 1.0
