"""Gluing and pressing: cards a row, shims, batches, hours."""

from __future__ import annotations

from bossage.press.records import Press
from bossage.press.stage import plan_press

__all__ = ["Press", "plan_press"]
