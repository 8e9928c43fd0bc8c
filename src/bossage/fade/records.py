"""What `fade` gives: the shade of every block, and the count table that every paper derives from."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bossage.checks import Check

IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shade:
    """One shade, called by its family and its CIE lightness: `moss 62`.

    `colour_hex` is what to show on screen and paper; `modelled` tells whether a paint model stands behind it.
    """

    name: str
    family: str
    lightness: float
    lab: tuple[float, float, float]
    colour_hex: str
    modelled: bool
    tinter_fraction: float | None  # of the whole mix, by volume; None without a paint model
    tinter_shares: tuple[float, ...]  # the same, tinter by tinter; empty without a paint model


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundColour:
    """A colour for the backer: how far its gaps stand from the shadow beside the blocks, and whether it is advised."""

    name: str
    colour_hex: str
    lightness: float
    contrast_de: float  # mean CIEDE2000 from the blocks' shades in shadow
    unsure_de: float  # what the assumed light leaves open of it
    vanishes: bool  # the smallest, and all that cannot be told from it
    advised: bool  # the darkest of those
    chosen: bool  # what the brief says, or the advised one where it says nothing


@dataclass(frozen=True, slots=True, kw_only=True)
class CountRow:
    """One row of the count table: so many blocks of one footprint, level, length and shade, over all leaves."""

    footprint: str
    zone: str  # "field" or "ring"
    level_nm: int
    length_nm: int  # as sawn: a ring block is longer by the backer's thickness
    shade: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Fade:
    """The colours of the piece. `shade` indexes `shades`, one entry a block."""

    shades: tuple[Shade, ...]
    shade: IntArray
    grounds: tuple[GroundColour, ...]
    figures: dict[str, float]  # measures that checks quote: banding, clumps, correlation with height
    count_table: tuple[CountRow, ...]
    checks: tuple[Check, ...]
