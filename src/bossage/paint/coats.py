"""Which coats the blocks get, in their order, and how long each one dries."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.brief.records import Brief
from bossage.paint.way_records import StainFamily

OIL_DRY_H = 24.0
"""Between two coats of oil or wax: a day (common practice, no source; the label governs)."""

SLOW = ("oil", "wax")


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatRun:
    """One round of coating: the blocks that get it, then its drying."""

    step: str  # prime, paint or topcoat
    title: str  # `Oil, coat 2 of 3`
    dry_h: float


def coat_runs(brief: Brief, stains: tuple[StainFamily, ...]) -> tuple[CoatRun, ...]:
    """Every round of the job in order: primer where a family is painted, colour or clear finish, topcoat.

    Where families are painted and others oiled, their coats share a round, which dries as long as the slowest.
    """
    paint = brief.paint
    clear = {one.family for one in stains}
    painted = any(family.name not in clear for family in brief.families)
    rounds = [("prime", "Prime", paint.dry_h)] * (paint.primer_coats if painted else 0)
    for number in range(1, most_coats(brief, stains) + 1):
        still = [one for one in stains if any(shade.coats >= number for shade in one.shades)]
        kinds = ["colour"] if painted and number <= paint.coats else []
        kinds += dict.fromkeys(one.finish for one in still)
        slow = any(one.finish in SLOW for one in still)
        rounds.append(("paint", " and ".join(kinds).capitalize(), max(paint.dry_h, OIL_DRY_H if slow else 0.0)))
    if paint.topcoat:
        slow = any(word in paint.topcoat.casefold().replace("-", " ").split() for word in SLOW)
        rounds += [("topcoat", "Topcoat", max(paint.dry_h, OIL_DRY_H if slow else 0.0))] * paint.topcoat_coats
    return tuple(
        CoatRun(step=step, title=f"{title}, coat {number} of {len(rounds)}", dry_h=dry_h)
        for number, (step, title, dry_h) in enumerate(rounds, 1)
    )


def most_coats(brief: Brief, stains: tuple[StainFamily, ...]) -> int:
    """The most coats of colour, or of a clear finish, that a block gets."""
    clear = {one.family for one in stains}
    painted = any(family.name not in clear for family in brief.families)
    coats = [shade.coats for one in stains for shade in one.shades]
    return max([brief.paint.coats] * painted + coats)
