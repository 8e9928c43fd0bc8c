"""What holds the stile of the hinges on the backer: its glue, sheared and peeled; and the backer, bent beside it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bossage.body import Part, plane_shear_mpa
from bossage.brief.records import Side
from bossage.fasteners.bond import bond_allowed
from bossage.fasteners.hinged import (
    HingeForce,
    corner_shear_mpa,
    level_forces,
    line_twist_nmm_per_mm,
    stile_peel_mpa,
    upright_forces,
)
from bossage.hang.bonds import CREEP, GLUE_SOURCE, no_hold
from bossage.hang.case import DURATION, Case, link, product
from bossage.hang.records import Link
from bossage.hang.statics import carried_shares
from bossage.hang.strengths import SOURCE, bending_mpa
from bossage.hang.swung import arm_nm, before_mm, flapped
from bossage.units import NM_PER_MM

STILE_GLUE, BESIDE_STILE = "hinge stile's glue", "backer beside the hinge stile"
TWISTED = "it twists as a straight line along its length, and none of that is taken by its own stiffness against twist"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Glued:
    """The glue between stile and backer, and how its hinges pull at it: mm, and the forces of every state."""

    lap_mm: float
    long_mm: float
    behind_mm: float  # the pins behind the glue
    aside_mm: float  # the pins from the middle of the glue, along the leaf
    low_nm: int  # of the glue along the leaf
    high_nm: int
    states: tuple[tuple[HingeForce, ...], ...]


def stile_glue(case: Case, stile: Part, area_mm2: float) -> Link:
    """The glue at its corner, sheared by the weight and its couple, and peeled at its ends by the hinges behind it."""
    part = "the stile that the hinges are screwed to"
    if area_mm2 <= 0:
        return no_hold(case, STILE_GLUE, part, case.weight_n, "no glue lies between the stile and the backer")
    glued, upright = _glued(case, stile), case.swing.upright
    states = flapped(case)
    force = (
        case.weight_n
        if upright
        else math.hypot(max(abs(state.up_n) for state in states), max(abs(state.level_n) for state in states))
    )
    middle = (glued.low_nm + glued.high_nm) / 2 if upright else sum(case.swing.middles_nm) / 2
    moment = case.weight_n * abs(case.at_nm - middle) / NM_PER_MM
    lap, long = glued.lap_mm, area_mm2 / glued.lap_mm
    shear = corner_shear_mpa(force, moment, lap_mm=lap, long_mm=long, along_axis=upright)
    peel = max(
        stile_peel_mpa(forces, lap_mm=lap, long_mm=long, behind_mm=glued.behind_mm, aside_mm=glued.aside_mm)
        for forces in glued.states
    )
    held = bond_allowed(
        min(plane_shear_mpa(wood) for wood in (case.brief.backer.material, stile.material)),
        end_grain=False,
        duration_factor=DURATION.value,
    )
    say = case.voice
    return link(
        case,
        STILE_GLUE,
        part=part,
        demand_n=force,
        allowable_n=force / float(held.use(shear, peel)),
        basis=f"{say.area(area_mm2)} of glue, {say.mm(lap)} wide: sheared {say.stress(shear)} of "
        f"{say.stress(held.shear_mpa)} at its corner, peeled {say.stress(peel)} of {say.stress(held.pull_mpa)}; both "
        "at once by the sum of squares",
        factors=(DURATION, CREEP),
        assumptions=(
            f"sheared by the weight and its couple in the plane of the glue; peeled because the pins lie "
            f"{say.mm(glued.behind_mm)} behind it",
            f"the stile is stiff across its glue; {TWISTED}",
            "its screws are not counted on",
        ),
        source=GLUE_SOURCE,
    )


def backer_beside(case: Case, stile: Part) -> Link:
    """How hard the hinges bend the backer beside their stile, at most.

    Source:
        Our calculation: the twist of the stile about the middle of the backer, by length, on the backer's section.
    """
    glued, thick_mm = _glued(case, stile), case.brief.backer.thickness_nm / NM_PER_MM
    turned = max(
        line_twist_nmm_per_mm(
            forces, long_mm=glued.long_mm, behind_mm=glued.behind_mm + thick_mm / 2, aside_mm=glued.aside_mm
        )
        for forces in glued.states
    )
    damp = case.board_factors(case.brief.backer.material)
    held, stress = bending_mpa(case.brief.backer.material) * product(damp) * DURATION.value, turned / (thick_mm**2 / 6)
    say = case.voice
    return link(
        case,
        BESIDE_STILE,
        part="at the ends of the stile",
        demand_n=case.weight_n,
        allowable_n=case.weight_n * held / stress if stress else math.inf,
        basis=f"bending {say.stress(stress)} of {say.stress(held)} allowable, at most",
        factors=(DURATION, *damp),
        assumptions=(
            f"the pins lie {say.mm(glued.behind_mm + thick_mm / 2)} behind its middle, so that the hinges twist the "
            "stile, and the stile bends the backer",
            f"an upper bound: {TWISTED}",
            "the backer alone is counted on, without blocks",
        ),
        source=SOURCE,
    )


def _glued(case: Case, stile: Part) -> _Glued:
    leaf, box, swing = case.leaf, stile.box, case.swing
    level = max(box.x0, leaf.backer_x_nm), min(box.x1, leaf.backer_x_nm + leaf.backer_width_nm)
    up = max(box.y0, leaf.backer_y_nm), min(box.y1, leaf.backer_y_nm + leaf.backer_height_nm)
    (low, high), (first, last) = (level, up) if swing.upright else (up, level)
    places = [(place - (first + last) / 2) / NM_PER_MM for place in swing.middles_nm]
    return _Glued(
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
