"""What a maker could change so that a check is content: small changes of the brief, tried before they are offered."""

from __future__ import annotations

from bossage.remedies.healing import Heals, healing

__all__ = ["Heals", "healing"]
