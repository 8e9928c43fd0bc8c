"""Screws into the thin steel of a metal stud: AISI S100 section E4. Allowable-stress values for one screw."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from bossage.errors import BossageError
from bossage.fasteners.units import PSI_MPA
from bossage.ranges import within
from bossage.tables import is_from_memory, table_rows

SAFETY = 3.0
"""Omega of AISI S100 section E4 (read as quoted in ICC-ES evaluation reports)."""

TENSILE_MPA = 45_000 * PSI_MPA
"""Tensile strength F_u of studs of 33 ksi yield: 45 ksi, 310 MPa (ASTM A1003 grade 33, from memory)."""


class UnknownStud(BossageError):
    """No such gauge of metal stud in the table."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalStud:
    """One thickness of metal stud, as its maker and the trade call it."""

    name: str  # "25 ga", "0.6 mm"
    thickness_mm: float  # of bare steel, for design
    tensile_mpa: float
    source: str
    from_memory: bool


@cache
def metal_studs() -> tuple[MetalStud, ...]:
    """All thicknesses of the table, thinnest first."""
    return tuple(
        MetalStud(
            name=row["name"],
            thickness_mm=float(row["thickness_mm"]),
            tensile_mpa=float(row["tensile_mpa"]),
            source=row["source"],
            from_memory=is_from_memory(row),
        )
        for row in table_rows("bossage.fasteners", "metal_studs.csv")
    )


def metal_stud(name: str) -> MetalStud:
    """The stud of that name; `UnknownStud` names those that are listed."""
    found = [stud for stud in metal_studs() if stud.name == name]
    if not found:
        listed = ", ".join(stud.name for stud in metal_studs())
        raise UnknownStud(f"There is no metal stud '{name}' in the table. Listed are {listed}.")
    return found[0]


def steel_pull_out_n(thickness_mm: float, diameter_mm: float, tensile_mpa: float = TENSILE_MPA) -> float:
    """Allowable pull that draws the thread of a self-drilling screw out of thin steel.

    Args:
        thickness_mm: Bare steel t_c that the thread engages, 0.3 to 3 mm.
        diameter_mm: Nominal screw diameter d, 2 to 6.4 mm.
        tensile_mpa: F_u2 of that steel, 200 to 600 MPa.

    Returns:
        0.85 t_c d F_u2 over 3.0, newtons.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        The screw breaking, the stud twisting open between its tracks, threads stripped by a fast driver.

    Source:
        AISI S100-12 Eq. E4.4.1-1 (from memory); agrees with ICC-ES ESR-1976 Table 2 (read), see the tests.
    """
    t, d, F_u = _steel(thickness_mm, diameter_mm, tensile_mpa)
    return 0.85 * t * d * F_u / SAFETY


def steel_shear_n(thickness_mm: float, diameter_mm: float, tensile_mpa: float = TENSILE_MPA) -> float:
    """Allowable shear by which a screw tilts in thin steel or bears it out.

    Args:
        thickness_mm: Bare steel of the stud, 0.3 to 3 mm.
        diameter_mm: Nominal screw diameter, 2 to 6.4 mm.
        tensile_mpa: Its F_u, 200 to 600 MPa.

    Returns:
        The lesser of 4.2 (t³ d)^½ F_u and 2.7 t d F_u, over 3.0, newtons.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        What lies under the head: wood there bears by its own equations, and wallboard between is a gap that bends the
        screw; take the lesser of all.

    Source:
        AISI S100-12 Eq. E4.3.1-1 and E4.3.1-3 (from memory).
    """
    t, d, F_u = _steel(thickness_mm, diameter_mm, tensile_mpa)
    return min(4.2 * math.sqrt(t**3 * d), 2.7 * t * d) * F_u / SAFETY


def _steel(thickness_mm: float, diameter_mm: float, tensile_mpa: float) -> tuple[float, float, float]:
    return (
        within("Thickness of the steel", thickness_mm, 0.3, 3, "mm"),
        within("Screw diameter", diameter_mm, 2, 6.4, "mm"),
        within("Tensile strength", tensile_mpa, 200, 600, "MPa"),
    )
