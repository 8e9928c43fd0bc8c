"""Vertex isoperimetry: counts that a chessboard of low and high, or the regions of its levels, cannot have."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bossage.relief.order.chess import Chess, Step, chess_ways, least_higher
from bossage.relief.order.regions import NEVER, SWEEP_WORK
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import IntArray, NoField, Proof
from bossage.relief.problem.verdict import Finding, count_of, names_of

FIRST_SWEEP_WORK = 20_000_000  # of a sweep of fronts, some hundredths of a second; 10 x 10 takes 5 million


def chess(graph: Graph, *, patient: bool) -> Finding | None:
    """Quotas that no chessboard of low and high has; `patient` also sweeps wide fields for the fewest neighbours."""
    faults = []
    for way in chess_ways(graph):
        fault = _fault(graph, way, SWEEP_WORK if patient else FIRST_SWEEP_WORK)
        if fault is None:
            return None
        faults.append(fault)
    if not faults:
        return None
    text = min(faults, key=lambda fault: fault[0])[1]
    return Finding(no=NoField(reasons=(text,), proof=Proof.CHESS, proven=True))


def _fault(graph: Graph, way: Chess, work: int) -> tuple[int, str] | None:
    """By how many blocks the quotas miss this way to lay low and high, and in words."""
    total = graph.problem.quotas[0]
    idle = [x for x in range(graph.L) if x not in way.lows and x not in way.highs and total[x]]
    if idle:
        few = int(total[idle].sum())
        text = (
            f"{names_of(graph, idle).capitalize()} may touch no level at all, and every block has a neighbour; "
            f"{count_of(few, 'block')} of {'it' if len(idle) == 1 else 'them'} cannot stand anywhere."
        )
        return few, text
    low, lows = int(way.low.sum()), int(total[list(way.lows)].sum())
    if low != lows:
        text = (
            f"By this rule blocks are low ({names_of(graph, list(way.lows))}) and high "
            f"({names_of(graph, list(way.highs))}) in turns, like a chessboard: {low:,} of one and "
            f"{graph.n - low:,} of the other. The quotas ask for {lows:,} low and {graph.n - lows:,} high ones."
        )
        return abs(low - lows), text
    for step in way.steps:
        least = least_higher(graph, way, step, work=work)
        have, want = (int(total[list(x)].sum()) for x in (step.lower, step.higher))
        if least is not None and int(least[have]) > want:
            return min(int(least[have]), graph.n) - want, _crowded(graph, step, have, int(least[have]), want)
    return None


def _crowded(graph: Graph, step: Step, have: int, least: int, want: int) -> str:
    lower, higher = names_of(graph, list(step.lower)), names_of(graph, list(step.higher))
    start = f"{lower.capitalize()} may only touch {higher}"
    if least >= NEVER:
        return f"{start}, and no {count_of(have, 'block')} have neighbours that may all stand there."
    return (
        f"{start}. Wherever {count_of(have, 'block')} of {'it' if len(step.lower) == 1 else 'them'} stand, they touch "
        f"at least {least:,} others, but only {want:,} of {higher} are asked for."
    )


def hold_chess(
    graph: Graph, way: Chess, leasts: Sequence[IntArray | None], model: Any, new: dict[tuple[int, int], Any]
) -> None:
    """Add to a model of quotas what this way to lay low and high asks of them.

    `leasts` says for each step, where it is known, how many blocks on its higher levels go with each number on its
    lower ones at the least.
    """
    low = int(way.low.sum())
    model.add(sum(new[0, x] for x in way.lows) == low)
    model.add(sum(new[0, x] for x in way.highs) == graph.n - low)
    for step, least in zip(way.steps, leasts, strict=True):
        if least is None:
            continue
        lower, higher = model.new_int_var(0, low, ""), model.new_int_var(0, graph.n - low, "")
        model.add(lower == sum(new[0, x] for x in step.lower))
        model.add(higher == sum(new[0, x] for x in step.higher))
        at_least = model.new_int_var(0, NEVER, "")
        model.add_element(lower, least.tolist(), at_least)
        model.add(higher >= at_least)
