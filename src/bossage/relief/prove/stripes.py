"""Counts that no alternating rows or columns of four levels have."""

from __future__ import annotations

import numpy as np

from bossage.relief.order.stripes import four_levels, nearest_stripes
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import NoField, Proof
from bossage.relief.problem.verdict import Finding, count_of, level_list


def stripes(graph: Graph) -> Finding | None:
    """Quotas that stripes cannot have, with the nearest that they can; only where the rule leaves nothing else."""
    levels = four_levels(graph)
    if levels is None:
        return None
    kind, counts = nearest_stripes(graph, levels)
    if (counts == graph.problem.quotas[0]).all():
        return None
    grid = graph.problem.grid
    assert grid is not None
    lines = "row" if kind.along else "column"
    moved = int(np.maximum(graph.problem.quotas[0] - counts, 0).sum())
    names = level_list([graph.problem.level_name(level) for level in levels])
    near = ", ".join(f"{counts[level]:,} of {graph.problem.level_name(level)}" for level in levels)
    text = (
        f"With corners that must differ only levels {names} can be used, four in every 2 × 2 blocks, so every row or "
        f"every column alternates between two levels. On {grid.rows} × {grid.columns} blocks no such stripes have "
        f"these quotas; the nearest, by {lines}s, have {near}: {count_of(moved, 'block')} elsewhere."
    )
    return Finding(no=NoField(reasons=(text,), proof=Proof.STRIPES, proven=True))
