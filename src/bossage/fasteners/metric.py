"""Metric wood screws: sizes on the shelf, their steel, and what draws them out by EN 1995-1-1 and DIN 1052."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bossage.fasteners.gauges import UnknownScrew, WoodScrew, screw_gauges, wood_screw
from bossage.fasteners.units import INCH_MM
from bossage.ranges import within
from bossage.tables import is_from_memory, table_rows

CORE_SHARE, HEAD_SHARE = 0.6, 2.0
"""Core and head of a wood screw over its diameter (DIN 7997, from memory), where the table does not list it."""

SAME_MM = 0.01
"""A 3.5 mm screw takes the steel of number 6 (3.505 mm): the difference is below any maker's tolerance."""

K_MOD_PERMANENT = {"osb": 0.4, "particleboard": 0.3, "mdf": 0.2}
"""Boards under a permanent load, indoors: EN 1995-1-1 Table 3.1 (from memory)."""

K_MOD_WOOD = 0.6
"""Solid timber and plywood, permanent load, indoors: EN 1995-1-1 Table 3.1 (from memory)."""

GAMMA_M = 1.3
"""Connections: EN 1995-1-1 Table 2.3 (from memory)."""

GAMMA_G = 1.35
"""Permanent load: EN 1990 (from memory). Taken off here, so that an allowable is held against a plain weight."""

DIN_DENSEST_KG_M3 = 500.0
"""Denser wood counts as this in the values of DIN 1052 (12.8.2, from memory)."""

EC5_LEAST_MM = 6.0
"""Below, Eq. 8.38 of EN 1995-1-1 does not hold: the value of DIN 1052 is taken."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MetricScrew:
    """One diameter of countersunk wood screw with the lengths that it is sold in."""

    diameter_mm: float
    core_mm: float
    head_mm: float
    lengths_mm: tuple[float, ...]
    source: str
    from_memory: bool


@cache
def metric_screws() -> tuple[MetricScrew, ...]:
    """All diameters of the table, thinnest first."""
    return tuple(
        MetricScrew(
            diameter_mm=float(row["diameter_mm"]),
            core_mm=float(row["core_mm"]),
            head_mm=float(row["head_mm"]),
            lengths_mm=tuple(float(length) for length in row["lengths_mm"].split()),
            source=row["source"],
            from_memory=is_from_memory(row),
        )
        for row in table_rows("bossage.fasteners", "metric_screws.csv")
    )


def metric_screw(diameter_mm: float) -> MetricScrew:
    """The screw of that diameter; `UnknownScrew` names those that are sold."""
    found = [screw for screw in metric_screws() if screw.diameter_mm == diameter_mm]
    if not found:
        sold = ", ".join(f"{screw.diameter_mm:g}" for screw in metric_screws())
        raise UnknownScrew(f"There is no wood screw of {diameter_mm:g} mm on the shelf. Sold are {sold} mm.")
    return found[0]


def metric_wood_screw(diameter_mm: float) -> WoodScrew:
    """A metric wood screw as the yield equations take it: its own diameter, core and head.

    Args:
        diameter_mm: Thread diameter that it is sold by, 3.5 to 12 mm.

    Returns:
        The screw. `gauge` is the thickest number that is not thicker, whose bending yield strength it takes.

    Raises:
        OutOfRange: The screw is thinner than the thinnest listed number, or thicker than 12 mm.

    Leaves out:
        Hardening, which makes most metric screws stronger than that.

    Source:
        Core and head: `data/metric_screws.csv`, else `CORE_SHARE` and `HEAD_SHARE`. Its core is thinner than that of
        the numbered screw of the same thread, and a bent screw goes by the third power of it. Bending yield strength:
        NDS 2018 Table I1, by diameter.
    """
    hint = "Use a thicker screw, or the maker's own figures."
    d_mm = within("Screw diameter", diameter_mm, 3.5, 12, "mm", hint)
    like = [screw for screw in map(wood_screw, screw_gauges()) if screw.shank_mm <= d_mm + SAME_MM][-1]
    sold = next((screw for screw in metric_screws() if screw.diameter_mm == d_mm), None)
    core_mm, head_mm = (sold.core_mm, sold.head_mm) if sold else (CORE_SHARE * d_mm, HEAD_SHARE * d_mm)
    return WoodScrew(
        gauge=like.gauge,
        D_in=d_mm / INCH_MM,
        D_r_in=core_mm / INCH_MM,
        D_H_in=head_mm / INCH_MM,
        F_yb_psi=like.F_yb_psi,
        source=f"DIN 7997; bending yield strength by diameter: {like.source}",
        from_memory=True,
    )


def screw_name(diameter_mm: float, length_mm: float) -> str:
    """What to ask for: `5 × 60`."""
    return f"{diameter_mm:g} × {length_mm:g}"


def characteristic_density_kg_m3(mean_12pct_kg_m3: float) -> float:
    """Fifth percentile by the mean: five sixths, as C24 has 350 by 420 (EN 338, from memory)."""
    return within("Density", mean_12pct_kg_m3, 200, 1200, "kg/m³") * 5 / 6


def metric_withdrawal_n(diameter_mm: float, thread_mm: float, density_k_kg_m3: float) -> float:
    """Characteristic withdrawal of one screw from side grain.

    Args:
        diameter_mm: Outer thread diameter d, 3.5 to 12 mm.
        thread_mm: Thread in the wood without its tip, l_ef, 1 to 300 mm.
        density_k_kg_m3: Characteristic density, 250 to 700 kg/m³.

    Returns:
        Newtons. From 6 mm on Eq. 8.38 with 8.39; thinner ones by DIN 1052, which needs no test of the product.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Threads other than wood screw threads of DIN 7998, which makers have tested and mostly hold more.

    Source:
        EN 1995-1-1:2004+A1:2008 8.7.2(4): f_ax = 0.52 d^-0.5 l_ef^-0.1 rho^0.8, k_d = d/8 at most 1. DIN 1052:2008
        12.8.2, class 2: f_1 = 70e-6 rho² up to 500 kg/m³. Both from memory.
    """
    d = within("Screw diameter", diameter_mm, 3.5, 12, "mm")
    l_ef = within("Thread in the wood", thread_mm, 1, 300, "mm")
    rho = within("Characteristic density", density_k_kg_m3, 250, 700, "kg/m³")
    by_class: float = 70e-6 * min(rho, DIN_DENSEST_KG_M3) ** 2
    if d < EC5_LEAST_MM:
        return by_class * d * l_ef
    f_ax: float = 0.52 * d**-0.5 * l_ef**-0.1 * rho**0.8
    return f_ax * min(d / 8, 1.0) * d * l_ef


def metric_head_n(head_mm: float, density_k_kg_m3: float) -> float:
    """Characteristic load that draws a countersunk head through wood or plywood of 20 mm or more.

    Args:
        head_mm: Head diameter, 4 to 25 mm.
        density_k_kg_m3: Characteristic density, 250 to 700 kg/m³.

    Returns:
        f_2 d_k², newtons.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Thinner parts: between 12 and 20 mm DIN 1052 takes 8 N/mm², and 400 N at most below that.

    Source:
        DIN 1052:2008 12.8.2, class A: f_2 = 60e-6 rho² (from memory).
    """
    d_k = within("Head diameter", head_mm, 4, 25, "mm")
    rho = within("Characteristic density", density_k_kg_m3, 250, 700, "kg/m³")
    return 60e-6 * min(rho, DIN_DENSEST_KG_M3) ** 2 * d_k**2


def allowed_share(material: str) -> float:
    """Allowable over characteristic under a load that never leaves, by the key of a wood or board; 0.34 for wood."""
    return K_MOD_PERMANENT.get(material, K_MOD_WOOD) / GAMMA_M / GAMMA_G


def metric_allowable_n(
    diameter_mm: float, thread_mm: float, density_12pct_kg_m3: float, *, material: str = ""
) -> float:
    """Allowable withdrawal of one screw under a load that never leaves, held against the plain weight.

    Args:
        diameter_mm: Outer thread diameter, 3.5 to 12 mm.
        thread_mm: Thread in the wood without its tip, 1 to 300 mm.
        density_12pct_kg_m3: Mean density of the wood at 12 %, 300 to 840 kg/m³.
        material: Key of the wood or board, by which a lasting load counts; wood where it is left out.

    Returns:
        Newtons: characteristic value times k_mod over the two partial factors.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        As `metric_withdrawal_n`; damp service (k_mod 0.5 outdoors). Boards of chips and fibres, for which neither
        equation was made: whoever asks for one takes the lesser of this and of the NDS.

    Source:
        EN 1995-1-1 2.4 and EN 1990, from memory.
    """
    rho = characteristic_density_kg_m3(density_12pct_kg_m3)
    return metric_withdrawal_n(diameter_mm, thread_mm, rho) * allowed_share(material)
