"""Do two solids share volume, what does a solid sweep, what do two faces touch: exact, in whole nanometres.

A solid is a convex cross-section in the plane y-z, drawn out along x. Two of them share volume just where their
stretches along x overlap and their cross-sections do; for convex cross-sections the separating axis theorem answers
that with whole numbers alone. Source: Gottschalk, Lin and Manocha, OBBTree (SIGGRAPH 1996), section 5, in two
dimensions; hull by Andrew's monotone chain (1979).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

Corner = tuple[int, int]
"""A corner of a cross-section: y, z."""


@dataclass(frozen=True, slots=True)
class Cuboid:
    """A box along the axes: from and to in x, y, z."""

    x0: int
    x1: int
    y0: int
    y1: int
    z0: int
    z1: int

    @property
    def outline(self) -> tuple[Corner, ...]:
        """Its cross-section."""
        return rectangle(self.y0, self.y1, self.z0, self.z1)

    @property
    def volume_nm3(self) -> int:
        """Its volume."""
        return max(0, self.x1 - self.x0) * max(0, self.y1 - self.y0) * max(0, self.z1 - self.z0)

    def shared(self, other: Cuboid) -> Cuboid:
        """The box that both share; of no or negative size where they do not."""
        return Cuboid(
            max(self.x0, other.x0),
            min(self.x1, other.x1),
            max(self.y0, other.y0),
            min(self.y1, other.y1),
            max(self.z0, other.z0),
            min(self.z1, other.z1),
        )

    @property
    def solid(self) -> bool:
        """Whether it has volume."""
        return self.x0 < self.x1 and self.y0 < self.y1 and self.z0 < self.z1


def rectangle(y0: int, y1: int, z0: int, z1: int) -> tuple[Corner, ...]:
    """A cross-section that is a rectangle, counted round against the clock as seen from the right."""
    return (y0, z0), (y1, z0), (y1, z1), (y0, z1)


def around(x0: int, x1: int, outline: tuple[Corner, ...]) -> Cuboid:
    """The smallest box around a solid."""
    ys, zs = [y for y, _ in outline], [z for _, z in outline]
    return Cuboid(x0, x1, min(ys), max(ys), min(zs), max(zs))


def area2_nm2(outline: tuple[Corner, ...]) -> int:
    """Twice the area of a cross-section (shoelace formula), 0 or more."""
    ring = (*outline, outline[0])
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(ring)))


def centroid_nm(outline: tuple[Corner, ...]) -> tuple[float, float]:
    """Centre of area of a cross-section: y, z. Reckoned from its first corner, so that no digits are lost."""
    y0, z0 = outline[0]
    ring = [(y - y0, z - z0) for y, z in (*outline, outline[0])]
    area2 = y_sum = z_sum = 0
    for (ya, za), (yb, zb) in pairwise(ring):
        cross = ya * zb - yb * za
        area2 += cross
        y_sum += (ya + yb) * cross
        z_sum += (za + zb) * cross
    return y0 + y_sum / (3 * area2), z0 + z_sum / (3 * area2)


def depth_shared_nm(one: tuple[Corner, ...], other: tuple[Corner, ...]) -> float:
    """How deep two convex cross-sections lie in one another along the edge normal where that is least; 0: they do not.

    Cross-sections that only touch share nothing. Whether they share is exact; how deep is a float.
    """
    least = math.inf
    for here, there in ((one, other), (other, one)):
        for (y0, z0), (y1, z1) in pairwise((*here, here[0])):
            ny, nz = z1 - z0, y0 - y1
            a = [ny * y + nz * z for y, z in here]
            b = [ny * y + nz * z for y, z in there]
            deep = min(max(a) - min(b), max(b) - min(a))
            if deep <= 0:
                return 0.0
            least = min(least, deep / math.hypot(ny, nz))
    return least


def swept(outline: tuple[Corner, ...], up_nm: int, out_nm: int) -> tuple[Corner, ...]:
    """The cross-section that a convex one sweeps on a straight way up and out."""
    return hull([*outline, *((y + up_nm, z + out_nm) for y, z in outline)])


def hull(points: list[Corner]) -> tuple[Corner, ...]:
    """The convex hull of some points, counted round against the clock, no corner on a straight edge."""
    ordered = sorted(set(points))
    lower, upper = _chain(ordered), _chain(ordered[::-1])
    return (*lower[:-1], *upper[:-1])


def _chain(points: list[Corner]) -> list[Corner]:
    chain: list[Corner] = []
    for point in points:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 0:
            chain.pop()
        chain.append(point)
    return chain


def _turn(a: Corner, b: Corner, c: Corner) -> int:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
