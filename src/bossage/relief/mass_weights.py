"""Exponential tilting: weights that lean to low or high levels, so that the blocks come to the mass asked for.

Of all shares with a given mean height, the shares w exp(-k h) have the least relative entropy to the weights w that
were asked for (Jaynes 1957). One k for the whole piece is found by bisection.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

MOST_SHARE = 0.44  # of a group on one level: half can stand apart at the very most, and a chessboard shows long before
HALVINGS = 80


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaning:
    """One quota group whose counts may give way.

    Attributes:
        weights: Shares as asked for, by level, 0 where a level is not allowed.
        mass_g: What all blocks of the group would weigh at each level.
    """

    weights: FloatArray
    mass_g: FloatArray


def leaning_weights(groups: list[Leaning], target_g: float) -> tuple[list[FloatArray], float]:
    """Weights of each group with which all come nearest to the target, and the mass that they come to.

    No group leans so far that more than `MOST_SHARE` of it stands on one level (or more than its weights ask anyway).
    """
    steepest = max((float(np.ptp(np.log(group.mass_g))) for group in groups), default=1.0) or 1.0
    far = 60.0 / steepest

    def lean(k: float) -> list[FloatArray]:
        return [_leant(group, k) for group in groups]

    def mass(shares: list[FloatArray]) -> float:
        return math.fsum(float((share * group.mass_g).sum()) for share, group in zip(shares, groups, strict=True))

    low, high = -far, far
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if mass(lean(middle)) > target_g:
            low = middle
        else:
            high = middle
    found = lean((low + high) / 2)
    return found, mass(found)


def _leant(group: Leaning, k: float) -> FloatArray:
    """Shares that add up to 1, none above the cap; what a full level cannot take is shared among the others."""
    own = group.weights / group.weights.sum()
    cap = np.maximum(own, MOST_SHARE if int((own > 0).sum()) > 2 else 0.5)
    # heights enter by mass, which is the same but for the factor
    pull = -k * group.mass_g / float(group.mass_g.mean())
    odds = np.where(own > 0, own * np.exp(pull - float(pull[own > 0].max())), 0.0)
    share = odds / odds.sum()
    full = np.zeros(len(share), dtype=np.bool_)
    while (share > cap + 1e-12).any():
        full |= share > cap
        rest = np.where(full, 0.0, odds)
        left = 1.0 - float(cap[full].sum())
        if rest.sum() <= 0 or left <= 0:
            break
        share = np.where(full, cap, left * rest / rest.sum())
    out: FloatArray = share
    return out
