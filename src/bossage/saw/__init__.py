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
from bossage.saw.runs import Run, runs_of
from bossage.saw.sheet_bench import most_per_sheet
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
from bossage.saw.sheets import plan_sheets
from bossage.saw.shop_records import BoardCut, LengthCut, Saw, SectionCut, SliceRow
from bossage.saw.stage import plan_saw
from bossage.saw.sticks import plan_sticks

__all__ = [
    "BoardCut",
    "Cure",
    "CutSheet",
    "CutStick",
    "FaultyJob",
    "Greedy",
    "Handling",
    "LengthCut",
    "Panel",
    "Patience",
    "Piece",
    "PlacedPanel",
    "Run",
    "Saw",
    "SawJob",
    "SawPlan",
    "SectionCut",
    "Setting",
    "SheetCut",
    "SheetJob",
    "SheetOffcut",
    "SheetPlan",
    "SheetShortfall",
    "SheetStock",
    "Shortfall",
    "Slice",
    "SliceRow",
    "StickStock",
    "TimeModel",
    "most_per_sheet",
    "plan_saw",
    "plan_sheets",
    "plan_sticks",
    "runs_of",
]
