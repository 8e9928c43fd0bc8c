"""Covering knapsack: the stock-mix bound of the money, and the mixes that could reach it, cheapest first.

    min Σ p_s n_s   subject to   Σ fill_s n_s ≥ Σ w_i d_i,   0 ≤ n_s ≤ count

`fill_s` is the most that the demand can fill of stick s, so this is a valid lower bound for the money, and
in the small-item regime it is nearly always reached (a covering knapsack; own derivation).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bossage.saw.job.numbers import Bin

_MOST_CELLS = 30_000_000
_NONE = -(1 << 30)
_MOST_FILL = 1 << 29
_FULL = (1 << 63) - 1


def _prices_table(bins: tuple[Bin, ...], top: int) -> list[NDArray[Any]]:
    """For each suffix of the bins, the most fill at exactly each price up to `top`; below 0 where none costs that."""
    total = sum(b.fill * b.count for b in bins)
    small = total < _MOST_FILL
    full = _MOST_FILL if small else _FULL
    tables: list[NDArray[Any]] = [
        np.full(top + 1, _NONE if small else _NONE << 30, dtype=np.int32 if small else np.int64)
    ]
    tables[0][0] = 0
    for b in reversed(bins):
        best = tables[-1].copy()
        if b.price == 0:
            best[best >= 0] += b.fill * b.count
        else:
            left, step = min(b.count, top // b.price), 1
            while left > 0:
                take = min(step, left)
                cost = take * b.price
                # Stock without end may hold more than a table's cell counts; past `full` more of it tells nothing.
                fill = min(take * b.fill, full)
                held = best[: top + 1 - cost]
                more = np.where(held > full - fill, full, np.minimum(held, full - fill) + fill)
                best[cost:] = np.maximum(best[cost:], more)
                left -= take
                step *= 2
        tables.append(best)
    tables.reverse()
    return tables


def _first_guess(bins: tuple[Bin, ...], need: int) -> int | None:
    """A price at which some mix holds `need`: best value first; None when all the stock does not."""
    price = 0
    for b in sorted(bins, key=lambda b: (b.price / b.fill, b.price)):
        if need <= 0:
            break
        take = min(b.count, -(-need // b.fill))
        price += take * b.price
        need -= take * b.fill
    return price if need <= 0 else None


class Mixes:
    """The mixes of one stock that hold `need`, in order of price, most slack first within a price."""

    def __init__(self, bins: tuple[Bin, ...], need: int, extra: int = 0) -> None:
        # Dear per unit of fill first, so that the long tail of the search is over the cheap kind.
        self.bins = tuple(sorted(bins, key=lambda b: (-b.price / b.fill, b.fill, b.stock)))
        self.need = need
        guess = _first_guess(bins, need)
        self.unit = int(np.gcd.reduce([b.price for b in bins])) if bins else 1
        self.unit = self.unit or 1
        self.bound: int | None = None
        if guess is None:
            return
        self.scaled = tuple(replace(b, price=b.price // self.unit) for b in self.bins)
        self.top = (guess + extra) // self.unit
        # Too fine a price list for so large a job: prices rounded down still bound, only less closely.
        self.coarse = 1
        while (self.top // self.coarse + 1) * (len(bins) + 1) > _MOST_CELLS:
            self.coarse *= 2
        if self.coarse > 1:
            self.scaled = tuple(replace(b, price=b.price // self.coarse) for b in self.scaled)
            self.top //= self.coarse
        self.tables = _prices_table(self.scaled, self.top)
        self.bound = int(np.argmax(self.tables[0] >= need)) * self.unit * self.coarse

    def at_price(self, price: int, most: int) -> Iterator[tuple[int, ...]]:
        """Counts for `self.bins` of mixes that cost exactly `price` and hold the need: most slack first."""
        budget = price // self.unit // self.coarse
        if self.bound is not None and 0 <= budget <= self.top:
            yield from islice(self._walk(0, budget, self.need), most)

    def prices(self) -> Iterator[int]:
        """Every price at which a mix holds the need, upwards from the bound."""
        if self.bound is not None:
            for p in np.flatnonzero(self.tables[0] >= self.need):
                yield int(p) * self.unit * self.coarse

    def _walk(self, i: int, budget: int, need: int) -> Iterator[tuple[int, ...]]:
        if i == len(self.scaled):
            yield ()
            return
        b = self.scaled[i]
        after = self.tables[i + 1]
        counts = np.arange((b.count if b.price == 0 else min(b.count, budget // b.price)) + 1)
        totals = after[budget - counts * b.price] + counts * b.fill
        # More slack first; among equals the fewer sticks.
        for k in np.lexsort((counts, -totals)):
            if totals[k] < need:
                break
            for rest in self._walk(i + 1, budget - int(k) * b.price, need - int(k) * b.fill):
                yield (int(k), *rest)
