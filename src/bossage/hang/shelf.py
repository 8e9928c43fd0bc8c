"""A leaf that turns about a level axis and stands open: a shelf on its hinges and two stays, whose backer bends."""

from __future__ import annotations

import math

import numpy as np

from bossage.brief.records import Side
from bossage.hang.case import DURATION, SHORT, Case
from bossage.hang.post_loads import along_post
from bossage.hang.swung import blocks_of, feet_nm, flapped, stay_run_mm
from bossage.layout.rect import Rect
from bossage.units import NM_PER_MM

CUTS = 401

FALL = 2.0
"""A leaf hung by its foot that is let go falls into its stays. They are asked to brake it, so that it comes down
slowly; a load put on at once, from no height, still pulls twice as hard as one at rest (elastic bar, textbook)."""


def shelf_stress_mpa(case: Case) -> float:
    """Most that the bare backer of the open leaf is bent, along its axis or square to that; 0 where nothing opens it.

    Source:
        Our calculation: the weight square to the leaf, even over the leaf, on both stays and both hinges, as a beam
        each way. What the stays do not carry square to the leaf the hinges do; the two of a pair share alike.
    """
    stays = [(one.from_x_nm + one.to_x_nm) / 2 / NM_PER_MM for one in blocks_of(case, moves=True)]
    state = max(flapped(case), key=lambda one: one.angle_deg)
    if case.swing.upright or state.angle_deg == 0 or len(stays) != 2:
        return 0.0
    angle = math.radians(state.angle_deg)
    out, along = stay_run_mm(case)
    square = case.weight_n * math.sin(angle)
    by_stays = state.stay_n * abs(out * math.cos(angle) - along * math.sin(angle)) / math.hypot(out, along)
    by_hinges = square - by_stays
    leaf = case.leaf
    across = Rect(leaf.x_nm, leaf.y_nm, leaf.width_nm, leaf.height_nm)
    low, high = sorted(abs(nm - case.swing.axis_nm) / NM_PER_MM for nm in case.swing.across(across))
    hinges = [place / NM_PER_MM for place in case.swing.middles_nm]
    start = leaf.x_nm / NM_PER_MM
    beside = [(place, by_stays / 2) for place in stays] + [(place, by_hinges / 2) for place in hinges]
    before = [(0.0, by_hinges), (feet_nm(case)[0] / NM_PER_MM, by_stays)]
    square_mm2 = (case.brief.backer.thickness_nm / NM_PER_MM) ** 2 / 6
    return (
        max(
            _bent_nmm(square, (start, start + leaf.width_nm / NM_PER_MM), beside) / (leaf.backer_height_nm / NM_PER_MM),
            _bent_nmm(square, (low, high), before) / (leaf.backer_width_nm / NM_PER_MM),
        )
        / square_mm2
    )


def stay_stress_mpa(case: Case) -> float:
    """What the couple of one stay bends the backer beside the stay's leaf block, at rest or as the leaf is let go.

    Source:
        Our calculation: the pull along the leaf times its lever behind the backer, half of it to either end of the
        block, on a strip as wide as the block: no spread is counted on.
    """
    blocks = blocks_of(case, moves=True)
    state = max(flapped(case), key=lambda one: one.angle_deg)
    if case.swing.upright or state.angle_deg == 0 or len(blocks) != 2:
        return 0.0
    angle, swing = math.radians(state.angle_deg), case.swing
    out, along = stay_run_mm(case)
    drawn = abs(out * math.sin(angle) + along * math.cos(angle)) / math.hypot(out, along)
    middles = tuple((one.from_x_nm + one.to_x_nm) // 2 for one in blocks)
    force = state.stay_n * max(along_post(middles, case.at_nm))
    if swing.side is Side.BOTTOM:
        force *= max(1.0, FALL * DURATION.value / SHORT.value)
    lever = (swing.stand_off_nm + swing.stile_nm) / 2 / NM_PER_MM
    wide = (blocks[0].to_x_nm - blocks[0].from_x_nm) / NM_PER_MM
    return force * drawn * lever / 2 / (wide * (case.brief.backer.thickness_nm / NM_PER_MM) ** 2 / 6)


def _bent_nmm(load_n: float, ends_mm: tuple[float, float], supports: list[tuple[float, float]]) -> float:
    """Largest moment of a beam under an even load between its ends, cut anywhere; supports by place and force."""
    start, stop = ends_mm
    cuts = np.linspace(min(start, *(place for place, _ in supports)), stop, CUTS)
    bent = -load_n / (stop - start) * np.maximum(0.0, cuts - start) ** 2 / 2
    for place, held in supports:
        bent += held * np.maximum(0.0, cuts - place)
    return float(np.abs(bent).max())
