"""Partition of a bipartite graph into components: how few settings there can be.

Draw lengths and sticks as points, and join a length to a stick that holds it. A group is a connected component: its
sticks hold its lengths and no others. With m lengths, s sticks in use, g groups, and x joins more than g trees would
have, there are m + s − g + x joins, and

    Σ(k−1) over sticks of k lengths  =  m − g + x.

All slices of the lengths of a group lie in the sticks of that group. So the most groups into which lengths and sticks
can be shared out, each with room enough, give a lower bound of Σ(k−1). The search goes through the ways of sharing out
in the order of m − g + x. Where no way with m − g + x = e can be filled, Σ(k−1) is e + 1 or more. Sticks that stay
empty belong to no group. (Own derivation.)
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import combinations

from bossage.saw.job.limits import HALVED_SPANS_UP_TO
from bossage.saw.job.numbers import Core
from bossage.saw.settings.peeling import Move, Rooms, Spent, Work, peel
from bossage.saw.settings.stick_sets import StickSets
from bossage.saw.whole.subset_sums import best_fill

FILLED_EXACTLY = 3  # lengths up to which a group's fill is a subset sum, and above it the room
LISTED_A_UNIT = 50  # sets that are listed or looked through for one unit of work
LOOK = 4  # sets that weigh as much as one look at a group
SHARE = 4  # of the work that is left one group may have so much: 1/SHARE

Contents = tuple[int, dict[int, int]]  # kind of stick, how many of each type


@dataclass(slots=True)
class Groups:
    """The ways of sharing out all lengths and the sticks of one mix into groups."""

    core: Core
    sets: StickSets
    work: Work
    rooms: Rooms = field(init=False)
    unsure: bool = False  # some group took more work than it may have
    _need: list[int] = field(init=False)
    _looked: int = 0  # sets not paid for yet
    _fills: dict[tuple[int, int], int] = field(default_factory=dict)
    _homes: dict[int, list[int]] = field(default_factory=dict)
    _can: dict[tuple[int, int, int], bool] = field(default_factory=dict)
    _filled: dict[tuple[int, int, int], list[Contents] | None] = field(default_factory=dict)
    _failed: set[tuple[int, int, int, int]] = field(default_factory=set)

    def __post_init__(self) -> None:
        widths, demand = self.core.widths, self.core.demand
        self.rooms = Rooms(self.sets.kinds, widths, demand)
        self._need = [0] * (1 << len(widths))
        for types in range(1, len(self._need)):
            i = (types & -types).bit_length() - 1
            self._need[types] = self._need[types & (types - 1)] + widths[i] * demand[i]

    @property
    def types(self) -> int:
        """All types, as a set of bits."""
        return len(self._need) - 1

    @property
    def need(self) -> int:
        """What all of them take up."""
        return self._need[-1]

    def most(self, sticks: int) -> int:
        """The most groups that have room enough, with these sticks; 0 where all of them do not suffice."""
        n = len(self.core.widths)
        return next((g for g in range(n, 0, -1) if self._room_for(self.types, sticks, g)), 0)

    def share_out(self, types: int, sticks: int, groups: int, extra: int) -> list[Contents] | None:
        """Contents in so many groups with so many joins more than trees have; None when none was found.

        None is a proof unless `unsure` was set meanwhile.
        """
        key = (types, sticks, groups, extra)
        if key in self._failed or not self._room_for(types, sticks, groups):
            return None
        if groups == 1:
            return self._fill(types, sticks, extra)
        for part, home in self._first_groups(types, sticks, groups):
            if not self._room_for(types ^ part, sticks - home, groups - 1):
                continue
            for x in range(extra + 1):
                one = self._fill(part, home, x)
                if one is not None:
                    others = self.share_out(types ^ part, sticks - home, groups - 1, extra - x)
                    if others is not None:
                        return one + others
        self._failed.add(key)
        return None

    def _first_groups(self, types: int, sticks: int, groups: int) -> Iterator[tuple[int, int]]:
        """Groups that the longest of these lengths can be in: small ones first, with little room to spare first."""
        first = types & -types
        others = [1 << i for i in range(len(self.core.widths)) if (types ^ first) >> i & 1]
        slack = self.sets.cap_of[sticks] - self._need[types]
        for size in range(len(others) + 2 - groups):
            for beside in combinations(others, size):
                part = first + sum(beside)
                homes = self._homes_of(part)
                self._look(LOOK + len(homes))
                most = self._need[part] + slack
                for home in homes:
                    if self.sets.cap_of[home] > most:
                        break
                    if self.sets.has(sticks, home):
                        yield part, home

    def _look(self, sets: int) -> None:
        """Spend what has come together by now of many small looks."""
        self._looked += sets
        self.work.spend(self._looked // LISTED_A_UNIT)
        self._looked %= LISTED_A_UNIT

    def _homes_of(self, part: int) -> list[int]:
        """The sets of sticks that have room for a group of these types and leave the others enough."""
        if part not in self._homes:
            slack = self.sets.cap_of[self.sets.whole] - self._need[self.types]
            near = self.sets.within(self._need[part], self._need[part] + slack)
            self.work.spend(1 + len(near) // LISTED_A_UNIT)
            self._homes[part] = [home for home in near if self._holds(home, part)]
        return self._homes[part]

    def _room_for(self, types: int, sticks: int, groups: int) -> bool:
        """Whether there are so many groups with room enough, whatever may go in exactly."""
        if groups == 1:
            return self._holds(sticks, types)
        count = types.bit_count()
        if count < groups or self.sets.cap_of[sticks] < self._need[types]:
            return False
        key = (types, sticks, groups)
        if key not in self._can:
            # With so many groups, that many are of one length at least; each leaves some of its room unused.
            spare = sorted(
                self.sets.cap_of[homes[0]] - self._need[1 << i]
                for i in range(len(self.core.widths))
                if types >> i & 1 and (homes := self._homes_of(1 << i))
            )
            alone = max(0, 2 * groups - count)
            slack = self.sets.cap_of[sticks] - self._need[types]
            self._can[key] = (
                len(spare) >= alone
                and sum(spare[:alone]) <= slack
                and any(
                    self._room_for(types ^ part, sticks - home, groups - 1)
                    for part, home in self._first_groups(types, sticks, groups)
                )
            )
        return self._can[key]

    def _holds(self, sticks: int, types: int) -> bool:
        if self.sets.cap_of[sticks] < self._need[types]:
            return False
        if types.bit_count() > FILLED_EXACTLY:
            return True
        counts = self.sets.counts(sticks)
        return sum(n * self._fill_of(types, k) for k, n in enumerate(counts) if n) >= self._need[types]

    def _fill_of(self, types: int, kind: int) -> int:
        """The most that these types can fill of a stick of that kind."""
        key = (types, kind)
        if key not in self._fills:
            chosen = [i for i in range(len(self.core.widths)) if types >> i & 1]
            widths, demand = [self.core.widths[i] for i in chosen], [self.core.demand[i] for i in chosen]
            self._fills[key] = sum(best_fill(widths, demand, cap) for cap in self.sets.kinds[kind])
        return self._fills[key]

    def _fill(self, types: int, sticks: int, extra: int) -> list[Contents] | None:
        """The contents of one group."""
        key = (types, sticks, extra)
        if key not in self._filled:
            self._filled[key] = self._peeled(types, sticks, extra)
        return self._filled[key]

    def _peeled(self, types: int, sticks: int, extra: int) -> list[Contents] | None:
        chosen = tuple(i for i in range(len(self.core.widths)) if types >> i & 1)
        kinds = [k for k, n in enumerate(self.sets.counts(sticks)) for _ in range(n)]
        if self._too_much_lost(chosen, kinds, extra, self.sets.cap_of[sticks] - self._need[types]):
            return None
        if any(len(self.sets.kinds[k]) > HALVED_SPANS_UP_TO for k in kinds):
            self.unsure = True
            return None
        mine = Work(self.work.left // SHARE)
        before = mine.left
        try:
            moves = peel(self.rooms, chosen, kinds, extra, mine)
        except Spent:
            self.unsure = True
            moves = None
        self.work.spend(before - max(0, mine.left))
        return None if moves is None else _contents(kinds, moves)

    def _too_much_lost(self, types: tuple[int, ...], kinds: list[int], extra: int, slack: int) -> bool:
        """So many sticks hold one length only that what they lose is more than there is."""
        alone = len(kinds) - (len(types) - 1 + extra)
        if alone <= 0:
            return False
        lost = sorted(min(sum(self.sets.kinds[k]) - self._fill_of(1 << i, k) for i in types) for k in kinds)
        return sum(lost[:alone]) > slack


def _contents(kinds: list[int], moves: list[Move]) -> list[Contents]:
    held: dict[int, dict[int, int]] = {}
    for stick, i, n in moves:
        counts = held.setdefault(stick, {})
        counts[i] = counts.get(i, 0) + n
    return [(kinds[stick], counts) for stick, counts in held.items()]
