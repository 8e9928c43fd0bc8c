"""How far rows wander when sections are not all of one size, and where to measure anew.

A row of blocks, each up to its `spread` off, is off by the sum of the spreads at worst. Where the errors are
independent and even over plus or minus the spread, each has the deviation spread ÷ √3 and the squares add up; three of
these deviations is what hardly any row exceeds. Dry paint on two sides that touch makes the row longer at every joint;
what a gap has left beyond the paint takes up half of itself each way before it closes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isqrt

import numpy as np

from bossage.brief.records import Brief, LengthUnit
from bossage.checks import Check, Edit, Verdict
from bossage.layout.lines import block_lines
from bossage.layout.records import BlockField, Drift, Leaf
from bossage.layout.words import Voice, mm
from bossage.units import NM_PER_IN, format_thin

DEVIATIONS = 3
OUTLINE_TRUE_NM = mm(2)  # how far an outline may be off before the eye sees it; our assumption
SPACER_STEP_NM = {LengthUnit.MM: mm(0.1), LengthUnit.IN: NM_PER_IN // 64}
"""How finely a gap is spaced. Ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One row of real blocks in the order of laying: where each begins from the first edge, and its spread."""

    starts_nm: tuple[int, ...]
    spreads_nm: tuple[int, ...]


def joint_nm(gap_nm: int, build_nm: int) -> tuple[int, int]:
    """What a joint gives: how far paint on both sides makes it wider than its gap, and what it takes up each way."""
    return max(0, 2 * build_nm - gap_nm), max(0, gap_nm - 2 * build_nm) // 2


def drift_of(
    spreads_nm: Sequence[int], gap_nm: int, allowed_nm: int, *, build_nm: int = 0, step_nm: int = mm(0.1)
) -> Drift:
    """Drift over one row of blocks.

    Args:
        spreads_nm: Measured plus-or-minus of each block's size, one after another.
        gap_nm: The gap between blocks, 0 where they touch.
        allowed_nm: How far the outline may be off anywhere.
        build_nm: Dry paint on a side that touches its neighbour.
        step_nm: How finely the advised gap is rounded.

    Returns:
        Worst case and likely drift, what paint adds and gaps take up, and the most blocks in a row, wherever they
        begin, that stay within what is allowed: a row is set from the datum again after so many. And the smallest gap
        with which no row need be.

    Leaves out:
        Errors of a whole stick: blocks of one stick are off alike, for which the worst case speaks.
    """
    rows = len(spreads_nm)
    worst = sum(spreads_nm)
    likely = _root_up(DEVIATIONS**2 * sum(spread**2 for spread in spreads_nm), 3)
    grows, takes = joint_nm(gap_nm, build_nm)
    joints = max(0, rows - 1)
    return Drift(
        rows=rows,
        worst_nm=worst,
        likely_nm=min(worst, likely),
        paint_nm=joints * grows,
        gap_takes_nm=joints * takes,
        redatum_rows=_interval(spreads_nm, grows - takes, allowed_nm),
        gap_true_nm=_gap_true(worst, joints, build_nm, allowed_nm, step_nm),
    )


def plan_drifts(brief: Brief, field: BlockField, leaf: Leaf) -> tuple[Drift, ...]:
    """Drift of the first leaf across and up, each by its worst row of real blocks, ring and all; none without spread.

    Marks stand where a block begins in every row, so that each row can be set by them, as far apart as they may.
    """
    unit = brief.piece.unit
    build = brief.paint.side_build_nm
    gap = brief.blocks.gap_nm
    found = []
    for way in ("across", "up"):
        lines = _real_lines(brief, field, leaf, way)
        if not any(spread for line in lines for spread in line.spreads_nm):
            continue
        drifts = [
            drift_of(line.spreads_nm, gap, OUTLINE_TRUE_NM, build_nm=build, step_nm=SPACER_STEP_NM[unit])
            for line in lines
        ]
        # the row that is off most; of those the one that must be set anew soonest
        worst = max(drifts, key=lambda drift: (drift.worst_nm + drift.paint_nm, -(drift.redatum_rows or drift.rows)))
        soonest = min((drift.redatum_rows for drift in drifts if drift.redatum_rows), default=0)
        grows, takes = joint_nm(gap, build)
        marks, met = _marks(lines, grows - takes) if soonest else ((), True)
        found.append(
            Drift(
                rows=worst.rows,
                worst_nm=worst.worst_nm,
                likely_nm=worst.likely_nm,
                paint_nm=worst.paint_nm,
                gap_takes_nm=worst.gap_takes_nm,
                redatum_rows=soonest,
                gap_true_nm=max(drift.gap_true_nm for drift in drifts),
                way=way,
                marks_nm=marks,
                marks_do=met,
            )
        )
    return tuple(found)


def check_drift(drifts: tuple[Drift, ...], voice: Voice) -> tuple[Check, ...]:
    """`drift`, where the brief gives a spread of its sections: the direction that wanders most."""
    if not drifts:
        return ()
    worst = max(drifts, key=lambda drift: (bool(drift.redatum_rows), drift.worst_nm + drift.paint_nm))
    every = worst.redatum_rows
    paint = f"; paint on touching sides adds {voice.say(worst.paint_nm)}" if worst.paint_nm else ""
    set_anew = "at the marks" if worst.marks_do and worst.marks_nm else f"after every {every} blocks"
    return (
        voice.check(
            "drift",
            "Rows that wander",
            Verdict.CAUTION if every else Verdict.FINE,
            found=f"{worst.rows} blocks in a row may be off by {voice.say(worst.worst_nm)} at worst, by "
            f"{voice.say(worst.likely_nm)} as a rule{paint}; their gaps take up {voice.say(worst.gap_takes_nm)}",
            allowed=f"an outline within {voice.say(OUTLINE_TRUE_NM)}",
            why="small errors of section and coats of paint add up to a stair over the rows, and the last row runs "
            "past the backer",
            care=f"set from the datum again {set_anew}, and sort the sticks by size",
            remedy=f"leave gaps of {voice.say(worst.gap_true_nm)} between blocks; they take it up",
            source="arithmetic of measured sections; the 2 mm and the thickness of paint are our assumptions",
        ),
    )


def check_build(brief: Brief, field: BlockField, leaf: Leaf, voice: Voice) -> tuple[Check, ...]:
    """`paint_build`, where paint on sides that touch makes the longest row longer than an outline may be off.

    No mark can be kept then: two blocks of half its distance do not fit it. What heals is wood taken off the sticks.
    """
    grows, _ = joint_nm(brief.blocks.gap_nm, brief.paint.side_build_nm)
    joints = max(len(line.starts_nm) - 1 for way in ("across", "up") for line in _real_lines(brief, field, leaf, way))
    filmless = bool(brief.families) and all(family.clear for family in brief.families)  # oil, wax and stain
    if joints * grows <= OUTLINE_TRUE_NM or filmless:
        return ()
    off = format_thin(2 * brief.paint.build_nm, brief.piece.unit)
    return (
        voice.check(
            "paint_build",
            "Paint between blocks that touch",
            Verdict.CAUTION,
            found=f"paint adds {format_thin(grows, brief.piece.unit)} at every joint, "
            f"{format_thin(joints * grows, brief.piece.unit)} over {joints + 1} blocks in a row",
            allowed=f"an outline within {voice.say(OUTLINE_TRUE_NM)}",
            why="painted blocks of the full size do not fit between the marks, and the rows run past the backer",
            remedy=f"square the sticks {off} smaller than their blocks both ways; the paint brings them to size",
            source="arithmetic; the 2 mm and the thickness of paint are our assumptions",
            edits=(Edit(op="set", path=("paint", "dressed"), value=True),),
        ),
    )


def _real_lines(brief: Brief, field: BlockField, leaf: Leaf, way: str) -> list[Line]:
    """The rows of the first leaf, those that are alike once."""
    prints = brief.blocks.footprints
    lines: dict[Line, None] = {}
    for line in block_lines(field, np.flatnonzero(field.leaf == 0), way):
        if way == "across":
            starts = field.x_nm[line.blocks] - leaf.x_nm
        else:
            starts = leaf.y_nm + leaf.height_nm - (field.y_nm[line.blocks] + field.height_nm[line.blocks])
        spreads = tuple(prints[int(f)].spread_nm for f in field.footprint[line.blocks])
        lines[Line(starts_nm=tuple(starts.tolist()), spreads_nm=spreads)] = None
    return list(lines)


def _marks(lines: list[Line], per_joint: int) -> tuple[tuple[int, ...], bool]:
    """Where blocks begin in every row, each as far on as every row stays true; False where some stretch does not."""
    sums = [np.concatenate([[0], np.cumsum(line.spreads_nm)]) for line in lines]
    places = [{start: k for k, start in enumerate(line.starts_nm)} for line in lines]
    common = sorted(set.intersection(*(set(place) for place in places)) - {0})

    def off(start: list[int], end: list[int]) -> int:
        return max(
            int(total[b] - total[a]) + (b - a - 1) * per_joint for total, a, b in zip(sums, start, end, strict=True)
        )

    at, met, marks = [0] * len(lines), True, []
    stops = [[place[this] for place in places] for this in common]
    stops.append([len(total) - 1 for total in sums])
    for k, this in enumerate(common):
        if off(at, stops[k + 1]) > OUTLINE_TRUE_NM:
            marks.append(this)
            met = met and off(at, stops[k]) <= OUTLINE_TRUE_NM
            at = stops[k]
    return tuple(marks), met and off(at, stops[-1]) <= OUTLINE_TRUE_NM


def _interval(spreads: Sequence[int], per_joint: int, allowed: int) -> int:
    """The most blocks one after another that stay within bounds wherever they begin; 0 when all of them do."""
    sums = np.concatenate([[0], np.cumsum(np.asarray(spreads, dtype=np.int64))])
    rows = len(spreads)
    worst = ((k, int((sums[k:] - sums[:-k]).max()) + (k - 1) * per_joint) for k in range(1, rows + 1))
    most = max((k for k, off in worst if off <= allowed), default=0)
    return 0 if most == rows else max(1, most)


def _gap_true(worst: int, joints: int, build: int, allowed: int, step: int) -> int:
    """The smallest gap, in steps, that takes up what is too much: paint first, then half of what is left over."""
    over = worst - allowed
    if joints == 0 or over + joints * 2 * build <= 0:
        return 0  # a single block has no gap to take anything up
    wanted = 2 * build + (2 * _over_up(over, joints) if over > 0 else -(-over // joints))
    return _over_up(wanted, step) * step


def _over_up(value: int, by: int) -> int:
    """Division rounded up."""
    return -(-value // by)


def _root_up(value: int, divisor: int) -> int:
    """The square root of value ÷ divisor, rounded up to a whole number."""
    floor = isqrt(value // divisor)
    return floor if floor * floor * divisor == value else floor + 1
