"""Beam search and bounded subset sums: given sticks filled with the whole demand, few lengths in a stick.

The beam search finishes whole lengths in a stick and carries at most one or two on, which gives few settings. The
subset sums fill each span as full as can be, with a cap on each length's share; they are restarted with random caps,
and lose little wood. A stick with zones is filled span by span.

Source: Bellman 1957 for the sums; the beam is our own.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from heapq import nsmallest

import numpy as np

from bossage.saw.job.contents import Filled
from bossage.saw.job.limits import BEAM_SPANS_UP_TO, BEAM_TYPES_UP_TO
from bossage.saw.job.numbers import Bin
from bossage.saw.whole.subset_sums import fullest

BEAM_WIDTH = 20
SUBSETS = 40
PAIRED = 8  # subsets that are also filled up with two lengths
PAIRS_KEPT = 6  # of these the tightest


def expand(bins: Sequence[Bin], counts: Sequence[int]) -> list[int]:
    """Indices of the sticks of a mix, small ones first, so that the last and largest takes the slack."""
    order = sorted(range(len(bins)), key=lambda b: (sum(bins[b].caps), len(bins[b].caps), b))
    return [b for b in order for _ in range(counts[b])]


def fill_fullest(
    bins: Sequence[Bin],
    sticks: Sequence[int],
    widths: Sequence[int],
    demand: Sequence[int],
    restarts: int,
    seed: int,
) -> Filled | None:
    """Each span to its fullest, each length held to some times its share; None when every restart is left with some."""
    rng = random.Random(seed)
    jobs = sorted(
        ((cap, at, s) for at, b in enumerate(sticks) for s, cap in enumerate(bins[b].caps)),
        key=lambda job: (job[0], job[1], job[2]),
    )
    room = sum(cap for cap, _, _ in jobs)
    by_width = sorted(range(len(widths)), key=lambda i: widths[i])
    for attempt in range(restarts):
        factor = (1.5, 3.0, 1e9)[attempt] if attempt < 3 else rng.uniform(1.2, 6.0)
        left = list(demand)
        need, space = sum(w * d for w, d in zip(widths, demand, strict=True)), room
        spans = [[[0] * len(widths) for _ in bins[b].caps] for b in sticks]
        for cap, at, s in jobs:
            if not need:
                break
            order = by_width if attempt < 3 else rng.sample(by_width, len(by_width))
            share = min(1.0, factor * cap / max(space, 1))
            offered = left if need <= cap else [min(n, int(n * share) + 2) for n in left]
            used, counts = fullest(widths, offered, cap, order)
            spans[at][s] = counts
            left = [n - k for n, k in zip(left, counts, strict=True)]
            need -= used
            space -= cap
            if need > space:
                break
        if not need:
            return Filled(bins=list(sticks), spans=spans)
    return None


@dataclass(frozen=True, slots=True)
class _State:
    """What is left as one number: counts are its digits, the first type's the highest."""

    key: int
    need: int
    splits: int
    parent: _State | None
    taken: int  # the span's contents, as digits too


def fill_by_length(
    bins: Sequence[Bin],
    sticks: Sequence[int],
    widths: Sequence[int],
    demand: Sequence[int],
    width: int = BEAM_WIDTH,
) -> Filled | None:
    """Finish whole lengths in each stick and carry few on, by beam search; None when the beam runs dry."""
    jobs = [(cap, at, s) for at, b in enumerate(sticks) for s, cap in enumerate(bins[b].caps)]
    if len(jobs) > BEAM_SPANS_UP_TO or sum(map(bool, demand)) > BEAM_TYPES_UP_TO:
        return None
    digits = _Digits(demand)
    need = sum(w * d for w, d in zip(widths, demand, strict=True))
    space = sum(cap for cap, _, _ in jobs)
    beam = [_State(digits.key(demand), need, 0, None, 0)]
    for cap, _, _ in jobs:
        following: dict[int, tuple[int, int, int, _State, int]] = {}
        for state in beam:
            key, splits, need = state.key, state.splits, state.need
            for taken, used, more in _patterns(widths, digits, digits.counts(key), need, cap, space - need):
                old = following.get(key - taken)
                if old is None or splits + more < old[0]:
                    following[key - taken] = (splits + more, need - used, key - taken, state, taken)
        space -= cap
        beam = [_State(k, n, s, parent, t) for s, n, k, parent, t in nsmallest(width, following.values())]
        if not beam:
            return None
    if beam[0].need:
        return None
    spans = [[[0] * len(widths) for _ in bins[b].caps] for b in sticks]
    state = beam[0]
    for _, at, s in reversed(jobs):
        spans[at][s] = digits.counts(state.taken)
        assert state.parent is not None
        state = state.parent
    return Filled(bins=list(sticks), spans=spans)


class _Digits:
    """Counts up to the demand as the digits of one number."""

    def __init__(self, demand: Sequence[int]) -> None:
        self.bases = [d + 1 for d in demand]
        self.places = [1] * len(demand)
        for i in range(len(demand) - 1, 0, -1):
            self.places[i - 1] = self.places[i] * self.bases[i]

    def key(self, counts: Sequence[int]) -> int:
        return sum(n * place for n, place in zip(counts, self.places, strict=True))

    def counts(self, key: int) -> list[int]:
        return [key // place % base for place, base in zip(self.places, self.bases, strict=True)]


def _patterns(
    widths: Sequence[int], digits: _Digits, left: list[int], need: int, cap: int, slack: int
) -> list[tuple[int, int, int]]:
    """Ways to fill one span within the slack: contents as digits, their sum, and how many lengths are carried on."""
    if need <= cap:
        return [(digits.key(left), need, 0)]
    live = sorted((i for i, n in enumerate(left) if n), key=lambda i: (-widths[i] * left[i], i))
    sizes = [widths[i] * left[i] for i in live]
    out: list[tuple[int, int, int]] = []
    # The empty span is a pattern too, where the slack allows it.
    stack: list[tuple[int, tuple[int, ...], int]] = [(0, (), 0)]
    seen = 0
    while stack and seen < SUBSETS:
        at, chosen, used = stack.pop()
        while at < len(live):
            if used + sizes[at] <= cap:
                stack.append((at + 1, chosen, used))
                chosen, used = (*chosen, live[at]), used + sizes[at]
            at += 1
        seen += 1
        _complete(widths, digits, left, live, chosen, used, cap, slack, out, pairs=seen <= PAIRED)
    return out


def _complete(
    widths: Sequence[int],
    digits: _Digits,
    left: list[int],
    live: list[int],
    chosen: tuple[int, ...],
    used: int,
    cap: int,
    slack: int,
    out: list[tuple[int, int, int]],
    pairs: bool,
) -> None:
    places = digits.places
    base = sum([left[i] * places[i] for i in chosen])
    room = cap - used
    if room <= slack:
        out.append((base, used, 0))
    rest = [i for i in live if i not in chosen]
    one = False
    for i in rest:
        w = widths[i]
        x = room // w
        if x >= left[i]:
            x = left[i] - 1
        if x and room - x * w <= slack:
            one = True
            out.append((base + x * places[i], used + x * w, 1))
    if one or not pairs:
        return
    for lost, i, x, j, y in _tight_pairs(widths, left, rest, room, slack):
        out.append((base + x * places[i] + y * places[j], used + room - lost, 2 - (x == left[i]) - (y == left[j])))


def _tight_pairs(
    widths: Sequence[int], left: list[int], rest: list[int], room: int, slack: int
) -> list[tuple[int, int, int, int, int]]:
    """The pairs of lengths that can fill the room best, each by its tightest split, if that is within the slack."""
    some = [i for i in rest if widths[i] <= room]
    if len(some) < 2:
        return []
    w, most = np.array([widths[i] for i in some]), np.array([left[i] for i in some])
    splits = np.minimum(most, room // w)[:-1]
    starts = np.r_[0, np.cumsum(splits)[:-1]]
    first = np.repeat(np.arange(len(splits)), splits)
    x = splits[first] - np.arange(len(first)) + starts[first]  # of each first length the most first
    free = (room - x * w[first])[:, None]
    y = np.minimum(free // w, most)
    lost = np.where((y > 0) & (np.arange(len(some)) > first[:, None]), free - y * w, slack + 1)
    least = np.minimum.reduceat(lost, starts, axis=0)
    a, b = np.nonzero(least <= slack)
    found = sorted(zip(least[a, b].tolist(), (some[k] for k in a), (some[k] for k in b), a, b, strict=True))
    out: list[tuple[int, int, int, int, int]] = []
    for loss, i, j, k, m in found[:PAIRS_KEPT]:
        row = int(starts[k]) + int(np.argmax(lost[starts[k] : starts[k] + splits[k], m] == loss))
        out.append((loss, i, int(x[row]), j, int(y[row, m])))
    return out
