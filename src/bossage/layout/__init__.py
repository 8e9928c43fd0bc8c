"""Where every block sits, on which leaf, and how the piece stands on the wall."""

from __future__ import annotations

from bossage.layout.planner import plan_layout
from bossage.layout.records import Layout, NoLayout
from bossage.layout.sizes import Candidate, candidate_sizes, own_size
from bossage.layout.split import Split, smallest_split, too_large
from bossage.layout.suggest import Change, NoHeal, smallest_move, smallest_resize
from bossage.layout.tiling import find_tilings, near_tilings, tilings_in_words

__all__ = [
    "Candidate",
    "Change",
    "Layout",
    "NoHeal",
    "NoLayout",
    "Split",
    "candidate_sizes",
    "find_tilings",
    "near_tilings",
    "own_size",
    "plan_layout",
    "smallest_move",
    "smallest_resize",
    "smallest_split",
    "tilings_in_words",
    "too_large",
]
