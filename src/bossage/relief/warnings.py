"""What can be said before solving: cases that exist but are bound to look orderly."""

from __future__ import annotations

import numpy as np

from bossage.relief.problem.graph import Board, apart_levels_n
from bossage.relief.problem.records import HeightProblem

CHESS_SHARE = 0.368  # density at which hard squares order on the square lattice (Baxter, Enting and Tsang 1980)


def warn_before(problem: HeightProblem) -> tuple[str, ...]:
    """Sentences for a maker about order that the levels, quotas and rule force; empty when nothing does."""
    board = Board(problem=problem)
    if not board.n or not len(board.edges):
        return ()
    return (*_few(board), *_dominant(board))


def _few(board: Board) -> tuple[str, ...]:
    apart = apart_levels_n(board.conflict)
    used = int((board.problem.quotas.sum(axis=0) > 0).sum())
    stepped = max(len(w) for w in board.windows) > 1
    corners = board.problem.diagonal_edges is not None and len(board.problem.diagonal_edges) > 0
    words = f"{used} levels" + (" and this least step" if stepped else "")
    if corners:
        if apart == 4 and (stepped or used == 4):
            return (
                f"With {words}, and corners that must differ too, every row or every column has to alternate between "
                f"two levels: rigid stripes. One level more loosens them.",
            )
        if used == 5:
            return (
                f"With {words}, and corners that must differ too, a quarter of all runs of four read a b a b; "
                f"two levels more look freer.",
            )
        return ()
    if used == 2 or apart == 2:
        return (
            f"With {words} the field can only be a chessboard of low and high. A third that fits between frees it.",
        )
    if used == 3 or (apart == 3 and stepped and board.L <= 5):
        return (
            f"With {words} order spreads over the whole piece: large parts read as a chessboard. "
            f"One or two levels more look freer.",
        )
    return ()


def _dominant(board: Board) -> tuple[str, ...]:
    out = []
    total = board.problem.quotas.sum(axis=0)
    for window in board.windows:
        share = float(total[window].sum()) / board.n
        if share > CHESS_SHARE and board.L > 2:
            names = " and ".join(board.problem.level_name(level) for level in window)
            most = int(np.floor(CHESS_SHARE * board.n))
            out.append(
                f"Level {names} is on {100 * share:.0f} % of the blocks and never beside itself: above about 37 % "
                f"it falls into a chessboard. At most {most:,} of {board.n:,} blocks keep it loose."
            )
    return tuple(out)
