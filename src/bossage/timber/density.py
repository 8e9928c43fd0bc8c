"""From specific gravity to density and mass. Four bases are in use and must never be mixed; the names say which."""

from __future__ import annotations

from bossage.ranges import within

FIBRE_SATURATION_PCT = 30.0
"""Moisture above which the density rules treat wood as green (Wood Handbook ch. 4)."""


def specific_gravity_from_basic(basic_gravity: float, moisture_pct: float) -> float:
    """Specific gravity at a moisture content (oven-dry mass, volume at that moisture) from basic gravity.

    Args:
        basic_gravity: Oven-dry mass over green volume, relative to water, 0.1 to 1.2.
        moisture_pct: Moisture content, 0 to 30 %.

    Returns:
        Specific gravity on the volume at `moisture_pct`.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        The species' own shrinkage: 26.5 times basic gravity stands for the volumetric one. It misses printed 12 %
        values by up to 0.033 (basswood); prefer a tabulated value.

    Source:
        Wood Handbook FPL-GTR-190 (2010) ch. 4; FPL-GTR-76 (1993). From memory.
    """
    G_b = within("Basic specific gravity", basic_gravity, 0.1, 1.2, "(ratio)")
    x = within("Moisture content", moisture_pct, 0, FIBRE_SATURATION_PCT, "%")
    S_x = 26.5 * G_b * (1 - x / FIBRE_SATURATION_PCT)
    return G_b / (1 - S_x / 100)


def density_kg_m3(specific_gravity: float, moisture_pct: float) -> float:
    """Density at a moisture content, from the specific gravity on the volume at that same moisture.

    Args:
        specific_gravity: Oven-dry mass over volume at `moisture_pct`, 0.1 to 1.4.
        moisture_pct: Moisture content, 0 to 200 %.

    Returns:
        Mass of wood and water over volume, kg/m³.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        The spread within a species, about 10 % either way.

    Source:
        Wood Handbook FPL-GTR-190 (2010) ch. 4, density section (read).
    """
    G_x = within("Specific gravity", specific_gravity, 0.1, 1.4, "(ratio)")
    x = within("Moisture content", moisture_pct, 0, 200, "%")
    return 1000 * G_x * (1 + x / 100)


def design_density_kg_m3(ovendry_gravity: float, moisture_pct: float) -> float:
    """Density at a moisture content, from the oven-dry gravity that the NDS assigns to a group.

    Args:
        ovendry_gravity: Oven-dry mass over oven-dry volume, 0.1 to 1.4.
        moisture_pct: Moisture content, 0 to 30 %.

    Returns:
        Mass of wood and water over volume, kg/m³.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        The spread within the group.

    Source:
        NDS Supplement 2018 3.1.3 (equation read, clause number from memory); its 62.4 lb/ft³ is 1000 kg/m³.
    """
    G = within("Oven-dry specific gravity", ovendry_gravity, 0.1, 1.4, "(ratio)")
    m = within("Moisture content", moisture_pct, 0, FIBRE_SATURATION_PCT, "%")
    return 1000 * G / (1 + 0.009 * G * m) * (1 + m / 100)


def ovendry_gravity_from_density(density_12pct_kg_m3: float) -> float:
    """The design density equation turned round at 12 % moisture: oven-dry gravity of a wood that the NDS does not list.

    Args:
        density_12pct_kg_m3: Mean density at 12 % moisture, 100 to 1300 kg/m³.

    Returns:
        Oven-dry mass over oven-dry volume, rounded down to 0.01 so that no screw is credited with more wood.

    Raises:
        OutOfRange: The density lies outside its range.

    Leaves out:
        That the NDS tests its groups: this is our reading of its equation, not an assigned value.

    Source:
        NDS Supplement 2018 3.1.3, solved for G.
    """
    rho = within("Density", density_12pct_kg_m3, 100, 1300, "kg/m³")
    r = rho / 1120
    G = r / (1 - 0.009 * 12 * r)
    return int(G * 100 + 1e-9) / 100


def mass_g(volume_mm3: float, density: float) -> float:
    """Mass in grams of a volume in mm³ at a density in kg/m³ (one kg/m³ is a millionth of a gram per mm³)."""
    return volume_mm3 * density * 1e-6
