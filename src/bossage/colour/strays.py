"""How far a pot may have strayed by now: every measure that went into it or out of it is off on its own.

One row for each measure: how much more base and tinter the pot holds when that measure is off by its error. Additions
and pours carry the rows on as they carry the pot itself, to first order.
"""

from __future__ import annotations

from math import sqrt

import numpy as np

from bossage.colour.measuring import Measured


class Strays:
    """The pot's errors, from the first measure of base on."""

    def __init__(self, start: Measured) -> None:
        self._off_ml = np.array([[start.error_ml, 0.0]])  # base, tinter
        self._stock_rows: dict[int, int] = {}

    def add(self, added: Measured, strength: float, *, stock_parts: int, stock_relative: float) -> None:
        """An addition of `strength` parts of tinter in one; all additions from one stock are off by one share."""
        share = np.array([1 - strength, strength])
        self._off_ml = np.vstack([self._off_ml, added.error_ml * share])
        if stock_parts:
            if stock_parts not in self._stock_rows:
                self._stock_rows[stock_parts] = len(self._off_ml)
                self._off_ml = np.vstack([self._off_ml, np.zeros(2)])
            more_ml = added.ml * strength * stock_relative
            self._off_ml[self._stock_rows[stock_parts]] += (-more_ml, more_ml)

    def pour(self, base_ml: float, tinter_ml: float, poured: Measured) -> None:
        """So much goes out of a pot that should hold this; what strayed in it strays on in the rest."""
        holds_ml = base_ml + tinter_ml
        gone = min(poured.ml / holds_ml, 1.0)
        here = np.array([base_ml, tinter_ml]) / holds_ml
        kept = self._off_ml * (1 - gone) + np.outer(self._off_ml.sum(axis=1) * gone, here)
        self._off_ml = np.vstack([kept, -poured.error_ml * here])

    def relative(self, base_ml: float, tinter_ml: float) -> float:
        """Of tinter to base, as a share of it."""
        if not (base_ml > 0 and tinter_ml > 0):
            return 0.0
        off = self._off_ml[:, 1] / tinter_ml - self._off_ml[:, 0] / base_ml
        return sqrt(float((off**2).sum()))
