"""What zones leave: studs that may be screwed into, stretches that may be drilled, and how clear a place is."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from bossage.brief.site import Wall
from bossage.zones.records import LEAST_CLEAR_NM, Point, Zone

Span = tuple[int, int]


def heeded(zones: Iterable[Zone], wall: Wall, *, into_stud: bool) -> tuple[Zone, ...]:
    """The zones that bind a fixing: into a stud none that is hollow, and none at all where the studs were seen."""
    if not into_stud:
        return tuple(zones)
    return () if wall.studs_seen else tuple(zone for zone in zones if not zone.hollow)


def free_studs(wall: Wall, zones: Iterable[Zone], low_nm: int, high_nm: int) -> tuple[int, ...]:
    """Centre lines of studs that no zone takes between two heights, left to right."""
    held = heeded(zones, wall, into_stud=True)
    return tuple(x for x in sorted(wall.studs_nm) if not any(_takes(zone, x, low_nm, high_nm) for zone in held))


def stud_takers(wall: Wall, zones: Iterable[Zone], x_nm: int, low_nm: int, high_nm: int) -> tuple[Zone, ...]:
    """The zones that take a stud between two heights."""
    return tuple(z for z in heeded(zones, wall, into_stud=True) if _takes(z, x_nm, low_nm, high_nm))


def free_spans(zones: Iterable[Zone], span: Span, at_nm: int, *, along: bool = True) -> list[Span]:
    """Stretches where the middle of a fixing may stand: of a level line at a height, or of an upright one."""
    free = [span]
    for zone in zones:
        cut = _cut(zone, at_nm, along=along)
        if cut is not None:
            free = [part for one in free for part in less(one, cut)]
    return free


def clear_nm(zone: Zone, x_nm: int, y_nm: int) -> int:
    """From a place to the edge of a zone, rounded down; negative where the place lies in the zone."""
    inside, least = True, math.inf
    corners = zone.outline_nm
    for (ax, ay), (bx, by) in pairwise((*corners, corners[0])):
        dx, dy, px, py = bx - ax, by - ay, x_nm - ax, y_nm - ay
        inside = inside and dx * py - dy * px >= 0
        share = min(1.0, max(0.0, (px * dx + py * dy) / (dx * dx + dy * dy)))
        least = min(least, math.hypot(px - share * dx, py - share * dy))
    return -math.ceil(least) if inside else math.floor(least)


def nearest_zone(zones: Sequence[Zone], x_nm: int, y_nm: int) -> tuple[Zone, int] | None:
    """The zone that a place is least clear of, and by how much; None where there are no zones."""
    found = [(zone, clear_nm(zone, x_nm, y_nm)) for zone in zones]
    return min(found, key=lambda one: one[1], default=None)


def _takes(zone: Zone, x_nm: int, low_nm: int, high_nm: int) -> bool:
    cut = _cut(zone, x_nm, along=False)
    return cut is not None and cut[0] < high_nm and cut[1] > low_nm


def _cut(zone: Zone, at_nm: int, *, along: bool) -> Span | None:
    """Where a line meets the zone grown by the least clear distance: level at a height, or upright at a place.

    Every edge is moved out by that distance, so the corners reach a little further than that: on the safe side.
    """
    corners: tuple[Point, ...] = zone.outline_nm
    if len(corners) == 4 and corners[0][1] == corners[1][1] and corners[1][0] == corners[2][0]:
        return _cut_upright(corners[0], corners[2], at_nm, along=along)
    low, high = -math.inf, math.inf
    for (ax, ay), (bx, by) in pairwise((*corners, corners[0])):
        out_x, out_y = by - ay, ax - bx
        reach = out_x * ax + out_y * ay + LEAST_CLEAR_NM * math.hypot(out_x, out_y)
        free, fixed = (out_x, out_y) if along else (out_y, out_x)
        rest = reach - fixed * at_nm
        if free > 0:
            high = min(high, rest / free)
        elif free < 0:
            low = max(low, rest / free)
        elif rest <= 0:
            return None
    return None if high <= low else (math.floor(low), math.ceil(high))


def _cut_upright(low: Point, high: Point, at_nm: int, *, along: bool) -> Span | None:
    """The same of an upright rectangle, from its lower left and upper right corners."""
    way, across = (0, 1) if along else (1, 0)
    if not low[across] - LEAST_CLEAR_NM < at_nm < high[across] + LEAST_CLEAR_NM:
        return None
    return low[way] - LEAST_CLEAR_NM, high[way] + LEAST_CLEAR_NM


def less(span: Span, hole: Span) -> list[Span]:
    """What is left of a stretch beside a hole, whose ends stay free."""
    if hole[1] <= span[0] or hole[0] >= span[1]:
        return [span]
    return [part for part in ((span[0], hole[0]), (hole[1], span[1])) if part[0] <= part[1]]
