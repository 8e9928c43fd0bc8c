"""A caul as a beam: on two ends, and on as many clamps as it has, with ends that stand out past them.

Deflection with shear by the Wood Handbook, FPL-GTR-190 (2010) ch. 9, Eq. 9-2 and its table of factors (from memory):
k_b W L³ / (E I) + k_s W L / (G A'), with A' five sixths of the section and G a sixteenth of E.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from bossage.ranges import within

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Floats = npt.NDArray[np.float64]

SHEAR_OF_E = 1 / 16
SHEAR_AREA = 5 / 6

PARTS = 12
"""Elements between two clamps; they are exact at their ends, and the greatest deflection is looked for there."""

SHORTEST_MM = 1e-3
"""A clamp nearer than this to an end stands at the end: shorter elements only cost digits."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """A beam on clamps: how far it leaves a straight line, and what each clamp has to hold."""

    sag_mm: float
    held_n: tuple[float, ...]


def end_sag_mm(load_n: float, span_mm: float, modulus_mpa: float, breadth_mm: float, depth_mm: float) -> float:
    """Deflection in the middle of a beam that lies on its two ends under an even load, bending and shear.

    Args:
        load_n: The whole load, 0 N or more.
        span_mm: Between the supports, above 0 mm.
        modulus_mpa: Modulus of elasticity along the beam, above 0 MPa.
        breadth_mm: Its size across the load, above 0 mm.
        depth_mm: Its size along the load, above 0 mm.

    Returns:
        Millimetres.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Soft supports and a beam that was not straight to begin with.

    Source:
        Wood Handbook FPL-GTR-190 (2010) ch. 9, Eq. 9-2: k_b 5/384, k_s 1/8 (from memory).
    """
    W = within("Load", load_n, 0, 1e7, "N")
    L = within("Span", span_mm, 1e-3, 1e5, "mm")
    EI, GA = _stiffness(modulus_mpa, breadth_mm, depth_mm)
    return 5 / 384 * W * L**3 / EI + W * L / 8 / GA


def clamped_beam(
    load_n: float,
    length_mm: float,
    places_mm: tuple[float, ...],
    modulus_mpa: float,
    breadth_mm: float,
    depth_mm: float,
) -> Bent:
    """A straight beam under an even load, held level by clamps at some places, free to turn there.

    Args:
        load_n: The whole load, 0 N or more.
        length_mm: Of the beam, above 0 mm.
        places_mm: Clamps, from one end, in order; at least two, on the beam.
        modulus_mpa: Modulus of elasticity along the beam, above 0 MPa.
        breadth_mm: Its size across the load, above 0 mm.
        depth_mm: Its size along the load, above 0 mm.

    Returns:
        The greatest distance between the beam's line and the straight one, and the force at each clamp.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Clamps that are tightened unevenly, and the width of their pads.

    Source:
        Beam elements with shear (Timoshenko's beam); two supports give Eq. 9-2. Tests hold it against the equation of
        three moments and printed factors of continuous beams.
    """
    import numpy as np

    L = within("Length of the beam", length_mm, 1e-3, 1e5, "mm")
    w = within("Load", load_n, 0, 1e7, "N") / L
    EI, GA = _stiffness(modulus_mpa, breadth_mm, depth_mm)
    for place in places_mm:
        within("Place of a clamp", place, 0, L, "mm")
    within("Number of clamps", len(places_mm), 2, 1000, "clamps")
    stations = [0.0, *places_mm, L]
    parts = [np.linspace(a, b, PARTS + 1)[:-1] for a, b in pairwise(stations) if b - a > SHORTEST_MM]
    x = np.append(np.concatenate(parts), L)
    size = np.diff(x)
    K, F = np.zeros((2 * x.size, 2 * x.size)), np.zeros(2 * x.size)
    ends = 2 * np.arange(size.size)[:, None] + np.arange(4)  # deflection and slope at either end of each element
    np.add.at(K, (ends[:, :, None], ends[:, None, :]), _elements(size, EI, GA))
    np.add.at(F, ends, w * np.stack([size / 2, size**2 / 12, size / 2, -(size**2) / 12], axis=1))
    held = [2 * int(np.argmin(np.abs(x - place))) for place in places_mm]
    free = np.setdiff1d(np.arange(2 * x.size), held)
    moved = np.zeros(2 * x.size)
    moved[free] = np.linalg.solve(K[np.ix_(free, free)], F[free])
    pushed = (K @ moved - F)[held]
    return Bent(sag_mm=float(np.ptp(moved[0::2])), held_n=tuple(float(-one) for one in pushed))


def _elements(size: Floats, EI: float, GA: float) -> Floats:
    """Stiffness of beam elements with shear, one after another, deflection and slope at either end."""
    import numpy as np

    phi = 12 * EI / (GA * size**2)
    c = EI / (size**3 * (1 + phi))
    a, b, d = 6 * size, (4 + phi) * size**2, (2 - phi) * size**2
    one = np.ones_like(size)
    rows = [[12 * one, a, -12 * one, a], [a, b, -a, d], [-12 * one, -a, 12 * one, -a], [a, d, -a, b]]
    found: Floats = np.array(rows).transpose(2, 0, 1) * c[:, None, None]
    return found


def _stiffness(modulus_mpa: float, breadth_mm: float, depth_mm: float) -> tuple[float, float]:
    E = within("Modulus of elasticity", modulus_mpa, 1, 1e6, "MPa")
    b = within("Breadth", breadth_mm, 1e-3, 1e4, "mm")
    h = within("Depth", depth_mm, 1e-3, 1e4, "mm")
    return E * b * h**3 / 12, E * SHEAR_OF_E * SHEAR_AREA * b * h
