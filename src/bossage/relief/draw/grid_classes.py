"""Checkerboard updating: swaps in whole classes of cells draw a field on a large plain grid, to a million cells.

The cells of a class see only those of other classes, so a class is filled, repaired or shuffled at once (checkerboard
updating, as in simulations of spins on a lattice).

    start    each class draws from what its neighbours leave, with odds scaled so that the quotas come out on average
    repair   cells in conflict take a level with fewest conflicts, ties and now and then a worse one at random
    even     cells go from levels with too many blocks to levels with too few until the quotas are exact
    shuffle  each cell tries to swap with its mirror in the class about a random point; the uniform law stays put
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from bossage.relief.draw.lattice import Lattice, lattice, levels_of
from bossage.relief.draw.lattice_repair import even_out, repair_cells
from bossage.relief.draw.lattice_shuffle import shuffle_cells
from bossage.relief.draw.lattice_start import in_order, scatter
from bossage.relief.problem.field import handed_out
from bossage.relief.problem.graph import Graph, compatible_levels
from bossage.relief.problem.records import Effort, Solved, SolveReport

REPAIR_ROUNDS = 8_000
EVEN_ROUNDS = 3_000
ORDERED_SWEEPS = 8  # times as many sweeps, because an ordered start takes longer to forget


def draw_by_classes(
    graph: Graph, rng: np.random.Generator, effort: Effort, draws: range | None = None
) -> Solved | None:
    """A shuffled field, or None when conflicts or wrong counts survive all draws; `draws` says which are tried."""
    ways = _ways_to_start(graph)
    for draw in range(effort.draws) if draws is None else draws:
        start = ways[draw % len(ways)]
        lat = lattice(graph)
        start(lat, rng)
        if repair_cells(lat, rng, rounds=REPAIR_ROUNDS) or even_out(lat, rng, rounds=EVEN_ROUNDS):
            continue
        sweeps = effort.sweeps * (ORDERED_SWEEPS if start is in_order else 1)
        swaps = shuffle_cells(lat, rng, passes=2 * sweeps)
        report = SolveReport(
            engine="classes", draws=draw + 1, repairs=0, swaps_tried=sweeps * len(lat.free), swaps_done=swaps
        )
        return handed_out(graph, levels_of(lat), report)
    return None


def _ways_to_start(graph: Graph) -> list[Callable[[Lattice, np.random.Generator], None]]:
    """How to fill a grid, the most promising way first: scattered, or in order where hardly anything else fits."""
    grid = graph.problem.grid
    if graph.problem.group_count > 1 or graph.problem.pins is not None or graph.problem.allowed is not None:
        return [scatter, scatter]
    few = 3
    if grid is not None and grid.diagonal:
        few = 5 if max(len(w) for w in graph.windows) > 1 else 4
    return [in_order, scatter] if compatible_levels(graph.conflict) <= few else [scatter, in_order]
