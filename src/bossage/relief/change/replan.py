"""Another valid relief with the fewest changes: what is glued stays, the counts are what there is now.

Single blocks are recoloured first. Where that does not meet the bound, on pieces small enough, a linear program tells
the least number of changes and mostly has the relief as well (`exact_changes`); CP-SAT is left what stays open then.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bossage.relief.change.recolour import changed_n, fewest_possible_n, recolour
from bossage.relief.problem.graph import Graph, conflicts_n, is_field
from bossage.relief.problem.records import Effort, HeightProblem, IntArray, NoField, Proof
from bossage.relief.problem.verdict import EXACT_UP_TO_N, Finding
from bossage.relief.prove.arguments import first_proofs, later_proofs

DEFAULT_EFFORT = Effort()


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One block that takes another level."""

    block: int
    before: int
    after: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Replanned:
    """A valid relief near the one before.

    Attributes:
        levels: The new level of each block, read-only.
        before: The level of each block as it was.
        changes_n: How many blocks differ.
        bound_n: No valid relief with these counts has fewer changes than this.
        proven: Whether there are proven to be no fewer.
        visible_n: What the changes cost by the weights given; their number where none were.
        engine: What found it.
    """

    levels: IntArray
    before: IntArray
    changes_n: int
    bound_n: int
    proven: bool
    visible_n: int
    engine: str

    @property
    def changes(self) -> tuple[Change, ...]:
        """Every block that differs, by block."""
        at = np.flatnonzero(self.levels != self.before)
        rows = zip(at.tolist(), self.before[at].tolist(), self.levels[at].tolist(), strict=True)
        return tuple(Change(block=v, before=a, after=b) for v, a, b in rows)


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
    bound = fewest_possible_n(graph, current)
    start = np.where(graph.pins >= 0, graph.pins, current)
    best = None if conflicts_n(graph, start) else recolour(graph, current, weight, bound)
    if best is not None and changed_n(best, current) == bound and (weights is None or graph.n > EXACT_UP_TO_N):
        return _replanned(graph, current, best, bound, weight, engine="recolour")
    if graph.n <= EXACT_UP_TO_N:
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
    return _replanned(graph, current, levels, found.bound, weight, engine="exact")


def _replanned(
    graph: Graph, current: IntArray, levels: IntArray, bound: int, weight: IntArray, *, engine: str
) -> Replanned:
    if graph.n <= EXACT_UP_TO_N and not is_field(graph, levels):
        raise AssertionError("A re-plan left the engine with a rule broken; this is a fault of the program.")
    at = np.flatnonzero(levels != current)
    levels.setflags(write=False)
    return Replanned(
        levels=levels,
        before=current,
        changes_n=len(at),
        bound_n=bound,
        proven=len(at) == bound,
        visible_n=int(weight[at].sum()),
        engine=engine,
    )


def work_order(problem: HeightProblem, changes: tuple[Change, ...]) -> tuple[str, ...]:
    """The changes as sentences for the bench: first pairs that swap places, then what comes from the trays."""
    group = np.zeros(problem.blocks_n, dtype=np.int64) if problem.group is None else problem.group
    waiting: dict[tuple[int, int, int], list[Change]] = {}
    swaps: list[str] = []
    for change in changes:
        g = int(group[change.block])
        mates = waiting.get((g, change.after, change.before))
        if mates:
            mate = mates.pop(0)
            swaps.append(
                f"Swap the blocks at {problem.block_name(mate.block)} ({problem.level_name(mate.before)}) and "
                f"{problem.block_name(change.block)} ({problem.level_name(change.before)})."
            )
        else:
            waiting.setdefault((g, change.before, change.after), []).append(change)
    rest = sorted((c for kept in waiting.values() for c in kept), key=lambda c: c.block)
    return (
        *swaps,
        *(
            f"At {problem.block_name(c.block)} take {problem.level_name(c.before)} out and put "
            f"{problem.level_name(c.after)} in."
            for c in rest
        ),
    )


def _explained(graph: Graph, found: Finding, effort: Effort) -> NoField:
    from bossage.relief.prove.relax import with_relaxation

    return with_relaxation(graph, found, effort)
