"""Lifting by itself: the revised NIOSH equation in both printed forms. Knows nothing of a relief."""

from __future__ import annotations

from bossage.handling.lifting import (
    LEAVES_OUT,
    Coupling,
    Lift,
    System,
    frequency_multiplier,
    lift_metric,
    lift_us,
    lifting_index,
)
from bossage.handling.reach import hands_out

__all__ = [
    "LEAVES_OUT",
    "Coupling",
    "Lift",
    "System",
    "frequency_multiplier",
    "hands_out",
    "lift_metric",
    "lift_us",
    "lifting_index",
]
