"""At the money found: the fewest lengths in sticks, then the fewest sticks, then the longest single rest, exactly.

Where every length can lie in one stick, all such placings are compared outright; else an integer program decides.
"""

from __future__ import annotations

from dataclasses import dataclass

from bossage.saw.core import Core
from bossage.saw.engine import fewest_kinds, rank
from bossage.saw.fill import Filled

MOST_PLACINGS = 60_000
MOST_STICKS = 24


@dataclass(slots=True)
class Finished:
    """The better contents, and what of them is proven."""

    filled: Filled
    kinds_proven: bool
    rest_proven: bool


def finish(core: Core, filled: Filled, price: int, work: float, seed: int) -> Finished:
    """Improve what is compared at equal money, with proof where the job is small enough."""
    kinds = rank(core, filled)[0]
    floor = fewest_kinds(core)
    sticks = _candidates(core, price)
    if sticks is not None and len(sticks) ** len(core.widths) <= MOST_PLACINGS and floor >= len(core.widths):
        whole = _whole_lengths(core, sticks, price)
        if whole is not None:
            return Finished(whole if rank(core, whole) < rank(core, filled) else filled, True, True)
    if work <= 0 or sticks is None or len(sticks) > MOST_STICKS:
        return Finished(filled, kinds <= floor, False)
    from bossage.saw.exact import settle

    return Finished(*settle(core, sticks, price, filled, work, seed))


def _candidates(core: Core, price: int) -> list[int] | None:
    out: list[int] = []
    for k, b in enumerate(core.bins):
        out += [k] * (min(b.count, price // b.price) if b.price else b.count)
        if len(out) > MOST_STICKS:
            return None
    return out


def _whole_lengths(core: Core, sticks: list[int], price: int) -> Filled | None:
    """The best placing with each length wholly in one span of one stick; None when there is none at this price."""
    best: tuple[tuple[int, int, int], Filled] | None = None
    spans = [(k, s, cap) for k, b in enumerate(sticks) for s, cap in enumerate(core.bins[b].caps)]
    if len(spans) != len(sticks):
        return None
    sizes = [w * d for w, d in zip(core.widths, core.demand, strict=True)]
    room = [cap for _, _, cap in spans]
    homes = [-1] * len(sizes)

    def place(i: int) -> None:
        nonlocal best
        if i == len(sizes):
            used = sorted(set(homes))
            if sum(core.bins[sticks[k]].price for k in used) != price:
                return
            contents = [[[core.demand[j] if homes[j] == k else 0 for j in range(len(sizes))]] for k in used]
            found = Filled(bins=[sticks[k] for k in used], spans=contents)
            value = rank(core, found)
            if best is None or value < best[0]:
                best = (value, found)
            return
        for k in range(len(sticks)):
            # Of equal empty sticks only the first.
            if k and sticks[k] == sticks[k - 1] and k - 1 not in homes[:i]:
                continue
            if sizes[i] <= room[k]:
                homes[i] = k
                room[k] -= sizes[i]
                place(i + 1)
                room[k] += sizes[i]
                homes[i] = -1

    place(0)
    return best[1] if best is not None else None
