"""How far apart two colours look: CIEDE2000, on whole arrays.

Source: Sharma, Wu and Dalal, 'The CIEDE2000 color-difference formula: implementation notes, supplementary test
data, and mathematical observations', Color Res. Appl. 30(1), 2005. Symbols are those of the paper.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from bossage.colour.spaces import FloatArray

# Side by side, about 1 is the least that a trained eye sees; blocks a hand apart need about 2
# (common practice, no source).
JUST_SEEN_DE: Final = 2.0


def delta_e(lab1: ArrayLike, lab2: ArrayLike) -> FloatArray:
    """CIEDE2000 colour difference with kL = kC = kH = 1.

    Args:
        lab1: CIELAB colours, last axis (L, a, b).
        lab2: CIELAB colours; broadcast against `lab1`.

    Returns:
        Difference, one number a pair; exactly 0 for the same colour, symmetric in its two inputs.
    """
    p, q = np.asarray(lab1, dtype=np.float64), np.asarray(lab2, dtype=np.float64)
    L1, a1, b1 = p[..., 0], p[..., 1], p[..., 2]
    L2, a2, b2 = q[..., 0], q[..., 1], q[..., 2]
    C_mean7 = ((np.hypot(a1, b1) + np.hypot(a2, b2)) / 2) ** 7
    G = 0.5 * (1 - np.sqrt(C_mean7 / (C_mean7 + _25_TO_7)))
    a1p, a2p = (1 + G) * a1, (1 + G) * a2
    C1p, C2p = np.hypot(a1p, b1), np.hypot(a2p, b2)
    h1p, h2p = np.arctan2(b1, a1p) % _TURN, np.arctan2(b2, a2p) % _TURN

    grey = C1p * C2p == 0
    dh = h2p - h1p
    dh = np.where(dh > np.pi, dh - _TURN, np.where(dh < -np.pi, dh + _TURN, dh))
    dh = np.where(grey, 0.0, dh)
    dLp, dCp = L2 - L1, C2p - C1p
    dHp = 2 * np.sqrt(C1p * C2p) * np.sin(dh / 2)

    Lp_mean, Cp_mean = (L1 + L2) / 2, (C1p + C2p) / 2
    h_sum = h1p + h2p
    around = np.where(h_sum < _TURN, h_sum + _TURN, h_sum - _TURN)
    hp_mean = np.where(np.abs(h1p - h2p) <= np.pi, h_sum, around) / 2
    hp_mean = np.where(grey, h_sum, hp_mean)
    T = (
        1
        - 0.17 * np.cos(hp_mean - np.radians(30))
        + 0.24 * np.cos(2 * hp_mean)
        + 0.32 * np.cos(3 * hp_mean + np.radians(6))
        - 0.20 * np.cos(4 * hp_mean - np.radians(63))
    )
    dtheta = np.radians(30) * np.exp(-(((np.degrees(hp_mean) - 275) / 25) ** 2))
    Cp7 = Cp_mean**7
    R_T = -2 * np.sqrt(Cp7 / (Cp7 + _25_TO_7)) * np.sin(2 * dtheta)
    S_L = 1 + 0.015 * (Lp_mean - 50) ** 2 / np.sqrt(20 + (Lp_mean - 50) ** 2)
    S_C, S_H = 1 + 0.045 * Cp_mean, 1 + 0.015 * Cp_mean * T
    l, c, h = dLp / S_L, dCp / S_C, dHp / S_H  # noqa: E741  the paper's own letters
    # Rounding can push the quadratic form a hair below zero for colours that almost agree.
    return np.asarray(np.sqrt(np.maximum(l * l + c * c + h * h + R_T * c * h, 0.0)))


_TURN: Final = 2 * np.pi
_25_TO_7: Final = 25.0**7
