"""Bounded subset sums on whole-number bit sets: how full a span can be, and with what."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from bossage.saw.whole.knapsack import Ints

# Above this many units a bit set costs more than it gives; the fill then rounds widths up, never down.
MOST_UNITS = 1 << 21


def largest_sums(widths: Sequence[int], top: int) -> Ints:
    """For each room up to `top`, the largest sum of as many of these widths as one likes that goes in."""
    mask = (1 << (top + 1)) - 1
    bits = 1
    for w in widths:
        bits = reach(bits, w, top // w, mask)
    flags = np.unpackbits(np.frombuffer(bits.to_bytes(top // 8 + 1, "little"), dtype=np.uint8), bitorder="little")
    sums: Ints = np.maximum.accumulate(np.where(flags[: top + 1], np.arange(top + 1), 0))
    return sums


def reach(bits: int, width: int, count: int, mask: int) -> int:
    """All sums of `bits` and up to `count` times `width`, by doubling."""
    step = 1
    while count > 0:
        take = min(step, count)
        bits |= (bits << (width * take)) & mask
        count -= take
        step *= 2
    return bits


def best_fill(widths: Sequence[int], demand: Sequence[int], cap: int) -> int:
    """Largest sum of the demand that is at most `cap` (or `cap` itself, as a bound, where units are too fine)."""
    if cap <= 0 or not widths or min(widths) > cap:
        return 0
    total = sum(w * d for w, d in zip(widths, demand, strict=True))
    if total <= cap:
        return total
    if cap > MOST_UNITS:
        return cap
    mask = (1 << (cap + 1)) - 1
    bits = 1
    for w, d in zip(widths, demand, strict=True):
        if w <= cap:
            bits = reach(bits, w, min(d, cap // w), mask)
            if bits >> cap & 1:
                return cap
    return bits.bit_length() - 1


def fullest(widths: Sequence[int], demand: Sequence[int], cap: int, order: Sequence[int]) -> tuple[int, list[int]]:
    """The fullest filling of one span, types tried in `order`; the last ones in it are preferred.

    Returns the sum and how many of each type.
    """
    counts = [0] * len(widths)
    if cap <= 0:
        return 0, counts
    unit = 1 if cap <= MOST_UNITS else -(-cap // MOST_UNITS)
    room = cap // unit
    mask = (1 << (room + 1)) - 1
    bits = 1
    stages: list[tuple[int, int, int, int]] = []
    for i in order:
        w = -(-widths[i] // unit)
        d = min(demand[i], room // w)
        if d > 0:
            stages.append((i, w, d, bits))
            bits = reach(bits, w, d, mask)
    at = bits.bit_length() - 1
    for i, w, d, before in reversed(stages):
        # As many as can be: every step back must land on a sum that the earlier types reach.
        most = min(d, at // w)
        for k in range(most, -1, -1):
            if before >> (at - k * w) & 1:
                counts[i] = k
                at -= k * w
                break
    return sum(w * c for w, c in zip(widths, counts, strict=True)), counts
