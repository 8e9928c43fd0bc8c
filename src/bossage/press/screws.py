"""Screws from behind: which levels are deep enough for a usual length that bites and cannot come through.

They hold while the glue sets. What holds for good is the glue: thread in end grain is never counted (NDS 2018 12.2:
wood screws are not permitted in withdrawal from end grain).
"""

from __future__ import annotations

import numpy as np

from bossage.brief.records import Brief, LengthUnit
from bossage.fasteners import LEAST_BITE_NM, TIP_COVER_NM, longest_sold_nm
from bossage.layout.records import Zone
from bossage.press.bench import Bench
from bossage.press.method_records import ScrewFit
from bossage.relief import Relief


def longest_screw_nm(through_nm: int, block_nm: int, unit: LengthUnit) -> int | None:
    """The longest usual screw through a board into a block that keeps `TIP_COVER_NM` from its face, if it bites.

    Args:
        through_nm: What lies between the head and the block: backer or strip.
        block_nm: Length of the block behind its face.
        unit: Whose usual lengths to take.

    Returns:
        A length, or None where none both bites `LEAST_BITE_NM` and stays inside.
    """
    return longest_sold_nm(through_nm + block_nm - TIP_COVER_NM, unit, least_nm=through_nm + LEAST_BITE_NM)


def screw_fits(brief: Brief, bench: Bench, relief: Relief) -> tuple[ScrewFit, ...]:
    """Every level of the field with its screw, lowest first."""
    backer, unit = brief.backer.thickness_nm, brief.piece.unit
    field = relief.level[bench.blocks.zone == Zone.FIELD]
    counts = np.bincount(field, minlength=len(relief.levels_nm))
    fits = []
    for level, blocks in zip(relief.levels_nm, counts, strict=True):
        length = longest_screw_nm(backer, level, unit)
        bite = 0 if length is None else length - backer
        fits.append(
            ScrewFit(level_nm=level, blocks=int(blocks), length_nm=length, bite_nm=bite, short_of_face_nm=level - bite)
        )
    return tuple(fits)
