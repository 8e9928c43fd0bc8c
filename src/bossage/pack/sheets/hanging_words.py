"""Steps and parts of sentences of the hang sheet that follow from how the body stands on its wall."""

from __future__ import annotations

from bossage.body import Role, seen_wall_half
from bossage.hang.records import LeafHang
from bossage.pack.drawings.hanging import still_of
from bossage.pack.words import Words, count_of, listed
from bossage.plan import Plan
from bossage.units import NM_PER_MM

BESIDE = (Role.RIB, Role.FRAME, Role.STILE)
CLOSE_NM = 10 * NM_PER_MM  # to spare at a side; less is not found blind: ours


def feet_touch_words(plan: Plan, hung: LeafHang, words: Words) -> str:
    """What keeps the bare leaf plumb."""
    if not hung.feet:
        return "what it bears on at its foot"
    layers = [
        p for p in plan.body.of(hung.leaf, hung.copy) if p.role is Role.FOOT and p.from_x_nm == hung.feet[0].from_nm
    ]
    thick = words.length(hung.feet[0].thickness_nm)
    how = f"spacer and packer together {thick} thick" if len(layers) > 1 else f"{thick} thick"
    return f"{'the foot' if len(hung.feet) == 1 else 'both feet'} ({how})"


def between_step(plan: Plan, hung: LeafHang, words: Words) -> str:
    """Marks for the leaf's sides; a wall half between two of its parts nobody sees as the leaf comes down."""
    moving = [part for part in plan.body.of(hung.leaf, hung.copy) if part.moves and part.role in BESIDE]
    halves = still_of(plan, hung, Role.WALL_HALF)
    low = min(half.box.y0 for half in halves)
    high = max(half.box.y1 for half in halves) + (hung.room.wanted_nm if hung.room else 0)
    near = [part for part in moving if part.box.y0 < high and part.box.y1 > low]
    left = min(
        (halves[0].from_x_nm - part.to_x_nm for part in near if part.to_x_nm <= halves[0].from_x_nm), default=None
    )
    right = min(
        (part.from_x_nm - halves[-1].to_x_nm for part in near if part.from_x_nm >= halves[-1].to_x_nm), default=None
    )
    leaf = next(one for one in plan.layout.leaves if one.name == hung.leaf and one.copy == hung.copy)
    marks = (
        f"Pencil the leaf's sides on the wall, {words.bare(leaf.x_nm)} and {words.length(leaf.x_nm + leaf.width_nm)} "
        "from the left corner of the wall: between them the leaf comes down later."
    )
    if left is None or right is None or max(left, right) > CLOSE_NM:
        return marks
    return (
        f"{marks} It then takes the wall half between parts of its back, with {words.length(left)} to spare at the "
        f"left and {words.length(right)} at the right."
    )


def feet_steps(plan: Plan, hung: LeafHang, words: Words) -> list[str]:
    """Foot spacers that are fixed to the wall; others hang with the leaf."""
    on_wall = still_of(plan, hung, Role.FOOT)
    if not hung.feet or not on_wall:
        return []
    thick = words.length(hung.feet[0].thickness_nm)
    places = listed([f"{words.bare(p.from_x_nm)} to {words.bare(p.to_x_nm)}" for p in on_wall])
    heights = listed(list(dict.fromkeys(words.length(part.box.y0) for part in on_wall)))
    return [
        f"Fix the foot spacers (no. {on_wall[0].number}), {thick} thick, to the wall: {places} from the left corner, "
        f"lower edge {heights} above the floor."
    ]


def seen_steps(plan: Plan, hung: LeafHang, words: Words) -> list[str]:
    """The wall half's face where openings of the backer look on to it; nothing where none does."""
    seen = seen_wall_half(plan.body.of(hung.leaf, hung.copy))
    if not seen:
        return []
    places = listed([f"{words.bare(start)} to {words.bare(stop)}" for start, stop, _ in seen])
    area = words.area_mm2(sum((stop - start) * high for start, stop, high in seen) / 1e12)
    coats = count_of(plan.brief.paint.coats, "coat")
    metal = plan.brief.cleat.kind == "metal"
    bare = "Leave the hook bare." if metal else "Mask the bevel: it stays bare for the wax."
    return [
        f"Openings of the backer look on to the wall half's face. Paint the face on the wall, screw heads too, over "
        f"its whole height: from {places} {words.unit} from the left corner of the wall, {area}. It gets "
        f"{coats} of the "
        f"ground's colour, {plan.paint.ground.name}, out of the backer's tin and in its rounds. {bare}"
    ]
