"""The level of every block: no two neighbours alike, counts exact, random to the eye; or a proof that it cannot be."""

from __future__ import annotations

from bossage.relief.records import NoRelief, QuotaGroup, Relief
from bossage.relief.stage import height_problem, plan_relief

__all__ = ["NoRelief", "QuotaGroup", "Relief", "height_problem", "plan_relief"]
