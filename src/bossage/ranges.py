"""Range guards of the sciences: a value outside what its source covers is refused, NaN included."""

from __future__ import annotations

from typing import TYPE_CHECKING

from bossage.errors import OutOfRange

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray


def within(what: str, value: float, low: float, high: float, unit: str, hint: str = "") -> float:
    """`value` as a float, or `OutOfRange`."""
    if not low <= value <= high:
        raise OutOfRange(what, value, low, high, unit, hint)
    return float(value)


def all_within(what: str, values: ArrayLike, low: float, high: float, unit: str, hint: str = "") -> NDArray[np.float64]:
    """`values` as an array of floats; `OutOfRange` names the first that lies outside."""
    import numpy as np

    array = np.asarray(values, dtype=np.float64)
    bad = ~((array >= low) & (array <= high))
    if bad.any():
        raise OutOfRange(what, float(array[bad].flat[0]), low, high, unit, hint)
    return array
