"""Stiffness of wood and boards in the cut that a bending strip is looked at in: across the grain, and in shear."""

from __future__ import annotations

from bossage.timber.cell import Plane
from bossage.timber.species import Species, board, board_keys, species

USUAL_MPA = 9_000.0
"""Modulus along the grain where the tables have none: a usual softwood's. Ours."""

ACROSS_SHARE = {"softwood": 0.05, "hardwood": 0.07}
"""E_T over E_L: mean of the woods of Wood Handbook FPL-GTR-190 (2010) Table 5-1, from memory. The rings are taken to
lie so that wood moves most; rings the other way are half as stiff again and move half as much, which pulls alike."""

SHEAR_SHARE = {"softwood": 0.065, "hardwood": 0.075}
"""G_LT over E_L, from the same table (from memory)."""

HARD_KG_M3 = 600
"""A group of woods that names neither: a density that no softwood of the tables has."""

BOARD_THROUGH_MPA = 500.0
"""Modulus of a board square to its faces. Ours; half or twice as much changes no bow by 2 %."""

SOLID_THROUGH_SHARE, SOLID_SHEAR_SHARE = 0.05, 1 / 16
"""A solid backer: across its grain, and G as the handbook takes it for beams (E/16, from memory)."""


def is_hardwood(wood: Species) -> bool:
    """A hardwood by its row; a group that names none, by its density."""
    return wood.kind == "hardwood" or (wood.kind == "NDS group" and wood.density_12pct_kg_m3 > HARD_KG_M3)


def modulus_along_mpa(wood: Species) -> float:
    """Modulus along the grain; a usual softwood's where the tables have none."""
    return wood.modulus_along_mpa or USUAL_MPA


def block_plane(key: str, kept: float = 1.0) -> Plane:
    """A block that stands on its end grain, seen along a strip.

    Args:
        key: Its wood, a key of `species_keys()`.
        kept: Share of the stiffness that is left after slow drying has relaxed it, above 0 to 1.

    Returns:
        Across the grain along the strip, along the grain square to the joint.

    Raises:
        UnknownSpecies: No such wood.

    Leaves out:
        Ring angle, knots, and stiffening as wood dries (about 2 % for each per cent).

    Source:
        `ACROSS_SHARE` and `SHEAR_SHARE`.
    """
    wood = species(key)
    kind = "hardwood" if is_hardwood(wood) else "softwood"
    along = modulus_along_mpa(wood) * kept
    return Plane(along_mpa=along * ACROSS_SHARE[kind], through_mpa=along, shear_mpa=along * SHEAR_SHARE[kind])


def board_plane(key: str, along_mpa: float) -> Plane:
    """A board or solid backer whose modulus along the strip is known; `UnknownSpecies` where the key is not."""
    if key in board_keys():
        return Plane(along_mpa=along_mpa, through_mpa=BOARD_THROUGH_MPA, shear_mpa=board(key).planar_shear_mpa)
    species(key)
    return Plane(
        along_mpa=along_mpa,
        through_mpa=along_mpa * SOLID_THROUGH_SHARE,
        shear_mpa=along_mpa * SOLID_SHEAR_SHARE,
    )


def strip_moduli_mpa(key: str) -> tuple[float, float, float]:
    """Least, middle and most modulus of a backer along a strip whose grain direction is not known."""
    if key in board_keys():
        ends = (board(key).modulus_across_mpa, board(key).modulus_along_mpa)
        return min(ends), sum(ends) / 2, max(ends)
    along = modulus_along_mpa(species(key))
    return along, along, along


def modulus_mpa(key: str, *, along: bool) -> float:
    """Modulus of elasticity of a wood (along its grain) or a board; a usual softwood's where the tables have none."""
    if key in board_keys():
        return board(key).modulus_along_mpa if along else board(key).modulus_across_mpa
    return modulus_along_mpa(species(key))
