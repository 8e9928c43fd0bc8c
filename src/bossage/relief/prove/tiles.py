"""Linear programming over small tiles: its infeasibility proves that no field has these counts (Farkas 1902).

Every tile must hold levels that may touch, so the quotas must be a sum of such contents. Whether they are is a linear
program. Where it is infeasible, its dual gives points for each level, and summing the points is the proof. The points
are rounded to integers and summed again in integers, so that no float stands in the proof.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from itertools import product
from typing import Any

import numpy as np

from bossage.relief.problem.graph import Graph, clique_cover
from bossage.relief.problem.matching import largest_matching
from bossage.relief.problem.records import BoolArray, IntArray, NoField, Proof
from bossage.relief.problem.verdict import Cut, Finding, count_of, level_list

CONTENTS = 12_000  # contents of tiles up to which blocks of different choices are told apart
POINTS_UP_TO = 60  # the dual's points are fractions of at most this denominator
GRAPH_UP_TO = 20_000  # blocks of a graph without a grid
SIZES = {1: "single block", 2: "pair", 3: "three", 4: "four"}

Tile = tuple[int, ...]  # the kinds of its blocks, ascending
Content = tuple[tuple[int, int], ...]  # group and level of each of its blocks


def tiles(graph: Graph) -> Finding | None:
    """Points for the levels that no tiling by touching blocks can hold as often as the quotas ask; loads scipy."""
    for tiling in _tilings(graph):
        for kind, choice in _kinds(graph):
            found = _one_tiling(graph, tiling, kind, choice)
            if isinstance(found, Finding):
                return found
            if found is not None:
                break  # told apart or not, this tiling holds the quotas
    return None


def _one_tiling(graph: Graph, tiling: list[IntArray], kind: IntArray, choice: list[int]) -> Finding | bool | None:
    """A proof; False where this tiling holds the quotas; None where there are too many contents to tell."""
    times: Counter[Tile] = Counter()
    for part in tiling:
        rows, counts = np.unique(np.sort(kind[part], axis=1), axis=0, return_counts=True)
        times.update(dict(zip(map(tuple, rows.tolist()), counts.tolist(), strict=True)))
    contents = _contents(graph, times, kind, choice)
    if contents is None:
        return None
    coef = _points(graph, times, contents)
    if coef is None:
        return False
    most = sum(n * max(_worth(content, coef) for content in contents[tile]) for tile, n in times.items())
    asked = int((coef * graph.problem.quotas).sum())
    return _said(graph, tiling, coef, most, asked) if asked > most else False


def _worth(content: Content, coef: IntArray) -> int:
    return int(sum(coef[group, level] for group, level in content))


def _kinds(graph: Graph) -> list[tuple[IntArray, list[int]]]:
    """Blocks by group and levels that they may have; and again by group alone, should that be too many kinds."""
    bits = np.int64(1) << np.arange(min(graph.L, 62), dtype=np.int64)
    if graph.L > 62:
        return []
    mask = graph.choice @ bits
    fine, index = np.unique(np.stack([graph.group, mask], axis=1), axis=0, return_inverse=True)
    out = []
    if len(fine) <= 64:
        out.append((index.reshape(-1).astype(np.int64), [int(g) | int(m) << 16 for g, m in fine.tolist()]))
    union = [int(np.bitwise_or.reduce(mask[graph.group == g])) for g in range(graph.problem.group_count)]
    if len(fine) > len(union):
        out.append((graph.group, [g | m << 16 for g, m in enumerate(union)]))
    return out


def _contents(
    graph: Graph, times: Counter[Tile], kind: IntArray, choice: list[int]
) -> dict[Tile, list[Content]] | None:
    """What each sort of tile can hold, each as groups and levels, or None for too many."""
    may = [[level for level in range(graph.L) if code >> 16 >> level & 1] for code in choice]
    group = [code & 0xFFFF for code in choice]
    out: dict[Tile, list[Content]] = {}
    total = 0
    for tile in times:
        found = set()
        if np.prod([len(may[k]) for k in tile], dtype=float) > 40 * CONTENTS:
            return None
        for levels in product(*(may[k] for k in tile)):
            if all(not graph.conflict[a, b] for i, a in enumerate(levels) for b in levels[:i]):
                found.add(tuple(sorted((group[k], level) for k, level in zip(tile, levels, strict=True))))
        if not found:
            return None  # a tile that holds nothing: an earlier proof names it
        out[tile] = sorted(found)
        total += len(found)
        if total > CONTENTS:
            return None
    return out


def _points(graph: Graph, times: Counter[Tile], contents: dict[Tile, list[Content]]) -> IntArray | None:
    """Whole points by group and level with which the quotas ask for more than the tiles hold, or None."""
    from scipy.optimize import linprog
    from scipy.sparse import csr_array

    quotas = graph.problem.quotas
    point_count, L = quotas.size, graph.L
    data, rows, cols = [], [], []
    row = 0
    for number, tile in enumerate(times):
        for content in contents[tile]:
            for group, level in content:
                rows.append(row)
                cols.append(group * L + level)
                data.append(1.0)
            rows.append(row)
            cols.append(point_count + number)
            data.append(-1.0)
            row += 1
    worth = np.concatenate([-quotas.reshape(-1), np.array(list(times.values()))]) / max(1, graph.n)
    bounds = [(0.0, 1.0)] * point_count + [(0.0, float(max(map(len, times))))] * len(times)
    matrix: Any = csr_array((data, (rows, cols)), shape=(row, point_count + len(times)))
    answer: Any = linprog(worth, A_ub=matrix, b_ub=np.zeros(row), bounds=bounds, method="highs-ds")
    if answer.status != 0 or answer.fun > -1e-9:
        return None
    share = np.asarray(answer.x[:point_count]).reshape(quotas.shape)
    for whole in range(1, POINTS_UP_TO + 1):
        scaled = np.rint(share * whole)
        if np.abs(scaled - share * whole).max() < 1e-6:
            whole_points: IntArray = scaled.astype(np.int64)
            return whole_points
    return None


def _said(graph: Graph, tiling: list[IntArray], coef: IntArray, most: int, asked: int) -> Finding:
    by_points: dict[int, list[str]] = defaultdict(list)
    names = graph.problem
    alike = bool((coef == coef[0]).all())
    for level in range(graph.L):
        if alike and coef[0, level]:
            by_points[int(coef[0, level])].append(names.level_name(level))
        for g in range(len(coef)) if not alike else ():
            if coef[g, level]:
                by_points[int(coef[g, level])].append(f"{names.level_name(level)} among {names.group_name(g)}")
    parts = [
        f"{count_of(points, 'point')} for each block of {level_list(levels)}"
        for points, levels in sorted(by_points.items(), reverse=True)
    ]
    sizes: Counter[int] = Counter()
    for part in tiling:
        sizes[int(part.shape[1])] += len(part)
    shapes = " and ".join(
        count_of(n, SIZES.get(size, f"group of {size}")) for size, n in sorted(sizes.items(), reverse=True) if n
    )
    text = (
        f"Count {' and '.join(parts)}. The field falls into {shapes}"
        f"{', in each of which all blocks touch' if max(sizes) > 1 else ''}; by the rule these hold at most {most:,} "
        f"points together, but the quotas ask for {asked:,}."
    )
    return Finding(no=NoField(reasons=(text,), proof=Proof.TILES, proven=True), cut=Cut(coef=coef, most=most))


def _tilings(graph: Graph) -> list[list[IntArray]]:
    """Ways to part the blocks into tiles, each as arrays of tiles of one size."""
    grid = graph.problem.grid
    if grid is not None and grid.diagonal:
        return [_fours(grid.block, down, right) for down in (0, 1) for right in (0, 1)]
    if grid is not None or graph.two_sides is not None:
        return _dominoes(graph)
    return [_cliques(graph)] if graph.n <= GRAPH_UP_TO else []


def _fours(block: IntArray, down: int, right: int) -> list[IntArray]:
    """Squares of 2 x 2 from this corner on, less at the rim and round open cells."""
    rows, cols = block.shape
    wide = np.full((rows + 2 + (rows + down) % 2, cols + 2 + (cols + right) % 2), -1, dtype=np.int64)
    wide[down : down + rows, right : right + cols] = block
    wide = wide[: len(wide) // 2 * 2, : wide.shape[1] // 2 * 2]
    square = np.stack([wide[0::2, 0::2], wide[0::2, 1::2], wide[1::2, 0::2], wide[1::2, 1::2]], axis=-1).reshape(-1, 4)
    square = -np.sort(-square, axis=1)
    held = (square >= 0).sum(axis=1)
    return [square[held == size][:, :size] for size in (4, 3, 2, 1) if (held == size).any()]


def _dominoes(graph: Graph) -> list[list[IntArray]]:
    """Pairs of neighbours, as many as can be, and the blocks left over."""
    grid = graph.problem.grid
    whole = grid is not None and bool((grid.block >= 0).all())
    if grid is not None and whole and not grid.block.size % 2:
        ways = [cells for cells in (grid.block, grid.block.T) if cells.shape[1] % 2 == 0]
        alike = graph.problem.group_count == 1 and bool(graph.choice.all())  # then one way says what the other does
        return [[np.ascontiguousarray(cells).reshape(-1, 2)] for cells in ways[: 1 if alike else 2]]
    side = graph.two_sides
    assert side is not None
    start, flat = graph.csr
    everyone: BoolArray = np.ones(graph.n, dtype=np.bool_)
    mate = largest_matching(side, everyone, start, flat)
    first = np.flatnonzero((side == 0) & (mate >= 0))
    alone = np.flatnonzero(mate < 0)
    parts = [np.stack([first, mate[first]], axis=1), alone[:, None]]
    return [[part for part in parts if len(part)]]


def _cliques(graph: Graph) -> list[IntArray]:
    """Sets of blocks that all touch, no block twice: largest first, then pairs, then single blocks."""
    taken = np.zeros(graph.n, dtype=np.bool_)
    by_size: dict[int, list[list[int]]] = defaultdict(list)
    for clique in sorted(clique_cover(graph), key=lambda c: (-len(c), c)):
        left = [v for v in clique if not taken[v]]
        if len(left) == len(clique) and len(left) > 2:
            taken[left] = True
            by_size[len(left)].append(left)
    near = graph.neighbours
    for v in sorted(range(graph.n), key=lambda v: (sum(not taken[u] for u in near[v]), v)):
        if taken[v]:
            continue
        mates = [u for u in near[v] if not taken[u]]
        left = [v, min(mates, key=lambda u: (sum(not taken[w] for w in near[u]), u))] if mates else [v]
        taken[left] = True
        by_size[len(left)].append(left)
    return [np.array(part, dtype=np.int64) for _, part in sorted(by_size.items(), reverse=True)]
