"""How much of each block's sides stands above its neighbours."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.layout.records import BlockField, Layout
from bossage.relief import Relief


def sides_shown_mm2(layout: Layout, relief: Relief) -> NDArray[np.float64]:
    """Side area of each block that no neighbour hides, one entry a block.

    Where a side has no neighbour (outline of the leaf, open cell), all that is sawn shows: a ring block down to its
    back, beside the backer. A gap counts as closed:
    what is seen through a few tenths of a millimetre is no paint to buy.

    Returns:
        mm² a block.
    """
    blocks = layout.blocks
    level_mm = np.asarray(relief.levels_nm, dtype=np.int64)[relief.level] / 1e6
    perimeter_mm = 2 * (blocks.width_nm + blocks.height_nm) / 1e6
    behind_mm = relief.length_nm / 1e6 - level_mm  # of a ring block, beside the backer
    shown = perimeter_mm * (level_mm + behind_mm)
    if blocks.edges.size:
        one, other = blocks.edges[:, 0], blocks.edges[:, 1]
        contact, lower = contact_mm(blocks), np.minimum(level_mm[one], level_mm[other])
        np.subtract.at(shown, one, contact * (lower + behind_mm[one]))
        np.subtract.at(shown, other, contact * (lower + behind_mm[other]))
    return np.maximum(shown, 0.0)


def contact_mm(blocks: BlockField) -> NDArray[np.float64]:
    """Length of the shared edge of each neighbour pair, in mm, in the order of `blocks.edges`."""
    one, other = blocks.edges[:, 0], blocks.edges[:, 1]
    across = _overlap(blocks.x_nm, blocks.width_nm, one, other)
    upward = _overlap(blocks.y_nm, blocks.height_nm, one, other)
    # of two blocks side by side, one overlap is the shared edge and the other is nil or negative (the gap)
    return np.maximum(across, upward) / 1e6


def _overlap(
    start: NDArray[np.int64], size: NDArray[np.int64], one: NDArray[np.int64], other: NDArray[np.int64]
) -> NDArray[np.int64]:
    overlap: NDArray[np.int64] = np.minimum(start[one] + size[one], start[other] + size[other]) - np.maximum(
        start[one], start[other]
    )
    return overlap
