"""Pieces that their rule binds to order, drawn by that order: rigid stripes, chessboards of low and high, bands.

Swaps hardly ever find such fields, and once found hardly move them; so the order is laid first and mixed after.
"""

from __future__ import annotations

import numpy as np

from bossage.relief.draw.on_graph import BROKEN, mixed_field
from bossage.relief.order.bands import draw_bands, four_bands
from bossage.relief.order.chess import chess_ways, draw_chess
from bossage.relief.order.stripes import draw_stripes, fitting_stripes, four_levels
from bossage.relief.problem.graph import Graph, is_field
from bossage.relief.problem.records import Effort, Solved, SolveReport
from bossage.relief.problem.verdict import EXACT_UP_TO_N


def bound_to_order(graph: Graph) -> bool:
    """Whether the rule leaves nothing but stripes, a chessboard of low and high, or bands."""
    return bool(four_bands(graph) or chess_ways(graph))


def ordered_field(graph: Graph, rng: np.random.Generator, effort: Effort, *, patient: bool) -> Solved | None:
    """A field of a piece that is bound to order; None for other pieces and where none was drawn.

    `patient` is for what could not be drawn at once, nor by the fast engine, nor proven impossible.
    """
    if not patient:
        solved = _striped(graph, rng)
        if solved:
            return solved
    if graph.n > EXACT_UP_TO_N:
        return None
    engine, field = "bands", None
    bands = four_bands(graph)
    if bands:
        field = draw_bands(graph, bands, rng, patient=patient)
    elif not patient and (ways := chess_ways(graph)):
        engine, field = "chess", draw_chess(graph, ways, rng)
    if field is None:
        return None
    return mixed_field(graph, field, rng, effort, engine=engine, draws_n=1, repairs_n=0)


def _striped(graph: Graph, rng: np.random.Generator) -> Solved | None:
    """Where only rigid stripes fit and nothing is settled, one of them is drawn; later proofs have looked for them."""
    levels = four_levels(graph)
    if levels is None or graph.problem.pins is not None or not bool(graph.choice.all()):
        return None
    field = draw_stripes(graph, fitting_stripes(graph, levels), rng)
    if not is_field(graph, field):
        raise AssertionError(BROKEN)
    field.setflags(write=False)
    return Solved(
        levels=field, report=SolveReport(engine="stripes", draws_n=1, repairs_n=0, mix_attempts_n=0, mix_swaps_n=0)
    )
