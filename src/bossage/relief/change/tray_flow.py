"""Flow between trays and places: which block becomes which, what has to be sawn new, and who takes what.

A place wants a footprint, a level and a shade. A block in a tray has a footprint, a length and a shade, or is bare.
It fits where its length is what the level needs; a longer one can be sawn shorter and keeps its painted face, a
shorter one can not be made longer. So for every length there must be at least as many blocks of it or longer as
places that want so much. Where there are fewer blocks than places the rest has to be sawn new, at any length.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import IntArray

NEW = -2  # taken from a stick, not from a tray
NOT_TAKEN = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class Trays:
    """What the places want, and what there is.

    Attributes:
        kind: Footprint of each place.
        shade: Shade that each place wants.
        length: Index of the length that each place needs for each level, shape (places, levels).
        have: Blocks there are, shape (kinds, lengths ascending, shades + 1); the last column counts bare ones.
        saw: Whether a block may be sawn shorter.
    """

    kind: IntArray
    shade: IntArray
    length: IntArray
    have: IntArray
    saw: bool = True

    @property
    def bare(self) -> int:
        """The column of bare blocks."""
        return int(self.have.shape[2]) - 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Flow:
    """Blocks taken out of the trays, or sawn new, by what they become.

    `count[kind, length, shade, to]` blocks of a length and shade end at the length `to`; `new[kind, length]` come off
    a stick.
    """

    count: IntArray
    new: IntArray


def shortage(graph: Graph, trays: Trays) -> IntArray:
    """Blocks of each kind that there are too few of, whatever their length."""
    open = np.bincount(trays.kind[graph.pins < 0], minlength=len(trays.have))
    lack: IntArray = np.maximum(open - trays.have.sum(axis=(1, 2)), 0)
    return lack


def fewest_possible(graph: Graph, current: IntArray, trays: Trays) -> int:
    """A lower bound of the changes: glued places that differ, and places whose length no block can give."""
    forced = int(((graph.pins >= 0) & (graph.pins != current)).sum())
    wants = wanted(graph, trays, current)
    have = trays.have.sum(axis=2)
    missing = 0
    for kind, lack in enumerate(shortage(graph, trays).tolist()):
        missing += max(0, int(unmet_of(wants[kind], have[kind], trays.saw).sum()) - lack)
    return forced + missing


def wanted(graph: Graph, trays: Trays, levels: IntArray) -> IntArray:
    """Places that are not glued, by kind and by the length that these levels need."""
    out = np.zeros(trays.have.shape[:2], dtype=np.int64)
    at = np.flatnonzero(graph.pins < 0)
    np.add.at(out, (trays.kind[at], trays.length[at, levels[at]]), 1)
    return out


def unmet_of(wants: IntArray, have: IntArray, saw: bool) -> IntArray:
    """Places of each length that are left without a block, longest served first."""
    if not saw:
        out: IntArray = np.maximum(wants - have, 0)
        return out
    out, spare = np.zeros_like(wants), 0
    for k in range(len(wants) - 1, -1, -1):
        spare += int(have[k] - wants[k])
        if spare < 0:
            out[k], spare = -spare, 0
    return out


def flow_of(graph: Graph, trays: Trays, levels: IntArray) -> Flow | None:
    """How the trays serve these levels with the least paint and sawing, or None when they can not.

    Longest places first; each length takes its own blocks before longer ones, the nearest longer ones next.
    """
    kinds, lengths, shades = trays.have.shape
    count = np.zeros((kinds, lengths, shades, lengths), dtype=np.int64)
    new = np.zeros((kinds, lengths), dtype=np.int64)
    at = np.flatnonzero(graph.pins < 0)
    place = np.zeros((kinds, lengths, shades - 1), dtype=np.int64)
    np.add.at(place, (trays.kind[at], trays.length[at, levels[at]], trays.shade[at]), 1)
    lack = shortage(graph, trays)
    for kind in range(kinds):
        left = trays.have[kind].copy()
        for k in range(lengths - 1, -1, -1):
            need = int(place[kind, k].sum())
            for source in range(k, lengths if trays.saw else k + 1):
                alike = np.append(np.minimum(place[kind, k], left[source, :-1]), 0)
                for s in (*np.flatnonzero(alike).tolist(), trays.bare, *range(trays.bare)):
                    take = min(need, int(alike[s] or left[source, s]))
                    alike[s] = 0
                    count[kind, source, s, k] += take
                    left[source, s] -= take
                    need -= take
            new[kind, k] = need
        if int(new[kind].sum()) != int(lack[kind]):
            return None
    return Flow(count=count, new=new)


def deal(
    graph: Graph, trays: Trays, levels: IntArray, current: IntArray, flow: Flow, prefer: IntArray | None
) -> tuple[IntArray, IntArray]:
    """Which block each place takes: its own shade wherever there is one, unchanged places first.

    Returns the blocks taken (length and shade by place, see `Laid.took`) and what stays in the trays.
    """
    took = np.full((graph.n, 2), NOT_TAKEN, dtype=np.int64)
    rank = np.zeros(graph.n, dtype=np.int64)  # later places take the odd blocks
    rank[levels != current] = 1
    if prefer is not None:
        rank[prefer] = 2
    kinds, lengths, _, _ = flow.count.shape
    need = trays.length[np.arange(graph.n), levels]
    for kind in range(kinds):
        for k in range(lengths):
            places = np.flatnonzero((graph.pins < 0) & (trays.kind == kind) & (need == k))
            places = places[np.argsort(rank[places], kind="stable")]
            pool = flow.count[kind, :, :, k].copy()
            rest = []
            for v in places.tolist():
                own = np.flatnonzero(pool[:, trays.shade[v]])
                if len(own):
                    source = int(own[np.abs(own - k).argmin()])
                    took[v] = source, trays.shade[v]
                    pool[source, trays.shade[v]] -= 1
                else:
                    rest.append(v)
            for v in rest:
                took[v] = _odd_one(pool, k, trays.bare)
                if took[v, 0] >= 0:
                    pool[took[v, 0], took[v, 1]] -= 1
    left: IntArray = trays.have - flow.count.sum(axis=3)
    return took, left


def _odd_one(pool: IntArray, k: int, bare: int) -> tuple[int, int]:
    """A block for a place that none of its own shade is left for: bare before painted, own length before longer."""
    for shade in (bare, None):
        where = pool[:, bare] if shade is not None else pool.sum(axis=1)
        there = np.flatnonzero(where)
        if len(there):
            source = int(there[np.abs(there - k).argmin()])
            return source, bare if shade is not None else int(pool[source].argmax())
    return NEW, bare
