"""Which engine suits which graph: every threshold between engines, each with its reason.

`bossage.relief.solve` has the table of engines; here are the sizes at which one row of it gives way to another.
"""

from __future__ import annotations

import numpy as np

from bossage.relief.problem.graph import Graph

BITS_FROM = 65  # blocks; on fewer, swaps of two may not lead everywhere, and clusters are needed
BITS_ROWS_FROM = 6  # so that a swap may lead further than a row, even where rows are short
BITS_LEVELS_FROM = 5  # levels; with fewer, swaps get nowhere
BITS_LEVELS_UP_TO = 254  # levels; their numbers go into bytes, 0 left out
BITS_MOST_SHARE = 0.27  # of the blocks on one level; above, a field dealt at random hardly loses its conflicts
CLASSES_FROM = 1_000  # blocks from which whole classes beat one block after another
CLASSES_LEVELS_UP_TO = 64  # levels that fit into the bits of one number a cell
CP_SAT_UP_TO = 2_500  # blocks; the model has a variable for each block and level


def suits_bits(graph: Graph) -> bool:
    """Whether bit-parallel swaps do: a grid, free blocks that only have to differ at their sides, many levels."""
    p = graph.problem
    return (
        p.grid is not None
        and not p.grid.diagonal
        and graph.n >= BITS_FROM
        and graph.L <= BITS_LEVELS_UP_TO
        and p.grid.rows >= BITS_ROWS_FROM
        and p.group_count == 1
        and (p.pins is None and p.allowed is None)
        and p.min_step == 1
        and int(p.quotas.sum()) == graph.n
        and int(np.count_nonzero(p.quotas)) >= BITS_LEVELS_FROM
        and int(p.quotas.max()) <= BITS_MOST_SHARE * graph.n
    )


def suits_classes(graph: Graph) -> bool:
    """Whether whole classes of cells do: a large plain grid whose levels fit into the bits of one number."""
    return graph.problem.grid is not None and graph.n >= CLASSES_FROM and graph.L <= CLASSES_LEVELS_UP_TO


def suits_cp_sat(graph: Graph) -> bool:
    """Whether CP-SAT is asked."""
    return graph.n <= CP_SAT_UP_TO
