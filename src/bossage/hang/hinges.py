"""A leaf that swings: where its hinges sit, what they take, and the screws of their flaps."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bossage.body import FLAP_SCREW_NM, Role, wood_of
from bossage.brief.records import Butt
from bossage.errors import BossageError
from bossage.fasteners import (
    TIP_COVER_NM,
    Bite,
    combined_allowable_n,
    longest_sold_nm,
    wood_holes,
    wood_screw_lateral,
)
from bossage.hang.case import Case, gravity_of, link, product, screw_or_reason
from bossage.hang.chain import chain_nm, plan_eyes
from bossage.hang.crowded import crowded
from bossage.hang.hinge_records import HingePlan, HingePoint, StayPlan
from bossage.hang.hinge_stile import backer_beside, stile_glue
from bossage.hang.latch import catch_link, falls_open
from bossage.hang.post import inner_nm, most_fixings, plan_post, post_fixings, wall_fixing
from bossage.hang.records import Link
from bossage.hang.statics import carried_shares, hinge_pull_n
from bossage.hang.stays import FIXINGS_EACH, plan_stays, stay_links
from bossage.hang.strengths import STEEL_BEARING_MPA
from bossage.hang.swung import arm_nm, before_mm, flapped
from bossage.hang.threads import Shank, bite_of, held_by, shank_or_reason
from bossage.units import NM_PER_MM

LEAST_FIXINGS = 4


def plan_hinges(case: Case) -> HingePlan:
    """Two butt hinges along the outer edges of post and stile, and the fixings of the post, as many as it needs.

    Of two hinges over one another each is counted on to carry the whole weight, because one of them always binds first.
    Two side by side, of a leaf that turns about a level axis, share by the lever rule, and two stays hold it open.
    """
    asked = case.brief.fixings.count
    if asked is not None:
        return _hinges(case, max(2, asked))
    most = most_fixings(case)
    count = LEAST_FIXINGS
    plan = _hinges(case, count)
    while post_fixings(case, plan.post).reserve < 1 and count + 2 <= most:
        count += 2
        plan = _hinges(case, count)
    return plan


def hinge_links(case: Case, plan: HingePlan) -> Iterator[Link]:
    """Flap screws, stile to backer, and the fixings that hold the post to the wall."""
    yield flap_screws(case, plan)
    stile = case.first(Role.HINGE_STILE)
    if stile is not None:
        glued = [j.area_mm2 for j in case.body.joints if (j.leaf, j.copy, j.a) == (stile.leaf, stile.copy, stile.name)]
        yield stile_glue(case, stile, sum(glued))
        yield backer_beside(case, stile)
    yield post_fixings(case, plan.post)
    if plan.stay is not None:
        block = [fixing.y_nm for fixing in plan.stay.fixings[:FIXINGS_EACH]]
        yield from stay_links(case, plan.stay, crowded(case, wall_fixing(case, rows=FIXINGS_EACH), block))
    if falls_open(case):
        yield catch_link(case)


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


def _hinges(case: Case, fixings: int) -> HingePlan:
    """The hinges, with so many fixings wished for behind them."""
    swing, butt = case.swing, case.brief.butt
    points, stay = (side_hinges(case), None) if swing.upright else _edge_hinges(case)
    wide = abs(inner_nm(case) - swing.edge_nm)
    length = flap_screw_nm(case, wide)
    shank = shank_or_reason(butt.gauge)
    lead = 0.0
    if not isinstance(shank, str):
        wood = gravity_of(case.screwed_wood)
        lead = wood_holes(shank.shank_mm, shank.root_mm, wood, case.brief.piece.unit).pilot_mm
    first, last = sorted(swing.middles_nm)
    return HingePlan(
        side=swing.side.value,
        axis_nm=swing.axis_nm,
        axis_z_nm=swing.axis_z_nm,
        spacing_nm=max(NM_PER_MM, last - first),
        arm_nm=round(_lever_mm(case) * NM_PER_MM),
        hinges=points,
        screws_per_flap=butt.holes,
        gauge=butt.gauge,
        length_nm=length,
        thread_nm=_thread_nm(butt, length, wide),
        tip_to_face_nm=wide - length,
        lead_hole_mm=lead,
        into=wood_of(case.brief),
        post=plan_post(case, fixings, length),
        chain_nm=chain_nm(swing, inner_nm(case), case.brief.piece.unit, case.brief.access.angle_deg)
        if swing.upright
        else 0,
        eye=plan_eyes(case.brief, case.parts, swing),
        stay=stay,
    )


def flap_screw_nm(case: Case, wide_nm: int) -> int:
    """The longest screw of a flap that is sold and ends inside a post or stile so wide."""
    most = min(FLAP_SCREW_NM, wide_nm - TIP_COVER_NM)
    return longest_sold_nm(most, case.brief.piece.unit) or max(0, most // NM_PER_MM * NM_PER_MM)


def _lever_mm(case: Case) -> float:
    """From the pins to the centre of gravity, at right angles to them."""
    return math.hypot(arm_nm(case) / NM_PER_MM, before_mm(case))


def side_hinges(case: Case) -> tuple[HingePoint, ...]:
    """Two hinges over one another: the upper pulled by the couple, the lower pushed, each able to carry the weight."""
    swing = case.swing
    high, low = swing.middles_nm
    pull = hinge_pull_n(case.weight_n, _lever_mm(case), max(1.0, (high - low) / NM_PER_MM))
    return tuple(
        HingePoint(x_nm=swing.axis_nm, y_nm=y, up_n=case.weight_n, pull_n=sign * pull)
        for y, sign in ((high, 1), (low, -1))
    )


def _edge_hinges(case: Case) -> tuple[tuple[HingePoint, ...], StayPlan]:
    """Two hinges side by side on a level axis, and the stays that hold the leaf open; the worse of closed and open."""
    swing, states = case.swing, flapped(case)
    level = max((state.level_n for state in states), key=abs)
    upright = max(abs(state.up_n) for state in states)
    stay = max(state.stay_n for state in states)
    shares = carried_shares([float(place) for place in swing.middles_nm], case.at_nm) or (1.0, 1.0)
    points = tuple(
        # a leaf hung by its foot pushes its hinges when it is open and pulls at none when it is closed
        HingePoint(x_nm=place, y_nm=swing.axis_nm, up_n=upright * share, pull_n=level * share)
        for place, share in zip(swing.middles_nm, shares, strict=True)
    )
    return points, plan_stays(case, stay)


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
        f"two stays hold it open, {say.say(plan.stay.on_leaf_nm)} from the axis on the leaf and "
        f"{say.say(plan.stay.on_wall_nm)} on the wall, the harder-worked with {say.bare_force(plan.stay.force_n)}",
        "the hinges share by the lever rule; the worse of closed and open counts",
    )


def _bite(butt: Butt, length_nm: int, deep_nm: int) -> tuple[Shank, Bite] | str:
    """A flap's screw and its thread in post or stile, or why there is none."""
    shank = shank_or_reason(butt.gauge)
    if isinstance(shank, str):
        return shank
    try:
        return shank, bite_of(shank, length_nm, butt.thickness_nm, deep_nm)
    except BossageError as error:
        return str(error)


def _thread_nm(butt: Butt, length_nm: int, deep_nm: int) -> int:
    found = _bite(butt, length_nm, deep_nm)
    return 0 if isinstance(found, str) else round(found[1].holds_mm * NM_PER_MM)


def _screw_values(case: Case, plan: HingePlan) -> tuple[float, float, str] | str:
    screw = screw_or_reason(plan.gauge)
    if isinstance(screw, str):
        return screw
    butt = case.brief.butt
    found = _bite(butt, plan.length_nm, plan.length_nm + plan.tip_to_face_nm)
    if isinstance(found, str):
        return case.voice.retold(found)
    gravity = gravity_of(plan.into)
    try:
        lateral = wood_screw_lateral(
            screw,
            side_mm=butt.thickness_nm / NM_PER_MM,
            penetration_mm=(plan.length_nm - butt.thickness_nm) / NM_PER_MM,
            main_gravity=gravity,
            side_gravity=gravity,
            side_bearing_mpa=STEEL_BEARING_MPA,
        )
        held = held_by(found[0], plan.into, found[1], case.service_factors)
    except BossageError as error:
        return case.voice.retold(str(error))
    if held.allowable_n <= 0:
        least, thread = case.voice.mm(found[1].least_mm), case.voice.mm(found[1].thread_mm)
        return f"{thread} of thread, at least {least} is asked for; take hinges for thinner screws (access.butt)"
    withdrawal = held.allowable_n
    say = case.voice.bare_force
    return (
        lateral.z_n * product(case.wood_factors),
        withdrawal,
        f"{plan.gauge}: shear {say(lateral.z_n)} ({'; '.join(lateral.basis)}), pull {say(withdrawal)}; both at once by "
        "Eq. 12.4-1",
    )
