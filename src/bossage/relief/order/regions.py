"""Vertex isoperimetry on a grid: how few blocks a number of blocks of one chessboard colour touch.

Turn the grid by 45 degrees. Then each block of one colour is a square, and the blocks that it touches are the corners
of that square. A region of a squares that keeps away from the rim has at least a + 2 sqrt(a) + 1 corners.

A whole grid with an even side falls into strips of two rows (or columns). In a strip that is neither empty nor full,
the region touches one block more than it has. So a region that reaches across the grid touches half a side more. A
region that does not reach across lies in corners, where mirroring about the rim gives sqrt(a) more.
`least_touched_whole` says the smaller of the two. On other grids that are narrow enough, `least_touched` goes through
all fronts of a sweep.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bossage.relief.problem.records import BoolArray, IntArray

Fronts = NDArray[Any]
NEVER = 30_000  # stands for more blocks than any grid has on which the least is looked for
SWEEP_WORK = 800_000_000  # fronts x counts x cells of the largest sweep; 20 x 14 takes 650 million, about a second


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """Cells that may or must belong to a region; where one of `seeds` belongs, all its neighbours do.

    All arrays have the shape of the grid.
    """

    there: BoolArray
    seeds: BoolArray
    may: BoolArray
    must: BoolArray


def least_touched_whole(rows: int, columns: int) -> IntArray:
    """For each number of cells of one colour on a whole grid with an even side, a number of others that they touch.

    Never more than the least there is, and the least itself wherever a sweep was made to compare.
    """
    half = rows * columns // 2
    across = min(rows // 2, columns // 2)
    a, d = np.arange(half + 1), np.arange(across + 1)
    in_corners = np.searchsorted(d * d, a)
    # what is not touched is a region of the other colour, which lies in corners like any other
    left_in_corners = np.searchsorted(d * (d + 1), half - a)
    least: IntArray = a + np.minimum(across, np.minimum(in_corners, left_in_corners))
    return least


def sweep_work(region: Region) -> int:
    """How much work `least_touched` is for this region."""
    narrow = min(region.there.shape)
    return int((1 << min(narrow, 40)) * (int(region.seeds.sum()) + 1) * region.there.size)


def least_touched(region: Region) -> IntArray:
    """For each number of seeds in the region the fewest other cells in it, `NEVER` where no region has so many.

    Exact. Takes time and memory like two to the power of the narrower side; ask `sweep_work` first.
    """
    cells = [region.there, region.seeds, region.may, region.must]
    if region.there.shape[1] > region.there.shape[0]:
        cells = [x.T for x in cells]
    rows, cols = cells[0].shape
    there, seeds, may, must = (np.ascontiguousarray(x).tobytes() for x in cells)
    return _swept((rows, cols), there, seeds, may, must).copy()


# a proof, the relaxation and the trial of its quotas all ask for the same
@lru_cache(maxsize=16)
def _swept(shape: tuple[int, int], there_b: bytes, seeds_b: bytes, may_b: bytes, must_b: bytes) -> IntArray:
    there, seeds, may, must = (
        np.frombuffer(x, dtype=np.bool_).reshape(shape) for x in (there_b, seeds_b, may_b, must_b)
    )
    width = shape[1]
    counts = int((there & seeds).sum()) + 1
    best: Fronts = np.full((1 << width, counts), NEVER, dtype=np.int16)
    best[0, 0] = 0
    for r, c in np.ndindex(shape):
        low = 1 << c
        old = best.reshape(1 << (width - 1 - c), 2, low, counts)
        new = np.full_like(old, NEVER)
        either = np.minimum(old[:, 0], old[:, 1])
        up, left = r > 0 and bool(there[r - 1, c]), c > 0 and bool(there[r, c - 1])
        if not there[r, c]:
            new[:, 0] = either
        elif seeds[r, c]:
            if not must[r, c]:
                new[:, 0] = either
            if may[r, c]:  # its neighbours above and to the left have to belong too
                _put(new[:, 1, :, 1:], (old[:, 1] if up else either)[..., :-1], left, bit=1)
        else:
            if may[r, c]:
                np.minimum(either + 1, NEVER, out=new[:, 1])
            if not must[r, c]:
                _put(new[:, 0], old[:, 0] if up else either, left, bit=0)
        best = new.reshape(1 << width, counts)
    least: IntArray = best.min(axis=0).astype(np.int64)
    return least


def _put(into: Fronts, values: Fronts, left: bool, *, bit: int) -> None:
    """Copy; with a neighbour to the left only the fronts on which it has this bit, the highest below."""
    half = into.shape[1] // 2
    held = slice(None) if not left else slice(half, None) if bit else slice(half)
    into[:, held] = values[:, held]
