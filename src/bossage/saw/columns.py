"""Linear programming over cutting patterns: a revised simplex that makes its columns by bounded knapsacks.

    min Σ p x   subject to   Σ a_ij x_j ≥ d_i,   Σ x_j over patterns of stick s ≤ count_s,   x ≥ 0

Patterns enter by reduced price (Gilmore and Gomory 1961, 1963). The basis is kept as an explicit inverse, so the
next program in a descent starts from the patterns of the last one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bossage.saw.core import Bin

EPS = 1e-9
REFRESH = 60  # pivots between fresh inverses
POOL_PIVOTS = 40
MORE_COLUMNS = 8
PULL = 0.7
Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Step = tuple[int, int, NDArray[np.bool_]]  # type, copies, where taken


def knapsack(values: Floats, widths: Ints, limits: Ints, cap: int) -> tuple[Floats, list[Step]]:
    """Best value for every capacity up to `cap`, and the choices to walk back by (type, copies, taken)."""
    best = np.zeros(cap + 1)
    steps: list[Step] = []
    for i in np.flatnonzero(values > EPS):
        w, left, copies = int(widths[i]), min(int(limits[i]), cap // int(widths[i])), 1
        while left > 0:
            k = min(copies, left)
            size = k * w
            trial = best[: cap + 1 - size] + k * values[i]
            taken = trial > best[size:] + EPS / 10
            best[size:][taken] = trial[taken]
            steps.append((int(i), k, taken))
            left -= k
            copies *= 2
    return best, steps


def walk_back(steps: list[Step], widths: Ints, cap: int, types: int) -> Ints:
    """The pattern behind the best value at `cap`."""
    counts = np.zeros(types, dtype=np.int64)
    at = cap
    for i, k, taken in reversed(steps):
        size = k * int(widths[i])
        if at >= size and taken[at - size]:
            counts[i] += k
            at -= size
    return counts


@dataclass(frozen=True, slots=True)
class Pattern:
    """How many of each type one stick of a bin gives, by span."""

    bin: int
    spans: tuple[tuple[int, ...], ...]


class Master:
    """The linear program over patterns of one residual demand."""

    def __init__(self, bins: Sequence[Bin], counts: Sequence[int | None], widths: Ints, demand: Ints) -> None:
        self.bins, self.widths, self.demand = bins, widths, demand
        self.types = len(widths)
        self.limited = [b for b, n in enumerate(counts) if n is not None]
        self.rows = self.types + len(self.limited)
        self.row_of = {b: self.types + k for k, b in enumerate(self.limited)}
        self.rhs = np.concatenate([demand, [counts[b] for b in self.limited]]).astype(float)
        self.dear = 10.0 * sum(b.price for b in bins) + 10.0
        self.patterns: list[Pattern | None] = []
        self.matrix = np.zeros((self.rows, 256))
        self.prices = np.zeros(256)
        self.size = 0
        self.seen: set[tuple[int, bytes]] = set()
        self.basis: list[int] = []
        self.rounds = 0  # pricings done, the measure of work
        self._start(counts)

    def _column(self, column: Floats, price: float, pattern: Pattern | None) -> int:
        if self.size == self.matrix.shape[1]:
            self.matrix = np.concatenate([self.matrix, np.zeros_like(self.matrix)], axis=1)
            self.prices = np.concatenate([self.prices, np.zeros_like(self.prices)])
        self.matrix[:, self.size] = column
        self.prices[self.size] = price
        self.patterns.append(pattern)
        self.size += 1
        return self.size - 1

    def add(self, pattern: Pattern) -> int | None:
        """Take a pattern into the pool; None when it is there already."""
        counts = np.sum(np.array(pattern.spans, dtype=np.int64), axis=0)
        key = (pattern.bin, counts.tobytes())
        if key in self.seen:
            return None
        self.seen.add(key)
        column = np.zeros(self.rows)
        column[: self.types] = counts
        if pattern.bin in self.row_of:
            column[self.row_of[pattern.bin]] = 1
        return self._column(column, float(self.bins[pattern.bin].price), pattern)

    def _start(self, counts: Sequence[int | None]) -> None:
        """A basis that is feasible by itself: sticks of one length where stock is free, else a dear shortage."""
        for i in range(self.types):
            w = int(self.widths[i])
            free = [
                (b.price / min(max(b.caps) // w, int(self.demand[i])), k)
                for k, b in enumerate(self.bins)
                if counts[k] is None and max(b.caps) >= w
            ]
            if free:
                b = min(free)[1]
                spans = [[0] * self.types for _ in self.bins[b].caps]
                at = int(np.argmax(self.bins[b].caps))
                spans[at][i] = min(max(self.bins[b].caps) // w, int(self.demand[i]))
                index = self.add(Pattern(b, tuple(tuple(s) for s in spans)))
                assert index is not None
            else:
                unit = np.zeros(self.rows)
                unit[i] = 1
                index = self._column(unit, self.dear, None)
            self.basis.append(index)
        for row in range(self.rows):
            unit = np.zeros(self.rows)
            unit[row] = -1 if row < self.types else 1
            index = self._column(unit, 0.0, None)
            if row >= self.types:
                self.basis.append(index)
        self._refresh()

    def _refresh(self) -> None:
        self.inverse = np.linalg.inv(self.matrix[:, self.basis])
        self.x = self.inverse @ self.rhs
        np.maximum(self.x, 0, out=self.x)

    def duals(self) -> Floats:
        """Worth of one more of each type (and of one more limited stick, below 0)."""
        y: Floats = self.prices[self.basis] @ self.inverse
        return y

    @property
    def value(self) -> float:
        """Price of the present solution."""
        return float(self.prices[self.basis] @ self.x)

    def _enter(self, index: int) -> bool:
        """One pivot; False when the column cannot enter."""
        d = self.inverse @ self.matrix[:, index]
        up = d > 1e-9
        if not up.any():
            return False
        ratios = np.full(self.rows, np.inf)
        ratios[up] = self.x[up] / d[up]
        least = ratios.min()
        # Among ties the largest pivot: steadier, and seldom cycles.
        ties = np.flatnonzero(ratios <= least + 1e-12)
        row = int(ties[np.argmax(d[ties])])
        self.inverse[row] /= d[row]
        others = d.copy()
        others[row] = 0
        self.inverse -= np.outer(others, self.inverse[row])
        self.x -= others * least
        self.x[row] = least
        np.maximum(self.x, 0, out=self.x)
        self.basis[row] = index
        return True

    def _pool(self, most: int) -> int:
        """Pivot on patterns that are there already until none pays."""
        pivots = 0
        while pivots < most:
            if pivots % REFRESH == REFRESH - 1:
                self._refresh()
            y = self.duals()
            reduced = self.prices[: self.size] - y @ self.matrix[:, : self.size]
            index = int(np.argmin(reduced))
            if reduced[index] > -1e-8 or not self._enter(index):
                break
            pivots += 1
        return pivots

    def price_out(self, y: Floats, more: int = 0) -> tuple[list[tuple[float, Pattern]], float]:
        """Patterns that pay at these worths, best first, and the least reduced price over all sticks."""
        cap = max(max(b.caps) for b in self.bins)
        values = np.maximum(y[: self.types], 0)
        best, steps = knapsack(values, self.widths, self.demand, cap)
        out: list[tuple[float, Pattern]] = []
        least = 0.0
        self.theta = np.inf
        made: dict[int, Ints] = {}
        for k, b in enumerate(self.bins):
            gain = float(sum(best[c] for c in b.caps))
            toll = y[self.row_of[k]] if k in self.row_of else 0.0
            reduced = b.price - gain - toll
            if gain > EPS:
                self.theta = min(self.theta, (b.price - toll) / gain)
            least = min(least, reduced)
            if reduced < -1e-7:
                for c in b.caps:
                    if c not in made:
                        made[c] = walk_back(steps, self.widths, c, self.types)
                left = self.demand.copy()
                spans = []
                for c in b.caps:
                    counts = np.minimum(made[c], left)
                    left -= counts
                    spans.append(tuple(int(n) for n in counts))
                out.append((reduced, Pattern(k, tuple(spans))))
                if more and len(b.caps) == 1:
                    out += self._neighbours(k, b.price - toll, best, steps, values, more)
        out.sort(key=lambda item: item[0])
        return out, least

    def _neighbours(
        self, k: int, price: float, best: Floats, steps: list[Step], values: Floats, more: int
    ) -> list[tuple[float, Pattern]]:
        """Next best patterns, each with one type forced in: several columns out of one knapsack."""
        (cap,) = self.bins[k].caps
        room = cap - self.widths
        reduced = np.where((room >= 0) & (values > EPS), price - values - best[np.maximum(room, 0)], 0.0)
        out: list[tuple[float, Pattern]] = []
        for i in np.argsort(reduced, kind="stable")[:more]:
            if reduced[i] > -1e-7:
                break
            counts = walk_back(steps, self.widths, int(room[i]), self.types)
            counts[i] += 1
            if counts[i] <= self.demand[i]:
                out.append((float(reduced[i]), Pattern(k, (tuple(int(n) for n in counts),))))
        return out

    def solve(self, rounds: int, stop_at: float = np.inf) -> float:
        """Optimise; gives a lower bound for the program (its value, once no pattern pays).

        Stops early when the bound, or the value, is known well enough: at or above `stop_at`.
        """
        bound = -np.inf
        center: Floats | None = None
        pull = PULL
        for _ in range(rounds):
            self.rounds += 1
            self._pool(POOL_PIVOTS)
            y = self.duals()
            # Worths half way to those of the best bound settle sooner (smoothing, Wentges 1997).
            asked = y if center is None or pull < 0.05 else pull * center + (1 - pull) * y
            found, least = self.price_out(asked, MORE_COLUMNS)
            here = self._bound_at(asked, least)
            if here > bound:
                bound, center = here, asked
            if bound >= stop_at:
                return bound
            if asked is y and least > -1e-7:
                return max(bound, self.value - 1e-7)
            if bound >= self.value - 1e-9:
                return bound
            fresh = [i for _, pattern in found if (i := self.add(pattern)) is not None]
            reduced = self.prices[fresh] - y @ self.matrix[:, fresh] if fresh else np.zeros(1)
            if reduced.min() > -1e-8:
                if asked is y:
                    return bound
                pull = pull * 0.5 if pull > 0.1 else 0.0  # nothing here that pays at the true worths
                continue
            pull = PULL
            self._enter(fresh[int(np.argmin(reduced))])
        return bound

    def _bound_at(self, y: Floats, least: float) -> float:
        """Lower bound at any worths: scaled down until no stick pays, they are feasible for the dual (Farley 1990)."""
        scale = min(1.0, self.theta) if np.isfinite(self.theta) else 0.0
        rows = float(y[: self.types].clip(min=0) @ self.rhs[: self.types])
        return scale * rows + float(np.minimum(y[self.types :], 0) @ self.rhs[self.types :])

    def short(self) -> bool:
        """Whether the stock leaves some demand uncovered."""
        return any(self.prices[j] == self.dear and v > 1e-6 for j, v in zip(self.basis, self.x, strict=True))

    def chosen(self) -> list[tuple[float, Pattern]]:
        """Patterns in use with how often, most used first."""
        out = [
            (float(v), pattern)
            for j, v in zip(self.basis, self.x, strict=True)
            if v > 1e-7 and (pattern := self.patterns[j]) is not None
        ]
        out.sort(key=lambda item: (-item[0], item[1].bin, item[1].spans))
        return out
