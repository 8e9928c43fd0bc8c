"""Filling a given mix of sticks with the demand, exactly, with few lengths in a stick.

Two ways: a beam search that finishes whole lengths in a stick and carries at most one or two on (few settings),
and bounded subset sums to the fullest with a cap on each length's share (little waste), restarted with random caps.
A stick with zones is filled span by span.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from bossage.saw.core import Bin
from bossage.saw.subset import fullest

BEAM_WIDTH = 20
SUBSETS = 40
PAIRED = 8  # subsets that are also filled up with two lengths
MOST_BEAM_TYPES = 24
MOST_BEAM_SPANS = 48


@dataclass(slots=True)
class Filled:
    """Contents by stick: which bin, and for each span how many of each type."""

    bins: list[int]
    spans: list[list[list[int]]]

    def kinds(self) -> int:
        """Σ over sticks of distinct lengths."""
        return sum(len({i for span in stick for i, n in enumerate(span) if n}) for stick in self.spans)


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
    left: tuple[int, ...]
    need: int
    space: int
    splits: int
    past: tuple[tuple[int, tuple[int, ...]], ...]  # (job, counts) chain


def fill_by_length(
    bins: Sequence[Bin],
    sticks: Sequence[int],
    widths: Sequence[int],
    demand: Sequence[int],
    width: int = BEAM_WIDTH,
) -> Filled | None:
    """Finish whole lengths in each stick and carry few on, by beam search; None when the beam runs dry."""
    jobs = [(cap, at, s) for at, b in enumerate(sticks) for s, cap in enumerate(bins[b].caps)]
    if len(jobs) > MOST_BEAM_SPANS or len(widths) > MOST_BEAM_TYPES:
        return None
    need = sum(w * d for w, d in zip(widths, demand, strict=True))
    beam = [_State(tuple(demand), need, sum(cap for cap, _, _ in jobs), 0, ())]
    for index, (cap, _, _) in enumerate(jobs):
        following: dict[tuple[int, ...], _State] = {}
        for state in beam:
            slack = state.space - state.need
            for counts, used, splits in _patterns(widths, state.left, cap, slack):
                left = tuple(n - k for n, k in zip(state.left, counts, strict=True))
                new = _State(
                    left, state.need - used, state.space - cap, state.splits + splits, (*state.past, (index, counts))
                )
                old = following.get(left)
                if old is None or new.splits < old.splits:
                    following[left] = new
        beam = sorted(following.values(), key=lambda t: (t.splits, t.need, t.left))[:width]
        if not beam:
            return None
    best = beam[0]
    if best.need:
        return None
    spans = [[[0] * len(widths) for _ in bins[b].caps] for b in sticks]
    for index, counts in best.past:
        _, at, s = jobs[index]
        spans[at][s] = list(counts)
    return Filled(bins=list(sticks), spans=spans)


def _patterns(
    widths: Sequence[int], left: tuple[int, ...], cap: int, slack: int
) -> list[tuple[tuple[int, ...], int, int]]:
    """Ways to fill one span within the slack: counts, sum, and how many lengths are carried on."""
    total = sum(w * n for w, n in zip(widths, left, strict=True))
    if total <= cap:
        return [(left, total, 0)]
    live = sorted((i for i, n in enumerate(left) if n), key=lambda i: (-widths[i] * left[i], i))
    out: list[tuple[tuple[int, ...], int, int]] = []
    # The empty span is a pattern too, where the slack allows it.
    stack: list[tuple[int, tuple[int, ...], int]] = [(0, (), 0)]
    seen = 0
    while stack and seen < SUBSETS:
        at, chosen, used = stack.pop()
        if at == len(live):
            seen += 1
            _complete(widths, left, live, chosen, used, cap, slack, out, pairs=seen <= PAIRED)
            continue
        size = widths[live[at]] * left[live[at]]
        stack.append((at + 1, chosen, used))
        if used + size <= cap:
            stack.append((at + 1, (*chosen, live[at]), used + size))
    return out


def _complete(
    widths: Sequence[int],
    left: tuple[int, ...],
    live: list[int],
    chosen: tuple[int, ...],
    used: int,
    cap: int,
    slack: int,
    out: list[tuple[tuple[int, ...], int, int]],
    pairs: bool,
) -> None:
    base = [0] * len(widths)
    for i in chosen:
        base[i] = left[i]
    room = cap - used
    if room <= slack:
        out.append((tuple(base), used, 0))
    rest = [i for i in live if i not in chosen]
    tight: list[tuple[int, int, int, int, int]] = []
    one = False
    for i in rest:
        x = min(left[i] - 1, room // widths[i])
        lost = room - x * widths[i]
        if x and lost <= slack:
            one = True
            counts = base.copy()
            counts[i] = x
            out.append((tuple(counts), used + x * widths[i], 1))
    if one or not pairs:
        return
    for a, i in enumerate(rest):
        for j in rest[a + 1 :]:
            best: tuple[int, int, int] | None = None
            for x in range(min(left[i], room // widths[i]), 0, -1):
                y = min(left[j], (room - x * widths[i]) // widths[j])
                lost = room - x * widths[i] - y * widths[j]
                if y and (best is None or lost < best[0]):
                    best = (lost, x, y)
            if best is not None and best[0] <= slack:
                tight.append((best[0], i, best[1], j, best[2]))
    for lost, i, x, j, y in sorted(tight)[:6]:
        counts = base.copy()
        counts[i], counts[j] = x, y
        out.append((tuple(counts), used + room - lost, 2 - (x == left[i]) - (y == left[j])))
