"""The stage: every solid part behind the blocks and on the wall, its place, its joints, its way off, its air."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from bossage.body.air import ways_of
from bossage.body.checks import (
    all_placed,
    check_clashes,
    check_joints,
    check_moves,
    check_places,
    check_ways,
    check_wishes,
)
from bossage.body.clashes import clashes_of, door_clashes
from bossage.body.hardware import hardware_parts, without_place
from bossage.body.joints import joints_of
from bossage.body.moves import Thing, blocks_of, moves_of
from bossage.body.naming import named
from bossage.body.order import order_of_making
from bossage.body.place import FOOT_HEIGHT_NM, Draft, place_leaf
from bossage.body.records import Body, Choice, Clash, LeftOver, Part, Role, Wants
from bossage.body.site import Site, fixture_solids
from bossage.body.slots import with_slots
from bossage.body.wants import smallest_wants
from bossage.body.words import Voice
from bossage.body.working_space import check_spaces
from bossage.brief.records import Brief
from bossage.checks import Check
from bossage.layout.records import Layout, Leaf


def plan_body(brief: Brief, layout: Layout, *, may_ask: bool = True) -> Body | Wants:
    """Every solid part of the piece but its blocks, placed by search, or what the layout would have to give.

    Args:
        brief: Fixtures, edge, backer, cleat, what lies behind, how it opens.
        layout: Leaves with their backers, open cells, stand-off.
        may_ask: Whether the layout may be asked for another size or place, where the brief leaves these open.

    Returns:
        The body. Where a part has no place the body says so in a check that stops, with the smallest change that would
        do, and is complete but for that part. `Wants` where the brief leaves that change to be found.

    Leaves out:
        Screws: how many and where is found by `hang`, which knows the mass.
    """
    voice = Voice(brief)
    sites = [Site(brief, layout, leaf, n) for n, leaf in enumerate(layout.leaves)]
    drafts = _placed(brief, sites)
    wants: Wants | None = None
    if any(not draft.whole for draft in drafts):
        lacking = next((s, d) for s, d in zip(sites, drafts, strict=True) if not d.whole)
        wants = smallest_wants(brief, lacking[1].reason(lacking[0]))
        if wants is not None and wants.open and may_ask:
            return wants
    leaves = [named(_finished(site, draft)) for site, draft in zip(sites, drafts, strict=True)]
    joints = [joints_of(brief, parts) for parts in leaves]
    ways = tuple(way for site, parts in zip(sites, leaves, strict=True) for way in ways_of(site, parts))
    moves = tuple(
        move
        for n, (site, parts) in enumerate(zip(sites, leaves, strict=True))
        for move in moves_of(site, parts, _others(sites, leaves, n))
    )
    clashes = tuple(
        clash
        for copy in dict.fromkeys(leaf.copy for leaf in layout.leaves)
        for clash in _clashes(brief, tuple(p for parts in leaves for p in parts if p.copy == copy), copy)
    )
    left = tuple(_left_over(site, draft, parts) for site, draft, parts in zip(sites, drafts, leaves, strict=True))
    firsts = [n for n, leaf in enumerate(layout.leaves) if leaf.copy == 1]
    checks: list[Check] = []
    for n in firsts:
        checks += check_places(brief, drafts[n], sites[n], wants, left[n], voice)
        checks += check_joints(leaves[n], joints[n], voice)
    checks += check_spaces(sites, leaves, voice)
    # what a cleat runs into that has no place is told by `body_place`
    forced = {sites[n].leaf.name for n in firsts if drafts[n].forced}
    parts = tuple(part for parts in leaves for part in parts)
    choices = tuple(
        choice for site, draft, held in zip(sites, drafts, leaves, strict=True) for choice in _choice(site, draft, held)
    )
    settled = [choice for choice in choices if choice.copy == 1 and choice.leaf not in forced]
    if all(draft.whole for draft in drafts):
        checks += check_wishes(brief, settled[:1], voice)
        if not any(left):
            checks.append(all_placed(voice))
    checks += check_clashes(tuple(c for c in clashes if c.copy == 1 and c.leaf not in forced), parts, voice)
    checks += check_moves(tuple(m for m in moves if m.copy == 1 and m.leaf not in forced), brief, layout, voice)
    checks += check_ways(tuple(w for w in ways if w.copy == 1), voice)
    return Body(
        parts=parts,
        fixtures=tuple(
            solid
            for copy in dict.fromkeys(leaf.copy for leaf in layout.leaves)
            for solid in fixture_solids(brief, copy)
        ),
        joints=tuple(joint for held in joints for joint in held),
        ways=ways,
        moves=moves,
        clashes=clashes,
        left_over=tuple(one for held in left for one in held),
        choices=choices,
        steps=tuple(step for n in firsts for step in order_of_making(leaves[n], joints[n])),
        checks=tuple(checks),
    )


def _placed(brief: Brief, sites: list[Site]) -> list[Draft]:
    """A draft for each leaf; a copy that hides the same as the first is drafted once."""
    alike = not any(fixture.copies for fixture in brief.fixtures)
    drafts: dict[str, Draft] = {}
    found = []
    for site in sites:
        draft = drafts.get(site.leaf.name) if alike else None
        if draft is None:
            draft = place_leaf(site)
            drafts[site.leaf.name] = draft
        found.append(draft)
    return found


def _finished(site: Site, draft: Draft) -> list[Part]:
    """The draft's parts with slots for air and with hardware, all of this copy."""
    parts = with_slots(site, [replace(part, copy=site.leaf.copy) for part in draft.parts])
    return [*parts, *hardware_parts(site, parts)]


def _others(sites: list[Site], leaves: list[tuple[Part, ...]], number: int) -> Iterator[Thing]:
    """Blocks and parts of the other leaves of the same copy that are near."""
    me = sites[number].leaf
    for site, parts in zip(sites, leaves, strict=True):
        other = site.leaf
        if other.copy != me.copy or other.name == me.name or not _near(me, other):
            continue
        blocks = blocks_of(site)
        yield Thing(f"leaf {other.name}", blocks.x0, blocks.x1, blocks.outline)
        for part in parts:
            if part.role in (Role.WALL_HALF, Role.WALL_PACKER, Role.POST, Role.KEEPER):
                yield Thing(f"{part.name} of {other.name}", part.from_x_nm, part.to_x_nm, part.outline_nm)


def _near(one: Leaf, other: Leaf) -> bool:
    """Whether one could meet the other on its way: no further off than it is wide or high."""
    across = max(one.x_nm - other.x_nm - other.width_nm, other.x_nm - one.x_nm - one.width_nm)
    up = max(one.y_nm - other.y_nm - other.height_nm, other.y_nm - one.y_nm - one.height_nm)
    return across < one.width_nm and up < one.height_nm


def _clashes(brief: Brief, parts: tuple[Part, ...], copy: int) -> Iterator[Clash]:
    yield from clashes_of(parts, fixture_solids(brief, copy))
    yield from door_clashes(parts, brief.fixtures, copy)


def _left_over(site: Site, draft: Draft, parts: tuple[Part, ...]) -> tuple[LeftOver, ...]:
    in_its_way = "cleat, foot spacer, openings or what is hidden are in its way"
    left = [(one.part.name, in_its_way, one.longest_nm) for one in draft.homeless]
    if draft.whole:
        left += [(name, why, 0) for name, why in without_place(site, parts)]
    return tuple(
        LeftOver(leaf=site.leaf.name, copy=site.leaf.copy, name=name, why=why, longest_nm=longest)
        for name, why, longest in left
    )


def _choice(site: Site, draft: Draft, parts: tuple[Part, ...]) -> Iterator[Choice]:
    cleats = draft.cleats
    if cleats is None:
        return
    bearing = sorted(
        (p for p in parts if p.role in (Role.FRAME, Role.STILE, Role.FOOT, Role.RIB) and p.box.z0 == 0),
        key=lambda p: (p.box.y0 + p.box.y1, p.from_x_nm),
    )
    lying = [p for p in bearing if p.length_nm >= p.box.y1 - p.box.y0]
    foot = next(iter([*lying, *bearing]), None)
    lowest = _bears_at(foot) if foot is not None else site.mount.y + FOOT_HEIGHT_NM // 2  # of a foot without a place
    arm = cleats.line_nm - lowest
    yield Choice(
        leaf=site.leaf.name,
        copy=site.leaf.copy,
        words=cleats.words,
        reasons=draft.reasons(site),
        runners=draft.runners,
        pieces_nm=cleats.pieces,
        wall_pieces_nm=cleats.wall_pieces,
        line_nm=cleats.line_nm,
        back_nm=cleats.back_nm,
        arm_nm=max(1, arm),
        leaf_middle_nm=site.leaf.x_nm + site.leaf.width_nm // 2,
        free_studs_nm=site.free_studs(cleats.line_nm),
        bears_on=foot.name if foot is not None else "",
    )


def _bears_at(part: Part) -> int:
    """Where a part bears on the wall: in its middle when it lies, at its foot when it stands."""
    box = part.box
    if part.length_nm >= box.y1 - box.y0:
        return (box.y0 + box.y1) // 2
    return box.y0 + min((box.y1 - box.y0) // 2, 20_000_000)
