"""Where quick filling falls short of the stock-mix bound: patterns by linear programming, and descents through them.

The program's bound may rise above the stock-mix bound. A descent fixes patterns, whole ones first, then the largest
share, and asks for new patterns after each step; it is given up as soon as it cannot beat what is known.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from bossage.saw.columns import Ints, Master, Pattern
from bossage.saw.core import Bin, Core
from bossage.saw.fill import Filled, fill_fullest
from bossage.saw.greedy import first_fit_decreasing
from bossage.saw.mix import Mixes
from bossage.saw.records import Patience
from bossage.saw.solved import Solved

MOST_UNITS = 300_000  # finer units than this make the knapsack tables too long
QUICK_END = 40  # sticks left at which a descent tries to end by subset sums
FIX_FROM = 0.85
CLOSE = 1e-6


@dataclass(slots=True)
class _Search:
    """What a run of descents shares."""

    core: Core
    counts: list[int | None]
    bound: int
    best: Filled | None
    price: float
    pool: list[Pattern]
    work: int  # pricings left
    rng: random.Random
    tables: dict[tuple[int, ...], int] = field(default_factory=dict)

    def take(self, filled: Filled) -> None:
        price = paid(self.core.bins, filled)
        if price < self.price:
            self.best, self.price = filled, price


def paid(bins: Sequence[Bin], filled: Filled) -> int:
    """Price of the sticks that are cut."""
    return sum(bins[b].price for b, s in zip(filled.bins, filled.spans, strict=True) if any(any(x) for x in s))


def solve_by_patterns(core: Core, mixes: Mixes, best: Filled | None, patience: Patience, seed: int) -> Solved:
    """The cheapest contents found, and the better of both bounds."""
    search = _Search(
        core=core,
        counts=[],
        bound=mixes.bound or 0,
        best=best,
        price=paid(core.bins, best) if best is not None else np.inf,
        pool=[],
        work=patience.rounds,
        rng=random.Random(seed),
    )
    loads = first_fit_decreasing(core, tuple(b.price == 0 for b in core.bins), tuple(b.length_nm for b in core.bins))
    if loads is not None:
        search.take(Filled(bins=[load.bin for load in loads], spans=[load.spans for load in loads]))
    why = "stock-mix bound"
    if max(max(b.caps) for b in core.bins) <= MOST_UNITS and len(core.widths) > 1:
        why = _by_program(search, mixes, patience)
    if search.price > search.bound:
        from bossage.saw.exact import cover_by_pool, place_exactly

        if search.pool:
            cover_by_pool(search.core, search.counts, search.pool, search, patience.proof_work)
        if search.price > search.bound:
            verdict = place_exactly(core, search.bound, search.price, patience.proof_work, seed)
            if verdict.filled is not None:
                search.take(verdict.filled)
            if verdict.impossible and search.best is None:
                return Solved(filled=None, price=0, bound=0, why="every filling compared", impossible=True)
            if verdict.bound > search.bound:
                search.bound, why = verdict.bound, "integer program over sticks"
    price = int(search.price) if search.best is not None else 0
    return Solved(filled=search.best, price=price, bound=min(search.bound, price), why=why)


def _by_program(search: _Search, mixes: Mixes, patience: Patience) -> str:
    core = search.core
    search.counts = [_limit(b, search.price) for b in core.bins]
    widths = np.array(core.widths, dtype=np.int64)
    demand = np.array(core.demand, dtype=np.int64)
    master = Master(core.bins, search.counts, widths, demand)
    g = mixes.unit
    low = master.solve(patience.rounds, stop_at=search.price - g + 2 * CLOSE)
    why = "stock-mix bound"
    raised = _next_price(mixes, low - CLOSE * max(1.0, low), search.price)
    if raised > search.bound:
        search.bound, why = raised, "bound of the program over patterns"
    search.pool = [pattern for pattern in master.patterns if pattern is not None]
    for attempt in range(patience.dives):
        if search.price <= search.bound or search.work <= 0:
            break
        _descend(search, master if attempt == 0 else None, attempt)
    return why


def _limit(b: Bin, price: float) -> int | None:
    """The count of a bin, or None where no plan that beats the known one could use so many."""
    if b.price and np.isfinite(price) and b.count * b.price >= price:
        return None
    return b.count


def _next_price(mixes: Mixes, low: float, price: float) -> int:
    """The least price that a mix of sticks can have at or above a bound."""
    if mixes.coarse > 1:
        return int(-(-low // mixes.unit) * mixes.unit)
    for p in mixes.prices():
        if p >= low:
            return p
    return int(price) if np.isfinite(price) else int(low)


def _descend(search: _Search, root: Master | None, attempt: int) -> None:
    """One way down; the first is followed to its end, later ones only while they may reach the bound."""
    core = search.core
    g = 1
    left = np.array(core.demand, dtype=np.int64)
    counts = list(search.counts)
    chosen: list[Pattern] = []
    used = 0
    while left.any():
        live = np.flatnonzero(left)
        if _end_quickly(search, chosen, left, counts, used):
            return
        master = root if root is not None else _residual(search, live, left, counts)
        if root is None:
            before = master.rounds
            goal = (search.price if attempt == 0 else search.bound + g) - used
            low = master.solve(60, stop_at=goal - CLOSE if np.isfinite(goal) else np.inf)
            search.work -= master.rounds - before
            if used + low > (search.price - g if attempt == 0 else search.bound) + CLOSE * 10 or master.short():
                return
            search.pool += _widened(master, live, len(left))
        root = None
        for pattern in _fix(search, master, live, len(left), attempt):
            row = np.sum(np.array(pattern.spans), axis=0)
            stock = counts[pattern.bin]
            if (row > left).any() or stock == 0:
                continue
            times = 1
            left = left - times * row
            if stock is not None:
                counts[pattern.bin] = stock - times
            used += core.bins[pattern.bin].price * times
            chosen += [pattern] * times
        if search.work <= 0 and attempt:
            return
    search.take(_as_filled(chosen))


def _residual(search: _Search, live: Ints, left: Ints, counts: list[int | None]) -> Master:
    """A program over what is left, with the patterns that still fit."""
    core = search.core
    widths = np.array(core.widths, dtype=np.int64)[live]
    bins = [b if counts[k] != 0 else _closed(b) for k, b in enumerate(core.bins)]
    master = Master(bins, counts, widths, left[live])
    rows = np.array([np.sum(np.array(p.spans), axis=0) for p in search.pool])
    fits = np.flatnonzero((rows <= left).all(axis=1))
    for n in fits:
        pattern = search.pool[n]
        if counts[pattern.bin] != 0:
            master.add(Pattern(pattern.bin, tuple(tuple(span[i] for i in live) for span in pattern.spans)))
    return master


def _closed(b: Bin) -> Bin:
    return Bin(stock=b.stock, caps=tuple(0 for _ in b.caps), price=b.price, count=0, fill=0)


def _widened(master: Master, live: Ints, types: int) -> list[Pattern]:
    """New patterns of a residual program in terms of all types."""
    out = []
    for _, pattern in master.chosen():
        out.append(_wide(pattern, live, types))
    return out


def _wide(pattern: Pattern, live: Ints, types: int) -> Pattern:
    if len(live) == types:
        return pattern
    spans = []
    for span in pattern.spans:
        full = [0] * types
        for i, n in zip(live, span, strict=True):
            full[i] = n
        spans.append(tuple(full))
    return Pattern(pattern.bin, tuple(spans))


def _fix(search: _Search, master: Master, live: Ints, types: int, attempt: int) -> list[Pattern]:
    """Patterns to keep: whole ones and nearly whole ones, else one by its share (a random one on later ways)."""
    chosen = master.chosen()
    out: list[Pattern] = []
    for share, pattern in chosen:
        whole = int(share + 1e-6)
        out += [_wide(pattern, live, types)] * whole
        if share - whole > FIX_FROM and attempt < 2:
            out.append(_wide(pattern, live, types))
    if out:
        return out
    if attempt == 0:
        pick = chosen[0][1]
    else:
        weights = [share**3 for share, _ in chosen]
        pick = search.rng.choices([pattern for _, pattern in chosen], weights=weights)[0]
    return [_wide(pick, live, types)]


def _end_quickly(search: _Search, chosen: list[Pattern], left: Ints, counts: list[int | None], used: int) -> bool:
    """Try to fill what is left into sticks of the plain kind that the bound still allows."""
    core = search.core
    budget = search.bound - used
    plain = [(b.price / b.fill, k) for k, b in enumerate(core.bins) if counts[k] is None and b.price]
    if not plain:
        return False
    k = min(plain)[1]
    n = budget // core.bins[k].price
    need = sum(w * int(d) for w, d in zip(core.widths, left, strict=True))
    if not 0 < n <= QUICK_END or n * sum(core.bins[k].caps) < need:
        return False
    live = [i for i, d in enumerate(left) if d]
    end = fill_fullest(
        core.bins,
        [k] * n,
        [core.widths[i] for i in live],
        [int(left[i]) for i in live],
        4,
        search.rng.randrange(1 << 30),
    )
    if end is None:
        return False
    tail = [_wide(Pattern(k, tuple(tuple(s) for s in spans)), np.array(live), len(left)) for spans in end.spans]
    search.take(_as_filled([*chosen, *tail]))
    return True


def _as_filled(chosen: list[Pattern]) -> Filled:
    return Filled(bins=[p.bin for p in chosen], spans=[[list(span) for span in p.spans] for p in chosen])
