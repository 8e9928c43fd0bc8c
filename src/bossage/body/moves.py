"""The path by which a leaf comes off, swept against all that stands still, and the first thing that it meets.

A leaf that hangs is lifted until the bevel is clear and then drawn out; on each straight stretch a convex cross-section
sweeps the hull of its two ends, which is exact. A leaf that swings turns about its axis in steps of a degree; between
two steps a corner stays within the hull of both but for a sagitta of 0.04 mm for each metre of its radius.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from bossage.body.records import Move, Part, Role
from bossage.body.site import Site, fixture_solids
from bossage.body.solids import Corner, around, depth_shared_nm, hull, rectangle, swept
from bossage.units import NM_PER_MM

PAST_NM = 10 * NM_PER_MM  # drawn out until it is so far before all that stays on the wall
STEP_DEG = 1
RELEASED = (Role.BUTTON, Role.HINGE, Role.STAY)  # let go before the leaf moves, or move with it


@dataclass(frozen=True, slots=True)
class Thing:
    """Something that moves or stands still, with its name."""

    name: str
    x0: int
    x1: int
    outline: tuple[Corner, ...]


def moves_of(site: Site, parts: Iterable[Part], others: Iterable[Thing]) -> tuple[Move, ...]:
    """What the leaf meets on its way, each thing once, at its first; an entry with nothing met where it comes free.

    Args:
        site: The leaf.
        parts: Its parts, named.
        others: Other leaves of the same copy, and what else stands still besides fixtures, furniture and room.
    """
    parts = tuple(parts)
    still = [
        *(Thing(p.name, p.from_x_nm, p.to_x_nm, p.outline_nm) for p in parts if not p.moves and p.role not in RELEASED),
        *(Thing(f.name, f.from_x_nm, f.to_x_nm, f.outline_nm) for f in fixture_solids(site.brief, site.leaf.copy)),
        *_room(site),
        *others,
    ]
    mine = [Thing(p.name, p.from_x_nm, p.to_x_nm, p.outline_nm) for p in parts if p.moves and p.role not in RELEASED]
    mine.append(blocks_of(site))
    how = "up and out" if site.lifts else "round its hinge"
    met = list(_lifted(site, mine, still) if site.lifts else _swung(site, mine, still))
    seen: dict[str, Move] = {}
    for part, thing, at in met:
        seen.setdefault(thing, Move(leaf=site.leaf.name, copy=site.leaf.copy, how=how, part=part, meets=thing, at=at))
    free = Move(leaf=site.leaf.name, copy=site.leaf.copy, how=how, part="", meets="", at="")
    return tuple(seen.values()) or (free,)


def blocks_of(site: Site) -> Thing:
    """All blocks of the leaf as one box, as deep as the highest level."""
    leaf, back = site.leaf, site.stand_off_nm
    deep = back + site.brief.backer.thickness_nm + max(site.brief.blocks.levels_nm)
    outline = rectangle(leaf.y_nm, leaf.y_nm + leaf.height_nm, back, deep)
    return Thing("the blocks", leaf.x_nm, leaf.x_nm + leaf.width_nm, outline)


def _room(site: Site) -> Iterator[Thing]:
    """Ceiling, side walls, floor and furniture."""
    wall, far = site.brief.wall, 10_000 * NM_PER_MM
    yield Thing("the ceiling", -far, far, rectangle(wall.height_nm, wall.height_nm + far, 0, far))
    yield Thing("the floor", -far, far, rectangle(-far, 0, 0, far))
    yield Thing("the left side wall", -far, 0, rectangle(-far, far, 0, far))
    yield Thing("the right side wall", wall.width_nm, wall.width_nm + far, rectangle(-far, far, 0, far))
    for one in site.brief.furniture:
        outline = rectangle(one.bottom_nm, one.top_nm, one.near_nm, max(one.far_nm, one.near_nm + 1))
        yield Thing(f"the {one.name}", one.x_nm, one.right_nm, outline)


def _lifted(site: Site, mine: list[Thing], still: list[Thing]) -> Iterator[tuple[str, str, str]]:
    up = site.lift_nm
    out = max((max(z for _, z in thing.outline) for thing in still if _near(thing, site)), default=0) + PAST_NM
    for way, first, second in (("as it is lifted", (0, 0), (up, 0)), ("as it is drawn out", (up, 0), (up, out))):
        for moved in mine:
            start = tuple((y + first[0], z + first[1]) for y, z in moved.outline)
            path = swept(start, second[0] - first[0], second[1] - first[1])
            for thing in still:
                if moved.x0 < thing.x1 and thing.x0 < moved.x1 and _shares(path, thing.outline):
                    yield moved.name, thing.name, way


def _near(thing: Thing, site: Site) -> bool:
    """Whether it stands on the wall behind the leaf: the leaf is drawn out past it."""
    leaf, depth = site.leaf, site.stand_off_nm
    across = thing.x0 < leaf.x_nm + leaf.width_nm and leaf.x_nm < thing.x1
    return across and max(z for _, z in thing.outline) <= depth


def _swung(site: Site, mine: list[Thing], still: list[Thing]) -> Iterator[tuple[str, str, str]]:
    swing = site.swing
    upright, flip, axis = swing.upright, swing.sign < 0, (swing.axis_nm, swing.axis_z_nm)
    steps = [*range(0, math.floor(site.brief.access.angle_deg), STEP_DEG), site.brief.access.angle_deg]
    walls = [*still, Thing("the wall", -(10**13), 10**13, rectangle(-(10**13), 10**13, -(10**13), 0))]
    for moved in mine:
        shape, span = plane_of(moved, upright)
        near = [(thing.name, *plane_of(thing, upright)) for thing in walls]
        near = [one for one in near if span[0] < one[2][1] and one[2][0] < span[1]]
        boxes = {name: around(*along, outline) for name, outline, along in near}
        before = None
        for angle in steps:
            now = [turned(point, axis, angle, flip) for point in shape]
            if before is not None:
                path = hull([*before, *now])
                box = around(*span, path)
                for name, outline, _ in near:
                    if box.shared(boxes[name]).solid and _shares(path, outline, past_nm=1000):
                        yield moved.name, name, f"open to {angle:g}°"
            before = now


def plane_of(thing: Thing, upright: bool) -> tuple[tuple[Corner, ...], tuple[int, int]]:
    """Its cross-section at right angles to the axis, along the leaf and out, and its stretch along the axis."""
    ys, zs = [y for y, _ in thing.outline], [z for _, z in thing.outline]
    if upright:
        return rectangle(thing.x0, thing.x1, min(zs), max(zs)), (min(ys), max(ys))
    return rectangle(min(ys), max(ys), min(zs), max(zs)), (thing.x0, thing.x1)


def turned(point: Corner, axis: Corner, angle_deg: float, flip: bool) -> Corner:
    """A corner of `plane_of` with the leaf open so far; `flip`: hung on its right or upper edge."""
    along, out = (axis[0] - point[0]) if flip else (point[0] - axis[0]), point[1] - axis[1]
    angle = math.radians(angle_deg)
    there = along * math.cos(angle) - out * math.sin(angle)
    up = along * math.sin(angle) + out * math.cos(angle)
    return round(axis[0] - there if flip else axis[0] + there), round(axis[1] + up)


def _shares(one: tuple[Corner, ...], other: tuple[Corner, ...], *, past_nm: int = 0) -> bool:
    return depth_shared_nm(one, other) > past_nm
