"""How far rows wander when sections are not all of one size, and how often to measure anew.

A row of n blocks, each up to `spread` off, is off by n × spread at worst. Where the errors are independent and even
over plus or minus the spread, each has the deviation spread ÷ √3 and their sum √n times that; three of these is what
hardly any row exceeds. A gap takes up half of itself each way before it closes.
"""

from __future__ import annotations

from dataclasses import replace
from math import isqrt

from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.layout.records import Drift, Leaf
from bossage.layout.words import Voice, mm

DEVIATIONS = 3
TENTH_NM = mm(0.1)
OUTLINE_TRUE_NM = mm(2)  # how far an outline may be off before the eye sees it; our assumption


def drift_of(rows: int, spread_nm: int, gap_nm: int, allowed_nm: int) -> Drift:
    """Drift over so many rows of blocks.

    Args:
        rows: Blocks one after another.
        spread_nm: Measured plus-or-minus of one block's size.
        gap_nm: The gap between blocks, 0 where they touch.
        allowed_nm: How far the outline may be off anywhere.

    Returns:
        Worst case and likely drift, what the gaps take up, and the interval after which a row is set from the datum
        again: the most rows whose worst drift, less what their gaps take up, stays within what is allowed; and the
        smallest gap with which no row need be.

    Leaves out:
        Errors of a whole stick: blocks of one stick are off alike, for which the worst case speaks.
    """
    worst = rows * spread_nm
    likely = _root_up(DEVIATIONS**2 * rows * spread_nm**2, 3)
    takes = max(0, rows - 1) * (gap_nm // 2)
    return Drift(
        rows=rows,
        worst_nm=worst,
        likely_nm=min(worst, likely),
        gap_takes_nm=takes,
        redatum_rows=_interval(rows, spread_nm, gap_nm // 2, allowed_nm),
        gap_true_nm=_gap_true(rows, spread_nm, allowed_nm),
    )


def plan_drifts(brief: Brief, leaf: Leaf) -> tuple[Drift, ...]:
    """Drift across and up a leaf, each by the footprint that wanders most there; none where nothing has a spread.

    Counts as many blocks in a row as one footprint with a spread would make.
    """
    gap = brief.blocks.gap_nm
    found = []
    for way, side in (("across", leaf.width_nm), ("up", leaf.height_nm)):
        drifts = []
        for print_ in brief.blocks.footprints:
            size = print_.width_nm if way == "across" else print_.height_nm
            if print_.spread_nm:
                rows = max(1, (side + gap) // (size + gap))
                drift = drift_of(rows, print_.spread_nm, gap, OUTLINE_TRUE_NM)
                drifts.append(replace(drift, way=way, footprint=print_.name, size_nm=size))
        if drifts:
            found.append(max(drifts, key=lambda drift: drift.worst_nm))
    return tuple(found)


def check_drift(drifts: tuple[Drift, ...], voice: Voice) -> tuple[Check, ...]:
    """`drift`, where the brief gives a spread of its sections: the direction that wanders most."""
    if not drifts:
        return ()
    worst = max(drifts, key=lambda drift: drift.worst_nm)
    every = worst.redatum_rows
    return (
        voice.check(
            "drift",
            "Rows that wander",
            Verdict.CAUTION if every else Verdict.FINE,
            found=f"{worst.rows} blocks in a row may be off by {voice.say(worst.worst_nm)} at worst, by "
            f"{voice.say(worst.likely_nm)} as a rule; their gaps take up {voice.say(worst.gap_takes_nm)}",
            allowed=f"an outline within {voice.say(OUTLINE_TRUE_NM)}",
            why="small errors of section add up to a stair over the rows, and the last row runs past the backer",
            remedy=f"set from the datum again after every {every} blocks, sort the sticks by size, or leave gaps of "
            f"{voice.say(worst.gap_true_nm)}, which take it up",
            source="arithmetic of measured sections; the 2 mm are our assumption",
        ),
    )


def _interval(rows: int, spread: int, half_gap: int, allowed: int) -> int:
    """The most rows k with k × spread − (k − 1) × half a gap within bounds; 0 when all rows are."""
    if rows * spread - max(0, rows - 1) * half_gap <= allowed:
        return 0
    # The drift grows with every row here, or the first row alone would not have been within bounds.
    if spread <= half_gap:
        return 1
    return max(1, (allowed - half_gap) // (spread - half_gap))


def _gap_true(rows: int, spread: int, allowed: int) -> int:
    """The smallest gap, in tenths of a millimetre, half of which in each joint takes up what is too much."""
    over = rows * spread - allowed
    if over <= 0:
        return 0
    if rows < 2:
        return 0  # a single block has no gap to take anything up
    return -(-2 * over // ((rows - 1) * TENTH_NM)) * TENTH_NM


def _root_up(value: int, divisor: int) -> int:
    """The square root of value ÷ divisor, rounded up to a whole number."""
    floor = isqrt(value // divisor)
    return floor if floor * floor * divisor == value else floor + 1
