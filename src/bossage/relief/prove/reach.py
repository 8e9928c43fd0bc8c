"""Proofs about single blocks: those that all touch, those that neighbours leave no level, those of few levels."""

from __future__ import annotations

from collections import Counter

import numpy as np

from bossage.relief.draw.fill import as_masks
from bossage.relief.problem.graph import Board, apart_levels_n, clique_cover
from bossage.relief.problem.matching import unmet_choices
from bossage.relief.problem.records import BoolArray, IntArray, NoField, Proof
from bossage.relief.problem.verdict import Finding, count_of, cut_of, in_group, names_of

MASK_BITS_N = 62  # levels that fit into the bits of one whole number
TRIANGLES_UP_TO_N = 50_000  # blocks; above, only plain grids are looked at for blocks that all touch


def few_levels(board: Board) -> Finding | None:
    """Blocks that all touch one another, more than there are levels that may touch."""
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
        f"meet; these {count_of(board.L, 'level')} hold {most}. With this rule {need}."
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
    if p.pins is None and p.allowed is None and max(len(w) for w in board.windows) < board.L:
        return reach, None
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
    pinned = bool((board.pins[[v, *around]] >= 0).any())
    freed = "Let one of these pins go, or allow" if pinned else "Allow"
    text = (
        f"The block at {p.block_name(v)} is {start}: its neighbours at {where} can only have levels that leave it "
        f"none. {freed} one of these blocks another level."
    )
    return Finding(no=NoField(reasons=(text,), proof=Proof.EMPTIED, proven=True, blocks=(v, *around)))


def choices(board: Board, reach: BoolArray) -> Finding | None:
    """Blocks of few levels against the quotas of these, neighbours left aside."""
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
                f"{names_of(board, rest).capitalize()}: asked for {count_of(want, 'block')}{in_group(board, g)}, but "
                f"only {can:,} can have {'it' if len(rest) == 1 else 'them'}; {gap:,} fewer will do."
            )
        else:
            text = (
                f"{count_of(bound_n, 'block')}{in_group(board, g)} can only have {names_of(board, short)}, but only "
                f"{have_n:,} are asked for: {gap:,} too few."
            )
        blocks = tuple(v for v in members.tolist() if not masks[v] & ~held)
        return Finding(
            no=NoField(reasons=(text,), proof=Proof.CHOICES, proven=True, blocks=blocks),
            cut=cut_of(board, [(g, short, -1)], -bound_n),
            gap_n=gap if can_be_fewer else 0,
        )
    return None
