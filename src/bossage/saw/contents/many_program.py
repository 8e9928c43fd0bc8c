"""Column generation for many spans with few settings: a pattern costs its lengths beyond the first.

    min Σ (k_p − 1) x_p   subject to   Σ a_ip x_p ≥ d_i,   Σ x_p over patterns of a span = how many such spans there are

k_p is the number of lengths in pattern p. All patterns of one length, and the tightest patterns of two lengths, are in
the program from the start. Other patterns of two lengths enter by reduced price (Gilmore and Gomory 1961). Patterns of
three and more come from a knapsack in which each new length costs a toll. Whole multiples of the solution are cut at
once; about as many spans are left as there are lengths.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from bossage.saw.whole.knapsack import Floats, Ints

TIGHTEST = 2  # splits of a pair of lengths that are in from the start
AT_FIRST = 20  # such patterns for each span of a kind; more enter as they pay
MOST_SPLITS = 1_000_000  # splits of one kind of span that are weighed; of more every second, third...
ENTERING = 60  # patterns that enter from one round
ROUNDS = 12
LATER_ROUNDS = 12  # and with three and more lengths in a span
PAYS = 1e-6
SAME = 1e-9
DEAR = 1000.0  # a slice that no pattern gives
FINEST = 1 << 18  # units of a span in the search for patterns of three lengths and more; finer ones are rounded

Counts = tuple[tuple[int, int], ...]  # (type, how many)


@dataclass(frozen=True, slots=True)
class PatternUse:
    """One pattern of one kind of span, and how often it is to be cut."""

    kind: int
    counts: Counts
    times: float


def pattern_uses(
    widths: Sequence[int], demand: Sequence[int], caps: Sequence[int], spans: Sequence[int]
) -> list[PatternUse]:
    """The program's solution for spans of capacity `caps[k]`, `spans[k]` of them; empty where patterns fall short."""
    program = _Program(widths, demand, caps, spans)
    for kind in range(len(caps)):
        for counts in _singles(widths, demand, caps[kind]):
            program.add(kind, counts)
    pairs = [_Pairs(widths, demand, cap) for cap in caps]
    for kind, pair in enumerate(pairs):
        for counts in pair.tightest(AT_FIRST * spans[kind]):
            program.add(kind, counts)
    program.solve()
    for _ in range(ROUNDS):
        if not _price_pairs(program, pairs):
            break
        program.solve()
    if program.short():
        unit = -(-max(caps) // FINEST)
        rounded = [-(-w // unit) for w in widths]
        for _ in range(LATER_ROUNDS):
            knapsack = _Tolled(program.worths, rounded, demand, max(caps) // unit)
            fresh = [(kind, knapsack.best(cap // unit)) for kind, cap in enumerate(caps)]
            more = sum(program.add(kind, counts) for kind, counts in fresh if program.pays(kind, counts))
            if not more + _price_pairs(program, pairs):
                break
            program.solve()
    return [] if program.short() else program.pattern_uses()


def _price_pairs(program: _Program, pairs: list[_Pairs]) -> int:
    """How many patterns of two lengths came in."""
    return sum(
        program.add(kind, counts)
        for kind, pair in enumerate(pairs)
        for counts in pair.paying(program.worths, program.tolls[kind])
    )


class _Program:
    """The linear program; it goes on from its last basis when patterns come in."""

    def __init__(self, widths: Sequence[int], demand: Sequence[int], caps: Sequence[int], spans: Sequence[int]) -> None:
        from ortools.linear_solver import pywraplp

        self._program = pywraplp.Solver.CreateSolver("GLOP")
        endless = self._program.infinity()
        self._rows = [self._program.RowConstraint(float(d), endless, "") for d in demand]
        self._kinds = [self._program.RowConstraint(-endless, float(n), "") for n in spans]
        self._goal = self._program.Objective()
        self._goal.SetMinimization()
        self._short = [self._program.NumVar(0, endless, "") for _ in demand]
        for row, x in zip(self._rows, self._short, strict=True):
            row.SetCoefficient(x, 1.0)
            self._goal.SetCoefficient(x, DEAR)
        self._columns: list[tuple[int, Counts, Any]] = []
        self._seen: set[tuple[int, Counts]] = set()
        self.worths: Floats = np.zeros(len(demand))  # of one more of each length
        self.tolls: Floats = np.zeros(len(spans))  # of one more span of each kind, 0 or below

    def add(self, kind: int, counts: Counts) -> bool:
        if not counts or (kind, counts) in self._seen:
            return False
        self._seen.add((kind, counts))
        x = self._program.NumVar(0, self._program.infinity(), "")
        for i, n in counts:
            self._rows[i].SetCoefficient(x, float(n))
        self._kinds[kind].SetCoefficient(x, 1.0)
        if len(counts) > 1:
            self._goal.SetCoefficient(x, float(len(counts) - 1))
        self._columns.append((kind, counts, x))
        return True

    def solve(self) -> None:
        self._program.Solve()
        self.worths = np.array([row.dual_value() for row in self._rows]).clip(min=0)
        self.tolls = np.array([row.dual_value() for row in self._kinds]).clip(max=0)

    def pays(self, kind: int, counts: Counts) -> bool:
        reduced = len(counts) - 1 - sum(n * self.worths[i] for i, n in counts) - self.tolls[kind]
        return bool(reduced < -PAYS)

    def short(self) -> bool:
        return any(x.solution_value() > 1e-6 for x in self._short)

    def pattern_uses(self) -> list[PatternUse]:
        return [
            PatternUse(kind, counts, x.solution_value())
            for kind, counts, x in self._columns
            if x.solution_value() > 1e-9
        ]


def _singles(widths: Sequence[int], demand: Sequence[int], cap: int) -> Iterator[Counts]:
    for i, (w, d) in enumerate(zip(widths, demand, strict=True)):
        n = min(cap // w, d)
        if n:
            yield ((i, n),)


class _Pairs:
    """All splits of one span between two lengths, the second one filled up."""

    def __init__(self, widths: Sequence[int], demand: Sequence[int], cap: int) -> None:
        w, d = np.array(widths), np.array(demand)
        stride = 1 + int(np.minimum(cap // w, d).sum()) * len(w) // MOST_SPLITS
        parts: list[tuple[Ints, Ints, Ints, Ints]] = []
        for i in range(len(w)):
            most = min(int(d[i]), cap // int(w[i]))
            if not most:
                continue
            x = np.arange(1, most + 1, stride)[:, None]
            y = np.minimum((cap - x * w[i]) // w[None, i + 1 :], d[None, i + 1 :])
            at, j = np.nonzero(y > 0)
            parts.append((np.full(len(at), i), j + i + 1, x[at, 0], y[at, j]))
        self.i, self.j, self.x, self.y = (
            np.concatenate([p[k] for p in parts]) if parts else np.zeros(0, dtype=np.int64) for k in range(4)
        )
        self.lost = cap - self.x * w[self.i] - self.y * w[self.j]
        self.pair = self.i * len(w) + self.j

    def _at(self, k: Ints) -> list[Counts]:
        return [
            ((i, x), (j, y))
            for i, x, j, y in zip(
                self.i[k].tolist(), self.x[k].tolist(), self.j[k].tolist(), self.y[k].tolist(), strict=True
            )
        ]

    def tightest(self, most: int) -> list[Counts]:
        """Of each pair the splits that lose least; of all these at most so many."""
        first = _first_of_each(self.pair, np.lexsort((self.x, self.lost, self.pair)), TIGHTEST)
        return self._at(first[np.argsort(self.lost[first], kind="stable")][:most])

    def paying(self, worths: Floats, toll: float) -> list[Counts]:
        """Of each pair the split with the best reduced price, if that pays; the best of them first."""
        reduced = 1.0 - self.x * worths[self.i] - self.y * worths[self.j] - toll
        pays = np.flatnonzero(reduced < -PAYS)
        if not len(pays):
            return []
        order = pays[np.lexsort((pays, reduced[pays], self.pair[pays]))]
        first = _first_of_each(self.pair, order, 1)
        return self._at(first[np.argsort(reduced[first], kind="stable")][:ENTERING])


def _first_of_each(key: Ints, order: Ints, most: int) -> Ints:
    """The first `most` of each key, in an order that keeps equal keys side by side."""
    sorted_keys = key[order]
    starts = np.flatnonzero(np.r_[True, sorted_keys[1:] != sorted_keys[:-1]]) if len(order) else order
    place = np.arange(len(order)) - np.repeat(starts, np.diff(np.r_[starts, len(order)]))
    return order[place < most]


class _Tolled:
    """The best worth for every capacity, a toll of 1 on each length that is in."""

    def __init__(self, worths: Floats, widths: Sequence[int], demand: Sequence[int], cap: int) -> None:
        self._widths, self._demand, self._worths = widths, demand, worths
        best = np.zeros(cap + 1)
        self._stages: list[tuple[int, Floats]] = []
        for i, w in enumerate(widths):
            if worths[i] <= 0 or not 0 < w <= cap:
                continue
            self._stages.append((i, best))
            some = np.full(cap + 1, -np.inf)  # with one or more of this length, its toll not yet paid
            if demand[i] >= cap // w:
                for at in range(w, cap + 1, w):
                    end = min(at + w, cap + 1)
                    np.maximum(best[at - w : end - w], some[at - w : end - w], out=some[at:end])
                    some[at:end] += worths[i]
            else:
                some[w:] = best[: cap + 1 - w] + worths[i]
                more, copies = demand[i] - 1, 1
                while more > 0:
                    n = min(copies, more)
                    # the sum is a new array, so that no copy goes in twice
                    np.maximum(some[n * w :], some[: cap + 1 - n * w] + n * worths[i], out=some[n * w :])
                    more -= n
                    copies *= 2
            best = np.maximum(best, some - 1.0)
        self._last = best

    def best(self, cap: int) -> Counts:
        """The pattern behind the best worth at `cap`."""
        out: list[tuple[int, int]] = []
        value = float(self._last[cap])
        for i, before in reversed(self._stages):
            if value <= before[cap] + SAME:
                value = float(before[cap])
                continue
            w = self._widths[i]
            most = min(cap // w, self._demand[i])
            n = int(np.argmax(before[cap - w :: -w][:most] + self._worths[i] * np.arange(1, most + 1))) + 1
            cap -= n * w
            value = float(before[cap])
            out.append((i, n))
        return tuple(sorted(out))
