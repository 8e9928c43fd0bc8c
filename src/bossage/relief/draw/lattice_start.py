"""Iterative proportional fitting: the first levels of a lattice, scattered; or in order where hardly anything fits."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.relief.draw.lattice import Lattice, Masks, group_of, legal_levels, put

TABLE = 256  # steps of the odds in the drawing table
ODDS_ROUNDS = 12


def scatter(lat: Lattice, rng: np.random.Generator) -> None:
    """Fill all free cells, few in conflict, quotas right on average."""
    graph = lat.graph
    left = graph.problem.quotas.astype(np.float64)
    size = np.bincount(graph.group[graph.pins < 0], minlength=graph.problem.group_count).astype(np.float64)
    held = graph.pins >= 0
    if held.any():
        np.subtract.at(left, (graph.group[held], graph.pins[held]), 1.0)
    group = group_of(lat) if graph.problem.group_count > 1 else None
    for cells in lat.classes[int(rng.integers(2))]:
        g = 0 if group is None else int(group[cells[0]])
        legal = legal_levels(lat, cells)
        levels = _draw(legal, np.maximum(left[g], 0.0) * (len(cells) / max(size[g], 1.0)), graph.L, rng)
        put(lat, cells, levels)
        left[g] -= np.bincount(levels, minlength=graph.L)
        size[g] -= len(cells)


def in_order(lat: Lattice, rng: np.random.Generator) -> None:
    """Fill for few levels or wide steps, where only order fits.

    The levels, sorted, go to one colour of the chessboard (of four, with corners) after the other along the rows, so
    that neighbours stand about N/2 (N/4) apart in the sorting.
    """
    grid = lat.graph.problem.grid
    assert grid is not None
    cells = np.array(grid.block)
    if rng.integers(2):
        cells = cells.T
    cells = cells[:: 1 if rng.integers(2) else -1, :: 1 if rng.integers(2) else -1]
    rows, cols = np.indices(cells.shape)
    part = 2 * (rows & 1) + (cols & 1) if grid.diagonal else (rows + cols) & 1
    part = rng.permutation(4 if grid.diagonal else 2)[part]
    block = cells.reshape(-1)
    order = np.argsort(part.reshape(-1)[block >= 0], kind="stable")
    put(lat, lat.place[block[block >= 0][order]], np.repeat(np.arange(lat.graph.L), lat.graph.problem.quotas[0]))


def _draw(legal: Masks, target: NDArray[np.float64], L: int, rng: np.random.Generator) -> NDArray[np.uint8]:
    """A level for each mask, at odds for which each level is expected as often as its target says."""
    if len(legal) < 1 << L:
        masks, index, times = np.unique(legal, return_inverse=True, return_counts=True)
    else:
        times = np.bincount(legal, minlength=1 << L)
        masks = np.flatnonzero(times)
        which = np.zeros(1 << L, dtype=np.int64)
        which[masks] = np.arange(len(masks))
        index, times = which[legal], times[masks]
    may = ((masks[:, None].astype(np.uint64) >> np.arange(L, dtype=np.uint64)) & np.uint64(1)).astype(np.float64)
    may[may.sum(axis=1) == 0] = 1.0  # left nothing: it will be in conflict whatever it takes
    odds = np.maximum(target, 1e-9)
    for _ in range(ODDS_ROUNDS):
        chance = may * odds
        chance *= (times / chance.sum(axis=1))[:, None]
        odds = odds * np.clip(np.maximum(target, 1e-9) / np.maximum(chance.sum(axis=0), 1e-9), 0.2, 5.0)
    chance = may * odds
    chance /= chance.sum(axis=1)[:, None]
    edges = np.rint(chance.cumsum(axis=1) * TABLE).astype(np.int64)
    edges[:, -1] = TABLE
    at = rng.integers(0, TABLE, size=len(legal), dtype=np.uint8)
    if len(legal) < len(edges) * TABLE:  # fewer cells than the table has entries
        chosen: NDArray[np.uint8] = (at[:, None] >= edges[index]).sum(axis=1, dtype=np.uint8)
        return chosen
    table = (np.arange(TABLE)[None, None, :] >= edges[:, :, None]).sum(axis=1).astype(np.uint8)
    out: NDArray[np.uint8] = table.reshape(-1).take(index * TABLE + at)
    return out
