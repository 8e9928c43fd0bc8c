"""Wood by itself: moisture, movement, density, stiffness, sizes, bow. Knows nothing of a relief."""

from __future__ import annotations

from bossage.timber.bow import (
    Bow,
    Layer,
    board_on_ribs,
    layered_bow,
    sagitta_mm,
    strip_rise_mm,
    two_layer_curvature_per_mm,
)
from bossage.timber.cell import GluedCell, Plane, RibLayer, glued_cell
from bossage.timber.colours import wood_lab
from bossage.timber.density import (
    density_kg_m3,
    design_density_kg_m3,
    mass_g,
    ovendry_gravity_from_density,
    specific_gravity_from_basic,
)
from bossage.timber.moisture import emc_pct
from bossage.timber.movement import (
    coefficient_per_pct,
    movement_from_shrinkage_mm,
    movement_mm,
    shrinkage_pct,
)
from bossage.timber.sizes import DressedSize, UnknownSize, dressed_size, size_around
from bossage.timber.species import (
    Board,
    Movement,
    Species,
    UnknownSpecies,
    board,
    board_keys,
    species,
    species_keys,
    species_or_board,
)
from bossage.timber.stiffness import (
    block_plane,
    board_plane,
    is_hardwood,
    modulus_along_mpa,
    modulus_mpa,
    strip_moduli_mpa,
)

__all__ = [
    "Board",
    "Bow",
    "DressedSize",
    "GluedCell",
    "Layer",
    "Movement",
    "Plane",
    "RibLayer",
    "Species",
    "UnknownSize",
    "UnknownSpecies",
    "block_plane",
    "board",
    "board_keys",
    "board_on_ribs",
    "board_plane",
    "coefficient_per_pct",
    "density_kg_m3",
    "design_density_kg_m3",
    "dressed_size",
    "emc_pct",
    "glued_cell",
    "is_hardwood",
    "layered_bow",
    "mass_g",
    "modulus_along_mpa",
    "modulus_mpa",
    "movement_from_shrinkage_mm",
    "movement_mm",
    "ovendry_gravity_from_density",
    "sagitta_mm",
    "shrinkage_pct",
    "size_around",
    "species",
    "species_keys",
    "species_or_board",
    "specific_gravity_from_basic",
    "strip_moduli_mpa",
    "strip_rise_mm",
    "two_layer_curvature_per_mm",
    "wood_lab",
]
