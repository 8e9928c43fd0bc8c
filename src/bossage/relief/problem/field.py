"""Whether levels make a field: neighbours, quotas, pins and allowed levels, looked at anew whoever made it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import IntArray, Solved, SolveReport


def handed_out(graph: Graph, levels: IntArray, report: SolveReport) -> Solved:
    """A field as an engine hands it out: looked at once more and frozen.

    Raises:
        AssertionError: A rule is broken, which is a fault of the engine.
    """
    if not is_field(graph, levels):
        raise AssertionError("A field left the engine with a rule broken; this is a fault of the program.")
    levels.setflags(write=False)
    return Solved(levels=levels, report=report)


def is_field(graph: Graph, levels: IntArray) -> bool:
    """Whether a field keeps every rule: neighbours, quotas, pins and allowed levels."""
    if len(levels) != graph.n or (graph.n and not 0 <= int(levels.min()) <= int(levels.max()) < graph.L):
        return False
    if not graph.unbound and not graph.choice[np.arange(graph.n), levels].all():
        return False
    return conflicts(graph, levels) == 0 and bool((counts_of(graph, levels) == graph.problem.quotas).all())


def counts_of(graph: Graph, levels: IntArray) -> IntArray:
    """Blocks of each level in each quota group, shape (groups, levels)."""
    flat = np.bincount(graph.group * graph.L + levels, minlength=graph.problem.quotas.size)
    return flat.reshape(graph.problem.quotas.shape)


def conflicts(graph: Graph, levels: IntArray) -> int:
    """How many pairs of neighbours break the rule."""
    grid, step = graph.problem.grid, graph.problem.min_step
    if grid is not None and graph.row_major and graph.L < 128:
        return _conflicts_on_grid(levels.astype(np.int8).reshape(grid.block.shape), step, corners=grid.diagonal)
    return int(graph.conflict[levels[graph.edges[:, 0]], levels[graph.edges[:, 1]]].sum())


def _conflicts_on_grid(cells: NDArray[np.int8], step: int, *, corners: bool) -> int:
    pairs = [(cells[:, :-1], cells[:, 1:]), (cells[:-1], cells[1:])]
    if corners:
        pairs += [(cells[:-1, :-1], cells[1:, 1:]), (cells[:-1, 1:], cells[1:, :-1])]
    if step == 1:
        return sum(int(np.count_nonzero(a == b)) for a, b in pairs)
    return sum(int(np.count_nonzero(np.abs(a - b) < step)) for a, b in pairs)
