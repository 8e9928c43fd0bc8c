"""The lines of blocks that a leaf is made of: what lies one after another, across and up."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from bossage.layout.records import BlockField, IntArray


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockLine:
    """One line: `blocks` in the order of laying, left to right or from the top down; how wide the line is."""

    blocks: IntArray
    low_nm: int
    high_nm: int


def block_lines(field: BlockField, chosen: IntArray, way: str) -> list[BlockLine]:
    """Lines of some blocks along one way, `across` or `up`.

    Between every two edges of blocks, side by side, lies a line; where blocks of one row differ in height a row has
    several. A line without blocks is a gap and is left out.
    """
    if way == "across":
        along, side, wide = field.x_nm[chosen], field.y_nm[chosen], field.height_nm[chosen]
    else:
        # laid from the top down: the upper edge comes first
        along = -(field.y_nm[chosen] + field.height_nm[chosen])
        side, wide = field.x_nm[chosen], field.width_nm[chosen]
    order = np.argsort(along, kind="stable")
    side, wide = side[order], wide[order]
    edges = np.unique(np.concatenate([side, side + wide])).tolist()
    found = []
    for low, high in pairwise(edges):
        here = (side <= low) & (side + wide >= high)
        if here.any():
            found.append(BlockLine(blocks=chosen[order[here]], low_nm=low, high_nm=high))
    return found
