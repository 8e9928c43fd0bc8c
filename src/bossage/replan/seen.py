"""How much a change at each place would be seen."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.replan.records import Standing

IntArray = NDArray[np.int64]
FloatArray = NDArray[np.float64]

RIM_SHARE = 0.25  # of the middle's weight, at the corners of a leaf
LIGHT_SHARE = 0.3  # how much more a place on the side of the light is seen than one in the middle
TOWARDS = {"left": (-1, 0), "right": (1, 0), "top": (0, 1), "bottom": (0, -1)}


def seen_weights(standing: Standing, light_from: str | None = None) -> IntArray:
    """1 to 100 or a little more for each place, large faces more: where the eye goes and the light falls.

    The eye rests on the middle of a piece and leaves by its corners, and raking light shows a step best on the side
    that it comes from, so a change is hidden best at the rim, away from the light. The shares are our assumption.
    """
    out = np.zeros(standing.count)
    right, up = TOWARDS[light_from or standing.light_from]
    copies = np.array([place.copy for place in standing.places], dtype=np.int64)
    for copy in np.unique(copies):
        mine = copies == copy
        x = _unit(standing.x_nm[mine] + standing.width_nm[mine] / 2)
        y = _unit(standing.y_nm[mine] + standing.height_nm[mine] / 2)
        middle = 1 - (1 - RIM_SHARE) * (x * x + y * y) / 2
        light = 1 + LIGHT_SHARE * (right * x + up * y)
        area = (standing.width_nm[mine] / 1e6) * (standing.height_nm[mine] / 1e6)
        out[mine] = middle * light * area / area.max(initial=1.0)
    return np.maximum(1, np.rint(100 * out)).astype(np.int64)


def _unit(centre: FloatArray) -> FloatArray:
    """-1 at one end, 1 at the other."""
    low, high = float(centre.min()), float(centre.max())
    return np.zeros_like(centre) if high <= low else (2 * centre - low - high) / (high - low)
