"""How wet wood becomes in a room: equilibrium moisture content, by Simpson's fit to the Wood Handbook table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from bossage.ranges import all_within

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray


def emc_pct(air_degc: ArrayLike, rh_pct: ArrayLike) -> NDArray[np.float64]:
    """Equilibrium moisture content of wood held in steady air.

    Args:
        air_degc: Air temperature, -1.2 to 130 degC (30 degF is -1.1). Scalar or array.
        rh_pct: Relative humidity, 5 to 95 %. Broadcast against `air_degc`.

    Returns:
        Water mass over oven-dry mass, %. Broadcast shape of the inputs.

    Raises:
        OutOfRange: A value lies outside the source table; NaN counts as outside.

    Leaves out:
        Species, and whether the wood was last drying or wetting: one curve for all. Drying wood stays about 1 to 2
        points above wetting wood (from memory), so show the figure to the nearest half point.

    Source:
        Simpson, FPL-RN-0268 (1998); Wood Handbook FPL-GTR-190 (2010) ch. 4, equation for degC (read). The table that
        the same chapter prints looks generated from this equation, so the two are not independent evidence.
    """
    t = all_within("Air temperature", air_degc, -1.2, 130, "°C")
    hint = "If you meant a share such as one half, enter 50."
    h = all_within("Relative humidity", rh_pct, 5, 95, "%", hint) / 100
    W = 349 + 1.29 * t + 0.0135 * t**2  # W, K, K1, K2: symbols of the source
    K = 0.805 + 0.000736 * t - 0.00000273 * t**2
    K1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    K2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    Kh = K * h
    dissolved = Kh / (1 - Kh)
    bound = (K1 * Kh + 2 * K1 * K2 * Kh**2) / (1 + K1 * Kh + K1 * K2 * Kh**2)
    return 1800 / W * (dissolved + bound)
