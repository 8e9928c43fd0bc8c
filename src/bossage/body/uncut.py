"""A part as boxes: what is left of it round its openings and notches."""

from __future__ import annotations

from itertools import pairwise

from bossage.body.records import Part


def uncut(part: Part) -> list[tuple[int, int, int, int, int, int]]:
    """Boxes (x0, y0, z0, x1, y1, z1) that fill a part: a grid along the edges of its openings and notches."""
    box = part.box
    xs = {box.x0, box.x1, *(x for hole in part.openings_nm for x in (hole[0], hole[2]))}
    ys = {box.y0, box.y1, *(y for hole in part.openings_nm for y in (hole[1], hole[3]))}
    zs = {box.z0, box.z1, *(z for notch in part.notches_nm for z in notch[2:])}
    xs |= {x for notch in part.notches_nm for x in notch[:2]}
    found = []
    for x0, x1 in pairwise(sorted(xs)):
        for y0, y1 in pairwise(sorted(ys)):
            for z0, z1 in pairwise(sorted(zs)):
                through = any(a <= x0 and x1 <= c and b <= y0 and y1 <= d for a, b, c, d in part.openings_nm)
                notched = any(a <= x0 and x1 <= b and c <= z0 and z1 <= d for a, b, c, d in part.notches_nm)
                if not through and not notched:
                    found.append((x0, y0, z0, x1, y1, z1))
    return found
