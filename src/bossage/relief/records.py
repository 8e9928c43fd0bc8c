"""What `relief` gives: the level of every block."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from bossage.checks import Check

IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotaGroup:
    """The blocks that share a quota: one footprint, in one zone, on one leaf."""

    leaf: int
    footprint: int
    zone: int
    quotas: tuple[int, ...]  # by level


@dataclass(frozen=True, slots=True, kw_only=True)
class Relief:
    """The heights. `level` indexes `levels_nm`, one entry a block; `length_nm` is what is sawn."""

    levels_nm: tuple[int, ...]
    level: IntArray
    length_nm: IntArray
    groups: tuple[QuotaGroup, ...]
    figures: dict[str, float]  # how random it looks, beside what a fair draw under the rule gives
    draws: int  # draws of the layout that were asked for until the quotas could be held
    checks: tuple[Check, ...]
    from_fair: dict[str, float] = field(default_factory=dict)  # each figure beside fair draws, in spreads; small pieces


@dataclass(frozen=True, slots=True, kw_only=True)
class NoRelief:
    """Why no field of heights exists, in a maker's words, and what would do.

    `redraw` tells that another draw of the split modules may help.
    """

    reason: str
    remedy: str
    proven: bool
    redraw: bool
