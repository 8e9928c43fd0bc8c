"""Least money first; then fewest settings, a stick's first length not counted, then sticks, then the longest rest.

Order of attack, by the piece alone: the stock-mix bound with quick fillings; where no filling of a mix at the bound
is found, new patterns by column generation and an integer program over sticks, which may raise the bound too.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice

from bossage.saw.core import Core
from bossage.saw.fill import MOST_BEAM_TYPES, Filled, expand, fill_by_length, fill_fullest
from bossage.saw.mix import Mixes
from bossage.saw.records import Patience
from bossage.saw.solved import Solved, paid

MIXES_COMPARED = 2
BEAM_FIRST = 24  # spans up to which whole lengths are tried before the fullest filling


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
    if len(core.widths) > MOST_BEAM_TYPES:
        found = fill_fullest(mixes.bins, sticks, core.widths, core.demand, min(6, patience.restarts), seed)
    elif sum(len(mixes.bins[b].caps) for b in sticks) <= BEAM_FIRST:
        found = fill_by_length(mixes.bins, sticks, core.widths, core.demand)
        if found is None:
            found = fill_fullest(mixes.bins, sticks, core.widths, core.demand, patience.restarts, seed)
    else:
        found = fill_bulk(mixes, sticks, core, seed) or fill_fullest(
            mixes.bins, sticks, core.widths, core.demand, patience.restarts, seed
        )
    if found is None:
        return None
    return Filled(bins=[places[mixes.bins[b].stock] for b in found.bins], spans=found.spans)


def fill_bulk(mixes: Mixes, sticks: list[int], core: Core, seed: int) -> Filled | None:
    """Many sticks: patterns of one or two lengths while there is plenty, the beam for the last of them."""
    left = list(core.demand)
    jobs = sorted(range(len(sticks)), key=lambda k: (sum(mixes.bins[sticks[k]].caps), k), reverse=True)
    room = sum(sum(mixes.bins[b].caps) for b in sticks)
    slack = room - core.need
    spans: list[list[list[int]] | None] = [None] * len(sticks)
    keep = BEAM_FIRST
    at = 0
    while at < len(jobs) - keep:
        caps = mixes.bins[sticks[jobs[at]]].caps
        same = at
        while same < len(jobs) - keep and mixes.bins[sticks[jobs[same]]].caps == caps:
            same += 1
        if len(caps) > 1:
            break
        share = slack // max(1, len(jobs) - at)
        pattern = _plain_pattern(core.widths, left, caps[0], share)
        if pattern is None:
            break
        times = min(same - at, *(left[i] // n for i, n in enumerate(pattern) if n))
        # A few at a time, so that no length runs out long before the others.
        times = max(1, times // 2)
        used = sum(w * n for w, n in zip(core.widths, pattern, strict=True))
        for _ in range(times):
            spans[jobs[at]] = [list(pattern)]
            at += 1
        left = [n - times * k for n, k in zip(left, pattern, strict=True)]
        slack -= times * (caps[0] - used)
    rest = sorted(jobs[at:])
    part = [sticks[k] for k in rest]
    end = fill_by_length(mixes.bins, part, core.widths, left) or fill_fullest(
        mixes.bins, part, core.widths, left, 12, seed
    )
    if end is None:
        return None
    for k, contents in zip(rest, end.spans, strict=True):
        spans[k] = contents
    return Filled(bins=list(sticks), spans=[s or [[0] * len(left)] for s in spans])


def _plain_pattern(widths: Sequence[int], left: list[int], cap: int, share: int) -> list[int] | None:
    """One length, or two, that lose no more than a fair share of the slack; the most plentiful lengths first."""
    live = sorted((i for i, n in enumerate(left) if n), key=lambda i: (-widths[i] * left[i], i))
    counts = [0] * len(widths)
    for i in live:
        x = cap // widths[i]
        if x and x <= left[i] and cap - x * widths[i] <= share:
            counts[i] = x
            return counts
    best: tuple[int, int, int, int, int] | None = None
    for a, i in enumerate(live):
        for j in live[a + 1 :]:
            for x in range(min(left[i], cap // widths[i]), 0, -1):
                y = min(left[j], (cap - x * widths[i]) // widths[j])
                lost = cap - x * widths[i] - y * widths[j]
                if y and (best is None or lost < best[0]):
                    best = (lost, i, x, j, y)
            if best is not None and best[0] <= share:
                break
        if best is not None and best[0] <= share:
            break
    if best is None or best[0] > share:
        return None
    counts[best[1]], counts[best[3]] = best[2], best[4]
    return counts


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
    best: Filled | None = None
    price = mixes.bound
    shop = len(core.widths) <= MOST_BEAM_TYPES
    for price in islice(mixes.prices(), 3 if shop else 1):
        best = _best_of_price(core, mixes, price, patience, seed)
        if best is not None:
            break
    if best is not None and paid(core.bins, best) <= mixes.bound:
        return Solved(filled=best, price=mixes.bound, bound=mixes.bound, why="stock-mix bound")
    from bossage.saw.patterns import solve_by_patterns  # scipy and OR-Tools come with it

    return solve_by_patterns(core, mixes, best, patience, seed)


def _best_of_price(core: Core, mixes: Mixes, price: int, patience: Patience, seed: int) -> Filled | None:
    """Over the first mixes of one price that can be filled, the filling that ranks best."""
    best: Filled | None = None
    tried = 0
    for n, counts in enumerate(mixes.at_price(price, patience.mixes)):
        found = fill_mix(core, mixes, counts, patience, seed + n)
        if found is None:
            continue
        if best is None or rank(core, found) < rank(core, best):
            best = found
        tried += 1
        if tried == MIXES_COMPARED or sum(counts) > BEAM_FIRST:
            break
    return best
