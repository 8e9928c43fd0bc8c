"""Screws over one another along the grain: a row holds less than its screws by themselves."""

from __future__ import annotations

from itertools import pairwise

from bossage.ranges import within

ROW_EXPONENTS = ((4.0, 0.5), (7.0, 0.7), (10.0, 0.85), (14.0, 1.0))
"""Spacing along the grain in diameters, and k_ef of a row that is loaded along it: EN 1995-1-1 Table 8.1 (from memory).
Four diameters ask for holes drilled before."""

LEAST_APART_DIAMETERS = ROW_EXPONENTS[0][0]

PULL_EXPONENT = 0.9
"""A group of screws that are drawn out counts as n to the power of this: EN 1995-1-1 8.7.2(8) (from memory)."""


def row_shear_share(count: int, apart_mm: float, diameter_mm: float) -> float:
    """Of what one screw carries sideways, what each of a row along the grain does.

    Args:
        count: Screws in the row, 1 or more.
        apart_mm: From middle to middle, at least four diameters; not asked where there is one.
        diameter_mm: Thread diameter, 1 to 12 mm.

    Returns:
        n^k_ef / n; straight lines between the spacings of the table.

    Raises:
        OutOfRange: The screws stand nearer to one another than four diameters.

    Leaves out:
        Staggering across the grain by a diameter or more, which lets each count whole.

    Source:
        EN 1995-1-1 8.3.1.1(8), Eq. 8.17 and Table 8.1 (from memory).
    """
    if count == 1:
        return 1.0
    hint = "Use fewer screws over one another, thinner ones, or a higher strip."
    least_mm = LEAST_APART_DIAMETERS * within("Screw diameter", diameter_mm, 1, 12, "mm")
    apart = within("Room between screws", apart_mm, least_mm, 1e4, "mm", hint) / diameter_mm
    exponent = ROW_EXPONENTS[-1][1]
    for (low, k_low), (high, k_high) in pairwise(ROW_EXPONENTS):
        if apart <= high:
            exponent = k_low + (k_high - k_low) * (apart - low) / (high - low)
            break
    return float(count ** (exponent - 1))


def group_pull_share(count: int) -> float:
    """Of what one screw holds against being drawn out, what each of so many side by side does; 1 or more."""
    return float(count ** (PULL_EXPONENT - 1))
