"""What the hinges do to their stile, in every state, and where its glue lies."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.body import Part
from bossage.brief.records import Side
from bossage.fasteners.hinged import HingeForce, level_forces, upright_forces
from bossage.hang.case import Case
from bossage.hang.statics import carried_shares
from bossage.hang.swung import arm_nm, before_mm, flapped
from bossage.units import NM_PER_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Glued:
    """The lap of a stile on its backer, and what its hinges do to the stile: mm, and the forces of every state."""

    lap_mm: float
    long_mm: float
    behind_mm: float  # the pins behind the glue
    aside_mm: float  # the pins from the middle of the glue, along the leaf
    low_nm: int  # of the glue along the leaf
    high_nm: int
    states: tuple[tuple[HingeForce, ...], ...]


def glued_of(case: Case, stile: Part) -> Glued:
    """The glue between stile and backer, and what the hinges do there."""
    leaf, box, swing = case.leaf, stile.box, case.swing
    level = max(box.x0, leaf.backer_x_nm), min(box.x1, leaf.backer_x_nm + leaf.backer_width_nm)
    up = max(box.y0, leaf.backer_y_nm), min(box.y1, leaf.backer_y_nm + leaf.backer_height_nm)
    (low, high), (first, last) = (level, up) if swing.upright else (up, level)
    places = [(place - (first + last) / 2) / NM_PER_MM for place in swing.middles_nm]
    return Glued(
        lap_mm=max(1.0, (high - low) / NM_PER_MM),
        long_mm=max(1.0, (last - first) / NM_PER_MM),
        behind_mm=(box.z1 - swing.axis_z_nm) / NM_PER_MM,
        aside_mm=abs((low + high) / 2 - swing.axis_nm) / NM_PER_MM,
        low_nm=low,
        high_nm=high,
        states=_upright(case, places) if swing.upright else _level(case, places),
    )


def _upright(case: Case, places_mm: list[float]) -> tuple[tuple[HingeForce, ...], ...]:
    return (
        upright_forces(case.weight_n, arm_mm=arm_nm(case) / NM_PER_MM, before_mm=before_mm(case), places_mm=places_mm),
    )


def _level(case: Case, places_mm: list[float]) -> tuple[tuple[HingeForce, ...], ...]:
    """Hinges side by side, in every state."""
    shares = carried_shares([float(place) for place in case.swing.middles_nm], case.at_nm) or (1.0, 1.0)
    top = case.swing.side is Side.TOP
    return tuple(
        level_forces(s.level_n, s.up_n, angle_deg=s.angle_deg, top=top, shares=shares, places_mm=places_mm)
        for s in flapped(case)
    )
