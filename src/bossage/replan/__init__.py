"""The shop disagrees with the plan: what is glued stays, what is in the trays is used, as little as can be changes."""

from __future__ import annotations

from bossage.replan.mend import mend
from bossage.replan.records import Glued, Mended, NoMend, Shop, Standing, Taken, TrayCount
from bossage.replan.standing import CannotStand, standing_of, standing_of_json

__all__ = [
    "CannotStand",
    "Glued",
    "Mended",
    "NoMend",
    "Shop",
    "Standing",
    "Taken",
    "TrayCount",
    "mend",
    "standing_of",
    "standing_of_json",
]
