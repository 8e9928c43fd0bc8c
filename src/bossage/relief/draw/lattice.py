"""A plain grid laid flat, its cells in classes: no two of a class touch, so a whole class can change at once.

There are four classes. No two cells of a class touch, not even at a corner, and each class holds both colours of the
chessboard. The cells are parted into classes in two ways, along the columns and along the rows. The two ways take
turns, so that nothing is conserved within a class.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import IntArray

Masks = NDArray[Any]


@dataclass(slots=True, kw_only=True)
class Lattice:
    """A grid with a border of nothing, flat: the level of each cell, and the levels that it bars to its neighbours."""

    graph: Graph
    width: int
    place: IntArray  # flat cell of each block
    offsets: tuple[int, ...]
    level: NDArray[np.uint8]
    wall: Masks  # levels that the block in a cell bars to its neighbours, as bits; 0 where there is none
    choice: Masks | None  # levels that a cell may have, or None when all may have all
    bars: Masks  # by level
    classes: list[list[IntArray]] = field(default_factory=list)  # by direction: cells of one class and group
    free: IntArray = field(default_factory=lambda: np.zeros(0, dtype=np.int64))


def lattice(graph: Graph) -> Lattice:
    """The empty lattice of a graph on a plain grid; pinned blocks are set."""
    grid = graph.problem.grid
    assert grid is not None
    block, L = grid.block, graph.L
    rows, cols = block.shape
    width = cols + 2
    kind = np.dtype(f"uint{next(b for b in (8, 16, 32, 64) if b >= L)}").type
    there = block >= 0
    flat = (np.arange(rows)[:, None] + 1) * width + np.arange(cols)[None, :] + 1
    place = np.zeros(graph.n, dtype=np.int64)
    place[block[there]] = flat[there]
    offsets: tuple[int, ...] = (-width, -1, 1, width)
    if grid.diagonal:
        offsets += (-width - 1, -width + 1, width - 1, width + 1)
    bars = np.array(graph.conflict_mask, dtype=kind)
    lat = Lattice(
        graph=graph,
        width=width,
        place=place,
        offsets=offsets,
        level=np.full((rows + 2) * width, 255, dtype=np.uint8),
        wall=np.zeros((rows + 2) * width, dtype=kind),
        choice=None,
        bars=bars,
    )
    pinned = graph.pins >= 0
    lat.free = place[~pinned]
    if not graph.choice.all():
        # What pins bar is barred for good; without this the repair keeps coming back to it.
        lat.choice = np.zeros(len(lat.wall), dtype=kind)
        lat.choice[place] = (graph.choice * (kind(1) << np.arange(L, dtype=kind))).sum(axis=1, dtype=kind)
        put(lat, place[pinned], graph.pins[pinned])
    lat.classes = [_classes(lat, along, graph.group[~pinned]) for along in (0, 1)]
    return lat


def _classes(lat: Lattice, along: int, group: IntArray) -> list[IntArray]:
    row, col = np.divmod(lat.free, lat.width)
    here = row if along else col
    kind = (here + 2 * ((row + col) & 1)) & 3
    key = (kind * lat.graph.problem.group_count + group).astype(np.int16)
    order = np.argsort(key, kind="stable")
    cuts = np.cumsum(np.bincount(key, minlength=4 * lat.graph.problem.group_count))[:-1]
    return [cells for cells in np.split(lat.free[order], cuts) if len(cells)]


def levels_of(lat: Lattice) -> IntArray:
    """The level of each block."""
    return lat.level[lat.place].astype(np.int64)


def put(lat: Lattice, cells: IntArray, levels: NDArray[Any]) -> None:
    """Set the levels of cells, and what they bar to their neighbours."""
    lat.level[cells] = levels
    lat.wall[cells] = lat.bars[levels]


def legal_levels(lat: Lattice, cells: IntArray) -> Masks:
    """The levels that each cell may have by what its neighbours bar, as bits."""
    wall = lat.wall
    barred = wall.take(cells + lat.offsets[0])
    for offset in lat.offsets[1:]:
        barred |= wall.take(cells + offset)
    legal = ~barred
    if lat.choice is not None:
        legal &= lat.choice.take(cells)
    elif 8 * legal.itemsize > lat.graph.L:
        legal &= legal.dtype.type((1 << lat.graph.L) - 1)
    return legal


def in_conflict(lat: Lattice, cells: IntArray) -> NDArray[np.bool_]:
    """Which cells stand on a level that a neighbour bars."""
    bit = lat.wall.dtype.type(1) << lat.level[cells].astype(lat.wall.dtype)
    bad: NDArray[np.bool_] = (legal_levels(lat, cells) & bit) == 0
    return bad


def group_of(lat: Lattice) -> IntArray:
    """The quota group of the block in each cell; 0 where there is none."""
    out = np.zeros(len(lat.level), dtype=np.int64)
    out[lat.place] = lat.graph.group
    return out


def surplus_of(lat: Lattice) -> IntArray:
    """Blocks too many of each level in each group."""
    graph = lat.graph
    levels = lat.level[lat.place]
    flat = np.bincount(graph.group * graph.L + levels, minlength=graph.problem.quotas.size)
    over = np.zeros(graph.problem.quotas.shape, dtype=np.int64)
    over += flat.reshape(over.shape)
    over -= graph.problem.quotas
    return over
