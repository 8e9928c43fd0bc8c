"""Two-colourings with nested regions: chessboards of low and high, where no three levels may touch one another.

Every block that has a neighbour is low or high, in turns. The higher of two low levels may touch fewer of the high
levels. So the blocks at the higher low levels form a region, and all blocks that this region touches stand at the
higher high levels. The least number of blocks that a region touches decides which quotas exist (`regions`). A field is
drawn by growing a region in an order that touches few blocks.
"""

from __future__ import annotations

from dataclasses import dataclass
from heapq import heappop, heappush

import numpy as np

from bossage.relief.order.regions import NEVER, Region, least_touched, least_touched_whole, sweep_work
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph, compatible_levels
from bossage.relief.problem.records import BoolArray, IntArray

CONNECTED_UP_TO = 20_000  # blocks of a grid with open cells; whole grids hang together at any size
LEANS = ((1, 1000), (1000, 1), (1001, 1000), (1000, 1001))  # how regions grow: by columns, by rows, from a corner


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """The low levels of `lower` and above may only touch the high levels of `higher`."""

    lower: tuple[int, ...]
    higher: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chess:
    """One way to lay low and high: the blocks that are low, the levels of each kind, and what the steps ask."""

    low: BoolArray
    lows: tuple[int, ...]
    highs: tuple[int, ...]
    steps: tuple[Step, ...]


def chess_ways(graph: Graph) -> list[Chess]:
    """Both ways to lay low and high; none where the piece is not bound to a chessboard.

    Bound are plain grids of one quota group that hang together, under a rule by which no three levels may all touch.
    """
    if graph.problem.grid is None or graph.problem.group_count > 1 or compatible_levels(graph.conflict) != 2:
        return []
    side = graph.two_sides
    if side is None or not _connected(graph):
        return []
    may = ~graph.conflict
    lows = tuple(x for x in range(graph.L) if may[x, x:].any())
    highs = tuple(x for x in range(graph.L) if may[x, :x].any())
    steps: list[Step] = []
    for x in lows[1:]:
        higher = tuple(y for y in highs if may[x, y])
        if higher != (steps[-1].higher if steps else highs):
            steps.append(Step(lower=tuple(z for z in lows if z >= x), higher=higher))
    return [Chess(low=side == s, lows=lows, highs=highs, steps=tuple(steps)) for s in (0, 1)]


def _connected(graph: Graph) -> bool:
    if graph.n < 2 or graph.row_major:
        return graph.n >= 2
    if graph.n > CONNECTED_UP_TO:
        return False
    seen, todo = {0}, [0]
    while todo:
        for u in graph.neighbours[todo.pop()]:
            if u not in seen:
                seen.add(u)
                todo.append(u)
    return len(seen) == graph.n


def least_higher(graph: Graph, way: Chess, step: Step, *, work: int) -> IntArray | None:
    """For each number of blocks on the lower levels of a step, how many on its higher levels there are at the least.

    Other steps are left aside. On a grid with open cells or on blocks of few levels it takes a sweep; where that is
    more than `work`, the answer is what holds for a whole grid, or None.
    """
    grid = graph.problem.grid
    assert grid is not None
    may, must = _bounds(graph, way, step)
    there, at = grid.block >= 0, np.maximum(grid.block, 0)
    rows, cols = grid.block.shape
    even = graph.row_major and rows * cols % 2 == 0
    if even and bool(may.all()) and not must.any():
        return least_touched_whole(rows, cols)
    region = Region(there=there, seeds=there & way.low[at], may=there & may[at], must=there & must[at])
    if sweep_work(region) <= work:
        return least_touched(region)
    return least_touched_whole(rows, cols) if even else None


def _bounds(graph: Graph, way: Chess, step: Step) -> tuple[BoolArray, BoolArray]:
    """Blocks that may be in the region of a step (on its lower or higher levels), and those that must."""
    kinds = np.zeros((2, graph.L), dtype=np.bool_)
    kinds[1, list(way.lows)] = True
    kinds[0, list(way.highs)] = True
    own: BoolArray = np.logical_and(kinds[way.low.astype(np.int64)], graph.choice)
    inside = [*step.lower, *step.higher]
    may: BoolArray = np.asarray(own[:, inside].any(axis=1))
    own[:, inside] = False
    must: BoolArray = may & ~own.any(axis=1)
    return may, must


def grown_higher(graph: Graph, way: Chess, step: Step, order: IntArray) -> IntArray:
    """As `least_higher`, but for regions that are the first so many blocks of an order: these numbers do exist."""
    may, must = _bounds(graph, way, step)
    seeds = _seeds(order, may, must)
    first = np.full(graph.n + 1, len(seeds) + 1, dtype=np.int64)  # the size of region that first touches a block
    for near in graph.padded[seeds].T:
        np.minimum.at(first, near, np.arange(1, len(seeds) + 1))
    first = first[:-1]
    first[must] = 0
    high = ~way.low
    touched = np.bincount(first[high & (first <= len(seeds))], minlength=len(seeds) + 1)
    out = np.full(int(way.low.sum()) + 1, NEVER, dtype=np.int64)
    out[: len(seeds) + 1] = np.cumsum(touched)
    out[: int((must & way.low).sum())] = NEVER
    out[int(first[high & ~may].min(initial=len(out))) :] = NEVER
    return out


def _seeds(order: IntArray, may: BoolArray, must: BoolArray) -> IntArray:
    """The low blocks of an order that may be in a region, those that must be in front."""
    seeds = order[may[order]]
    return seeds[np.argsort(~must[seeds], kind="stable")]


def draw_chess(graph: Graph, ways: list[Chess], rng: np.random.Generator) -> IntArray | None:
    """A field with the quotas, its regions grown from a random side or corner; None where none of these fits."""
    total = graph.problem.quotas[0]
    for way in [ways[i] for i in rng.permutation(len(ways))]:
        if int(total[list(way.lows)].sum()) != int(way.low.sum()):
            continue
        for order in growth_orders(graph, way, rng):
            levels = _along(graph, way, order, rng)
            if levels is not None and is_field(graph, levels):
                return levels
    return None


def growth_orders(graph: Graph, way: Chess, rng: np.random.Generator) -> list[IntArray]:
    """Low blocks as a region grows: always next the one that touches fewest others anew, the nearest to its start."""
    row, col = graph.places.T
    keys = [row * down * a + col * right * b for down in (1, -1) for right in (1, -1) for a, b in LEANS]
    barred = np.zeros(graph.n, dtype=np.bool_)
    if way.steps:
        may = np.append(_bounds(graph, way, way.steps[-1])[0], True)
        barred = ~may[:-1] | ~may[graph.padded].all(axis=1)
    return [_grown(graph, way, keys[i] + barred * 10**9) for i in rng.permutation(len(keys))]


def _grown(graph: Graph, way: Chess, key: IntArray) -> IntArray:
    near = graph.neighbours
    keys = key.tolist()
    touched = [False] * graph.n
    fresh = [len(x) for x in near]
    queue: list[tuple[int, int, int]] = []
    taken = [False] * graph.n
    ahead = sorted(np.flatnonzero(way.low).tolist(), key=keys.__getitem__)
    order: list[int] = []
    at = 0
    while len(order) < len(ahead):
        while queue and (taken[queue[0][2]] or queue[0][0] != fresh[queue[0][2]]):
            heappop(queue)
        while taken[ahead[at]]:
            at += 1
        v = ahead[at]
        if queue and (queue[0][0], queue[0][1]) < (fresh[v], keys[v]):
            v = heappop(queue)[2]
        taken[v] = True
        order.append(v)
        for u in near[v]:
            if not touched[u]:
                touched[u] = True
                for w in near[u]:
                    fresh[w] -= 1
                    if not taken[w]:
                        heappush(queue, (fresh[w], keys[w], w))
    return np.array(order, dtype=np.int64)


def _along(graph: Graph, way: Chess, order: IntArray, rng: np.random.Generator) -> IntArray | None:
    """Levels by regions that are the first so many blocks of an order and all they touch, the smallest first."""
    total = graph.problem.quotas[0]
    depth = np.zeros(graph.n, dtype=np.int64)  # how many steps' regions a block is in
    inside = np.zeros(graph.n, dtype=np.bool_)
    for step in way.steps[::-1]:
        may, must = _bounds(graph, way, step)
        seeds = _seeds(order, may, must)[: int(total[list(step.lower)].sum())]
        beside = graph.padded[seeds].reshape(-1)
        inside = inside | must
        inside[seeds] = True
        inside[beside[beside < graph.n]] = True
        more = int(total[list(step.higher)].sum()) - int((inside & ~way.low).sum())
        spare = np.flatnonzero(may & ~inside & ~way.low)
        if more < 0 or more > len(spare) or int((inside & way.low).sum()) != len(seeds) or not may[inside].all():
            return None
        inside[rng.permutation(spare)[:more]] = True
        depth += inside
    return _levels_by_depth(graph, way, depth, rng)


def _levels_by_depth(graph: Graph, way: Chess, depth: IntArray, rng: np.random.Generator) -> IntArray | None:
    total = graph.problem.quotas[0]
    levels = np.full(graph.n, -1, dtype=np.int64)
    for low, own in ((True, way.lows), (False, way.highs)):
        for d in range(len(way.steps) + 1):
            mine = [x for x in own if sum(x in (s.lower if low else s.higher) for s in way.steps) == d]
            here = rng.permutation(np.flatnonzero((way.low == low) & (depth == d)))
            if len(here) != int(total[mine].sum()):
                return None
            levels[here] = np.repeat(mine, total[mine])
    return levels
