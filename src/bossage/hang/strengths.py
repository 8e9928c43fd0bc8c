"""Allowable stresses of boards and of cleats, for links that no table of the sciences covers.

All of them are from memory and rounded down by us: they are there to find a link that is plainly too weak, and such
a link is orders of magnitude away from ruling a relief.
"""

from __future__ import annotations

from bossage.fasteners import BOARD_PLANE_SHEAR_MPA, SIDE_GRAIN_SHEAR_MPA, LoadDuration, load_duration_factor
from bossage.timber import board_keys

DURATION_SHARE = load_duration_factor(LoadDuration.PERMANENT)

BENDING_MPA = {"plywood_softwood": 4.1, "plywood_birch": 4.1, "osb": 2.0, "mdf": 2.0, "particleboard": 1.2}
"""Allowable bending stress of a board. Plywood: 600 psi, about half of what the plywood design specification gives its
weakest group; OSB, MDF, particleboard: permanent load on EN 12369 values, rounded down. From memory, ours."""

TWISTED_MPA = {"plywood_birch": 0.7, "osb": 0.25, "mdf": 0.2, "particleboard": 0.2}
"""Allowable shear in the plane of a board that is twisted: characteristic 2.0 MPa of birch plywood and 1.0 of OSB/3,
times k_mod over the partial factors of a permanent load, rounded down; MDF and particleboard ours. From memory. Others
hold what their plane does beside glue."""

BENDING_WOOD_MPA = 3.4
"""Allowable bending stress of sawn wood whose grade is not known: 500 psi, near spruce-pine-fir No. 3 (NDS Supplement
Table 4A, from memory)."""

BEARING_MPA = 1.1
"""Allowable bearing on the bevel of a cleat: 160 psi, the least face bearing of the plywood design specification (from
memory). Bearing carries no factor for duration (NDS 2018 2.3.2)."""

METAL_WALL_MM = 1.5
"""Wall of a metal cleat's profile: ours, a common light one."""

STEEL_BEARING_MPA = 426.0
"""Dowel bearing of thin steel, 61,850 psi (NDS 2018 Table 12M, from memory)."""

SOURCE = "allowable stress from memory, rounded down by us"


def plane_shear_mpa(material: str) -> float:
    """Allowable shear in the plane of a board, or along the grain of wood, by its key."""
    return BOARD_PLANE_SHEAR_MPA if material in board_keys() else SIDE_GRAIN_SHEAR_MPA


def bending_mpa(material: str) -> float:
    """Allowable bending stress of a board or wood by its key."""
    return BENDING_MPA.get(material, BENDING_WOOD_MPA)


def twisted_mpa(material: str) -> float:
    """Allowable shear of a board or wood that is twisted, by its key, for a load that never leaves."""
    return TWISTED_MPA.get(material, plane_shear_mpa(material) * DURATION_SHARE)
