"""Least money first; then fewest settings, a stick's first length not counted, then sticks, then the longest rest.

Order of attack, by the piece alone: the stock-mix bound with quick fillings; where no filling of a mix at the bound
is found, new patterns by column generation and an integer program over sticks, which may raise the bound too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import islice

from bossage.saw.contents.fill import MOST_BEAM_TYPES, Filled, expand, fill_by_length, fill_fullest
from bossage.saw.contents.many import fill_bulk
from bossage.saw.job.numbers import Core
from bossage.saw.job.records import Patience
from bossage.saw.money.bound import Mixes
from bossage.saw.money.solved import Solved, paid

MIXES_COMPARED = 2
BEAM_FIRST = 24  # spans up to which whole lengths are tried before the fullest filling
TAIL_STEPS = 300  # of the walk over the last spans of many
MOST_FULLEST = 400_000_000  # units of wood times types that the fullest filling of many may go through
MIXES_OF_MANY = 2  # mixes of one price tried where the sticks are many
FARTHEST = 64  # prices above the bound that are looked at
PATTERNS_FULL = 150  # sticks up to which the search by patterns has all its patience


def fewest_kinds(core: Core) -> int:
    """Lower bound for Σ over sticks of distinct lengths: each length needs so many sticks, if it had them alone."""
    out = 0
    for w, d in zip(core.widths, core.demand, strict=True):
        most = max((sum(cap // w for cap in b.caps) for b in core.bins), default=0)
        out += -(-d // most) if most else 0
    return out


def fill_mix(core: Core, mixes: Mixes, counts: Sequence[int], patience: Patience, seed: int) -> Filled | None:
    """Fill one mix: whole lengths first, then bounded subset sums; bins are given as indices of the core."""
    sticks = expand(mixes.bins, counts)
    places = {b.stock: k for k, b in enumerate(core.bins)}
    found = None
    spans = sum(len(mixes.bins[b].caps) for b in sticks)
    if len(core.widths) > MOST_BEAM_TYPES and not (patience.settings_steps and spans > BEAM_FIRST):
        found = fill_fullest(mixes.bins, sticks, core.widths, core.demand, min(6, patience.restarts), seed)
    elif spans <= BEAM_FIRST:
        found = fill_by_length(mixes.bins, sticks, core.widths, core.demand)
        if found is None:
            found = fill_fullest(mixes.bins, sticks, core.widths, core.demand, patience.restarts, seed)
    else:
        found = fill_bulk(core, mixes.bins, sticks, min(patience.settings_steps, TAIL_STEPS), seed)
        units = len(core.widths) * sum(sum(mixes.bins[b].caps) for b in sticks)
        if found is None:
            restarts = min(6, patience.restarts, MOST_FULLEST // units)
            found = fill_fullest(mixes.bins, sticks, core.widths, core.demand, restarts, seed)
    if found is None:
        return None
    return Filled(bins=[places[mixes.bins[b].stock] for b in found.bins], spans=found.spans)


def rank(core: Core, filled: Filled) -> tuple[int, int, int]:
    """What is compared at equal money: Σ(k−1) over sticks of k lengths, sticks, and the longest rest (negative)."""
    used = [k for k, stick in enumerate(filled.spans) if any(any(span) for span in stick)]
    longest = max((rest_nm(core, filled.bins[k], filled.spans[k]) for k in used), default=0)
    return filled.kinds() - len(used), len(used), -longest


def rest_nm(core: Core, b: int, spans: list[list[int]]) -> int:
    """What stays in one length after the last cut, the stub in it."""
    last = max(k for k, span in enumerate(spans) if any(span))
    used = sum(w * n for w, n in zip(core.widths, spans[last], strict=True))
    return core.bins[b].length_nm - core.bins[b].starts_nm[last] - core.unit_nm * used


def solve(core: Core, patience: Patience, seed: int) -> Solved:
    """The cheapest contents found, and the proof."""
    mixes = Mixes(core.bins, core.need, extra=2 * max((b.price for b in core.bins), default=0))
    if mixes.bound is None:
        return Solved(filled=None, price=0, bound=0, why="all sticks together hold too little", impossible=True)
    sticks = sum(next(mixes.at_price(mixes.bound, 1), ()))
    best = _best_of_price(core, mixes, mixes.bound, patience, seed)
    if best is None and len(core.widths) <= MOST_BEAM_TYPES:
        best = _dearer(core, mixes, patience, seed, 2 if sticks <= BEAM_FIRST else FARTHEST)
    if best is not None and paid(core.bins, best) <= mixes.bound:
        return Solved(filled=best, price=mixes.bound, bound=mixes.bound, why="stock-mix bound")
    from bossage.saw.money.patterns import solve_by_patterns  # scipy and OR-Tools come with it

    if best is not None and sticks > PATTERNS_FULL:
        share = PATTERNS_FULL / sticks
        patience = replace(patience, rounds=round(patience.rounds * share), dives=max(1, round(patience.dives * share)))
    return solve_by_patterns(core, mixes, best, patience, seed)


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
        if n == MIXES_OF_MANY and sum(counts) > BEAM_FIRST:
            break
        found = fill_mix(core, mixes, counts, patience, seed + n)
        if found is None:
            continue
        if best is None or rank(core, found) < rank(core, best):
            best = found
        tried += 1
        if tried == MIXES_COMPARED or sum(counts) > BEAM_FIRST:
            break
    return best
