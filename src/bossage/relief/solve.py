"""Heights for every block: quotas exact, no two neighbours on conflicting levels, random to the eye, or why not.

Two engines stand behind one function. The fast one fills, repairs and mixes; the exact one (CP-SAT) finds what the
fast one could not, or proves that there is nothing to find. Which one runs depends on the problem alone.
"""

from __future__ import annotations

import numpy as np

from bossage.relief.fill import fill, repair
from bossage.relief.graph import Board, is_field
from bossage.relief.mix import mix
from bossage.relief.problem import Effort, HeightProblem, IntArray, NoField, Proof, Solved, SolveReport
from bossage.relief.proofs import EXACT_UP_TO_N, first_proofs, later_proofs

DEFAULT_EFFORT = Effort()
ROUNDS_PER_BLOCK_N = 40  # repair rounds worth trying for each block: a small board is proven sooner than searched
REPAIR_WORK_N = 1_000_000  # blocks looked at while one draw is repaired, so that large pieces do not wait in vain


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
    no = first_proofs(board) or later_proofs(board, with_solver=False)
    if no:
        return _explained(board, no, effort)
    rng = np.random.Generator(np.random.PCG64(problem.seed))
    solved = _fast(board, rng, effort)
    if solved:
        return solved
    no = later_proofs(board, with_solver=True)
    if no:
        return _explained(board, no, effort)
    if board.n > EXACT_UP_TO_N:
        return _open(board)
    return _exact(board, rng, effort)


def _fast(board: Board, rng: np.random.Generator, effort: Effort) -> Solved | None:
    rounds = min(effort.repair_rounds, ROUNDS_PER_BLOCK_N * board.n, max(200, REPAIR_WORK_N // max(1, board.n)))
    for draw in range(1, effort.draws + 1):
        draft = repair(board, fill(board, rng), rng, rounds_n=rounds)
        if draft.conflicts_n == 0:
            return _mixed(board, draft.levels, rng, effort, engine="fast", draws_n=draw, repairs_n=draft.rounds_n)
    return None


ROUNDS_PER_BLOCK_N = 40  # repair rounds worth trying for each block: a small board is proven sooner than searched
REPAIR_WORK_N = (
    1_000_000  # blocks looked at in the repair of one draw, so that large pieces do not wait on hopeless ones
)


def _mixed(
    board: Board,
    levels: IntArray,
    rng: np.random.Generator,
    effort: Effort,
    *,
    engine: str,
    draws_n: int,
    repairs_n: int,
) -> Solved:
    mixed = mix(board, levels, rng, sweeps=effort.mix_sweeps)
    if not is_field(board, mixed.levels):
        raise AssertionError("A field left the engine with a rule broken; this is a fault of the program.")
    mixed.levels.setflags(write=False)
    report = SolveReport(
        engine=engine,
        draws_n=draws_n,
        repairs_n=repairs_n,
        mix_attempts_n=mixed.attempts_n,
        mix_swaps_n=mixed.swaps_n,
    )
    return Solved(levels=mixed.levels, report=report)


def _exact(board: Board, rng: np.random.Generator, effort: Effort) -> Solved | NoField:
    from bossage.relief.exact import search

    found = search(board, units=effort.exact_units)
    if found.levels is not None:
        return _mixed(board, found.levels, rng, effort, engine="exact", draws_n=effort.draws, repairs_n=0)
    if not found.best:
        return _open(board)
    text = "These quotas cannot be met with these neighbours: every way was tried."
    return _explained(board, NoField(reasons=(text,), proof=Proof.SEARCH, proven=True), effort)


def _open(board: Board) -> NoField:
    text = (
        f"No field was found for these {board.n:,} blocks, and none is proven impossible: "
        f"loosen a quota, let a pin go, or add a level."
    )
    return NoField(reasons=(text,), proof=Proof.NONE, proven=False)


def _explained(board: Board, no: NoField, effort: Effort) -> NoField:
    from bossage.relief.relax import with_relaxation

    return with_relaxation(board, no, effort) if board.n <= EXACT_UP_TO_N else no
