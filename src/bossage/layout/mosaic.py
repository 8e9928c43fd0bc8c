"""Mosaics: blocks of several footprints on a grid of cells, counts exact, as few crosses as can be, drawn at random.

A first mosaic is laid row by row, put right window by window, then annealed. On small boards the exact engine proves
the fewest crosses, or that no mosaic has the counts, and which counts come nearest; on large ones a counting bound
stands beside what was found. Which of the two runs depends on the number of cells alone.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bossage.layout.mosaic_board import (
    BARE,
    Board,
    Laying,
    crosses,
    fewest_crosses,
    most_of,
    most_straddled,
    parity_forbids,
    through_joints,
)
from bossage.layout.mosaic_exact import fewest_crosses_laid, fewest_through, nearest_counts
from bossage.layout.mosaic_mend import mend, stir
from bossage.layout.mosaic_rows import lay_rows
from bossage.layout.mosaic_windows import fewer_crosses, put_right
from bossage.layout.records import IntArray

EXACT_UP_TO_N = 120  # cells
EXACT_UNITS = 2.0  # of deterministic time
COUNTED_UP_TO_N = 1000  # cells up to which the exact engine looks for counts that the windows missed
SWEEPS, SWEEPS_A_CELL = 3000, 30
POLISHED_UP_TO_N = 1000  # cells; beyond, single windows gain little against all the crosses there are
POLISH_WINDOWS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A mosaic. `least` crosses is a proven lower bound for its counts; `through` are joints that run through.

    `through_proven` says that with these counts some must.
    """

    laying: Laying
    counts: tuple[int, ...]
    crosses: int
    least: int
    through: tuple[tuple[str, int], ...]
    through_proven: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class NoMosaic:
    """Why there is none: a kind of which more is asked than fits, or the counts nearest to what was asked."""

    kind: int | None
    most: int
    nearest: tuple[int, ...] | None
    proven: bool
    nearest_proven: bool = False


def lay_mosaic(board: Board, key: IntArray) -> Laid | NoMosaic:
    """The mosaic of a board, drawn by a key.

    Args:
        board: Cells, kinds, how many of each.
        key: Another key gives another draw.

    Returns:
        The mosaic; `NoMosaic` where firm counts cannot be held, proven or, on a large board, not found.
    """
    for kind, wanted in enumerate(board.wanted):
        if board.firm[kind] and wanted > most_of(board, kind):
            return NoMosaic(kind=kind, most=most_of(board, kind), nearest=None, proven=True)
    cells = int(board.free.sum())
    small = cells <= EXACT_UP_TO_N
    hopeless = not small and all(board.firm) and parity_forbids(board, board.wanted)
    # A small board goes to the exact engine soon: it knows whether there is anything to be put right.
    windows = 6 if small else 12 if hopeless else 40 + cells // 20
    laying = put_right(board, lay_rows(board, key), windows=windows, key=np.array([*key, 1]))
    if laying.counts(board) != board.wanted or (laying.owners(board) == BARE).any():
        searched = cells <= COUNTED_UP_TO_N and not hopeless
        found = _nearest(board, laying) if searched else _settled(board, laying)
        if isinstance(found, NoMosaic):
            return found
        board, laying = found
    least = fewest_crosses(board, board.wanted)
    sweeps = min(SWEEPS, SWEEPS_A_CELL * cells)
    laying = mend(board, laying, sweeps=sweeps, least=least, key=np.array([*key, 2]))
    laying = put_right(board, laying, windows=6 if small else 20, key=np.array([*key, 3]))
    if cells <= POLISHED_UP_TO_N:
        laying = fewer_crosses(board, laying, windows=POLISH_WINDOWS, least=least, key=np.array([*key, 4]))
    proven = False
    if small:
        laying, least, proven = _proven(board, laying, least)
    return _laid(board, _stirred(board, laying, np.array([*key, 5])), least, proven)


def _nearest(board: Board, laying: Laying) -> tuple[Board, Laying] | NoMosaic:
    """The counts nearest to the wanted ones that a board of no great size holds, and a mosaic with them."""
    answer = nearest_counts(board, units=EXACT_UNITS)
    if answer.blocks is None:
        if answer.proven or (laying.owners(board) == BARE).any():
            return NoMosaic(kind=None, most=0, nearest=None, proven=answer.proven)
        return _settled(board, laying)
    found = Laying(blocks=tuple(sorted(answer.blocks, key=lambda b: (b[1], b[2]))))
    counts = found.counts(board)
    if any(firm and a != b for firm, a, b in zip(board.firm, counts, board.wanted, strict=True)):
        proven = answer.proven or (all(board.firm) and parity_forbids(board, board.wanted))
        return NoMosaic(kind=None, most=0, nearest=counts, proven=proven, nearest_proven=answer.proven)
    return replace(board, wanted=counts), found


def _settled(board: Board, laying: Laying) -> tuple[Board, Laying] | NoMosaic:
    """A large board takes what was reached, where only counts that may give way are missed."""
    counts = laying.counts(board)
    missed = any(firm and a != b for firm, a, b in zip(board.firm, counts, board.wanted, strict=True))
    bare = bool((laying.owners(board) == BARE).any())
    if missed or bare:
        proven = all(board.firm) and parity_forbids(board, board.wanted)
        return NoMosaic(kind=None, most=0, nearest=None if bare else counts, proven=proven)
    return replace(board, wanted=counts), laying


def _proven(board: Board, laying: Laying, least: int) -> tuple[Laying, int, bool]:
    """The exact engine on a small board: mosaic, bound of crosses, whether through joints are proven needed."""
    owner = laying.owners(board)
    through = () if board.through else through_joints(owner)
    if not through and len(crosses(owner)) <= least:
        return laying, least, False
    if not (through and _too_few(board)):
        answer = fewest_crosses_laid(board, units=EXACT_UNITS, least=least, hint=None if through else laying)
        if answer.blocks is not None:
            return Laying(blocks=_in_order(answer.blocks)), max(least, answer.bound), False
        if not (through and answer.proven):
            return laying, least, False
    fewest = fewest_through(board, units=EXACT_UNITS, hint=laying)
    return (laying if fewest.blocks is None else Laying(blocks=_in_order(fewest.blocks))), least, True


def _stirred(board: Board, laying: Laying, key: IntArray) -> Laying:
    """Another mosaic as good, so that an engine's tidiness does not show; through joints may not grow by it."""
    other = stir(board, laying, sweeps=min(SWEEPS, SWEEPS_A_CELL * int(board.free.sum())) // 10, key=key)
    if board.through or len(through_joints(other.owners(board))) <= len(through_joints(laying.owners(board))):
        return other
    return laying


def _laid(board: Board, laying: Laying, least: int, through_proven: bool) -> Laid:
    owner = laying.owners(board)
    return Laid(
        laying=laying,
        counts=laying.counts(board),
        crosses=len(crosses(owner)),
        least=least,
        through=through_joints(owner),
        through_proven=through_proven or _too_few(board),
    )


def _too_few(board: Board) -> bool:
    """Whether the blocks are too few to lie across every line."""
    across, down = most_straddled(board, board.wanted)
    return across < board.columns - 1 or down < board.rows - 1


def _in_order(blocks: tuple[tuple[int, int, int], ...]) -> tuple[tuple[int, int, int], ...]:
    return tuple(sorted(blocks, key=lambda b: (b[1], b[2])))
