"""What can be said before solving: problems that have fields, all of which look orderly."""

from __future__ import annotations

import numpy as np

from bossage.relief.problem.graph import Graph, compatible_levels
from bossage.relief.problem.records import HeightProblem

CHESS_SHARE = 0.368  # density at which hard squares order on the square lattice (Baxter, Enting and Tsang 1980)


def warn_before(problem: HeightProblem) -> tuple[str, ...]:
    """Sentences for a maker about order that the levels, quotas and rule force; empty when nothing does."""
    graph = Graph(problem=problem)
    if not graph.n or not len(graph.edges):
        return ()
    return (*_few(graph), *_dominant(graph))


def _few(graph: Graph) -> tuple[str, ...]:
    apart = compatible_levels(graph.conflict)
    used = int((graph.problem.quotas.sum(axis=0) > 0).sum())
    stepped = max(len(w) for w in graph.windows) > 1
    corners = graph.problem.diagonal_edges is not None and len(graph.problem.diagonal_edges) > 0
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
    if used == 3 or (apart == 3 and stepped and graph.L <= 5):
        return (
            f"With {words} order spreads over the whole piece: large parts read as a chessboard. "
            f"One or two levels more look freer.",
        )
    return ()


def _dominant(graph: Graph) -> tuple[str, ...]:
    out = []
    total = graph.problem.quotas.sum(axis=0)
    for window in graph.windows:
        share = float(total[window].sum()) / graph.n
        if share > CHESS_SHARE and graph.L > 2:
            names = " and ".join(graph.problem.level_name(level) for level in window)
            most = int(np.floor(CHESS_SHARE * graph.n))
            out.append(
                f"Level {names} is on {100 * share:.0f} % of the blocks and never beside itself: above about 37 % "
                f"it falls into a chessboard. At most {most:,} of {graph.n:,} blocks keep it loose."
            )
    return tuple(out)
