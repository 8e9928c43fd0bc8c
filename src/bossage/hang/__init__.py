"""Mass, load path, positions and lifting: what keeps the piece on the wall and how it comes off."""

from __future__ import annotations

from bossage.hang.fastened import fasten
from bossage.hang.hinge_records import HingePlan, HingePoint, StayPlan
from bossage.hang.records import (
    BowedHold,
    CleatPiece,
    CleatPlan,
    Factor,
    FixingToBuy,
    FootSpacer,
    Hang,
    LeafHang,
    LeafMass,
    Lifting,
    LiftOffRoom,
    Link,
    MassPart,
    PanelFixing,
    PanelScrew,
    StudMet,
    StudMissed,
    WindowPlan,
)
from bossage.hang.stage import plan_hang
from bossage.hang.standing import standing_of
from bossage.hang.standing_records import Handling, Moved, Standing
from bossage.hang.wall_records import FixingPoint

__all__ = [
    "BowedHold",
    "CleatPiece",
    "CleatPlan",
    "Factor",
    "FixingPoint",
    "FixingToBuy",
    "FootSpacer",
    "Handling",
    "Hang",
    "HingePlan",
    "HingePoint",
    "LeafHang",
    "LeafMass",
    "LiftOffRoom",
    "Lifting",
    "Link",
    "MassPart",
    "Moved",
    "PanelFixing",
    "PanelScrew",
    "Standing",
    "StayPlan",
    "StudMet",
    "StudMissed",
    "WindowPlan",
    "fasten",
    "plan_hang",
    "standing_of",
]
