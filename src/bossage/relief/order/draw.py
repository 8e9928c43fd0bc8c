"""Fields whose rule leaves only order are laid by that order: stripes, chessboards of low and high, bands.

Swaps hardly ever find such a field, and hardly change it once it is found. So the order is laid first, and shuffled
after.
"""

from __future__ import annotations

import numpy as np

from bossage.relief.draw.on_graph import shuffled_field
from bossage.relief.order.bands import draw_bands, four_bands
from bossage.relief.order.chess import chess_ways, draw_chess
from bossage.relief.order.stripes import draw_stripes, fitting_stripes, four_levels
from bossage.relief.problem.field import handed_out
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.limits import suits_cp_sat
from bossage.relief.problem.records import Effort, IntArray, Solved, SolveReport


def bound_to_order(graph: Graph) -> bool:
    """Whether the rule leaves nothing but stripes, a chessboard of low and high, or bands."""
    return bool(four_bands(graph) or chess_ways(graph))


def lay_in_order(graph: Graph, rng: np.random.Generator, effort: Effort) -> Solved | None:
    """A field of stripes, a chessboard or bands where few layings give one; None for other pieces."""
    solved = _stripes(graph, rng)
    if solved or not suits_cp_sat(graph):
        return solved
    if bands := four_bands(graph):
        return _shuffled(graph, draw_bands(graph, bands, rng, patient=False), rng, effort, "bands")
    if ways := chess_ways(graph):
        return _shuffled(graph, draw_chess(graph, ways, rng), rng, effort, "chess")
    return None


def lay_bands(graph: Graph, rng: np.random.Generator, effort: Effort) -> Solved | None:
    """A field of bands from many layings; for pieces that no other engine drew and no argument ruled out."""
    bands = four_bands(graph) if suits_cp_sat(graph) else []
    if not bands:
        return None
    return _shuffled(graph, draw_bands(graph, bands, rng, patient=True), rng, effort, "bands")


def _shuffled(
    graph: Graph, field: IntArray | None, rng: np.random.Generator, effort: Effort, engine: str
) -> Solved | None:
    return None if field is None else shuffled_field(graph, field, rng, effort, engine=engine, draws=1, repairs=0)


def _stripes(graph: Graph, rng: np.random.Generator) -> Solved | None:
    """Where only rigid stripes fit and no block is bound, one of them is drawn; later proofs have looked for them."""
    levels = four_levels(graph)
    if levels is None or graph.problem.pins is not None or not bool(graph.choice.all()):
        return None
    field = draw_stripes(graph, fitting_stripes(graph, levels), rng)
    report = SolveReport(engine="stripes", draws=1, repairs=0, swaps_tried=0, swaps_done=0)
    return handed_out(graph, field, report)
