"""Proofs that a field cannot exist, cheap ones first, each with a sentence that a maker can act on.

The order is: counts, pins, choices, blocks that their neighbours leave no level, blocks that all touch, blocks that
have to stand apart (Koenig 1931 on two-sided graphs), levels that need company, chessboards of low and high, rigid
stripes, and small tiles (a linear program whose infeasibility is the proof).
"""

from __future__ import annotations

from bossage.relief.problem.graph import Board
from bossage.relief.problem.verdict import Finding
from bossage.relief.prove.apart import apart, company
from bossage.relief.prove.bands import bands
from bossage.relief.prove.chess import chess
from bossage.relief.prove.counting import pin_counts, pin_pairs, sums
from bossage.relief.prove.reach import choices, few_levels, narrowed
from bossage.relief.prove.stripes import stripes
from bossage.relief.prove.tiles import tiles


def first_proofs(board: Board) -> Finding | None:
    """Counts, pins, choices, emptied blocks and touching blocks: what can be said before any search."""
    for step in (sums, pin_counts, pin_pairs, few_levels):
        found = step(board)
        if found:
            return found
    reach, emptied = narrowed(board)
    if emptied:
        return emptied
    board.narrow(reach)
    return choices(board, reach)


def later_proofs(board: Board, *, with_solver: bool) -> Finding | None:
    """Bounds on how many blocks of a set of levels the graph can hold; first proofs come first.

    `with_solver` adds those that load a solver: the exact bound on graphs with triangles, and the tiles.
    """
    for window in board.windows:
        found = apart(board, board.choice, window, with_solver)
        if found:
            return found
    found = company(board) or chess(board, patient=with_solver) or stripes(board) or bands(board)
    return found or (tiles(board) if with_solver else None)
