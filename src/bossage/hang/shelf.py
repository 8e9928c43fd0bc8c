"""A leaf that turns about a level axis and stands open: a shelf on its hinges and two stays, whose backer bends."""

from __future__ import annotations

import math

import numpy as np

from bossage.hang.case import Case
from bossage.hang.swung import blocks_of, feet_nm, flapped
from bossage.layout.rect import Rect
from bossage.units import NM_PER_MM

CUTS = 401


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
    on_leaf, on_wall = (nm / NM_PER_MM for nm in feet_nm(case))
    out, along = on_leaf * math.sin(angle), on_leaf * math.cos(angle) - on_wall
    square = case.weight_n * math.sin(angle)
    by_stays = state.stay_n * abs(out * math.cos(angle) - along * math.sin(angle)) / math.hypot(out, along)
    by_hinges = square - by_stays
    leaf = case.leaf
    across = Rect(leaf.x_nm, leaf.y_nm, leaf.width_nm, leaf.height_nm)
    low, high = sorted(abs(nm - case.swing.axis_nm) / NM_PER_MM for nm in case.swing.across(across))
    hinges = [place / NM_PER_MM for place in case.swing.middles_nm]
    start = leaf.x_nm / NM_PER_MM
    beside = [(place, by_stays / 2) for place in stays] + [(place, by_hinges / 2) for place in hinges]
    before = [(0.0, by_hinges), (on_leaf, by_stays)]
    square_mm2 = (case.brief.backer.thickness_nm / NM_PER_MM) ** 2 / 6
    return (
        max(
            _bent_nmm(square, (start, start + leaf.width_nm / NM_PER_MM), beside) / (leaf.backer_height_nm / NM_PER_MM),
            _bent_nmm(square, (low, high), before) / (leaf.backer_width_nm / NM_PER_MM),
        )
        / square_mm2
    )


def _bent_nmm(load_n: float, ends_mm: tuple[float, float], supports: list[tuple[float, float]]) -> float:
    """Largest moment of a beam under an even load between its ends, cut anywhere; supports by place and force."""
    start, stop = ends_mm
    cuts = np.linspace(min(start, *(place for place, _ in supports)), stop, CUTS)
    bent = -load_n / (stop - start) * np.maximum(0.0, cuts - start) ** 2 / 2
    for place, held in supports:
        bent += held * np.maximum(0.0, cuts - place)
    return float(np.abs(bent).max())
