"""The saw: which length out of which stick and sheet, in which order of settings, and what is left."""

from __future__ import annotations

from bossage.saw.boards.places import most_per_sheet
from bossage.saw.boards.plan import plan_sheets
from bossage.saw.boards.records import (
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
from bossage.saw.checks import board_cure_words, cure_words, thinnest_nm
from bossage.saw.job.numbers import clear_spans, usable_nm
from bossage.saw.job.records import (
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
from bossage.saw.parts import numbered
from bossage.saw.records import (
    BevelRip,
    BoardCut,
    BoardLeft,
    LengthCut,
    Saw,
    SawnNotches,
    SawnOpenings,
    SectionCut,
    ShortStrip,
    SliceRow,
    StickLeft,
)
from bossage.saw.section_cuts import ends_of_bought_nm
from bossage.saw.short_parts import shorter_than_hands
from bossage.saw.stage import plan_saw
from bossage.saw.sticks.advise import plan_sticks
from bossage.saw.sticks.runs import Run, runs_of

__all__ = [
    "BevelRip",
    "BoardCut",
    "BoardLeft",
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
    "SawnNotches",
    "SawnOpenings",
    "SectionCut",
    "Setting",
    "SheetCut",
    "SheetJob",
    "SheetOffcut",
    "SheetPlan",
    "SheetShortfall",
    "SheetStock",
    "ShortStrip",
    "Shortfall",
    "Slice",
    "SliceRow",
    "StickLeft",
    "StickStock",
    "TimeModel",
    "board_cure_words",
    "clear_spans",
    "cure_words",
    "ends_of_bought_nm",
    "most_per_sheet",
    "numbered",
    "plan_saw",
    "plan_sheets",
    "plan_sticks",
    "runs_of",
    "shorter_than_hands",
    "thinnest_nm",
    "usable_nm",
]
