"""What `layout` gives: where every block sits, on which leaf, and how the piece stands on the wall.

Block positions are of the face's lower left corner, measured on the wall (x right from the left corner, y up from
the floor), in whole nanometres. Large fields are read-only arrays of one length, `blocks.count`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from bossage.checks import Check

IntArray = NDArray[np.int64]


class Zone(IntEnum):
    """Whether a block stands on the backer or, in an outrigger edge, outside it."""

    FIELD = 0
    RING = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockField:
    """All blocks of the piece, one entry each, ordered by leaf, row, column, letter.

    `leaf` and `footprint` index `Layout.leaves` and `Brief.blocks.footprints`. `row`, `column` are those of the
    upper-left module, from 1; `letter` is 0 for a block alone in its module, else 1 for `a`, 2 for `b`.
    `edges` (m × 2) are the pairs that share part of an edge (gap aside); `corner_edges` those that only touch at a
    corner. Leaves are not neighbours.
    """

    leaf: IntArray
    row: IntArray
    column: IntArray
    letter: IntArray
    x_nm: IntArray
    y_nm: IntArray
    width_nm: IntArray
    height_nm: IntArray
    footprint: IntArray
    zone: IntArray
    edges: IntArray
    corner_edges: IntArray

    @property
    def count(self) -> int:
        """How many blocks there are."""
        return int(self.leaf.size)

    def address(self, block: int) -> str:
        """The block's address: `7·12`, `7·12b` in a split module."""
        letter = int(self.letter[block])
        return f"{self.row[block]}·{self.column[block]}" + (letter_name(letter) if letter else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenCell:
    """A module left open, in wall coordinates."""

    leaf: int
    row: int
    column: int
    x_nm: int
    y_nm: int
    width_nm: int
    height_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeStrip:
    """One kind of strip of an outrigger edge, or of lipping of a banded one, on each leaf.

    `side` is `horizontal` or `upright`; `width_nm` lies in the plane of the wall, `thickness_nm` off it.
    """

    side: str
    count: int
    length_nm: int
    width_nm: int
    thickness_nm: int
    material: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RingBond:
    """How the ring of an outrigger edge holds on its strips."""

    extra_nm: int  # ring blocks are cut longer by this: the backer's thickness
    behind_backer_nm: int
    behind_ring_nm: int
    ring_share: float  # of a ring block's footprint
    corner_area_nm2: int
    corner_share: float
    corner_run_out_that_passes_nm: int  # smallest run-out, in whole mm or 1/16 in, with which corners pass


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """One leaf: face and backer rectangles in wall coordinates. `copy` counts from 1 in a series."""

    name: str
    copy: int
    x_nm: int
    y_nm: int
    width_nm: int
    height_nm: int
    columns: int
    rows: int
    backer_x_nm: int
    backer_y_nm: int
    backer_width_nm: int
    backer_height_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """How far the piece reaches past one fixture on each side; negative means that it shows."""

    fixture: str
    copy: int
    left_nm: int
    right_nm: int
    below_nm: int
    above_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StandOff:
    """How far the backer stands from the wall, and what asks for it."""

    cleat_stack_nm: int
    strips_nm: int
    fixture_nm: int  # proudest fixture + air
    behind_nm: int  # deepest rib, stile or frame rail on the backer's back
    stand_off_nm: int
    decided_by: str  # "cleat" or "hinges", "edge strips", "fixture" or "frame"
    air_nm: int  # clear air over the proudest fixture, as built
    air_with_bare_cleat_nm: int  # the same without packer or frame


@dataclass(frozen=True, slots=True, kw_only=True)
class Drift:
    """How far a row of blocks may wander. `redatum_rows` is 0 where no measuring anew is needed."""

    rows: int
    worst_nm: int
    likely_nm: int  # three standard deviations, rounded up
    paint_nm: int  # by which dry paint on touching sides makes the row longer
    gap_takes_nm: int  # all gaps together, what paint leaves of them, opened or closed by half
    redatum_rows: int  # measure from the datum again after so many blocks, so that the outline stays true
    gap_true_nm: int  # the gap with which it stays true without; 0 where none is needed
    way: str = ""  # "across", laid from the left, or "up", laid from the top down
    marks_nm: tuple[int, ...] = ()  # from where laying begins: a block begins there in every row
    marks_do: bool = True  # between these marks every row stays true


@dataclass(frozen=True, slots=True, kw_only=True)
class Mosaic:
    """How blocks of several footprints came to lie on one leaf.

    `counts` are blocks by footprint, `asked` what was asked for (shares as whole blocks). `crosses` are points where
    four corners meet; none can have fewer than `least_crosses` with these counts. `through_joints` run from edge to
    edge: ("upright", c) right of column c, ("level", r) below row r; `through_proven` says that some must.
    """

    leaf: int
    asked: tuple[int, ...]
    counts: tuple[int, ...]
    crosses: int
    least_crosses: int
    through_joints: tuple[tuple[str, int], ...]
    through_proven: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The piece, laid out. `draw` counts how many draws of split modules or mosaics were asked for."""

    leaves: tuple[Leaf, ...]
    blocks: BlockField
    open_cells: tuple[OpenCell, ...]
    strips: tuple[EdgeStrip, ...]  # on each leaf
    ring_bond: RingBond | None
    covers: tuple[Cover, ...]
    stand_off: StandOff
    backer_nm: int  # thickness of the backer
    depth_nm: int  # wall to the highest level
    lift_room_nm: int  # clear above the piece, under ceiling or shelf
    x_nm: int  # outline of all leaves of one copy
    y_nm: int
    width_nm: int
    height_nm: int
    figures_nm: dict[str, int]  # further lengths that checks quote: bench_gap, hall_left, space_width ...
    draw: int
    checks: tuple[Check, ...]
    areas_nm2: dict[str, int] = field(default_factory=dict)  # vent_above, vent_below, vent_wanted
    angles_deg: dict[str, float] = field(default_factory=dict)  # door_max, leaf_min_for_door_90
    ratios: dict[str, float] = field(default_factory=dict)  # width_over_bed, outer_bond_share ...
    mosaics: tuple[Mosaic, ...] = ()  # one a leaf, where footprints cover cells
    drifts: tuple[Drift, ...] = ()  # across and up, where sections have a spread

    @property
    def drawn(self) -> bool:
        """Whether another draw would give another field."""
        return bool(self.mosaics) or bool(self.blocks.letter.any())


@dataclass(frozen=True, slots=True, kw_only=True)
class NoLayout:
    """Why there is nothing to draw, in a maker's words, and what would do. `proven`: else none was found."""

    reason: str
    remedy: str
    proven: bool = True


def letter_name(letter: int) -> str:
    """`a` to `z`, then `aa`, `ab`; from 1."""
    name = ""
    while letter:
        letter, rest = divmod(letter - 1, 26)
        name = chr(ord("a") + rest) + name
    return name
