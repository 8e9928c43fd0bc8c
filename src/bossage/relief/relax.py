"""The least that has to be given up where no field exists."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bossage.relief.exact import fewest_moved, fewest_released, nearest_quotas
from bossage.relief.fast import GRID_FROM_N, fast_field, grid_field
from bossage.relief.graph import Board, counts_of
from bossage.relief.problem import Effort, IntArray, NoField, Proof, QuotaChange, Relaxation
from bossage.relief.proofs import EXACT_UP_TO_N, Finding, first_proofs, later_proofs

RELAX_UNITS = 15.0  # deterministic time that the least relaxation may take
CUTS_N = 60  # arguments collected about quotas before the search for others is left to CP-SAT
TRIES = Effort(repair_rounds=1500, draws=2, mix_sweeps=0)


def with_relaxation(board: Board, found: Finding, effort: Effort) -> NoField:
    """The same verdict with the least change that heals it, and a sentence that says so.

    Moving blocks between levels comes first; only where no quotas at all would do are pins let go or choices widened.
    The proofs give what quotas have to keep; the nearest quotas that keep it are tried with the fast engine. If
    these hold, nothing less can. If not, CP-SAT looks for the fewest moves on boards small enough.
    """
    no = _with_easing(board, found, effort)
    words = f"{found.gap_n:,} fewer will do" if found.gap_n else ""
    if words and (no.relaxation is None or no.relaxation.moved_n > found.gap_n):
        # The argument gives a bound; only a field that meets it may promise that so many will do.
        first = no.reasons[0].replace(words, f"{found.gap_n:,} fewer at the least")
        no = replace(no, reasons=(first, *no.reasons[1:]))
    return no


def _with_easing(board: Board, found: Finding, effort: Effort) -> NoField:
    no, least_n, quotas_exist = found.no, 0, True
    if no.proof not in (Proof.FEW_LEVELS, Proof.EMPTIED) and not (no.proof is Proof.PINS and found.cut is None):
        easing, least_n, quotas_exist = _nearest(board, found)
        if easing:
            return replace(no, relaxation=easing, reasons=(*no.reasons, quota_words(board, easing)))
        if board.n > EXACT_UP_TO_N:
            return no
        exact = (
            fewest_moved(board, units=min(effort.exact_units, RELAX_UNITS), least_n=least_n) if quotas_exist else None
        )
        if exact and exact.levels is not None:
            easing = moved(board, counts_of(board, exact.levels), smallest=exact.best)
            return replace(no, relaxation=easing, reasons=(*no.reasons, quota_words(board, easing)))
        if exact and not exact.best:
            return no
    return _with_freed(board, no, effort) if board.n <= EXACT_UP_TO_N else no


def _nearest(board: Board, found: Finding) -> tuple[Relaxation | None, int, bool]:
    """Quotas that hold with a lower bound of moves that they reach; the bound; whether any quotas keep the proofs."""
    cuts = [found.cut] if found.cut else []
    least_n = 0
    if found.no.proof is Proof.SEARCH:
        return None, 1, True
    for _ in range(CUTS_N):
        near = nearest_quotas(board, [(c.coef, c.most) for c in cuts])
        if near is None:
            return None, least_n, False
        quotas, least_n = near
        trial = Board(problem=replace(board.problem, quotas=quotas))
        again = first_proofs(trial) or later_proofs(trial, with_solver=True)
        if again is None:
            rng = np.random.Generator(np.random.PCG64(board.problem.seed))
            large = trial.problem.grid is not None and trial.n >= GRID_FROM_N
            held = grid_field(trial, rng, TRIES) if large else fast_field(trial, rng, TRIES)
            return (moved(board, quotas, smallest=True) if held else None), least_n, True
        if again.cut is None:
            return None, least_n, True
        cuts.append(again.cut)
    return None, least_n, True


def _with_freed(board: Board, no: NoField, effort: Effort) -> NoField:
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
