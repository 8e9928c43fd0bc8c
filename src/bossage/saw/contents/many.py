"""Rounding down a linear program: whole multiples of its patterns at once, the last spans by beam, sums and walk."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from bossage.saw.contents.exchange import walk
from bossage.saw.contents.fill import fill_by_length, fill_fullest
from bossage.saw.contents.many_program import PatternUse, pattern_uses
from bossage.saw.job.contents import Filled
from bossage.saw.job.limits import BEAM_SPANS_UP_TO
from bossage.saw.job.numbers import Bin, Core

RELEASED = (0, 1, 2, 4, 8, 16, 32)  # copies of each pattern that are given back to the last spans, until these come out
TAIL_RESTARTS = 12

Spans = list[list[list[int]]]


def fill_bulk(core: Core, bins: Sequence[Bin], sticks: Sequence[int], steps: int, seed: int) -> Filled | None:
    """Fill these sticks (indices of `bins`) with the whole demand; None when the last spans never come out.

    `steps` are those of the walk over the last spans.
    """
    places = sorted((cap, at, s) for at, b in enumerate(sticks) for s, cap in enumerate(bins[b].caps))
    by_cap = {cap: [(at, s) for _, at, s in group] for cap, group in groupby(places, key=lambda place: place[0])}
    caps = list(by_cap)
    plan = pattern_uses(core.widths, core.demand, caps, [len(by_cap[cap]) for cap in caps])
    for released in RELEASED if plan else ():
        spans: Spans = [[[0] * len(core.widths) for _ in bins[b].caps] for b in sticks]
        left, rest = _cut_multiples(core, plan, released, caps, by_cap, spans)
        done = _fill_rest(core, rest, left, steps, seed)
        if done is not None:
            for (_, at, s), counts in zip(rest, done, strict=True):
                spans[at][s] = counts
            return Filled(bins=list(sticks), spans=spans)
    return None


def _cut_multiples(
    core: Core,
    plan: list[PatternUse],
    released: int,
    caps: list[int],
    by_cap: dict[int, list[tuple[int, int]]],
    spans: Spans,
) -> tuple[list[int], list[tuple[int, int, int]]]:
    """Cut whole multiples of the patterns; returns the demand and the spans that are left."""
    left = list(core.demand)
    free = [list(by_cap[cap]) for cap in caps]
    for share in sorted(plan, key=lambda s: (-s.times, s.kind, s.counts)):
        times = min(int(share.times + 1e-6) - released, *(left[i] // n for i, n in share.counts))
        for _ in range(times):
            at, s = free[share.kind].pop()
            for i, n in share.counts:
                spans[at][s][i] = n
        if times > 0:
            for i, n in share.counts:
                left[i] -= n * times
    return left, sorted((cap, at, s) for cap, places in zip(caps, free, strict=True) for at, s in places)


def _fill_rest(
    core: Core, rest: list[tuple[int, int, int]], left: list[int], steps: int, seed: int
) -> list[list[int]] | None:
    """The last spans, as if each were a stick; small ones first, as `rest` has them."""
    kinds = sorted({cap for cap, _, _ in rest})
    bins = [Bin(stock=k, caps=(cap,), price=1, count=len(rest), fill=cap, length_nm=cap) for k, cap in enumerate(kinds)]
    sticks = [kinds.index(cap) for cap, _, _ in rest]
    found = None
    if len(rest) <= BEAM_SPANS_UP_TO:
        found = fill_by_length(bins, sticks, core.widths, left)
    if found is None:
        found = fill_fullest(bins, sticks, core.widths, left, TAIL_RESTARTS, seed)
    if found is None:
        return None
    alone = Core(
        unit_nm=1, lengths_nm=core.widths, widths=core.widths, demand=tuple(left), bins=tuple(bins), priced=True
    )
    return [stick[0] for stick in walk(alone, found, (), steps, seed).spans]
