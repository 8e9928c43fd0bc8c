"""How hanging says lengths, masses, forces and checks to a maker."""

from __future__ import annotations

import re

from bossage.brief.records import Brief, LengthUnit
from bossage.checks import CheckWriter
from bossage.fasteners import force_words, screw_words, stress_words
from bossage.hang.statics import mass_of_g
from bossage.units import NM_PER_MM, format_length, format_mass

DEFER = "local codes and licensed practice govern"


class Voice(CheckWriter):
    """Builds the checks of hanging in the unit of one piece."""

    stage = "hang"

    def __init__(self, brief: Brief) -> None:
        self.unit = brief.piece.unit

    def say(self, nm: int) -> str:
        """A length in the piece's unit."""
        return format_length(nm, self.unit, denominator=64, decimals=1)

    def screw(self, gauge: str, length_nm: int) -> str:
        """A screw as a shop asks for it."""
        return screw_words(gauge, length_nm, self.unit)

    def mass(self, g: float) -> str:
        """A mass in the piece's unit."""
        return format_mass(g, self.unit)

    def stress(self, mpa: float) -> str:
        """A stress in the piece's unit."""
        return stress_words(mpa, self.unit)

    def area(self, mm2: float) -> str:
        """An area of glue or of bearing, in the piece's unit."""
        return f"{mm2 / 25.4**2:,.1f} in²" if self.unit is LengthUnit.IN else f"{mm2:,.0f} mm²"

    def mm(self, mm: float) -> str:
        """A length given in millimetres, in the piece's unit."""
        return self.say(round(mm * NM_PER_MM))

    def bare_force(self, n: float) -> str:
        """A force in the piece's unit, without the mass that weighs as much."""
        return force_words(n, self.unit)

    def retold(self, text: str) -> str:
        """What a science said, which speaks millimetres, in the piece's unit."""
        if self.unit is LengthUnit.MM:
            return text
        return re.sub(r"(\d+(?:\.\d+)?) mm\b", lambda found: self.mm(float(found[1])), text)

    def force(self, n: float) -> str:
        """A force, in newtons beside millimetres and in pounds beside inches; in metric with what scales would show."""
        if self.unit is LengthUnit.IN:
            return force_words(n, self.unit)
        return f"{n:.0f} N ({format_mass(mass_of_g(n), self.unit)})"
