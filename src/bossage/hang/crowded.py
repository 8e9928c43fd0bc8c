"""Fixings in board that stand near to one another: they share the board round them, and each holds less."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from bossage.fasteners import AnchorKind
from bossage.hang.case import Case
from bossage.hang.holds import Hold
from bossage.hang.records import Factor
from bossage.units import NM_PER_MM

ALONE_NM = 100 * NM_PER_MM
"""So far apart each hollow-wall fixing holds what its maker says of one by itself. Ours, 4 in: sheets of makers mostly
ask for as much or more (from memory)."""

SOURCE = (
    "ours: by its strip of the row, as EN 1992-4 7.2.1.4 has it of cones that overlap (from memory), each whole from "
    "100 mm (4 in) on"
)


def crowding(places_nm: Sequence[int]) -> float:
    """Share of its figure that the most crowded of a row holds; 1 where all stand far enough apart.

    Half of a fixing's strip lies on each side of it, and ends half-way to the next.
    """
    sides = [1.0, *(min(1.0, (b - a) / ALONE_NM) for a, b in pairwise(sorted(places_nm))), 1.0]
    return min((left + right) / 2 for left, right in pairwise(sides))


def crowded(case: Case, hold: Hold | str, places_nm: Sequence[int]) -> Hold | str:
    """What one of a row of hollow-wall fixings may carry; every other fixing as it is."""
    if isinstance(hold, str) or hold.kind is not AnchorKind.HOLLOW or len(places_nm) < 2:
        return hold
    share = crowding(places_nm)
    if share == 1:
        return hold
    near = case.voice.say(min(b - a for a, b in pairwise(sorted(places_nm))))
    return replace(
        hold,
        pull_n=None if hold.pull_n is None else hold.pull_n * share,
        shear_n=hold.shear_n * share,
        basis=f"{hold.basis}; times {share:.2f}, as the nearest two stand {near} apart and share the board",
        factors=(*hold.factors, Factor(name=f"neighbours {near} apart", value=share, source=SOURCE)),
    )
