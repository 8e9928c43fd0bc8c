"""The place nearest to a wished one that keeps off everything in the way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from bossage.layout.rect import Rect


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Where the lower left corner of a piece may lie: a closed box less what the obstacles take.

    `x_spans` limits x further to closed intervals (those where enough studs are met); None leaves it free.
    """

    x_low: int
    x_high: int
    y_low: int
    y_high: int
    obstacles: tuple[Rect, ...]
    x_spans: tuple[tuple[int, int], ...] | None = None


def nearest_place(wish: tuple[int, int], width: int, height: int, room: Room) -> tuple[int, int] | None:
    """The free place with the least |dx| + |dy| from `wish`; None when there is none.

    Ties go to the smaller move up or down, then to the left and down. Exact: free places form closed boxes between
    obstacle edges, and the nearest point of a box has each coordinate either as wished or on the box's border.
    """
    solid = [o for o in room.obstacles if o.width > 0 and o.height > 0] if width > 0 and height > 0 else []
    # corners inside one of these would share area with an obstacle
    taken = [(o.x - width, o.x + o.width, o.y - height, o.y + o.height) for o in solid]
    xs = _coordinates(wish[0], room.x_low, room.x_high, [(o.x - width, o.right) for o in room.obstacles])
    if room.x_spans is not None:
        ends = [e for span in room.x_spans for e in span if room.x_low <= e <= room.x_high]
        xs = [x for x in sorted({*xs, *ends}) if any(a <= x <= b for a, b in room.x_spans)]
    ys = _coordinates(wish[1], room.y_low, room.y_high, [(o.y - height, o.top) for o in room.obstacles])
    best: tuple[int, int, int, int] | None = None
    for y in ys:
        up = abs(y - wish[1])
        if best is not None and up > best[0]:
            continue
        walls = [(x0, x1) for x0, x1, y0, y1 in taken if y0 < y < y1]
        for x in xs:
            place = (abs(x - wish[0]) + up, up, x, y)
            if (best is None or place < best) and not any(x0 < x < x1 for x0, x1 in walls):
                best = place
    return None if best is None else best[2:]


def stud_spans(
    studs_nm: Sequence[int], cleat_from_nm: int, cleat_length_nm: int, end_nm: int, wanted: int
) -> tuple[tuple[int, int], ...]:
    """Closed intervals of x in which a cleat meets at least `wanted` studs.

    `cleat_from_nm` is the cleat's left end measured from the piece's left edge. A stud is met when its centre line
    lies at least `end_nm` inside both ends.
    """
    inner = cleat_length_nm - 2 * end_nm
    if inner < 0:
        return ()
    # At piece position x a stud at s is met for s - shift - inner <= x <= s - shift.
    shift = cleat_from_nm + end_nm
    opens = [s - shift - inner for s in studs_nm]
    closes = [s - shift for s in studs_nm]
    borders = sorted({*opens, *closes})
    met = [x for x in borders if sum(a <= x <= b for a, b in zip(opens, closes, strict=True)) >= wanted]
    spans = [(x, x) for x in met]
    for a, b in pairwise(borders):
        if sum(lo <= a and b <= hi for lo, hi in zip(opens, closes, strict=True)) >= wanted:
            spans.append((a, b))
    return _merged(spans)


def _merged(spans: list[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """Touching and overlapping intervals joined, ascending."""
    joined: list[tuple[int, int]] = []
    for low, high in sorted(spans):
        if joined and low <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(high, joined[-1][1]))
        else:
            joined.append((low, high))
    return tuple(joined)


def _coordinates(wish: int, low: int, high: int, blocked: list[tuple[int, int]]) -> list[int]:
    """Every coordinate that a nearest place may have."""
    if low > high:
        return []
    ends = [e for span in blocked for e in span if low <= e <= high]
    return sorted({min(max(wish, low), high), low, high, *ends})
