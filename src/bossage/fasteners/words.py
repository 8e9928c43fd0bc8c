"""Forces and stresses as a shop reads them beside millimetres and beside inches."""

from __future__ import annotations

from bossage.fasteners.units import LBF_N, PSI_MPA
from bossage.units import NM_PER_MM, format_length


def force_words(force_n: float, unit: str) -> str:
    """`123 N`, or `27.7 lbf` beside inches."""
    if unit == "in":
        lbf = force_n / LBF_N
        return f"{lbf:,.1f} lbf" if abs(lbf) < 1000 else f"{lbf:,.0f} lbf"
    return f"{force_n:,.1f} N" if abs(force_n) < 10 else f"{force_n:,.0f} N"


def stress_words(stress_mpa: float, unit: str) -> str:
    """`0.37 MPa`, or `54 psi` beside inches; two figures of what is small."""
    if unit == "in":
        psi = stress_mpa / PSI_MPA
        if abs(psi) < 1:
            return f"{psi:.2g} psi"
        return f"{psi:,.1f} psi" if abs(psi) < 10 else f"{psi:,.0f} psi"
    if 0 < abs(stress_mpa) < 0.1:
        return f"{stress_mpa:.2g} MPa"
    return f"{stress_mpa:.2f} MPa" if abs(stress_mpa) < 10 else f"{stress_mpa:.1f} MPa"


def screw_words(gauge: str, length_nm: int, unit: str) -> str:
    """A screw as a shop asks for it: `4 × 40 mm`, or `#8 × 1-1/2 in`."""
    metric = gauge.removesuffix("mm").strip() if unit == "mm" else gauge
    return f"{metric} × {format_length(length_nm, unit, denominator=64)}"


def drill_words(across_mm: float, unit: str) -> str:
    """A drill as it is sold: `2.5 mm`, or `5/64 in`."""
    return format_length(round(across_mm * NM_PER_MM), unit, denominator=64)
