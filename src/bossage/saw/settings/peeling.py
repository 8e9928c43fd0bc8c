"""Peeling of leaves off a bipartite graph: contents of a group of lengths and sticks that only hold one another.

Lengths and sticks are points; a length is joined to each stick that holds it. A connected group of t lengths and s
sticks has at least t + s − 1 joins, and Σ(k−1) over its sticks is the number of joins less s. A group with t + s − 1
joins is a tree. A tree has a point with a single join; that point can be fixed without a choice of a number, and a
tree is left:

- A stick that takes only one more length takes as much of that length as goes in. (More of that length here means less
  of that length elsewhere, and less never asks for another join.)
- A length that has only one stick left goes wholly into that stick.

Each further join allows one step that also chooses a number: some of a length goes into a stick, and both stay. Such a
step is taken only where no point has a single join. So the step may begin at any length, because each length has two
joins then. All choices are tried; a state that was seen before is not tried again. (Own derivation.)
"""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import combinations

import numpy as np

from bossage.saw.whole.knapsack import Ints
from bossage.saw.whole.subset_sums import largest_sums, reach

MOST_CELLS = 20_000_000  # of the tables of what rooms lose
MOST_LOST = 0xFFFF  # the most that a table says

Stick = tuple[int, ...] | tuple[int, int, tuple[tuple[int, int], ...]]
Place = tuple[tuple[int, int, tuple[tuple[int, int], ...]], int]  # room, kind, what is in it; and which stick it is
Move = tuple[int, int, int]  # stick, type, how many
Losses = tuple["array[int]", "array[int]", "array[int]"]


class Spent(Exception):
    """The work allowed is done."""


@dataclass(slots=True)
class Work:
    """Work that may still be done."""

    left: int

    def spend(self, n: int) -> None:
        """Count it.

        Raises:
            Spent: None is left.
        """
        self.left -= n
        if self.left < 0:
            raise Spent


@dataclass(slots=True)
class Rooms:
    """What fits into the spans of the kinds of stick, and what is lost there, looked up again and again."""

    kinds: Sequence[tuple[int, ...]]
    widths: Sequence[int]
    demand: Sequence[int]
    _most: dict[tuple[int, tuple[tuple[int, int], ...], int], int] = field(default_factory=dict)
    _sums: dict[tuple[int, ...], Ints] = field(default_factory=dict)
    _lost: dict[tuple[int, ...], Losses | None] = field(default_factory=dict)
    _cells: int = MOST_CELLS

    def fits(self, kind: int, held: tuple[tuple[int, int], ...]) -> bool:
        """Whether these slices go into the spans of that kind, at most two."""
        caps = self.kinds[kind]
        load = sum(self.widths[i] * n for i, n in held)
        if len(caps) == 1 or load > sum(caps):
            return load <= sum(caps)
        return self.least_first(kind, held, load) is not None

    def least_first(self, kind: int, held: tuple[tuple[int, int], ...], load: int) -> int | None:
        """A load of the first of two spans that leaves the second enough room; None when there is none."""
        first, second = self.kinds[kind]
        bits, mask = 1, (1 << (first + 1)) - 1
        for i, n in held:
            bits = reach(bits, self.widths[i], min(n, first // self.widths[i]), mask)
        top = bits.bit_length() - 1
        return top if top >= load - second else None

    def most(self, kind: int, held: tuple[tuple[int, int], ...], i: int, room: int, n: int) -> int:
        """How many more of type i go in, at most n."""
        w = self.widths[i]
        if len(self.kinds[kind]) == 1:
            return min(n, room // w)
        if not held:
            return min(n, sum(cap // w for cap in self.kinds[kind]))
        key = (kind, held, i)
        if key not in self._most:
            low, high = 0, min(self.demand[i], room // w)
            while low < high:
                middle = (low + high + 1) // 2
                if self.fits(kind, (*held, (i, middle))):
                    low = middle
                else:
                    high = middle - 1
            self._most[key] = low
        return min(n, self._most[key])

    def lost(self, types: tuple[int, ...], rooms: Sequence[int], more: int) -> int:
        """What the rooms lose at least with these types, one in each room and `more` beside it in all."""
        if types not in self._lost:
            self._lost[types] = self._losses(types)
        losses = self._lost[types]
        if losses is None:
            widths = [self.widths[i] for i in types]
            lost = sorted(min(room % w for w in widths) for room in rooms)
            return sum(lost[: max(0, len(rooms) - more)])
        one, two, any_ = losses
        total = 0
        gains: list[float] = []
        for room in rooms:
            a, b, c = one[room], two[room], any_[room]
            total += a
            if a > c:
                # A third type may save more than the second: then both count as half of what they save together.
                gains += (a - b, b - c) if a - b >= b - c else ((a - c) / 2, (a - c) / 2)
        if more < len(gains):
            gains.sort(reverse=True)
            del gains[more:]
        return total - int(sum(gains))

    def _losses(self, types: tuple[int, ...]) -> Losses | None:
        """For each room what one, two, or any number of these types lose at least; None where rooms are too many."""
        top = max(map(sum, self.kinds))
        if self._cells < 3 * top:
            return None
        self._cells -= 3 * top
        rooms = np.arange(top + 1)
        some = [self._largest((i,), top) for i in types]
        one = np.max(some, axis=0)
        two = np.max([self._largest(pair, top) for pair in combinations(types, 2)] or [one], axis=0)
        return _packed(rooms - one), _packed(rooms - two), _packed(rooms - self._largest(types, top))

    def _largest(self, types: tuple[int, ...], top: int) -> Ints:
        if types not in self._sums:
            self._sums[types] = largest_sums([self.widths[i] for i in types], top)
        return self._sums[types]


def _packed(lost: Ints) -> array[int]:
    table = array("H")
    table.frombytes(np.minimum(lost, MOST_LOST).astype(np.ushort).tobytes())
    return table


def peel(rooms: Rooms, types: tuple[int, ...], kinds: Sequence[int], extra: int, work: Work) -> list[Move] | None:
    """Moves that put all of these types into sticks of these kinds, with `extra` joins more than a tree has.

    None: there are none, if groups that fall apart are looked at on their own.

    Raises:
        Spent: The work allowed did not do.
    """
    places: tuple[Place, ...] = tuple(
        ((sum(rooms.kinds[kind]), kind if len(rooms.kinds[kind]) > 1 else -1, ()), n) for n, kind in enumerate(kinds)
    )
    search = _Peeling(rooms, list(kinds), work)
    dem = tuple((i, rooms.demand[i]) for i in types)
    slack = sum(place[0][0] for place in places) - sum(rooms.widths[i] * n for i, n in dem)
    return search.peel_off(dem, places, slack, extra, False)


class _Peeling:
    def __init__(self, rooms: Rooms, kinds: list[int], work: Work) -> None:
        self.rooms, self.kinds, self.work = rooms, kinds, work
        self.seen: dict[object, int] = {}

    def peel_off(
        self, dem: tuple[tuple[int, int], ...], places: tuple[Place, ...], slack: int, extra: int, cut: bool
    ) -> list[Move] | None:
        """`cut`: a join was taken away, so the rest may have fallen into two parts."""
        if not dem:
            return []
        state = (dem, tuple(place[0] for place in places), cut)
        if self.seen.get(state, -1) >= extra:
            return None
        self.seen[state] = extra
        self.work.spend(1)
        types = tuple(i for i, _ in dem)
        if len(dem) == 1:
            return self._last(*dem[0], places)
        if self.rooms.lost(types, [place[0][0] for place in places], len(dem) - 1 + extra) > slack:
            return None
        return (
            self._close_a_stick(dem, places, slack, extra, cut)
            or self._finish_a_length(dem, places, slack, extra, cut)
            or (self._part(dem, places, slack, extra) if extra else None)
        )

    def _most(self, place: Place, i: int, n: int) -> int:
        (room, _, held), stick = place
        if any(j == i for j, _ in held):  # what goes in of a length goes in at once
            return 0
        return self.rooms.most(self.kinds[stick], held, i, room, n)

    def _last(self, i: int, n: int, places: tuple[Place, ...]) -> list[Move] | None:
        moves: list[Move] = []
        for place in places:
            x = self._most(place, i, n)
            if x:
                moves.append((place[1], i, x))
                n -= x
        return None if n else moves

    def _close_a_stick(
        self, dem: tuple[tuple[int, int], ...], places: tuple[Place, ...], slack: int, extra: int, cut: bool
    ) -> list[Move] | None:
        before = None
        for a, place in enumerate(places):
            if place[0] == before:
                continue
            before = place[0]
            others = places[:a] + places[a + 1 :]
            for b, (i, n) in enumerate(dem):
                x = self._most(place, i, n)
                left = slack - (place[0][0] - x * self.rooms.widths[i])
                if not x or left < 0:
                    continue
                if x < n:
                    found = self.peel_off((*dem[:b], (i, n - x), *dem[b + 1 :]), others, left, extra, cut)
                elif cut:  # a part is done: its last step takes a length and a stick, so a join is left over
                    found = self.peel_off(dem[:b] + dem[b + 1 :], others, left, extra + 1, cut)
                else:
                    continue
                if found is not None:
                    return [(place[1], i, x), *found]
        return None

    def _finish_a_length(
        self, dem: tuple[tuple[int, int], ...], places: tuple[Place, ...], slack: int, extra: int, cut: bool
    ) -> list[Move] | None:
        for b, (i, n) in enumerate(dem):
            before = None
            for a, place in enumerate(places):
                if place[0] == before:
                    continue
                before = place[0]
                if self._most(place, i, n) == n:
                    found = self.peel_off(dem[:b] + dem[b + 1 :], self._put(places, a, i, n), slack, extra, cut)
                    if found is not None:
                        return [(place[1], i, n), *found]
        return None

    def _part(
        self, dem: tuple[tuple[int, int], ...], places: tuple[Place, ...], slack: int, extra: int
    ) -> list[Move] | None:
        """Every point has two joins: begin at the length or the stick that leaves the fewest choices."""
        joins = [
            (a, b, most)
            for a, place in enumerate(places)
            if not a or place[0] != places[a - 1][0]
            for b, (i, n) in enumerate(dem)
            if (most := self._most(place, i, n - 1))
        ]
        points: dict[tuple[bool, int], int] = {(False, b): 0 for b in range(len(dem))}
        points |= {(True, a): 0 for a in range(len(places)) if not a or places[a][0] != places[a - 1][0]}
        for a, b, most in joins:
            points[True, a] += most
            points[False, b] += most
        stick, at = min(points, key=lambda point: (points[point], point))
        for a, b, most in joins:
            if at != (a if stick else b):
                continue
            i, n = dem[b]
            for x in range(most, 0, -1):
                less = (*dem[:b], (i, n - x), *dem[b + 1 :])
                found = self.peel_off(less, self._put(places, a, i, x, bar=True), slack, extra - 1, True)
                if found is not None:
                    return [(places[a][1], i, x), *found]
        return None

    def _put(self, places: tuple[Place, ...], a: int, i: int, n: int, bar: bool = False) -> tuple[Place, ...]:
        """The places with that much more in one of them; `bar`: it takes no more of that length."""
        (room, kind, held), stick = places[a]
        if kind >= 0:
            held = tuple(sorted((*held, (i, n))))
        elif bar:
            held = tuple(sorted((*held, (i, 0))))
        place: Place = ((room - n * self.rooms.widths[i], kind, held), stick)
        return tuple(sorted((*places[:a], place, *places[a + 1 :])))
