"""Heights for every block: quotas exact, no two neighbours on conflicting levels, random to the eye, or why not.

Two engines stand behind one function. The fast one fills, repairs and mixes; the exact one (CP-SAT) finds what the
fast one could not, or proves that there is nothing to find. Which one runs depends on the problem alone.
"""

from __future__ import annotations

import numpy as np

from bossage.relief.draw.grid_bits import plain_enough, plane_field
from bossage.relief.draw.on_graph import GRID_FROM_N, fast_field, grid_field, mixed_field
from bossage.relief.order.draw import bound_to_order, ordered_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import Effort, HeightProblem, NoField, Proof, Solved
from bossage.relief.problem.verdict import EXACT_UP_TO_N, Finding
from bossage.relief.prove.arguments import first_proofs, later_proofs

LATTICE_LEVELS_N = 64  # levels that fit into the bits of the quick engine's walls
DEFAULT_EFFORT = Effort()


def solve_heights(problem: HeightProblem, *, effort: Effort = DEFAULT_EFFORT) -> Solved | NoField:
    """The level of every block, or the reason why there is none.

    Args:
        problem: Blocks, neighbours, levels, quotas, pins and seed.
        effort: How much work to put in; the same effort gives the same answer on any machine.

    Returns:
        `Solved` with a field that keeps every rule exactly, mixed so that it looks random; or `NoField` with
        sentences for a maker, the kind of proof and the least that has to be given up. `NoField.proven` is false
        when the patience ran out before a field or a proof was found.
    """
    graph = Graph(problem=problem)
    rng = np.random.Generator(np.random.PCG64(problem.seed))
    solved = plane_field(graph, rng, effort) if plain_enough(graph) else None
    if solved:
        return solved
    found = first_proofs(graph) or later_proofs(graph, with_solver=False)
    if found:
        return _explained(graph, found, effort)
    bound = bound_to_order(graph)
    solved = ordered_field(graph, rng, effort, patient=False) if bound else None
    if bound and not solved:  # what its order did not give is proven sooner than drawn
        found = later_proofs(graph, with_solver=True)
    solved = solved or (None if found else _fast(graph, rng, effort, first=True))
    if solved:
        return solved
    if not bound:
        found = later_proofs(graph, with_solver=True)
    if found:
        return _explained(graph, found, effort)
    solved = ordered_field(graph, rng, effort, patient=True) if bound else None
    solved = solved or _fast(graph, rng, effort, first=False)
    if solved:
        return solved
    if graph.n > EXACT_UP_TO_N:
        return _open(graph)
    return _exact(graph, rng, effort)


def _fast(graph: Graph, rng: np.random.Generator, effort: Effort, *, first: bool) -> Solved | None:
    """The first draw of the fast engine, or all further ones: what cannot be is often proven sooner than missed."""
    draws = range(1) if first else range(1, effort.draws)
    if graph.problem.grid is not None and graph.n >= GRID_FROM_N and graph.L <= LATTICE_LEVELS_N:
        return grid_field(graph, rng, effort, draws)
    return fast_field(graph, rng, effort, draws)


def _exact(graph: Graph, rng: np.random.Generator, effort: Effort) -> Solved | NoField:
    from bossage.relief.exact.cp_sat import search

    found = search(graph, units=effort.exact_units)
    if found.levels is not None:
        return mixed_field(graph, found.levels, rng, effort, engine="exact", draws_n=effort.draws, repairs_n=0)
    if not found.best:
        return _open(graph)
    text = "These quotas cannot be met with these neighbours: every way was tried."
    return _explained(graph, Finding(no=NoField(reasons=(text,), proof=Proof.SEARCH, proven=True)), effort)


def _open(graph: Graph) -> NoField:
    text = (
        f"No field was found for these {graph.n:,} blocks, and none is proven impossible: "
        f"loosen a quota, let a pin go, or add a level."
    )
    return NoField(reasons=(text,), proof=Proof.NONE, proven=False)


def _explained(graph: Graph, found: Finding, effort: Effort) -> NoField:
    from bossage.relief.prove.relax import with_relaxation

    return with_relaxation(graph, found, effort)
