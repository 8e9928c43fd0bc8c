"""What the search for the least money hands on: contents with their bound, patterns, and worths of lengths."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bossage.saw.job.contents import Filled
from bossage.saw.whole.knapsack import Floats, Ints


@dataclass(slots=True)
class Solved:
    """Contents by stick (None: the stock does not suffice, or nothing was found), with the bound on its price."""

    filled: Filled | None
    price: int
    bound: int
    why: str
    impossible: bool = False


@dataclass(frozen=True, slots=True)
class Pattern:
    """How many of each type one stick of a bin gives, by span."""

    bin: int
    spans: tuple[tuple[int, ...], ...]

    def row(self) -> Ints:
        """How many of each type in all."""
        counts: Ints = np.array(self.spans, dtype=np.int64).sum(axis=0)
        return counts


@dataclass(frozen=True, slots=True)
class Worths:
    """Prices that no pattern beats: of one more of each type, and of one more stick of a limited bin (0 or below)."""

    types: Floats
    tolls: Floats
    value: float  # what they are worth in all: a lower bound
