"""Steps and parts of sentences of the hang sheet that follow from how the body stands on its wall."""

from __future__ import annotations

from bossage.body import Role
from bossage.brief.records import FixingKind
from bossage.hang.records import LeafHang, PanelFixing
from bossage.pack.drawings.hanging import still_of
from bossage.pack.words import Words, listed
from bossage.plan import Plan
from bossage.units import NM_PER_MM

BESIDE = (Role.RIB, Role.FRAME, Role.STILE)
BATTEN_COVER_NM = 3 * NM_PER_MM  # wood past the tip of a screw: ours
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


def heads_words(plan: Plan) -> str:
    """What kind of head: the leaf comes down close before the wall half."""
    if plan.brief.cleat.kind != "wood" or plan.brief.fixings.kind is FixingKind.HOLLOW:
        return ""
    return " Countersunk heads, sunk flush: the leaf comes down close before them."


def between_steps(plan: Plan, hung: LeafHang, words: Words) -> list[str]:
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
        "from the left corner, and bring it down between them."
    )
    if left is None or right is None or max(left, right) > CLOSE_NM:
        return [marks]
    return [
        f"The leaf takes the wall half between its own parts, with {words.length(left)} to spare at the left and "
        f"{words.length(right)} at the right. {marks}"
    ]


def batten_words(plan: Plan, hung: LeafHang, panel: PanelFixing, words: Words) -> str:
    """Two battens on the glue face of each loose panel half, from which weights hang: its back lies on the wall.

    They sit where two of its screws go later, those nearest to a quarter of its length from each end.
    """
    leaf = next(one for one in plan.layout.leaves if one.name == hung.leaf and one.copy == hung.copy)
    halves = [part for part in plan.body.of(hung.leaf, hung.copy) if part.role is Role.PANEL_HALF]
    told = []
    for half in halves:
        long = half.to_x_nm - half.from_x_nm
        from_end = [screw.from_leaf_left_nm + leaf.x_nm - half.from_x_nm for screw in panel.screws]
        mine = [x for x in from_end if 0 <= x <= long]
        chosen = {_nearest(mine, at) for at in (long // 4, long - long // 4) if mine}
        told.append(f"{listed([words.bare(x) for x in sorted(chosen)])} {words.unit} from its left end")
    where = "; ".join(dict.fromkeys(told))
    screw = words.screw(panel.gauge, panel.length_nm)
    if panel.from_front:
        thick, way = panel.under_head_nm, "through the batten, head flush"
        holes = ("through the batten", "into the panel half")
    else:
        thick, way = panel.thread_nm + BATTEN_COVER_NM, "from the face at the wall, head flush"
        holes = ("through the panel half", "into the batten")
    bits = ""
    if panel.lead_hole_mm:
        wide, thin = words.drill(panel.clearance_hole_mm), words.drill(panel.lead_hole_mm)
        bits = f" Bits: {wide} {holes[0]}, {thin} {words.length(panel.thread_nm)} deep {holes[1]}."
    return (
        f"Screw two upright battens, {words.length(thick)} thick and no thinner, to its glue face at two places of its "
        f"later screws: {where}, seen from the glue face. Each takes one of those screws, {screw}, {way}.{bits}"
    )


def _nearest(places_nm: list[int], at_nm: int) -> int:
    return min(places_nm, key=lambda x: abs(x - at_nm))


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


def seen_words(plan: Plan, hung: LeafHang) -> str:
    """That the wall half shows through openings of the backer; nothing where it does not."""
    backer = next(p for p in plan.body.of(hung.leaf, hung.copy) if p.role is Role.BACKER)
    shows = any(
        x0 < half.to_x_nm and half.from_x_nm < x1 and y0 < half.box.y1 and half.box.y0 < y1
        for half in still_of(plan, hung, Role.WALL_HALF)
        for x0, y0, x1, y1 in backer.openings_nm
    )
    return " Openings of the backer look onto its face: give that the ground's colour first." if shows else ""
