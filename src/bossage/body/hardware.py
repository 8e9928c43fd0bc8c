"""Bought parts with a place: hinges, stays, a catch, an anti-lift lock, each as the box that it needs."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.body.build import HARDWARE, boxed
from bossage.body.records import MadeAt, Part, Role
from bossage.body.site import Site, in_the_way, obstacles_of
from bossage.body.solids import Cuboid
from bossage.brief.records import EdgeStyle, Side
from bossage.layout.place import Room, nearest_place
from bossage.units import NM_PER_MM

HINGE_INSET_NM = 50 * NM_PER_MM
"""Middle of a hinge from the end of its stile; common practice, no source."""

HINGE_HEIGHT_NM = 40 * NM_PER_MM
KNUCKLE_NM = 6 * NM_PER_MM
CATCH_NM = (15 * NM_PER_MM, 30 * NM_PER_MM)
"""Sizes of small hardware: ours, roomy for what hardware shops sell."""


def hardware_parts(site: Site, parts: list[Part]) -> list[Part]:
    """Hinges, stays and a catch of a leaf that swings; the lock of one that lifts off."""
    found: list[Part] = []
    if site.lifts:
        if site.brief.access.lock:
            found += _small(site, parts, Role.LOCK, (site.backer.right, site.backer.y))
        return found
    found += _hinges(site, parts)
    upright = site.brief.access.hinge in (Side.LEFT, Side.RIGHT)
    b = site.backer
    far = {
        Side.LEFT: (b.right, b.y + b.height // 2),
        Side.RIGHT: (b.x, b.y + b.height // 2),
        Side.TOP: (b.x + b.width // 2, b.y),
        Side.BOTTOM: (b.x + b.width // 2, b.top),
    }[site.brief.access.hinge]
    found += _small(site, [*parts, *found], Role.CATCH, far)
    if not upright:
        for x in (b.x, b.right):
            found += _small(site, [*parts, *found], Role.STAY, (x, b.y + b.height // 2))
    return found


def hinge_stile(site: Site, parts: list[Part]) -> Part | None:
    """The stile nearest to the side that the leaf is hung on; None where there is none or the axis is level."""
    side = site.brief.access.hinge
    stiles = [p for p in parts if p.role is Role.STILE]
    if side not in (Side.LEFT, Side.RIGHT) or not stiles:
        return None
    return min(stiles, key=lambda p: p.from_x_nm if side is Side.LEFT else -p.to_x_nm)


def _hinges(site: Site, parts: list[Part]) -> Iterator[Part]:
    """Two boxes from the axis, at the outer edge of the leaf, to the stile or the backer's edge."""
    leaf, side, back = site.leaf, site.brief.access.hinge, site.stand_off_nm
    if site.brief.edge.style is EdgeStyle.OUTRIGGER:
        back -= site.brief.edge.strip_thickness_nm
    stile = hinge_stile(site, parts)
    b = site.backer
    half = HINGE_HEIGHT_NM // 2
    if side in (Side.LEFT, Side.RIGHT):
        low, high = (stile.box.y0, stile.box.y1) if stile else (b.y, b.top)
        inner = (
            (stile.from_x_nm if side is Side.LEFT else stile.to_x_nm)
            if stile
            else (b.x if side is Side.LEFT else b.right)
        )
        span = (leaf.x_nm - KNUCKLE_NM, inner) if side is Side.LEFT else (inner, leaf.x_nm + leaf.width_nm + KNUCKLE_NM)
        for middle in (high - HINGE_INSET_NM, low + HINGE_INSET_NM):
            yield _bought(site, Role.HINGE, Cuboid(*span, middle - half, middle + half, 0, back))
        return
    top = leaf.y_nm + leaf.height_nm
    span = (leaf.y_nm - KNUCKLE_NM, b.y) if side is Side.BOTTOM else (b.top, top + KNUCKLE_NM)
    for middle in (b.x + HINGE_INSET_NM, b.right - HINGE_INSET_NM):
        yield _bought(site, Role.HINGE, Cuboid(middle - half, middle + half, *span, 0, back))


def _small(site: Site, parts: list[Part], role: Role, wish: tuple[int, int]) -> Iterator[Part]:
    wide, high = CATCH_NM
    b = site.backer
    room = Room(
        x_low=b.x,
        x_high=b.right - wide,
        y_low=b.y,
        y_high=b.top - high,
        obstacles=tuple(
            in_the_way(
                site, obstacles_of([p for p in parts if p.role is not Role.BACKER], site.hidden), 0, site.stand_off_nm
            )
        ),
    )
    spot = nearest_place((wish[0] - wide // 2, wish[1] - high // 2), wide, high, room)
    if spot is not None:
        yield _bought(site, role, Cuboid(spot[0], spot[0] + wide, spot[1], spot[1] + high, 0, site.stand_off_nm))


def _bought(site: Site, role: Role, box: Cuboid) -> Part:
    return boxed(site, role, box, material=HARDWARE, made_at=MadeAt.BOUGHT, moves=False)
