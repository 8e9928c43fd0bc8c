"""What of the wall half is seen through openings of the backer."""

from __future__ import annotations

from collections.abc import Iterable

from bossage.body.records import Part, Role
from bossage.units import NM_PER_MM

ASLANT_NM = 20 * NM_PER_MM
"""So far beside an opening the wall half is seen aslant: ours."""


def seen_wall_half(parts: Iterable[Part]) -> tuple[tuple[int, int, int], ...]:
    """Stretches of wall halves' faces behind openings, left to right: from, to along the wall, height of the face.

    Args:
        parts: Of one leaf.
    """
    held = list(parts)
    openings = [box for part in held if part.role is Role.BACKER for box in part.openings_nm]
    found: list[tuple[int, int, int]] = []
    for half in sorted((part for part in held if part.role is Role.WALL_HALF), key=lambda part: part.from_x_nm):
        high = half.box.y1 - half.box.y0
        behind = sorted(
            (max(x0 - ASLANT_NM, half.from_x_nm), min(x1 + ASLANT_NM, half.to_x_nm))
            for x0, y0, x1, y1 in openings
            if y0 < half.box.y1 and half.box.y0 < y1 and x0 < half.to_x_nm and half.from_x_nm < x1
        )
        first = len(found)
        for start, stop in behind:
            if len(found) > first and start <= found[-1][1]:
                found[-1] = (found[-1][0], max(stop, found[-1][1]), high)
            else:
                found.append((start, stop, high))
    return tuple(found)
