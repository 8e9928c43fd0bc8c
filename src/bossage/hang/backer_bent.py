"""How hard the cleat bends the backer, from where every mass of the leaf hangs."""

from __future__ import annotations

import numpy as np

from bossage.hang.bonds import block_weights_n
from bossage.hang.case import Case
from bossage.units import GRAVITY_M_S2, NM_PER_MM


def bent_nmm(case: Case) -> float:
    """Moment of the backer beside the cleat of a leaf that hangs on one: the larger of just below and just above.

    Source:
        Moments about the middle of the backer at the cleat line, our calculation. Above hangs what lies above, so far
        before that middle. Below, the foot's push times its arm, which is the leaf's weight times its distance from
        the bevel, less what lies below. Masses as the bill has them, each cut at the line, scaled to the leaf's.
    """
    middle_mm = (case.layout.stand_off.stand_off_nm + case.brief.backer.thickness_nm / 2) / NM_PER_MM
    weight, turning, below_nmm = 0.0, 0.0, 0.0
    for carried, before_mm, below in _hung(case, middle_mm):
        weight += carried
        turning += carried * before_mm
        below_nmm += carried * below * before_mm
    scale = case.weight_n / weight
    foot = case.weight_n * (turning / weight + middle_mm - case.bevel_middle_nm / NM_PER_MM)
    return max(abs(foot - scale * below_nmm), abs(scale * (turning - below_nmm)))


def _hung(case: Case, middle_mm: float) -> list[tuple[float, float, float]]:
    """Of every block and part of the leaf: weight, N, distance before the backer's middle, share below the line."""
    blocks, line, found = case.layout.blocks, case.cleat.line_nm, []
    mine = np.flatnonzero(blocks.leaf == case.number)
    face_mm = case.brief.backer.thickness_nm / 2 / NM_PER_MM
    for one, weight in zip(mine.tolist(), block_weights_n(case, mine).tolist(), strict=True) if mine.size else ():
        low, high = int(blocks.y_nm[one]), int(blocks.height_nm[one])
        before = face_mm + float(case.relief.length_nm[one]) / 2 / NM_PER_MM
        found.append((weight, before, _below(line, low, low + high)))
    for part in case.parts:
        if part.moves and part.mass_g:
            z_mm = part.centre_nm[2] / NM_PER_MM
            weight = part.mass_g / 1000 * GRAVITY_M_S2
            found.append((weight, z_mm - middle_mm, _below(line, part.box.y0, part.box.y1)))
    return found


def _below(line_nm: int, low_nm: int, high_nm: int) -> float:
    return min(1.0, max(0.0, (line_nm - low_nm) / max(1, high_nm - low_nm)))
