"""Ribs to try where a leaf bows: how many, and of which size."""

from __future__ import annotations

RIB_SPACING_NM = 400_000_000
"""A rib each so far. Ours."""

RIB_WIDTH_NM, RIB_DEPTH_NM = 20_000_000, 40_000_000
RIB_OFF_NM, LEAST_DEPTH_NM = 2_000_000, 12_000_000
"""Between such a rib and the wall, so that it does not bear there; the least depth worth the work. Ours."""

RIB_MPA = 9_000.0
"""A softwood batten on edge, with a usual modulus along its grain."""


def rib_depth_nm(stand_off_nm: int, unit: str) -> int:
    """How deep a rib may be that is put behind a leaf: no deeper than there is room before the wall; 0 for too little.

    Args:
        stand_off_nm: From the wall to the backer.
        unit: A depth in inches is one of whole eighths, else one of whole millimetres.
    """
    step = 3_175_000 if unit == "in" else 1_000_000
    deep = min(RIB_DEPTH_NM, stand_off_nm - RIB_OFF_NM) // step * step
    return deep if deep >= LEAST_DEPTH_NM else 0


def ribs_wanted(across_nm: int) -> int:
    """How many ribs stand side by side over so much of the backer."""
    return max(2, -(-across_nm // RIB_SPACING_NM))
