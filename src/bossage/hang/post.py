"""The post that the hinges of a leaf sit on: where its fixings go, and what each of them carries."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from bossage.body import Role, Swing
from bossage.brief.records import Side
from bossage.fasteners import TIP_COVER_NM, least_placing, shank_mm
from bossage.hang.case import Case
from bossage.hang.chain import eye_spots, plan_eyes
from bossage.hang.crowded import crowded
from bossage.hang.fixing_checks import THICKEST_MM
from bossage.hang.glue_screws import apart_nm, near_spans
from bossage.hang.hinge_records import PostPlan
from bossage.hang.holds import Hold, hold_link
from bossage.hang.post_loads import PostLines, post_states, worst_loads, worst_state
from bossage.hang.rated import anchor_kind, rated_hold, reaching
from bossage.hang.records import Link, Load
from bossage.hang.stud_screws import stud_hold
from bossage.hang.swung import arm_nm
from bossage.hang.wall_holes import wall_holes
from bossage.hang.wall_records import FixingPoint
from bossage.units import NM_PER_IN, NM_PER_MM
from bossage.zones import free_spans, heeded, less

END_NM = 25 * NM_PER_MM
"""First and last fixing from the ends of the post, about 1 in; common practice, no source."""

POST_LINK = "fixings behind the hinges"

NO_STUD = "no stud stands behind the post: its screws meet wallboard alone, or the edge of a stud, which splits"

APART_NM = 30 * NM_PER_MM
"""Fixings along the post, no nearer to one another: five diameters of a usual plug. Ours."""

INTO = {"timber studs": "stud", "metal studs": "metal stud", "masonry": "masonry"}


def most_fixings(case: Case) -> int:
    """How many find room along the post, zones left aside."""
    swing = case.swing
    return 1 + max(0, swing.to_nm - swing.from_nm - 2 * END_NM) // APART_NM


def plan_post(case: Case, count: int, flap_screw_nm: int) -> PostPlan:
    """The post with so many fixings, evenly along it, outside every zone; fewer where zones leave no room.

    They stand on one line, past the tips of the flaps' screws, which come from the outer edge. Along a post that lies
    level they go into the studs that it crosses, where there are any.

    Args:
        case: The leaf.
        count: Fixings that are wished for.
        flap_screw_nm: Length of the screws of a flap.
    """
    swing = case.swing
    line = line_nm(case, swing, flap_screw_nm)
    places = _places(case, swing, line, count)
    met = studs_behind(case, line, places)
    into = INTO[case.brief.wall.build.value] if case.brief.into_studs and met else unstudded(case)
    lines = PostLines(inner_nm=inner_nm(case), line_nm=line, places_nm=places)
    loads = worst_loads(post_states(case, lines), crowded(case, _post_fixing(case, line, places), places))
    points = []
    for along, load in zip(places, loads, strict=True):
        x, y = (line, along) if swing.upright else (along, line)
        points.append(
            FixingPoint(
                x_nm=x,
                y_nm=y,
                from_leaf_left_nm=x - case.leaf.x_nm,
                into=into,
                load_share=1 / len(places),
                pull_n=load.pull_n,
                shear_n=load.shear_n,
                clear_nm=case.clear_nm(x, y, into),
                depth_in_stud_mm=None,
            )
        )
    return PostPlan(
        from_nm=swing.from_nm,
        to_nm=swing.to_nm,
        edge_nm=swing.edge_nm,
        inner_nm=inner_nm(case),
        line_nm=line,
        thickness_nm=swing.post_nm,
        screw=case.wall_screw,
        fixings=tuple(points),
        holes=wall_holes(case.brief, case.wall_screw, swing.post_nm) if met else None,
    )


def post_fixings(case: Case, post: PostPlan) -> Link:
    """The hardest-worked fixing of the post, in the wall, at the angle that works it hardest."""
    swing = case.swing
    lines = PostLines(
        inner_nm=post.inner_nm,
        line_nm=post.line_nm,
        places_nm=tuple(p.y_nm if swing.upright else p.x_nm for p in post.fixings),
    )
    states, hold = (
        post_states(case, lines),
        crowded(case, _post_fixing(case, post.line_nm, lines.places_nm), lines.places_nm),
    )
    if not states:
        weight = Load(pull_n=case.weight_n, shear_n=case.weight_n)
        return hold_link(case, POST_LINK, "the post", "zones leave no place for a fixing of the post", weight)
    state, load = worst_state(states, hold)
    alone = "one fixing alone lets the post turn on it"
    return hold_link(
        case,
        POST_LINK,
        f"the hardest-worked of {len(post.fixings)} in the hinge post",
        hold if len(post.fixings) > 1 else alone,
        load,
        assumptions=_assumed(case, lines, state.angle_deg),
    )


def studs_behind(case: Case, line_nm: int, places_nm: Sequence[int]) -> bool:
    """Whether every fixing of the post has a stud behind it, where its screws ask for one."""
    wall = case.brief.wall
    if not case.brief.into_studs:
        return True
    xs = {line_nm} if case.swing.upright else set(places_nm)
    return all(any(abs(x - stud) <= off_stud_nm(case) for stud in wall.studs_nm) for x in xs)


def off_stud_nm(case: Case) -> int:
    """How far beside the middle of a stud a screw may stand, so that the stud does not split at its edge."""
    least = least_placing(min(THICKEST_MM, shank_mm(case.wall_screw.gauge)), prebored=True).edge_mm
    return max(0, case.brief.wall.stud_width_nm // 2 - round(least * NM_PER_MM))


def _post_fixing(case: Case, line_nm: int, places_nm: Sequence[int]) -> Hold | str:
    """One fixing of the post: a screw that meets no stud goes through the covering into air, and holds nothing."""
    if not studs_behind(case, line_nm, places_nm):
        return NO_STUD
    if not case.swing.upright:
        return wall_fixing(case)
    apart = min((b - a for a, b in pairwise(sorted(places_nm))), default=0)
    return wall_fixing(case, max(1, len(places_nm)), apart / NM_PER_MM)


def wall_fixing(case: Case, rows: int = 1, apart_mm: float = 0.0) -> Hold | str:
    """One fixing of the post or of a stay, all factors included; `rows` stand over one another, so far apart."""
    if case.brief.into_studs:
        return stud_hold(case, case.wall_factors, rows, apart_mm)
    fixings, here = case.brief.fixings, (case.over_head,) if case.over_head else ()
    kind = anchor_kind(fixings.kind)
    return reaching(case, kind, rated_hold(case, fixings.ratings, kind, here))


def _assumed(case: Case, lines: PostLines, worst_deg: float) -> tuple[str, ...]:
    """What the loads of the post rest on, and which state of the leaf rules."""
    say, swing = case.voice.say, case.swing
    wide, back = say(abs(lines.inner_nm - swing.axis_nm)), say(abs(lines.inner_nm - lines.line_nm))
    opens = case.brief.access.angle_deg
    between = ", and every few degrees between" if swing.upright else ""
    states = f"reckoned closed and open to {opens:g}°{between}" if opens else "reckoned closed"
    rules = "closed" if worst_deg == 0 else f"open to {worst_deg:g}°"
    before = f"the weight hangs at the pins, {say(swing.axis_z_nm)} before the wall, and turns the post about its "
    if not swing.upright:
        return (
            f"{states}: the leaf {rules} works them hardest; the post shares its load as a stiff bar does, by "
            "where its fixings stand",
            f"the post is stiff; its hinges draw at the pins, {wide} from its inner edge and {back} from its fixings",
            f"{before}lower edge",
        )
    back_nm = abs(lines.inner_nm - lines.line_nm)
    rolls = say(min(back_nm, abs(lines.inner_nm - swing.edge_nm) - back_nm))
    beside = say(round(abs(arm_nm(case) - abs(lines.line_nm - swing.axis_nm))))
    return (
        f"{states}: the leaf {rules} works them hardest",
        f"closed, the weight hangs {beside} beside the line of the fixings and twists the post in the plane of the "
        "wall",
        "each is pushed level by its distance from the middle of the fixings, and all carry the weight alike",
        "open, the hinges draw the post off the wall: it turns about its lower end, and each is pulled by its height "
        f"over that; and about its inner edge, {wide} from the pull and {back} from its fixings",
        f"{before}lower end as well",
        f"what is pushed level is pushed at the pins, and rolls the post about an edge {rolls} from its fixings",
        "the post is stiff; against twist it is not counted on",
    )


def line_nm(case: Case, swing: Swing, flap_screw_nm: int) -> int:
    """Where the post's fixings stand along the leaf: as near to the hinges as the flaps' screws let them."""
    shank = round(shank_mm(case.brief.fixings.gauge) * NM_PER_MM)
    wide = abs(inner_nm(case) - swing.edge_nm)
    return swing.inward(min(flap_screw_nm + TIP_COVER_NM + shank // 2 + NM_PER_MM // 2, wide * 4 // 5))


def inner_nm(case: Case) -> int:
    """Inner edge of the post, as the body has it; as wished where the leaf has none."""
    post, swing = case.first(Role.POST), case.swing
    if post is None:
        return swing.inner_nm
    box = post.box
    return {Side.LEFT: box.x1, Side.RIGHT: box.x0, Side.BOTTOM: box.y1, Side.TOP: box.y0}[swing.side]


def unstudded(case: Case) -> str:
    """What a fixing goes into that does not seek a stud."""
    return "masonry" if case.brief.wall.build.value == "masonry" else "wallboard"


def _places(case: Case, swing: Swing, line: int, count: int) -> tuple[int, ...]:
    """Along the axis, in order."""
    first, last = swing.from_nm + END_NM, swing.to_nm - END_NM
    if last <= first:
        first = last = (swing.from_nm + swing.to_nm) // 2
    held = heeded(case.zones, case.brief.wall, into_stud=case.brief.into_studs)
    free = free_spans(held, (first, last), line, along=not swing.upright)
    eye = plan_eyes(case.brief, case.parts, swing)
    if eye is not None:
        beside = [(at, off) for off, at in eye_spots(eye)]
        shank = max(shank_mm(case.brief.fixings.gauge), eye.wire_mm)
        for shut in near_spans(beside, line, apart_nm(shank)):
            free = [part for one in free for part in less(one, shut)]
    if case.brief.into_studs and not swing.upright:
        met = [x for x in case.brief.wall.studs_nm if any(a <= x <= b for a, b in free)]
        if len(met) > 1:
            return tuple(met)
    mark = NM_PER_IN // 16 if case.brief.piece.unit == "in" else NM_PER_MM
    step = max(mark, (last - first) // max(1, count - 1) // mark * mark)  # a place that a rule shows
    found: list[int] = []
    for wished in range(first, first + step * count, step):
        near = min((min(max(wished, a), b) for a, b in free), key=lambda at: abs(at - wished), default=None)
        if near is not None and (not found or near - found[-1] >= APART_NM // mark * mark):
            found.append(near)
    return tuple(found[:count])
