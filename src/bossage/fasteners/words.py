"""Forces and stresses as a shop reads them beside millimetres and beside inches."""

from __future__ import annotations

from bossage.fasteners.units import LBF_N, PSI_MPA


def force_words(force_n: float, unit: str) -> str:
    """`123 N`, or `27.7 lbf` beside inches."""
    if unit == "in":
        lbf = force_n / LBF_N
        return f"{lbf:,.1f} lbf" if abs(lbf) < 1000 else f"{lbf:,.0f} lbf"
    return f"{force_n:,.1f} N" if abs(force_n) < 10 else f"{force_n:,.0f} N"


def stress_words(stress_mpa: float, unit: str) -> str:
    """`0.37 MPa`, or `54 psi` beside inches."""
    if unit == "in":
        psi = stress_mpa / PSI_MPA
        return f"{psi:,.1f} psi" if abs(psi) < 10 else f"{psi:,.0f} psi"
    return f"{stress_mpa:.2f} MPa" if abs(stress_mpa) < 10 else f"{stress_mpa:.1f} MPa"
