"""The least that has to be given up where no field exists."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bossage.relief.exact import fewest_moved, fewest_released
from bossage.relief.graph import Board, counts_of
from bossage.relief.problem import Effort, IntArray, NoField, Proof, QuotaChange, Relaxation


def with_relaxation(board: Board, no: NoField, effort: Effort) -> NoField:
    """The same verdict with the least change that heals it, found by CP-SAT, and a sentence that says so.

    Moving blocks between levels comes first; only where no quotas at all would do are pins let go or choices widened.
    """
    found = fewest_moved(board, units=effort.exact_units)
    if found.levels is not None:
        quotas = counts_of(board, found.levels)
        easing = moved(board, quotas, smallest=found.best)
        return replace(no, relaxation=easing, reasons=(*no.reasons, quota_words(board, easing)))
    if not found.best:
        return no
    for quotas_too in (True, False):
        freed = fewest_released(board, units=effort.exact_units, quotas_too=quotas_too)
        if freed.levels is None:
            continue
        rows = np.arange(board.n)
        released = np.flatnonzero((board.pins >= 0) & (board.pins != freed.levels))
        widened = np.flatnonzero(~board.allowed[rows, freed.levels])
        change = change_of(board, counts_of(board, freed.levels))
        easing = Relaxation(
            quotas=change,
            moved_n=sum(c.change_n for c in change if c.change_n > 0),
            released=tuple(released.tolist()),
            widened=tuple(widened.tolist()),
            smallest=freed.best,
        )
        return replace(no, relaxation=easing, reasons=(*no.reasons, _freed_words(board, easing)))
    if no.proof is Proof.SEARCH:
        text = "No quotas whatever would do with these levels and this rule: add a level, or make the rule looser."
        return replace(no, reasons=(*no.reasons, text))
    return no


def moved(board: Board, quotas: IntArray, *, smallest: bool) -> Relaxation:
    """The relaxation that asks for these quotas instead."""
    gap = board.problem.quotas - quotas
    fewer, more = int(np.maximum(gap, 0).sum()), int(np.maximum(-gap, 0).sum())
    return Relaxation(quotas=change_of(board, quotas), moved_n=max(fewer, more), smallest=smallest)


def change_of(board: Board, quotas: IntArray) -> tuple[QuotaChange, ...]:
    """What to change in the problem's quotas to have these."""
    gap = quotas - board.problem.quotas
    return tuple(
        QuotaChange(group=g, level=level, change_n=int(gap[g, level])) for g, level in np.argwhere(gap != 0).tolist()
    )


def quota_words(board: Board, easing: Relaxation) -> str:
    """The quota changes as one sentence."""
    parts = []
    for change in sorted(easing.quotas, key=lambda c: (c.change_n > 0, c.group, c.level)):
        name = board.problem.group_name(change.group)
        what = f"{abs(change.change_n):,} {'more' if change.change_n > 0 else 'fewer'} of level "
        parts.append(what + board.problem.level_name(change.level) + (f" among {name}" if name else ""))
    least = "Nothing less will do." if easing.smallest else "Less may do; that is not proven."
    return f"Ask for {', '.join(parts)}. {least}"


def _freed_words(board: Board, easing: Relaxation) -> str:
    parts = []
    if easing.released:
        where = ", ".join(board.problem.block_name(v) for v in easing.released)
        parts.append(f"let the {'pin' if len(easing.released) == 1 else 'pins'} at {where} go")
    if easing.widened:
        where = ", ".join(board.problem.block_name(v) for v in easing.widened)
        parts.append(f"allow more levels at {where}")
    text = " and ".join(parts)
    least = "Nothing less will do." if easing.smallest else "Less may do; that is not proven."
    more = f" {quota_words(board, easing)}" if easing.quotas else ""
    return f"{text[:1].upper()}{text[1:]}. {least}{more}"
