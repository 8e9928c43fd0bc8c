"""What holds the stile of the hinges on the backer: its glue, sheared by the weight and by its couple."""

from __future__ import annotations

import math

from bossage.body import Part
from bossage.fasteners.adhesive import BOARD_PLANE_SHEAR_MPA, glue_line_shear
from bossage.hang.bonds import CREEP, GLUE_SOURCE, no_hold
from bossage.hang.case import DURATION, Case, link
from bossage.hang.hinge_records import HingePlan
from bossage.hang.records import Link
from bossage.hang.swung import arm_nm, flapped
from bossage.units import NM_PER_MM


def _glued_span_nm(case: Case, stile: Part) -> tuple[int, int]:
    """Where the stile lies on the backer, along the leaf."""
    leaf, box = case.leaf, stile.box
    if case.swing.upright:
        return max(box.x0, leaf.backer_x_nm), min(box.x1, leaf.backer_x_nm + leaf.backer_width_nm)
    return max(box.y0, leaf.backer_y_nm), min(box.y1, leaf.backer_y_nm + leaf.backer_height_nm)


def stile_glue(case: Case, plan: HingePlan, stile: Part, area_mm2: float) -> Link:
    """The corner of the glue that the weight shears hardest: straight, and by its couple in the plane of the glue.

    Source:
        Elastic method for eccentrically loaded joints: the couple over the polar moment of the rectangle.
    """
    name, part = "hinge stile's glue", "the stile that the hinges are screwed to"
    if area_mm2 <= 0:
        return no_hold(case, name, part, case.weight_n, "no glue lies between the stile and the backer")
    low, high = _glued_span_nm(case, stile)
    wide = max(1.0, (high - low) / NM_PER_MM)
    long = area_mm2 / wide
    upright = case.swing.upright
    middle = (low + high) / 2 if upright else (plan.hinges[0].x_nm + plan.hinges[1].x_nm) / 2
    moment = case.weight_n * abs(case.at_nm - middle) / NM_PER_MM
    force = case.weight_n if upright else math.hypot(*(max(abs(h) for h in at) for at in _level_forces(case)))
    across, polar = (long, wide) if upright else (wide, long), wide * long * (wide**2 + long**2) / 12
    level, down = (moment * size / 2 / polar for size in across)
    stress = math.hypot(level, down + force / area_mm2)
    glue = glue_line_shear(
        area_mm2, BOARD_PLANE_SHEAR_MPA, end_grain=False, permanent=True, duration_factor=DURATION.value
    )
    allowed = glue.allowable_n / area_mm2
    say = case.voice
    return link(
        case,
        name,
        part=part,
        demand_n=force,
        allowable_n=force * allowed / stress,
        basis=f"{say.area(area_mm2)} of glue: sheared {say.stress(stress)} of {say.stress(allowed)} at its corner, by "
        "the weight and its couple in the plane of the glue",
        factors=(DURATION, CREEP),
        assumptions=(_peel_words(case, stile),),
        source=GLUE_SOURCE,
    )


def _level_forces(case: Case) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """What hinges on a level axis carry, and what they are drawn off the wall with, in every state."""
    states = flapped(case)
    return tuple(state.up_n for state in states), tuple(state.level_n for state in states)


def _peel_words(case: Case, stile: Part) -> str:
    """What the hinges do beyond the shear of the glue, in figures; it is in no margin.

    The pins lie behind the glue: each of two hinges over one another twists the stile by its push along the leaf.
    """
    behind = stile.box.z1 - case.swing.axis_z_nm
    words = f"the pins lie {case.voice.say(behind)} behind the glue, so that the hinges peel it too"
    if case.swing.upright:
        first, last = sorted(case.swing.middles_nm)
        push = case.weight_n * arm_nm(case) / max(1, last - first)
        low, high = _glued_span_nm(case, stile)
        drawn = push * behind / max(1, (high - low) / 2)
        words += f": about {case.voice.bare_force(drawn)} at the screw beside each"
    return f"{words}; that is in no margin"
