"""Bands of levels in stripes, by growing regions: corners that must differ, and a few levels more than the fewest.

Let at most four levels be such that any two may touch. Then the levels fall into four bands of levels next to one
another, and every 2 x 2 blocks hold one level of each band. So the bands lie in stripes: every row, or every column,
alternates between two bands, also round open cells.

Within its band a block may stand at an upper level only if the blocks of the next band above that it touches do so
too. So the blocks at upper levels form regions, as on a chessboard of low and high. Regions are grown from a side or a
corner until their counts are exact.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from bossage.relief.draw.clusters import swap_clusters
from bossage.relief.order.stripes import PAIRINGS
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph, compatible_levels
from bossage.relief.problem.records import HeightProblem, IntArray

MOST_LAYINGS = 400  # layings that are tried where nothing else is left
FIRST_LAYINGS = 24  # layings that are tried first
GROWN_BLOCKS = 120_000  # blocks in all of these, so that large pieces do not wait in vain
SHIFT_TRIES = 300  # clusters of bands tried between two regions grown
SHIFTS_BEFORE_ANEW = 25  # regions grown before a new laying
LEANS = ((1, 1000), (1000, 1), (1000, 1001))  # how regions grow: by columns, by rows, from a corner


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Blocks side by side in a line, and for both ways to begin whether their choices allow it."""

    blocks: IntArray
    odd: bool  # whether the line is the second, fourth ... of the grid
    may: tuple[bool, bool]  # to begin with the first, or with the second, of its two bands


@dataclass(frozen=True, slots=True, kw_only=True)
class Laying:
    """Lines and the two bands of each kind of line, with the number of lines of odd length to begin with its first."""

    lines: list[Line]
    pairs: tuple[tuple[int, int], tuple[int, int]]
    firsts: tuple[int, int]


def four_bands(graph: Graph) -> list[list[int]]:
    """The levels of each of four bands; none where the piece is not bound to stripes.

    Bound are plain grids of one quota group whose corners must differ, under a rule by which four levels at most may
    all touch, one of each band. Other levels can only stand where not all of four places hold a block.
    """
    grid = graph.problem.grid
    if grid is None or not grid.diagonal or graph.problem.group_count != 1 or compatible_levels(graph.conflict) != 4:
        return []
    low = _chain(graph, range(graph.L))
    high = _chain(graph, range(graph.L - 1, -1, -1))[::-1]
    bands = [list(range(a, b + 1)) for a, b in zip(low, high, strict=True)]
    apart = all(one[-1] < other[0] for one, other in pairwise(bands))
    return bands if apart else []


def _chain(graph: Graph, levels: range) -> list[int]:
    found: list[int] = []
    for level in levels:
        if not found or not graph.conflict[found[-1], level]:
            found.append(level)
    return found


def draw_bands(graph: Graph, bands: list[list[int]], rng: np.random.Generator, *, patient: bool) -> IntArray | None:
    """A field with the quotas, grown from every side and corner of many layings; None where none has these counts.

    `patient` tries more layings and then shifts their bands where open cells leave room for that.
    """
    asked = [int(graph.problem.quotas[0, band].sum()) for band in bands]
    layings = layings_of(graph, bands) if sum(asked) == graph.n else []
    if not layings:
        return None
    orders = _orders(graph) if len(bands[0]) > 1 else [[]]
    at = rng.permutation(len(layings))
    turns = min(MOST_LAYINGS, GROWN_BLOCKS // graph.n + 12) if patient else FIRST_LAYINGS
    for turn in range(turns):
        levels = _fitting(graph, bands, _laid(graph, layings[at[turn % len(layings)]], rng), orders, rng)
        if levels is not None:
            return levels
    if not patient or len(bands[0]) < 2 or graph.row_major:
        return None
    shifted = Graph(problem=_bands_alone(graph, bands, asked))
    band: IntArray | None = None
    for turn in range(turns):
        if band is None or turn % SHIFTS_BEFORE_ANEW == 0:
            band = _laid(graph, layings[int(rng.integers(len(layings)))], rng)
        if band is not None:
            band, _ = swap_clusters(shifted, band, rng, tries=SHIFT_TRIES)
            levels = _fitting(graph, bands, band, orders, rng)
            if levels is not None:
                return levels
    return None


def _bands_alone(graph: Graph, bands: list[list[int]], asked: list[int]) -> HeightProblem:
    """The piece with four levels, one for each band."""
    may = np.stack([graph.choice[:, band].any(axis=1) for band in bands], axis=1)
    quotas = np.array(asked, dtype=np.int64).reshape(1, -1)
    return replace(graph.problem, quotas=quotas, allowed=may, pins=None, min_step=1, level_names=())


def _fitting(
    graph: Graph, bands: list[list[int]], band: IntArray | None, orders: list[list[int]], rng: np.random.Generator
) -> IntArray | None:
    """A field in these bands that some order of growth gives."""
    if band is None:
        return None
    for i in rng.permutation(len(orders)).tolist():
        levels = _grown(graph, bands, band, orders[i])
        if levels is not None and is_field(graph, levels):
            return levels
    return None


def layings_of(graph: Graph, bands: list[list[int]]) -> list[Laying]:
    """Every orientation and pairing whose stripes have each band as often as the quotas ask for it."""
    grid = graph.problem.grid
    assert grid is not None
    total = [int(graph.problem.quotas[0, band].sum()) for band in bands]
    may = np.stack([graph.choice[:, band].any(axis=1) for band in bands])
    out = []
    for cells in (grid.block, grid.block.T):
        runs = _runs(cells)
        for a, b, c, d in PAIRINGS:
            pairs = ((a, b), (c, d))
            lines, firsts = [], []
            for odd, (one, other) in enumerate(pairs):
                mine = [_line(blocks, odd == 1, may[one], may[other]) for row, blocks in runs if row % 2 == odd]
                lines += mine
                short = sum(len(line.blocks) // 2 for line in mine)
                firsts.append(total[one] - short)
                if total[one] + total[other] != sum(len(line.blocks) for line in mine):
                    break
            uneven = [[line for line in lines if line.odd == odd and len(line.blocks) % 2] for odd in (False, True)]
            held = len(firsts) == 2 and all(0 <= n <= len(u) for n, u in zip(firsts, uneven, strict=True))
            if held and all(any(line.may) for line in lines):
                out.append(Laying(lines=lines, pairs=pairs, firsts=(firsts[0], firsts[1])))
    return out


def _runs(cells: IntArray) -> list[tuple[int, IntArray]]:
    """Blocks side by side without an open cell between, and their row."""
    out = []
    for row, line in enumerate(cells):
        at = np.flatnonzero(line >= 0)
        if len(at):
            out += [(row, line[part]) for part in np.split(at, np.flatnonzero(np.diff(at) > 1) + 1)]
    return out


def _line(blocks: IntArray, odd: bool, one: IntArray, other: IntArray) -> Line:
    begins = bool(one[blocks[::2]].all() and other[blocks[1::2]].all())
    turned = bool(other[blocks[::2]].all() and one[blocks[1::2]].all())
    return Line(blocks=blocks, odd=odd, may=(begins, turned))


def _laid(graph: Graph, laying: Laying, rng: np.random.Generator) -> IntArray | None:
    """The band of each block, lines begun at random as far as counts and choices let them."""
    band = np.zeros(graph.n, dtype=np.int64)
    for odd, (pair, first) in enumerate(zip(laying.pairs, laying.firsts, strict=True)):
        mine = [line for line in laying.lines if line.odd == (odd == 1)]
        uneven = [i for i, line in enumerate(mine) if len(line.blocks) % 2]
        bound = [i for i in uneven if not mine[i].may[1]]
        loose = [i for i in uneven if all(mine[i].may)]
        more = first - len(bound)
        if not 0 <= more <= len(loose):
            return None
        firsts = {*bound, *(loose[i] for i in rng.permutation(len(loose))[:more])}
        alike, usual = bool(rng.random() < 0.5), bool(rng.random() < 0.5)
        for i, line in enumerate(mine):
            begins = usual if alike else bool(rng.random() < 0.5)
            if len(line.blocks) % 2:
                begins = i in firsts
            elif not all(line.may):
                begins = line.may[0]
            band[line.blocks[::2]], band[line.blocks[1::2]] = pair if begins else pair[::-1]
    return band


def _orders(graph: Graph) -> list[list[int]]:
    row, col = graph.places.T
    keys = [row * down * a + col * right * b for down in (1, -1) for right in (1, -1) for a, b in LEANS]
    return [np.argsort(key, kind="stable").tolist() for key in keys]


def _grown(graph: Graph, bands: list[list[int]], band: IntArray, order: list[int]) -> IntArray | None:
    """Levels within the bands: regions that grow along an order, one within the next, to the exact counts."""
    total = graph.problem.quotas[0]
    floor = np.array([b[0] for b in bands])
    top = len(bands[0]) - 1
    depth = np.zeros(graph.n, dtype=np.int64)
    if not top:
        return np.asarray(floor[band])
    kinds = band.tolist()
    above = [[u for u in near if kinds[u] == kind + 1] for kind, near in zip(kinds, graph.neighbours, strict=True)]
    may = np.stack([graph.choice[np.arange(graph.n), floor[band] + t] for t in range(top + 1)])
    inside: list[bool] = [False] * graph.n
    counts = [0, 0, 0, 0]
    for t in range(top, 0, -1):
        goal = [int(total[b[t:]].sum()) for b in bands]
        reach = np.asarray(may[t:].any(axis=0)).tolist()
        bound = np.flatnonzero(~np.asarray(may[:t].any(axis=0))).tolist()
        for v in [*bound, *order]:
            if counts == goal or any(n > want for n, want in zip(counts, goal, strict=True)):
                break
            if not inside[v]:
                _join(v, inside, above, reach, kinds, counts)
        if counts != goal:
            return None
        depth += inside
    return np.asarray(floor[band] + depth)


def _join(
    v: int, inside: list[bool], above: list[list[int]], reach: list[bool], kinds: list[int], counts: list[int]
) -> None:
    """Take a block into the region with all that have to come along, unless one of these may not."""
    found, todo = {v}, [v]
    while todo:
        w = todo.pop()
        if not reach[w]:
            return
        for u in above[w]:
            if u not in found and not inside[u]:
                found.add(u)
                todo.append(u)
    for w in found:
        inside[w] = True
        counts[kinds[w]] += 1
