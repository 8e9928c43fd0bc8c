"""Where a thing with screws in the wall has room behind the backer, and what is bought for it."""

from __future__ import annotations

from bossage.body.build import HARDWARE, boxed
from bossage.body.records import MadeAt, Part, Role
from bossage.body.site import Site, in_the_way, obstacles_of
from bossage.body.solids import Cuboid
from bossage.layout.place import Room
from bossage.layout.rect import Rect
from bossage.zones import LEAST_CLEAR_NM, Zone, heeded


def room_behind(
    site: Site, parts: list[Part], wide: int, high: int, *, drilled: bool, into_stud: bool = False
) -> Room | None:
    """Where a box as deep as the stand-off has a place behind the backer; if `drilled`, outside every zone."""
    m = site.mount
    if wide > m.width or high > m.height:
        return None
    solids = [p for p in parts if p.role is not Role.BACKER]
    blocked = [*in_the_way(site, obstacles_of(solids, site.hidden), 0, site.stand_off_nm)]
    if drilled:
        blocked += [_kept_off(zone) for zone in heeded(site.zones, site.brief.wall, into_stud=into_stud)]
    return Room(x_low=m.x, x_high=m.right - wide, y_low=m.y, y_high=m.top - high, obstacles=tuple(blocked))


def _kept_off(zone: Zone) -> Rect:
    """The reach of a zone and what a fixing stands clear of it."""
    x0, x1, y0, y1 = zone.box_nm
    return Rect(x0 - LEAST_CLEAR_NM, y0 - LEAST_CLEAR_NM, x1 - x0 + 2 * LEAST_CLEAR_NM, y1 - y0 + 2 * LEAST_CLEAR_NM)


def bought_part(site: Site, role: Role, box: Cuboid) -> Part:
    """A part off the shop's shelf, as the box that it needs."""
    return boxed(site, role, box, material=HARDWARE, made_at=MadeAt.BOUGHT, moves=False)
