"""Strips of a leaf, row by row and column by column: the blocks along each, and the bare board between them."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from bossage.body import Role
from bossage.brief.records import Brief
from bossage.layout.lines import block_lines
from bossage.layout.records import Leaf, Zone
from bossage.press.bench import BackPart, Bench
from bossage.relief import Relief
from bossage.units import NM_PER_MM

if TYPE_CHECKING:
    import numpy.typing as npt

HEIGHT_STEP = 1.1
"""Heights are taken in steps of a tenth of themselves, so that a piece of many levels has few different cells."""

STIFFENERS = (Role.RIB, Role.FRAME, Role.STILE, Role.HINGE_STILE, Role.STRIP)
"""What holds a leaf straight when it is glued on its back. A cleat is left out: it holds one edge alone."""

GLUED_OVER = 3
"""A part behind runs along a strip when it is this many thirds of the span long."""

BARE = -1
"""Stands for a cell where no block is."""

Key = tuple[int, float, float, int]
Parts = tuple[tuple[float, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One kind of block along a strip: size along it, height off the board, share of the width, wood."""

    size_nm: int
    height_mm: float
    covers: float
    footprint: int

    @property
    def size_mm(self) -> float:
        """Size along the strip."""
        return self.size_nm / NM_PER_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """All strips of a leaf one way, each kind once: lengths of the parts, which cell each is, all strips' widths.

    Short strips are filled up with parts of no length.
    """

    way: str
    span_nm: int
    width_nm: int
    lengths_mm: npt.NDArray[np.float64]  # by strip, by part
    parts: npt.NDArray[np.int64]  # the same, numbers of `cells` or `BARE`
    widths_mm: npt.NDArray[np.float64]  # by strip
    cells: tuple[Cell, ...]
    ribs: tuple[BackPart, ...]  # glued on the back, along the strips

    def halved(self) -> Lines:
        """Every strip cut in its middle; its first half."""
        ends = np.cumsum(self.lengths_mm, axis=1)
        left = np.clip(ends[:, -1:] / 2 - (ends - self.lengths_mm), 0.0, self.lengths_mm)
        return replace(self, span_nm=self.span_nm // 2, lengths_mm=left)


def lines_of(brief: Brief, bench: Bench, relief: Relief, leaf_no: int, way: str) -> Lines:
    """Strips of a leaf along one way, `across` or `up`."""
    leaf, blocks = bench.leaves[leaf_no], bench.blocks
    mine = np.flatnonzero((blocks.leaf == leaf_no) & (blocks.zone == Zone.FIELD))
    begin, span, width = _backer(leaf, way)
    first, size = (blocks.x_nm, blocks.width_nm) if way == "across" else (blocks.y_nm, blocks.height_nm)
    starts, ends = np.maximum(first, begin), np.minimum(first + size, begin + span)
    kinds: dict[Key, int] = {}
    strips: dict[Parts, float] = {}
    for line in block_lines(blocks, mine, way):
        wide = line.high_nm - line.low_nm
        covers = round(wide / (wide + brief.blocks.gap_nm), 3)
        order = line.blocks if way == "across" else line.blocks[::-1]
        order = order[ends[order] > starts[order]]
        cells = zip(
            size[order].tolist(), relief.length_nm[order].tolist(), blocks.footprint[order].tolist(), strict=True
        )
        found = [
            kinds.setdefault((size_nm, _stepped_mm(high_nm), covers, of), len(kinds)) for size_nm, high_nm, of in cells
        ]
        parts = _parted(starts[order].tolist(), ends[order].tolist(), found, begin, begin + span)
        strips[parts] = strips.get(parts, 0.0) + wide / NM_PER_MM
    most = max(map(len, strips))
    filled = np.array([[*parts, *((0.0, BARE),) * (most - len(parts))] for parts in strips])
    return Lines(
        way=way,
        span_nm=span,
        width_nm=width,
        lengths_mm=filled[:, :, 0],
        parts=filled[:, :, 1].astype(np.int64),
        widths_mm=np.array(list(strips.values())),
        ribs=tuple(part for part in bench.back if part.leaf == leaf_no and _runs_along(part, way, span)),
        cells=tuple(
            Cell(size_nm=size, height_mm=high, covers=covers, footprint=of) for size, high, covers, of in kinds
        ),
    )


def _runs_along(part: BackPart, way: str, span_nm: int) -> bool:
    if not part.glued or part.role not in STIFFENERS or part.upright != (way == "up"):
        return False
    return part.length_nm * GLUED_OVER >= span_nm * 2


def _parted(starts: list[int], ends: list[int], cells: list[int], begin_nm: int, end_nm: int) -> Parts:
    """Lengths of blocks and of the bare board between them, mm."""
    parts: list[tuple[float, int]] = []
    at = begin_nm
    for start, end, cell in zip(starts, ends, cells, strict=True):
        if start > at:
            parts.append(((start - at) / NM_PER_MM, BARE))
        parts.append(((end - start) / NM_PER_MM, cell))
        at = end
    if at < end_nm:
        parts.append(((end_nm - at) / NM_PER_MM, BARE))
    return tuple(parts)


def _backer(leaf: Leaf, way: str) -> tuple[int, int, int]:
    if way == "across":
        return leaf.backer_x_nm, leaf.backer_width_nm, leaf.backer_height_nm
    return leaf.backer_y_nm, leaf.backer_height_nm, leaf.backer_width_nm


@lru_cache(maxsize=4096)
def _stepped_mm(height_nm: int) -> float:
    steps = round(math.log(max(1.0, height_nm / NM_PER_MM)) / math.log(HEIGHT_STEP))
    return float(HEIGHT_STEP**steps)
