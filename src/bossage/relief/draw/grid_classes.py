"""The fast engine on plain grids, to a million cells: whole sublattices at once.

The cells fall into four classes so that no two of a class touch, not even at a corner, and each class holds both
colours of the chessboard. A class can be filled, repaired or mixed in one stroke: its cells see only the other three.
Two such partitions (along the columns, along the rows) take turns, so that nothing is conserved within a class.

    fill    each class draws from what its neighbours leave, with odds scaled so that the quotas come out on average
    repair  cells in conflict take a level with fewest conflicts, ties and now and then a worse one at random
    even    cells go from levels with too many blocks to levels with too few until the quotas are exact
    mix     each cell tries to swap with its mirror in the class about a random point; the uniform law stays put
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import IntArray

Masks = NDArray[Any]
TABLE_N = 256  # steps of the odds in the drawing table
ODDS_ROUNDS_N = 12
TIE_LEAN = 24  # of 64 parts of a conflict, how far a tie leans towards levels that still lack blocks
STALLED_ROUNDS_N = 2_000  # rounds without fewer cells in conflict after which a draw is given up
WORSE_SHARE = 0.65  # of repaired cells that take a level at random among those one conflict worse


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
        _put(lat, place[pinned], graph.pins[pinned])
    lat.classes = [_classes(lat, along, graph.group[~pinned]) for along in (0, 1)]
    return lat


def _classes(lat: Lattice, along: int, group: IntArray) -> list[IntArray]:
    row, col = np.divmod(lat.free, lat.width)
    here = row if along else col
    kind = (here + 2 * ((row + col) & 1)) & 3
    key = (kind * lat.graph.problem.groups_n + group).astype(np.int16)
    order = np.argsort(key, kind="stable")
    cuts = np.cumsum(np.bincount(key, minlength=4 * lat.graph.problem.groups_n))[:-1]
    return [cells for cells in np.split(lat.free[order], cuts) if len(cells)]


def levels_of(lat: Lattice) -> IntArray:
    """The level of each block."""
    return lat.level[lat.place].astype(np.int64)


def load(lat: Lattice, levels: IntArray) -> None:
    """Take over a field."""
    _put(lat, lat.place, levels)


def _put(lat: Lattice, cells: IntArray, levels: NDArray[Any]) -> None:
    lat.level[cells] = levels
    lat.wall[cells] = lat.bars[levels]


def _legal(lat: Lattice, cells: IntArray) -> Masks:
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


def _group_of(lat: Lattice) -> IntArray:
    out = np.zeros(len(lat.level), dtype=np.int64)
    out[lat.place] = lat.graph.group
    return out


def scatter(lat: Lattice, rng: np.random.Generator) -> None:
    """Fill all free cells, few in conflict, quotas right on average."""
    graph = lat.graph
    left = graph.problem.quotas.astype(np.float64)
    size = np.bincount(graph.group[graph.pins < 0], minlength=graph.problem.groups_n).astype(np.float64)
    held = graph.pins >= 0
    if held.any():
        np.subtract.at(left, (graph.group[held], graph.pins[held]), 1.0)
    group = _group_of(lat) if graph.problem.groups_n > 1 else None
    for cells in lat.classes[int(rng.integers(2))]:
        g = 0 if group is None else int(group[cells[0]])
        legal = _legal(lat, cells)
        levels = _draw(legal, np.maximum(left[g], 0.0) * (len(cells) / max(size[g], 1.0)), graph.L, rng)
        _put(lat, cells, levels)
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
    _put(lat, lat.place[block[block >= 0][order]], np.repeat(np.arange(lat.graph.L), lat.graph.problem.quotas[0]))


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
    for _ in range(ODDS_ROUNDS_N):
        chance = may * odds
        chance *= (times / chance.sum(axis=1))[:, None]
        odds = odds * np.clip(np.maximum(target, 1e-9) / np.maximum(chance.sum(axis=0), 1e-9), 0.2, 5.0)
    chance = may * odds
    chance /= chance.sum(axis=1)[:, None]
    edges = np.rint(chance.cumsum(axis=1) * TABLE_N).astype(np.int64)
    edges[:, -1] = TABLE_N
    at = rng.integers(0, TABLE_N, size=len(legal), dtype=np.uint8)
    if len(legal) < len(edges) * TABLE_N:  # fewer cells than the table has entries
        chosen: NDArray[np.uint8] = (at[:, None] >= edges[index]).sum(axis=1, dtype=np.uint8)
        return chosen
    table = (np.arange(TABLE_N)[None, None, :] >= edges[:, :, None]).sum(axis=1).astype(np.uint8)
    out: NDArray[np.uint8] = table.reshape(-1).take(index * TABLE_N + at)
    return out


def _in_conflict(lat: Lattice, cells: IntArray) -> NDArray[np.bool_]:
    bit = lat.wall.dtype.type(1) << lat.level[cells].astype(lat.wall.dtype)
    bad: NDArray[np.bool_] = (_legal(lat, cells) & bit) == 0
    return bad


def settle(lat: Lattice, rng: np.random.Generator, *, rounds_n: int) -> int:
    """Take conflicts away; returns how many cells are still in conflict."""
    L = lat.graph.L
    weigh = np.vstack([lat.graph.conflict.astype(np.int16), np.zeros((256 - L, L), dtype=np.int16)])
    bad = lat.free[_in_conflict(lat, lat.free)]
    group = _group_of(lat)
    over = surplus_of(lat)
    movable = np.zeros(len(lat.level), dtype=np.bool_)
    movable[lat.free] = True
    fewest, since = len(bad), 0
    for turn in range(rounds_n):
        if not len(bad):
            return 0
        if len(bad) < fewest:
            fewest, since = len(bad), turn
        elif turn - since > STALLED_ROUNDS_N:
            break
        cells = _apart(lat, bad, rng)
        clash = weigh[lat.level[cells + lat.offsets[0]]]
        for offset in lat.offsets[1:]:
            clash = clash + weigh[lat.level[cells + offset]]
        if lat.choice is not None:
            open_to = (lat.choice[cells][:, None] >> np.arange(L, dtype=lat.wall.dtype)) & lat.wall.dtype.type(1)
            clash = clash + np.where(open_to == 0, np.int16(100), np.int16(0))
        lean = np.clip(over, -TIE_LEAN, TIE_LEAN).astype(np.int16)[group[cells]]
        value = clash * 64 + lean + rng.integers(0, 64, size=clash.shape, dtype=np.int16)
        worse = rng.random(len(cells)) < WORSE_SHARE
        value[worse] = np.maximum(value[worse], (clash[worse].min(axis=1, keepdims=True) + 2) * 64 - 64)
        value[worse] += rng.integers(0, 64, size=(int(worse.sum()), L), dtype=np.int16)
        key = group[cells] * L
        np.subtract.at(over.reshape(-1), key + lat.level[cells], 1)
        _put(lat, cells, value.argmin(axis=1))
        np.add.at(over.reshape(-1), key + lat.level[cells], 1)
        near = np.concatenate([bad, cells, *(cells + offset for offset in lat.offsets)])
        near = np.unique(near[movable[near]])
        bad = near[_in_conflict(lat, near)]
    return len(bad)


def _apart(lat: Lattice, cells: IntArray, rng: np.random.Generator) -> IntArray:
    """Those of the cells that lie in one class drawn at random, of a partition drawn at random."""
    row, col = np.divmod(cells, lat.width)
    kind = ((row if rng.integers(2) else col) + 2 * ((row + col) & 1)) & 3
    there = np.bincount(kind, minlength=4)
    pick = int(rng.choice(np.flatnonzero(there)))
    chosen: IntArray = cells[kind == pick]
    return chosen


def surplus_of(lat: Lattice) -> IntArray:
    """Blocks too many of each level in each group."""
    graph = lat.graph
    levels = lat.level[lat.place]
    flat = np.bincount(graph.group * graph.L + levels, minlength=graph.problem.quotas.size)
    over = np.zeros(graph.problem.quotas.shape, dtype=np.int64)
    over += flat.reshape(over.shape)
    over -= graph.problem.quotas
    return over


def even_out(lat: Lattice, rng: np.random.Generator, *, rounds_n: int) -> int:
    """Recolour cells of a valid field until the quotas are exact; returns how many blocks are still wrong."""
    group = _group_of(lat)
    over = surplus_of(lat)
    for turn in range(rounds_n):
        wrong = int(np.maximum(over, 0).sum())
        if not wrong:
            return 0
        if turn % 8 == 7:
            stir(lat, rng, passes=1)
        along = int(rng.integers(2))
        cells = lat.classes[along][int(rng.integers(len(lat.classes[along])))]
        g = int(group[cells[0]])
        if not (over[g] > 0).any():
            continue
        take_n = 40 * wrong + 64
        if len(cells) > take_n:
            at = int(rng.integers(len(cells)))
            cells = np.take(cells, np.arange(at, at + take_n), mode="wrap")
        _recolour(lat, cells, over[g], rng, sideways=turn % 4 == 3)
    return int(np.maximum(over, 0).sum())


def _recolour(lat: Lattice, cells: IntArray, over: IntArray, rng: np.random.Generator, *, sideways: bool) -> None:
    """Move cells of a class from levels above their quota to levels below it; `sideways` to any level instead, one
    each, which hands the surplus on to a level that may be easier to leave."""
    cells = cells[over[lat.level[cells]] > 0]
    cells = cells[rng.permutation(len(cells))]
    legal = _legal(lat, cells)
    one = legal.dtype.type(1)
    for level in rng.permutation(len(over)).tolist():
        room = int(-over[level]) if not sideways else 1
        if room <= 0:
            continue
        fits = (legal >> legal.dtype.type(level)) & one
        for origin in np.flatnonzero(over > 0).tolist():
            if origin == level or room <= 0:
                continue
            at = np.flatnonzero((fits == one) & (lat.level[cells] == origin))[: min(room, int(over[origin]))]
            if len(at):
                _put(lat, cells[at], np.full(len(at), level))
                over[origin] -= len(at)
                over[level] += len(at)
                room -= len(at)


def stir(lat: Lattice, rng: np.random.Generator, *, passes: int) -> int:
    """In each pass every free cell tries one swap with another of its class and group; returns how many pairs swapped.

    The field has to be valid. A swap depends on the walls of the other classes alone, so all swaps of a class are as
    good as one after another, and each is as likely as the swap back.
    """
    swapped = 0
    one = lat.wall.dtype.type(1)
    alike = bool((lat.bars == one << np.arange(lat.graph.L, dtype=lat.bars.dtype)).all())  # a wall is its own level
    for turn in range(passes):
        for cells in lat.classes[turn & 1]:
            if len(cells) < 2:
                continue
            pivot = int(rng.integers(len(cells)))
            legal = _legal(lat, cells)
            wall = lat.wall.take(cells)
            level = None if alike else lat.level.take(cells)
            bit = wall if level is None else one << level.astype(legal.dtype)
            other = _mirror(bit, pivot)
            fits = (legal & other) != 0
            fits &= _mirror(fits, pivot)
            fits &= other != bit
            lat.wall[cells] = np.where(fits, other if alike else _mirror(wall, pivot), wall)
            if level is not None:
                lat.level[cells] = np.where(fits, _mirror(level, pivot), level)
            swapped += int(np.count_nonzero(fits)) // 2
    if alike:
        lat.level[lat.place] = np.frexp(lat.wall[lat.place].astype(np.float64))[1] - 1
    return swapped


def _mirror(x: NDArray[Any], pivot: int) -> NDArray[Any]:
    """x[(pivot - i) mod n]: pairs every entry with another, the other way round too."""
    return np.concatenate([x[pivot::-1], x[:pivot:-1]])
