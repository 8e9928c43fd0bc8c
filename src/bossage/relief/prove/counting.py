"""Proofs that need only counting: quotas that do not add up, pins against quotas, pins against one another."""

from __future__ import annotations

import numpy as np

from bossage.relief.problem.graph import Board
from bossage.relief.problem.records import NoField, Proof
from bossage.relief.problem.verdict import Finding, count_of, cut_of, in_group, names_of


def sums(board: Board) -> Finding | None:
    """Quotas that do not add up to the blocks there are."""
    have = np.bincount(board.group, minlength=board.problem.groups_n)
    for g, want in enumerate(board.problem.quotas.sum(axis=1).tolist()):
        gap = int(have[g]) - want
        if gap:
            do = f"add {gap:,}" if gap > 0 else f"take {-gap:,} away"
            there = count_of(int(have[g]), "block")
            text = f"The quotas{in_group(board, g)} add up to {want:,}, but there are {there}; {do}."
            return Finding(no=NoField(reasons=(text,), proof=Proof.COUNTS, proven=True))
    return None


def pin_counts(board: Board) -> Finding | None:
    """More pins of a level than its quota."""
    if board.problem.pins is None:
        return None
    pinned = board.pins >= 0
    flat = np.bincount(board.group[pinned] * board.L + board.pins[pinned], minlength=board.problem.quotas.size)
    over = flat.reshape(board.problem.quotas.shape) - board.problem.quotas
    if (over <= 0).all():
        return None
    g, level = (int(i) for i in np.unravel_index(int(over.argmax()), over.shape))
    have, want, gap = int(over[g, level] + board.problem.quotas[g, level]), int(board.problem.quotas[g, level]), 0
    gap = have - want
    text = (
        f"{count_of(have, 'block')}{in_group(board, g)} are pinned to {names_of(board, [level])}, but only {want:,} "
        f"are asked for; ask for {gap:,} more, or let {gap:,} pins go."
    )
    blocks = np.flatnonzero(pinned & (board.group == g) & (board.pins == level))
    return Finding(
        no=NoField(reasons=(text,), proof=Proof.PINS, proven=True, blocks=tuple(blocks.tolist())),
        cut=cut_of(board, [(g, [level], -1)], -have),
    )


def pin_pairs(board: Board) -> Finding | None:
    """Pins that touch and are too alike, and pins to a level that is not allowed."""
    if board.problem.pins is None:
        return None
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
