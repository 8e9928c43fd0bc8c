"""Lengths that wood screws are sold in."""

from __future__ import annotations

from bossage.units import NM_PER_IN, NM_PER_MM

TIP_COVER_NM = 3 * NM_PER_MM
"""No tip ends nearer to a face than this: a screw is a turn longer than its label now and then. Ours."""

LEAST_BITE_NM = 10 * NM_PER_MM
"""Less thread in what receives it holds nothing shut while glue sets. Ours."""

SOLD_NM: dict[str, tuple[int, ...]] = {
    "mm": tuple(length * NM_PER_MM for length in (16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 120)),
    "in": tuple(NM_PER_IN * eighths // 8 for eighths in (5, 6, 8, 10, 12, 13, 14, 16, 18, 20, 24, 28, 32, 40)),
}
"""By the unit of the shelf. Common practice, no source."""


MOST_IN_STUD_NM = NM_PER_IN * 5 // 4
"""No screw goes deeper into a stud that nobody has looked into: cables and holes keep 1-1/4 in from its face.

NEC 300.4(A)(1) and (D), read in pages that quote them; for the screw our conclusion.
"""


def shortest_sold_nm(least_nm: int, unit: str) -> int | None:
    """The shortest screw on the shelf that is no shorter than `least_nm`; None if none."""
    return min((length for length in SOLD_NM[unit] if length >= least_nm), default=None)


def longest_sold_nm(most_nm: int, unit: str, *, least_nm: int = 0) -> int | None:
    """The longest screw on the shelf that is no longer than `most_nm` and no shorter than `least_nm`; None if none."""
    return max((length for length in SOLD_NM[unit] if least_nm <= length <= most_nm), default=None)
