"""Column generation: linear programming over cutting patterns that are made as they pay.

    min Σ p x   subject to   Σ a_ij x_j ≥ d_i,   Σ x_j over patterns of stick s ≤ count_s,   x ≥ 0

Patterns enter by reduced price (Gilmore and Gomory 1961, 1963). The simplex is GLOP's, through OR-Tools, because GLOP
can start from its last basis after patterns were added or demand was taken away. Long spans in fine units are priced
coarsely first: with widths rounded up, a pattern surely fits, and is found with a fraction of the work.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from bossage.saw.job.numbers import Bin
from bossage.saw.money.records import Pattern, Worths
from bossage.saw.whole.knapsack import EPS, Floats, Ints, Step, best_values, walk_back

MORE_COLUMNS = 12
PULL = 0.7
COARSE = 4096  # units of the longest span in the coarse pricing
FINEST = 150_000  # and in the fine one; still finer spans are rounded there too
PAYS = 1e-8
CLOSE_ENOUGH = 1e-8  # share of the value at which value and bound count as one
WORK_CELLS = 400_000  # cells of a pricing that weigh as much as the simplex beside it


class Master:
    """The linear program over patterns, for the whole demand or for what a descent has left of it."""

    def __init__(self, bins: Sequence[Bin], counts: Sequence[int | None], widths: Ints, demand: Ints) -> None:
        self.bins, self.widths = bins, widths
        self.types = len(widths)
        self.demand = demand.copy()
        self._asked: Floats | Ints = self.demand
        self.counts = list(counts)
        self.limited = [b for b, n in enumerate(counts) if n is not None]
        cap = max(max(b.caps) for b in bins)
        self.units = [1] if cap <= 2 * COARSE else [-(-cap // COARSE), max(1, -(-cap // FINEST))]
        self.work = 0.0
        self.patterns: list[Pattern] = []
        self.matrix = np.zeros((self.types, 1024), dtype=np.int64)
        self.bin_of = np.zeros(1024, dtype=np.int64)
        self.seen: set[tuple[int, bytes]] = set()
        self.best: Worths | None = None
        self.value = np.inf
        self._open = np.zeros(1024, dtype=bool)
        self._build()
        self._start()

    def _build(self) -> None:
        from ortools.linear_solver import pywraplp

        self._program = pywraplp.Solver.CreateSolver("GLOP")
        self._ways = [_parameters(pywraplp, way) for way in ("DUAL", "PRIMAL")]
        endless = self._program.infinity()
        self._rows = [self._program.RowConstraint(float(d), endless, "") for d in self._asked]
        self._stock = {b: self._program.RowConstraint(-endless, float(self.counts[b] or 0), "") for b in self.limited}
        self._goal = self._program.Objective()
        self._goal.SetMinimization()
        self._columns: list[Any] = []
        # A dear shortage keeps the program feasible.
        dear = 10.0 * sum(b.price for b in self.bins) + 10.0
        self._short = [self._program.NumVar(0, endless, "") for _ in self._rows]
        for row, x in zip(self._rows, self._short, strict=True):
            row.SetCoefficient(x, 1.0)
            self._goal.SetCoefficient(x, dear)
        for n, pattern in enumerate(self.patterns):
            self._enter(n, pattern.bin)

    def _enter(self, n: int, b: int) -> None:
        x = self._program.NumVar(0, self._program.infinity() if self._open[n] else 0.0, "")
        for i in np.flatnonzero(self.matrix[:, n]):
            self._rows[i].SetCoefficient(x, float(self.matrix[i, n]))
        if b in self._stock:
            self._stock[b].SetCoefficient(x, 1.0)
        self._goal.SetCoefficient(x, float(self.bins[b].price))
        self._columns.append(x)

    def add(self, pattern: Pattern) -> bool:
        """Take a pattern in; False when it is there already."""
        counts = pattern.row()
        key = (pattern.bin, counts.tobytes())
        if key in self.seen:
            return False
        self.seen.add(key)
        n = len(self.patterns)
        if n == self.matrix.shape[1]:
            self.matrix = np.concatenate([self.matrix, np.zeros_like(self.matrix)], axis=1)
            self.bin_of = np.concatenate([self.bin_of, np.zeros_like(self.bin_of)])
            self._open = np.concatenate([self._open, np.zeros_like(self._open)])
        self.matrix[:, n] = counts
        self.bin_of[n] = pattern.bin
        self._open[n] = bool((counts <= self.demand).all()) and self.counts[pattern.bin] != 0
        self._enter(n, pattern.bin)
        self.patterns.append(pattern)
        return True

    def restrict(self, left: Ints, counts: Sequence[int | None], nudge: Floats | None = None) -> None:
        """Go on with this demand and these counts; patterns that no longer fit are barred.

        `nudge` weighs the demand of each type a little differently, for other worths near the best ones.
        """
        self.demand, self.counts = left.copy(), list(counts)
        self._asked = self.demand if nudge is None else self.demand * nudge
        for row, d in zip(self._rows, self._asked, strict=True):
            row.SetLb(float(d))
        for b in self.limited:
            self._stock[b].SetUb(float(counts[b] or 0))
        n = len(self.patterns)
        gone = np.array([c == 0 for c in counts])
        fits = (self.matrix[:, :n] <= left[:, None]).all(axis=0) & ~gone[self.bin_of[:n]]
        endless = self._program.infinity()
        for j in np.flatnonzero(fits != self._open[:n]):
            self._columns[j].SetUb(endless if fits[j] else 0.0)
        self._open[:n] = fits
        self._start()

    def solve(
        self, work: float, enough: float = -np.inf, stop_at: float = np.inf, center: Worths | None = None
    ) -> bool:
        """Optimise until nothing pays, or the value is down to `enough`, or the bound is up to `stop_at`.

        `center` holds worths to start near. Returns False when the work ran out. `value` is the program's, `best`
        holds the worths with the best bound.
        """
        self.best = None
        level, pull, way = 0, PULL, 0
        spent = self.work + work
        while self.work < spent:
            if not self._optimise(way):
                break
            way = 1
            self.value = float(self._goal.Value())
            if self.value <= enough:
                return True
            here = self._duals()
            asked = here
            if center is not None and pull >= 0.05:
                # Worths towards those of the best bound converge sooner (smoothing, Wentges 1997).
                asked = Worths(
                    pull * center.types + (1 - pull) * here.types, pull * center.tolls + (1 - pull) * here.tolls, 0.0
                )
            unit = self.units[level]
            found, scaled = self._price(asked, unit)
            last = level == len(self.units) - 1
            if center is None or scaled.value > center.value:
                center = scaled
            if last and self._bounded(scaled if unit == 1 else self._relaxed(asked, unit), stop_at):
                return True
            fresh = self._take(found, here)
            if fresh:
                pull = PULL
            elif asked is not here:
                pull = pull * 0.5 if pull > 0.1 else 0.0  # nothing here that pays at the true worths
            elif last:
                return True
            else:
                level, pull, center = level + 1, PULL, None
        return False

    def unbeaten(self) -> Worths:
        """Worths that no pattern beats, near those of the present solution."""
        here = self._duals()
        unit = self.units[-1]
        if unit > 1:
            made = self._relaxed(here, unit)
        else:
            made = self._scaled(here, self._table(here.types, self.widths, max(max(b.caps) for b in self.bins))[0], 1)
        return made if self.best is None or made.value > self.best.value else self.best

    def _bounded(self, worths: Worths, stop_at: float) -> bool:
        """Keep the better bound; whether it is close enough to the value, or high enough."""
        if self.best is None or worths.value > self.best.value:
            self.best = worths
        return self.best.value >= min(stop_at, self.value - CLOSE_ENOUGH * max(1.0, self.value))

    def _take(self, found: list[Pattern], worths: Worths) -> bool:
        """Take in what pays at these worths; whether anything did."""
        fresh = False
        for pattern in found:
            reduced = self.bins[pattern.bin].price - float(worths.types @ pattern.row()) - worths.tolls[pattern.bin]
            fresh |= reduced < -PAYS and self.add(pattern)
        return fresh

    def short(self) -> bool:
        """Whether the stock leaves some demand uncovered."""
        return any(x.solution_value() > 1e-6 for x in self._short)

    def shares(self) -> Floats:
        """How often each pattern is used."""
        return np.array([x.solution_value() for x in self._columns])

    def _optimise(self, way: int) -> bool:
        if self._program.Solve(self._ways[way]) == 0:
            return True
        # A basis can wear out; without it the program goes through.
        self._build()
        return bool(self._program.Solve(self._ways[1]) == 0)

    def _duals(self) -> Worths:
        tolls = np.zeros(len(self.bins))
        for b, row in self._stock.items():
            tolls[b] = min(0.0, row.dual_value())
        worths = np.array([row.dual_value() for row in self._rows]).clip(min=0)
        worths[self.demand == 0] = 0
        return Worths(worths, tolls, self.value)

    def _start(self) -> None:
        """Sticks of one length each: with them every demand that the stock can meet has a pattern."""
        for i in np.flatnonzero(self.demand):
            for b, stick in enumerate(self.bins):
                most = min(max(stick.caps) // int(self.widths[i]), int(self.demand[i]))
                if most and self.counts[b] != 0:
                    at = int(np.argmax(stick.caps))
                    spans = [[0] * self.types for _ in stick.caps]
                    spans[at][i] = most
                    self.add(Pattern(b, tuple(tuple(s) for s in spans)))

    def _price(self, worths: Worths, unit: int) -> tuple[list[Pattern], Worths]:
        """Patterns that may pay, best first, and the worths scaled down until none does (Farley 1990)."""
        widths = -(-self.widths // unit)
        best, steps = self._table(worths.types, widths, max(max(b.caps) for b in self.bins) // unit)
        out: list[tuple[float, Pattern]] = []
        for k, b in enumerate(self.bins):
            if self.counts[k] == 0:
                continue
            caps = [c // unit for c in b.caps]
            price = b.price - worths.tolls[k]
            if sum(best[c] for c in caps) <= price + EPS:
                continue
            left = self.demand.copy()
            spans = []
            for c in caps:
                counts = np.minimum(walk_back(steps, widths, c, self.types), left)
                left -= counts
                spans.append(tuple(int(n) for n in counts))
            out.append((price - float(sum(best[c] for c in caps)), Pattern(k, tuple(spans))))
            if len(caps) == 1:
                out += self._neighbours(k, price, best, steps, worths.types, widths, caps[0])
        out.sort(key=lambda item: item[0])
        return [pattern for _, pattern in out], self._scaled(worths, best, unit)

    def _table(self, values: Floats, widths: Ints, cap: int) -> tuple[Floats, list[Step]]:
        self.work += 1 + cap * int((values > EPS).sum()) / WORK_CELLS
        return best_values(values, widths, self.demand, cap)

    def _relaxed(self, worths: Worths, unit: int) -> Worths:
        """The scaled worths with widths rounded down, so that their value bounds the program."""
        widths = np.maximum(self.widths // unit, 1)
        best, _ = self._table(worths.types, widths, max(max(b.caps) for b in self.bins) // unit)
        return self._scaled(worths, best, unit)

    def _scaled(self, worths: Worths, best: Floats, unit: int) -> Worths:
        scale = 1.0
        for k, b in enumerate(self.bins):
            gain = float(sum(best[c // unit] for c in b.caps))
            if gain > EPS and self.counts[k] != 0:
                scale = min(scale, (b.price - worths.tolls[k]) / gain)
        return self.valued(Worths(scale * worths.types, worths.tolls, 0.0), self._asked)

    def valued(self, worths: Worths, demand: Floats | Ints) -> Worths:
        """What worths come to for this demand."""
        stock = sum(worths.tolls[b] * (self.counts[b] or 0) for b in self.limited)
        return Worths(worths.types, worths.tolls, float(worths.types @ demand) + float(stock))

    def _neighbours(
        self, k: int, price: float, best: Floats, steps: list[Step], values: Floats, widths: Ints, cap: int
    ) -> list[tuple[float, Pattern]]:
        """Next best patterns, each with one type forced in: several columns out of one knapsack."""
        room = cap - widths
        reduced = np.where((room >= 0) & (values > EPS), price - values - best[np.maximum(room, 0)], 0.0)
        out: list[tuple[float, Pattern]] = []
        for i in np.argsort(reduced, kind="stable")[:MORE_COLUMNS]:
            if reduced[i] > -PAYS:
                break
            counts = walk_back(steps, widths, int(room[i]), self.types)
            counts[i] += 1
            if counts[i] <= self.demand[i]:
                out.append((float(reduced[i]), Pattern(k, (tuple(int(n) for n in counts),))))
        return out


def _parameters(pywraplp: Any, way: str) -> Any:
    """No presolve, so that the last basis is gone on from."""
    made = pywraplp.MPSolverParameters()
    made.SetIntegerParam(made.PRESOLVE, made.PRESOLVE_OFF)
    made.SetIntegerParam(made.LP_ALGORITHM, getattr(made, way))
    return made
