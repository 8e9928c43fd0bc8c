"""Proofs that a field cannot exist, cheap ones first, each with a sentence that a maker can act on.

The order is: counts, pins, choices, blocks that their neighbours leave no level, blocks that all touch, blocks that
have to stand apart (Koenig 1931 on two-sided graphs), levels that need company, and small tiles (a linear program
whose infeasibility is the proof).
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import numpy as np

from bossage.relief.fill import as_masks
from bossage.relief.graph import Board, apart_levels_n, clique_cover
from bossage.relief.matching import largest_matching_n, unmet_choices
from bossage.relief.problem import BoolArray, IntArray, NoField, Proof


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """What any quotas have to keep: sum of coef x quotas at most `most`."""

    coef: IntArray  # (groups, levels)
    most: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """A proof that there is no field, and, if it is about quotas, what other quotas would have to keep."""

    no: NoField
    cut: Cut | None = None
    gap_n: int = 0  # the 'fewer will do' of the sentence, to be confirmed by a field


EXACT_UP_TO_N = 2_500  # blocks up to which CP-SAT is asked for a proof
MASK_BITS_N = 62  # levels that fit into the bits of one whole number
TRIANGLES_UP_TO_N = 50_000  # blocks; above, only plain grids are looked at for blocks that all touch


def first_proofs(board: Board) -> Finding | None:
    """Counts, pins, choices, emptied blocks and touching blocks: what can be said before any search."""
    for step in (_sums, _pin_counts, _pin_pairs, _few_levels):
        found = step(board)
        if found:
            return found
    reach, emptied = narrowed(board)
    if emptied:
        return emptied
    board.narrow(reach)
    return _choices(board, reach)


def later_proofs(board: Board, *, with_solver: bool) -> Finding | None:
    """Bounds on how many blocks of a set of levels the graph can hold: apart and company. First proofs come first.

    `with_solver` lets the bound on graphs with triangles be made exact, which imports CP-SAT.
    """
    for window in board.windows:
        found = _apart(board, board.choice, window, with_solver)
        if found:
            return found
    return _company(board)


def names_of(board: Board, levels: list[int]) -> str:
    """Levels in a maker's words: 'level 18 mm', 'levels 18 mm, 22 mm and 26 mm'."""
    names = [board.problem.level_name(level) for level in levels]
    if len(names) == 1:
        return f"level {names[0]}"
    return f"levels {', '.join(names[:-1])} and {names[-1]}"


def _in_group(board: Board, g: int) -> str:
    name = board.problem.group_name(g)
    return f" among {name}" if name else ""


def _s(n: int, word: str) -> str:
    return f"{n:,} {word}" if n == 1 else f"{n:,} {word}s"


def _cut(board: Board, terms: list[tuple[int, list[int], int]], most: int) -> Cut:
    """The cut with a weight on some levels of one group, or of all (-1)."""
    coef = np.zeros(board.problem.quotas.shape, dtype=np.int64)
    for g, levels, weight in terms:
        for level in levels:
            coef[slice(None) if g < 0 else g, level] += weight
    return Cut(coef=coef, most=most)


def _sums(board: Board) -> Finding | None:
    have = np.bincount(board.group, minlength=board.problem.groups_n)
    for g, want in enumerate(board.problem.quotas.sum(axis=1).tolist()):
        gap = int(have[g]) - want
        if gap:
            do = f"add {gap:,}" if gap > 0 else f"take {-gap:,} away"
            text = (
                f"The quotas{_in_group(board, g)} add up to {want:,}, but there are {_s(int(have[g]), 'block')}; {do}."
            )
            return Finding(no=NoField(reasons=(text,), proof=Proof.COUNTS, proven=True))
    return None


def _pin_counts(board: Board) -> Finding | None:
    pinned = board.pins >= 0
    flat = np.bincount(board.group[pinned] * board.L + board.pins[pinned], minlength=board.problem.quotas.size)
    over = flat.reshape(board.problem.quotas.shape) - board.problem.quotas
    if (over <= 0).all():
        return None
    g, level = (int(i) for i in np.unravel_index(int(over.argmax()), over.shape))
    have, want, gap = int(over[g, level] + board.problem.quotas[g, level]), int(board.problem.quotas[g, level]), 0
    gap = have - want
    text = (
        f"{_s(have, 'block')}{_in_group(board, g)} are pinned to {names_of(board, [level])}, but only {want:,} are "
        f"asked for; ask for {gap:,} more, or let {gap:,} pins go."
    )
    blocks = np.flatnonzero(pinned & (board.group == g) & (board.pins == level))
    return Finding(
        no=NoField(reasons=(text,), proof=Proof.PINS, proven=True, blocks=tuple(blocks.tolist())),
        cut=_cut(board, [(g, [level], -1)], -have),
    )


def _pin_pairs(board: Board) -> Finding | None:
    a, b = board.edges[:, 0], board.edges[:, 1]
    la, lb = board.pins[a], board.pins[b]
    both = np.flatnonzero((la >= 0) & (lb >= 0))
    clash = both[board.conflict[la[both], lb[both]]]
    p = board.problem
    if len(clash):
        one, two = int(a[clash[0]]), int(b[clash[0]])
        text = (
            f"The blocks at {p.block_name(one)} ({p.level_name(int(board.pins[one]))}) and {p.block_name(two)} "
            f"({p.level_name(int(board.pins[two]))}) touch, and are pinned to levels that may not meet; "
            f"let one of the two go."
        )
        return Finding(no=NoField(reasons=(text,), proof=Proof.PINS, proven=True, blocks=(one, two)))
    pinned = np.flatnonzero(board.pins >= 0)
    barred = pinned[~board.allowed[pinned, board.pins[pinned]]]
    if len(barred):
        v = int(barred[0])
        text = (
            f"The block at {p.block_name(v)} is pinned to {names_of(board, [int(board.pins[v])])}, "
            f"which it is not allowed to have; allow it there, or let the pin go."
        )
        return Finding(no=NoField(reasons=(text,), proof=Proof.PINS, proven=True, blocks=(v,)))
    return None


def _few_levels(board: Board) -> Finding | None:
    touching = _touching(board)
    most = apart_levels_n(board.conflict)
    if len(touching) <= most:
        return None
    p = board.problem
    where = ", ".join(p.block_name(v) for v in touching[:-1]) + " and " + p.block_name(touching[-1])
    wanted = levels_wanted_n(board, len(touching))
    need = f"at least {wanted} levels are needed" if p.level_conflict is None else "the levels must stand further apart"
    text = (
        f"The blocks at {where} all touch one another, so they need {len(touching)} levels of which any two may "
        f"meet; these {_s(board.L, 'level')} hold {most}. With this rule {need}."
    )
    return Finding(no=NoField(reasons=(text,), proof=Proof.FEW_LEVELS, proven=True, blocks=tuple(touching)))


def levels_wanted_n(board: Board, touching_n: int) -> int:
    """The fewest levels that so many blocks, all touching one another, can do with."""
    return (touching_n - 1) * board.problem.min_step + 1


def _touching(board: Board) -> list[int]:
    """The largest set of blocks that all touch one another, as far as it matters (four at most)."""
    if not len(board.edges):
        return [0] if board.n else []
    grid = board.problem.grid
    if grid is not None:
        block = grid.block
        if grid.diagonal and min(block.shape) > 1:
            tile = np.stack([block[:-1, :-1], block[:-1, 1:], block[1:, :-1], block[1:, 1:]])
            for least in (4, 3):
                full = np.argwhere((tile >= 0).sum(axis=0) >= least)
                if len(full):
                    return [int(v) for v in tile[:, full[0][0], full[0][1]] if v >= 0]
        return [int(v) for v in board.edges[0]]
    if board.n > TRIANGLES_UP_TO_N or board.two_sides is not None:
        return [int(v) for v in board.edges[0]]
    return max(clique_cover(board), key=len)


def narrowed(board: Board) -> tuple[BoolArray, Finding | None]:
    """Levels that each block can still have once its neighbours' only choices are taken off; stops at the first
    block that is left none and names it with the neighbours that did it.
    """
    reach = board.choice.copy()
    p = board.problem
    empty = np.flatnonzero(~reach.any(axis=1))
    if len(empty):
        v = int(empty[0])
        text = f"The block at {p.block_name(v)} is allowed no level at all; allow it one."
        return reach, Finding(no=NoField(reasons=(text,), proof=Proof.EMPTIED, proven=True, blocks=(v,)))
    if board.L > MASK_BITS_N or reach.sum(axis=1).min(initial=board.L) > max(len(w) for w in board.windows):
        return reach, None
    return _propagate(board, reach)


def _propagate(board: Board, reach: BoolArray) -> tuple[BoolArray, Finding | None]:
    bit = np.int64(1) << np.arange(board.L, dtype=np.int64)
    mask = np.append(reach @ bit, np.int64(-1))  # the last stands for nobody, whom nothing bars
    table = board.padded
    bars = np.array(board.conflict_mask, dtype=np.int64)
    gone = np.zeros_like(mask)
    gone[:-1] = _taken(mask[:-1], bars)
    todo = np.arange(board.n)
    while len(todo):
        hit = np.zeros(len(todo), dtype=np.int64)
        for near in table[todo].T:
            hit |= gone[near]
        left = mask[todo] & ~hit
        if (left == 0).any():
            v = int(todo[np.flatnonzero(left == 0)[0]])
            return reach, _emptied(board, v, [u for u in board.near(v) if mask[v] & gone[u]])
        changed = todo[left != mask[todo]]
        mask[todo] = left
        gone[changed] = _taken(mask[changed], bars)
        around = np.zeros(board.n + 1, dtype=np.bool_)
        around[table[changed]] = True
        todo = np.flatnonzero(around[:-1])
    out: BoolArray = (mask[:-1, None] & bit) != 0
    return out, None


def _taken(mask: IntArray, bars: IntArray) -> IntArray:
    """Levels that a neighbour cannot have whichever of its levels the block takes."""
    gone = np.full(len(mask), -1, dtype=np.int64)
    for level, barred in enumerate(bars.tolist()):
        gone = np.where(mask >> level & 1, gone & barred, gone)
    return gone


def _emptied(board: Board, v: int, causes: list[int]) -> Finding:
    p = board.problem
    around = sorted(set(causes))
    where = ", ".join(p.block_name(u) for u in around)
    start = f"pinned to {names_of(board, [int(board.pins[v])])}" if board.pins[v] >= 0 else "without a level of its own"
    text = (
        f"The block at {p.block_name(v)} is {start}: its neighbours at {where} can only have levels that leave it "
        f"none. Let one of these pins go, or allow one of these blocks another level."
    )
    return Finding(no=NoField(reasons=(text,), proof=Proof.EMPTIED, proven=True, blocks=(v, *around)))


def _choices(board: Board, reach: BoolArray) -> Finding | None:
    if reach.all() or not board.n:
        return None
    masks = np.array(as_masks(reach), dtype=object)
    for g in range(board.problem.groups_n):
        members = np.flatnonzero(board.group == g)
        kinds = Counter(masks[members].tolist())
        order = sorted(kinds)
        quota = board.problem.quotas[g].tolist()
        short = unmet_choices(order, [kinds[k] for k in order], quota)
        if short is None:
            continue
        held = sum(1 << level for level in short)
        bound_n = sum(count for mask, count in kinds.items() if not mask & ~held)
        have_n = sum(quota[level] for level in short)
        rest = [level for level in range(board.L) if level not in short]
        gap = bound_n - have_n
        can_be_fewer = len(rest) < len(short) and sum(quota[level] for level in rest) > 0
        if can_be_fewer:
            want, can = sum(quota[level] for level in rest), len(members) - bound_n
            text = (
                f"{names_of(board, rest).capitalize()}: asked for {_s(want, 'block')}{_in_group(board, g)}, but only "
                f"{can:,} can have {'it' if len(rest) == 1 else 'them'}; {gap:,} fewer will do."
            )
        else:
            text = (
                f"{_s(bound_n, 'block')}{_in_group(board, g)} can only have {names_of(board, short)}, but only "
                f"{have_n:,} are asked for: {gap:,} too few."
            )
        blocks = tuple(v for v in members.tolist() if not masks[v] & ~held)
        return Finding(
            no=NoField(reasons=(text,), proof=Proof.CHOICES, proven=True, blocks=blocks),
            cut=_cut(board, [(g, short, -1)], -bound_n),
            gap_n=gap if can_be_fewer else 0,
        )
    return None


def _apart(board: Board, reach: BoolArray, window: list[int], with_solver: bool) -> Finding | None:
    holds: BoolArray = np.asarray(reach[:, window].any(axis=1))
    quotas = board.problem.quotas[:, window].sum(axis=1)
    sets: list[tuple[int, BoolArray, int]] = [(int(quotas.sum()), holds, -1)]
    if board.problem.groups_n > 1:
        sets += [(int(q), holds & (board.group == g), g) for g, q in enumerate(quotas.tolist())]
    for want, inside, g in sets:
        if want * 4 <= int(inside.sum()):
            continue  # four colours always do for blocks that touch in the plane, so a quarter can always stand apart
        can = _can_stand_apart(board, inside, want, with_solver)
        if can >= want:
            continue
        gap = want - can
        verb = "is" if len(window) == 1 else "are"
        text = (
            f"{names_of(board, window).capitalize()} {verb} asked for {want:,} of {_s(int(board.n), 'block')}"
            f"{_in_group(board, g) if g >= 0 else ''}, but at most {can:,} can stand apart; {gap:,} fewer will do."
        )
        return Finding(
            no=NoField(reasons=(text,), proof=Proof.APART, proven=True),
            cut=_cut(board, [(g, window, 1)], can),
            gap_n=gap,
        )
    return None


def _can_stand_apart(board: Board, inside: BoolArray, want: int, with_solver: bool) -> int:
    """An upper bound of how many of these blocks can stand apart; exact on two-sided graphs."""
    total = int(inside.sum())
    start, flat = board.csr
    side = board.two_sides
    if side is not None:
        return total - largest_matching_n(side, inside, start, flat)
    grid = board.problem.grid
    if grid is not None and grid.diagonal:
        return _tiles_met(grid.block, inside)
    cover = _cover_n(board, inside)
    if not with_solver or board.n > EXACT_UP_TO_N:
        return cover
    return _exact_apart(board, inside, cover)


def _tiles_met(block: IntArray, inside: BoolArray) -> int:
    held = np.zeros((block.shape[0] + 2, block.shape[1] + 2), dtype=np.bool_)
    held[1:-1, 1:-1] = np.where(block >= 0, inside[np.maximum(block, 0)], False)
    best = int(inside.sum())
    for r in (0, 1):
        for c in (0, 1):
            part = held[r:, c:]
            part = part[: len(part) // 2 * 2, : part.shape[1] // 2 * 2]
            met = part[0::2, 0::2] | part[1::2, 0::2] | part[0::2, 1::2] | part[1::2, 1::2]
            best = min(best, int(met.sum()))
    return best


def _cover_n(board: Board, inside: BoolArray) -> int:
    """Cliques in a greedy cover of these blocks: triangles and fours first, then pairs, then single blocks."""
    left = set(np.flatnonzero(inside).tolist())
    used = 0
    for clique in sorted(clique_cover(board), key=lambda c: (-len(c), c)):
        if len(clique) > 2 and all(v in left for v in clique):
            left.difference_update(clique)
            used += 1
    near = board.neighbours
    for v in sorted(left, key=lambda v: (sum(u in left for u in near[v]), v)):
        if v not in left:
            continue
        mate = [u for u in near[v] if u in left]
        left.discard(v)
        if mate:
            left.discard(min(mate, key=lambda u: (sum(w in left for w in near[u]), u)))
        used += 1
    return used


def _exact_apart(board: Board, inside: BoolArray, cover: int) -> int:
    from bossage.relief.exact import most_apart

    index = np.cumsum(inside) - 1
    held = inside.tolist()
    cliques = [[int(index[v]) for v in c if held[v]] for c in clique_cover(board)]
    can, _ = most_apart(int(inside.sum()), [c for c in cliques if len(c) > 1], units=5.0)
    return min(can, cover)


def _company(board: Board) -> Finding | None:
    """Levels that all conflict need company: in a matching, the mate of each must be a level that they may touch."""
    side = board.two_sides
    if side is None or max(len(w) for w in board.windows) < 2:
        return None
    start, flat = board.csr
    alone = board.n - 2 * largest_matching_n(side, np.ones(board.n, dtype=np.bool_), start, flat)
    total = board.problem.quotas.sum(axis=0)
    for window in board.windows:
        for i in range(len(window)):
            for j in range(i, len(window)):
                inner = window[i : j + 1]
                beside = [b for b in range(board.L) if not board.conflict[inner, b].all()]
                want, can = int(total[inner].sum()), int(total[beside].sum()) + alone
                if want <= can:
                    continue
                verb = "is" if len(inner) == 1 else "are"
                beyond = f" and {_s(alone, 'block')} can do without" if alone else ""
                text = (
                    f"{names_of(board, inner).capitalize()} {verb} asked for {_s(want, 'block')}, and may only touch "
                    f"{names_of(board, beside) if beside else 'no other level'}, asked for {can - alone:,}{beyond}; "
                    f"so {want - can:,} are left without a neighbour that they may touch. "
                    f"Move {(want - can + 1) // 2:,} or more to other levels."
                )
                return Finding(
                    no=NoField(reasons=(text,), proof=Proof.COMPANY, proven=True),
                    cut=_cut(board, [(-1, inner, 1), (-1, beside, -1)], alone),
                )
    return None
