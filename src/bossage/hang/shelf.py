"""A leaf that turns about a level axis and stands open: a shelf on its hinges and two stays, whose backer bends."""

from __future__ import annotations

import math

import numpy as np

from bossage.hang.case import Case
from bossage.hang.swung import blocks_of, feet_nm, flapped
from bossage.units import NM_PER_MM

CUTS = 201


def shelf_nmm(case: Case) -> float:
    """Most that the open leaf bends along its axis, between stays and hinges; 0 where nothing holds it open.

    Source:
        Our calculation: the weight square to the leaf, even over its width, on both stays and both hinges. What the
        stays do not carry square to the leaf the hinges do; the two of a pair share alike.
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
    hinges = [place / NM_PER_MM for place in case.swing.middles_nm]
    leaf = case.leaf
    start, wide = leaf.x_nm / NM_PER_MM, leaf.width_nm / NM_PER_MM
    cuts = np.linspace(start, start + wide, CUTS)
    bent = -square / wide * (cuts - start) ** 2 / 2
    for places, held in ((stays, by_stays), (hinges, square - by_stays)):
        for place in places:
            bent += held / 2 * np.maximum(0.0, cuts - place)
    return float(np.abs(bent).max())
