"""The least money with its proof: the stock-mix bound, contents at that bound, and column generation where these fail.

At equal money fewest settings count next (a stick's first length not counted), then sticks, then the longest rest.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import islice

from bossage.engines import Engine, first_answer
from bossage.saw.contents.choose import fill_mix
from bossage.saw.job import limits
from bossage.saw.job.contents import Filled, paid, rank
from bossage.saw.job.numbers import Core
from bossage.saw.job.records import Patience
from bossage.saw.money.bound import Mixes
from bossage.saw.money.records import Solved


def solve(core: Core, patience: Patience, seed: int) -> Solved:
    """The cheapest contents found, and the proof."""
    mixes = Mixes(core.bins, core.need, extra=2 * max((b.price for b in core.bins), default=0))
    solved = first_answer(ENGINES, Task(core, mixes, patience, seed))
    assert solved is not None  # the last engine always answers
    return solved


@dataclass(slots=True)
class Task:
    """What every engine is given, and the best contents so far."""

    core: Core
    mixes: Mixes
    patience: Patience
    seed: int
    best: Filled | None = None

    @property
    def sticks(self) -> int:
        """How many sticks the first mix at the bound has."""
        bound = self.mixes.bound
        return 0 if bound is None else sum(next(self.mixes.at_price(bound, 1), ()))

    def at_bound(self) -> Solved | None:
        """The best contents, if they cost no more than the bound."""
        bound = self.mixes.bound
        if bound is None or self.best is None or paid(self.core.bins, self.best) > bound:
            return None
        return Solved(filled=self.best, price=bound, bound=bound, why="stock-mix bound")


def _too_little(task: Task) -> Solved | None:
    if task.mixes.bound is not None:
        return None
    return Solved(filled=None, price=0, bound=0, why="all sticks together hold too little", impossible=True)


def _fill_at_bound(task: Task) -> Solved | None:
    assert task.mixes.bound is not None
    task.best = _best_of_price(task.core, task.mixes, task.mixes.bound, task.patience, task.seed)
    return task.at_bound()


def _fill_above(task: Task) -> Solved | None:
    most = limits.PRICES_OF_FEW if task.sticks <= limits.BEAM_FROM_START else limits.PRICES_OF_MANY
    task.best = _dearer(task.core, task.mixes, task.patience, task.seed, most)
    return task.at_bound()


def _generate(task: Task) -> Solved | None:
    from bossage.saw.money.patterns import solve_by_patterns  # scipy and OR-Tools come with it

    patience, sticks = task.patience, task.sticks
    if task.best is not None and sticks > limits.PATTERNS_FULL:
        share = limits.PATTERNS_FULL / sticks
        patience = replace(patience, rounds=round(patience.rounds * share), dives=max(1, round(patience.dives * share)))
    return solve_by_patterns(task.core, task.mixes, task.best, patience, task.seed)


def _dearer(core: Core, mixes: Mixes, patience: Patience, seed: int, most: int) -> Filled | None:
    """A filling at one of the next prices: in growing strides up to one that comes out, then halving down from it."""
    prices = list(islice(mixes.prices(), most + 1))
    failed, at = 0, 1
    found = None
    while found is None and at < len(prices):
        found = _best_of_price(core, mixes, prices[at], patience, seed)
        if found is None:
            failed, at = at, 2 * at
    while found is not None and at - failed > 1:
        middle = (at + failed) // 2
        cheaper = _best_of_price(core, mixes, prices[middle], patience, seed)
        if cheaper is None:
            failed = middle
        else:
            found, at = cheaper, middle
    return found


def _best_of_price(core: Core, mixes: Mixes, price: int, patience: Patience, seed: int) -> Filled | None:
    """Over the first mixes of one price that can be filled, the filling that ranks best."""
    best: Filled | None = None
    tried = 0
    for n, counts in enumerate(mixes.at_price(price, patience.mixes)):
        if n == limits.MIXES_OF_MANY and sum(counts) > limits.BEAM_FROM_START:
            break
        found = fill_mix(core, mixes.bins, counts, patience, seed + n)
        if found is None:
            continue
        if best is None or rank(core, found) < rank(core, best):
            best = found
        tried += 1
        if tried == limits.MIXES_COMPARED or sum(counts) > limits.BEAM_FROM_START:
            break
    return best


ENGINES: tuple[Engine[Task, Solved], ...] = (
    Engine(
        name="Covering knapsack: the stock-mix bound",
        module="saw/money/bound.py",
        when="All jobs.",
        why="What the stock can hold at most tells at once which prices are out of reach.",
        proof="That all sticks together hold too little; and a lower bound of the money for the rows below.",
        source="Own derivation from the knapsack of Bellman 1957.",
        runs=lambda _: True,
        run=_too_little,
    ),
    Engine(
        name="Contents of a mix at the bound",
        module="saw/contents/choose.py",
        when="All jobs that the stock can hold.",
        why="Where slices are short beside sticks, the bound is nearly always reached, and no solver is loaded.",
        proof="The least money, where the contents cost just the bound.",
        source="As for the engines of contents.",
        runs=lambda _: True,
        run=_fill_at_bound,
    ),
    Engine(
        name="Contents of a mix at one of the next prices",
        module="saw/money/search.py",
        when=f"Up to {limits.BEAM_TYPES_UP_TO} lengths, where no mix at the bound was filled.",
        why="Column generation is quicker from good contents than from none.",
        proof="None by itself: the price stands above the bound.",
        source="Galloping search; Bentley and Yao 1976.",
        runs=lambda task: task.best is None and len(task.core.widths) <= limits.BEAM_TYPES_UP_TO,
        run=_fill_above,
    ),
    Engine(
        name="Column generation, reduced-price fixing, and placement by CP-SAT",
        module="saw/money/patterns.py, saw/money/columns.py, saw/money/within_budget.py, saw/contents/exact.py",
        when=(
            f"All jobs whose contents stay above the bound; above {limits.PATTERNS_FULL} sticks with a share of the "
            f"patience. CP-SAT places every slice up to {limits.PLACED_UP_TO} sticks times lengths and "
            f"{limits.PLACED_STICKS_UP_TO} sticks."
        ),
        why="It finds the contents that filling missed, or raises the bound until it meets them.",
        proof="The least money, where price and bound meet; else both are told.",
        source="Gilmore and Gomory 1961, 1963; Farley 1990 for the bound; Wentges 1997 for smoothing.",
        runs=lambda _: True,
        run=_generate,
    ),
)
