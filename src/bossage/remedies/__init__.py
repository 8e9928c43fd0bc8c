"""What a maker could change so that a check is content: small changes of the brief, tried before they are advised."""

from __future__ import annotations

from bossage.remedies.advise import advised

__all__ = ["advised"]
