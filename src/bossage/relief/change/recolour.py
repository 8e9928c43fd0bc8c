"""Greedy recolouring: single blocks go from a level with too many to a level with too few, a change each.

That meets the bound of the changes in nearly all cases with five levels or more, at any size.
"""

from __future__ import annotations

import numpy as np

from bossage.relief.problem.field import counts_of
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.limits import suits_cp_sat
from bossage.relief.problem.records import IntArray

STARTS = 12  # orders in which blocks are tried before the search is left to a solver
TRIED_FOR_EACH = 3  # blocks looked at for each one that has to change


def fewest_possible(graph: Graph, current: IntArray) -> int:
    """A lower bound of the changes: pins that differ, then the larger of blocks missing and blocks in conflict."""
    forced = (graph.pins >= 0) & (graph.pins != current)
    levels = np.where(forced, graph.pins, current)
    missing = int(np.maximum(graph.problem.quotas - counts_of(graph, levels), 0).sum())
    barred = 0
    if forced.any() or graph.problem.allowed is not None:
        barred = int((~graph.choice[np.arange(graph.n), levels] & (graph.pins < 0)).sum())
    return int(forced.sum()) + max(missing, barred)


def count_changed(levels: IntArray, current: IntArray) -> int:
    """How many blocks differ."""
    return int((levels != current).sum())


def recolour(graph: Graph, current: IntArray, weight: IntArray, bound: int) -> IntArray | None:
    """A relief by single recolourings, the best of several orders, or None when some block always stays over."""
    rng = np.random.Generator(np.random.PCG64(graph.problem.seed))
    best = None
    for _ in range(STARTS if suits_cp_sat(graph) else 2):
        levels = _one_recolouring(graph, current, weight, rng)
        if levels is not None and (best is None or count_changed(levels, current) < count_changed(best, current)):
            best = levels
        if best is not None and count_changed(best, current) == bound:
            break
    return best


def _one_recolouring(graph: Graph, current: IntArray, weight: IntArray, rng: np.random.Generator) -> IntArray | None:
    free = graph.pins < 0
    levels = np.where(free, current, graph.pins)
    bars = np.append(np.array(graph.conflict_mask, dtype=np.int64), 0)
    wall = np.append(bars[levels], 0)  # the last stands for nobody
    over = counts_of(graph, levels) - graph.problem.quotas
    restricted = not bool(graph.choice.all())
    while (over > 0).any():
        cells = np.flatnonzero((over > 0)[graph.group, levels] & free)
        need = int(np.maximum(over, 0).sum())
        cells = cells[_order(weight[cells], rng, TRIED_FOR_EACH * need + 64)]
        moved = _fill_gaps(graph, cells, levels, wall, bars, over, rng, restricted)
        if not moved and len(cells) < TRIED_FOR_EACH * need + 64:
            return None
        if not moved:
            cells = np.flatnonzero((over > 0)[graph.group, levels] & free)
            cells = cells[_order(weight[cells], rng, len(cells))]
            if not _fill_gaps(graph, cells, levels, wall, bars, over, rng, restricted):
                return None
    return levels if is_field_at(graph, levels, np.flatnonzero(levels != current)) else None


def is_field_at(graph: Graph, levels: IntArray, changed: IntArray) -> bool:
    """Whether a field that was valid still is, looking at the changed blocks only."""
    near = graph.beside(changed)
    beside = np.append(levels, -1)[near]
    mine = levels[changed][:, None]
    clash = graph.conflict[mine, np.maximum(beside, 0)] & (beside >= 0)
    return not bool(clash.any())


def _order(weight: IntArray, rng: np.random.Generator, most: int) -> IntArray:
    """Least visible first, equals at random, at most so many."""
    if len(weight) > 4 * most and int(weight.min()) == int(weight.max()):
        return rng.integers(len(weight), size=most)
    shuffled = rng.permutation(len(weight))
    order: IntArray = shuffled[np.argsort(weight[shuffled], kind="stable")][:most]
    return order


def _each_once(cells: IntArray, n: int) -> IntArray:
    """The cells in their order, each where it comes first."""
    turn = np.arange(len(cells), dtype=np.int32)
    first = np.empty(n, dtype=np.int32)
    first[cells[::-1]] = turn[::-1]
    once: IntArray = cells[first[cells] == turn]
    return once


def _fill_gaps(
    graph: Graph,
    cells: IntArray,
    levels: IntArray,
    wall: IntArray,
    bars: IntArray,
    over: IntArray,
    rng: np.random.Generator,
    restricted: bool,
) -> int:
    """Recolour some of these cells, no two of them neighbours, to levels with too few; returns how many."""
    cells = _each_once(cells, graph.n)
    table = graph.beside(cells)
    barred = wall.take(table[:, 0])
    for k in range(1, table.shape[1]):
        barred |= wall.take(table[:, k])
    legal = ~barred
    if restricted:
        legal &= graph.choice[cells] @ (np.int64(1) << np.arange(graph.L, dtype=np.int64))
    goal = np.full(len(cells), -1, dtype=np.int64)
    group, origin = graph.group[cells], levels[cells]
    left = over.copy()
    for g, level in np.argwhere(over < 0)[rng.permutation(int((over < 0).sum()))].tolist():
        fits = (legal >> level & 1 == 1) & (goal < 0) & (group == g)
        for start in np.flatnonzero(left[g] > 0).tolist():
            room = min(int(-left[g, level]), int(left[g, start]))
            at = np.flatnonzero(fits & (origin == start))[:room]
            goal[at] = level
            left[g, level] += len(at)
            left[g, start] -= len(at)
    chosen = np.flatnonzero(goal >= 0)
    rank = np.full(graph.n + 1, len(cells), dtype=np.int64)
    rank[cells[chosen]] = chosen
    chosen = chosen[(rank[table[chosen]] > chosen[:, None]).all(axis=1)]
    at, to = cells[chosen], goal[chosen]
    np.subtract.at(over, (graph.group[at], levels[at]), 1)
    np.add.at(over, (graph.group[at], to), 1)
    levels[at] = to
    wall[at] = bars[to]
    return len(chosen)
