"""Graphs of pieces: rectangles on a fine lattice, and the scenarios' layouts (shared/scenarios.md S1, S2, S3, S7)."""

from __future__ import annotations

from itertools import product

import numpy as np

from bossage.relief.problem.records import HeightProblem, quotas_from_weights

Rect = tuple[int, int, int, int]  # left, bottom, right, top


def edges_of(rects: list[Rect]) -> np.ndarray:
    """Pairs of rectangles that share part of an edge."""
    owner = {(x, y): i for i, (x0, y0, x1, y1) in enumerate(rects) for x in range(x0, x1) for y in range(y0, y1)}
    pairs = set()
    for (x, y), i in owner.items():
        for beside in ((x + 1, y), (x, y + 1)):
            j = owner.get(beside, i)
            if j != i:
                pairs.add((min(i, j), max(i, j)))
    return np.array(sorted(pairs), dtype=np.int64).reshape(-1, 2)


def piece(rects: list[Rect], group: list[int], quotas, **more) -> HeightProblem:
    return HeightProblem(
        block_count=len(rects),
        edges=edges_of(rects),
        group=np.array(group, dtype=np.int64),
        quotas=np.array(quotas, dtype=np.int64),
        **more,
    )


def balanced(n: int, levels: int) -> np.ndarray:
    return quotas_from_weights(n, [1] * levels)


def split_cells(cells: list[tuple[int, int]], split: set[int]) -> tuple[list[Rect], list[int]]:
    rects: list[Rect] = []
    group: list[int] = []
    for i, (c, r) in enumerate(cells):
        if i in split:
            rects += [(2 * c + a, 2 * r + b, 2 * c + a + 1, 2 * r + b + 1) for a, b in product((0, 1), (0, 1))]
            group += [1] * 4
        else:
            rects.append((2 * c, 2 * r, 2 * c + 2, 2 * r + 2))
            group.append(0)
    return rects, group


def hall(seed: int) -> HeightProblem:
    """S1: 112 cells, 10 open, 24 split in four; small blocks never take the highest level."""
    open_cells = set(product((3, 4, 5, 8, 9), (2, 5)))
    cells = [(c, r) for r in range(8) for c in range(14) if (c, r) not in open_cells]
    split = set(np.random.default_rng(seed).choice(len(cells), 24, replace=False).tolist())
    rects, group = split_cells(cells, split)
    allowed = np.ones((len(rects), 5), dtype=bool)
    allowed[np.array(group) == 1, 4] = False
    quotas = [[15, 16, 17, 16, 14], [24, 24, 24, 24, 0]]
    return piece(rects, group, quotas, allowed=allowed, seed=seed)


def terrace(seed: int) -> HeightProblem:
    """S2: 8 x 16 modules of 140 x 45, cut 70 + 70, 95 + 45 or 45 + 95 (lattice of 5 mm)."""
    kinds = np.array([0] * 64 + [1] * 32 + [2] * 32)
    np.random.default_rng(seed).shuffle(kinds)
    rects: list[Rect] = []
    group: list[int] = []
    for i, kind in enumerate(kinds.tolist()):
        row, module = divmod(i, 8)
        x, cut = module * 28, (14, 19, 9)[kind]
        rects += [(x, row, x + cut, row + 1), (x + cut, row, x + 28, row + 1)]
        group += ([0, 0], [1, 2], [2, 1])[kind]
    quotas = [[20, 22, 22, 22, 22, 20], [10, 11, 11, 11, 11, 10], [10, 10, 10, 11, 12, 11]]
    return piece(rects, group, quotas, seed=seed)


def school(seed: int) -> HeightProblem:
    """S3: three leaves of 10 x 10 cells, 8 split in four on each; quotas by leaf and footprint."""
    rng = np.random.default_rng(seed)
    rects: list[Rect] = []
    group: list[int] = []
    for leaf in range(3):
        cells = [(c + 11 * leaf, r) for r in range(10) for c in range(10)]
        more, kinds = split_cells(cells, set(rng.choice(100, 8, replace=False).tolist()))
        rects += more
        group += [2 * leaf + kind for kind in kinds]
    return piece(rects, group, [[15, 16, 16, 15, 15, 15], [6, 6, 5, 5, 5, 5]] * 3, seed=seed)


def board_room(seed: int) -> HeightProblem:
    """S7: a plain 14 x 10 grid whose outer ring has quotas of its own."""
    rects = [(c, r, c + 1, r + 1) for r in range(10) for c in range(14)]
    group = [int(0 < c < 13 and 0 < r < 9) for r in range(10) for c in range(14)]
    return piece(rects, group, [[8, 8, 7, 7, 7, 7], [16] * 6], seed=seed)


def patchwork(rng: np.random.Generator, *, cols: int, rows: int) -> tuple[list[Rect], list[int]]:
    """A small random tiling with blocks of 1 x 1, 2 x 1, 1 x 2 and 2 x 2 and now and then an open cell."""
    taken = np.zeros((rows, cols), dtype=bool)
    rects: list[Rect] = []
    group: list[int] = []
    for y, x in product(range(rows), range(cols)):
        if taken[y, x]:
            continue
        if rng.random() < 0.08:
            taken[y, x] = True
            continue
        sizes = [
            (w, h)
            for w, h in ((1, 1), (2, 1), (1, 2), (2, 2))
            if x + w <= cols and y + h <= rows and not taken[y : y + h, x : x + w].any()
        ]
        w, h = sizes[int(rng.integers(len(sizes)))]
        taken[y : y + h, x : x + w] = True
        rects.append((x, y, x + w, y + h))
        group.append(int(w * h > 1))
    return rects, group
