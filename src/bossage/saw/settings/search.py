"""At the money found: the fewest settings, then the fewest sticks, then the longest single rest.

Where every length can lie in one stick and no plan can have fewer settings, all such placings are compared outright.
Else groups of lengths and sticks are looked for, which prove most plans; where they leave a gap, a walk over plans of
that money goes on. On jobs that its work may do for, an integer program decides the rest.
"""

from __future__ import annotations

from dataclasses import dataclass

from bossage.saw.contents.exchange import lengthen, walk
from bossage.saw.contents.fill import Filled
from bossage.saw.job.numbers import Core
from bossage.saw.job.records import Patience
from bossage.saw.money.search import fewest_kinds, rank
from bossage.saw.money.solved import paid
from bossage.saw.settings.fewest import fewest_settings
from bossage.saw.sticks.places import drop_empty

MOST_PLACINGS = 60_000
MOST_STICKS = 24
EASING_STEPS = 200
PLACES_A_WORK = 400  # sticks times types that one unit of work may do for
STATES_A_WORK = 1_200_000  # states of groups times types that one unit may do for, about as much work


@dataclass(slots=True)
class Finished:
    """The better contents, and what of them is proven."""

    filled: Filled
    kinds_proven: bool
    rest_proven: bool


def finish(core: Core, filled: Filled, patience: Patience, seed: int) -> Finished:
    """Improve what is compared at equal money, with proof where the job is small enough."""
    price = paid(core.bins, filled)
    sticks = _candidates(core, price)
    types = len(core.widths)
    if sticks is not None and len(sticks) ** types <= MOST_PLACINGS:
        whole = _whole_lengths(core, sticks, price)
        if whole is not None and rank(core, whole)[0] <= max(0, types - _most_sticks(core, sticks, price)):
            return Finished(whole, True, True)
    least = 0 if sticks is None else max(0, fewest_kinds(core) - _most_sticks(core, sticks, price))
    few = len(filled.bins) <= MOST_STICKS  # of more the program over patterns has made what a walk would not better
    if few:
        filled, least = _grouped(core, filled, least, patience.settings_work)
    if few and rank(core, filled)[0] > least:
        filled = min((filled, _walked(core, filled, patience.settings_steps, seed)), key=lambda f: rank(core, f))
    eased = lengthen(core, drop_empty(filled), min(patience.settings_steps, EASING_STEPS), seed)
    filled = min((filled, eased), key=lambda f: rank(core, f))
    most = patience.settings_work * PLACES_A_WORK
    if sticks is None or len(sticks) > MOST_STICKS or len(sticks) * types > most:
        return Finished(filled, rank(core, filled)[0] <= least, False)
    from bossage.saw.contents.exact import settle

    settled = Finished(*settle(core, sticks, price, filled, patience.settings_work, seed))
    # it need not repeat what groups and halves have proven
    settled.kinds_proven |= rank(core, settled.filled)[0] <= least
    return settled


def _grouped(core: Core, filled: Filled, least: int, work: float) -> tuple[Filled, int]:
    """The better contents, and the better bound on their settings."""
    settings = rank(core, filled)[0]
    if not work or settings <= least:
        return filled, least
    price = paid(core.bins, filled)
    found = fewest_settings(core, price, settings, round(work * STATES_A_WORK / len(core.widths)))
    if found.filled is not None and paid(core.bins, found.filled) == price:
        filled = min(filled, found.filled, key=lambda f: rank(core, f))
    return filled, max(least, found.least)


def _walked(core: Core, filled: Filled, steps: int, seed: int) -> Filled:
    spare = [k for k, b in enumerate(core.bins) if not b.price for _ in range(b.count - filled.bins.count(k))]
    return drop_empty(walk(core, filled, spare[:MOST_STICKS], steps, seed))


def _most_sticks(core: Core, sticks: list[int], price: int) -> int:
    """The most of these sticks that together cost exactly `price`."""
    most = {0: 0}
    for b in sticks:
        cost = core.bins[b].price
        for spent, n in sorted(most.items(), reverse=True):
            if spent + cost <= price:
                most[spent + cost] = max(most.get(spent + cost, 0), n + 1)
    return most.get(price, 0)


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
