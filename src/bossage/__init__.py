"""bossage: from a tape measure on the wall to a relief that hangs, hides and comes off."""

from __future__ import annotations

__version__ = "0.1.0"
