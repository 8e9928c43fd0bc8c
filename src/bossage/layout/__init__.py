"""Where every block sits, on which leaf, and how the piece stands on the wall."""

from __future__ import annotations

from bossage.layout.planner import plan_layout
from bossage.layout.records import Layout, NoLayout

__all__ = ["Layout", "NoLayout", "plan_layout"]
