"""Branching by settings: the fewest at a given price, over its mixes of sticks, with the bound that this proves.

Numbers of settings are looked at one after another, upwards. For each number, groups of lengths and sticks are tried
first; they decide most jobs. Where groups cannot decide, and wood is scarce, the contents of half of the sticks are
compared with those of the other half.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import islice

from bossage.saw.job.contents import Filled
from bossage.saw.job.limits import GROUPED_TYPES_UP_TO, HALVED_SPANS_UP_TO
from bossage.saw.job.numbers import Core
from bossage.saw.money.bound import Mixes
from bossage.saw.settings.groups import Contents, Groups
from bossage.saw.settings.halves import Halves
from bossage.saw.settings.peeling import Spent, Work
from bossage.saw.settings.stick_sets import stick_sets
from bossage.saw.whole.subset_sums import fullest

MOST_MIXES = 12
SHARE = 4  # of the work that is left, listing what sticks can hold may have so much: 1/SHARE
MOST_JOINS = 2  # more than trees have; with still more the numbers to choose are too many


@dataclass(slots=True)
class Fewest:
    """Contents with few settings, if there are any no worse than asked for; and how many are needed at least."""

    filled: Filled | None
    least: int


def fewest_settings(core: Core, price: int, most: int, units: int) -> Fewest:
    """Contents at `price` with the fewest settings, at most `most`, among them those with the fewest sticks found.

    Args:
        core: The job.
        price: What the sticks cost.
        most: Settings after the first of each stick that are known to do.
        units: Work that it may cost.
    """
    if len(core.widths) > GROUPED_TYPES_UP_TO:
        return Fewest(None, 0)
    work = Work(units)
    listed = list(islice(_mixes(core, price), MOST_MIXES + 1))
    ways = [way for sticks in listed[:MOST_MIXES] if (way := _way(core, sticks, work)) is not None]
    search = _Search(core, ways, most)
    try:
        search.upwards()
        search.close()
    except Spent:
        pass
    return Fewest(search.filled, search.least if len(ways) == len(listed) else 0)


@dataclass(slots=True)
class _Search:
    """Levels of settings upwards; those that may hold a plan that was not found stay open."""

    core: Core
    ways: list[_Way]
    most: int
    filled: Filled | None = None
    least: int = 0
    level: int = 0  # the last one that was begun
    open: list[int] = field(default_factory=list)

    def upwards(self) -> None:
        """To the first level at which there are contents."""
        tops = [way.groups.most(way.groups.sets.whole) for way in self.ways]
        for settings in range(len(self.core.widths) - max(tops, default=0), self.most + 1):
            self.level = settings
            self.least = self.open[0] if self.open else settings
            found = [
                (way, contents)
                for way, top in zip(self.ways, tops, strict=True)
                if (contents := way.in_groups(settings, top) or way.in_halves(settings, near=True))
            ]
            if found:
                self._take(found)
                for way, contents in found:
                    for fewer in way.with_fewer_sticks(settings, len(contents)):
                        self._take([(way, fewer)])
                return
            if any(way.unsure for way in self.ways):
                self.open.append(settings)

    def close(self) -> None:
        """Look through the levels that stayed open to the end."""
        for n, settings in enumerate(self.open):
            self.least = settings
            found = [(way, contents) for way in self.ways if (contents := way.in_halves(settings, near=False))]
            if found:
                self.filled = None
                self._take(found)
            if found or any(way.unsure for way in self.ways):
                return
            self.least = self.open[n + 1] if n + 1 < len(self.open) else self.level

    def _take(self, found: list[tuple[_Way, list[Contents]]]) -> None:
        made = [_filled(self.core, way, contents) for way, contents in found]
        self.filled = min([self.filled, *made] if self.filled else made, key=_sticks)


@dataclass(slots=True)
class _Way:
    """One mix: its sticks as bins, dear ones first, and the searches over it."""

    sticks: list[int]
    free: Counter[tuple[int, ...]]  # of the sticks that cost nothing, how many have these spans
    groups: Groups
    halves: Halves | None = None
    halved: bool = False  # whether halves were asked for
    unsure: bool = False  # whether the last level may have contents that were not found

    def in_halves(self, settings: int, near: bool) -> list[Contents] | None:
        """Contents with so many settings where groups could not tell; `near`: only with halves that are about equal."""
        self.unsure = self.groups.unsure
        halves = self._halves() if self.unsure else None
        if halves is None:
            return None
        held = halves.with_settings(settings, near)
        self.unsure = halves.unsure
        if held is None:
            return None
        kinds = self.groups.sets.kinds
        return [(kinds.index(caps), {i: n for i, n in enumerate(row) if n}) for caps, row in held if any(row)]

    def in_groups(self, settings: int, top: int, without: int = 0) -> list[Contents] | None:
        """Contents with so many settings, in `top` groups or fewer, that leave these sticks empty."""
        groups = self.groups
        least = len(groups.core.widths) - settings
        for n in range(top, max(0, least - 1), -1):
            if n - least > MOST_JOINS:
                groups.unsure = True
                continue
            contents = groups.share_out(groups.types, groups.sets.whole - without, n, n - least)
            if contents is not None:
                return contents
        return None

    def _halves(self) -> Halves | None:
        spans = [self.groups.core.bins[b].caps for b in self.sticks]
        if not self.halved and max(map(len, spans)) <= HALVED_SPANS_UP_TO:
            work = self.groups.work
            mine = Work(work.left // SHARE)
            before = mine.left
            try:
                self.halves = Halves(self.groups.core, spans, mine)
            except Spent:
                pass
            else:
                self.halves.work = work
            work.spend(before - max(0, mine.left))
        self.halved = True
        return self.halves

    def with_fewer_sticks(self, settings: int, sticks: int) -> Iterator[list[Contents]]:
        """Contents with fewer sticks than that, if any are found, at no more settings."""
        sets = self.groups.sets
        slack = sets.cap_of[sets.whole] - self.groups.need
        for without in sorted(sets.within(0, slack), key=lambda s: -sum(sets.counts(s))):
            counts = sets.counts(without)
            if len(self.sticks) - sum(counts) >= sticks:
                return
            if all(n <= self.free[caps] for n, caps in zip(counts, sets.kinds, strict=True)):
                found = self.in_groups(settings, self.groups.most(sets.whole - without), without)
                if found:
                    yield found
                    return


def _mixes(core: Core, price: int) -> Iterator[list[int]]:
    """The mixes that cost this, each with all the sticks that cost nothing, as bins."""
    free = [k for k, b in enumerate(core.bins) if not b.price for _ in range(b.count)]
    paid = {b.stock: k for k, b in enumerate(core.bins) if b.price}
    held = sum(core.bins[k].fill for k in free)
    mixes = Mixes(tuple(core.bins[k] for k in paid.values()), max(0, core.need - held), extra=price)
    if mixes.bound is None or (mixes.bins and mixes.coarse > 1):
        return
    for counts in mixes.at_price(price, 1 << 30):
        yield [paid[b.stock] for b, n in zip(mixes.bins, counts, strict=True) for _ in range(n)] + free


def _way(core: Core, sticks: list[int], work: Work) -> _Way | None:
    sets = stick_sets([core.bins[b].caps for b in sticks])
    if sets is None:
        return None
    free = Counter(core.bins[b].caps for b in sticks if not core.bins[b].price)
    return _Way(sticks, free, Groups(core, sets, work))


def _sticks(filled: Filled) -> int:
    return len(filled.bins)


def _filled(core: Core, way: _Way, contents: list[Contents]) -> Filled:
    bins, spans = [], []
    left = list(way.sticks)
    for kind, held in contents:
        caps = way.groups.sets.kinds[kind]
        at = next(k for k, b in enumerate(left) if core.bins[b].caps == caps)
        bins.append(left.pop(at))
        spans.append(_spread(core, caps, [held.get(i, 0) for i in range(len(core.widths))]))
    return Filled(bins=bins, spans=spans)


def _spread(core: Core, caps: tuple[int, ...], counts: list[int]) -> list[list[int]]:
    """The contents of a stick in its spans: each as full as it goes with what is left."""
    spans = []
    for cap in caps[:-1]:
        _, here = fullest(core.widths, counts, cap, range(len(counts)))
        counts = [n - k for n, k in zip(counts, here, strict=True)]
        spans.append(here)
    return [*spans, counts]
