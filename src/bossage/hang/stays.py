"""The stays of a leaf that turns about a level axis: where they hold, what they take, what holds them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bossage.body import Part, Role
from bossage.brief.records import Side
from bossage.errors import BossageError
from bossage.fasteners import TIP_COVER_NM, combined_allowable_n, longest_sold_nm, wood_screw_lateral
from bossage.fasteners.bond import bond_allowed
from bossage.fasteners.group import group_pull_share
from bossage.hang.bonds import CREEP, GLUE_SOURCE, no_hold
from bossage.hang.case import DURATION, SHORT, Case, gravity_of, link, product, screw_or_reason
from bossage.hang.glue_screws import glue_screws
from bossage.hang.hinge_records import StayPlan
from bossage.hang.holds import Hold, hold_link
from bossage.hang.lasting import GROUP_SOURCE, pull_of
from bossage.hang.panel_links import OUR_DEPTH
from bossage.hang.post import INTO, unstudded
from bossage.hang.post_loads import along_post
from bossage.hang.records import Factor, Link, Load
from bossage.hang.shelf import FALL
from bossage.hang.spread import Tape
from bossage.hang.strengths import STEEL_BEARING_MPA, plane_shear_mpa
from bossage.hang.swung import blocks_of, feet_nm, stay_run_mm
from bossage.hang.threads import bite_of, held_by, shank_or_reason
from bossage.hang.wall_records import FixingPoint
from bossage.units import NM_PER_MM

APART_NM = 50 * NM_PER_MM
"""Two fixings over one another in a wall block: ours."""

FIXINGS_EACH = 2
FOOT_SCREWS, FOOT_APART_MM = 2, 30.0
"""Screws of a stay's foot on the leaf, over one another, and how far apart at least: ours."""

FOOT_NM = 2 * NM_PER_MM
"""Thickness of a stay's foot: ours."""

WALL_LINK, SCREWS_LINK, GLUE_LINK = "stays in the wall", "stays' screws in the leaf", "glue of the stays' blocks"
BLOCK_SCREWS = "screws of the stays' blocks"
NO_PLACE = "two stays find no place behind the leaf, so nothing holds it open"


def plan_stays(case: Case, together_n: float) -> StayPlan:
    """Both stays, which share by the lever rule what they hold together, and their fixings in the wall."""
    on_leaf, on_wall = feet_nm(case)
    wall = blocks_of(case, moves=False)
    middles = [(block.from_x_nm + block.to_x_nm) // 2 for block in wall]
    # one that the leaf's balance lies beyond is turned the other way, and the other holds more than the whole
    force = together_n * (max(along_post(tuple(middles), case.at_nm)) if wall else 1.0)
    across, along = stay_run_mm(case)
    pull, shear = _on_a_fixing(case, force, on_leaf, on_wall)
    into = INTO[case.brief.wall.build.value] if case.brief.into_studs else unstudded(case)
    points = []
    for block, x in zip(wall, middles, strict=True):
        middle = (block.box.y0 + block.box.y1) // 2
        for y in (middle - APART_NM // 2, middle + APART_NM // 2):
            points.append(
                FixingPoint(
                    x_nm=x,
                    y_nm=y,
                    from_leaf_left_nm=x - case.leaf.x_nm,
                    into=into,
                    load_share=1 / (len(wall) * FIXINGS_EACH),
                    pull_n=pull,
                    shear_n=shear,
                    clear_nm=case.clear_nm(x, y, into),
                    depth_in_stud_mm=None,
                )
            )
    return StayPlan(
        on_leaf_nm=on_leaf,
        on_wall_nm=on_wall,
        force_n=force,
        pushes=_pushes(case),
        open_nm=Tape(case.brief.piece.unit).nearest(round(math.hypot(across, along) * NM_PER_MM)),
        shut_nm=abs(on_leaf - on_wall),
        screw_nm=_screw_nm(case),
        fixings=tuple(points),
    )


def stay_links(case: Case, plan: StayPlan, hold: Hold | str) -> Iterator[Link]:
    """What holds the stays: their fixings in the wall, their screws in the leaf, the glue of the blocks there."""
    yield _wall_link(case, plan, hold)
    leaf = blocks_of(case, moves=True)
    if leaf:
        yield _screws_link(case, plan, leaf[0])
        yield _glue_link(case, plan, leaf[0])
        yield _block_link(case, plan, leaf[0])


def _wall_link(case: Case, plan: StayPlan, hold: Hold | str) -> Link:
    if not plan.fixings:
        return hold_link(case, WALL_LINK, "both stays", NO_PLACE, Load(pull_n=0.0, shear_n=plan.force_n))
    times = _times(plan)
    load = Load(pull_n=times * plan.fixings[0].pull_n, shear_n=times * plan.fixings[0].shear_n)
    return hold_link(
        case,
        WALL_LINK,
        f"the harder-worked of {FIXINGS_EACH} in each wall block",
        hold,
        load,
        assumptions=(
            _force_words(case, plan),
            f"the stay acts {case.voice.mm(_before_mm(case))} before the wall and turns its block about the edge of "
            "that",
        ),
    )


def _screws_link(case: Case, plan: StayPlan, block: Part) -> Link:
    """Both screws of a foot, through the block into the backer: what pulls them out, and what goes across them."""
    normal, along = _on_the_leaf(case, plan)
    pulled = normal / FOOT_SCREWS + along * _behind_mm(case) / FOOT_APART_MM
    across = along / FOOT_SCREWS
    demand = math.hypot(pulled, across)
    part = f"each of {FOOT_SCREWS} in a stay's foot"
    held = _foot_screw(case, block)
    if isinstance(held, str):
        return link(
            case, SCREWS_LINK, part=part, demand_n=demand, allowable_n=0.0, basis=f"nothing is counted on: {held}",
            source="",
        )  # fmt: skip
    lateral, withdrawal = held
    say = case.voice.bare_force
    return link(
        case,
        SCREWS_LINK,
        part=part,
        demand_n=demand,
        allowable_n=combined_allowable_n(withdrawal, lateral, math.degrees(math.atan2(pulled, across))),
        basis=f"{case.voice.screw(case.brief.butt.gauge, plan.screw_nm)}, through the block into the backer: shear "
        f"{say(lateral)}, pull {say(withdrawal)}; both at once by Eq. 12.4-1",
        factors=case.wood_factors,
        assumptions=(
            _force_words(case, plan),
            f"its holes are {case.voice.mm(FOOT_APART_MM)} apart or more, and its pivot stands "
            f"{case.voice.mm(_behind_mm(case))} behind the block",
        ),
        source="NDS 2018 12.2, 12.3, 12.4",
    )


def _glue_link(case: Case, plan: StayPlan, block: Part) -> Link:
    """The block's glue, sheared along the leaf: at rest, and as the leaf is let go."""
    box = block.box
    area = (box.x1 - box.x0) / NM_PER_MM * (box.y1 - box.y0) / NM_PER_MM
    _, along = _on_the_leaf(case, plan)
    shear = along / area
    wood = min(plane_shear_mpa(case.brief.backer.material), plane_shear_mpa(block.material))
    rests = bond_allowed(wood, end_grain=False, duration_factor=DURATION.value)
    falls = bond_allowed(wood, end_grain=False, duration_factor=SHORT.value, permanent=False)
    used = max(shear / _times(plan) / rests.shear_mpa, shear / falls.shear_mpa)
    return link(
        case,
        GLUE_LINK,
        part="a block on the leaf",
        demand_n=along,
        allowable_n=along / used if used else math.inf,
        basis=f"{case.voice.area(area)} of glue: shear {case.voice.stress(shear)}; the worse of at rest and let go",
        factors=(DURATION, CREEP),
        assumptions=(_force_words(case, plan), "the block's screws alone take what would peel the glue"),
        source=GLUE_SOURCE,
    )


def _block_link(case: Case, plan: StayPlan, block: Part) -> Link:
    """The hardest-worked screw from the backer's face into a leaf block, at rest or as the leaf is let go.

    Source:
        Moments about the end of the block that stays shut, our calculation: each screw is pulled by its height over it.
    """
    screws = next((one for one in glue_screws(case.brief, case.parts) if one.part == block.name), None)
    normal, along = _on_the_leaf(case, plan)
    box, say = block.box, case.voice
    part = "the hardest-worked from the backer's face into a leaf block"
    held = pull_of(case, block, screws) if screws and screws.lasting else "no screw finds four diameters of thread"
    if isinstance(held, str) or screws is None:
        return no_hold(case, BLOCK_SCREWS, part, normal + along, str(held))
    lever_mm = _behind_mm(case) + (box.z1 - box.z0) / NM_PER_MM
    ups = [spot.y_nm for spot in screws.spots]
    over = [[(up - box.y0) / NM_PER_MM for up in ups], [(box.y1 - up) / NM_PER_MM for up in ups]]
    pulls = [normal / len(h) + along * lever_mm * max(h) / sum(one**2 for one in h) for h in over]
    value, basis = held
    share = group_pull_share(len(screws.spots))
    return link(
        case,
        BLOCK_SCREWS,
        part=part,
        demand_n=max(pulls) * max(1 / _times(plan), DURATION.value / SHORT.value),
        allowable_n=value.allowable_n * share,
        basis=basis,
        factors=(*value.factors, Factor(name="group, pull", value=share, source=GROUP_SOURCE)),
        assumptions=(
            _force_words(case, plan),
            f"the stay acts {say.mm(lever_mm)} behind the backer and turns the block about an end",
            "the worse of at rest and let go, whose pull a screw bears for a moment as the NDS lets it",
            *OUR_DEPTH,
        ),
        source=value.source,
    )


def _foot_screw(case: Case, block: Part) -> tuple[float, float] | str:
    """Allowable across and along one screw, all factors inside, or why there is none."""
    butt, backer = case.brief.butt, case.first(Role.BACKER)
    screw, shank = screw_or_reason(butt.gauge), shank_or_reason(butt.gauge)
    assert backer is not None
    if isinstance(screw, str):
        return screw
    if isinstance(shank, str):
        return shank
    length, deep = _screw_nm(case), block.box.z1 - block.box.z0 + backer.box.z1 - backer.box.z0
    softer = min((block.material, backer.material), key=gravity_of)
    try:
        bitten = bite_of(shank, length, FOOT_NM, deep)
        lateral = wood_screw_lateral(
            screw,
            side_mm=FOOT_NM / NM_PER_MM,
            penetration_mm=(length - FOOT_NM) / NM_PER_MM,
            main_gravity=gravity_of(softer),
            side_gravity=gravity_of(softer),
            side_bearing_mpa=STEEL_BEARING_MPA,
        )
        held = min(
            held_by(shank, material, bitten, case.service_factors).allowable_n
            for material in (block.material, backer.material)
        )
    except BossageError as error:
        return case.voice.retold(str(error))
    if held <= 0:
        return f"{case.voice.mm(bitten.thread_mm)} of thread, at least {case.voice.mm(bitten.least_mm)} is asked for"
    return lateral.z_n * product(case.wood_factors), held


def _screw_nm(case: Case) -> int:
    """The longest screw of a foot that ends inside the backer; none is longer than a flap's needs to be."""
    backer, blocks = case.first(Role.BACKER), blocks_of(case, moves=True)
    if backer is None or not blocks:
        return 0
    deep = FOOT_NM + blocks[0].box.z1 - blocks[0].box.z0 + backer.box.z1 - backer.box.z0
    return longest_sold_nm(deep - TIP_COVER_NM, case.brief.piece.unit) or 0


def _pushes(case: Case) -> bool:
    return case.swing.side is Side.TOP


def _times(plan: StayPlan) -> float:
    return 1.0 if plan.pushes else FALL


def _on_a_fixing(case: Case, force: float, on_leaf: int, on_wall: int) -> tuple[float, float]:
    """Pull and shear of the harder-worked fixing of a wall block.

    Source:
        Moments about the edge of the block that its stay turns it about, our calculation: each fixing is pulled by its
        height over that edge. What a stay that pushes presses on the block is left out.
    """
    blocks = blocks_of(case, moves=False)
    if not blocks:
        return 0.0, 0.0
    out, along = stay_run_mm(case)
    long = math.hypot(out, along)
    high = (blocks[0].box.y1 - blocks[0].box.y0) / NM_PER_MM
    levers = [high / 2 + sign * APART_NM / NM_PER_MM / 2 for sign in (-1, 1)]
    turned = force * abs(along) / long * _before_mm(case) * levers[-1] / sum(lever**2 for lever in levers)
    drawn = 0.0 if _pushes(case) else force * out / long / FIXINGS_EACH
    return drawn + turned, force * abs(along) / long / FIXINGS_EACH


def _on_the_leaf(case: Case, plan: StayPlan) -> tuple[float, float]:
    """What a stay does to its foot on the leaf, a fall counted: off the leaf, and along it."""
    out, along = stay_run_mm(case)
    angle, long = math.radians(case.brief.access.angle_deg), math.hypot(out, along)
    force = _times(plan) * plan.force_n
    lifted = abs(out * math.cos(angle) - along * math.sin(angle)) / long
    drawn = abs(out * math.sin(angle) + along * math.cos(angle)) / long
    return (0.0 if plan.pushes else force * lifted), force * drawn


def _before_mm(case: Case) -> float:
    """From the wall to the middle of a stay on its block."""
    swing = case.swing
    return (swing.post_nm + swing.stand_off_nm) / 2 / NM_PER_MM


def _behind_mm(case: Case) -> float:
    """From the back of a leaf block to the middle of its stay."""
    swing = case.swing
    return (swing.stand_off_nm - swing.stile_nm) / 2 / NM_PER_MM


def _force_words(case: Case, plan: StayPlan) -> str:
    say = case.voice.bare_force
    if plan.pushes:
        return f"a stay pushes with {say(plan.force_n)} while the leaf stands open"
    return (
        f"a stay pulls with {say(plan.force_n)} while the leaf stands open, and {FALL:g} times as hard where it is let "
        "go: stays that brake are asked for"
    )
