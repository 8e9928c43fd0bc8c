"""Screws, plugs and glue lines by themselves: allowable loads, NDS 2018. Knows nothing of a relief."""

from __future__ import annotations

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
from bossage.fasteners.rated import Rated, glue_line_shear_n, hollow_wall_fixing, masonry_plug
from bossage.fasteners.withdrawal import (
    head_pull_through_n,
    lag_screw_withdrawal_n_per_mm,
    lead_hole_lateral_mm,
    lead_hole_withdrawal_mm,
    nail_withdrawal_n_per_mm,
    wood_screw_ultimate_n,
    wood_screw_withdrawal_n_per_mm,
)

__all__ = [
    "END_GRAIN_LAG_WITHDRAWAL",
    "END_GRAIN_LATERAL",
    "LEAST_PENETRATION_DIAMETERS",
    "WET_SERVICE",
    "LoadDuration",
    "Placing",
    "Rated",
    "Reduction",
    "ScrewLateral",
    "UnknownScrew",
    "WoodScrew",
    "YieldModes",
    "combined_allowable_n",
    "combined_use",
    "dowel_bearing_mpa",
    "gauge_for_metric",
    "glue_line_shear_n",
    "head_pull_through_n",
    "hollow_wall_fixing",
    "lag_screw_withdrawal_n_per_mm",
    "lead_hole_lateral_mm",
    "lead_hole_withdrawal_mm",
    "least_placing",
    "load_duration_factor",
    "masonry_plug",
    "nail_withdrawal_n_per_mm",
    "penetration_factor",
    "reduction_terms",
    "screw_gauges",
    "thread_length_mm",
    "wood_screw",
    "wood_screw_lateral",
    "wood_screw_ultimate_n",
    "wood_screw_withdrawal_n_per_mm",
    "yield_modes",
]
