"""Reduced-price fixing: all patterns that a plan within a budget can use, and the integer program over them.

Let the worths of lengths be such that no pattern is worth more than its stick. Then the reduced prices of the patterns
of a plan add up to its price less the worth of the demand. So no pattern of a plan within the budget has a reduced
price above that gap. Where few patterns lie below, all of them are listed, and the integer program over the list finds
a plan or proves that there is none. Worths are counted in integers, so that the proof holds to the last digit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from bossage.saw.job.numbers import Bin
from bossage.saw.money.records import Pattern, Worths
from bossage.saw.whole.knapsack import MOST_CELLS, WORTH, Ints, all_worth, whole_tables


@dataclass(frozen=True, slots=True)
class Chosen:
    """What the integer program says: patterns with their counts, or that there is no plan; or the list was too long."""

    verdict: Literal["found", "none", "unknown", "unlisted"]
    chosen: tuple[tuple[Pattern, int], ...] = ()


def patterns_within(
    bins: Sequence[Bin],
    counts: Sequence[int | None],
    widths: Ints,
    demand: Ints,
    worths: Worths,
    budget: int,
    most: int,
    states: int,
) -> list[Pattern] | None:
    """Every pattern of a plan that costs at most `budget`; None when there are more than `most`.

    `states` is how many partial patterns may stand side by side on the way.
    """
    live = np.flatnonzero(demand)
    w, d = widths[live], demand[live]
    caps = [b.caps for b in bins]
    top = max(max(c) for c in caps)
    unit = max(1, -(-(len(live) + 1) * (top + 1) // MOST_CELLS))
    # Widths rounded down let too much in, never too little; the true widths decide at the end.
    slim = np.maximum(w // unit, 1)
    scale = max(1, WORTH // max(1, *(b.price for b in bins)))
    types = np.floor(worths.types[live] * scale).astype(np.int64)
    tolls = [-int(np.floor(-t * scale)) for t in worths.tolls]
    tables = whole_tables(types, slim, d, top // unit)
    if tables is None:
        return None
    fares = [b.price * scale - t for b, t in zip(bins, tolls, strict=True)]
    gains = [[int(tables[0][c // unit]) for c in b.caps] for b in bins]
    usable = [k for k in range(len(bins)) if counts[k] != 0]
    # Rounding can leave a pattern a hair cheaper than nothing; every stick of the plan may then add as much.
    over = max(0, *(sum(gains[k]) - fares[k] for k in usable)) * int(d.sum())
    stock = sum(-tolls[k] * (counts[k] or 0) for k in usable if tolls[k])
    gap = budget * scale + stock - int(types @ d) + over
    out: list[Pattern] = []
    for k in usable:
        least = fares[k] - gap
        rows = _rows(tables, types, slim, w, d, bins[k].caps, unit, gains[k], least, states)
        if rows is None or len(out) + len(rows) > most:
            return None
        for spans in rows:
            out.append(Pattern(k, tuple(_wide(span, live, len(widths)) for span in spans)))
    return out


def _rows(
    tables: NDArray[np.int32],
    types: Ints,
    slim: Ints,
    widths: Ints,
    demand: Ints,
    caps: tuple[int, ...],
    unit: int,
    gains: list[int],
    least: int,
    states: int,
) -> list[tuple[Ints, ...]] | None:
    """Contents by span of one stick worth at least `least`."""
    rows: list[tuple[int, tuple[Ints, ...]]] = [(0, ())]
    for s, cap in enumerate(caps):
        later = sum(gains[s + 1 :])
        need = least - later - (sum(gains[:s]) if s else 0)
        found = all_worth(tables, types, slim, demand, cap // unit, need, states)
        if found is None or len(rows) * found.shape[1] > 4 * states:
            return None
        found = found[:, widths @ found <= cap]
        gained = types @ found
        rows = [
            (worth + int(gained[j]), (*spans, found[:, j]))
            for worth, spans in rows
            for j in range(found.shape[1])
            if worth + gained[j] + later >= least
        ]
    if len(caps) == 1:
        return [spans for _, spans in rows if spans[0].any()]
    return [
        spans
        for worth, spans in rows
        if worth >= least and any(s.any() for s in spans) and (sum(spans) <= demand).all()
    ]


def _wide(span: Ints, live: Ints, types: int) -> tuple[int, ...]:
    full = [0] * types
    for i, n in zip(live, span, strict=True):
        full[int(i)] = int(n)
    return tuple(full)


def choose_patterns(
    bins: Sequence[Bin],
    counts: Sequence[int | None],
    demand: Ints,
    patterns: list[Pattern],
    budget: int,
    nodes: int,
) -> Chosen:
    """Cover the demand exactly with these patterns within the budget (HiGHS; patience in nodes)."""
    if not patterns:
        return Chosen("none")
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_matrix

    live = np.flatnonzero(demand)
    rows = np.array([p.row() for p in patterns], dtype=float).T[live]
    prices = np.array([float(bins[p.bin].price) for p in patterns])
    demands = demand[live].astype(float)
    limits = [LinearConstraint(csr_matrix(rows), demands, demands), LinearConstraint(prices[None, :], 0, budget + 0.5)]
    for b, n in enumerate(counts):
        mine = np.array([float(p.bin == b) for p in patterns])
        if n is not None and mine.any():
            limits.append(LinearConstraint(mine[None, :], 0, n))
    result = milp(
        np.zeros(len(patterns)),
        constraints=limits,
        integrality=np.ones(len(patterns), dtype=np.int64),
        bounds=Bounds(0, np.inf),
        options={"node_limit": nodes},
    )
    if result.status == 2:
        return Chosen("none")
    if result.x is None:
        return Chosen("unknown")
    times = np.round(result.x).astype(np.int64)
    if not (rows @ times == demands).all() or prices @ times > budget:
        return Chosen("unknown")
    return Chosen("found", tuple((patterns[j], int(times[j])) for j in np.flatnonzero(times)))
