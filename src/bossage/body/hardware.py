"""Bought parts with a place, each as the box that it needs; and the block that a leaf shuts on where it has no stile.

A leaf that swings gets two butt hinges along the outer edges of post and stile, what keeps it from opening further, and
a magnetic catch: the magnet on the leaf, beside the part that the leaf shuts on, its keeper on the wall.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from bossage.body.build import long_part, wood_of
from bossage.body.free import bought_part, room_behind
from bossage.body.lock import SIZES, lock_parts, lock_size_nm
from bossage.body.records import Part, Role
from bossage.body.site import Site
from bossage.body.solids import Cuboid
from bossage.body.stays import STAYS, no_stays, stay_parts
from bossage.body.swing import CHAIN_NM, FLAP_SCREWS_NM
from bossage.brief.hinges import USUAL_EYE
from bossage.layout.place import nearest_place
from bossage.units import NM_PER_MM

CATCH_NM = (15 * NM_PER_MM, 46 * NM_PER_MM)
"""Out from the side that it is screwed to, and along it. Sizes of small hardware: ours, roomy for what shops sell."""

CATCH_DEEP_NM = 15 * NM_PER_MM
KEEPER_NM = 2 * NM_PER_MM
CATCH_AIR_NM = 2 * NM_PER_MM
"""Between magnet and keeper as drawn; the slots of the catch take it up when it is set. Ours."""

KEEPER_MARK_NM = CATCH_AIR_NM + NM_PER_MM
"""So far the catch is set forward while its keeper marks the wall: the keeper lands before the leaf does. Ours."""

PAST_NM = NM_PER_MM
"""Between the keeper and the part that shuts beside it: ours."""

EYE_APART_NM = 3 * NM_PER_MM
"""Wood between the tips of an eye and of a flap's screw that come from both edges: ours."""

STOPS_NM = ((40 * NM_PER_MM, 80 * NM_PER_MM), (25 * NM_PER_MM, 80 * NM_PER_MM), (18 * NM_PER_MM, 60 * NM_PER_MM))
"""Of the block that a leaf shuts on: along the leaf, and along the axis; the first that finds room. Ours."""

LOCK, CATCH = "the anti-lift lock", "the catch"
INSTEAD = {
    LOCK: "leave the lock out",
    CATCH: "may the leaf turn about another side, or shut on a part that stands elsewhere?",
}
"""What is advised where there is no place."""

NO_ROOM = "there is no room for it behind the backer"

GLUED_KEEPER = "glued keeper"
"""The word for a keeper that stands where nothing is drilled."""

SHUTS_ON = (Role.STILE, Role.FRAME, Role.STOP)


def hardware_parts(site: Site, parts: list[Part]) -> list[Part]:
    """Hinges, what stops the swing and a catch of a leaf that swings; the lock of one that lifts off."""
    if site.lifts:
        return list(_lock(site, parts)) if site.brief.access.lock else []
    found = list(_hinges(site))
    found += _shuts(site, [*parts, *found])
    if site.swing.upright:
        found += _chain(site, [*parts, *found])
    else:
        found += stay_parts(site, [*parts, *found])
    return found


def without_place(site: Site, parts: Iterable[Part]) -> Iterator[tuple[str, str]]:
    """What of all this has no place, and why; nothing where all is there."""
    there = {part.role for part in parts}
    if site.lifts:
        if site.brief.access.lock and Role.BUTTON not in there:
            yield LOCK, f"{NO_ROOM}, outside every zone where nothing is drilled"
        return
    if Role.CATCH not in there:
        yield CATCH, f"{NO_ROOM}, beside what the leaf shuts on"
    if Role.STAY not in there:
        if site.swing.upright:
            yield "the chain", f"{NO_ROOM} beside the hinge post"
        else:
            yield STAYS, no_stays(site)


def _lock(site: Site, parts: list[Part]) -> Iterator[Part]:
    """The turn button with its ledge, as near to the lower right corner of the backer as there is room."""
    size = lock_size_nm(SIZES[site.brief.piece.unit], site.lift_nm)
    spot = _free_spot(site, parts, size, (site.backer.right, site.backer.y))
    if spot is not None:
        yield from lock_parts(site, *spot)


def _hinges(site: Site) -> Iterator[Part]:
    """Two, each laid flat over the joint of post and stile along their outer edges, knuckle outward."""
    swing, butt = site.swing, site.brief.butt
    half, z = butt.height_nm // 2, swing.axis_z_nm
    for middle in swing.middles_nm:
        box = swing.box(
            (swing.edge_nm, swing.inward(-butt.knuckle_nm)),
            (middle - half, middle + half),
            z - butt.flap_nm,
            z + butt.flap_nm,
        )
        yield bought_part(site, Role.HINGE, box)


def _shuts(site: Site, parts: list[Part]) -> list[Part]:
    """The catch beside what the leaf shuts on, and its keeper; with a block to shut on where there is no such part."""
    on = _shut_on(site, parts)
    if on is not None:
        return _catch(site, parts, on)
    for size in STOPS_NM:
        made = _stop(site, parts, size)
        catch = _catch(site, [*parts, made], made) if made is not None else []
        if made is not None and catch:
            return [made, *catch]
    return []


def _shut_on(site: Site, parts: list[Part]) -> Part | None:
    """The part of the leaf's far half that reaches the wall and lies furthest from the axis, along it."""
    swing, b = site.swing, site.backer
    middle = b.x + b.width // 2 if swing.upright else b.y + b.height // 2
    far = [
        (swing.sign * _near(site, part), part)
        for part in parts
        if part.moves and part.role in SHUTS_ON and part.box.z0 == 0 and _along_axis(site, part)
    ]
    far = [one for one in far if one[0] > swing.sign * middle]
    return max(far, key=lambda one: one[0])[1] if far else None


def _near(site: Site, part: Part) -> int:
    """The side of a part that looks to the axis."""
    (low, high), _ = _spans(site, part.box)
    return low if site.swing.sign > 0 else high


def _along_axis(site: Site, part: Part) -> bool:
    (low, high), (first, last) = _spans(site, part.box)
    return last - first >= high - low and last - first >= CATCH_NM[1]


def _spans(site: Site, box: Cuboid) -> tuple[tuple[int, int], tuple[int, int]]:
    """Reach along the leaf, and along the axis."""
    across, up = (box.x0, box.x1), (box.y0, box.y1)
    return (across, up) if site.swing.upright else (up, across)


def _catch(site: Site, parts: list[Part], on: Part) -> list[Part]:
    """Magnet and keeper at the side that looks to the axis, as near to the middle of the part as there is room.

    The keeper stands outside every zone; where there is no room, in a zone, and is glued to the wall, not drilled.
    """
    swing, near = site.swing, _near(site, on)
    _, (first, last) = _spans(site, on.box)
    out, long = CATCH_NM
    low = near - out if swing.sign > 0 else near
    spots = [
        _spot(site, parts, low, (first, last), (out, long), (first + last) // 2, drilled=drilled)
        for drilled in (True, False)
    ]
    spot = spots[0] if spots[0] is not None else spots[1]
    if spot is None:
        return []
    label = GLUED_KEEPER if spots[0] is None else ""
    z0 = KEEPER_NM + CATCH_AIR_NM
    z1 = min(z0 + CATCH_DEEP_NM, site.stand_off_nm)
    axis = (spot, spot + long)
    kept = (low, low + out - PAST_NM) if swing.sign > 0 else (low + PAST_NM, low + out)
    return [
        replace(bought_part(site, Role.CATCH, swing.box((low, low + out), axis, z0, z1)), moves=True),
        replace(bought_part(site, Role.KEEPER, swing.box(kept, axis, 0, KEEPER_NM)), label=label),
    ]


def _stop(site: Site, parts: list[Part], size: tuple[int, int]) -> Part | None:
    """A block on the backer, as deep as the stand-off, at the far edge, with room for the catch beside it."""
    swing, mount = site.swing, site.mount
    (long, tall), out = size, CATCH_NM[0]
    far = mount.right if swing.upright else mount.top
    edge = far if swing.sign > 0 else (mount.x if swing.upright else mount.y)
    wide = long + out
    wish = edge - wide if swing.sign > 0 else edge
    middle = mount.y + mount.height // 2 if swing.upright else mount.x + mount.width // 2
    room = room_behind(site, parts, *((wide, tall) if swing.upright else (tall, wide)), drilled=False)
    if room is None:
        return None
    at = (wish, middle - tall // 2) if swing.upright else (middle - tall // 2, wish)
    spot = nearest_place(at, *((wide, tall) if swing.upright else (tall, wide)), room)
    if spot is None:
        return None
    low, first = spot if swing.upright else spot[::-1]
    along = (low + out, low + wide) if swing.sign > 0 else (low, low + long)
    box = swing.box(along, (first, first + tall), 0, site.stand_off_nm)
    return long_part(site, Role.STOP, box, wood_of(site.brief), upright=swing.upright)


def _chain(site: Site, parts: list[Part]) -> Iterator[Part]:
    """A chain between post and stile, at their inner edges: it stops the swing of an upright axis.

    Where an eye and a screw of a flap, which comes from the other edge, would meet, it stays between the hinges.
    """
    swing, inner = site.swing, site.hinge_inner_nm
    out, long = CHAIN_NM
    low = inner if swing.sign > 0 else inner - out
    half, reach = site.brief.butt.height_nm // 2, (swing.from_nm, swing.to_nm)
    if abs(inner - swing.edge_nm) < FLAP_SCREWS_NM[-1] + USUAL_EYE[site.brief.piece.unit].deep_nm + EYE_APART_NM:
        reach = min(swing.middles_nm) + half, max(swing.middles_nm) - half
    middle = sum(reach) // 2
    others = [p for p in parts if p.role not in (Role.POST, Role.HINGE_STILE)]
    spot = _spot(site, others, low, reach, (out, long), middle, drilled=False)
    if spot is not None:
        box = swing.box((low, low + out), (spot, spot + long), 0, site.stand_off_nm)
        yield replace(bought_part(site, Role.STAY, box), label="chain")


def _spot(
    site: Site, parts: list[Part], low: int, axis: tuple[int, int], size: tuple[int, int], middle: int, *, drilled: bool
) -> int | None:
    """The free place along the axis, nearest to a middle, of a box that stands at a given place along the leaf."""
    upright = site.swing.upright
    out, long = size
    wide, high = (out, long) if upright else (long, out)
    free = room_behind(site, parts, wide, high, drilled=drilled)
    if free is None:
        return None
    last = axis[1] - long
    if axis[0] > last:
        return None
    room = (
        replace(free, x_low=low, x_high=low, y_low=axis[0], y_high=last)
        if upright
        else replace(free, y_low=low, y_high=low, x_low=axis[0], x_high=last)
    )
    wish = (low, middle - long // 2) if upright else (middle - long // 2, low)
    spot = nearest_place(wish, wide, high, room)
    return None if spot is None else spot[1 if upright else 0]


def _free_spot(site: Site, parts: list[Part], size: tuple[int, int], wish: tuple[int, int]) -> tuple[int, int] | None:
    """Lower left corner of a box with a screw in the wall whose middle is as near to a wish as there is room."""
    wide, high = size
    room = room_behind(site, parts, wide, high, drilled=True)
    return None if room is None else nearest_place((wish[0] - wide // 2, wish[1] - high // 2), wide, high, room)
