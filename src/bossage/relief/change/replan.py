"""Another valid relief with the fewest changes: what is glued stays, the counts are what there is now.

Greedy recolouring goes first. Where its changes do not meet the bound, and the piece is small enough, a linear program
gives the least number of changes, and mostly the relief as well (`exact/linear.py`). CP-SAT is asked for what then
stays open.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bossage.relief.change.recolour import count_changed, fewest_possible, recolour
from bossage.relief.problem.field import conflicts, is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.limits import suits_cp_sat
from bossage.relief.problem.records import Effort, HeightProblem, IntArray, NoField, Proof
from bossage.relief.problem.verdict import Finding
from bossage.relief.prove.arguments import first_proofs, later_proofs

DEFAULT_EFFORT = Effort()


@dataclass(frozen=True, slots=True, kw_only=True)
class Replanned:
    """A valid relief near the one before.

    Attributes:
        levels: The new level of each block, read-only.
        before: The level of each block as it was.
        changes: How many blocks differ.
        bound: No valid relief with these counts has fewer changes than this.
        proven: Whether there are proven to be no fewer.
        visible: What the changes cost by the weights given; their number where none were.
        engine: What found it.
    """

    levels: IntArray
    before: IntArray
    changes: int
    bound: int
    proven: bool
    visible: int
    engine: str


def replan(
    problem: HeightProblem,
    current: IntArray,
    *,
    quotas: IntArray | None = None,
    weights: IntArray | None = None,
    effort: Effort = DEFAULT_EFFORT,
) -> Replanned | NoField:
    """The valid relief with these quotas and pins that changes the fewest blocks, the least visible ones first.

    Args:
        problem: Blocks, neighbours, rule; `pins` holds what is glued (or must be) and never moves.
        current: Level of each block now. A pin that differs from it is a change that has to be made.
        quotas: New counts by group and level; those of the problem when left out.
        weights: How visible a change of each block is, 0 or more; only the order matters among equally many changes.
        effort: Work to put in; `exact_units` bounds the search of CP-SAT, where that is needed.

    Returns:
        `Replanned`, or `NoField` when no relief keeps the new counts, the pins and the rule.
    """
    problem = problem if quotas is None else replace(problem, quotas=np.asarray(quotas, dtype=np.int64))
    graph = Graph(problem=problem)
    current = np.asarray(current, dtype=np.int64)
    found = first_proofs(graph)
    if found:
        return _explained(graph, found, effort)
    weight = np.ones(graph.n, dtype=np.int64) if weights is None else np.asarray(weights, dtype=np.int64)
    bound = fewest_possible(graph, current)
    start = np.where(graph.pins >= 0, graph.pins, current)
    best = None if conflicts(graph, start) else recolour(graph, current, weight, bound)
    if best is not None and count_changed(best, current) == bound and (weights is None or not suits_cp_sat(graph)):
        return _replanned(graph, current, best, bound, weight, engine="recolour")
    if suits_cp_sat(graph):
        return _exactly(graph, current, best, bound, weight, effort)
    if best is not None:
        return _replanned(graph, current, best, bound, weight, engine="recolour")
    text = f"No relief with these counts was found near this one for {graph.n:,} blocks, and none is proven impossible."
    return NoField(reasons=(text,), proof=Proof.NONE, proven=False)


def _exactly(
    graph: Graph, current: IntArray, best: IntArray | None, bound: int, weight: IntArray, effort: Effort
) -> Replanned | NoField:
    """The fewest changes and, among these, the least visible."""
    from bossage.relief.exact.linear import fewest_exactly, least_seen

    found = fewest_exactly(graph, current, best, bound, effort)
    if found.levels is None and found.best:
        text = "These counts cannot be met round what is glued: every way was tried."
        again = later_proofs(graph, with_solver=True)
        no = again or Finding(no=NoField(reasons=(text,), proof=Proof.SEARCH, proven=True))
        return _explained(graph, no, effort)
    if found.levels is None:
        text = "No relief with these counts was found, and none is proven impossible."
        return NoField(reasons=(text,), proof=Proof.NONE, proven=False)
    levels = found.levels
    if int(weight.min(initial=1)) < int(weight.max(initial=1)) and found.value:
        levels = least_seen(graph, current, levels, weight, effort)
    return _replanned(graph, current, levels, found.bound, weight, engine="program")


def _replanned(
    graph: Graph, current: IntArray, levels: IntArray, bound: int, weight: IntArray, *, engine: str
) -> Replanned:
    if suits_cp_sat(graph) and not is_field(graph, levels):
        raise AssertionError("A re-plan left the engine with a rule broken; this is a fault of the program.")
    at = np.flatnonzero(levels != current)
    levels.setflags(write=False)
    return Replanned(
        levels=levels,
        before=current,
        changes=len(at),
        bound=bound,
        proven=len(at) == bound,
        visible=int(weight[at].sum()),
        engine=engine,
    )


def _explained(graph: Graph, found: Finding, effort: Effort) -> NoField:
    from bossage.relief.prove.relax import with_relaxation

    return with_relaxation(graph, found, effort)
