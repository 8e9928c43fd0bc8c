"""A leaf that swings: where its hinges sit, what they take, and the screws of their flaps."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bossage.body import FLAP_SCREWS_NM, Role, wood_of
from bossage.fasteners import TIP_COVER_NM, longest_sold_nm, wood_holes
from bossage.hang.case import Case, gravity_of
from bossage.hang.chain import chain_nm, plan_eyes
from bossage.hang.crowded import crowded
from bossage.hang.flaps import flap_screws, thread_nm
from bossage.hang.hinge_records import HingePlan, HingePoint, StayPlan
from bossage.hang.hinge_stile import backer_beside, stile_glue
from bossage.hang.latch import catch_link, falls_open
from bossage.hang.post import inner_nm, most_fixings, plan_post, post_fixings, wall_fixing
from bossage.hang.records import Link
from bossage.hang.screw_records import GlueScrews
from bossage.hang.statics import carried_shares, hinge_pull_n
from bossage.hang.stays import APART_NM, FIXINGS_EACH, plan_stays, stay_links
from bossage.hang.stile_screws import screws_of_back, stile_screws
from bossage.hang.swung import arm_nm, before_mm, flapped
from bossage.hang.threads import shank_or_reason
from bossage.units import NM_PER_MM

LEAST_FIXINGS = 4


def plan_hinges(case: Case) -> HingePlan:
    """Two butt hinges along the outer edges of post and stile, and the fixings of the post, as many as it needs.

    The screws of the flaps are no longer than they must be, as the fixings of the post pass behind their tips.

    Of two hinges over one another each is counted on to carry the whole weight, because one of them always binds first.
    Two side by side, of a leaf that turns about a level axis, share by the lever rule, and two stays hold it open.
    """
    asked = case.brief.fixings.count
    count = LEAST_FIXINGS if asked is None else max(2, asked)
    holds = (longest for longest in FLAP_SCREWS_NM if flap_screws(case, _hinges(case, count, longest)).reserve >= 1)
    longest = next(holds, FLAP_SCREWS_NM[-1])
    most = most_fixings(case)
    plan = _hinges(case, count, longest)
    while asked is None and post_fixings(case, plan.post).reserve < 1 and count + 2 <= most:
        count += 2
        plan = _hinges(case, count, longest)
    return plan


def hinge_links(case: Case, plan: HingePlan, driven: tuple[GlueScrews, ...] | None = None) -> Iterator[Link]:
    """Flap screws, stile to backer, the fixings that hold the post to the wall, stays and what keeps a leaf shut.

    `driven` are the screws of the back, where another load is tried on those that were found for the leaf's own.
    """
    yield flap_screws(case, plan)
    stile = case.first(Role.HINGE_STILE)
    if stile is not None:
        glued = [j.area_mm2 for j in case.body.joints if (j.leaf, j.copy, j.a) == (stile.leaf, stile.copy, stile.name)]
        yield stile_glue(case, stile, sum(glued))
        yield stile_screws(case, driven or screws_of_back(case, case.parts, plan.length_nm))
        yield backer_beside(case, stile)
    yield post_fixings(case, plan.post)
    if plan.stay is not None:
        block = [fixing.y_nm for fixing in plan.stay.fixings[:FIXINGS_EACH]]
        yield from stay_links(
            case, plan.stay, crowded(case, wall_fixing(case, FIXINGS_EACH, APART_NM / NM_PER_MM), block)
        )
    if falls_open(case):
        yield catch_link(case)


def _hinges(case: Case, fixings: int, longest_nm: int) -> HingePlan:
    """The hinges, with so many fixings wished for behind them, and screws of their flaps up to a length."""
    swing, butt = case.swing, case.brief.butt
    points, stay = (side_hinges(case), None) if swing.upright else _edge_hinges(case)
    wide = abs(inner_nm(case) - swing.edge_nm)
    length = flap_screw_nm(case, wide, longest_nm)
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
        thread_nm=thread_nm(butt, length, wide),
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


def flap_screw_nm(case: Case, wide_nm: int, longest_nm: int) -> int:
    """The longest screw of a flap, up to a limit, that is sold and ends inside a post or stile so wide."""
    most = min(longest_nm, wide_nm - TIP_COVER_NM)
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
