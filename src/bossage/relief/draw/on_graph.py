"""Tabu search over swaps: a field on any graph, block by block; milliseconds for a piece of some hundred blocks.

Levels are dealt with exact quotas, swapped until nothing conflicts (`first_field`), then shuffled (`shuffle`).
"""

from __future__ import annotations

import numpy as np

from bossage.relief.draw.first_field import first_field, repair
from bossage.relief.draw.shuffle import shuffle
from bossage.relief.problem.field import handed_out
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import Effort, IntArray, Solved, SolveReport

ROUNDS_PER_BLOCK = 40  # repair rounds worth trying for each block: a small graph is proven sooner than searched
REPAIR_WORK = 1_000_000  # blocks looked at while one draw is repaired, so that large pieces do not wait in vain


def draw_on_graph(graph: Graph, rng: np.random.Generator, effort: Effort, draws: range | None = None) -> Solved | None:
    """A shuffled field, or None when conflicts survive all draws; `draws` says which of its draws are tried."""
    rounds = min(effort.repair_rounds, ROUNDS_PER_BLOCK * graph.n, max(200, REPAIR_WORK // max(1, graph.n)))
    for draw in range(effort.draws) if draws is None else draws:
        draft = repair(graph, first_field(graph, rng), rng, rounds=rounds)
        if draft.conflicts == 0:
            done = draft.rounds
            return shuffled_field(graph, draft.levels, rng, effort, engine="tabu", draws=draw + 1, repairs=done)
    return None


def shuffled_field(
    graph: Graph,
    levels: IntArray,
    rng: np.random.Generator,
    effort: Effort,
    *,
    engine: str,
    draws: int,
    repairs: int,
) -> Solved:
    """Shuffle a valid field, look at it once more, and freeze it."""
    done = shuffle(graph, levels, rng, sweeps=effort.sweeps)
    report = SolveReport(
        engine=engine, draws=draws, repairs=repairs, swaps_tried=done.swaps_tried, swaps_done=done.swaps_done
    )
    return handed_out(graph, done.levels, report)
