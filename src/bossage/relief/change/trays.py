"""A valid relief from the blocks that lie in the trays: the fewest places that change, then the least seen."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bossage.relief.change.replan import Replanned, replan
from bossage.relief.change.tray_flow import Trays, deal, fewest_possible, flow_of, shortage, unmet_of, wanted
from bossage.relief.problem.field import counts_of, is_field
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.limits import suits_cp_sat
from bossage.relief.problem.records import Effort, HeightProblem, IntArray, NoField, Proof
from bossage.relief.prove.reach import narrowed

DEFAULT_EFFORT = Effort()


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A valid relief near the one before, and which block each place takes.

    Attributes:
        levels, before: Level of each place now and as it was.
        changes: Places on another level than before.
        bound: No valid relief from these trays has fewer changes, given as few new blocks.
        proven: Whether there are proven to be no fewer changes, and no fewer new blocks.
        visible: What the changes cost by the weights.
        least_seen: Whether that is proven to be the least among equally many changes.
        new: Blocks that must be sawn from a stick; `spare` of these only because the rule could not be kept else.
        took: Length and shade (index) of the block that each place takes; the length is `NEW` for one from a stick
            and `NOT_TAKEN` where a block is glued.
        left: Blocks that stay in the trays, shaped like `Trays.have`.
    """

    levels: IntArray
    before: IntArray
    changes: int
    bound: int
    proven: bool
    visible: int
    least_seen: bool
    new: IntArray
    spare: int
    took: IntArray
    left: IntArray


def lay_from_trays(
    problem: HeightProblem,
    current: IntArray,
    trays: Trays,
    *,
    weights: IntArray | None = None,
    prefer: IntArray | None = None,
    effort: Effort = DEFAULT_EFFORT,
) -> Laid | NoField:
    """The relief from these trays that changes the fewest places; then the least seen, least paint, least sawing.

    Args:
        problem: Places, neighbours, rule; `pins` is what is glued. Its quotas are not read: the trays stand for them.
        current: Level of each place before.
        trays: What the places want and what there is.
        weights: How visible a change at each place is, 0 or more.
        prefer: Places, in this order, that take the odd block first where several places could.
        effort: Work to put in.

    Returns:
        `Laid`, or `NoField` when what is glued leaves no valid relief whatever is sawn.
    """
    graph = Graph(problem=problem)
    current = np.asarray(current, dtype=np.int64)
    weight = np.ones(graph.n, dtype=np.int64) if weights is None else np.asarray(weights, dtype=np.int64)
    _, emptied = narrowed(graph)
    if emptied:
        return emptied.no
    if suits_cp_sat(graph):
        from bossage.relief.change.tray_search import fewest_from_trays

        found = fewest_from_trays(graph, current, trays, weight, units=effort.exact_units)
    else:
        found = None
    if found is None:
        return _near(graph, current, trays, weight, prefer, effort)
    if isinstance(found, NoField):
        return found
    took, left = deal(graph, trays, found.levels, current, found.flow, prefer)
    found.levels.setflags(write=False)
    at = np.flatnonzero(found.levels != current)
    return Laid(
        levels=found.levels,
        before=current,
        changes=len(at),
        bound=found.bound,
        proven=found.fewest_new and found.bound == len(at),
        visible=int(weight[at].sum()),
        least_seen=found.least_seen,
        new=found.flow.new,
        spare=int(found.flow.new.sum()) - int(shortage(graph, trays).sum()),
        took=took,
        left=left,
    )


def _near(
    graph: Graph,
    current: IntArray,
    trays: Trays,
    weight: IntArray,
    prefer: IntArray | None,
    effort: Effort,
) -> Laid | NoField:
    """For pieces too large to search: the nearest quotas that the trays can serve, and a re-plan to these."""
    quotas = _nearest_quotas(graph, current, trays)
    problem = replace(graph.problem, group=trays.kind, quotas=quotas)
    answer = replan(problem, current, weights=weight, effort=effort)
    flow = flow_of(graph, trays, answer.levels) if isinstance(answer, Replanned) else None
    if not isinstance(answer, Replanned) or flow is None or not is_field(Graph(problem=problem), answer.levels):
        # a proof that these quotas cannot be is none that no others can
        text = f"No relief from these trays was found for {graph.n:,} blocks, and none is proven impossible."
        return NoField(reasons=(text,), proof=Proof.NONE, proven=False)
    took, left = deal(graph, trays, answer.levels, current, flow, prefer)
    bound = fewest_possible(graph, current, trays)
    return Laid(
        levels=answer.levels,
        before=current,
        changes=answer.changes,
        bound=bound,
        proven=answer.changes == bound,
        visible=answer.visible,
        least_seen=answer.changes == 0,
        new=flow.new,
        spare=0,
        took=took,
        left=left,
    )


def _nearest_quotas(graph: Graph, current: IntArray, trays: Trays) -> IntArray:
    """Counts by kind and level near those of now, glued places as they are, that the trays can serve.

    Assumes one length for each level of a kind, as on pieces without a ring; what a ring asks beyond is left to
    `flow_of` to refuse.
    """
    free = graph.pins < 0
    levels = np.where(free, current, graph.pins)
    groups = Graph(problem=replace(graph.problem, group=trays.kind, quotas=np.zeros((len(trays.have), graph.L), int)))
    quotas = counts_of(groups, levels)
    have, lack = trays.have.sum(axis=2), shortage(graph, trays)
    wants = wanted(graph, trays, current)
    for kind in range(len(quotas)):
        unmet = unmet_of(wants[kind], have[kind], trays.saw)
        mine = np.flatnonzero((trays.kind == kind) & free)
        if not len(mine):
            continue
        length = trays.length[mine[0]]
        spare = have[kind] - wants[kind]
        for k in np.flatnonzero(unmet).tolist():
            for _ in range(int(unmet[k])):
                if lack[kind] > 0:
                    lack[kind] -= 1
                    continue
                open_to = [level for level in range(graph.L) if _can_serve(spare, int(length[level]), trays.saw)]
                origin = int(np.flatnonzero(length == k)[0])
                to = min(open_to, key=lambda level: abs(level - origin))
                _use(spare, int(length[to]))
                quotas[kind, origin] -= 1
                quotas[kind, to] += 1
    return quotas


def _can_serve(spare: IntArray, k: int, saw: bool) -> bool:
    return int(spare[k:].max(initial=0)) > 0 if saw else int(spare[k]) > 0


def _use(spare: IntArray, k: int) -> None:
    spare[k + int(np.flatnonzero(spare[k:] > 0)[0])] -= 1
