"""A zone: a part of the wall where nothing is drilled."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from bossage.units import NM_PER_MM

LEAST_CLEAR_NM = 10 * NM_PER_MM
"""The middle of a fixing stands so far outside a zone at least: half of a screw, a drill that wanders. Ours."""

Point = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A convex part of the wall where nothing is drilled, in wall coordinates, its corners anticlockwise.

    `hollow`: the zone is the hollow between studs alone, so that it does not bind a screw into a stud.
    """

    in_nm: ClassVar[bool] = True

    cause: str
    outline_nm: tuple[Point, ...]
    depth_nm: int | None  # behind the face of the wall; None: not known, so all of the wall
    source: str
    hollow: bool = False
    copies: tuple[int, ...] = ()  # of a series; empty means all

    @property
    def box_nm(self) -> tuple[int, int, int, int]:
        """Its reach: from and to along the wall, from and to over the floor."""
        xs, ys = [x for x, _ in self.outline_nm], [y for _, y in self.outline_nm]
        return min(xs), max(xs), min(ys), max(ys)
