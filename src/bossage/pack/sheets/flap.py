"""How a leaf that turns about a level axis goes up and comes off, in words: closed, on props, never held out open."""

from __future__ import annotations

from bossage.body import Part, Role
from bossage.brief.records import EdgeStyle, FixingKind, Furniture, Side
from bossage.hang.hinge_records import HingePlan
from bossage.hang.put_down import put_down_words
from bossage.hang.records import LeafHang
from bossage.hang.spread import Tape
from bossage.hang.stays import FOOT_SCREWS
from bossage.hang.wall_holes import fixing_words
from bossage.pack.sheets.common import part_of
from bossage.pack.sheets.drilling import wall_drill_words
from bossage.pack.words import Words, count_of, listed
from bossage.plan import Plan
from bossage.units import NM_PER_MM

NARROW_NM = 300 * NM_PER_MM
"""Wood that is no longer stands on one prop: ours."""

HAND_NM = 100 * NM_PER_MM
"""So far a leaf is opened before its stays hold it: a hand with a screwdriver passes, and it is light yet. Ours."""


def propped(plan: Plan, hung: LeafHang) -> list[tuple[Part, int]]:
    """What stands on props while the leaf is closed, and where along the wall: wood behind the blocks, on both sides.

    Of a leaf hung by its foot the rail of its hinges; else the backer, or, as the strips of a ring hide its edge, the
    lowest wood to the left and to the right of where the leaf balances. One alone where it has wood on one side only.
    """
    backer = part_of(plan, hung, Role.BACKER)
    assert backer is not None
    if hung.hinges is not None and hung.hinges.side == Side.BOTTOM.value:
        return _thirds(part_of(plan, hung, Role.HINGE_STILE) or backer)
    if plan.brief.edge.style is not EdgeStyle.OUTRIGGER:
        return _thirds(backer)
    wood = [p for p in plan.body.of(hung.leaf, hung.copy) if p.role in (Role.STILE, Role.STOP, Role.FRAME)]
    wood = sorted((p for p in wood if p.box.y0 < hung.y_nm), key=lambda p: p.box.y0)
    wide = next((p for p in wood if p.length_nm > NARROW_NM and p.from_x_nm < hung.x_nm < p.to_x_nm), None)
    if wide is not None:
        return _thirds(wide)
    sides = [[p for p in wood if (_middle_nm(p) < hung.x_nm) == left] for left in (True, False)]
    return [(side[0], _middle_nm(side[0])) for side in sides if side] or _thirds(backer)


def _thirds(part: Part) -> list[tuple[Part, int]]:
    long = part.length_nm
    places = [_middle_nm(part)] if long <= NARROW_NM else [part.from_x_nm + long // 3, part.to_x_nm - long // 3]
    return [(part, place) for place in places]


def _middle_nm(part: Part) -> int:
    return (part.from_x_nm + part.to_x_nm) // 2


def closed_props(plan: Plan, hung: LeafHang, words: Words) -> str:
    """Props for the closed leaf: where along the wall, how high, how deep, and what is moved away for them."""
    tape = Tape(plan.brief.piece.unit)
    props = [(part, tape.nearest(x)) for part, x in propped(plan, hung)]
    told = listed(
        [
            f"{words.length(x)} from the left corner, its top {words.length(part.box.y0)} above the floor, under the "
            + ("backer" if part.role is Role.BACKER else f"{part.name} (no. {part.number})")
            for part, x in props
        ]
    )
    under = under_closed_props(plan, hung)
    away = f"; the {max(under, key=lambda one: one.top_nm).name} is moved away first" if under else ""
    deep = min(part.box.z1 for part, _ in props)
    tips = "" if len(props) > 1 else "; on this one the leaf tips, so both of you hold it until the first screws are in"
    return (
        f"{count_of(len(props), 'prop')} close to the wall: {told}. No head reaches further than {words.length(deep)} "
        f"from the wall: the blocks before it carry nothing{away}{tips}"
    )


def under_closed_props(plan: Plan, hung: LeafHang) -> list[Furniture]:
    """Furniture on the floor that the props of the closed leaf need, each once."""
    tape = Tape(plan.brief.piece.unit)
    props = [(part, tape.nearest(x)) for part, x in propped(plan, hung)]
    return [
        one
        for one in plan.brief.furniture
        if any(
            one.near_nm < part.box.z1 and one.top_nm < part.box.y0 and one.x_nm <= x <= one.right_nm
            for part, x in props
        )
    ]


def flap_on(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> str:
    """The leaf on its hinges, closed: the post is on the wall already."""
    top = hinges.side == Side.TOP.value
    clear, to = ("up", "down on") if top else ("down", "up under")
    return (
        f"Two people. Set {closed_props(plan, hung, words)}. Turn the free flaps {clear}, stand the leaf on the props, "
        f"closed, and turn the flaps {to} the edge of its hinge rail. One of you presses the leaf to the wall with "
        "both hands until the last screw is in. The other drives the screws of the leaf's flaps from "
        f"{'above' if top else 'below'}, along the wall.{'' if top else EASED}"
    )


EASED = (
    " Then ease the props, a finger's breadth under the rail, before the leaf is opened: its lower corner sinks as it "
    "opens, and on a prop that would tear the screws out. Hands stay on it, as it falls open by itself."
)
"""Of a leaf hinged at its foot; the rail's front corner goes down round the pins."""


def blocks_on_wall(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> list[str]:
    """Where the wall blocks of the stays go, each with the foot of its stay, and what is drilled; before the leaf."""
    stay, block = hinges.stay, stay_block(plan, hung, moves=False)
    if stay is None or block is None:
        return []
    xs = listed([words.length(x) for x in dict.fromkeys(point.x_nm for point in stay.fixings)])
    ends = " and ".join(words.bare(y - block.box.y0) for y in dict.fromkeys(point.y_nm for point in stay.fixings))
    bought = fixing_words(plan.brief, stay.fixings[0].into, hinges.post.screw)
    plugged = " and plug" if plan.brief.fixings.kind is FixingKind.PLUG else ""
    return [
        f"Let the other foot of each stay into the face of its wall block (no. {block.number}), flush, over its "
        f"middle. Drill through both in the middle of the block's width, {ends} from its lower end. The blocks stand "
        "upright, their "
        f"middles {xs} from the left corner, their lower ends {words.length(block.box.y0)} above the floor: mark "
        f"through the holes, drill{plugged}, screw them on. {wall_drill_words(hinges.post.holes, 'block', words)} "
        f"{count_of(len(stay.fixings), 'fixing')}: {bought}. The stays' arms stay off."
    ]


def stays_at_the_bench(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> list[str]:
    """One foot of each stay, on the leaf, for good."""
    stay, block = hinges.stay, stay_block(plan, hung, moves=True)
    if stay is None or block is None:
        return []
    bit = (
        f" Bit: {words.drill(hinges.lead_hole_mm)}, tape {words.length(stay.screw_nm)} from its tip."
        if hinges.lead_hole_mm
        else ""
    )
    return [
        f"At the bench: screw one foot of each stay to the middle of its leaf block (no. {block.number}), from "
        f"behind, with {count_of(FOOT_SCREWS, 'screw')} {words.screw(hinges.gauge, stay.screw_nm)} over one another, "
        f"through the block into the backer.{bit} It stays there."
    ]


def stays_on(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> list[str]:
    """The arms of the stays, while the leaf is open by a hand and light in it."""
    stay = hinges.stay
    if stay is None or not stay.fixings:
        return []
    brake = (
        "Both must lock by themselves: they hold the leaf up, and it falls shut where they let go."
        if stay.pushes
        else "Set both brakes so that the leaf comes down slowly by itself; the first times with a hand under it."
    )
    return [
        f"Two people: one holds the leaf open about {words.length(HAND_NM)}, no further. The other clips the arms of "
        f"both stays to their feet, from the sides, through that gap. Nobody lets go before both are on. Then the "
        f"props go. {brake} At {plan.brief.access.angle_deg:g}° the middles of their feet are "
        f"{words.length(stay.open_nm)} apart."
    ]


def stay_block(plan: Plan, hung: LeafHang, *, moves: bool) -> Part | None:
    """A block of the stays, on the leaf or on the wall."""
    parts = plan.body.of(hung.leaf, hung.copy)
    return next((part for part in parts if part.role is Role.STAY_BLOCK and part.moves is moves), None)


def flap_off(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> tuple[str, str, str]:
    """The same the other way round, in three steps: props, stays, screws."""
    count = len(hinges.hinges) * hinges.screws_per_flap
    props = f"Set {closed_props(plan, hung, words)}"
    top = hinges.side == Side.TOP.value
    return (
        f"Two people. {f'{props}. ' if top else ''}One of you holds the leaf until the end.",
        f"Open it about {words.length(HAND_NM)}, no further. Unclip both stays from the sides, through that "
        "gap: from here on nothing but your hands stops the leaf.",
        f"Shut it{', on its props' if top else f'. {props}'}. One of you presses it to the wall; the other takes the "
        f"{count_of(count, 'screw')} out of its flaps. The leaf comes off. The post stays on the wall with its hinges.",
    )


def flap_off_card(plan: Plan, hung: LeafHang, hinges: HingePlan, words: Words) -> tuple[str, ...]:
    """How a household takes it off the wall."""
    down = put_down_words(plan.layout, plan.body, plan.brief.piece.unit, words.length)
    return (*flap_off(plan, hung, hinges, words), down)
