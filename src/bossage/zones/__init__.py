"""Where nothing is drilled: parts of the wall behind which cables, pipes and ducts run or may run."""

from __future__ import annotations

from bossage.zones.reach import clear_nm, free_spans, free_studs, heeded, less, nearest_zone, stud_takers
from bossage.zones.records import LEAST_CLEAR_NM, Zone
from bossage.zones.rules import STUD_REACH_NM, zones_of

__all__ = [
    "LEAST_CLEAR_NM",
    "STUD_REACH_NM",
    "Zone",
    "clear_nm",
    "free_spans",
    "free_studs",
    "heeded",
    "less",
    "nearest_zone",
    "stud_takers",
    "zones_of",
]
