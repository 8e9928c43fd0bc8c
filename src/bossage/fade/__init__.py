"""The colours over the piece, and the count table."""

from __future__ import annotations

from bossage.fade.records import CountRow, Fade, GroundColour, Shade
from bossage.fade.stage import plan_fade

__all__ = ["CountRow", "Fade", "GroundColour", "Shade", "plan_fade"]
