"""Column generation with descents, for jobs whose filling stays above the stock-mix bound.

The program's bound may be higher than the stock-mix bound. A descent fixes patterns: first those that the solution
uses a whole number of times, then by their share. After each step it asks for new patterns. It is given up as soon as
it cannot reach the price that is sought. Where few patterns can belong to a plan of that price, an integer program
over all of them decides.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field

import numpy as np

from bossage.saw.job.contents import Filled, paid
from bossage.saw.job.first_fit import first_fit_decreasing
from bossage.saw.job.limits import PLACED_UP_TO
from bossage.saw.job.numbers import Bin, Core
from bossage.saw.job.records import Patience
from bossage.saw.money.bound import Mixes
from bossage.saw.money.columns import Master
from bossage.saw.money.records import Pattern, Solved, Worths
from bossage.saw.money.within_budget import Chosen, choose_patterns, patterns_within
from bossage.saw.whole.knapsack import Ints

CLOSE = 1e-6
NEARLY = 0.8  # a share from which the first descent takes a pattern as whole
NEARLY_LATER = 0.9
ROOT_PATTERNS = 6_000  # patterns that an integer program is given, for the whole demand
TAIL_PATTERNS = 3_000  # and for what a descent has left
BLENDED = 4  # further worths of the whole demand that are tried
STATES = 30_000  # partial patterns at which a listing is given up
TAIL_FROM, TAIL_STEP = 0.25, 0.1  # shares of the budget spent at which a descent looks for its end
TAIL_NODES = 300
NODES = 80  # nodes of the integer program for each unit of proof work


@dataclass(slots=True)
class _Search:
    """What the descents share."""

    core: Core
    mixes: Mixes
    counts: list[int | None]
    widths: Ints
    demand: Ints
    bound: int
    best: Filled | None
    price: float
    work: float
    nodes: int
    rng: random.Random
    why: str = "stock-mix bound"
    worths: list[Worths] = field(default_factory=list)  # of the whole demand

    def take(self, chosen: list[Pattern]) -> None:
        filled = Filled(bins=[p.bin for p in chosen], spans=[[list(span) for span in p.spans] for p in chosen])
        self.take_filled(filled)

    def take_filled(self, filled: Filled) -> None:
        price = paid(self.core.bins, filled)
        if price < self.price:
            self.best, self.price = filled, price

    def raise_bound(self, low: float, why: str) -> None:
        """The least price that a mix of sticks can have at or above `low`."""
        raised = _next_price(self.mixes, low, self.price)
        if raised > self.bound:
            self.bound, self.why = raised, why

    @property
    def done(self) -> bool:
        return self.price <= self.bound


def solve_by_patterns(core: Core, mixes: Mixes, best: Filled | None, patience: Patience, seed: int) -> Solved:
    """The cheapest contents found, and the better of both bounds."""
    price = paid(core.bins, best) if best is not None else np.inf
    search = _Search(
        core=core,
        mixes=mixes,
        counts=[_limit(b, price) for b in core.bins],
        widths=np.array(core.widths, dtype=np.int64),
        demand=np.array(core.demand, dtype=np.int64),
        bound=mixes.bound or 0,
        best=best,
        price=price,
        work=float(patience.rounds),
        nodes=max(1, round(NODES * patience.proof_work)),
        rng=random.Random(seed),
    )
    loads = first_fit_decreasing(core, tuple(b.price == 0 for b in core.bins), tuple(b.length_nm for b in core.bins))
    if loads is not None:
        search.take_filled(Filled(bins=[load.bin for load in loads], spans=[load.spans for load in loads]))
    if not search.done and len(core.widths) > 1:
        _by_program(search, patience.dives)
    if not search.done:
        from bossage.saw.contents.exact import place_exactly

        verdict = place_exactly(core, search.bound, search.price, PLACED_UP_TO, patience.proof_work, seed)
        if verdict.filled is not None:
            search.take_filled(verdict.filled)
        if verdict.impossible and search.best is None:
            return Solved(filled=None, price=0, bound=0, why="every filling compared", impossible=True)
        if verdict.bound > search.bound:
            search.bound, search.why = verdict.bound, "integer program over sticks"
    found = int(search.price) if search.best is not None else 0
    return Solved(filled=search.best, price=found, bound=min(search.bound, found), why=search.why)


def _by_program(search: _Search, dives: int) -> None:
    """Descents and listings in turn, until the price meets the bound or patience ends."""
    master = Master(search.core.bins, search.counts, search.widths, search.demand)
    step = search.mixes.unit * search.mixes.coarse
    # The first descent needs no more than a program at the bound. Only where it fails are the worths worked out.
    master.solve(search.work, enough=search.bound * (1 - 1e-7), stop_at=search.price - step + CLOSE)
    _note(search, master)
    spent = master.work + search.work
    listed = -1
    for attempt in range(dives):
        if search.done or (attempt and master.work > spent):
            return
        _descend(search, master, attempt)
        if not search.done and search.bound > listed:
            listed = _list_all(search, master, spent)


def _note(search: _Search, master: Master) -> None:
    """Keep the worths of the whole demand, and what they prove."""
    if master.best is not None:
        search.worths.append(master.best)
        search.raise_bound(_less_a_hair(master.best.value), "bound of the program over patterns")


def _list_all(search: _Search, master: Master, spent: float) -> int:
    """Decide by all patterns of a plan at the bound where they are few; returns the bound that was looked at."""
    master.restrict(search.demand, search.counts)
    master.solve(max(1.0, spent - master.work), center=search.worths[0] if search.worths else None)
    _note(search, master)
    scales = (0.0, *(10.0**-k for k in range(3, 3 + BLENDED)))
    for scale in scales:
        if search.done:
            break
        if scale:
            # Worths from other corners of the same optimum: their mean bars more patterns than each of them.
            nudge = np.array([1 + search.rng.uniform(-scale, scale) for _ in search.demand])
            master.restrict(search.demand, search.counts, nudge)
            master.solve(max(1.0, spent - master.work))
            if master.best is None:
                continue
            search.worths.append(master.valued(master.best, search.demand))
        for worths in (search.worths[0], search.worths[-1], blend(search.worths)) if search.worths else ():
            answer = _decide(search, search.demand, search.counts, worths, search.bound, ROOT_PATTERNS, search.nodes)
            if answer.verdict == "found":
                search.take([pattern for pattern, n in answer.chosen for _ in range(n)])
            if answer.verdict == "none":
                search.raise_bound(search.bound + CLOSE, "all patterns of a cheaper plan compared")
            if answer.verdict != "unlisted":
                return search.bound
    return search.bound


def blend(worths: list[Worths]) -> Worths:
    """The mean of worths that no pattern beats is not beaten either."""
    n = len(worths)
    return Worths(
        np.sum([w.types for w in worths], axis=0) / n,
        np.sum([w.tolls for w in worths], axis=0) / n,
        sum(w.value for w in worths) / n,
    )


def _decide(
    search: _Search,
    left: Ints,
    counts: list[int | None],
    worths: Worths,
    budget: int,
    most: int,
    nodes: int,
) -> Chosen:
    listed = patterns_within(search.core.bins, counts, search.widths, left, worths, budget, most, STATES)
    if listed is None:
        return Chosen("unlisted")
    return choose_patterns(search.core.bins, counts, left, listed, budget, nodes)


def _less_a_hair(low: float) -> float:
    return low - CLOSE * max(1.0, low)


def _limit(b: Bin, price: float) -> int | None:
    """The count of a bin, or None where no plan that beats the known one could use so many."""
    if b.price and np.isfinite(price) and b.count * b.price >= price:
        return None
    return b.count


def _next_price(mixes: Mixes, low: float, price: float) -> int:
    if mixes.coarse > 1:
        return int(-(-low // mixes.unit) * mixes.unit)
    for p in mixes.prices():
        if p >= low:
            return p
    return int(price) if np.isfinite(price) else int(np.ceil(low))


def _descend(search: _Search, master: Master, attempt: int) -> None:
    """One way down. The first goes on while it may beat what is known, later ones while they may reach the bound."""
    bins = search.core.bins
    left, counts = search.demand.copy(), list(search.counts)
    chosen: list[Pattern] = []
    used, looked = 0, TAIL_FROM
    while left.any():
        ceiling: float = search.bound
        master.restrict(left, counts)
        master.solve(search.work, enough=search.bound - used + CLOSE, stop_at=search.bound - used + 2 * CLOSE)
        if master.value > search.bound - used + CLOSE:
            if attempt or not search.price > search.bound + search.mixes.unit:
                return
            ceiling = search.price - search.mixes.unit if np.isfinite(search.price) else np.inf
            master.solve(search.work, enough=ceiling - used + CLOSE, stop_at=ceiling - used + 2 * CLOSE)
            if master.value > ceiling - used + CLOSE:
                return
        if master.short():
            return
        if used >= looked * search.bound and ceiling == search.bound:
            looked = used / max(1, search.bound) + TAIL_STEP
            answer = _decide(
                search,
                left,
                counts,
                master.unbeaten(),
                search.bound - used,
                TAIL_PATTERNS,
                min(TAIL_NODES, search.nodes),
            )
            if answer.verdict == "found":
                search.take([*chosen, *(pattern for pattern, n in answer.chosen for _ in range(n))])
            if answer.verdict in ("found", "none"):
                return
        for j, times in _fix(search, master, left, counts, attempt):
            pattern = master.patterns[j]
            left = left - times * master.matrix[:, j]
            stock = counts[pattern.bin]
            if stock is not None:
                counts[pattern.bin] = stock - times
            used += bins[pattern.bin].price * times
            chosen += [pattern] * times
    search.take(chosen)


def _fix(search: _Search, master: Master, left: Ints, counts: list[int | None], attempt: int) -> list[tuple[int, int]]:
    """Patterns to keep: whole ones and nearly whole ones, else one by its share (a random one on later ways)."""
    shares = master.shares()
    room, stock = left.copy(), list(counts)
    out: list[tuple[int, int]] = []

    def keep(j: int, times: int) -> None:
        row, b = master.matrix[:, j], master.patterns[j].bin
        some = row > 0
        times = min(times, int((room[some] // row[some]).min()))
        limit = stock[b]
        if limit is not None:
            times = min(times, limit)
            stock[b] = limit - times
        if times > 0:
            room[:] -= times * row
            out.append((j, times))

    order = np.argsort(-shares, kind="stable")
    whole = np.floor(shares + 1e-6).astype(np.int64)
    full = [int(j) for j in order if whole[j]]
    if attempt and full:
        # Later ways part from the first early on.
        search.rng.shuffle(full)
        full = full[: max(1, round(len(full) * search.rng.uniform(0.2, 0.9)))]
    for j in full:
        keep(j, int(whole[j]))
    rest = shares - whole
    for j in np.argsort(-rest, kind="stable"):
        if rest[j] < (NEARLY_LATER if attempt else NEARLY):
            break
        keep(int(j), 1)
    if out:
        return out
    if attempt == 0:
        keep(int(np.argmax(rest)), 1)
    else:
        some = np.flatnonzero(rest > 1e-6)
        keep(int(search.rng.choices(some.tolist(), weights=(rest[some] ** 3).tolist())[0]), 1)
    return out
