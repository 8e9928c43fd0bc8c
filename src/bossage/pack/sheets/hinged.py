"""How a leaf that swings goes up, in words: the post and its hinges, the catch, and how the leaf is held meanwhile."""

from __future__ import annotations

import math

from bossage.body import KEEPER_MARK_NM, Part, Role
from bossage.brief.hinges import PLAY_NM
from bossage.brief.records import EdgeStyle, FixingKind, Furniture, Side
from bossage.hang.hinge_records import HingePlan
from bossage.hang.put_down import put_down_words
from bossage.hang.records import LeafHang
from bossage.hang.wall_holes import KEEPER_SCREWS, fixing_words, keeper_fixing, keeper_holes
from bossage.pack.sheets.common import part_of
from bossage.pack.sheets.drilling import keeper_drill_words, wall_drill_words
from bossage.pack.sheets.flap import (
    blocks_on_wall,
    flap_off,
    flap_off_card,
    flap_on,
    stays_at_the_bench,
    stays_on,
    under_closed_props,
)
from bossage.pack.words import Words, count_of, listed
from bossage.plan import Plan
from bossage.units import NM_PER_IN, NM_PER_MM

SWINGS = 10  # times that it is opened and shut as a trial: ours


STRIP_FREE_NM = 2 * NM_PER_MM
"""Between a prop and the edge strip before it: ours."""

PROP_NM = 100 * NM_PER_MM
"""Breadth over which a wide part bears on its prop: ours."""


def under_props(plan: Plan, hung: LeafHang) -> tuple[str, ...]:
    """Furniture that stands where a prop has to stand while the leaf goes up and comes off."""
    if hung.hinges is None:
        return ()
    if hung.hinges.stay is not None:
        return tuple(one.name for one in under_closed_props(plan, hung))
    held, _ = _propped(plan, hung)
    return tuple(one.name for one in _under(plan, prop_foot_nm(plan, hung.hinges, held), held.box.y0))


def _under(plan: Plan, foot: tuple[int, int], low_nm: int) -> list[Furniture]:
    """Furniture on the floor that the foot of a prop needs."""
    return [
        one
        for one in plan.brief.furniture
        if one.x_nm <= foot[0] <= one.right_nm and one.near_nm <= foot[1] <= one.far_nm and one.top_nm < low_nm
    ]


def _propped(plan: Plan, hung: LeafHang) -> tuple[Part, str]:
    """What stands on the prop, and where under it."""
    backer = part_of(plan, hung, Role.BACKER)
    assert backer is not None
    held, where = backer, "under the backer's lower edge, behind the blocks"
    if plan.brief.edge.style is EdgeStyle.OUTRIGGER:
        wood = part_of(plan, hung, Role.STILE, Role.STOP, Role.FRAME, Role.HINGE_STILE)
        if wood is not None:
            held = wood
            where = (
                f"under the lower end of the {wood.name} (no. {wood.number}), behind the ring, never under its blocks"
            )
    return held, where


def prop_words(plan: Plan, hung: LeafHang, words: Words) -> str:
    """What holds the open leaf while its upright post is screwed up, and where: never under a ring's blocks."""
    held, where = _propped(plan, hung)
    hinges = hung.hinges
    assert hinges is not None
    low, foot = held.box.y0, prop_foot_nm(plan, hinges, held)
    prop = f"a prop whose top is {words.length(low)} above the floor {where}"
    if held.role is not Role.BACKER:
        prop += f"; it is a batten with a foot, at most {words.length(batten_nm(plan, held))} thick at its top"
    under = _under(plan, foot, low)
    told = f"{prop}, its middle {words.length(foot[0])} from the left corner and {words.length(foot[1])} from the wall"
    if not under:
        return told
    return f"{told}, where the {max(under, key=lambda one: one.top_nm).name} is moved away first"


def batten_nm(plan: Plan, held: Part) -> int:
    """How thick a prop may be that goes up between the wall side of a part and the edge strips before it."""
    strips = [p for p in plan.body.of(held.leaf, held.copy) if p.role is Role.STRIP and held.role is not Role.BACKER]
    if not strips:
        return held.box.z1 - held.box.z0
    mark = NM_PER_MM if plan.brief.piece.unit == "mm" else NM_PER_IN // 16
    return (min(strip.box.z0 for strip in strips) - held.box.z0 - STRIP_FREE_NM) // mark * mark


def prop_foot_nm(plan: Plan, hinges: HingePlan, held: Part) -> tuple[int, int]:
    """Where a prop stands under the far end of a part when the leaf is open: from the left corner, and from the wall.

    Under the middle of a stile; of what is wide, under the last hand's breadth. Of an upright axis alone: a leaf that
    turns about a level one is never propped open (`flap`).
    """
    angle = math.radians(plan.brief.access.angle_deg)
    sign = 1 if hinges.side == Side.LEFT.value else -1
    far = max(abs(x - hinges.axis_nm) for x in (held.box.x0, held.box.x1))
    along = far - min(held.box.x1 - held.box.x0, PROP_NM) // 2
    thick = batten_nm(plan, held)  # it stands behind the ring, so nearer to the wall than the middle of the part
    before = held.box.z0 + thick // 2 - hinges.axis_z_nm
    across = along * math.cos(angle) - before * math.sin(angle)
    off = along * math.sin(angle) + before * math.cos(angle)
    mark = NM_PER_MM if plan.brief.piece.unit == "mm" else NM_PER_IN // 16
    return round((hinges.axis_nm + sign * across) / mark) * mark, round((hinges.axis_z_nm + off) / mark) * mark


def before_words(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> tuple[str, ...]:
    """Before a block is laid: holes of the post, hinges at the bench, post and leaf up as a trial, the keeper, down."""
    post, catch = part_of(plan, hung, Role.POST), part_of(plan, hung, Role.KEEPER)
    assert post is not None
    chain = part_of(plan, hung, Role.STAY)
    level = hinges.stay is not None
    return (
        _post_on_the_wall(plan, hinges, post, words),
        *_hinges_at_the_bench(plan, hung, hinges, words),
        *(_up_level(plan, hung, hinges, words) if level else [_up(plan, hung, words)]),
        *([_chain(plan, hinges, words)] if chain is not None and not level else []),
        f"Open it to {plan.brief.access.angle_deg:g}° and shut it {SWINGS} times: nothing may rub, nothing may give. "
        "It is bare: strips and blocks still to come reach further than the backer, as the level cut shows.",
        *([_keeper(plan, catch, words)] if catch is not None else []),
        *_down(plan, hung, hinges, words),
    )


def _up_level(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> tuple[str, ...]:
    """Post, blocks and stays of a leaf that turns about a level axis, then the leaf, closed."""
    return (
        *stays_at_the_bench(plan, hung, hinges, words),
        POST_ALONE,
        *blocks_on_wall(plan, hung, hinges, words),
        flap_on(plan, hung, hinges, words),
        *stays_on(plan, hung, hinges, words),
    )


POST_ALONE = (
    "Screw the post to the wall with its hinges on it, without the leaf: nobody holds a leaf overhead. Heads sunk: the "
    "leaf shuts over them."
)
DOWN = (
    "Take it down for the blocks, two people: one holds the leaf, open on its prop, until the end; the other takes the "
    "chain off, then the post's screws out. At the bench take the screws out of the leaf's flaps: the hinges stay on "
    "the post, and the leaf's back lies free for sealer, packing and ring."
)


def _down(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> list[str]:
    """Down again, for the blocks."""
    catch = part_of(plan, hung, Role.CATCH)
    off = " The catch comes off its part too, before the back is sealed." if catch is not None else ""
    if hinges.stay is None:
        return [f"{DOWN}{off}"]
    first, *rest, last = flap_off(plan, hung, hinges, words)
    return [f"Take it down for the blocks. {first}", *rest, f"{last}{off}"]


def day_words(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> tuple[str, ...]:
    """On the day that it hangs: the same up again, into the same holes."""
    latch = f"Open it to {plan.brief.access.angle_deg:g}° and shut it: nothing may rub."
    if part_of(plan, hung, Role.CATCH) is not None:
        latch = (
            f"Screw the catch on again, into its holes, while the leaf stands open. {latch} Set the catch in its slots "
            f"until the magnet touches its keeper as the leaf {_shuts(plan, hung)}."
        )
    if hinges.stay is not None:
        return (
            f"{flap_on(plan, hung, hinges, words)} The screws go into the same holes.",
            *stays_on(plan, hung, hinges, words),
            latch,
        )
    rests = words.length(plan.layout.stand_off.stand_off_nm)
    return (
        f"At the bench: lay the leaf on its back, on battens {rests} high under its backer, its hinge edge at the "
        f"bench's edge. The post goes under its stile, with card of {words.length(PLAY_NM)} between. Screw the leaf's "
        "flaps on again, into the same holes. Take the card out.",
        f"{_up(plan, hung, words)} The screws go into the same holes.",
        f"Hook the chain on. {latch}",
    )


def off_words(plan: Plan, hung: LeafHang, words: Words) -> tuple[str, ...]:
    """How it is taken off the wall, post and all."""
    hinges = hung.hinges
    assert hinges is not None
    if hinges.stay is not None:
        return flap_off_card(plan, hung, hinges, words)
    return (
        f"Two people. Open it, and set {prop_words(plan, hung, words)}. One of you holds the leaf until the end.",
        f"Unhook the chain between post and leaf. Take the {count_of(hinges.wall_fixings, 'screw')} out of the hinge "
        "post, the lowest first. Leaf and post come off together.",
        put_down_words(plan.layout, plan.body, plan.brief.piece.unit, words.length),
    )


def _shuts(plan: Plan, hung: LeafHang) -> str:
    stop = part_of(plan, hung, Role.STOP, Role.STILE, Role.FRAME)
    return "lies on the wall" if stop is None else f"shuts on its {stop.name}"


def _post_on_the_wall(plan: Plan, hinges: HingePlan, post: Part, words: Words) -> str:
    """Where the post goes, its holes by height, and what is drilled."""
    brief, box, upright = plan.brief, post.box, hinges.stay is None
    where = (
        f"Draw a plumb line {words.length(hinges.post.edge_nm)} from the left corner: the outer edge of the hinge post "
        f"(no. {post.number}), which stands {words.length(box.y0)} to {words.length(box.y1)} above the floor"
        if upright
        else f"Draw a level line {words.length(hinges.post.edge_nm)} above the floor: the outer edge of the hinge post "
        f"(no. {post.number}), which runs {words.length(box.x0)} to {words.length(box.x1)} from the left corner"
    )
    points = hinges.post.fixings
    if not points:
        return f"{where}. Drill nothing: zones leave no place for its fixings. Change the brief and plan again."
    if brief.into_studs and any(point.into == "wallboard" for point in points):
        return f"{where}. Drill nothing: no stud stands behind its fixings. Change the brief and plan again."
    ends = [(p.y_nm if upright else p.x_nm) - hinges.post.from_nm for p in points]
    from_edge = abs(hinges.post.line_nm - hinges.post.edge_nm)
    end = "lower" if upright else "left"
    bought = fixing_words(brief, points[0].into, hinges.post.screw)
    plugged = " and plug" if brief.fixings.kind is FixingKind.PLUG else ""
    return (
        f"{where}. Drill its holes, countersunk, {words.length(from_edge)} from the outer edge, from its {end} end: "
        f"{', '.join(words.bare(at) for at in ends)}. Hold it on the line, mark through the holes, take it away, "
        f"drill{plugged}. {wall_drill_words(hinges.post.holes, 'hinge post', words)} "
        f"{count_of(len(points), 'fixing')}: {bought}."
    )


def _hinges_at_the_bench(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> list[str]:
    """Post and stile joined while both lie on the bench, where every flap is open to the driver."""
    stile, post = part_of(plan, hung, Role.HINGE_STILE), part_of(plan, hung, Role.POST)
    assert stile is not None
    assert post is not None
    places = listed([words.bare(abs(middle - hinges.post.from_nm)) for middle in _middles(hinges)])
    parted = " Take the screws out of the leaf's flaps again: the hinges stay on the post." if hinges.stay else ""
    lead = f" Bits: {words.drill(hinges.lead_hole_mm)}," if hinges.lead_hole_mm else " Pilot holes"
    return [
        "At the bench: leaf face down, its hinge edge at the bench's edge, so that a drill lies level there. Lay a "
        f"packing {words.length(plan.brief.backer.thickness_nm)} thick, a scrap of the backer, under the "
        f"{stile.name} (no. {stile.number}) where it stands past the backer. Lay the post on it with card of "
        f"{words.length(PLAY_NM)} between, outer edges and ends level. Lay the hinges flat on both outer edges, each "
        f"pin over the middle of the card, knuckle outward; their middles {places} from the "
        f"{'lower' if hinges.stay is None else 'left'} end. Mark through the holes of all flaps.{lead} as deep as the "
        f"screws are long: tape on the bit. {hinges.screws_per_flap} screws "
        f"{words.screw(hinges.gauge, hinges.length_nm)} in each flap of post and leaf. Take the card out.{parted}",
    ]


def _middles(hinges: HingePlan) -> list[int]:
    return sorted(hinge.y_nm if hinges.stay is None else hinge.x_nm for hinge in hinges.hinges)


def _up(plan: Plan, hung: LeafHang, words: Words) -> str:
    return (
        f"Two people: one holds the leaf, open to {plan.brief.access.angle_deg:g}°, on "
        f"{prop_words(plan, hung, words)}; the other sets the post on its line and drives its screws, with a bit so "
        "long that the driver clears the open leaf. Heads sunk: the leaf shuts over them."
    )


def _chain(plan: Plan, hinges: HingePlan, words: Words) -> str:
    eye = hinges.eye
    assert eye is not None
    deep = words.length(eye.deep_nm)
    return (
        f"Turn a screw eye into the inner edges of post and hinge stile, {words.length(eye.at_nm)} above the floor, in "
        f"the middle of the edge, {deep} deep: no other screw runs there. Bit: {words.drill(eye.lead_hole_mm)} with "
        f"tape {deep} from its tip. Open the leaf to {plan.brief.access.angle_deg:g}°, hook light chain to both eyes "
        f"and count its links: about {words.length(hinges.chain_nm)} between the middles of their rings, where these "
        f"stand {words.length(eye.out_nm)} before the wood. It stops the swing of a hand, and holds nobody who leans "
        "on the leaf."
    )


def _keeper(plan: Plan, keeper: Part, words: Words) -> str:
    """The magnet is set forward first: as it is drawn, the leaf would land on the wall before the keeper does."""
    box = keeper.box
    return (
        f"Set the catch {words.length(KEEPER_MARK_NM)} forward in its slots, to the wall. Lay the keeper (no. "
        f"{keeper.number}) on the magnet, and chalk the face that it turns to the wall. Shut the leaf until the "
        f"keeper is "
        f"pressed to the wall. The chalk marks its place, about {words.length((box.x0 + box.x1) // 2)} from the "
        f"left corner and {words.length((box.y0 + box.y1) // 2)} above the floor. {_keeper_on(plan, keeper, words)} "
        "Set the catch back until the magnet just touches when the leaf is shut."
    )


def _keeper_on(plan: Plan, keeper: Part, words: Words) -> str:
    """How the keeper stays on the wall: with two fixings, or with glue where nothing is drilled."""
    if keeper.label:
        return (
            "Nothing is drilled here, as cables or pipes may run behind it: glue it on. Scrape the wall free of loose "
            "paint, rub the plate clean and rough, and hold it with tape until the glue has set, as its label says."
        )
    drill = keeper_drill_words(keeper_holes(plan.brief), words)
    return (
        f"Lay it there and mark its {count_of(KEEPER_SCREWS, 'hole')}: on one it would turn. {drill} Screw it on, "
        f"{count_of(KEEPER_SCREWS, 'fixing')}: {keeper_fixing(plan.brief)}, heads flush in the plate."
    )
