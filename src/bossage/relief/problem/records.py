"""What is asked of a field of heights, and what comes back: a field, or the reason why there is none.

A field gives every block of a piece one of a few levels. Blocks are the nodes of a graph, whatever their footprint;
an edge joins two blocks that must differ. Blocks of one *quota group* (a footprint on a leaf) share exact counts.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]
FloatArray = NDArray[np.float64]

FREE = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class GridShape:
    """The plain grid behind a graph: `block[row, column]` is the block in a cell, -1 an open cell."""

    block: IntArray
    diagonal: bool = False  # whether cells that touch at a corner are neighbours too

    @property
    def rows(self) -> int:
        """Rows of cells."""
        return int(self.block.shape[0])

    @property
    def columns(self) -> int:
        """Columns of cells."""
        return int(self.block.shape[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightProblem:
    """A field of heights that is asked for.

    Attributes:
        block_count: How many blocks.
        edges: Pairs of blocks that share part of an edge, shape (m, 2).
        quotas: Blocks wanted of each level, exact; shape (groups, levels). Its width is the number of levels.
        group: Quota group of each block (a footprint on a leaf); all 0 when left out.
        diagonal_edges: Pairs that touch at a corner only, where the maker wants these to differ too.
        min_step: Least difference of neighbours, counted in levels; 1 means merely different.
        allowed: Levels that each block may have, shape (blocks, levels); all when left out.
        pins: Level of each pinned block, -1 for a free one; all free when left out.
        seed: Draw of the field.
        grid: The plain grid behind the graph, if it is one; large fields are drawn by it, and measures are richer.
        level_names, group_names, block_names: How the maker calls them, for the texts.
    """

    block_count: int
    edges: IntArray
    quotas: IntArray
    group: IntArray | None = None
    diagonal_edges: IntArray | None = None
    min_step: int = 1
    allowed: BoolArray | None = None
    pins: IntArray | None = None
    seed: int = 0
    grid: GridShape | None = None
    level_names: tuple[str, ...] = ()
    group_names: tuple[str, ...] = ()
    block_names: tuple[str, ...] = ()

    @property
    def level_count(self) -> int:
        """How many levels there are."""
        return int(self.quotas.shape[1])

    @property
    def group_count(self) -> int:
        """How many quota groups there are."""
        return int(self.quotas.shape[0])

    def level_name(self, level: int) -> str:
        """What the maker calls this level."""
        return self.level_names[level] if self.level_names else f"number {level + 1}"

    def block_name(self, block: int) -> str:
        """What the maker calls this block."""
        if self.block_names:
            return self.block_names[block]
        if self.grid is not None:
            where = divmod(block, self.grid.columns)
            if where[0] >= self.grid.rows or self.grid.block[where] != block:
                where = tuple(np.argwhere(self.grid.block == block)[0].tolist())
            return f"row {where[0] + 1}, column {where[1] + 1}"
        return f"number {block + 1}"

    def group_name(self, group: int) -> str:
        """What the maker calls the blocks of this quota group; empty when there is only one."""
        if self.group_names:
            return self.group_names[group]
        return "" if self.group_count == 1 else f"group {group + 1}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How long to try, counted in work and never in seconds."""

    repair_rounds: int = 4000  # swaps tried against conflicts in one draw of a small field
    draws: int = 4  # fresh starts
    sweeps: int = 8  # swaps tried for each block once a field is valid
    exact_units: float = 20.0  # deterministic time of CP-SAT


@dataclass(frozen=True, slots=True, kw_only=True)
class SolveReport:
    """How a field came about."""

    engine: str
    draws: int  # starts that were needed
    repairs: int  # swaps against conflicts after filling
    swaps_tried: int  # swaps tried on the valid field
    swaps_done: int  # of these, done


class Proof(StrEnum):
    """Which argument shows that there is no field; cheapest first."""

    COUNTS = "counts"  # quotas do not add up
    PINS = "pins"  # pins against quotas or against each other
    CHOICES = "choices"  # blocks of few levels against quotas
    EMPTIED = "emptied"  # a block that its neighbours leave no level
    FEW_LEVELS = "few levels"  # blocks that all touch one another outnumber the levels that may touch
    APART = "apart"  # more blocks of a level than can stand apart
    COMPANY = "company"  # levels whose blocks need more company than there is
    CHESS = "chessboard"  # counts that a chessboard of low and high cannot have
    STRIPES = "stripes"  # counts that rigid stripes cannot have
    TILES = "tiles"  # quotas that are no sum of what small tiles can hold
    SEARCH = "search"  # exhaustive search
    NONE = "not proven"


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotaChange:
    """So many blocks more (or fewer, below 0) of one level in one quota group."""

    group: int
    level: int
    change: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Relaxation:
    """The least that has to be given up so that a field exists.

    `moved` blocks take another level than asked for (`quotas`), or `released` pins are let go, or the blocks of
    `widened` need more levels to choose from; or so many levels are needed in all (`level_count`), whatever the quotas.
    `smallest` says whether less is proven not to do.
    """

    quotas: tuple[QuotaChange, ...] = ()
    moved: int = 0
    released: tuple[int, ...] = ()
    widened: tuple[int, ...] = ()
    level_count: int = 0
    smallest: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """A field with every rule kept: the level of each block, read-only."""

    levels: IntArray
    report: SolveReport


@dataclass(frozen=True, slots=True, kw_only=True)
class NoField:
    """No field was found; `proven` says whether there is none.

    `reasons` are sentences for a maker, the main one first; `blocks` are those that the proof names.
    """

    reasons: tuple[str, ...]
    proof: Proof
    proven: bool
    blocks: tuple[int, ...] = ()
    relaxation: Relaxation | None = field(default=None)


def plain_grid(
    rows: int,
    columns: int,
    quotas: ArrayLike,
    *,
    diagonal: bool = False,
    present: BoolArray | None = None,
    min_step: int = 1,
    allowed: BoolArray | None = None,
    pins: IntArray | None = None,
    seed: int = 0,
    level_names: tuple[str, ...] = (),
) -> HeightProblem:
    """The problem on a plain grid of equal blocks.

    Args:
        rows, columns: Size of the grid.
        quotas: Blocks of each level.
        diagonal: Whether blocks that touch at a corner must differ too.
        present: Cells that hold a block, shape (rows, columns); all when left out.
        min_step: Least difference of neighbours, in levels.
        allowed: Levels of each cell, shape (rows, columns, levels).
        pins: Level of each cell, -1 free, shape (rows, columns).
        seed: Draw of the field.
        level_names: How the maker calls the levels.
    """
    there = np.ones((rows, columns), dtype=np.bool_) if present is None else present
    block = np.full((rows, columns), -1, dtype=np.int64)
    block[there] = np.arange(int(there.sum()))
    sides, corners = grid_pairs(block)
    return HeightProblem(
        block_count=int(there.sum()),
        edges=sides,
        diagonal_edges=corners if diagonal else None,
        quotas=np.asarray(quotas, dtype=np.int64).reshape(1, -1),
        min_step=min_step,
        allowed=None if allowed is None else allowed[there],
        pins=None if pins is None else pins[there].astype(np.int64),
        seed=seed,
        grid=GridShape(block=block, diagonal=diagonal),
        level_names=level_names,
    )


def grid_pairs(block: IntArray) -> tuple[IntArray, IntArray]:
    """Pairs of blocks that share an edge, and that meet at a corner, on a grid of cells (-1 open)."""
    sides = [_pairs(block[:, :-1], block[:, 1:]), _pairs(block[:-1], block[1:])]
    corners = [_pairs(block[:-1, :-1], block[1:, 1:]), _pairs(block[:-1, 1:], block[1:, :-1])]
    return np.concatenate(sides), np.concatenate(corners)


def _pairs(one: IntArray, other: IntArray) -> IntArray:
    both = (one >= 0) & (other >= 0)
    return np.stack([one[both], other[both]], axis=1)


def quotas_from_weights(count: int, weights: ArrayLike) -> IntArray:
    """Whole numbers that add up to `count` and stand as near to the weights as whole numbers can.

    Largest remainder; ties go to the lower level. Weights that are whole numbers are shared without rounding.

    Raises:
        ValueError: A weight is negative or not finite, or all are 0.
    """
    w = np.asarray(weights, dtype=np.float64)
    if w.ndim != 1 or not np.isfinite(w).all() or (w < 0).any() or w.sum() <= 0:
        raise ValueError("Weights must be 0 or more, and not all 0.")
    whole = np.all(w == np.floor(w)) and w.sum() < 2**31
    if whole:
        parts = [divmod(count * int(x), int(w.sum())) for x in w]
        base = np.array([p for p, _ in parts], dtype=np.int64)
        rest = np.array([r for _, r in parts], dtype=np.float64)
    else:
        share = count * w / w.sum()
        base = np.floor(share).astype(np.int64)
        rest = np.round(share - base, 9)
    short = count - int(base.sum())
    base[np.argsort(-rest, kind="stable")[:short]] += 1
    return base


def shares_round_pins(count: int, weights: ArrayLike, held: IntArray, most: IntArray | None = None) -> IntArray:
    """`quotas_from_weights`, but at least `held` and at most `most` of each level; what is over goes to the others.

    Where all levels that have a weight are at their most, the rest is shared by weight all the same.

    Raises:
        ValueError: A weight is negative or not finite, or all are 0; or more are held than there are blocks.
    """
    if int(held.sum()) > count:
        raise ValueError("More blocks are held than there are.")
    w = np.asarray(weights, dtype=np.float64)
    out = quotas_from_weights(count, w)
    high = np.full(len(out), count) if most is None else np.maximum(most, held)
    fixed = np.zeros(len(out), dtype=np.bool_)
    while ((out < held) | (out > high)).any():
        lift = out < held
        # levels held too often come first: what they take leaves less for those that may be too many
        fixed |= lift if lift.any() else out > high
        out = np.where(fixed, np.clip(out, held, high), 0)
        rest = np.where(fixed, 0.0, w)
        left = count - int(out.sum())
        if left < 0 or (left and rest.sum() <= 0):
            return held + quotas_from_weights(count - int(held.sum()), w)
        if left:
            out = out + quotas_from_weights(left, rest)
    return out
