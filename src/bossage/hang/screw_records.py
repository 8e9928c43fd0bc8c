"""Screws that keep a part of the back shut while its glue dries, as records."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewSpot:
    """Where one screw goes through the backer, in wall coordinates."""

    x_nm: int
    y_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueScrews:
    """Screws of one part of the back, all alike, driven from the backer's face before a block is laid.

    They keep the joint shut while its glue dries; `lasting` ones hold the part afterwards too.
    """

    part: str
    gauge: str
    length_nm: int
    clearance_hole_mm: float  # through the backer; 0: nothing is known of the screw
    lead_hole_mm: float  # into the part
    spots: tuple[ScrewSpot, ...]  # along the part, left to right or from its foot up
    lasting: bool = False  # they hold the part for good, beside its glue
    sunk_nm: int = 0  # the heads, below the backer's face
    head_hole_mm: float = 0.0  # bit that makes room for a sunk head; 0: none is sunk
