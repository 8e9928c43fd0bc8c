"""Glued joints: what a line of glue carries in shear, and the pressure, spread and clamps that make it.

Figures of the trade for white and yellow glue; each constant says where it comes from.
"""

from __future__ import annotations

import math

from bossage.fasteners.rated import Rated
from bossage.ranges import within

END_GRAIN_BOND_SHARE = 0.25
"""A butt joint on end grain against one on side grain (Wood Handbook ch. 10, from memory: about a quarter at best)."""

PERMANENT_BOND_SHARE = 0.5
"""Ours: white glue creeps under a load that never leaves, so no more than half is counted on."""

SIDE_GRAIN_SHEAR_MPA = 0.93
"""Allowable shear along the grain of spruce-pine-fir, 135 psi (NDS Supplement 2018 Table 4A, from memory)."""

BOARD_PLANE_SHEAR_MPA = 0.37
"""Allowable rolling shear in the plane of plywood, 53 psi (plywood design specification, from memory). Ours: the same
is taken for OSB, MDF and particleboard, which are no weaker in their plane."""

SOFTWOOD_PRESSURE_MPA = (0.69, 1.03)
"""Pressing pressure wanted on softwood, 100 to 150 psi (a woodworking periodical of 2021, read)."""

HARDWOOD_PRESSURE_MPA = (1.21, 1.72)
"""The same on hardwood, 175 to 250 psi (as above). The Wood Handbook ch. 10 gives 0.7 to 1.7 by density (memory)."""

SPREAD_G_PER_M2 = (150.0, 250.0)
"""Wet glue on a single line, 31 to 51 lb/1000 ft² (typical industry range, from memory)."""

LEAST_GLUING_DEGC = 10.0
"""White glue sets chalky and weak below (retailer's guide, read)."""


def glue_line_shear(
    area_mm2: float, wood_shear_mpa: float, *, end_grain: bool, permanent: bool, duration_factor: float
) -> Rated:
    """Allowable shear of a glued joint; the wood beside the glue is what counts, for sound glue outlasts it.

    Args:
        area_mm2: Bonded area, above 0 mm².
        wood_shear_mpa: Allowable shear of the weaker side (`SIDE_GRAIN_SHEAR_MPA`, `BOARD_PLANE_SHEAR_MPA`).
        end_grain: Whether either side is end grain, as the back of a slice is.
        permanent: Whether the load never leaves, so that the glue may creep.
        duration_factor: C_D, 0.9 to 1.6.

    Returns:
        The allowable load, with the factor against plain area times shear strength.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Peel and cleavage, which open a glue line far below its shear strength, starved joints, heat and damp.

    Source:
        Shares and strengths as named above: from memory or ours.
    """
    area = within("Bonded area", area_mm2, 1e-6, 1e8, "mm²")
    shear = within("Allowable shear", wood_shear_mpa, 0.01, 10, "MPa")
    share = within("Load duration factor", duration_factor, 0.9, 1.6, "(ratio)")
    named = [f"load duration {share:g}"]
    if end_grain:
        share *= END_GRAIN_BOND_SHARE
        named.append(f"end grain {END_GRAIN_BOND_SHARE:g}")
    if permanent:
        share *= PERMANENT_BOND_SHARE
        named.append(f"permanent load {PERMANENT_BOND_SHARE:g}")
    return Rated(
        rating_n=area * shear,
        allowable_n=area * shear * share,
        factor=1 / share,
        basis=f"allowable shear of the wood times {', '.join(named)}",
    )


def pressing_force_n(area_mm2: float, pressure_mpa: float) -> float:
    """Clamping force for a pressure over a joint.

    Args:
        area_mm2: Glued area, above 0 mm².
        pressure_mpa: Pressure wanted, above 0 to 10 MPa.

    Returns:
        Force, N.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        How a caul spreads the force; between the clamps it arrives only if the caul is stiff.

    Source:
        Force is pressure times area.
    """
    area = within("Glued area", area_mm2, 1e-6, 1e8, "mm²")
    return area * within("Pressure", pressure_mpa, 1e-6, 10, "MPa")


def clamps_needed(force_n: float, clamp_n: float) -> int:
    """Least number of clamps that give a force together.

    Args:
        force_n: Force wanted, 0 N or more.
        clamp_n: What one clamp gives by hand, above 0 N.

    Returns:
        A whole number, rounded up.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Their places: for an even line they also have to stand close enough.

    Source:
        Division.
    """
    force = within("Force wanted", force_n, 0, 1e9, "N")
    one = within("Force of one clamp", clamp_n, 1e-6, 1e6, "N")
    # A billionth is forgiven, so that three clamps of a third do not come out as four.
    return math.ceil(force / one - 1e-9)


def film_cover_m2_per_l(film_mm: float) -> float:
    """Area that a litre covers at a wet film thickness of 0.001 to 10 mm: one over the other; `OutOfRange` outside."""
    return 1 / within("Film thickness", film_mm, 0.001, 10, "mm")
