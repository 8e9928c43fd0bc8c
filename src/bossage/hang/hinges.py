"""A leaf that swings: where its hinges sit, what they take, and the screws of their flaps."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from bossage.brief.records import Side
from bossage.errors import BossageError
from bossage.fasteners import (
    TIP_COVER_NM,
    Bite,
    combined_allowable_n,
    longest_sold_nm,
    wood_screw_lateral,
)
from bossage.fasteners.adhesive import (
    BOARD_PLANE_SHEAR_MPA,
    glue_line_shear,
)
from bossage.hang.bonds import CREEP, GLUE_SOURCE
from bossage.hang.case import DURATION, IN_STUDS, Case, gravity_of, link, product, screw_or_reason
from bossage.hang.holds import Hold, hold_link
from bossage.hang.rated import anchor_kind, rated_hold
from bossage.hang.records import HingePlan, HingePoint, Link, Load, StayPlan
from bossage.hang.statics import carried_shares, flap_forces_n, hinge_pull_n
from bossage.hang.strengths import STEEL_BEARING_MPA
from bossage.hang.stud_screws import stud_hold
from bossage.hang.threads import Shank, bite_of, held_by, shank_or_reason
from bossage.units import NM_PER_MM
from bossage.zones import free_spans, heeded

HINGE_INSET_NM = 50 * NM_PER_MM
"""Middle of a hinge from the end of its stile; common practice, no source."""

STAY_SHARE = 0.5
"""Stays hold a flap by its middle, and the wall as far from the axis: common practice, no source."""

LONGEST_SCREW_NM = 40 * NM_PER_MM
FLAP_MM = 1.5
LEAST_SCREWS, MOST_SCREWS = 3, 12
LEAST_FIXINGS, MOST_FIXINGS = 2, 24


def plan_hinges(case: Case) -> HingePlan:
    """Two hinges near the ends of the hinge stile, with as many screws a flap as their load asks for.

    Of two hinges over one another each is counted on to carry the whole weight, because one of them always binds first.
    On a leaf that turns about a level axis they sit along the backer's edge and share by the lever rule, and two stays
    hold it open.
    """
    plan = _hinges(case)
    while flap_screws(case, plan).margin < 1 and plan.screws_per_flap < MOST_SCREWS:
        plan = replace(plan, screws_per_flap=plan.screws_per_flap + 1)
    asked = case.brief.fixings.count
    if asked is not None:
        return replace(plan, wall_fixings=max(2, asked))
    while _wall_flaps(case, plan).reserve < 1 and plan.wall_fixings < MOST_FIXINGS:
        plan = replace(plan, wall_fixings=plan.wall_fixings + 2)
    return plan


def hinge_links(case: Case, plan: HingePlan) -> Iterator[Link]:
    """Flap screws, stile to backer, and the fixings that hold the other flaps to the wall."""
    yield flap_screws(case, plan)
    stile = next((p for p in case.brief.behind if p.role == "stile"), None)
    if stile is not None:
        yield _stile_glue(case, plan, stile.width_nm * stile.length_nm / NM_PER_MM**2)
    yield _wall_flaps(case, plan)


def flap_screws(case: Case, plan: HingePlan) -> Link:
    """The hardest-worked screw of the upper hinge: its pull, and the whole weight across it."""
    name = "hinge screws"
    pull, up = _worst(plan)
    count = plan.screws_per_flap
    demand = math.hypot(pull, up) / count
    part = f"each of {count} in the {_which(plan)} flap"
    held = _screw_values(case, plan)
    if isinstance(held, str):
        return link(
            case, name, part=part, demand_n=demand, allowable_n=0.0, basis=f"nothing is counted on: {held}", source=""
        )
    lateral, withdrawal, basis = held
    angle = math.degrees(math.atan2(pull, up)) if demand else 0.0
    return link(
        case,
        name,
        part=part,
        demand_n=demand,
        allowable_n=combined_allowable_n(withdrawal, lateral, angle),
        basis=basis,
        factors=case.wood_factors,
        assumptions=(
            *_assumed(case, plan),
            "the pull is taken straight out of the wood",
            "nobody leans on the open leaf",
        ),
        source="NDS 2018 12.2, 12.3, 12.4",
    )


def _hinges(case: Case) -> HingePlan:
    brief, leaf = case.brief, case.leaf
    side = brief.access.hinge
    upright = side in (Side.LEFT, Side.RIGHT)
    stile = next((p for p in brief.behind if p.role == "stile"), None)
    run = stile.length_nm if stile and upright else (leaf.backer_height_nm if upright else leaf.backer_width_nm)
    spacing = max(NM_PER_MM, run - 2 * HINGE_INSET_NM)
    ends = _kept_out(case, spacing, upright=upright)
    spacing = ends[1] - ends[0]
    points, stay = _side_hinges(case, ends) if upright else _edge_hinges(case, ends)
    deep = stile.depth_nm if stile else brief.backer.thickness_nm
    most = min(LONGEST_SCREW_NM, deep - TIP_COVER_NM)
    length = longest_sold_nm(most, brief.piece.unit) or max(0, most // NM_PER_MM * NM_PER_MM)
    return HingePlan(
        side=side.value,
        axis_nm=leaf.x_nm if side is not Side.RIGHT else leaf.x_nm + leaf.width_nm,
        spacing_nm=spacing,
        arm_nm=round(math.hypot(_arm_nm(case), case.mass.from_wall_mm * NM_PER_MM)),
        hinges=points,
        screws_per_flap=LEAST_SCREWS,
        wall_fixings=LEAST_FIXINGS * 2,
        gauge=brief.fixings.panel_gauge,
        length_nm=length,
        thread_nm=_thread_nm(brief.fixings.panel_gauge, length, deep),
        tip_to_face_nm=deep - length,
        into=stile.species if stile else brief.backer.material,
        stay=stay,
    )


def _kept_out(case: Case, spacing: int, *, upright: bool) -> tuple[int, int]:
    """Places of both hinges along their edge: so far apart, or nearer where a zone takes the fixings behind one.

    They stay where they were if a half of the edge has no such place.
    """
    leaf = case.leaf
    if upright:
        middle, at = leaf.backer_y_nm + leaf.backer_height_nm // 2, _edge_nm(case)
    else:
        middle, at = leaf.backer_x_nm + leaf.backer_width_nm // 2, _edge_nm(case)
    low, high = middle - spacing // 2, middle - spacing // 2 + spacing
    held = heeded(case.zones, case.brief.wall, into_stud=case.brief.into_studs)
    free = free_spans(held, (low - HINGE_INSET_NM, high + HINGE_INSET_NM), at, along=not upright)
    free = [(a + HINGE_INSET_NM, b - HINGE_INSET_NM) for a, b in free if b - a >= 2 * HINGE_INSET_NM]
    first = min((a for a, _ in free if a < middle), default=low)
    last = max((b for _, b in free if b > middle), default=high)
    return first, last


def _edge_nm(case: Case) -> int:
    """Where the axis runs: along the wall of an upright one, over the floor of a level one."""
    leaf = case.leaf
    return {
        Side.LEFT: leaf.x_nm,
        Side.RIGHT: leaf.x_nm + leaf.width_nm,
        Side.TOP: leaf.backer_y_nm + leaf.backer_height_nm,
        Side.BOTTOM: leaf.backer_y_nm,
    }[case.brief.access.hinge]


def _clear_nm(case: Case, x: int, y: int) -> int | None:
    """How far the fixings behind a hinge stand outside every zone that binds them."""
    reach = (-HINGE_INSET_NM, 0, HINGE_INSET_NM)
    into = IN_STUDS[0] if case.brief.into_studs else "wall"
    upright = case.brief.access.hinge in (Side.LEFT, Side.RIGHT)
    found = [case.clear_nm(x, y + by, into) if upright else case.clear_nm(x + by, y, into) for by in reach]
    return min((one for one in found if one is not None), default=None)


def _side_hinges(case: Case, ends: tuple[int, int]) -> tuple[tuple[HingePoint, ...], StayPlan | None]:
    """Two hinges over one another: the upper pulled by the couple, the lower pushed, each able to carry the weight."""
    x, spacing = _edge_nm(case), ends[1] - ends[0]
    pull = hinge_pull_n(case.weight_n, math.hypot(_arm_nm(case), case.mass.from_wall_mm * NM_PER_MM), spacing)
    return tuple(
        HingePoint(x_nm=x, y_nm=y, up_n=case.weight_n, pull_n=sign * pull, clear_nm=_clear_nm(case, x, y))
        for y, sign in ((ends[1], 1), (ends[0], -1))
    ), None


def _edge_hinges(case: Case, places: tuple[int, int]) -> tuple[tuple[HingePoint, ...], StayPlan]:
    """Two hinges side by side on a level axis, and the stays that hold the leaf open; the worse of closed and open."""
    leaf, access = case.leaf, case.brief.access
    top = access.hinge is Side.TOP
    along = _arm_nm(case) / NM_PER_MM
    depth = case.mass.from_wall_mm
    held = leaf.height_nm / NM_PER_MM * STAY_SHARE
    closed = case.weight_n * depth / (leaf.height_nm / NM_PER_MM)  # its far edge against wall or catch
    stay, level, upright = 0.0, closed, case.weight_n
    if access.angle_deg > 0:
        stay, open_level, open_up = flap_forces_n(
            case.weight_n,
            along_mm=along,
            depth_mm=depth,
            angle_deg=access.angle_deg,
            on_leaf_mm=held,
            on_wall_mm=held,
        )
        level, upright = max(closed, open_level), max(case.weight_n, abs(open_up))
    shares = carried_shares([float(place) for place in places], case.at_nm) or (1.0, 1.0)
    y = _edge_nm(case)
    points = tuple(
        # a leaf hung by its foot pushes its hinges when it is open and pulls at none when it is closed
        HingePoint(
            x_nm=place,
            y_nm=y,
            up_n=upright * share,
            pull_n=(level if top else -level) * share,
            clear_nm=_clear_nm(case, place, y),
        )
        for place, share in zip(places, shares, strict=True)
    )
    return points, StayPlan(
        on_leaf_nm=round(held * NM_PER_MM), on_wall_nm=round(held * NM_PER_MM), force_n=stay / 2, pushes=top
    )


def _worst(plan: HingePlan) -> tuple[float, float]:
    """Pull and weight at the hardest-worked hinge; one that is pushed bears on the wood and not on its screws."""
    worst = max(plan.hinges, key=lambda hinge: math.hypot(max(0.0, hinge.pull_n), hinge.up_n))
    return max(0.0, worst.pull_n), worst.up_n


def _which(plan: HingePlan) -> str:
    return "upper" if plan.stay is None else "harder-worked"


def _assumed(case: Case, plan: HingePlan) -> tuple[str, ...]:
    say = case.voice
    if plan.stay is None:
        return (
            f"couple: weight × {say.say(plan.arm_nm)} from the axis ÷ {say.say(plan.spacing_nm)} between the hinges, "
            "at any angle of opening",
            "the upper hinge carries the whole weight",
        )
    return (
        f"two stays hold it open, {say.say(plan.stay.on_leaf_nm)} from the axis on leaf and wall, each with "
        f"{say.bare_force(plan.stay.force_n)}",
        "the hinges share by the lever rule; the worse of closed and open counts",
    )


def _arm_nm(case: Case) -> float:
    """Level distance along the wall from the axis to the centre of gravity; upright for a level axis."""
    mass, leaf = case.mass, case.leaf
    return {
        Side.LEFT: mass.from_left_mm * NM_PER_MM,
        Side.RIGHT: leaf.width_nm - mass.from_left_mm * NM_PER_MM,
        Side.BOTTOM: mass.from_foot_mm * NM_PER_MM,
        Side.TOP: leaf.height_nm - mass.from_foot_mm * NM_PER_MM,
    }[case.brief.access.hinge]


def _bite(gauge: str, length_nm: int, deep_nm: int) -> tuple[Shank, Bite] | str:
    """A flap screw and its thread in stile or backer, or why there is none."""
    shank = shank_or_reason(gauge)
    if isinstance(shank, str):
        return shank
    try:
        return shank, bite_of(shank, length_nm, round(FLAP_MM * NM_PER_MM), deep_nm)
    except BossageError as error:
        return str(error)


def _thread_nm(gauge: str, length_nm: int, deep_nm: int) -> int:
    found = _bite(gauge, length_nm, deep_nm)
    return 0 if isinstance(found, str) else round(found[1].holds_mm * NM_PER_MM)


def _screw_values(case: Case, plan: HingePlan) -> tuple[float, float, str] | str:
    screw = screw_or_reason(plan.gauge)
    if isinstance(screw, str):
        return screw
    found = _bite(plan.gauge, plan.length_nm, plan.length_nm + plan.tip_to_face_nm)
    if isinstance(found, str):
        return case.voice.retold(found)
    gravity = gravity_of(plan.into)
    try:
        lateral = wood_screw_lateral(
            screw,
            side_mm=FLAP_MM,
            penetration_mm=(plan.length_nm / NM_PER_MM) - FLAP_MM,
            main_gravity=gravity,
            side_gravity=gravity,
            side_bearing_mpa=STEEL_BEARING_MPA,
        )
        held = held_by(found[0], plan.into, found[1], case.service_factors)
    except BossageError as error:
        return case.voice.retold(str(error))
    if held.allowable_n <= 0:
        least, thread = case.voice.mm(found[1].least_mm), case.voice.mm(found[1].thread_mm)
        return f"{thread} of thread, at least {least} is asked for; give the leaf stiles ([[behind]], role = stile)"
    withdrawal = held.allowable_n
    say = case.voice.bare_force
    return (
        lateral.z_n * product(case.wood_factors),
        withdrawal,
        f"{plan.gauge}: shear {say(lateral.z_n)} ({'; '.join(lateral.basis)}), pull {say(withdrawal)}; both at once by "
        "Eq. 12.4-1",
    )


def _stile_glue(case: Case, plan: HingePlan, area_mm2: float) -> Link:
    pull, up = _worst(plan)
    glue = glue_line_shear(
        area_mm2, BOARD_PLANE_SHEAR_MPA, end_grain=False, permanent=True, duration_factor=DURATION.value
    )
    return link(
        case,
        "hinge stile's glue",
        part="the stile on the hinge side",
        demand_n=math.hypot(up, pull),
        allowable_n=glue.allowable_n,
        basis=f"{case.voice.area(area_mm2)} of glue, {case.voice.stress(BOARD_PLANE_SHEAR_MPA)}: {glue.basis}",
        factors=(DURATION, CREEP),
        assumptions=("screws from the backer into the stile keep the glue from peeling; they are not counted on",),
        source=GLUE_SOURCE,
    )


def _wall_flaps(case: Case, plan: HingePlan) -> Link:
    """The fixings behind the upper flap, or of the post that it is screwed to, in the wall."""
    pull, up = _worst(plan)
    count = plan.wall_fixings // 2
    return hold_link(
        case,
        "fixings behind the hinges",
        f"each of {count} at the {_which(plan)} hinge",
        _wall_fixing(case),
        Load(pull_n=pull / count, shear_n=up / count),
        assumptions=(
            "the flaps sit on a post that is as thick as the stand-off asks for; half of the fixings are at each hinge",
            f"those at the {_which(plan)} hinge carry {case.voice.bare_force(up)} and a pull of "
            f"{case.voice.bare_force(pull)}",
        ),
    )


def _wall_fixing(case: Case) -> Hold | str:
    """One fixing behind a flap, all factors included."""
    if case.brief.into_studs:
        return stud_hold(case, case.wall_factors)
    fixings, here = case.brief.fixings, (case.over_head,) if case.over_head else ()
    return rated_hold(case, fixings.ratings, anchor_kind(fixings.kind), here)
