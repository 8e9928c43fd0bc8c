"""Areas of faces and sides, block by block, and what of a side a coat down to some depth leaves bare."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bossage.layout.records import Layout
from bossage.paint.sides import contact_mm, sides_shown_mm2
from bossage.relief.records import Relief

FloatArray = NDArray[np.float64]

LAP_MM = 4.0
"""A coat reaches so far past what shows, so that no bare wood is seen from the side (our assumption)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockAreas:
    """One entry a block, in mm and mm². Sides run down to the back: a ring block is sawn longer than its level, and the
    rest of it is seen from beside the piece."""

    width_mm: FloatArray
    height_mm: FloatArray
    level_mm: FloatArray  # above the backer's face
    sawn_mm: FloatArray
    face_mm2: FloatArray
    sides_mm2: FloatArray  # all four, whole
    shown_mm2: FloatArray  # of the sides, above the neighbours
    line_mm: FloatArray  # from the face down to just below the lowest neighbour; the whole side at the outline

    @property
    def to_line_mm2(self) -> FloatArray:
        """Of the four sides, what lies above the line."""
        return 2 * (self.width_mm + self.height_mm) * self.line_mm

    @property
    def to_level_mm2(self) -> FloatArray:
        """Of the four sides, what stands above the backer's face: by this a maker's share is counted."""
        return 2 * (self.width_mm + self.height_mm) * self.level_mm


def block_areas(layout: Layout, relief: Relief) -> BlockAreas:
    """Faces, sides and lines of all blocks."""
    blocks = layout.blocks
    width, height = blocks.width_nm / 1e6, blocks.height_nm / 1e6
    level = np.asarray(relief.levels_nm, dtype=np.int64)[relief.level] / 1e6
    sawn = np.asarray(relief.length_nm / 1e6)
    return BlockAreas(
        width_mm=width,
        height_mm=height,
        level_mm=level,
        sawn_mm=sawn,
        face_mm2=width * height,
        sides_mm2=2 * (width + height) * sawn,
        shown_mm2=sides_shown_mm2(layout, relief),
        line_mm=_line_mm(layout, level, sawn),
    )


def bare_mm2(layout: Layout, areas: BlockAreas, depth_mm: FloatArray) -> FloatArray:
    """Of each block's sides, what shows above the neighbours and lies below `depth_mm` from the face."""
    level_mm = areas.level_mm
    blocks = layout.blocks
    perimeter = 2 * (blocks.width_nm + blocks.height_nm) / 1e6
    free = perimeter.copy()
    bare = np.zeros_like(free)
    if blocks.edges.size:
        contact = contact_mm(blocks)
        for one, other in ((0, 1), (1, 0)):
            mine, theirs = blocks.edges[:, one], blocks.edges[:, other]
            stands = np.maximum(level_mm[mine] - level_mm[theirs], 0.0)
            np.add.at(bare, mine, contact * np.maximum(stands - depth_mm[mine], 0.0))
            np.subtract.at(free, mine, contact)
    return np.asarray(bare + np.maximum(free, 0.0) * np.maximum(areas.sawn_mm - depth_mm, 0.0))


def _line_mm(layout: Layout, level_mm: FloatArray, sawn_mm: FloatArray) -> FloatArray:
    blocks = layout.blocks
    perimeter = 2 * (blocks.width_nm + blocks.height_nm) / 1e6
    lowest = level_mm.copy()
    free = perimeter.copy()
    if blocks.edges.size:
        contact = contact_mm(blocks)
        for one, other in ((0, 1), (1, 0)):
            mine = blocks.edges[:, one]
            np.minimum.at(lowest, mine, level_mm[blocks.edges[:, other]])
            np.subtract.at(free, mine, contact)
    # A side without a neighbour (outline, open cell) is seen down to the backer. Gaps and rounding stay below a tenth.
    open_side = free > 0.1 * np.minimum(blocks.width_nm, blocks.height_nm) / 1e6
    depth = np.where(open_side, sawn_mm, np.minimum(level_mm - lowest + LAP_MM, sawn_mm))
    return np.asarray(depth)
