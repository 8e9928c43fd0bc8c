"""How hanging says lengths, masses, forces and checks to a maker."""

from __future__ import annotations

from bossage.brief.records import Brief, LengthUnit
from bossage.checks import CheckWriter
from bossage.hang.statics import mass_of_g
from bossage.units import format_length, format_mass

DEFER = "local codes and licensed practice govern"


class Voice(CheckWriter):
    """Builds the checks of hanging in the unit of one piece."""

    stage = "hang"

    def __init__(self, brief: Brief) -> None:
        self.unit = brief.piece.unit

    def say(self, nm: int) -> str:
        """A length in the piece's unit."""
        return format_length(nm, self.unit, denominator=64, decimals=1)

    def mass(self, g: float) -> str:
        """A mass in the piece's unit."""
        return format_mass(g, self.unit)

    def force(self, n: float) -> str:
        """A force, in newtons beside millimetres and in pounds beside inches; in metric with what scales would show."""
        if self.unit is LengthUnit.IN:
            return f"{mass_of_g(n) / 453.59237:.1f} lbf"
        return f"{n:.0f} N ({format_mass(mass_of_g(n), self.unit)})"
