"""Fair draws that depend on a key alone, on any machine and with any numpy.

Counter-based: a 64-bit mix of key and index. The mix is the finaliser of splitmix64 (Steele, Lea, Flood 2014),
constants from memory and checked against its published first outputs in the tests.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.layout.records import IntArray

_GOLDEN = np.uint64(0x9E3779B97F4A7C15)


def shuffled(count: int, key: NDArray[np.int64]) -> IntArray:
    """A fair order of 0 … count − 1: a stable sort of one drawn number each."""
    return np.argsort(_drawn(count, key), kind="stable").astype(np.int64)


def uniforms(count: int, key: NDArray[np.int64]) -> NDArray[np.float64]:
    """So many numbers, even over 0 to 1, neither end ever drawn."""
    return ((_drawn(count, key) >> np.uint64(11)).astype(np.float64) + 0.5) / 2.0**53


def _drawn(count: int, key: NDArray[np.int64]) -> NDArray[np.uint64]:
    state = np.uint64(0)
    for word in key:
        state = _mix(np.array([state ^ np.int64(word).astype(np.uint64)]) + _GOLDEN)[0]
    with np.errstate(over="ignore"):
        return _mix(state + np.arange(1, count + 1, dtype=np.uint64) * _GOLDEN)


def _mix(z: NDArray[np.uint64]) -> NDArray[np.uint64]:
    """The finaliser of splitmix64."""
    with np.errstate(over="ignore"):
        z = (z ^ (z >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
        z = (z ^ (z >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    return z ^ (z >> np.uint64(31))
