"""A valid relief from the blocks that lie in the trays: the fewest places that change, then the least seen.

A place wants a footprint, a level and a shade. A block in a tray has a footprint, a length and a shade, or is bare.
It fits where its length is what the level needs; a longer one can be sawn shorter and keeps its painted face, a
shorter one can not be made longer. So for every length there must be at least as many blocks of it or longer as
places that want so much. Where there are fewer blocks than places the rest has to be sawn new, at any length.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bossage.relief.finding import EXACT_UP_TO_N
from bossage.relief.graph import Board, counts_of, is_field
from bossage.relief.problem import Effort, HeightProblem, IntArray, NoField, Proof
from bossage.relief.proofs_reach import narrowed

DEFAULT_EFFORT = Effort()
NEW = -2  # taken from a stick, not from a tray
NOT_TAKEN = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class Trays:
    """What the places want, and what there is.

    Attributes:
        kind: Footprint of each place.
        shade: Shade that each place wants.
        length: Index of the length that each place needs for each level, shape (places, levels).
        have: Blocks there are, shape (kinds, lengths ascending, shades + 1); the last column counts bare ones.
        saw: Whether a block may be sawn shorter.
    """

    kind: IntArray
    shade: IntArray
    length: IntArray
    have: IntArray
    saw: bool = True

    @property
    def bare(self) -> int:
        """The column of bare blocks."""
        return int(self.have.shape[2]) - 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Flow:
    """Blocks taken out of the trays, or sawn new, by what they become.

    `count[kind, length, shade, to]` blocks of a length and shade end at the length `to`; `new[kind, length]` come off
    a stick.
    """

    count: IntArray
    new: IntArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A valid relief near the one before, and which block each place takes.

    Attributes:
        levels, before: Level of each place now and as it was.
        changes_n: Places on another level than before.
        bound_n: No valid relief from these trays has fewer changes, given as few new blocks.
        proven: Whether there are proven to be no fewer.
        visible_n: What the changes cost by the weights.
        least_seen: Whether that is proven to be the least among equally many changes.
        new_n: Blocks that must be sawn from a stick; `spare_n` of these only because the rule could not be kept else.
        took: Length and shade (index) of the block that each place takes; the length is `NEW` for one from a stick
            and `NOT_TAKEN` where a block is glued.
        left: Blocks that stay in the trays, shaped like `Trays.have`.
    """

    levels: IntArray
    before: IntArray
    changes_n: int
    bound_n: int
    proven: bool
    visible_n: int
    least_seen: bool
    new_n: IntArray
    spare_n: int
    took: IntArray
    left: IntArray


def lay_from_trays(
    problem: HeightProblem,
    current: IntArray,
    trays: Trays,
    *,
    weights: IntArray | None = None,
    prefer: IntArray | None = None,
    effort: Effort = DEFAULT_EFFORT,
) -> Laid | NoField:
    """The relief from these trays that changes the fewest places; then the least seen, least paint, least sawing.

    Args:
        problem: Places, neighbours, rule; `pins` is what is glued. Its quotas are not read: the trays stand for them.
        current: Level of each place before.
        trays: What the places want and what there is.
        weights: How visible a change at each place is, 0 or more.
        prefer: Places, in this order, that take the odd block first where several places could.
        effort: Work to put in.

    Returns:
        `Laid`, or `NoField` when what is glued leaves no valid relief whatever is sawn.
    """
    board = Board(problem=problem)
    current = np.asarray(current, dtype=np.int64)
    weight = np.ones(board.n, dtype=np.int64) if weights is None else np.asarray(weights, dtype=np.int64)
    _, emptied = narrowed(board)
    if emptied:
        return emptied.no
    if board.n <= EXACT_UP_TO_N:
        from bossage.relief.exact_trays import fewest_from_trays

        found = fewest_from_trays(board, current, trays, weight, units=effort.exact_units)
    else:
        found = None
    if found is None:
        return _near(board, current, trays, weight, prefer, effort)
    if isinstance(found, NoField):
        return found
    took, left = deal(board, trays, found.levels, current, found.flow, prefer)
    found.levels.setflags(write=False)
    at = np.flatnonzero(found.levels != current)
    return Laid(
        levels=found.levels,
        before=current,
        changes_n=len(at),
        bound_n=found.bound_n,
        proven=found.bound_n == len(at),
        visible_n=int(weight[at].sum()),
        least_seen=found.least_seen,
        new_n=found.flow.new,
        spare_n=int(found.flow.new.sum()) - int(shortage(board, trays).sum()),
        took=took,
        left=left,
    )


def shortage(board: Board, trays: Trays) -> IntArray:
    """Blocks of each kind that there are too few of, whatever their length."""
    open_n = np.bincount(trays.kind[board.pins < 0], minlength=len(trays.have))
    lack: IntArray = np.maximum(open_n - trays.have.sum(axis=(1, 2)), 0)
    return lack


def fewest_possible(board: Board, current: IntArray, trays: Trays) -> int:
    """A lower bound of the changes: glued places that differ, and places whose length no block can give."""
    forced = int(((board.pins >= 0) & (board.pins != current)).sum())
    wants = wanted(board, trays, current)
    have = trays.have.sum(axis=2)
    missing = 0
    for kind, lack in enumerate(shortage(board, trays).tolist()):
        missing += max(0, int(_unmet(wants[kind], have[kind], trays.saw).sum()) - lack)
    return forced + missing


def wanted(board: Board, trays: Trays, levels: IntArray) -> IntArray:
    """Places that are not glued, by kind and by the length that these levels need."""
    out = np.zeros(trays.have.shape[:2], dtype=np.int64)
    at = np.flatnonzero(board.pins < 0)
    np.add.at(out, (trays.kind[at], trays.length[at, levels[at]]), 1)
    return out


def _unmet(wants: IntArray, have: IntArray, saw: bool) -> IntArray:
    """Places of each length that are left without a block, longest served first."""
    if not saw:
        out: IntArray = np.maximum(wants - have, 0)
        return out
    out, spare = np.zeros_like(wants), 0
    for k in range(len(wants) - 1, -1, -1):
        spare += int(have[k] - wants[k])
        if spare < 0:
            out[k], spare = -spare, 0
    return out


def flow_of(board: Board, trays: Trays, levels: IntArray) -> Flow | None:
    """How the trays serve these levels with the least paint and sawing, or None when they can not.

    Longest places first; each length takes its own blocks before longer ones, the nearest longer ones next.
    """
    kinds, lengths, shades = trays.have.shape
    count = np.zeros((kinds, lengths, shades, lengths), dtype=np.int64)
    new = np.zeros((kinds, lengths), dtype=np.int64)
    at = np.flatnonzero(board.pins < 0)
    place_n = np.zeros((kinds, lengths, shades - 1), dtype=np.int64)
    np.add.at(place_n, (trays.kind[at], trays.length[at, levels[at]], trays.shade[at]), 1)
    lack = shortage(board, trays)
    for kind in range(kinds):
        left = trays.have[kind].copy()
        for k in range(lengths - 1, -1, -1):
            need = int(place_n[kind, k].sum())
            for source in range(k, lengths if trays.saw else k + 1):
                alike = np.append(np.minimum(place_n[kind, k], left[source, :-1]), 0)
                for s in (*np.flatnonzero(alike).tolist(), trays.bare, *range(trays.bare)):
                    take = min(need, int(alike[s] or left[source, s]))
                    alike[s] = 0
                    count[kind, source, s, k] += take
                    left[source, s] -= take
                    need -= take
            new[kind, k] = need
        if int(new[kind].sum()) != int(lack[kind]):
            return None
    return Flow(count=count, new=new)


def deal(
    board: Board, trays: Trays, levels: IntArray, current: IntArray, flow: Flow, prefer: IntArray | None
) -> tuple[IntArray, IntArray]:
    """Which block each place takes: its own shade wherever there is one, unchanged places first.

    Returns the blocks taken (length and shade by place, see `Laid.took`) and what stays in the trays.
    """
    took = np.full((board.n, 2), NOT_TAKEN, dtype=np.int64)
    rank = np.zeros(board.n, dtype=np.int64)  # later places take the odd blocks
    rank[levels != current] = 1
    if prefer is not None:
        rank[prefer] = 2
    kinds, lengths, _, _ = flow.count.shape
    need = trays.length[np.arange(board.n), levels]
    for kind in range(kinds):
        for k in range(lengths):
            places = np.flatnonzero((board.pins < 0) & (trays.kind == kind) & (need == k))
            places = places[np.argsort(rank[places], kind="stable")]
            pool = flow.count[kind, :, :, k].copy()
            rest = []
            for v in places.tolist():
                own = np.flatnonzero(pool[:, trays.shade[v]])
                if len(own):
                    source = int(own[np.abs(own - k).argmin()])
                    took[v] = source, trays.shade[v]
                    pool[source, trays.shade[v]] -= 1
                else:
                    rest.append(v)
            for v in rest:
                took[v] = _odd_one(pool, k, trays.bare)
                if took[v, 0] >= 0:
                    pool[took[v, 0], took[v, 1]] -= 1
    left: IntArray = trays.have - flow.count.sum(axis=3)
    return took, left


def _odd_one(pool: IntArray, k: int, bare: int) -> tuple[int, int]:
    """A block for a place that none of its own shade is left for: bare before painted, own length before longer."""
    for shade in (bare, None):
        where = pool[:, bare] if shade is not None else pool.sum(axis=1)
        there = np.flatnonzero(where)
        if len(there):
            source = int(there[np.abs(there - k).argmin()])
            return source, bare if shade is not None else int(pool[source].argmax())
    return NEW, bare


def _near(
    board: Board,
    current: IntArray,
    trays: Trays,
    weight: IntArray,
    prefer: IntArray | None,
    effort: Effort,
) -> Laid | NoField:
    """For pieces too large to search: the nearest quotas that the trays can serve, and a re-plan to these."""
    from bossage.relief.replan import Replanned, replan

    quotas = _nearest_quotas(board, current, trays)
    problem = replace(board.problem, group=trays.kind, quotas=quotas)
    answer = replan(problem, current, weights=weight, effort=effort)
    if not isinstance(answer, Replanned):
        return answer
    flow = flow_of(board, trays, answer.levels)
    if flow is None or not is_field(Board(problem=problem), answer.levels):
        text = f"No relief from these trays was found for {board.n:,} blocks, and none is proven impossible."
        return NoField(reasons=(text,), proof=Proof.NONE, proven=False)
    took, left = deal(board, trays, answer.levels, current, flow, prefer)
    bound = fewest_possible(board, current, trays)
    return Laid(
        levels=answer.levels,
        before=current,
        changes_n=answer.changes_n,
        bound_n=bound,
        proven=answer.changes_n == bound,
        visible_n=answer.visible_n,
        least_seen=answer.changes_n == 0,
        new_n=flow.new,
        spare_n=0,
        took=took,
        left=left,
    )


def _nearest_quotas(board: Board, current: IntArray, trays: Trays) -> IntArray:
    """Counts by kind and level near those of now, glued places as they are, that the trays can serve.

    Assumes one length for each level of a kind, as on pieces without a ring; what a ring asks beyond is left to
    `flow_of` to refuse.
    """
    free = board.pins < 0
    levels = np.where(free, current, board.pins)
    groups = Board(problem=replace(board.problem, group=trays.kind, quotas=np.zeros((len(trays.have), board.L), int)))
    quotas = counts_of(groups, levels)
    have, lack = trays.have.sum(axis=2), shortage(board, trays)
    wants = wanted(board, trays, current)
    for kind in range(len(quotas)):
        unmet = _unmet(wants[kind], have[kind], trays.saw)
        mine = np.flatnonzero((trays.kind == kind) & free)
        if not len(mine):
            continue
        length = trays.length[mine[0]]
        spare = have[kind] - wants[kind]
        for k in np.flatnonzero(unmet).tolist():
            for _ in range(int(unmet[k])):
                if lack[kind] > 0:
                    lack[kind] -= 1
                    continue
                open_to = [level for level in range(board.L) if _can_serve(spare, int(length[level]), trays.saw)]
                origin = int(np.flatnonzero(length == k)[0])
                to = min(open_to, key=lambda level: abs(level - origin))
                _use(spare, int(length[to]))
                quotas[kind, origin] -= 1
                quotas[kind, to] += 1
    return quotas


def _can_serve(spare: IntArray, k: int, saw: bool) -> bool:
    return int(spare[k:].max(initial=0)) > 0 if saw else int(spare[k]) > 0


def _use(spare: IntArray, k: int) -> None:
    spare[k + int(np.flatnonzero(spare[k:] > 0)[0])] -= 1
