"""Another valid relief with the fewest changes: what is glued stays, the counts are what there is now.

Single blocks go from a level with too many to one with too few; that meets the lower bound in nearly all cases with
five levels or more. Where it does not, CP-SAT finds the least on pieces small enough, and the bound is given above.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bossage.relief.finding import EXACT_UP_TO_N, Finding
from bossage.relief.graph import Board, conflicts_n, counts_of, is_field
from bossage.relief.problem import Effort, HeightProblem, IntArray, NoField, Proof
from bossage.relief.proofs import first_proofs, later_proofs

STARTS_N = 12  # orders in which blocks are tried before the search is left to CP-SAT
TRIED_FOR_EACH_N = 3  # blocks looked at for each one that has to change
DEFAULT_EFFORT = Effort()


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One block that takes another level."""

    block: int
    before: int
    after: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Replanned:
    """A valid relief near the one before.

    Attributes:
        levels: The new level of each block, read-only.
        before: The level of each block as it was.
        changes_n: How many blocks differ.
        bound_n: No valid relief with these counts has fewer changes than this.
        proven: Whether there are proven to be no fewer.
        visible_n: What the changes cost by the weights given; their number where none were.
        engine: What found it.
    """

    levels: IntArray
    before: IntArray
    changes_n: int
    bound_n: int
    proven: bool
    visible_n: int
    engine: str

    @property
    def changes(self) -> tuple[Change, ...]:
        """Every block that differs, by block."""
        at = np.flatnonzero(self.levels != self.before)
        rows = zip(at.tolist(), self.before[at].tolist(), self.levels[at].tolist(), strict=True)
        return tuple(Change(block=v, before=a, after=b) for v, a, b in rows)


def replan(
    problem: HeightProblem,
    current: IntArray,
    *,
    quotas: IntArray | None = None,
    weights: IntArray | None = None,
    effort: Effort = DEFAULT_EFFORT,
) -> Replanned | NoField:
    """The valid relief with these quotas and pins that changes the fewest blocks, the least visible ones first.

    Args:
        problem: Blocks, neighbours, rule; `pins` holds what is glued (or must be) and never moves.
        current: Level of each block now. A pin that differs from it is a change that has to be made.
        quotas: New counts by group and level; those of the problem when left out.
        weights: How visible a change of each block is, 0 or more; only the order matters among equally many changes.
        effort: Work to put in; `exact_units` bounds the search of CP-SAT.

    Returns:
        `Replanned`, or `NoField` when no relief keeps the new counts, the pins and the rule.
    """
    problem = problem if quotas is None else replace(problem, quotas=np.asarray(quotas, dtype=np.int64))
    board = Board(problem=problem)
    current = np.asarray(current, dtype=np.int64)
    found = first_proofs(board)
    if found:
        return _explained(board, found, effort)
    weight = np.ones(board.n, dtype=np.int64) if weights is None else np.asarray(weights, dtype=np.int64)
    bound = fewest_possible_n(board, current)
    start = np.where(board.pins >= 0, board.pins, current)
    best = None if conflicts_n(board, start) else _recolour(board, current, weight, bound)
    if best is not None and _changed_n(best, current) == bound and (weights is None or board.n > EXACT_UP_TO_N):
        return _replanned(board, current, best, bound, weight, engine="recolour")
    if board.n <= EXACT_UP_TO_N:
        return _exactly(board, current, best, bound, weight, effort)
    if best is not None:
        return _replanned(board, current, best, bound, weight, engine="recolour")
    text = f"No relief with these counts was found near this one for {board.n:,} blocks, and none is proven impossible."
    return NoField(reasons=(text,), proof=Proof.NONE, proven=False)


def fewest_possible_n(board: Board, current: IntArray) -> int:
    """A lower bound of the changes: pins that differ, then the larger of blocks missing and blocks in conflict."""
    forced = (board.pins >= 0) & (board.pins != current)
    levels = np.where(forced, board.pins, current)
    missing = int(np.maximum(board.problem.quotas - counts_of(board, levels), 0).sum())
    barred = 0
    if forced.any() or board.problem.allowed is not None:
        barred = int((~board.choice[np.arange(board.n), levels] & (board.pins < 0)).sum())
    return int(forced.sum()) + max(missing, barred)


def _changed_n(levels: IntArray, current: IntArray) -> int:
    return int((levels != current).sum())


def _recolour(board: Board, current: IntArray, weight: IntArray, bound: int) -> IntArray | None:
    """A relief by single recolourings, the best of several orders, or None when some block always stays over."""
    rng = np.random.Generator(np.random.PCG64(board.problem.seed))
    best = None
    for _ in range(STARTS_N if board.n <= EXACT_UP_TO_N else 2):
        levels = _one_recolouring(board, current, weight, rng)
        if levels is not None and (best is None or _changed_n(levels, current) < _changed_n(best, current)):
            best = levels
        if best is not None and _changed_n(best, current) == bound:
            break
    return best


def _one_recolouring(board: Board, current: IntArray, weight: IntArray, rng: np.random.Generator) -> IntArray | None:
    free = board.pins < 0
    levels = np.where(free, current, board.pins)
    bars = np.append(np.array(board.conflict_mask, dtype=np.int64), 0)
    wall = np.append(bars[levels], 0)  # the last stands for nobody
    over = counts_of(board, levels) - board.problem.quotas
    restricted = not bool(board.choice.all())
    while (over > 0).any():
        cells = np.flatnonzero((over > 0)[board.group, levels] & free)
        need = int(np.maximum(over, 0).sum())
        cells = cells[_order(weight[cells], rng, TRIED_FOR_EACH_N * need + 64)]
        moved = _fill_gaps(board, cells, levels, wall, bars, over, rng, restricted)
        if not moved and len(cells) < TRIED_FOR_EACH_N * need + 64:
            return None
        if not moved:
            cells = np.flatnonzero((over > 0)[board.group, levels] & free)
            cells = cells[_order(weight[cells], rng, len(cells))]
            if not _fill_gaps(board, cells, levels, wall, bars, over, rng, restricted):
                return None
    return levels if is_field_at(board, levels, np.flatnonzero(levels != current)) else None


def is_field_at(board: Board, levels: IntArray, changed: IntArray) -> bool:
    """Whether a field that was valid still is, looking at the changed blocks only."""
    near = board.beside(changed)
    beside = np.append(levels, -1)[near]
    mine = levels[changed][:, None]
    clash = board.conflict[mine, np.maximum(beside, 0)] & (beside >= 0)
    return not bool(clash.any())


def _order(weight: IntArray, rng: np.random.Generator, most_n: int) -> IntArray:
    """Least visible first, equals at random, at most so many."""
    if len(weight) > 4 * most_n and int(weight.min()) == int(weight.max()):
        return rng.integers(len(weight), size=most_n)
    mixed = rng.permutation(len(weight))
    order: IntArray = mixed[np.argsort(weight[mixed], kind="stable")][:most_n]
    return order


def _each_once(cells: IntArray, n: int) -> IntArray:
    """The cells in their order, each where it comes first."""
    turn = np.arange(len(cells), dtype=np.int32)
    first = np.empty(n, dtype=np.int32)
    first[cells[::-1]] = turn[::-1]
    once: IntArray = cells[first[cells] == turn]
    return once


def _fill_gaps(
    board: Board,
    cells: IntArray,
    levels: IntArray,
    wall: IntArray,
    bars: IntArray,
    over: IntArray,
    rng: np.random.Generator,
    restricted: bool,
) -> int:
    """Recolour some of these cells, no two of them neighbours, to levels with too few; returns how many."""
    cells = _each_once(cells, board.n)
    table = board.beside(cells)
    barred = wall.take(table[:, 0])
    for k in range(1, table.shape[1]):
        barred |= wall.take(table[:, k])
    legal = ~barred
    if restricted:
        legal &= board.choice[cells] @ (np.int64(1) << np.arange(board.L, dtype=np.int64))
    goal = np.full(len(cells), -1, dtype=np.int64)
    group, origin = board.group[cells], levels[cells]
    left = over.copy()
    for g, level in np.argwhere(over < 0)[rng.permutation(int((over < 0).sum()))].tolist():
        fits = (legal >> level & 1 == 1) & (goal < 0) & (group == g)
        for start in np.flatnonzero(left[g] > 0).tolist():
            room = min(int(-left[g, level]), int(left[g, start]))
            at = np.flatnonzero(fits & (origin == start))[:room]
            goal[at] = level
            left[g, level] += len(at)
            left[g, start] -= len(at)
    chosen = np.flatnonzero(goal >= 0)
    rank = np.full(board.n + 1, len(cells), dtype=np.int64)
    rank[cells[chosen]] = chosen
    chosen = chosen[(rank[table[chosen]] > chosen[:, None]).all(axis=1)]
    at, to = cells[chosen], goal[chosen]
    np.subtract.at(over, (board.group[at], levels[at]), 1)
    np.add.at(over, (board.group[at], to), 1)
    levels[at] = to
    wall[at] = bars[to]
    return len(chosen)


def _exactly(
    board: Board, current: IntArray, best: IntArray | None, bound: int, weight: IntArray, effort: Effort
) -> Replanned | NoField:
    """The fewest changes and, among these, the least visible, by CP-SAT."""
    from bossage.relief.exact import fewest_changed

    most_visible = int(weight.sum())
    alike = int(weight.min(initial=1)) == int(weight.max(initial=1))
    each = 1 if alike else most_visible + 1  # so that one change fewer outweighs any difference in visibility
    price = np.full(board.n, each, dtype=np.int64) if alike else each + weight
    found = fewest_changed(board, current, price, units=effort.exact_units, least_n=each * bound, hint=best)
    if found.levels is None and not found.best and best is None:
        return NoField(
            reasons=("No relief with these counts was found, and none is proven impossible.",),
            proof=Proof.NONE,
            proven=False,
        )
    if found.levels is None and found.best:
        text = "These counts cannot be met round what is glued: every way was tried."
        again = later_proofs(board, with_solver=True)
        no = again or Finding(no=NoField(reasons=(text,), proof=Proof.SEARCH, proven=True))
        return _explained(board, no, effort)
    levels = best if found.levels is None else found.levels
    assert levels is not None
    least = max(bound, -(-found.bound // (1 if alike else each + most_visible)) if found.levels is not None else 0)
    if found.levels is not None and found.best:
        least = _changed_n(levels, current)
    return _replanned(board, current, levels, least, weight, engine="exact")


def _replanned(
    board: Board, current: IntArray, levels: IntArray, bound: int, weight: IntArray, *, engine: str
) -> Replanned:
    if board.n <= EXACT_UP_TO_N and not is_field(board, levels):
        raise AssertionError("A re-plan left the engine with a rule broken; this is a fault of the program.")
    at = np.flatnonzero(levels != current)
    levels.setflags(write=False)
    return Replanned(
        levels=levels,
        before=current,
        changes_n=len(at),
        bound_n=bound,
        proven=len(at) == bound,
        visible_n=int(weight[at].sum()),
        engine=engine,
    )


def work_order(problem: HeightProblem, changes: tuple[Change, ...]) -> tuple[str, ...]:
    """The changes as sentences for the bench: first pairs that swap places, then what comes from the trays."""
    group = np.zeros(problem.blocks_n, dtype=np.int64) if problem.group is None else problem.group
    waiting: dict[tuple[int, int, int], list[Change]] = {}
    swaps: list[str] = []
    for change in changes:
        g = int(group[change.block])
        mates = waiting.get((g, change.after, change.before))
        if mates:
            mate = mates.pop(0)
            swaps.append(
                f"Swap the blocks at {problem.block_name(mate.block)} ({problem.level_name(mate.before)}) and "
                f"{problem.block_name(change.block)} ({problem.level_name(change.before)})."
            )
        else:
            waiting.setdefault((g, change.before, change.after), []).append(change)
    rest = sorted((c for kept in waiting.values() for c in kept), key=lambda c: c.block)
    return (
        *swaps,
        *(
            f"At {problem.block_name(c.block)} take {problem.level_name(c.before)} out and put "
            f"{problem.level_name(c.after)} in."
            for c in rest
        ),
    )


def _explained(board: Board, found: Finding, effort: Effort) -> NoField:
    from bossage.relief.relax import with_relaxation

    return with_relaxation(board, found, effort)
