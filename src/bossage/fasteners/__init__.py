"""Screws, plugs and glue lines by themselves: allowable loads, NDS 2018. Knows nothing of a relief."""

from __future__ import annotations

from bossage.fasteners.adhesive import (
    BOARD_PLANE_SHEAR_MPA,
    HARDWOOD_PRESSURE_MPA,
    SIDE_GRAIN_SHEAR_MPA,
    SOFTWOOD_PRESSURE_MPA,
    SPREAD_G_PER_M2,
    clamps_needed,
    film_cover_m2_per_l,
    glue_line_shear,
    pressing_force_n,
)
from bossage.fasteners.combined import combined_allowable_n, combined_use
from bossage.fasteners.factors import (
    END_GRAIN_LAG_WITHDRAWAL,
    END_GRAIN_LATERAL,
    LEAST_PENETRATION_DIAMETERS,
    WET_SERVICE,
    LoadDuration,
    Placing,
    least_placing,
    load_duration_factor,
    penetration_factor,
)
from bossage.fasteners.gauges import (
    UnknownScrew,
    WoodScrew,
    gauge_for_metric,
    screw_gauges,
    thread_length_mm,
    wood_screw,
)
from bossage.fasteners.lateral import (
    Reduction,
    ScrewLateral,
    YieldModes,
    dowel_bearing_mpa,
    reduction_terms,
    wood_screw_lateral,
    yield_modes,
)
from bossage.fasteners.lengths import SOLD_NM, longest_sold_nm
from bossage.fasteners.rated import Rated, hollow_wall_fixing, masonry_plug
from bossage.fasteners.withdrawal import (
    head_pull_through_n,
    lag_screw_withdrawal_n_per_mm,
    lead_hole_lateral_mm,
    lead_hole_withdrawal_mm,
    nail_withdrawal_n_per_mm,
    wood_screw_ultimate_n,
    wood_screw_withdrawal_n_per_mm,
)
from bossage.fasteners.words import force_words, stress_words

__all__ = [
    "BOARD_PLANE_SHEAR_MPA",
    "END_GRAIN_LAG_WITHDRAWAL",
    "END_GRAIN_LATERAL",
    "HARDWOOD_PRESSURE_MPA",
    "LEAST_PENETRATION_DIAMETERS",
    "SIDE_GRAIN_SHEAR_MPA",
    "SOFTWOOD_PRESSURE_MPA",
    "SOLD_NM",
    "SPREAD_G_PER_M2",
    "WET_SERVICE",
    "LoadDuration",
    "Placing",
    "Rated",
    "Reduction",
    "ScrewLateral",
    "UnknownScrew",
    "WoodScrew",
    "YieldModes",
    "clamps_needed",
    "combined_allowable_n",
    "combined_use",
    "dowel_bearing_mpa",
    "film_cover_m2_per_l",
    "force_words",
    "gauge_for_metric",
    "glue_line_shear",
    "head_pull_through_n",
    "hollow_wall_fixing",
    "lag_screw_withdrawal_n_per_mm",
    "lead_hole_lateral_mm",
    "lead_hole_withdrawal_mm",
    "least_placing",
    "load_duration_factor",
    "longest_sold_nm",
    "masonry_plug",
    "nail_withdrawal_n_per_mm",
    "penetration_factor",
    "pressing_force_n",
    "reduction_terms",
    "screw_gauges",
    "stress_words",
    "thread_length_mm",
    "wood_screw",
    "wood_screw_lateral",
    "wood_screw_ultimate_n",
    "wood_screw_withdrawal_n_per_mm",
    "yield_modes",
]
