"""Proofs that a field cannot exist, cheap ones first, each with a sentence that a maker can act on.

The order is: counts, pins, choices, blocks that their neighbours leave no level, blocks that all touch, blocks that
have to stand apart (Koenig 1931 on two-sided graphs), levels that need company, chessboards of low and high, rigid
stripes, and small tiles (a linear program whose infeasibility is the proof).
"""

from __future__ import annotations

from bossage.relief.finding import Finding
from bossage.relief.graph import Board
from bossage.relief.proofs_apart import apart, company
from bossage.relief.proofs_bands import bands
from bossage.relief.proofs_chess import chess
from bossage.relief.proofs_pins import pin_counts, pin_pairs, sums
from bossage.relief.proofs_reach import choices, few_levels, narrowed
from bossage.relief.proofs_stripes import stripes
from bossage.relief.proofs_tiles import tiles


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
