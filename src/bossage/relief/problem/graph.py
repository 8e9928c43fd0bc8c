"""The graph behind a problem in the shapes that the engines want: lists, a padded table, masks."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from bossage.relief.problem.records import FREE, BoolArray, HeightProblem, IntArray


@dataclass(kw_only=True)
class Graph:
    """A problem unfolded for the engines: everything optional filled in, neighbours ready to walk."""

    problem: HeightProblem
    group: IntArray = field(init=False)
    pins: IntArray = field(init=False)
    conflict: BoolArray = field(init=False)
    allowed: BoolArray = field(init=False)

    def __post_init__(self) -> None:
        p = self.problem
        n, L = p.block_count, p.level_count
        self.group = np.zeros(n, dtype=np.int64) if p.group is None else np.asarray(p.group, dtype=np.int64)
        self.pins = np.full(n, FREE, dtype=np.int64) if p.pins is None else np.asarray(p.pins, dtype=np.int64)
        rank = np.arange(L)
        self.conflict = np.abs(rank[:, None] - rank[None, :]) < p.min_step
        self.allowed = np.ones((n, L), dtype=np.bool_) if p.allowed is None else p.allowed.astype(np.bool_)

    @property
    def n(self) -> int:
        """How many blocks."""
        return self.problem.block_count

    @property
    def L(self) -> int:
        """How many levels."""
        return self.problem.level_count

    @cached_property
    def edges(self) -> IntArray:
        """All pairs that must differ, the lower block first, each once."""
        p = self.problem
        parts = [np.asarray(e, dtype=np.int64).reshape(-1, 2) for e in (p.edges, p.diagonal_edges) if e is not None]
        return parts[0] if len(parts) == 1 and p.grid is not None else _distinct(np.concatenate(parts), self.n)

    @cached_property
    def csr(self) -> tuple[IntArray, IntArray]:
        """Neighbours one after another, and where each block's begin (n + 1 offsets)."""
        start = np.zeros(self.n + 1, dtype=np.int64)
        if self.problem.grid is not None:
            there = self.padded < self.n
            np.cumsum(there.sum(axis=1), out=start[1:])
            return start, self.padded[there]
        both = np.concatenate([self.edges, self.edges[:, ::-1]])
        both = both[np.lexsort((both[:, 1], both[:, 0]))]
        np.cumsum(np.bincount(both[:, 0], minlength=self.n), out=start[1:])
        return start, both[:, 1].copy()

    @cached_property
    def neighbours(self) -> list[list[int]]:
        """Neighbours of each block, ascending."""
        start, flat = self.csr
        s, f = start.tolist(), flat.tolist()
        return [f[s[v] : s[v + 1]] for v in range(self.n)]

    @cached_property
    def padded(self) -> IntArray:
        """Neighbours as a table (n, most neighbours), filled up with n, which stands for nobody."""
        if self.problem.grid is not None:
            return self._shifted(self.problem.grid.block)
        start, flat = self.csr
        degree = np.diff(start)
        table = np.full((self.n, max(1, int(degree.max(initial=0)))), self.n, dtype=np.int64)
        row = np.repeat(np.arange(self.n), degree)
        table[row, np.arange(len(flat)) - np.repeat(start[:-1], degree)] = flat
        return table

    def _shifted(self, block: IntArray) -> IntArray:
        rows, cols = block.shape
        wide = np.full((rows + 2, cols + 2), self.n, dtype=np.int64)
        wide[1:-1, 1:-1] = np.where(block >= 0, block, self.n)
        ways = [(-1, 0), (0, -1), (0, 1), (1, 0)]
        if self.problem.diagonal_edges is not None:
            ways += [(-1, -1), (-1, 1), (1, -1), (1, 1)]
        there = block >= 0
        table = np.empty((self.n, len(ways)), dtype=np.int64)
        for k, (down, right) in enumerate(ways):
            table[block[there], k] = wide[1 + down : 1 + down + rows, 1 + right : 1 + right + cols][there]
        return table

    @cached_property
    def places(self) -> IntArray:
        """Row and column of each block of a plain grid, shape (blocks, 2)."""
        assert self.problem.grid is not None
        block = self.problem.grid.block
        out = np.zeros((self.n, 2), dtype=np.int64)
        out[block[block >= 0]] = np.argwhere(block >= 0)
        return out

    @cached_property
    def row_major(self) -> bool:
        """Whether the blocks are the cells of a whole grid, row by row."""
        grid = self.problem.grid
        return grid is not None and bool((grid.block.reshape(-1) == np.arange(grid.block.size)).all())

    def beside(self, blocks: IntArray) -> IntArray:
        """The rows of `padded` of these blocks, without making the table where that is not needed."""
        grid = self.problem.grid
        if grid is None or not self.row_major:
            return self.padded[blocks]
        rows, cols = grid.block.shape
        row, col = np.divmod(blocks, cols)
        ways = [(-1, 0), (0, -1), (0, 1), (1, 0)]
        if self.problem.diagonal_edges is not None:
            ways += [(-1, -1), (-1, 1), (1, -1), (1, 1)]
        table = np.full((len(blocks), len(ways)), self.n, dtype=np.int64)
        for k, (down, right) in enumerate(ways):
            inside = (row + down >= 0) & (row + down < rows) & (col + right >= 0) & (col + right < cols)
            table[inside, k] = blocks[inside] + down * cols + right
        return table

    def near(self, v: int) -> list[int]:
        """Neighbours of one block."""
        start, flat = self.csr
        found: list[int] = flat[start[v] : start[v + 1]].tolist()
        return found

    @cached_property
    def conflict_mask(self) -> list[int]:
        """For each level the levels that may not touch it, as bits."""
        return [sum(1 << b for b in range(self.L) if self.conflict[a, b]) for a in range(self.L)]

    @cached_property
    def choice(self) -> BoolArray:
        """Levels that each block may have once pins count: a pinned block has its one level."""
        out = self.allowed.copy()
        pinned = np.flatnonzero(self.pins >= 0)
        out[pinned] = False
        out[pinned, self.pins[pinned]] = True
        return out

    def narrow(self, reach: BoolArray) -> None:
        """Drop levels that no field gives a block, without touching the problem."""
        self.__dict__["choice"] = reach

    @cached_property
    def windows(self) -> list[list[int]]:
        """Largest sets of levels that all conflict with one another."""
        step = min(self.problem.min_step, self.L)
        return [list(range(low, low + step)) for low in range(self.L - step + 1)]

    @property
    def unbound(self) -> bool:
        """Whether every block may have every level."""
        return self.problem.pins is None and self.problem.allowed is None

    @cached_property
    def two_sides(self) -> IntArray | None:
        """0 or 1 for each block so that neighbours differ, or None when the graph has odd rings."""
        p = self.problem
        if p.grid is not None and not p.grid.diagonal and p.diagonal_edges is None:
            rows, cols = np.indices(p.grid.block.shape)
            side = np.zeros(self.n, dtype=np.int64)
            there = p.grid.block >= 0
            side[p.grid.block[there]] = np.bitwise_and(rows + cols, 1)[there]
            return side
        return _two_colour(self.neighbours)


def clique_cover(graph: Graph) -> list[list[int]]:
    """Cliques that together hold every edge: greedy, largest first from each edge."""
    near = [set(x) for x in graph.neighbours]
    done: set[tuple[int, int]] = set()
    cover = []
    for a, b in graph.edges.tolist():
        if (a, b) in done:
            continue
        clique = [a, b]
        common = near[a] & near[b]
        while common:
            c = min(common)
            clique.append(c)
            common &= near[c]
        clique.sort()
        done.update((clique[i], clique[j]) for i in range(len(clique)) for j in range(i + 1, len(clique)))
        cover.append(clique)
    return cover


def compatible_levels(conflict: BoolArray) -> int:
    """The most levels of which any two may touch."""
    count, last = 0, -1
    for level in range(len(conflict)):
        if last < 0 or not conflict[last, level]:
            count, last = count + 1, level
    return count


def _distinct(edges: IntArray, n: int) -> IntArray:
    low, high = edges.min(axis=1), edges.max(axis=1)
    key = np.unique(low[low != high] * n + high[low != high])
    return np.stack([key // max(n, 1), key % max(n, 1)], axis=1)


def _two_colour(neighbours: list[list[int]]) -> IntArray | None:
    side = [-1] * len(neighbours)
    for root in range(len(neighbours)):
        if side[root] >= 0:
            continue
        side[root] = 0
        queue = deque([root])
        while queue:
            v = queue.popleft()
            for u in neighbours[v]:
                if side[u] < 0:
                    side[u] = 1 - side[v]
                    queue.append(u)
                elif side[u] == side[v]:
                    return None
    return np.array(side, dtype=np.int64)


def as_masks(choice: BoolArray) -> list[int]:
    """The levels of each row as bits of a whole number, the lowest level first."""
    L = choice.shape[1]
    if L <= 62:
        packed: list[int] = (choice @ (np.int64(1) << np.arange(L, dtype=np.int64))).tolist()
        return packed
    return [sum(1 << int(b) for b in np.flatnonzero(row)) for row in choice]
