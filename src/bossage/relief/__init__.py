"""The level of every block: no two neighbours alike, counts exact, random to the eye; or a proof that it cannot be."""

from __future__ import annotations

from bossage.relief.change.tray_flow import NEW, NOT_TAKEN, Trays
from bossage.relief.change.trays import Laid, lay_from_trays
from bossage.relief.places import at_outline
from bossage.relief.problem.records import FREE, Effort, HeightProblem, NoField, Proof
from bossage.relief.records import NoRelief, QuotaGroup, Relief
from bossage.relief.stage import height_problem, plan_relief

__all__ = [
    "FREE",
    "NEW",
    "NOT_TAKEN",
    "Effort",
    "HeightProblem",
    "Laid",
    "NoField",
    "NoRelief",
    "Proof",
    "QuotaGroup",
    "Relief",
    "Trays",
    "at_outline",
    "height_problem",
    "lay_from_trays",
    "plan_relief",
]
