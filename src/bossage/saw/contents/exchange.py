"""Simulated annealing: fewer lengths in sticks at the same money, by sharing out the contents of two spans anew.

A step takes two spans and shares out their contents between the two in another way. Up to two lengths may lie in both
spans afterwards, every other length in one of them; within that, the cheapest ways are found exactly, and one of these
is drawn at random. So the walk drifts over plans of equal worth. Now and then a worse plan is taken.

Source: Kirkpatrick, Gelatt and Vecchi 1983.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from bossage.saw.job.contents import Filled
from bossage.saw.job.numbers import Core

MOST_TYPES, MOST_BOTH = 5, 3  # shared out at a time, and those of them in both spans; with more too many ways
WARM, COLD = 0.5, 0.12  # settings more that are taken with a chance of 1/e, at the start and at the end

Span = dict[int, int]  # how many of each type
Place = tuple[int, int]  # stick and span


@dataclass(frozen=True, slots=True)
class Share:
    """One length in two spans: its width, how many there are, and whether it is new to the one and the other stick."""

    width: int
    count: int
    here: bool
    there: bool


def walk(core: Core, filled: Filled, spare: Sequence[int], steps: int, seed: int) -> Filled:
    """The plan with the fewest settings on the way, from the sticks of `filled` and the empty ones of `spare`."""
    state = _Walk(core, filled, spare, random.Random(seed))
    more, least = 0, 0
    for n in range(steps if len(state.places) > 1 else 0):
        more += state.step(WARM * (COLD / WARM) ** (n / steps))
        if more < least:
            least = more
            state.past.clear()
    state.undo()
    return state.filled()


def lengthen(core: Core, filled: Filled, steps: int, seed: int) -> Filled:
    """With no more settings, a longer rest in the stick that has the longest: its last span is emptied bit by bit."""
    state = _Walk(core, filled, (), random.Random(seed))
    if len(state.places) < 2:
        return filled
    at = state.longest()
    for _ in range(steps):
        state.ease(at)
    return state.filled()


class _Walk:
    def __init__(self, core: Core, filled: Filled, spare: Sequence[int], rng: random.Random) -> None:
        self.core, self.rng = core, rng
        self.bins = [*filled.bins, *spare]
        self.spans: list[list[Span]] = [
            [{i: n for i, n in enumerate(span) if n} for span in stick] for stick in filled.spans
        ] + [[{} for _ in core.bins[b].caps] for b in spare]
        self.past: list[tuple[Place, Span]] = []  # what was where, since the best plan
        self.places = [(k, s) for k, stick in enumerate(self.spans) for s in range(len(stick))]

    def filled(self) -> Filled:
        types = range(len(self.core.widths))
        return Filled(
            bins=list(self.bins), spans=[[[span.get(i, 0) for i in types] for span in stick] for stick in self.spans]
        )

    def undo(self) -> None:
        """Back to the best plan so far."""
        for (stick, span), held in reversed(self.past):
            self.spans[stick][span] = held
        self.past.clear()

    def step(self, warmth: float) -> int:
        """Share two spans out anew; returns how many settings more there are."""
        one, two = self.rng.sample(self.places, 2)
        most = 0
        while most < 2 and self.rng.random() < math.exp(-1 / warmth):
            most += 1
        return self._share(one, two, most, lean=False)

    def longest(self) -> Place:
        """The stick with the longest rest, and the last span in it that holds something."""
        ends = [(k, max(s for s, span in enumerate(stick) if span)) for k, stick in enumerate(self.spans) if any(stick)]
        return max(ends, key=lambda end: (self._rest_nm(*end), -end[0]))

    def ease(self, at: Place) -> None:
        """Move what can go from one span to another, at no more settings."""
        other = self.rng.choice(self.places)
        if other[0] == at[0]:
            return
        before = self._load(self.spans[at[0]][at[1]])
        self._share(at, other, 0, lean=True)
        after = self.spans[at[0]][at[1]]
        if after and self._load(after) <= before:
            self.past.clear()
        self.undo()

    def _load(self, span: Span) -> int:
        return sum(self.core.widths[i] * n for i, n in span.items())

    def _rest_nm(self, stick: int, span: int) -> int:
        b = self.core.bins[self.bins[stick]]
        return b.length_nm - b.starts_nm[span] - self.core.unit_nm * self._load(self.spans[stick][span])

    def _share(self, at: Place, other: Place, more: int, lean: bool) -> int:
        (a, s), (b, t) = at, other
        one, two = self.spans[a][s], self.spans[b][t]
        if a == b or not (one or two):
            return 0
        types = self._chosen(one, two)
        near, far = self._others(a, s, types), self._others(b, t, types)
        widths = self.core.widths
        shares = [Share(widths[i], one.get(i, 0) + two.get(i, 0), i not in near, i not in far) for i in types]
        bare = not near, not far
        before = max(0, sum(i in one and i not in near for i in types) - bare[0])
        before += max(0, sum(i in two and i not in far for i in types) - bare[1])
        stay_one = {i: n for i, n in one.items() if i not in types}
        stay_two = {i: n for i, n in two.items() if i not in types}
        caps = (
            self.core.bins[self.bins[a]].caps[s] - self._load(stay_one),
            self.core.bins[self.bins[b]].caps[t] - self._load(stay_two),
        )
        found = share_out(shares, caps, bare, before + more, None if lean else self.rng)
        if found is None:
            return 0
        cost, counts = found
        self.past += [(at, one), (other, two)]
        self.spans[a][s] = stay_one | {i: n for i, n in zip(types, counts, strict=True) if n}
        self.spans[b][t] = stay_two | {
            i: x.count - n for i, n, x in zip(types, counts, shares, strict=True) if x.count > n
        }
        return cost - before

    def _chosen(self, one: Span, two: Span) -> list[int]:
        """The lengths that are shared out: of many those first that lie in both spans, the others stay."""
        types = sorted(one.keys() | two.keys())
        if len(types) > MOST_TYPES:
            both = [i for i in types if i in one and i in two]
            alone = [i for i in types if not (i in one and i in two)]
            chosen = self.rng.sample(both, min(len(both), MOST_BOTH))
            types = [*chosen, *self.rng.sample(alone, min(len(alone), MOST_TYPES - len(chosen)))]
        return types

    def _others(self, stick: int, span: int, types: list[int]) -> set[int]:
        """The lengths in a stick beside those shared out of one of its spans."""
        held = {i for i in self.spans[stick][span] if i not in types}
        return held.union(*(x for k, x in enumerate(self.spans[stick]) if k != span))


@dataclass(frozen=True, slots=True)
class _Way:
    """Which lengths go wholly into the first span, which lie in both, and the load that these have to make there."""

    mine: list[int]
    both: tuple[int, ...]
    low: int
    high: int


def share_out(
    shares: list[Share], caps: tuple[int, int], bare: tuple[bool, bool], most: int, rng: random.Random | None
) -> tuple[int, list[int]] | None:
    """A cheapest way: its settings, at most `most`, and how many of each length go into the first span.

    `bare` says which of the two sticks holds nothing else. Among ways of equal worth one is drawn at random; without
    `rng`, the one that leaves the first span emptiest is taken. None when no way with two lengths or fewer in both
    spans needs so few settings.
    """
    low, high = sum(x.width * x.count for x in shares) - caps[1], caps[0]
    chosen: _Way | None = None
    lightest = 0
    for parted in range(min(3, len(shares) + 1)):
        seen = 0
        for cost, way in _ways(shares, parted, low, high, bare, most):
            if cost > most or (way.both and not _part([shares[k] for k in way.both], way.low, way.high, None)):
                continue
            fresh = cost < most or chosen is None
            if fresh:
                most, seen = cost, 0
            seen += 1
            if rng is not None:
                fresh = rng.random() * seen < 1
            else:
                load = sum(shares[k].width * shares[k].count for k in way.mine) + max(way.low, 0)
                fresh = fresh or load < lightest
                lightest = load if fresh else lightest
            if fresh:
                chosen = way
        if chosen is not None and rng is not None:  # parting more lengths never needs fewer settings
            break
    if chosen is None:
        return None
    counts = [0] * len(shares)
    for k in chosen.mine:
        counts[k] = shares[k].count
    for k, n in zip(chosen.both, _part([shares[k] for k in chosen.both], chosen.low, chosen.high, rng), strict=True):
        counts[k] = n
    return most, counts


def _ways(
    shares: list[Share], parted: int, low: int, high: int, bare: tuple[bool, bool], most: int
) -> Iterator[tuple[int, _Way]]:
    """Ways with `parted` lengths in both spans that need at most `most` settings and could come out even."""
    places = range(len(shares))
    limit = most + bare[0] + bare[1]
    for both in combinations(places, parted):
        base = [shares[k] for k in both]
        if any(x.count < 2 for x in base):
            continue
        least = sum(x.width for x in base)
        reach = sum(x.width * (x.count - 1) for x in base)
        left = sum(x.width * x.count for k, x in enumerate(shares) if k not in both)
        sums: list[tuple[int, int, int, list[int]]] = [(0, sum(x.here for x in base), sum(x.there for x in base), [])]
        for k in places:
            if k in both:
                continue
            x = shares[k]
            size = x.width * x.count
            left -= size
            sums = [
                (load, p, q + x.there, mine)
                for load, p, q, mine in sums
                if p + q + x.there <= limit and load + left + reach >= low
            ] + [
                (load + size, p + x.here, q, [*mine, k])
                for load, p, q, mine in sums
                if p + q + x.here <= limit and load + size + least <= high
            ]
        for load, p, q, mine in sums:
            if load + reach >= low and load + least <= high:
                yield max(0, p - bare[0]) + max(0, q - bare[1]), _Way(mine, both, low - load, high - load)


def _part(both: list[Share], low: int, high: int, rng: random.Random | None) -> tuple[int, ...]:
    """Counts of the parted lengths, some of each on both sides, with a load from `low` to `high`; empty if none does.

    With no lengths to part the load is 0, and () stands for that: the caller has seen to it that 0 does.
    """
    if len(both) == 1:
        (x,) = both
        least, most = max(1, -(-low // x.width)), min(x.count - 1, high // x.width)
        return (_pick(least, most, rng),) if least <= most else ()
    if len(both) == 2:
        x, y = both
        least = max(1, -(-(low - y.width * (y.count - 1)) // x.width))
        most = min(x.count - 1, (high - y.width) // x.width)
        start = _pick(least, most, rng) if least <= most else 0
        for n in (*range(start, most + 1), *range(least, start)):
            a = max(1, -(-(low - n * x.width) // y.width))
            b = min(y.count - 1, (high - n * x.width) // y.width)
            if a <= b:
                return n, _pick(a, b, rng)
    return ()


def _pick(least: int, most: int, rng: random.Random | None) -> int:
    return least if rng is None else rng.randint(least, most)
