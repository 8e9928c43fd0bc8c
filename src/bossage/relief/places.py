"""What the places of blocks say: whether they are the cells of one plain grid, and which stand at the outline."""

from __future__ import annotations

import numpy as np

from bossage.layout.records import BlockField
from bossage.relief.problem.records import BoolArray, GridShape, IntArray, grid_pairs


def grid_of(blocks: BlockField, *, diagonal: bool) -> GridShape | None:
    """The grid behind these blocks, leaves side by side with an empty column between; None where there is none.

    Only what the neighbours say counts: a block over several cells, a split cell or a ring that stands off by half a
    cell has other neighbours than a grid, and is left to the engines for any graph.
    """
    if not blocks.count or blocks.letter.any():
        return None
    leaf_count = int(blocks.leaf.max()) + 1
    row = blocks.row - int(blocks.row.min())
    column = blocks.column - int(blocks.column.min())
    wide = int(column.max()) + 2
    cells = np.full((int(row.max()) + 1, leaf_count * wide - 1), -1, dtype=np.int64)
    cells[row, column + blocks.leaf * wide] = np.arange(blocks.count)
    if int((cells >= 0).sum()) != blocks.count:
        return None
    sides, corners = grid_pairs(cells)
    if not _alike(sides, blocks.edges) or (diagonal and not _alike(corners, blocks.corner_edges)):
        return None
    return GridShape(block=cells, diagonal=diagonal)


def at_outline(copies: IntArray, x: IntArray, y: IntArray, width: IntArray, height: IntArray) -> BoolArray:
    """Blocks at the outline of their copy of the piece; where two leaves meet is no outline."""
    out = np.zeros(len(copies), dtype=np.bool_)
    for copy in np.unique(copies):
        mine = copies == copy
        for low, size in ((x, width), (y, height)):
            near, far = low[mine], low[mine] + size[mine]
            out[mine] |= (near == near.min()) | (far == far.max())
    return out


def _alike(one: IntArray, other: IntArray) -> bool:
    """Whether both hold the same pairs, in whatever order."""
    if len(one) != len(other):
        return False
    low = np.sort(one, axis=1)
    high = np.sort(other, axis=1)
    return bool((low[np.lexsort(low.T)] == high[np.lexsort(high.T)]).all())
