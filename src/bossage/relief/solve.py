"""Heights for every block: quotas exact, no two neighbours on conflicting levels, random to the eye, or why not.

Two engines stand behind one function. The fast one fills, repairs and mixes; the exact one (CP-SAT) finds what the
fast one could not, or proves that there is nothing to find. Which one runs depends on the problem alone.
"""

from __future__ import annotations

import numpy as np

from bossage.relief.fast import GRID_FROM_N, fast_field, grid_field, mixed_field
from bossage.relief.graph import Board
from bossage.relief.problem import Effort, HeightProblem, NoField, Proof, Solved
from bossage.relief.proofs import EXACT_UP_TO_N, Finding, first_proofs, later_proofs

DEFAULT_EFFORT = Effort()


def solve_heights(problem: HeightProblem, *, effort: Effort = DEFAULT_EFFORT) -> Solved | NoField:
    """The level of every block, or the reason why there is none.

    Args:
        problem: Blocks, neighbours, levels, quotas, pins and seed.
        effort: How much work to put in; the same effort gives the same answer on any machine.

    Returns:
        `Solved` with a field that keeps every rule exactly, mixed so that it looks random; or `NoField` with
        sentences for a maker, the kind of proof and the least that has to be given up. `NoField.proven` is false
        when the patience ran out before a field or a proof was found.
    """
    board = Board(problem=problem)
    found = first_proofs(board) or later_proofs(board, with_solver=False)
    if found:
        return _explained(board, found, effort)
    rng = np.random.Generator(np.random.PCG64(problem.seed))
    large = problem.grid is not None and board.n >= GRID_FROM_N
    solved = grid_field(board, rng, effort) if large else fast_field(board, rng, effort)
    if solved:
        return solved
    found = later_proofs(board, with_solver=True)
    if found:
        return _explained(board, found, effort)
    if board.n > EXACT_UP_TO_N:
        return _open(board)
    return _exact(board, rng, effort)


def _exact(board: Board, rng: np.random.Generator, effort: Effort) -> Solved | NoField:
    from bossage.relief.exact import search

    found = search(board, units=effort.exact_units)
    if found.levels is not None:
        return mixed_field(board, found.levels, rng, effort, engine="exact", draws_n=effort.draws, repairs_n=0)
    if not found.best:
        return _open(board)
    text = "These quotas cannot be met with these neighbours: every way was tried."
    return _explained(board, Finding(no=NoField(reasons=(text,), proof=Proof.SEARCH, proven=True)), effort)


def _open(board: Board) -> NoField:
    text = (
        f"No field was found for these {board.n:,} blocks, and none is proven impossible: "
        f"loosen a quota, let a pin go, or add a level."
    )
    return NoField(reasons=(text,), proof=Proof.NONE, proven=False)


def _explained(board: Board, found: Finding, effort: Effort) -> NoField:
    from bossage.relief.relax import with_relaxation

    return with_relaxation(board, found, effort)
