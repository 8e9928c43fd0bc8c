"""How far the stile of the hinges laps on to the backer: as far as its glue asks for, found by search.

The body is placed before any height is drawn, so the weight is an estimate here. The link of the plan, by the weights
themselves, has the last word.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from bossage.body.swing import STAY_BLOCK_NM, Swing
from bossage.brief.records import Brief, Side
from bossage.fasteners import BOARD_PLANE_SHEAR_MPA, SIDE_GRAIN_SHEAR_MPA, LoadDuration, load_duration_factor
from bossage.fasteners.bond import bond_allowed
from bossage.fasteners.hinged import (
    HingeForce,
    corner_shear_mpa,
    flap_forces_n,
    level_forces,
    stile_peel_mpa,
    upright_forces,
)
from bossage.layout.records import Leaf
from bossage.layout.rect import Rect
from bossage.layout.rough import LeafSize, rough_mass_g
from bossage.timber import board_keys
from bossage.units import GRAVITY_M_S2, NM_PER_IN, NM_PER_MM

MASS_MORE = 1.1
"""A leaf's weight and lever are estimated a few per cent off, and a lap more costs little: ours."""


def plane_shear_mpa(material: str) -> float:
    """Allowable shear in the plane of a board, or along the grain of wood, by its key."""
    return BOARD_PLANE_SHEAR_MPA if material in board_keys() else SIDE_GRAIN_SHEAR_MPA


def laps_nm(brief: Brief, lap_nm: int) -> Iterator[int]:
    """Laps to try, from today's on, each a mark of the tape more."""
    mark = NM_PER_MM if brief.piece.unit == "mm" else NM_PER_IN // 16
    yield lap_nm
    lap = lap_nm // mark * mark
    while True:
        lap += mark
        yield lap


def lap_wanted_nm(brief: Brief, leaf: Leaf, swing: Swing, lap_nm: int, most_nm: int) -> int:
    """The least lap at which the stile's glue is estimated to hold, no less than a given lap; else the most.

    Args:
        brief: Weight, backer, unit, how far it opens.
        leaf: Its face and backer.
        swing: Where it turns.
        lap_nm: The least lap.
        most_nm: The most that there is room for.
    """
    if lap_nm <= 0:
        return lap_nm
    weight = _weight_n(brief, leaf)
    for lap in laps_nm(brief, lap_nm):
        if lap >= most_nm:
            return max(lap_nm, most_nm)
        if _use(brief, leaf, swing, lap, weight) <= 1:
            return lap
    return lap_nm


def _weight_n(brief: Brief, leaf: Leaf) -> float:
    """By an estimate and some more; not as the scales say, for what they weigh has its stile already."""
    size = LeafSize(columns=leaf.columns, rows=leaf.rows, face=_face(leaf), backer=_backer(leaf))
    return MASS_MORE * rough_mass_g(brief, size) / 1000 * GRAVITY_M_S2


def _face(leaf: Leaf) -> Rect:
    return Rect(leaf.x_nm, leaf.y_nm, leaf.width_nm, leaf.height_nm)


def _backer(leaf: Leaf) -> Rect:
    return Rect(leaf.backer_x_nm, leaf.backer_y_nm, leaf.backer_width_nm, leaf.backer_height_nm)


def _use(brief: Brief, leaf: Leaf, swing: Swing, lap_nm: int, weight: float) -> float:
    """Share of what is allowed that the glue of a lap uses up."""
    backer = _backer(leaf)
    ends, run = swing.across(backer), swing.run(backer)
    low, high = max(swing.from_nm, run[0]), min(swing.to_nm, run[1])
    long_mm, lap_mm = max(1.0, (high - low) / NM_PER_MM), lap_nm / NM_PER_MM
    glue_nm = ends[0 if swing.sign > 0 else 1] + swing.sign * lap_nm // 2
    aside = abs(glue_nm - swing.axis_nm) / NM_PER_MM
    arm = abs(sum(swing.across(_face(leaf))) / 2 - swing.axis_nm) / NM_PER_MM
    levels = brief.blocks.levels_nm
    front_nm = swing.stand_off_nm + brief.backer.thickness_nm + sum(levels) / len(levels) / 2
    before = (front_nm - swing.axis_z_nm) / NM_PER_MM
    places = [(place - (low + high) / 2) / NM_PER_MM for place in swing.middles_nm]
    if swing.upright:
        states: tuple[tuple[HingeForce, ...], ...] = (
            upright_forces(weight, arm_mm=arm, before_mm=before, places_mm=places),
        )
        force, moment = weight, weight * abs(arm - aside)
    else:
        states = _flapped(brief, leaf, swing, weight, arm, before, places)
        force = max(math.hypot(*(sum(getattr(f, n) for f in at) for n in ("along_n", "off_n"))) for at in states)
        moment = 0.0
    peel = max(
        stile_peel_mpa(
            forces,
            lap_mm=lap_mm,
            long_mm=long_mm,
            behind_mm=(swing.stand_off_nm - swing.axis_z_nm) / NM_PER_MM,
            aside_mm=aside,
        )
        for forces in states
    )
    shear = corner_shear_mpa(force, moment, lap_mm=lap_mm, long_mm=long_mm, along_axis=swing.upright)
    allowed = bond_allowed(
        plane_shear_mpa(brief.backer.material),
        end_grain=False,
        duration_factor=load_duration_factor(LoadDuration.PERMANENT),
    )
    return math.hypot(shear / allowed.shear_mpa, peel / allowed.pull_mpa)


def _flapped(
    brief: Brief, leaf: Leaf, swing: Swing, weight: float, arm: float, before: float, places: list[float]
) -> tuple[tuple[HingeForce, ...], ...]:
    """Closed, and open on stays that stand at half the leaf, as the body wishes them."""
    top = swing.side is Side.TOP
    middle, half = abs(sum(swing.across(_backer(leaf))) / 2 - swing.axis_nm) / NM_PER_MM, STAY_BLOCK_NM / 2 / NM_PER_MM
    shut = (1 if top else -1) * weight * before / (leaf.height_nm / NM_PER_MM)
    loads = [(0.0, shut, weight)]
    if brief.access.angle_deg > 0 and middle > half:
        _, level, up = flap_forces_n(
            weight,
            along_mm=arm,
            depth_mm=before,
            angle_deg=brief.access.angle_deg,
            on_leaf_mm=middle + half,
            on_wall_mm=middle - half,
        )
        loads.append((brief.access.angle_deg, (1 if top else -1) * level, up))
    return tuple(
        level_forces(level, up, angle_deg=angle, top=top, shares=(0.5, 0.5), places_mm=places)
        for angle, level, up in loads
    )
