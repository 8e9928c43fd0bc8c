"""How much air reaches what needs air, behind the backer: the narrowest cut on the way, once low down and once high up.

The space between wall and backer is cut into cells by the edges of everything that stands in it. Air passes from a cell
to the next through the depth that is free in both. The narrowest cut between the room and the fixture is the greatest
flow (max-flow min-cut theorem: Ford and Fulkerson 1956; solved by scipy's Dinic). Air comes in round the edge of the
leaf and through openings sawn in the backer; openings and edges under the fixture's middle count for the low way, those
over the middle for the high one.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from bossage.body.records import FixtureSolid, Part, Role, Way
from bossage.body.site import Site
from bossage.body.solids import Cuboid
from bossage.brief.records import Need
from bossage.layout.rect import Rect

UNIT_NM2 = 10**10  # flow is counted in hundredths of a square millimetre
MOST = 2**30


def ways_of(site: Site, parts: Iterable[Part]) -> tuple[Way, ...]:
    """Free areas, low and high, for each fixture behind this leaf that needs air; the wanted area is its own face."""
    needy = {f.name for f in site.brief.fixtures if Need.AIR in f.needs}
    solids = [p for p in parts if p.role is not Role.BACKER]
    found = []
    for fixture in site.hidden:
        if fixture.name not in needy:
            continue
        face = (fixture.to_x_nm - fixture.from_x_nm) * (fixture.box.y1 - fixture.box.y0)
        for side in ("low", "high"):
            found.append(
                Way(
                    fixture=fixture.name,
                    copy=fixture.copy,
                    leaf=site.leaf.name,
                    side=side,
                    free_mm2=_narrowest(site, solids, fixture, low=side == "low") * UNIT_NM2 / 1e12,
                    wanted_mm2=face / 1e12,
                )
            )
    return tuple(found)


def _narrowest(site: Site, solids: list[Part], fixture: FixtureSolid, *, low: bool) -> int:
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import maximum_flow

    leaf = site.leaf
    face = Cuboid(leaf.x_nm, leaf.x_nm + leaf.width_nm, leaf.y_nm, leaf.y_nm + leaf.height_nm, 0, site.stand_off_nm)
    boxes = [box for p in solids for box in open_boxes(p)]
    boxes += [f.box for f in site.hidden if f is not fixture]
    middle = (fixture.box.y0 + fixture.box.y1) // 2
    xs = _cuts((face.x0, face.x1), [c for b in (*boxes, fixture.air_box) for c in (b.x0, b.x1)], _xs(site.openings))
    ys = _cuts(
        (face.y0, face.y1), [c for b in (*boxes, fixture.air_box) for c in (b.y0, b.y1)], [*_ys(site.openings), middle]
    )
    zs = _cuts((0, face.z1), [c for b in boxes for c in (b.z0, b.z1)], [])
    free = _free(boxes, xs, ys, zs)
    deep = np.diff(zs)
    wide, tall = np.diff(xs), np.diff(ys)
    nx, ny = len(wide), len(tall)
    room, goal = nx * ny, nx * ny + 1
    node = np.arange(nx * ny).reshape(nx, ny)
    edges: list[tuple[int, int, int]] = []

    def add(a: int, b: int, area_nm2: int) -> None:
        capacity = min(MOST, area_nm2 // UNIT_NM2)
        if capacity:
            edges.append((a, b, capacity))

    passes_x = ((free[:-1] & free[1:]) * deep).sum(axis=2)
    passes_y = ((free[:, :-1] & free[:, 1:]) * deep).sum(axis=2)
    depth = (free * deep).sum(axis=2)
    for i in range(nx):
        for j in range(ny):
            if i + 1 < nx:
                add(node[i, j], node[i + 1, j], int(passes_x[i, j]) * int(tall[j]))
                add(node[i + 1, j], node[i, j], int(passes_x[i, j]) * int(tall[j]))
            if j + 1 < ny:
                add(node[i, j], node[i, j + 1], int(passes_y[i, j]) * int(wide[i]))
                add(node[i, j + 1], node[i, j], int(passes_y[i, j]) * int(wide[i]))
            at_x, at_y = int(xs[i] + xs[i + 1]) // 2, int(ys[j] + ys[j + 1]) // 2
            if (at_y < middle) is low:
                rim = (i in (0, nx - 1)) * int(tall[j]) + (j in (0, ny - 1)) * int(wide[i])
                opened = int(wide[i]) * int(tall[j]) if _in_any(site.openings, at_x, at_y) and depth[i, j] else 0
                add(room, node[i, j], rim * int(depth[i, j]) + opened)
            box = fixture.air_box
            if box.x0 < at_x < box.x1 and box.y0 < at_y < box.y1:
                edges.append((node[i, j], goal, MOST))
    if not edges:
        return 0
    a, b, capacity = (np.array(column) for column in zip(*edges, strict=True))
    graph = coo_array((capacity.astype(np.int32), (a, b)), shape=(goal + 1, goal + 1)).tocsr()
    return int(maximum_flow(graph, room, goal).flow_value)


def open_boxes(part: Part) -> list[Cuboid]:
    """A part as boxes, its notches left out: what lies beside and before each notch stays."""
    box = part.box
    cuts = sorted({box.x0, box.x1, *(x for x0, x1, _, _ in part.notches_nm for x in (x0, x1))})
    boxes = []
    for x0, x1 in pairwise(cuts):
        taken = next(((z0, z1) for nx0, nx1, z0, z1 in part.notches_nm if nx0 <= x0 and x1 <= nx1), None)
        if taken is None:
            boxes.append(Cuboid(x0, x1, box.y0, box.y1, box.z0, box.z1))
            continue
        for z0, z1 in ((box.z0, taken[0]), (taken[1], box.z1)):
            if z1 > z0:
                boxes.append(Cuboid(x0, x1, box.y0, box.y1, z0, z1))
    return boxes


def _free(boxes: list[Cuboid], xs: list[int], ys: list[int], zs: list[int]) -> NDArray[np.bool_]:
    free = np.ones((len(xs) - 1, len(ys) - 1, len(zs) - 1), dtype=bool)
    ax, ay, az = np.array(xs), np.array(ys), np.array(zs)
    for box in boxes:
        x0, x1 = np.searchsorted(ax, [box.x0, box.x1])
        y0, y1 = np.searchsorted(ay, [box.y0, box.y1])
        z0, z1 = np.searchsorted(az, [box.z0, box.z1])
        free[x0:x1, y0:y1, z0:z1] = False
    return free


def _cuts(span: tuple[int, int], corners: list[int], more: list[int]) -> list[int]:
    return sorted({*span, *(c for c in (*corners, *more) if span[0] < c < span[1])})


def _xs(rects: Iterable[Rect]) -> list[int]:
    return [x for r in rects for x in (r.x, r.right)]


def _ys(rects: Iterable[Rect]) -> list[int]:
    return [y for r in rects for y in (r.y, r.top)]


def _in_any(rects: Iterable[Rect], x: int, y: int) -> bool:
    return any(r.x < x < r.right and r.y < y < r.top for r in rects)
