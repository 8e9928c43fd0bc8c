"""How much of each paint, and the work on edges and faces before it."""

from __future__ import annotations

from bossage.paint.records import Paint
from bossage.paint.stage import plan_paint

__all__ = ["Paint", "plan_paint"]
