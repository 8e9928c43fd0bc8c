"""Kubelka-Munk for an opaque coat, with the loss at the paint's surface after Saunderson.

Q is absorption over scattering (K/S). R is reflectance inside the film, R_meas what an instrument or an eye sees.
Sources: Kubelka and Munk 1931, Saunderson 1942 [both from memory]; checked against values derived by hand.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from bossage.colour.spaces import FloatArray
from bossage.colour.spectrum import R_LEAST, R_MOST

# First-surface and internal reflection of a paint film of index about 1.5 (Saunderson 1942 [from memory]).
K1: Final = 0.03
K2: Final = 0.60


def absorption_ratio(R: ArrayLike) -> FloatArray:
    """Q = (1 - R)^2 / (2 R) of an opaque film of internal reflectance R, 0 < R <= 1."""
    r = np.asarray(R, dtype=np.float64)
    return np.asarray((1 - r) ** 2 / (2 * r))


def reflectance(Q: ArrayLike) -> FloatArray:
    """Internal reflectance of an opaque film of absorption ratio Q >= 0.

    Written as 1 / (1 + Q + sqrt(Q^2 + 2 Q)), which stays exact for the large Q of a black.
    """
    q = np.asarray(Q, dtype=np.float64)
    return np.asarray(1 / (1 + q + np.sqrt(q * (q + 2))))


def measured(R: ArrayLike, k1: ArrayLike = K1, k2: float = K2) -> FloatArray:
    """Reflectance seen from outside: R_meas = k1 + (1 - k1)(1 - k2) R / (1 - k2 R)."""
    r = np.asarray(R, dtype=np.float64)
    surface = np.asarray(k1, dtype=np.float64)
    return np.asarray(surface + (1 - surface) * (1 - k2) * r / (1 - k2 * r))


def internal(R_meas: ArrayLike, k1: float = K1, k2: float = K2) -> FloatArray:
    """Reflectance inside the film, the inverse of `measured`; not clipped, so below 0 where R_meas < k1."""
    seen = np.asarray(R_meas, dtype=np.float64) - k1
    return np.asarray(seen / ((1 - k1) * (1 - k2) + k2 * seen))


def mixed_ratio(shares: ArrayLike, S: ArrayLike, Q: ArrayLike) -> FloatArray:
    """Absorption ratio of a mix: sum(c S Q) / sum(c S), wavelength by wavelength.

    Args:
        shares: Amount of each paint, last axis the paints; volume or mass, but one kind throughout.
        S: Scattering of each paint (paints x wavelengths), the base being 1.
        Q: Absorption ratio of each paint (paints x wavelengths).
    """
    c = np.asarray(shares, dtype=np.float64)
    s = np.asarray(S, dtype=np.float64)
    return np.asarray((c @ (s * np.asarray(Q, dtype=np.float64))) / (c @ s))


def ratio_of_measured(R_meas: ArrayLike, k1: float = K1, k2: float = K2) -> FloatArray:
    """Absorption ratio of an opaque coat from what is seen of it, held away from pure black and pure white."""
    return absorption_ratio(np.clip(internal(R_meas, k1, k2), R_LEAST, R_MOST))
