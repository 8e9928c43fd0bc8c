"""Two stays of a leaf that turns about a level axis: each between a block on the wall and a block on the leaf.

The wall block is as thick as the hinge post, so that the same screw holds it. The leaf block is as thick as the rail
of the hinges, and the stay's screws go through it into the backer: the backer alone is too thin for them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from bossage.body.build import long_part, wood_of
from bossage.body.free import bought_part, room_behind
from bossage.body.records import Part, Role
from bossage.body.site import Site
from bossage.body.solids import Cuboid
from bossage.body.swing import STAY_BLOCK_NM
from bossage.layout.place import nearest_place
from bossage.units import NM_PER_MM

STAYS = "the pair of stays"
STAY_WIDE_NM = 40 * NM_PER_MM
"""Of a block, along the axis: ours, as `STAY_BLOCK_NM`."""

WALL_BLOCK, LEAF_BLOCK = "wall block", "leaf block"


def stay_parts(site: Site, parts: list[Part]) -> list[Part]:
    """Both stays with their blocks, near the sides of the leaf; none where only one has a place."""
    spots = _spots(site, parts)
    return [part for spot in spots for part in _stay(site, *spot)] if len(spots) == 2 else []


def no_stays(site: Site) -> str:
    """Why there are none."""
    where = "in two studs, " if site.brief.into_studs else ""
    return f"there is no room for both behind the backer, {where}outside every zone where nothing is drilled"


def _spots(site: Site, parts: list[Part]) -> list[tuple[int, int]]:
    """Lower left corners: at either side, as near as may be to half the leaf; in studs where screws go into studs."""
    back, tall, studs = site.backer, 2 * STAY_BLOCK_NM, site.brief.into_studs
    room = room_behind(site, parts, STAY_WIDE_NM, tall, drilled=True, into_stud=studs)
    if room is None:
        return []
    wish = back.y + (back.height - tall) // 2
    if not studs:
        found = [nearest_place((x, wish), STAY_WIDE_NM, tall, room) for x in (back.x, back.right - STAY_WIDE_NM)]
    else:
        low = [x - STAY_WIDE_NM // 2 for x in sorted(site.brief.wall.studs_nm)]
        here = [x for x in low if room.x_low <= x <= room.x_high]
        found = [nearest_place((x, wish), STAY_WIDE_NM, tall, replace(room, x_low=x, x_high=x)) for x in here]
    placed = sorted(spot for spot in found if spot is not None)
    ends = [placed[0], placed[-1]] if placed else []
    return ends if all(b[0] - a[0] >= STAY_WIDE_NM for a, b in pairwise(ends)) else []


def _stay(site: Site, x: int, y: int) -> Iterator[Part]:
    """The wall block nearer to the axis, the stay before it, the leaf block further off."""
    swing, wood, across = site.swing, wood_of(site.brief), (x, x + STAY_WIDE_NM)
    halves = (y, y + STAY_BLOCK_NM), (y + STAY_BLOCK_NM, y + 2 * STAY_BLOCK_NM)
    near, far = halves if swing.sign > 0 else halves[::-1]
    wall = Cuboid(*across, *near, 0, swing.post_nm)
    leaf = Cuboid(*across, *far, site.stand_off_nm - swing.stile_nm, site.stand_off_nm)
    yield replace(long_part(site, Role.STAY_BLOCK, wall, wood, upright=True, label=WALL_BLOCK), moves=False)
    yield long_part(site, Role.STAY_BLOCK, leaf, wood, upright=True, label=LEAF_BLOCK)
    yield bought_part(site, Role.STAY, Cuboid(*across, *near, swing.post_nm, site.stand_off_nm))
