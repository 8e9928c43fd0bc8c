"""The board that a mosaic is laid on: cells, kinds of block in cells, and what can be counted on it.

Rows count from the top, columns from the left, both from 0. A cross is a point where the corners of four blocks meet;
a through joint is a line between two columns or rows that no block lies across.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bossage.layout.records import IntArray

OPEN = -1  # no block: the cell is left open
BARE = -2  # a cell that could not be filled yet


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """What is to be laid. `kinds` are (columns, rows) of each kind of block, `wanted` how many of each.

    `firm` says of which kinds the number must be exact; the others may give way where no mosaic has theirs.
    `single` marks cells that take no block but one of one cell (the ring of an outrigger edge). `through` says whether
    joints may run through.
    """

    free: NDArray[np.bool_]
    single: NDArray[np.bool_]
    kinds: tuple[tuple[int, int], ...]
    wanted: tuple[int, ...]
    firm: tuple[bool, ...]
    through: bool

    @property
    def rows(self) -> int:
        """Rows of cells."""
        return int(self.free.shape[0])

    @property
    def columns(self) -> int:
        """Columns of cells."""
        return int(self.free.shape[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Laying:
    """Blocks laid: kind, row, column of each, in reading order of their upper left cells."""

    blocks: tuple[tuple[int, int, int], ...]

    def owners(self, board: Board) -> IntArray:
        """The block that each cell belongs to; `OPEN` where it is left open, `BARE` where nothing lies yet."""
        owner = np.where(board.free, BARE, OPEN).astype(np.int64)
        for number, (kind, row, column) in enumerate(self.blocks):
            wide, tall = board.kinds[kind]
            owner[row : row + tall, column : column + wide] = number
        return owner

    def counts(self, board: Board) -> tuple[int, ...]:
        """How many of each kind."""
        found = np.bincount([kind for kind, _, _ in self.blocks], minlength=len(board.kinds))
        return tuple(int(n) for n in found)


def crosses(owner: IntArray) -> IntArray:
    """Points (row, column of the cell below and right of them) where four blocks meet, m × 2."""
    a, b, c, d = owner[:-1, :-1], owner[:-1, 1:], owner[1:, :-1], owner[1:, 1:]
    filled = (a >= 0) & (b >= 0) & (c >= 0) & (d >= 0)
    # Rectangles that share two opposite cells of a point share all four, so neighbours alone are looked at.
    return np.argwhere(filled & (a != b) & (a != c) & (b != d) & (c != d)) + 1


def through_joints(owner: IntArray) -> tuple[tuple[str, int], ...]:
    """Lines that no block lies across: ("upright", c) left of column c, ("level", r) above row r."""
    across = ((owner[:, 1:] == owner[:, :-1]) & (owner[:, 1:] >= 0)).any(axis=0)
    down = ((owner[1:, :] == owner[:-1, :]) & (owner[1:, :] >= 0)).any(axis=1)
    upright = [("upright", int(c) + 1) for c in np.flatnonzero(~across)]
    return (*upright, *(("level", int(r) + 1) for r in np.flatnonzero(~down)))


def covered_points(kind: tuple[int, int]) -> int:
    """Points that a block keeps from being a cross at most: all on it but its four corners."""
    wide, tall = kind
    return (wide + 1) * (tall + 1) - 4


def fewest_crosses(board: Board, counts: tuple[int, ...]) -> int:
    """A number of crosses that no mosaic with these counts comes below.

    Each point inside the board, with blocks on all four sides, is a cross unless some block lies over it or has it
    within a side. One block does that for no more than `covered_points`, so what is left over must be crosses.
    """
    free = board.free
    points = int((free[:-1, :-1] & free[:-1, 1:] & free[1:, :-1] & free[1:, 1:]).sum())
    return max(0, points - sum(n * covered_points(kind) for n, kind in zip(counts, board.kinds, strict=True)))


def most_of(board: Board, kind: int) -> int:
    """A number of blocks of one kind that no mosaic exceeds.

    Mark every cell whose column and row, counted in blocks, have one remainder: each block covers exactly one marked
    cell. The remainder with the fewest free marked cells gives the bound; on a whole rectangle it is reached.
    """
    wide, tall = board.kinds[kind]
    room = board.free & (~board.single if wide * tall > 1 else np.True_)
    return min(int(room[i::tall, j::wide].sum()) for i in range(tall) for j in range(wide))


def parity_forbids(board: Board, counts: tuple[int, ...]) -> bool:
    """Whether no mosaic can have these counts because of odd and even alone.

    Number the columns. A block that is even one way covers odd-numbered columns' cells an even or an odd number of
    times wherever it lies; so where all blocks are even one way, their sum must be even or odd as the board's is. The
    same for rows. Nine lying and nine standing pairs cannot fill 6 × 6.
    """
    used = [(n, kind) for n, kind in zip(counts, board.kinds, strict=True) if n]
    if any(wide % 2 and tall % 2 for _, (wide, tall) in used):
        return False
    across = sum(n * (wide // 2 * tall) for n, (wide, tall) in used if wide % 2 == 0)
    down = sum(n * (tall // 2 * wide) for n, (wide, tall) in used if tall % 2 == 0)
    # A block of odd width is even upwards, so it covers each column an even number of times.
    odd = (int(board.free[:, 1::2].sum()), int(board.free[1::2].sum()))
    return (across - odd[0]) % 2 != 0 or (down - odd[1]) % 2 != 0


def most_straddled(board: Board, counts: tuple[int, ...]) -> tuple[int, int]:
    """How many upright and level lines so many blocks can lie across at most."""
    across = sum(n * (wide - 1) for n, (wide, _) in zip(counts, board.kinds, strict=True))
    down = sum(n * (tall - 1) for n, (_, tall) in zip(counts, board.kinds, strict=True))
    return across, down
