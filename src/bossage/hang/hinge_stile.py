"""The glue between hinge stile and backer, sheared; and the backer, bent beside the stile."""

from __future__ import annotations

import math

from bossage.body import Part
from bossage.fasteners.bond import bond_allowed
from bossage.fasteners.hinged import corner_shear_mpa, elastic_twist_nmm_per_mm, line_twist_nmm_per_mm
from bossage.hang.bonds import CREEP, GLUE_SOURCE, no_hold
from bossage.hang.case import DURATION, Case, link, product
from bossage.hang.hinge_forces import glued_of
from bossage.hang.records import Link
from bossage.hang.strengths import SOURCE, bending_mpa, plane_shear_mpa
from bossage.hang.swung import flapped
from bossage.timber import modulus_mpa
from bossage.units import NM_PER_MM

STILE_GLUE, BESIDE_STILE = "hinge stile's glue", "backer beside the hinge stile"
WITH_BLOCKS = 5.0
"""How much stiffer a backer is with blocks glued on that are cut at every joint: ours, on the high side."""

SHEAR_SHARE = 1 / 16
"""Shear modulus of wood over its modulus along the grain (Wood Handbook ch. 5, from memory)."""


def stile_glue(case: Case, stile: Part, area_mm2: float) -> Link:
    """The glue at its corner, sheared by the weight and its couple; screws take what would peel it."""
    part = "the stile that the hinges are screwed to"
    if area_mm2 <= 0:
        return no_hold(case, STILE_GLUE, part, case.weight_n, "no glue lies between the stile and the backer")
    glued, upright = glued_of(case, stile), case.swing.upright
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
        allowable_n=force / float(held.use(shear, 0.0)),
        basis=f"{say.area(area_mm2)} of glue, {say.mm(lap)} wide: sheared {say.stress(shear)} of "
        f"{say.stress(held.shear_mpa)} at its corner",
        factors=(DURATION, CREEP),
        assumptions=(
            "sheared by the weight and its couple in the plane of the glue",
            "the screws of the hinge stile alone take what would peel the glue",
        ),
        source=GLUE_SOURCE,
    )


def backer_beside(case: Case, stile: Part) -> Link:
    """How hard the hinges bend the backer beside their stile, at most.

    Source:
        Our calculation: the twist of the stile about the middle of the backer, by length, on the backer's section.
    """
    glued, thick_mm = glued_of(case, stile), case.brief.backer.thickness_nm / NM_PER_MM
    behind_mm = glued.behind_mm + thick_mm / 2
    turned = max(
        max(
            line_twist_nmm_per_mm(forces, long_mm=glued.long_mm, behind_mm=behind_mm, aside_mm=glued.aside_mm),
            elastic_twist_nmm_per_mm(
                [(one.at_mm, one.along_n * behind_mm - one.off_n * glued.aside_mm) for one in forces],
                long_mm=glued.long_mm,
                over_mm=case.brief.butt.height_nm / NM_PER_MM,
                bar_nmm2=_bar_nmm2(stile, upright=case.swing.upright),
                spring_n=_spring_n(case.brief.backer.material, thick_mm, glued.long_mm),
            ),
        )
        for forces in glued.states
    )
    damp = case.board_factors(case.brief.backer.material)
    held, stress = bending_mpa(case.brief.backer.material) * product(damp) * DURATION.value, turned / (thick_mm**2 / 6)
    say = case.voice
    return link(
        case,
        BESIDE_STILE,
        part="at the hinges, or at the ends of the stile",
        demand_n=case.weight_n,
        allowable_n=case.weight_n * held / stress if stress else math.inf,
        basis=f"bending {say.stress(stress)} of {say.stress(held)} allowable, at most",
        factors=(DURATION, *damp),
        assumptions=(
            f"the pins lie {say.mm(behind_mm)} behind its middle, so that the hinges twist the stile, and the stile "
            "bends the backer",
            "the worse of a stile that twists as a straight line, and of one that twists as wood does on a backer "
            f"{WITH_BLOCKS:g} times as stiff as a bare one",
            "where blocks meet, the backer alone bends",
        ),
        source=SOURCE,
    )


def _bar_nmm2(stile: Part, *, upright: bool) -> float:
    """Stiffness of the stile against twist: a rectangle, J = a b³ (1/3 − 0.21 b/a) (textbook); G a share of E."""
    box = stile.box
    wide = (box.x1 - box.x0 if upright else box.y1 - box.y0) / NM_PER_MM
    thin, thick = sorted((wide, (box.z1 - box.z0) / NM_PER_MM))
    return SHEAR_SHARE * modulus_mpa(stile.material, along=True) * thick * thin**3 * (1 / 3 - 0.21 * thin / thick)


def _spring_n(material: str, thick_mm: float, long_mm: float) -> float:
    """What a half plate, held straight along its edge, gives against a wave of turning as long as two stiles."""
    plate = modulus_mpa(material, along=True) * thick_mm**3 / 12
    return WITH_BLOCKS * 2 * plate * math.pi / long_mm
