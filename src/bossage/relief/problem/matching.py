"""Hopcroft and Karp matching and small flows, without importing a solver."""

from __future__ import annotations

import numpy as np

from bossage.relief.problem.records import BoolArray, IntArray

SCIPY_FROM = 20_000  # nodes from which the compiled matching pays for its import


def matching_size(side: IntArray, inside: BoolArray, start: IntArray, flat: IntArray) -> int:
    """How many pairs `largest_matching` has."""
    return int((largest_matching(side, inside, start, flat) >= 0).sum()) // 2


def largest_matching(side: IntArray, inside: BoolArray, start: IntArray, flat: IntArray) -> IntArray:
    """The mate of each node, -1 without one, in a largest matching of the two-sided graph of the nodes `inside`.

    Source: Hopcroft and Karp 1973.

    Args:
        side: 0 or 1 for each node, neighbours on different sides.
        inside: Nodes that count.
        start, flat: Neighbour lists one after another.
    """
    mate = np.full(len(side), -1, dtype=np.int64)
    if not inside.any():
        return mate
    pairs = (_compiled if len(side) >= SCIPY_FROM else _layered)(side, inside, start, flat)
    mate[pairs[:, 0]] = pairs[:, 1]
    mate[pairs[:, 1]] = pairs[:, 0]
    return mate


def _compiled(side: IntArray, inside: BoolArray, start: IntArray, flat: IntArray) -> IntArray:
    from scipy.sparse import csr_matrix
    from scipy.sparse.csgraph import maximum_bipartite_matching

    owner = np.repeat(np.arange(len(side)), np.diff(start))
    keep = inside[owner] & inside[flat] & (side[owner] == 0)
    rank = np.zeros(len(side), dtype=np.int32)
    ends = [np.flatnonzero(inside & (side == s)) for s in (0, 1)]
    for here in ends:
        rank[here] = np.arange(len(here))
    if not len(ends[0]) or not len(ends[1]):
        return np.zeros((0, 2), dtype=np.int64)
    ones = np.ones(int(keep.sum()), dtype=np.int8)
    graph = csr_matrix((ones, (rank[owner[keep]], rank[flat[keep]])), shape=(len(ends[0]), len(ends[1])))
    found = np.asarray(maximum_bipartite_matching(graph, perm_type="column"))
    has = np.flatnonzero(found >= 0)
    return np.stack([ends[0][has], ends[1][found[has]]], axis=1)


def _layered(side: IntArray, inside: BoolArray, start: IntArray, flat: IntArray) -> IntArray:
    s, f, good = start.tolist(), flat.tolist(), inside.tolist()
    left = np.flatnonzero(inside & (side == 0)).tolist()
    near = {v: [u for u in f[s[v] : s[v + 1]] if good[u]] for v in left}
    mate: dict[int, int] = {}
    taken: dict[int, int] = {}
    for v in left:
        for u in near[v]:
            if u not in taken:
                mate[v], taken[u] = u, v
                break
    while True:
        depth = {v: 0 for v in left if v not in mate}
        wave, end = list(depth), -1
        while wave and end < 0:
            after = []
            for v in wave:
                for u in near[v]:
                    w = taken.get(u)
                    if w is None:
                        end = depth[v]
                    elif w not in depth:
                        depth[w] = depth[v] + 1
                        after.append(w)
            wave = after
        if end < 0:
            return np.array(sorted(mate.items()), dtype=np.int64).reshape(-1, 2)
        at = dict.fromkeys(left, 0)
        for root in left:
            if root not in mate:
                _augment(root, near, mate, taken, depth, at)


def _augment(
    root: int,
    near: dict[int, list[int]],
    mate: dict[int, int],
    taken: dict[int, int],
    depth: dict[int, int],
    at: dict[int, int],
) -> None:
    path = [root]
    while path:
        v = path[-1]
        if at[v] >= len(near[v]):
            depth.pop(v, None)
            path.pop()
            continue
        u = near[v][at[v]]
        at[v] += 1
        w = taken.get(u)
        if w is None:
            while path:
                v = path.pop()
                before = mate.get(v)
                mate[v], taken[u] = u, v
                if before is None:
                    break
                u = before
            return
        if depth.get(w) == depth.get(v, -9) + 1:
            path.append(w)


def unmet_choices(kinds: list[int], have: list[int], quota: list[int]) -> list[int] | None:
    """Levels that too many blocks depend on, or None when the quotas can be shared out.

    Blocks come in kinds, `kinds[k]` the levels (as bits) that `have[k]` blocks may take; neighbours do not count here.
    The levels returned are all that some blocks may take, and fewer are asked for than there are such blocks (Hall).
    """
    flow = [[0] * len(quota) for _ in kinds]
    left = list(quota)
    for root, needed in enumerate(have):
        need = needed
        while need:
            # Breadth first: level -> (kind that may take it), kind -> (level that it could hand over)
            by_kind: dict[int, int] = {}
            by_level: dict[int, int] = {root: -1}
            wave, end = [root], -1
            while wave and end < 0:
                k = wave.pop(0)
                for level, still in enumerate(left):
                    if level in by_kind or not kinds[k] >> level & 1:
                        continue
                    by_kind[level] = k
                    if still > 0:
                        end = level
                        break
                    for other, row in enumerate(flow):
                        if row[level] > 0 and other not in by_level:
                            by_level[other] = level
                            wave.append(other)
            if end < 0:
                return sorted(by_kind)
            need -= _send(root, end, by_kind, by_level, flow, left, need)
    return None


def _send(
    root: int,
    end: int,
    by_kind: dict[int, int],
    by_level: dict[int, int],
    flow: list[list[int]],
    left: list[int],
    need: int,
) -> int:
    takes, gives = [], []
    level, amount = end, min(need, left[end])
    while True:
        k = by_kind[level]
        takes.append((k, level))
        if k == root:
            break
        level = by_level[k]
        gives.append((k, level))
        amount = min(amount, flow[k][level])
    for k, level in takes:
        flow[k][level] += amount
    for k, level in gives:
        flow[k][level] -= amount
    left[end] -= amount
    return amount
