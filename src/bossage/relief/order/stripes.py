"""Rigid stripes: four levels and corners that must differ leave only rows, or columns, that alternate two levels.

In a whole rectangle every 2 x 2 cells hold all four levels. If a row has three different levels side by side, a b c,
then the cells below can only be c d a, and so on downwards: every column alternates. If no row has three, every row
alternates. So the quotas that fit, and every field that has them, can be written down.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bossage.relief.problem.graph import Graph, compatible_levels
from bossage.relief.problem.records import IntArray

PAIRINGS = ((0, 1, 2, 3), (0, 2, 1, 3), (0, 3, 1, 2), (2, 3, 0, 1), (1, 3, 0, 2), (1, 2, 0, 3))


@dataclass(frozen=True, slots=True, kw_only=True)
class Stripes:
    """One kind of stripes: `pairs` of levels that take turns line by line, and how many lines begin with the first of
    each pair; `along` says whether the lines are rows.
    """

    along: bool
    pairs: tuple[tuple[int, int], tuple[int, int]]
    firsts: tuple[int, int]


def four_levels(graph: Graph) -> list[int] | None:
    """The only four levels that a striped field can use, or None where the piece is not bound to stripes."""
    grid = graph.problem.grid
    if grid is None or not grid.diagonal or graph.problem.group_count > 1 or min(grid.block.shape) < 2:
        return None
    if not bool((grid.block >= 0).all()) or compatible_levels(graph.conflict) != 4:
        return None
    low: list[int] = []
    for level in range(graph.L):
        if not low or not graph.conflict[low[-1], level]:
            low.append(level)
    high: list[int] = []
    for level in range(graph.L - 1, -1, -1):
        if not high or not graph.conflict[high[-1], level]:
            high.append(level)
    return low if low == high[::-1] else None


def nearest_stripes(graph: Graph, levels: list[int]) -> tuple[Stripes, IntArray]:
    """The stripes whose counts lie nearest to the quotas, and these counts; fields of such counts exist."""
    return min(_every(graph, levels), key=lambda found: _moved(graph, found[1]))


def fitting_stripes(graph: Graph, levels: list[int]) -> list[Stripes]:
    """Every kind of stripes that has the quotas exactly."""
    return [kind for kind, counts in _every(graph, levels) if not _moved(graph, counts)]


def draw_stripes(graph: Graph, kinds: list[Stripes], rng: np.random.Generator) -> IntArray:
    """A field of one of these kinds, each of its fields as likely."""
    grid = graph.problem.grid
    assert grid is not None
    kind = kinds[int(rng.integers(len(kinds)))]
    cells = grid.block if kind.along else grid.block.T
    lines, length = cells.shape
    levels = np.zeros(graph.n, dtype=np.int64)
    even = np.arange(length) % 2 == 0
    for which, pair in enumerate(kind.pairs):
        rows = np.arange(which, lines, 2)
        first = np.zeros(len(rows), dtype=np.bool_)
        # with an even number of cells in a line its beginning does not matter to the counts
        first[: kind.firsts[which]] = True
        first = rng.permutation(first) if length % 2 else rng.random(len(rows)) < 0.5
        turn = first[:, None] == even[None, :]
        levels[cells[rows]] = np.where(turn, pair[0], pair[1])
    return levels


def _moved(graph: Graph, counts: IntArray) -> int:
    return int(np.maximum(graph.problem.quotas[0] - counts, 0).sum())


def _every(graph: Graph, levels: list[int]) -> list[tuple[Stripes, IntArray]]:
    """For each orientation and pairing the stripes that come nearest to the quotas."""
    grid = graph.problem.grid
    assert grid is not None
    out = []
    for along in (True, False):
        lines, length = grid.block.shape if along else grid.block.shape[::-1]
        for a, b, c, d in PAIRINGS:
            pairs = ((levels[a], levels[b]), (levels[c], levels[d]))
            counts = np.zeros(graph.L, dtype=np.int64)
            firsts = []
            for (one, other), rows in zip(pairs, ((lines + 1) // 2, lines // 2), strict=True):
                least = rows * (length // 2)
                odd = rows if length % 2 else 0
                want = int(graph.problem.quotas[0, one]) - least
                spare = int(graph.problem.quotas[0, other]) - least
                # between what the first asks and what the other leaves, any number is as good
                first = min(max(want, odd - spare), odd) if want < odd - spare else min(max(want, 0), odd)
                first = max(0, first)
                counts[one] += least + first
                counts[other] += least + odd - first
                firsts.append(first)
            out.append((Stripes(along=along, pairs=pairs, firsts=(firsts[0], firsts[1])), counts))
    return out
