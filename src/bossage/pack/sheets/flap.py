"""How a leaf that turns about a level axis goes up and comes off, in words: closed, on props, never held out open."""

from __future__ import annotations

from bossage.body import Part, Role
from bossage.brief.records import EdgeStyle, Side
from bossage.hang.put_down import put_down_words
from bossage.hang.records import HingePlan, LeafHang
from bossage.pack.sheets.common import part_of
from bossage.pack.words import Words, count_of, listed
from bossage.plan import Plan
from bossage.units import NM_PER_MM

NARROW_NM = 300 * NM_PER_MM
"""Wood that is no longer stands on one prop: ours."""

HAND_NM = 100 * NM_PER_MM
"""So far a leaf is opened before its stays hold it: a hand with a screwdriver passes, and it is light yet. Ours."""


def propped_part(plan: Plan, hung: LeafHang) -> Part:
    """What stands on props while the leaf is closed: wood behind the blocks, which never carry it."""
    backer = part_of(plan, hung, Role.BACKER)
    assert backer is not None
    if hung.hinges is not None and hung.hinges.side == Side.BOTTOM.value:
        return part_of(plan, hung, Role.HINGE_STILE) or backer
    if plan.brief.edge.style is EdgeStyle.OUTRIGGER:
        # the ring's strips hide the edge of the backer
        wood = [p for p in plan.body.of(hung.leaf, hung.copy) if p.role in (Role.STILE, Role.STOP, Role.FRAME)]
        return min(wood, key=lambda p: (p.box.y0, p.box.x0 - p.box.x1), default=backer)
    return backer


def closed_props(plan: Plan, hung: LeafHang, words: Words) -> str:
    """Props for the closed leaf: how high, where along the wall, how deep, and what is moved away for them."""
    held = propped_part(plan, hung)
    box = held.box
    long = box.x1 - box.x0
    at = [box.x0 + long // 2] if long <= NARROW_NM else [box.x0 + long // 3, box.x1 - long // 3]
    many = "a prop whose top is" if len(at) == 1 else "two props whose tops are"
    under = [
        one
        for one in plan.brief.furniture
        if one.near_nm < box.z1 and one.top_nm < box.y0 and any(one.x_nm <= x <= one.right_nm for x in at)
    ]
    away = f"; the {max(under, key=lambda one: one.top_nm).name} is moved away first" if under else ""
    what = "the backer" if held.role is Role.BACKER else f"the {held.name} (no. {held.number})"
    return (
        f"{many} {words.length(box.y0)} above the floor, close to the wall, "
        f"{listed([words.length(x) for x in at])} from the left corner, under the lower edge of {what}. Their heads "
        f"reach no further than {words.length(box.z1)} from the wall, behind the blocks, which carry nothing{away}"
    )


def flap_on(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> str:
    """The leaf on its hinges, closed: the post is on the wall already."""
    top = hinges.side == Side.TOP.value
    clear, to = ("up", "down on") if top else ("down", "up under")
    return (
        f"Two people. Set {closed_props(plan, hung, words)}. Turn the free flaps {clear}, stand the leaf on the props, "
        f"closed, and turn the flaps {to} the edge of its hinge rail. One of you presses the leaf to the wall with "
        "both hands until the last screw is in. The other drives the screws of the leaf's flaps from "
        f"{'above' if top else 'below'}, along the wall."
    )


def flap_off(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> tuple[str, str, str]:
    """The same the other way round, in three steps: props, stays, screws."""
    count = len(hinges.hinges) * hinges.screws_per_flap
    return (
        f"Two people. Set {closed_props(plan, hung, words)}. One of you holds the leaf until the end.",
        f"Open it about {words.length(HAND_NM)}, no further. Unscrew both stays from the wall through that gap, from "
        "the sides: from here on nothing but your hands stops the leaf.",
        f"Shut it, on its props. One of you presses it to the wall; the other takes the {count_of(count, 'screw')} out "
        "of its flaps. The leaf comes off. The post stays on the wall with its hinges.",
    )


def flap_off_card(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> tuple[str, ...]:
    """How a household takes it off the wall."""
    down = put_down_words(plan.layout, plan.body, plan.brief.piece.unit, words.length)
    return (*flap_off(plan, hung, hinges, words), down)
