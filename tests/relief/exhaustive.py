"""Exhaustive search on small graphs: every field, the verdict, the least that has to be moved. Slow and plain."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from bossage.relief.problem.records import HeightProblem


def every_field(p: HeightProblem, *, quotas: bool = True) -> Iterator[tuple[int, ...]]:
    """All valid fields of a problem, with its quotas or with any."""
    n, L = p.block_count, p.level_count
    pairs = [*p.edges.tolist(), *([] if p.diagonal_edges is None else p.diagonal_edges.tolist())]
    before: list[list[int]] = [[] for _ in range(n)]
    for a, b in pairs:
        before[max(a, b)].append(min(a, b))
    group = [0] * n if p.group is None else p.group.tolist()
    left = p.quotas.tolist()
    field = [0] * n

    def grow(v: int) -> Iterator[tuple[int, ...]]:
        if v == n:
            yield tuple(field)
            return
        for level in range(L):
            if p.allowed is not None and not p.allowed[v, level]:
                continue
            if p.pins is not None and p.pins[v] not in (-1, level):
                continue
            if quotas and left[group[v]][level] == 0:
                continue
            if any(abs(field[u] - level) < p.min_step for u in before[v]):
                continue
            field[v] = level
            left[group[v]][level] -= 1
            yield from grow(v + 1)
            left[group[v]][level] += 1

    if not quotas or all(int(q.sum()) == group.count(g) for g, q in enumerate(p.quotas)):
        yield from grow(0)


def least_moved(p: HeightProblem) -> int | None:
    """Fewest blocks on another level than asked for, over all fields that keep the other rules."""
    group = np.zeros(p.block_count, dtype=np.int64) if p.group is None else p.group
    best = None
    for field in every_field(p, quotas=False):
        counts = np.bincount(group * p.level_count + np.array(field), minlength=p.quotas.size).reshape(p.quotas.shape)
        moved = int(np.maximum(p.quotas - counts, 0).sum())
        best = moved if best is None else min(best, moved)
    return best
