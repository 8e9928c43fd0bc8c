"""What shares volume that must not: parts with parts, and parts with fixtures and the air round them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from bossage.body.records import Clash, FixtureSolid, Part
from bossage.body.solids import Cuboid, depth_shared_nm
from bossage.brief.records import Fixture, Side


def clashes_of(parts: tuple[Part, ...], fixtures: Iterable[FixtureSolid]) -> tuple[Clash, ...]:
    """Every pair of one copy's solids that share volume. Leaves of one copy are looked at together.

    Args:
        parts: All parts of one copy.
        fixtures: Fixtures of that copy.
    """
    return (*_among(parts), *_with_fixtures(parts, tuple(fixtures)))


def _among(parts: tuple[Part, ...]) -> Iterator[Clash]:
    # swept from left to right: only parts that overlap along the wall are compared
    ordered = sorted(((p.from_x_nm, p.to_x_nm, p) for p in parts), key=lambda one: one[0])
    live: list[tuple[int, Part, Cuboid]] = []
    for start, stop, part in ordered:
        box = part.box
        live = [one for one in live if one[0] > start]
        for _, other, other_box in live:
            if other_box.y0 < box.y1 and box.y0 < other_box.y1 and other_box.z0 < box.z1 and box.z0 < other_box.z1:
                deep = shared_nm(part, other)
                if deep:
                    beside = "" if other.leaf == part.leaf else f" of {other.leaf}"
                    yield Clash(
                        leaf=part.leaf,
                        copy=part.copy,
                        a=f"{other.name}{beside}",
                        b=part.name,
                        deep_nm=deep,
                        air_only=False,
                    )
        live.append((stop, part, box))


def shared_nm(one: Part, other: Part) -> int:
    """How deep two parts lie in one another, in the direction where that is least; 0 where they share no volume.

    What they share inside an opening or a notch of either counts for nothing.
    """
    here, there = one.box, other.box
    shared = here.shared(there)
    if not shared.solid or _let_through(one, shared) or _let_through(other, shared):
        return 0
    if one.outline_nm == here.outline and other.outline_nm == there.outline:
        # of two boxes the depth along an edge normal: how far either would have to move
        out = min(here.z1 - there.z0, there.z1 - here.z0), min(here.y1 - there.y0, there.y1 - here.y0)
        return min(*out, shared.x1 - shared.x0)
    deep = depth_shared_nm(one.outline_nm, other.outline_nm)
    return max(1, round(min(deep, shared.x1 - shared.x0))) if deep else 0


def _let_through(part: Part, shared: Cuboid) -> bool:
    through = any(
        x0 <= shared.x0 and shared.x1 <= x1 and y0 <= shared.y0 and shared.y1 <= y1
        for x0, y0, x1, y1 in part.openings_nm
    )
    return through or any(
        x0 <= shared.x0 and shared.x1 <= x1 and z0 <= shared.z0 and shared.z1 <= z1
        for x0, x1, z0, z1 in part.notches_nm
    )


def _with_fixtures(parts: tuple[Part, ...], fixtures: tuple[FixtureSolid, ...]) -> Iterator[Clash]:
    for part in parts:
        box = part.box
        for fixture in fixtures:
            hard, air = box.shared(fixture.box), box.shared(fixture.air_box)
            if not air.solid or _let_through(part, air):
                continue
            body = depth_shared_nm(part.outline_nm, fixture.outline_nm) if hard.solid else 0.0
            deep = body or depth_shared_nm(part.outline_nm, fixture.air_nm)
            if deep:
                shared = hard if body else air
                yield Clash(
                    leaf=part.leaf,
                    copy=part.copy,
                    a=part.name,
                    b=fixture.name,
                    deep_nm=max(1, round(min(deep, shared.x1 - shared.x0))),
                    air_only=not body,
                )


def door_clashes(parts: tuple[Part, ...], fixtures: tuple[Fixture, ...], copy: int) -> tuple[Clash, ...]:
    """Parts that stay on the wall where a fixture's door swings, or over a screw of its cover."""
    return tuple(_at_doors(parts, fixtures, copy))


def _at_doors(parts: tuple[Part, ...], fixtures: tuple[Fixture, ...], copy: int) -> Iterator[Clash]:
    for fixture in fixtures:
        if fixture.copies and copy not in fixture.copies:
            continue
        for part in (p for p in parts if not p.moves):
            box = part.box
            deep = max(_in_swing_nm(box, fixture), _over_screw_nm(box, fixture))
            if deep:
                yield Clash(
                    leaf=part.leaf,
                    copy=copy,
                    a=part.name,
                    b=f"door of the {fixture.name}",
                    deep_nm=deep,
                    air_only=False,
                )


def _in_swing_nm(box: Cuboid, fixture: Fixture) -> int:
    """How far a box reaches into the quarter disc that the door sweeps, opened by 90 degrees about its hinge."""
    door = fixture.door
    if door is None or box.z1 <= door.plane_nm:
        return 0
    upright = door.hinge in (Side.LEFT, Side.RIGHT)
    # along the door from its hinge, and along the hinge itself
    along = (box.x0, box.x1) if upright else (box.y0, box.y1)
    beside = (box.y0, box.y1) if upright else (box.x0, box.x1)
    low, high = (fixture.y_nm, fixture.top_nm) if upright else (fixture.x_nm, fixture.right_nm)
    if beside[1] <= low or beside[0] >= high:
        return 0
    hinge = {
        Side.LEFT: fixture.x_nm,
        Side.RIGHT: fixture.right_nm,
        Side.BOTTOM: fixture.y_nm,
        Side.TOP: fixture.top_nm,
    }[door.hinge]
    forth = door.hinge in (Side.LEFT, Side.BOTTOM)
    across = (along[0] - hinge, along[1] - hinge) if forth else (hinge - along[1], hinge - along[0])
    if across[1] <= 0:
        return 0
    reach = door.width_nm if upright else fixture.height_nm
    near, near_z = max(0, across[0]), max(0, box.z0 - door.plane_nm)
    return max(0, round(reach - math.hypot(near, near_z)))


def _over_screw_nm(box: Cuboid, fixture: Fixture) -> int:
    return max(
        (
            min(x - box.x0, box.x1 - x, y - box.y0, box.y1 - y)
            for x, y in fixture.cover_screws_nm
            if box.x0 < x < box.x1 and box.y0 < y < box.y1
        ),
        default=0,
    )
