"""How the body says lengths and checks to a maker."""

from __future__ import annotations

from bossage.layout.words import Voice as LayoutVoice


class Voice(LayoutVoice):
    """Builds the body's checks with lengths in the unit of one piece."""

    stage = "body"
