"""A screw that carries across a layer that holds nothing: it bends over it, whatever its plug may carry."""

from __future__ import annotations

import math

from bossage.ranges import within

SCREW_TENSILE_MPA = 400.0
"""Tensile strength of the steel of a wood screw that is not hardened (from memory)."""

STEEL_FACTOR = 1.5
"""Bending of the steel: between 1.25 and 1.5 in ETAG 020 Annex C (from memory); the higher."""

LOAD_FACTOR = 1.4
"""ETAG 020 Annex C (from memory). Taken off here, so that an allowable is held against a plain weight."""


def screw_over_gap_n(core_mm: float, diameter_mm: float, gap_mm: float, fixed_mm: float) -> float:
    """Allowable load along the wall of a screw in a plug, by the steel that bends over plaster or packers.

    Args:
        core_mm: Core diameter, 1 to 12 mm.
        diameter_mm: Thread diameter, not below the core, up to 12 mm.
        gap_mm: What lies between the masonry and what is fixed, 0 to 500 mm.
        fixed_mm: Thickness of what is fixed, in the middle of which the load goes over, above 0 mm.

    Returns:
        Newtons: 2 M / l over the two factors; M = 1.2 W f, l = gap + half of what is fixed + half a diameter.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        The pull that acts at once; what the layer itself bears.

    Source:
        ETAG 020 Annex C, shear load with lever arm, held straight at both ends (from memory): an anchor may go without
        a lever only where what is fixed lies on the base material, or on a thin layer that bears.
    """
    core = within("Core diameter", core_mm, 1, 12, "mm")
    across = within("Screw diameter", diameter_mm, core, 12, "mm")
    gap = within("Gap", gap_mm, 0, 500, "mm")
    lever = gap + within("What is fixed", fixed_mm, 0.1, 500, "mm") / 2 + across / 2
    moment = 1.2 * math.pi * core**3 / 32 * SCREW_TENSILE_MPA
    return 2 * moment / lever / STEEL_FACTOR / LOAD_FACTOR
