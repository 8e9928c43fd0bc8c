"""The saw: which length out of which stick and sheet, in which order of settings, and what is left."""

from __future__ import annotations

from bossage.saw.records import (
    Cure,
    CutStick,
    FaultyJob,
    Greedy,
    Handling,
    Patience,
    Piece,
    SawJob,
    SawPlan,
    Setting,
    Shortfall,
    Slice,
    StickStock,
    TimeModel,
)
from bossage.saw.sheet_records import (
    CutSheet,
    Panel,
    PlacedPanel,
    SheetCut,
    SheetJob,
    SheetOffcut,
    SheetPlan,
    SheetShortfall,
    SheetStock,
)
from bossage.saw.sheets import most_per_sheet, plan_sheets
from bossage.saw.sticks import plan_sticks

__all__ = [
    "Cure",
    "CutSheet",
    "CutStick",
    "FaultyJob",
    "Greedy",
    "Handling",
    "Panel",
    "Patience",
    "Piece",
    "PlacedPanel",
    "SawJob",
    "SawPlan",
    "Setting",
    "SheetCut",
    "SheetJob",
    "SheetOffcut",
    "SheetPlan",
    "SheetShortfall",
    "SheetStock",
    "Shortfall",
    "Slice",
    "StickStock",
    "TimeModel",
    "most_per_sheet",
    "plan_sheets",
    "plan_sticks",
]
