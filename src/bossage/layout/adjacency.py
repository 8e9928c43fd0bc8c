"""Which blocks are neighbours: those that share part of an edge, and those that only meet at a corner."""

from __future__ import annotations

import numpy as np

from bossage.layout.records import IntArray


def touching_pairs(
    leaf: IntArray, x: IntArray, y: IntArray, width: IntArray, height: IntArray, gap_nm: int
) -> tuple[IntArray, IntArray]:
    """Pairs of one leaf that share part of an edge, and pairs that only meet at a corner; gap aside.

    Each result is m × 2, lower index first, in ascending order. One sorted sweep in each direction, so the time is
    that of sorting the blocks.
    """
    across = _sweep(leaf, x, y, width, height, gap_nm)
    up = _sweep(leaf, y, x, height, width, gap_nm)
    shared = _unique(np.concatenate([across[across[:, 2] == 1, :2], up[up[:, 2] == 1, :2]]))
    corner = _unique(np.concatenate([across[across[:, 2] == 0, :2], up[up[:, 2] == 0, :2]]))
    return shared, corner


def _sweep(leaf: IntArray, along: IntArray, cross: IntArray, size: IntArray, breadth: IntArray, gap: int) -> IntArray:
    """Pairs where the second begins one gap after the first ends; third column 1 where their breadths overlap.

    Blocks that begin on one line do not overlap in breadth, so per line they are sorted both by their start and by
    their end, and the partners of a block are one run of them.
    """
    low = int(along.min(initial=0))
    reach = int((along + size).max(initial=0)) + gap - low + 1
    lines, begin = np.unique(leaf * reach + (along - low), return_inverse=True)
    ends = _line_numbers(lines, leaf * reach + (along + size + gap - low))
    cross = cross - cross.min(initial=0)
    span = int((cross + breadth).max(initial=0)) + 2 * gap + 2  # keeps the lines apart in one sorted key
    order = np.lexsort((cross, begin))
    key_low = begin[order] * span + cross[order]
    key_high = key_low + breadth[order]
    first = np.flatnonzero(ends >= 0)
    base = ends[first] * span + cross[first]
    start = np.searchsorted(key_high, base - gap, side="left")
    stop = np.searchsorted(key_low, base + breadth[first] + gap, side="right")
    # A run may not leak into the line before or after it.
    start = np.maximum(start, np.searchsorted(begin[order], ends[first], side="left"))
    stop = np.minimum(stop, np.searchsorted(begin[order], ends[first], side="right"))
    counts = np.maximum(stop - start, 0)
    a = np.repeat(first, counts)
    offset = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
    b = order[np.repeat(start, counts) + offset]
    overlap = np.minimum(cross[a] + breadth[a], cross[b] + breadth[b]) - np.maximum(cross[a], cross[b])
    return np.stack([np.minimum(a, b), np.maximum(a, b), (overlap > 0).astype(np.int64)], axis=1)


def _line_numbers(lines: IntArray, wanted: IntArray) -> IntArray:
    """Where each wanted line stands among the sorted ones, -1 where no block begins there."""
    if not lines.size:
        return np.full(wanted.size, -1, dtype=np.int64)
    at = np.minimum(np.searchsorted(lines, wanted), lines.size - 1)
    return np.where(lines[at] == wanted, at, -1)


def _unique(pairs: IntArray) -> IntArray:
    """Distinct pairs in ascending order."""
    if not pairs.size:
        return np.zeros((0, 2), dtype=np.int64)
    base = int(pairs.max()) + 1  # one number a pair sorts far faster than rows do
    keys = np.unique(pairs[:, 0] * base + pairs[:, 1])
    return np.stack(np.divmod(keys, base), axis=1).astype(np.int64)
