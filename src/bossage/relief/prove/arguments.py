"""Proofs that a field cannot exist, cheap ones first, each with a sentence that a maker can act on.

The order is: counts, pins, choices, blocks that their neighbours leave no level, blocks that all touch, blocks that
have to stand apart (Koenig 1931 on two-sided graphs), levels that need company, chessboards of low and high, rigid
stripes, and small tiles (a linear program whose infeasibility is the proof).
"""

from __future__ import annotations

from bossage.relief.problem.graph import Graph
from bossage.relief.problem.verdict import Finding
from bossage.relief.prove.apart import apart, company
from bossage.relief.prove.bands import bands
from bossage.relief.prove.chess import chess
from bossage.relief.prove.counting import pin_counts, pin_pairs, sums
from bossage.relief.prove.reach import choices, few_levels, narrowed
from bossage.relief.prove.stripes import stripes
from bossage.relief.prove.tiles import tiles


def first_proofs(graph: Graph) -> Finding | None:
    """Counts, pins, choices, emptied blocks and touching blocks: what can be said before any search."""
    for step in (sums, pin_counts, pin_pairs, few_levels):
        found = step(graph)
        if found:
            return found
    reach, emptied = narrowed(graph)
    if emptied:
        return emptied
    graph.narrow(reach)
    return choices(graph, reach)


def later_proofs(graph: Graph, *, with_solver: bool) -> Finding | None:
    """Bounds on how many blocks of a set of levels the graph can hold; first proofs come first.

    `with_solver` adds those that load a solver: the exact bound on graphs with triangles, and the tiles.
    """
    for window in graph.windows:
        found = apart(graph, graph.choice, window, with_solver)
        if found:
            return found
    found = company(graph) or chess(graph, patient=with_solver) or stripes(graph) or bands(graph)
    return found or (tiles(graph) if with_solver else None)
