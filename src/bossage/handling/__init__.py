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
from bossage.handling.places import Floor, Held, Place, Thing, in_the_way, places
from bossage.handling.reach import hands_out
from bossage.handling.team import ONE_PERSON_G, nobodys_g, wants_two

__all__ = [
    "LEAVES_OUT",
    "ONE_PERSON_G",
    "Coupling",
    "Floor",
    "Held",
    "Lift",
    "Place",
    "System",
    "Thing",
    "frequency_multiplier",
    "hands_out",
    "in_the_way",
    "lift_metric",
    "lift_us",
    "lifting_index",
    "nobodys_g",
    "places",
    "wants_two",
]
