"""Ribs to try where a leaf bows: how many, and of which size."""

from __future__ import annotations

RIB_SPACING_NM = 400_000_000
"""A rib each so far. Ours."""

RIB_WIDTH_NM, RIB_DEPTH_NM = 20_000_000, 40_000_000
RIB_MPA = 9_000.0
"""A softwood batten on edge, with a usual modulus along its grain."""


def ribs_wanted(across_nm: int) -> int:
    """How many ribs stand side by side over so much of the backer."""
    return max(2, -(-across_nm // RIB_SPACING_NM))
