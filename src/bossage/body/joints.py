"""Which part holds which, how, over which area; and whether every part has a way to the backer or to the wall."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator

from bossage.body.records import WALL, How, Joint, Part, Role
from bossage.body.solids import Corner
from bossage.brief.records import Brief

MM2 = 1e12

#: Parts that lie on the back of the backer, or on one that does, and how they are held there.
ON_THE_BACK = {
    Role.STRIP: How.GLUE,  # it goes on last: the field lies over the face that screws would come from
    Role.RIB: How.GLUE_AND_SCREWS,
    Role.FRAME: How.GLUE_AND_SCREWS,
    Role.STILE: How.GLUE_AND_SCREWS,
    Role.HINGE_STILE: How.GLUE_AND_SCREWS,
    Role.STOP: How.GLUE_AND_SCREWS,
    Role.STAY_BLOCK: How.GLUE_AND_SCREWS,
    Role.PACKER: How.GLUE,  # the screws of the panel half pass through it later
    Role.FILLER: How.GLUE_AND_SCREWS,
    Role.PANEL_HALF: How.GLUE_AND_SCREWS,
    Role.FOOT: How.GLUE,
    Role.LEDGE: How.GLUE_AND_SCREWS,
}
#: Bought parts on the wall that hold something of the leaf without being fixed to it.
HOOKED = (Role.BUTTON, Role.STAY)
BEARS = (Role.FRAME, Role.STILE, Role.STOP, Role.FOOT, Role.RIB)


def joints_of(brief: Brief, parts: tuple[Part, ...]) -> tuple[Joint, ...]:
    """Every joint of one leaf, from what touches what. Parts are those of one leaf, named."""
    return tuple(_joints(brief, parts))


def _joints(brief: Brief, parts: tuple[Part, ...]) -> Iterator[Joint]:
    backer = next(p for p in parts if p.role is Role.BACKER)
    for one in parts:
        if one.moves and one.role in ON_THE_BACK:
            yield from _on_the_back(brief, one, parts)
        elif one.role is Role.LIPPING:
            yield _joint(one, backer.name, How.GLUE, side_area_nm2(one, backer))
        elif one.role in (Role.WALL_HALF, Role.WALL_PACKER, Role.FOOT):
            yield from _on_the_wall(one, parts)
        elif one.role in (Role.POST, Role.STAY_BLOCK):
            yield _joint(one, WALL, How.SCREWS, float(_xy_nm2(one)))
        elif one.role is Role.HINGE:
            yield _joint(one, _only(parts, Role.POST).name, How.SCREWS, 0.0)
            yield _joint(one, _only(parts, Role.HINGE_STILE).name, How.HINGE, 0.0)
        elif one.role is Role.CATCH:
            yield _joint(one, _beside(one, parts).name, How.SCREWS, 0.0)
        elif one.role is Role.KEEPER:
            yield _joint(one, WALL, How.GLUE if one.label else How.SCREWS, float(_xy_nm2(one)))
            yield _joint(one, _only(parts, Role.CATCH).name, How.HOOK, 0.0)
        elif one.role in HOOKED:
            yield from _hooked(one, parts)
        if one.moves and one.box.z0 == 0 and one.role in BEARS:
            yield _joint(one, WALL, How.BEARING, float(_xy_nm2(one)))
    yield from _bevels(parts)


def _on_the_back(brief: Brief, one: Part, parts: tuple[Part, ...]) -> Iterator[Joint]:
    """A part holds on whatever its front touches: the backer, a packer, a filler, a layer of its own kind."""
    how = ON_THE_BACK[one.role]
    # wood glue holds no metal
    if one.role is Role.PANEL_HALF and (brief.cleat.kind == "metal" or not brief.fixings.panel_glued):
        how = How.SCREWS
    for other in parts:
        if other is one or not other.moves:
            continue
        area = face_area_nm2(one, other)
        if area:
            yield _joint(one, other.name, how, area)


def _on_the_wall(one: Part, parts: tuple[Part, ...]) -> Iterator[Joint]:
    if one.box.z0 == 0:
        yield _joint(one, WALL, How.SCREWS, float(_xy_nm2(one)))
        if one.role is Role.FOOT:
            yield from (
                _joint(one, other.name, How.BEARING, area)
                for other in parts
                if other.role is Role.BACKER and (area := face_area_nm2(one, other))
            )
        return
    for other in parts:
        if not other.moves and other.role is not one.role and other.box.z1 == one.box.z0:
            area = face_area_nm2(other, one)
            if area:
                yield _joint(one, other.name, How.SCREWS, area)


def _bevels(parts: tuple[Part, ...]) -> Iterator[Joint]:
    """Both halves of a cleat where their bevels lie on one another."""
    for panel in (p for p in parts if p.role is Role.PANEL_HALF):
        for wall in (p for p in parts if p.role is Role.WALL_HALF):
            along = min(panel.to_x_nm, wall.to_x_nm) - max(panel.from_x_nm, wall.from_x_nm)
            slope = _slope_nm(panel.outline_nm, wall.outline_nm)
            if along > 0 and slope > 0:
                yield _joint(panel, wall.name, How.BEVEL, along * slope)


def _slope_nm(panel: tuple[Corner, ...], wall: tuple[Corner, ...]) -> float:
    """Length of the bevel that both cross-sections share: the edge between the same two corners."""
    shared = [corner for corner in panel if corner in wall]
    if len(shared) != 2:
        return 0.0
    (y0, z0), (y1, z1) = shared
    return math.hypot(y1 - y0, z1 - z0)


def face_area_nm2(behind: Part, before: Part) -> float:
    """Area over which the front of one part lies on the back of the other, openings of the other taken out."""
    a, b = behind.box, before.box
    if a.z1 != b.z0:
        return 0.0
    x0, x1 = max(a.x0, b.x0), min(a.x1, b.x1)
    y0, y1 = contact_nm(behind, before)
    if x1 <= x0 or y1 <= y0:
        return 0.0
    out = sum(
        max(0, min(x1, ox1) - max(x0, ox0)) * max(0, min(y1, oy1) - max(y0, oy0))
        for ox0, oy0, ox1, oy1 in before.openings_nm
    )
    return float((x1 - x0) * (y1 - y0) - out)


def contact_nm(behind: Part, before: Part) -> tuple[int, int]:
    """From and to, over the floor, of where the front of one part may lie on the back of the other."""
    z0, z1 = behind.box.z1, before.box.z0
    return max(_low_at(behind, z0), _low_at(before, z1)), min(_high_at(behind, z0), _high_at(before, z1))


def side_area_nm2(one: Part, other: Part) -> float:
    """Area over which the sides of two boxes touch, across or up."""
    a, b = one.box, other.box
    deep = min(a.z1, b.z1) - max(a.z0, b.z0)
    if deep <= 0:
        return 0.0
    across = min(a.x1, b.x1) - max(a.x0, b.x0)
    up = min(a.y1, b.y1) - max(a.y0, b.y0)
    if across == 0 and up > 0:
        return float(up * deep)
    if up == 0 and across > 0:
        return float(across * deep)
    return 0.0


def _low_at(part: Part, z: int) -> int:
    return min(y for y, depth in part.outline_nm if depth == z)


def _high_at(part: Part, z: int) -> int:
    return max(y for y, depth in part.outline_nm if depth == z)


def _xy_nm2(part: Part) -> int:
    box = part.box
    return (box.x1 - box.x0) * (box.y1 - box.y0)


def _hooked(one: Part, parts: tuple[Part, ...]) -> Iterator[Joint]:
    """A chain beside post and stile is screwed to both; a stay to its two blocks; a lock's button to the wall."""
    if one.role is Role.STAY:
        blocks = [p for p in parts if p.role is Role.STAY_BLOCK and p.from_x_nm == one.from_x_nm]
        if blocks:
            yield from (_joint(one, p.name, How.HOOK if p.moves else How.SCREWS, 0.0) for p in blocks)
            return
    post = next((p for p in parts if p.role is Role.POST and side_area_nm2(one, p)), None)
    if post is None:
        yield _joint(one, WALL, How.SCREWS, float(_xy_nm2(one)))
        yield _joint(one, _only(parts, Role.LEDGE).name, How.HOOK, 0.0)
    else:
        yield _joint(one, post.name, How.SCREWS, 0.0)
        yield _joint(one, _only(parts, Role.HINGE_STILE).name, How.HOOK, 0.0)


def _only(parts: tuple[Part, ...], role: Role) -> Part:
    return next(part for part in parts if part.role is role)


def _beside(one: Part, parts: tuple[Part, ...]) -> Part:
    """The part of the leaf whose side a bought part lies against, over the larger area."""
    return max((p for p in parts if p.moves and p is not one), key=lambda p: side_area_nm2(one, p))


def _joint(one: Part, other: str, how: How, area_nm2: float) -> Joint:
    return Joint(leaf=one.leaf, copy=one.copy, a=one.name, b=other, how=how, area_mm2=area_nm2 / MM2)


def without_way(parts: tuple[Part, ...], joints: tuple[Joint, ...]) -> tuple[Part, ...]:
    """Parts with no way over joints: of the leaf to its backer, of the wall to the wall. Parts are of one leaf."""
    beside: dict[str, set[str]] = defaultdict(set)
    for joint in joints:
        if joint.how in (How.BEARING, How.BEVEL, How.HOOK):
            continue  # these only press or hang
        beside[joint.a].add(joint.b)
        beside[joint.b].add(joint.a)
    backer = next(p.name for p in parts if p.role is Role.BACKER)
    on_leaf, on_wall = _reached(beside, backer), _reached(beside, WALL)
    return tuple(p for p in parts if p.name not in (on_leaf if p.moves else on_wall))


def _reached(beside: dict[str, set[str]], start: str) -> set[str]:
    seen, edge = {start}, [start]
    while edge:
        for name in beside[edge.pop()] - seen:
            seen.add(name)
            edge.append(name)
    return seen
