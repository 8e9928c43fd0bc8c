"""Tabu search over swaps: a first field for any graph up to some thousand blocks.

`first_field` takes the blocks with most neighbours first and draws each level with the odds of what is left of the
quotas. `repair` swaps levels within a quota group, so the quotas stay exact throughout, until nothing conflicts.

Source: Hertz and de Werra 1987, for colourings; the swaps keep the counts.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bossage.relief.problem.graph import Graph, as_masks
from bossage.relief.problem.records import IntArray

CROWDED_SHARE = 0.36  # of all blocks, from which a level falls into a chessboard (hard squares order at 0.368)
TABU_LEAST = 6  # rounds for which a moved block may not take back its old level; and as many again at random
TABU_PER_CONFLICT = 0.6  # further rounds for each block in conflict, as is usual for graph colouring
TRIED_A_ROUND = 12  # blocks in conflict looked at in one round


@dataclass(slots=True, kw_only=True)
class Draft:
    """A field under repair."""

    levels: IntArray
    conflicts: int
    rounds: int


def first_field(graph: Graph, rng: np.random.Generator) -> IntArray:
    """Levels with exact quotas, pins and (where the quotas let it) allowed levels, conflicts kept few."""
    n, L = graph.n, graph.L
    masks, full = graph.conflict_mask, (1 << L) - 1
    choice = as_masks(graph.choice)
    left = graph.problem.quotas.tolist()
    group = graph.group.tolist()
    levels = [-1] * n
    blocked = [0] * n
    neighbours = graph.neighbours

    def put(v: int, level: int) -> None:
        levels[v] = level
        left[group[v]][level] -= 1
        mask = masks[level]
        for u in neighbours[v]:
            blocked[u] |= mask

    pinned = np.flatnonzero(graph.pins >= 0).tolist()
    for v in pinned:
        put(v, int(graph.pins[v]))
    for v, level in _crowded_first(graph, rng, levels, left):
        put(v, level)
    degree = np.diff(graph.csr[0])
    scarce = L - graph.choice.sum(axis=1)
    order = np.argsort(-(degree + 2 * scarce) + rng.random(n) * 2.5, kind="stable")
    draws = rng.random(n).tolist()
    for v in order.tolist():
        if levels[v] >= 0:
            continue
        quota = left[group[v]]
        legal = choice[v] & ~blocked[v] & full
        level = _draw(quota, legal, draws[v])
        if level < 0:
            level = _draw(quota, choice[v], draws[v])
        if level < 0:
            level = _draw(quota, full, draws[v])
        put(v, level)
    return np.array(levels, dtype=np.int64)


def _crowded_first(
    graph: Graph, rng: np.random.Generator, levels: list[int], left: list[list[int]]
) -> list[tuple[int, int]]:
    """Blocks for levels so many that they must stand like one colour of a chessboard, if the graph has two sides."""
    placed: list[tuple[int, int]] = []
    side = graph.two_sides if graph.problem.level_count > 2 else None
    if side is None:
        return placed
    free = np.array([level < 0 for level in levels], dtype=np.bool_)
    group = graph.group.tolist()
    asked = graph.problem.quotas.sum(axis=0)
    for window in graph.windows:
        if int(asked[window].sum()) <= CROWDED_SHARE * graph.n:
            continue
        may = graph.choice[:, window].any(axis=1) & free
        held = np.array([level in window for level in levels], dtype=np.bool_)
        better = int((side[may | held] == 1).sum() * 2 > (may | held).sum())
        here = rng.permutation(np.flatnonzero(may & (side == better))).tolist()
        still = [[row[level] for level in window] for row in left]
        for v in here:
            row = still[group[v]]
            open_to = [i for i, level in enumerate(window) if row[i] > 0 and graph.choice[v, level]]
            if open_to:
                i = max(open_to, key=row.__getitem__)
                row[i] -= 1
                placed.append((v, window[i]))
        break
    return placed


def _draw(quota: list[int], mask: int, at: float) -> int:
    total = 0
    for level, left in enumerate(quota):
        if left > 0 and mask >> level & 1:
            total += left
    if not total:
        return -1
    mark = at * total
    last = -1
    for level, left in enumerate(quota):
        if left > 0 and mask >> level & 1:
            mark -= left
            last = level
            if mark < 0:
                break
    return last


def repair(graph: Graph, levels: IntArray, rng: np.random.Generator, *, rounds: int) -> Draft:
    """Swap levels within groups until no pair conflicts and every block has an allowed level, or rounds run out.

    A block on a level that it may not have weighs like two conflicts. Pinned blocks never move.
    """
    n, L = graph.n, graph.L
    conf = graph.conflict.astype(np.int64)
    clash = _clashes(graph, levels)
    clash += 2 * ~graph.choice
    free = graph.pins < 0
    mates = [np.flatnonzero((graph.group == g) & free) for g in range(graph.problem.group_count)]
    group = graph.group.tolist()
    tabu = np.zeros((n, L), dtype=np.int64)
    levels = levels.copy()
    rows = np.arange(n)
    best, best_levels = _total_clash(clash, levels, rows), levels.copy()
    for turn in range(1, rounds + 1):
        own = clash[rows, levels]
        bad = np.flatnonzero((own > 0) & free)
        if not len(bad):
            return Draft(levels=levels, conflicts=best if own.any() else 0, rounds=turn - 1)
        if len(bad) > TRIED_A_ROUND:
            bad = np.sort(rng.choice(bad, TRIED_A_ROUND, replace=False))
        weight = int(own.sum())
        pick = _best_swap(graph, levels, clash, own, bad, mates, group, tabu, turn, weight - best, rng, conf)
        if pick is None:
            continue
        a, b = pick
        la, lb = int(levels[a]), int(levels[b])
        step = conf[lb] - conf[la]
        clash[graph.neighbours[a]] += step
        clash[graph.neighbours[b]] -= step
        levels[a], levels[b] = lb, la
        stay = turn + TABU_LEAST + int(rng.integers(TABU_LEAST)) + int(TABU_PER_CONFLICT * min(len(bad), 12))
        tabu[a, la] = stay
        tabu[b, lb] = stay
        now = _total_clash(clash, levels, rows)
        if now < best:
            best, best_levels = now, levels.copy()
        if now == 0:
            break
    return Draft(levels=best_levels, conflicts=best, rounds=turn if rounds else 0)


def _clashes(graph: Graph, levels: IntArray) -> IntArray:
    """For each block and level, how many neighbours would conflict."""
    clash = np.zeros((graph.n, graph.L), dtype=np.int64)
    rows = graph.conflict.astype(np.int64)[levels]
    np.add.at(clash, graph.edges[:, 0], rows[graph.edges[:, 1]])
    np.add.at(clash, graph.edges[:, 1], rows[graph.edges[:, 0]])
    return clash


def _total_clash(clash: IntArray, levels: IntArray, rows: IntArray) -> int:
    return int(clash[rows, levels].sum())


def _best_swap(
    graph: Graph,
    levels: IntArray,
    clash: IntArray,
    own: IntArray,
    bad: IntArray,
    mates: list[IntArray],
    group: list[int],
    tabu: IntArray,
    turn: int,
    hope: int,
    rng: np.random.Generator,
    conf: IntArray,
) -> tuple[int, int] | None:
    best_value, best_pair = np.inf, None
    for a in bad.tolist():
        others = mates[group[a]]
        la = levels[a]
        lb = levels[others]
        change = clash[a, lb] - own[a] + clash[others, la] - own[others]
        near = graph.near(a)
        touching = np.minimum(np.searchsorted(others, near), len(others) - 1)
        touching = touching[others[touching] == near]
        change[touching] += 2 * conf[la, lb[touching]] - 2
        value = change + rng.random(len(others))
        # A swap may break the tabu when it gives fewer conflicts than ever. Each conflict counts at both ends.
        barred = ((tabu[a, lb] >= turn) | (tabu[others, la] >= turn)) & (2 * change >= -hope)
        value[barred | (lb == la)] = np.inf
        at = int(value.argmin()) if len(value) else 0
        if len(value) and value[at] < best_value:
            best_value, best_pair = float(value[at]), (a, int(others[at]))
    return best_pair
