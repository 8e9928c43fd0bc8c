"""The post that the hinges of a leaf sit on: where its fixings go, and what each of them carries."""

from __future__ import annotations

from bossage.body import Role, Swing
from bossage.brief.records import Side
from bossage.fasteners import TIP_COVER_NM, shank_mm
from bossage.hang.case import Case
from bossage.hang.chain import eye_spots, plan_eyes
from bossage.hang.glue_screws import apart_nm, near_spans
from bossage.hang.records import FixingPoint, HingePoint, Load, PostPlan
from bossage.hang.wall_holes import wall_holes
from bossage.units import NM_PER_IN, NM_PER_MM
from bossage.zones import free_spans, heeded, less

END_NM = 25 * NM_PER_MM
"""First and last fixing from the ends of the post, about 1 in; common practice, no source."""

APART_NM = 30 * NM_PER_MM
"""Fixings along the post, no nearer to one another: five diameters of a usual plug. Ours."""

INTO = {"timber studs": "stud", "metal studs": "metal stud", "masonry": "masonry"}


def most_fixings(case: Case) -> int:
    """How many find room along the post, zones left aside."""
    swing = case.swing
    return 1 + max(0, swing.to_nm - swing.from_nm - 2 * END_NM) // APART_NM


def plan_post(case: Case, hinges: tuple[HingePoint, ...], count: int, flap_screw_nm: int) -> PostPlan:
    """The post with so many fixings, evenly along it, outside every zone; fewer where zones leave no room.

    They stand on one line, past the tips of the flaps' screws, which come from the outer edge. Along a post that lies
    level they go into the studs that it crosses, where there are any.

    Args:
        case: The leaf.
        hinges: Both, with their loads.
        count: Fixings that are wished for.
        flap_screw_nm: Length of the screws of a flap.
    """
    swing = case.swing
    line = line_nm(case, swing, flap_screw_nm)
    places = _places(case, swing, line, count)
    into = INTO[case.brief.wall.build.value] if case.brief.into_studs else _unstudded(case)
    loads = post_loads(swing, inner_nm(case), line, hinges, places)
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
        holes=wall_holes(case.brief, case.wall_screw, swing.post_nm),
    )


def post_loads(
    swing: Swing, inner: int, line: int, hinges: tuple[HingePoint, ...], places: tuple[int, ...]
) -> tuple[Load, ...]:
    """Pull and shear of each fixing of a post.

    Args:
        swing: Post and axis.
        inner: Inner edge of the post.
        line: Where its fixings stand, along the leaf.
        hinges: Both, with the worst that they pull and carry.
        places: Of the fixings, along the axis.

    Returns:
        One load each. The post is stiff. The hinges pull at its outer edge, so it turns about its inner edge, and its
        fixings, which stand between, are pulled by more than the hinges. The couple of two hinges over one another
        turns it about its lower end: each fixing is pulled by its height over that. All carry the weight alike.

    Source:
        Moments about both edges of the post, our calculation; it bears on an edge, where its lever is longest, so a
        soft wall lets the fixings be pulled somewhat harder.
    """
    if not places:
        return ()
    wide, back = abs(inner - swing.edge_nm), abs(inner - line)
    prying = wide / max(back, NM_PER_MM)
    if swing.upright:
        moment = sum(hinge.pull_n * (hinge.y_nm - swing.from_nm) for hinge in hinges)
        levers = [max(NM_PER_MM, place - swing.from_nm) for place in places]
        square = sum(lever**2 for lever in levers)
        pulls = [prying * max(0.0, moment) * lever / square for lever in levers]
        weight = max(hinge.up_n for hinge in hinges)
    else:
        # the harder-worked hinge has half of the fixings to itself
        worst = max(max(0.0, hinge.pull_n) for hinge in hinges)
        pulls = [prying * 2 * worst / len(places)] * len(places)
        weight = 2 * max(hinge.up_n for hinge in hinges)
    return tuple(Load(pull_n=pull, shear_n=weight / len(places)) for pull in pulls)


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


def _unstudded(case: Case) -> str:
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
        if near is not None and (not found or near - found[-1] >= min(APART_NM, step)):
            found.append(near)
    return tuple(found[:count])
