"""Wood by itself: moisture, movement, density, stiffness, sizes, bow. Knows nothing of a relief."""

from __future__ import annotations

from bossage.timber.bow import (
    Bow,
    Layer,
    board_on_ribs,
    layered_bow,
    sagitta_mm,
    two_layer_curvature_per_mm,
)
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
from bossage.timber.sizes import DressedSize, UnknownSize, dressed_size
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

__all__ = [
    "Board",
    "Bow",
    "DressedSize",
    "Layer",
    "Movement",
    "Species",
    "UnknownSize",
    "UnknownSpecies",
    "board",
    "board_keys",
    "board_on_ribs",
    "coefficient_per_pct",
    "density_kg_m3",
    "design_density_kg_m3",
    "dressed_size",
    "emc_pct",
    "layered_bow",
    "mass_g",
    "movement_from_shrinkage_mm",
    "movement_mm",
    "ovendry_gravity_from_density",
    "sagitta_mm",
    "shrinkage_pct",
    "species",
    "species_keys",
    "species_or_board",
    "specific_gravity_from_basic",
    "two_layer_curvature_per_mm",
]
