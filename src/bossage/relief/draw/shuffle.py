"""Swaps of two random blocks (Kawasaki dynamics), until nothing tells how the field was first filled.

Every swap that keeps the field valid is as likely as the swap back, so the law that the chain tends to is uniform over
all fields that swaps can reach with these quotas, pins and allowed levels.

Source: Kawasaki 1966.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bossage.relief.draw.clusters import cluster_tries, swap_clusters
from bossage.relief.problem.graph import Graph, as_masks
from bossage.relief.problem.records import IntArray

LEAST_ATTEMPTS = 4_000  # small graphs need more than sweeps to forget how they were filled; under 2 ms
ONWARD_SHARE = 6  # of the clusters that a first field needs, one in so many makes a shuffled field another one


@dataclass(frozen=True, slots=True, kw_only=True)
class Shuffled:
    """A shuffled field and what it took."""

    levels: IntArray
    swaps_tried: int
    swaps_done: int


def shuffle(graph: Graph, levels: IntArray, rng: np.random.Generator, *, sweeps: int, onward: bool = False) -> Shuffled:
    """Try `sweeps` swaps for each free block (4,000 in all at least), each between two random blocks of one group.

    The field has to be valid and stays so. Works on any graph; a few microseconds an attempt. `onward`: the field
    is shuffled already and only has to become another one, for which a few sweeps and clusters do.
    """
    free = np.flatnonzero(graph.pins < 0)
    if len(free) < 2 or sweeps <= 0:
        return Shuffled(levels=levels, swaps_tried=0, swaps_done=0)
    by_group = free[np.argsort(graph.group[free], kind="stable")]
    size = np.bincount(graph.group[free], minlength=graph.problem.group_count)
    start = np.cumsum(size) - size
    attempts = max(sweeps * len(free), 0 if onward else LEAST_ATTEMPTS)
    one = free[rng.integers(len(free), size=attempts)]
    g = graph.group[one]
    other = by_group[start[g] + rng.integers(0, size[g])]
    bit = [1 << level for level in range(graph.L)]
    masks = graph.conflict_mask
    choice = as_masks(graph.choice)
    level = levels.tolist()
    wall = [masks[x] for x in level]
    neighbours = graph.neighbours
    swaps = 0
    for a, b in zip(one.tolist(), other.tolist(), strict=True):
        la, lb = level[a], level[b]
        if la == lb:
            continue
        want_a, want_b = bit[lb], bit[la]
        if not (choice[a] & want_a and choice[b] & want_b):
            continue
        for u in neighbours[a]:
            if wall[u] & want_a:
                break
        else:
            for u in neighbours[b]:
                if wall[u] & want_b:
                    break
            else:
                level[a], level[b] = lb, la
                wall[a], wall[b] = masks[lb], masks[la]
                swaps += 1
    tries = cluster_tries(len(free), swaps / attempts) // (ONWARD_SHARE if onward else 1)
    shuffled, done = swap_clusters(graph, np.array(level, dtype=np.int64), rng, tries=tries)
    return Shuffled(levels=shuffled, swaps_tried=attempts + tries, swaps_done=swaps + done)
