"""How the layout says lengths, areas and checks to a maker."""

from __future__ import annotations

from bossage.brief.records import Brief
from bossage.checks import CheckWriter
from bossage.units import NM_PER_MM, format_area, format_length


def mm(value: float) -> int:
    """Nanometres of a length in millimetres."""
    return round(value * NM_PER_MM)


class Voice(CheckWriter):
    """Builds the layout's checks with lengths in the unit of one piece."""

    stage = "layout"

    def __init__(self, brief: Brief) -> None:
        self.unit = brief.piece.unit

    def say(self, nm: int) -> str:
        """A length in the piece's unit."""
        return format_length(nm, self.unit, denominator=64, decimals=2)

    def say_area(self, nm2: int) -> str:
        """An area in the piece's unit."""
        return format_area(nm2, self.unit)
