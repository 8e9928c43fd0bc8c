"""Neighbours that may not be alike: exchange shades between blocks until as few pairs clash as can be found.

Each exchange lowers the number of clashing pairs; among those that do, the one that disturbs the fade least is taken.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from bossage.colour.spaces import FloatArray

IntArray = NDArray[np.int64]

# An exchange with a block far from the fade's own wish is looked at only when near ones did not help.
_FIRST_REACH: Final = 64


def clashing_pairs(shade: IntArray, edges: IntArray, clash: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """For each pair of neighbours, whether their shades clash."""
    hit: NDArray[np.bool_] = clash[shade[edges[:, 0]], shade[edges[:, 1]]]
    return hit


def part_neighbours(
    shade: IntArray,
    misfit: FloatArray,
    edges: IntArray,
    clash: NDArray[np.bool_],
    *,
    fixed: NDArray[np.bool_],
    keep_counts: bool,
    order: IntArray,
    max_rounds: int,
) -> int:
    """Change `shade` in place so that fewer neighbours clash, and return how many pairs still do.

    Args:
        shade: Shade of each block.
        misfit: n x K, how badly each shade suits each block.
        edges: m x 2 pairs of neighbours.
        clash: K x K, symmetric, which shades may not meet.
        fixed: Blocks that must keep their shade.
        keep_counts: Exchange shades between two blocks; otherwise a block may simply change its own.
        order: In which order blocks are looked at.
        max_rounds: Sweeps over all clashing blocks at most.
    """
    around = _neighbour_table(len(shade), edges)
    place = np.empty(len(shade), dtype=np.int64)
    place[order] = np.arange(len(shade))
    reach = _FIRST_REACH
    for _ in range(max_rounds):
        hit = edges[clashing_pairs(shade, edges, clash)]
        blocks = np.unique(hit)
        blocks = blocks[~fixed[blocks]]
        if len(blocks) == 0:
            break
        moved = False
        for block in blocks[np.argsort(place[blocks])]:
            if keep_counts:
                moved |= _exchange(int(block), shade, misfit, around, clash, fixed, reach)
            else:
                moved |= _repaint(int(block), shade, misfit, around, clash)
        if not moved:
            if not keep_counts or reach >= len(shade):
                break
            reach *= 8
    return int(clashing_pairs(shade, edges, clash).sum())


def _exchange(
    a: int,
    shade: IntArray,
    misfit: FloatArray,
    around: IntArray,
    clash: NDArray[np.bool_],
    fixed: NDArray[np.bool_],
    reach: int,
) -> bool:
    mine = int(shade[a])
    now_a = int(_clashes(np.array([a]), np.array([mine]), shade, around, clash)[0])
    if now_a == 0:
        return False
    others = np.flatnonzero((shade != mine) & ~fixed)
    others = others[~np.isin(others, around[a])]
    if len(others) == 0:
        return False
    theirs = shade[others]
    change = misfit[a, theirs] - misfit[a, mine] + misfit[others, mine] - misfit[others, theirs]
    if len(others) > reach:
        near = np.argpartition(change, reach)[:reach]
        others, theirs, change = others[near], theirs[near], change[near]
    all_a = np.full(len(others), a)
    before = now_a + _clashes(others, theirs, shade, around, clash)
    after = _clashes(all_a, theirs, shade, around, clash) + _clashes(
        others, np.full(len(others), mine), shade, around, clash
    )
    better = np.flatnonzero(after < before)
    if len(better) == 0:
        return False
    b = better[np.lexsort((others[better], np.round(change[better], 9)))[0]]
    shade[a], shade[others[b]] = theirs[b], mine
    return True


def _repaint(a: int, shade: IntArray, misfit: FloatArray, around: IntArray, clash: NDArray[np.bool_]) -> bool:
    every = np.arange(len(clash))
    count = _clashes(np.full(len(every), a), every, shade, around, clash)
    best = int(np.lexsort((np.round(misfit[a], 9), count))[0])
    if count[best] >= count[shade[a]]:
        return False
    shade[a] = best
    return True


def _clashes(
    blocks: IntArray, as_shade: IntArray, shade: IntArray, around: IntArray, clash: NDArray[np.bool_]
) -> IntArray:
    near = around[blocks]
    hit = clash[as_shade[:, None], shade[near]] & (near >= 0)
    return np.asarray(hit.sum(axis=1), dtype=np.int64)


def _neighbour_table(n: int, edges: IntArray) -> IntArray:
    """Neighbours of each block, one row a block, filled up with -1."""
    both = np.concatenate([edges, edges[:, ::-1]])
    both = both[np.argsort(both[:, 0], kind="stable")]
    degree = np.bincount(both[:, 0], minlength=n)
    column = np.arange(len(both)) - np.repeat(np.cumsum(degree) - degree, degree)
    table = np.full((n, max(1, int(degree.max()))), -1, dtype=np.int64)
    table[both[:, 0], column] = both[:, 1]
    return table
