"""Min-conflicts, class by class: conflicts and wrong counts of a lattice are taken away (Minton and others 1992)."""

from __future__ import annotations

import numpy as np

from bossage.relief.draw.lattice import Lattice, group_of, in_conflict, legal_levels, put, surplus_of
from bossage.relief.draw.lattice_shuffle import shuffle_cells
from bossage.relief.problem.records import IntArray

TIE_LEAN = 24  # of 64 parts of a conflict, how far a tie leans towards levels that still lack blocks
STALLED_ROUNDS = 2_000  # rounds without fewer cells in conflict after which a draw is given up
WORSE_SHARE = 0.65  # of repaired cells that take a level at random among those one conflict worse


def repair_cells(lat: Lattice, rng: np.random.Generator, *, rounds: int) -> int:
    """Take conflicts away; returns how many cells are still in conflict."""
    L = lat.graph.L
    weigh = np.vstack([lat.graph.conflict.astype(np.int16), np.zeros((256 - L, L), dtype=np.int16)])
    bad = lat.free[in_conflict(lat, lat.free)]
    group = group_of(lat)
    over = surplus_of(lat)
    movable = np.zeros(len(lat.level), dtype=np.bool_)
    movable[lat.free] = True
    fewest, since = len(bad), 0
    for turn in range(rounds):
        if not len(bad):
            return 0
        if len(bad) < fewest:
            fewest, since = len(bad), turn
        elif turn - since > STALLED_ROUNDS:
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
        put(lat, cells, value.argmin(axis=1))
        np.add.at(over.reshape(-1), key + lat.level[cells], 1)
        near = np.concatenate([bad, cells, *(cells + offset for offset in lat.offsets)])
        near = np.unique(near[movable[near]])
        bad = near[in_conflict(lat, near)]
    return len(bad)


def _apart(lat: Lattice, cells: IntArray, rng: np.random.Generator) -> IntArray:
    """Those of the cells that lie in one class drawn at random, of a partition drawn at random."""
    row, col = np.divmod(cells, lat.width)
    kind = ((row if rng.integers(2) else col) + 2 * ((row + col) & 1)) & 3
    there = np.bincount(kind, minlength=4)
    pick = int(rng.choice(np.flatnonzero(there)))
    chosen: IntArray = cells[kind == pick]
    return chosen


def even_out(lat: Lattice, rng: np.random.Generator, *, rounds: int) -> int:
    """Recolour cells of a valid field until the quotas are exact; returns how many blocks are still wrong."""
    group = group_of(lat)
    over = surplus_of(lat)
    for turn in range(rounds):
        wrong = int(np.maximum(over, 0).sum())
        if not wrong:
            return 0
        if turn % 8 == 7:
            shuffle_cells(lat, rng, passes=1)
        along = int(rng.integers(2))
        cells = lat.classes[along][int(rng.integers(len(lat.classes[along])))]
        g = int(group[cells[0]])
        if not (over[g] > 0).any():
            continue
        take = 40 * wrong + 64
        if len(cells) > take:
            at = int(rng.integers(len(cells)))
            cells = np.take(cells, np.arange(at, at + take), mode="wrap")
        _recolour(lat, cells, over[g], rng, sideways=turn % 4 == 3)
    return int(np.maximum(over, 0).sum())


def _recolour(lat: Lattice, cells: IntArray, over: IntArray, rng: np.random.Generator, *, sideways: bool) -> None:
    """Move cells of a class from levels above their quota to levels below it; `sideways` to any level instead, one
    each, which hands the surplus on to a level that may be easier to leave."""
    cells = cells[over[lat.level[cells]] > 0]
    cells = cells[rng.permutation(len(cells))]
    legal = legal_levels(lat, cells)
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
                put(lat, cells[at], np.full(len(at), level))
                over[origin] -= len(at)
                over[level] += len(at)
                room -= len(at)
