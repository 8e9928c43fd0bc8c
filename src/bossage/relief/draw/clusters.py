"""Cluster moves (Wang, Swendsen and Kotecký), for few levels, small graphs and wide steps, where swaps get nowhere.

A move mirrors levels about a height. A block that changes may make neighbours change too, and these their neighbours;
all of them are one cluster, and change together, so that the rule is kept within it. A cluster changes the counts of
levels. So either a second cluster changes with it that brings the counts back, or the counts stay wrong for a while.
The further the counts are off, the less likely a field is. Only fields of exact counts are handed out, and each move
is as likely as the move back but for that factor. So all fields of exact counts come out equally often.

Source: Wang, Swendsen and Kotecky 1989, kept to the quotas.
"""

from __future__ import annotations

import numpy as np

from bossage.relief.problem.graph import Graph, as_masks
from bossage.relief.problem.records import IntArray

CLUSTER_MOST = 32  # blocks that may change at once; larger clusters hardly ever even out
SMALL_UP_TO = 64  # blocks up to which clusters always take part: swaps of two may not lead everywhere
FEW_SWAPS_SHARE = 0.04  # of the attempts; below, swaps of two leave the way a field was filled in sight
SMALL_TRIES = 6_000  # the slowest of small graphs (3 x 4, five levels, steps of two) forgets within a thousand or so
TRIES_FOR_EACH = 12  # of every free block of larger graphs
LEAST_TRIES = 1_500
MOST_TRIES = 30_000
ODDS_OFF = 2.0  # by the number of blocks: how likely a field is for each block that has a level too many
EXACT_OF_TRIES = 6  # once one in so many tries left the counts exact, the walk ends


def cluster_tries(free: int, swapped_share: float) -> int:
    """How many clusters to try on a graph of so many free blocks, after that share of swaps of two was done."""
    if free <= SMALL_UP_TO:
        return SMALL_TRIES
    if swapped_share >= FEW_SWAPS_SHARE:
        return 0
    return min(max(LEAST_TRIES, TRIES_FOR_EACH * free), MOST_TRIES)


def swap_clusters(graph: Graph, levels: IntArray, rng: np.random.Generator, *, tries: int) -> tuple[IntArray, int]:
    """Try so many clusters; returns the field, which was valid and still is, and how many changes were done."""
    free = np.flatnonzero(graph.pins < 0)
    if len(free) < 2 or graph.L < 2 or tries <= 0:
        return levels, 0
    walk = _Walk(graph, levels)
    first = free[rng.integers(len(free), size=tries)].tolist()
    second = free[rng.integers(len(free), size=tries)].tolist()
    level_count = graph.L
    step = rng.integers(1, level_count, size=tries).tolist()
    chance = rng.random(tries).tolist()
    alone = (rng.random(tries) < 0.5).tolist()
    done, exact = 0, 0
    for turn in range(tries):
        a = walk.level[first[turn]]
        both = a + (a + step[turn]) % level_count
        one = walk.cluster(first[turn], both)
        if one is not None:
            done += walk.take(one, both, chance[turn]) if alone[turn] else walk.take_even(one, second[turn], both)
        # Ending at a set number of exact fields, and not after a set number of tries, favours none of them.
        exact += not walk.off
        if exact * EXACT_OF_TRIES >= tries:
            break
    walk.back_to_exact()
    return np.array(walk.level, dtype=np.int64), done


class _Walk:
    """A field on its walk, and what was changed since its counts were last exact."""

    def __init__(self, graph: Graph, levels: IntArray) -> None:
        self.level: list[int] = levels.tolist()
        self.near = graph.neighbours
        self.bars = graph.conflict_mask
        self.open_to = as_masks(graph.choice)
        self.free = (graph.pins < 0).tolist()
        self.base = (graph.group * graph.L).tolist()  # what is counted of a level of its group stands this far on
        self.top = graph.L - 1
        self.over = [0] * (graph.L * graph.problem.group_count)
        # there are more ways off the exact counts the more blocks there are; so a good part of the walk is exact
        self.odds = min(0.5, ODDS_OFF / int((graph.pins < 0).sum()))
        self.off = 0  # blocks that have a level too many
        self.since: list[tuple[set[int], int]] = []

    def take(self, cluster: set[int], both: int, chance: float) -> bool:
        """Change a cluster by itself, the less likely the further it takes the counts off."""
        gains = self._gains(cluster, both)
        after = self.off
        over = self.over
        for at, n in gains.items():
            was = over[at]
            after += (was + n if was + n > 0 else 0) - (was if was > 0 else 0)
        if after > self.off and chance >= self.odds ** (after - self.off):
            return False
        for at, n in gains.items():
            over[at] += n
        self.off = after
        self._change(cluster, both)
        return True

    def take_even(self, cluster: set[int], mate: int, both: int) -> bool:
        """Change a cluster that leaves the counts as they are, by itself or with that of `mate`."""
        gains = self._gains(cluster, both)
        if any(gains.values()):
            if mate in cluster:
                return False
            more = self.cluster(mate, both)
            if more is None:
                return False
            for at, n in self._gains(more, both).items():
                gains[at] = gains.get(at, 0) + n
            if any(gains.values()) or more & cluster:
                return False
            cluster |= more
        self._change(cluster, both)
        return True

    def back_to_exact(self) -> None:
        """Undo what was changed since the counts were last exact."""
        if self.off:
            for cluster, both in reversed(self.since):
                self._flip(cluster, both)

    def _change(self, cluster: set[int], both: int) -> None:
        self._flip(cluster, both)
        if self.off:
            self.since.append((cluster, both))
        else:
            self.since.clear()

    def _flip(self, cluster: set[int], both: int) -> None:
        for u in cluster:
            self.level[u] = both - self.level[u]

    def _gains(self, cluster: set[int], both: int) -> dict[int, int]:
        """How many more blocks of each level there will be, where `over` counts them."""
        gains: dict[int, int] = {}
        level, base = self.level, self.base
        for u in cluster:
            old = base[u] + level[u]
            new = 2 * base[u] + both - old
            gains[old] = gains.get(old, 0) - 1
            gains[new] = gains.get(new, 0) + 1
        return gains

    def cluster(self, start: int, both: int) -> set[int] | None:
        """All blocks that have to change once `start` does, each from its level to `both` less it; None if barred."""
        level, bars, top, near = self.level, self.bars, self.top, self.near
        free, open_to = self.free, self.open_to
        found, todo = {start}, [start]
        for v in todo:
            new = both - level[v]
            if not (0 <= new <= top and free[v] and open_to[v] >> new & 1):
                return None
            barred = bars[new]
            for u in near[v]:
                if not barred >> level[u] & 1 or u in found:
                    continue
                if len(todo) >= CLUSTER_MOST:
                    return None
                found.add(u)
                todo.append(u)
        return found
