"""The fast engine: fill, repair, mix; a few milliseconds for a piece of some hundred blocks."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from bossage.relief.draw.fill import fill, repair
from bossage.relief.draw.grid_classes import Lattice, even_out, in_order, lattice, levels_of, scatter, settle, stir
from bossage.relief.draw.mix import mix
from bossage.relief.problem.graph import Graph, apart_levels_n, is_field
from bossage.relief.problem.records import Effort, IntArray, Solved, SolveReport

BROKEN = "A field left the engine with a rule broken; this is a fault of the program."
GRID_FROM_N = 1_000  # blocks from which whole sublattices beat one block after another
SETTLE_ROUNDS_N = 8_000
EVEN_ROUNDS_N = 3_000
ORDERED_SWEEPS_N = 8  # times as many sweeps, because an ordered start takes longer to forget
ROUNDS_PER_BLOCK_N = 40  # repair rounds worth trying for each block: a small graph is proven sooner than searched
REPAIR_WORK_N = 1_000_000  # blocks looked at while one draw is repaired, so that large pieces do not wait in vain


def grid_field(graph: Graph, rng: np.random.Generator, effort: Effort, draws: range | None = None) -> Solved | None:
    """The same on a plain grid by whole sublattices, to a million cells; `draws` says which of its draws are tried."""
    ways = ways_to_start(graph)
    for draw in range(effort.draws) if draws is None else draws:
        start = ways[draw % len(ways)]
        lat = lattice(graph)
        start(lat, rng)
        if settle(lat, rng, rounds_n=SETTLE_ROUNDS_N) or even_out(lat, rng, rounds_n=EVEN_ROUNDS_N):
            continue
        sweeps = effort.mix_sweeps * (ORDERED_SWEEPS_N if start is in_order else 1)
        swaps = stir(lat, rng, passes=2 * sweeps)
        levels = levels_of(lat)
        if not is_field(graph, levels):
            raise AssertionError(BROKEN)
        levels.setflags(write=False)
        report = SolveReport(
            engine="lattice", draws_n=draw + 1, repairs_n=0, mix_attempts_n=sweeps * len(lat.free), mix_swaps_n=swaps
        )
        return Solved(levels=levels, report=report)
    return None


def ways_to_start(graph: Graph) -> list[Callable[[Lattice, np.random.Generator], None]]:
    """How to fill a grid, the most promising way first: scattered, or in order where hardly anything else fits."""
    grid = graph.problem.grid
    if graph.problem.groups_n > 1 or graph.problem.pins is not None or graph.problem.allowed is not None:
        return [scatter, scatter]
    few = 3
    if grid is not None and grid.diagonal:
        few = 5 if max(len(w) for w in graph.windows) > 1 else 4
    return [in_order, scatter] if apart_levels_n(graph.conflict) <= few else [scatter, in_order]


def fast_field(graph: Graph, rng: np.random.Generator, effort: Effort, draws: range | None = None) -> Solved | None:
    """A mixed field, or None when conflicts survive all draws."""
    rounds = min(effort.repair_rounds, ROUNDS_PER_BLOCK_N * graph.n, max(200, REPAIR_WORK_N // max(1, graph.n)))
    for draw in range(effort.draws) if draws is None else draws:
        draft = repair(graph, fill(graph, rng), rng, rounds_n=rounds)
        if draft.conflicts_n == 0:
            n = draft.rounds_n
            return mixed_field(graph, draft.levels, rng, effort, engine="fast", draws_n=draw + 1, repairs_n=n)
    return None


def mixed_field(
    graph: Graph,
    levels: IntArray,
    rng: np.random.Generator,
    effort: Effort,
    *,
    engine: str,
    draws_n: int,
    repairs_n: int,
) -> Solved:
    """Mix a valid field, look at it once more, and freeze it."""
    mixed = mix(graph, levels, rng, sweeps=effort.mix_sweeps)
    if not is_field(graph, mixed.levels):
        raise AssertionError(BROKEN)
    mixed.levels.setflags(write=False)
    report = SolveReport(
        engine=engine,
        draws_n=draws_n,
        repairs_n=repairs_n,
        mix_attempts_n=mixed.attempts_n,
        mix_swaps_n=mixed.swaps_n,
    )
    return Solved(levels=mixed.levels, report=report)
