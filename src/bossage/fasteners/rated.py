"""Fixings that carry somebody else's number: hollow walls, plugs in masonry, and a line of glue in shear."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.ranges import within

HOLLOW_WALL_DIVISOR = 4.0
"""Ultimate rating over allowable, static load, only in the wall thickness tested. Common practice, weak sources."""

END_GRAIN_BOND_SHARE = 0.25
"""A butt joint on end grain against one on side grain (Wood Handbook ch. 10, from memory: about a quarter at best)."""

PERMANENT_BOND_SHARE = 0.5
"""Ours: white glue creeps under a load that never leaves, so no more than half is counted on."""

SIDE_GRAIN_SHEAR_MPA = 0.93
"""Allowable shear along the grain of spruce-pine-fir, 135 psi (NDS Supplement 2018 Table 4A, from memory)."""

BOARD_PLANE_SHEAR_MPA = 0.37
"""Allowable rolling shear in the plane of plywood, 53 psi (plywood design specification, from memory). Ours: the same
is taken for OSB, MDF and particleboard, which are no weaker in their plane."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rated:
    """An allowable load that rests on a printed rating; `factor` is rating over allowable."""

    rating_n: float
    allowable_n: float
    factor: float
    basis: str


def hollow_wall_fixing(rating_n: float, divisor: float = HOLLOW_WALL_DIVISOR) -> Rated:
    """Allowable load of a fixing that holds in the board of a hollow wall.

    Args:
        rating_n: Load on the packet for this wall thickness, above 0 N. Read whether it is ultimate or working.
        divisor: What the rating is divided by, 1 or more.

    Returns:
        The rating over the divisor.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Another wall thickness than the tested one, damp board, and load that works to and fro.

    Source:
        Common practice, no source: a quarter of the rating.
    """
    rating = within("Rating of the fixing", rating_n, 1e-6, 1e6, "N")
    factor = within("Divisor", divisor, 1, 20, "(ratio)", "A rating must not be made larger.")
    return Rated(
        rating_n=rating,
        allowable_n=rating / factor,
        factor=factor,
        basis=f"rating on the packet over {factor:g} (common practice, no source)",
    )


def masonry_plug(allowable_n: float) -> Rated:
    """Allowable load of a plug and screw in masonry, by its own rating.

    Args:
        allowable_n: Recommended load of its maker for this masonry, factor inside, above 0 N.

    Returns:
        The same load; nothing is added and nothing taken off.

    Raises:
        OutOfRange: The load is not above 0.

    Leaves out:
        Old, soft or hollow masonry, plaster thickness, and distance to a joint or an edge.

    Source:
        The maker of the plug.
    """
    load = within("Recommended load of the plug", allowable_n, 1e-6, 1e6, "N")
    return Rated(rating_n=load, allowable_n=load, factor=1.0, basis="recommended load of the plug's maker")


def glue_line_shear_n(
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
        basis=f"allowable shear {shear:g} MPa times {', '.join(named)}",
    )
