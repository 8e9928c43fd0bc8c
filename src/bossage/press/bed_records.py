"""What the cards of the ways that are not row by row hold."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class BedBlock:
    """One block face down on the bed, seen from the back: from the lower left corner of the leaf's outline."""

    block: int
    x_nm: int
    y_nm: int
    width_nm: int
    height_nm: int
    shim_nm: int  # under its face; 0 for the highest level


@dataclass(frozen=True, slots=True, kw_only=True)
class BedCard:
    """One leaf pressed face down in one go. Shim and block together are `constant_nm` all over the bed.

    `blocks` are in the order of laying: row by row from the top, as the back is read. The glue must be spread and the
    clamps on within the open time; `hands` spread it.
    """

    leaf: int
    constant_nm: int
    blocks: tuple[BedBlock, ...]
    shims: tuple[tuple[int, int], ...]  # thickness, how many; thickest first
    glue_g: float
    area_mm2: float
    lay_min: float
    spread_min: float  # by one pair of hands
    hands: int
    clamps: int
    cauls: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BagCard:
    """One batch under bags of sand: how many of `BAG_G`, and when it may be left."""

    leaf: int
    row: int
    part: int
    of: int
    blocks: int
    bags: int
    glue_g: float
    lay_s: float
