"""How much of each paint, and the work on edges and faces before it."""

from __future__ import annotations

from bossage.paint.stage import plan_paint

__all__ = ["plan_paint"]
