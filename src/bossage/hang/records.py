"""What `hang` gives: the mass, the load path link by link, positions, lifting."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class MassPart:
    """One line of the mass bill of a leaf, with the place of its centre."""

    name: str
    mass_g: float
    from_wall_mm: float
    from_left_mm: float
    from_foot_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafMass:
    """A leaf's mass bill and its centre of gravity."""

    leaf: str
    copy: int
    parts: tuple[MassPart, ...]
    total_g: float
    from_wall_mm: float
    from_left_mm: float
    from_foot_mm: float
