"""A glued face that is sheared and peeled at once: the pull at its edge, and what of its allowables that uses up."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bossage.fasteners.adhesive import END_GRAIN_BOND_SHARE, PERMANENT_BOND_SHARE
from bossage.ranges import within

FloatArray = NDArray[np.float64]

TENSION_ACROSS_MPA = 0.103
"""Allowable pull across the grain, 15 psi: radial tension of NDS 2018 5.2.8, which the standard gives to curved beams
(from memory). A third of a board's internal bond, 0.30 to 0.55 N/mm² (EN 300, EN 312, EN 622-5, from memory), is no
less. Taken whole on end grain too: the board's face gives before the block, whose wood is pulled along its grain."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BondAllowed:
    """What one glue line may be asked for, MPa, factors included."""

    shear_mpa: float
    pull_mpa: float

    def use(self, shear_mpa: FloatArray | float, pull_mpa: FloatArray | float) -> FloatArray:
        """Share of the allowables that shear and pull use up together; 1 is the limit.

        Source:
            Quadratic interaction, as Norris put it for plywood (Forest Products Laboratory Report 1816, 1950, from
            memory): the sum of the squares of both shares is 1 at the limit.
        """
        used: FloatArray = np.hypot(np.asarray(shear_mpa) / self.shear_mpa, np.asarray(pull_mpa) / self.pull_mpa)
        return used


def bond_allowed(
    wood_shear_mpa: float, *, end_grain: bool, duration_factor: float, permanent: bool = True
) -> BondAllowed:
    """Allowable shear and pull of a glue line.

    Args:
        wood_shear_mpa: Allowable shear of the weaker side, 0.01 to 10 MPa.
        end_grain: Whether either side is end grain.
        duration_factor: C_D, 0.9 to 1.6.
        permanent: Whether the load never leaves, so that the glue may creep.

    Returns:
        Both allowables, MPa.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Starved joints, paint under the glue, heat and damp.

    Source:
        Strengths and shares of `adhesive` and `TENSION_ACROSS_MPA`: from memory or ours.
    """
    shear = within("Allowable shear", wood_shear_mpa, 0.01, 10, "MPa")
    share = within("Load duration factor", duration_factor, 0.9, 1.6, "(ratio)")
    share *= PERMANENT_BOND_SHARE if permanent else 1.0
    return BondAllowed(
        shear_mpa=shear * share * (END_GRAIN_BOND_SHARE if end_grain else 1.0), pull_mpa=TENSION_ACROSS_MPA * share
    )


def stiff_peel_mpa(moment_nmm: FloatArray | float, width_mm: FloatArray | float, height_mm: FloatArray) -> FloatArray:
    """Pull at the edge of a glued rectangle that a stiff part turns away from.

    Args:
        moment_nmm: About the middle of the rectangle, N·mm.
        width_mm: Along the turning edge, above 0 mm.
        height_mm: Across it, above 0 mm.

    Returns:
        MPa, M over the section modulus.

    Leaves out:
        That thin parts bend, so that the edge is pulled harder: `edge_peel_mpa`.

    Source:
        Navier's linear stress, as in the elastic method for eccentrically loaded joints.
    """
    peeled: FloatArray = 6 * np.asarray(moment_nmm) / (np.asarray(width_mm) * np.asarray(height_mm) ** 2)
    return peeled


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One of two parts that are glued face to face.

    `stiffness` is its modulus along the height of the joint over its modulus through its thickness.
    """

    thickness_mm: float
    stiffness: float


def edge_peel_mpa(
    end_n_per_mm: float, end_nmm_per_mm: float, couple_nmm_per_mm: float, height_mm: float, sides: tuple[Side, Side]
) -> float:
    """Pull at the edge of a glue line between two parts that bend.

    Args:
        end_n_per_mm: Force that draws the parts off one another at that edge, by width, N/mm.
        end_nmm_per_mm: Moment that opens that edge, put in at the edge itself, N·mm/mm.
        couple_nmm_per_mm: Moment that the shear brings in evenly over the height, N·mm/mm.
        height_mm: Height of the joint, above 0 mm.
        sides: Both parts.

    Returns:
        MPa. For parts so stiff that they do not bend it is P/h + 6M/h².

    Raises:
        OutOfRange: The height is not above 0.

    Leaves out:
        The glue's own softness, which lowers the peak; the wood's plies.

    Source:
        Beam on an elastic foundation of finite length, loaded at its ends (Hetényi, Beams on Elastic Foundation, 1946,
        from memory), as Bigwood and Crocombe use it for peel (Int. J. Adhesion and Adhesives 9(4), 1989, from memory).
        The foundation is the wood's own give through half of each thickness; both parts bend against one another. An
        even couple is a pair of forces at both ends.
    """
    h = within("Height of the joint", height_mm, 1e-6, 1e5, "mm")
    k = 2 / (sides[0].thickness_mm + sides[1].thickness_mm)
    bends = sum(12 / (side.stiffness * side.thickness_mm**3) for side in sides)
    beta = math.sqrt(math.sqrt(k * bends / 4))
    x = min(beta * h, 40.0)  # beyond, the far end no longer counts and the sines would lose their digits
    if x < 0.05:  # stiff: the limit of what follows, whose differences lose their digits
        return end_n_per_mm * 4 / h + 6 * (end_nmm_per_mm + couple_nmm_per_mm) / h**2
    sh, ch, s, c = math.sinh(x), math.cosh(x), math.sin(x), math.cos(x)
    below = sh**2 - s**2
    near, far, turned = (sh * ch - s * c) / below, (s * ch - sh * c) / below, (sh**2 + s**2) / below
    pair = couple_nmm_per_mm / h
    return 2 * beta * (end_n_per_mm * near + pair * (near + far)) + 2 * beta**2 * end_nmm_per_mm * turned
