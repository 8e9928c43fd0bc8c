"""Which screw goes into a wall, by all that it passes before the stud or the masonry: gauge and length as sold."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.errors import BossageError
from bossage.fasteners.factors import LEAST_PENETRATION_DIAMETERS
from bossage.fasteners.gauges import WoodScrew, shank_mm, wood_screw
from bossage.fasteners.holes import NoPlug, Plug, plug_for, plug_screw_least_mm
from bossage.fasteners.lengths import MOST_IN_STUD_NM, longest_sold_nm, shortest_sold_nm
from bossage.fasteners.metric import metric_wood_screw
from bossage.units import NM_PER_IN, NM_PER_MM

#: What the shops of a unit sell as stout wood screws, thickest first; common practice, no source.
WALL_GAUGES = {"mm": ("5 mm", "4.5 mm", "4 mm"), "in": ("#10", "#8")}

USUAL_NM = {"mm": 80 * NM_PER_MM, "in": 3 * NM_PER_IN}
"""Reaches about 38 mm (1-1/2 in) into a stud through a cleat and board; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WallScrew:
    """Gauge as a brief writes it, and length under the head."""

    gauge: str
    length_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Passed:
    """What a wall screw passes before it takes hold: the wall half, packers behind it, board or plaster."""

    cleat_nm: int
    packers_nm: int
    covering_nm: int

    @property
    def whole_nm(self) -> int:
        """All of it."""
        return self.cleat_nm + self.packers_nm + self.covering_nm


def named_screw(gauge: str) -> WoodScrew:
    """The wood screw that a brief names: `#10`, or `5 mm`.

    Raises:
        BossageError: The tables do not list such a screw.
    """
    return wood_screw(int(gauge[1:])) if gauge.startswith("#") else metric_wood_screw(shank_mm(gauge))


def stud_screw(passed: Passed, unit: str, *, seen: bool, gauge: str | None, wood: bool = True) -> WallScrew:
    """The screw for a stud: the usual one, or the stoutest that holds where nobody has looked into the stud.

    Args:
        passed: What lies before the stud.
        unit: `mm` or `in`: whose shelf.
        seen: Whether somebody looked into the studs, so that the screw may go as deep as it likes.
        gauge: The brief's own; None where it is left open.
        wood: Whether it is a wood screw, which has to go six diameters deep.

    Returns:
        As sold. Where none both holds and ends within what is safe, the usual length: the margins then say so.
    """
    for one in (gauge,) if gauge else WALL_GAUGES[unit]:
        length = _stud_length_nm(passed, unit, one, seen=seen, wood=wood)
        if length is not None:
            return WallScrew(gauge=one, length_nm=length)
    return WallScrew(gauge=gauge or WALL_GAUGES[unit][0], length_nm=_usual_nm(passed, unit))


def plug_screw(passed: Passed, unit: str, gauge: str) -> WallScrew:
    """The screw for a plug in masonry: through all that it passes and the plug, one diameter past its end."""
    plug = plug_or_none(gauge, unit)
    if plug is None:
        return WallScrew(gauge=gauge, length_nm=_usual_nm(passed, unit))
    least = plug_least_nm(passed, plug, gauge)
    return WallScrew(gauge=gauge, length_nm=shortest_sold_nm(least, unit) or _usual_nm(passed, unit))


def hollow_screw(passed: Passed, unit: str, gauge: str) -> WallScrew:
    """The screw of a hollow-wall fixing: the usual length, longer by any packers."""
    return WallScrew(gauge=gauge, length_nm=_usual_nm(passed, unit))


def plug_or_none(gauge: str, unit: str) -> Plug | None:
    """The plug on the shelf of a unit that a screw spreads; None where no table knows one."""
    try:
        return plug_for(shank_mm(gauge), unit)
    except NoPlug:
        return None


def plug_least_nm(passed: Passed, plug: Plug, gauge: str) -> int:
    """Least length of a plug's screw under its head."""
    fixed_mm = (passed.cleat_nm + passed.packers_nm) / NM_PER_MM
    return round(plug_screw_least_mm(plug, fixed_mm, passed.covering_nm / NM_PER_MM, shank_mm(gauge)) * NM_PER_MM)


def _usual_nm(passed: Passed, unit: str) -> int:
    wanted = USUAL_NM[unit] + passed.packers_nm
    return shortest_sold_nm(wanted, unit) or wanted


def _stud_length_nm(passed: Passed, unit: str, gauge: str, *, seen: bool, wood: bool) -> int | None:
    usual = _usual_nm(passed, unit)
    if seen:
        return usual
    most = min(usual, passed.whole_nm + MOST_IN_STUD_NM)
    if not wood:
        return longest_sold_nm(most, unit)
    try:
        least = round(LEAST_PENETRATION_DIAMETERS * named_screw(gauge).shank_mm * NM_PER_MM)
    except BossageError:
        return longest_sold_nm(most, unit)
    return longest_sold_nm(most, unit, least_nm=passed.whole_nm + least)
