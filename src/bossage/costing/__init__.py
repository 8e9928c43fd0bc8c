"""Shopping list, hours and price."""

from __future__ import annotations

from bossage.costing.records import Cost, Quote, ShoppingLine, StepHours, materials_words
from bossage.costing.stage import plan_cost

__all__ = ["Cost", "Quote", "ShoppingLine", "StepHours", "materials_words", "plan_cost"]
