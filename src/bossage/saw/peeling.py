"""The contents of a group: lengths and sticks that only hold one another, with as few lengths in a stick as can be.

Lengths and sticks are points, joined where the stick holds the length. A connected group of t lengths and s sticks has
at least t + s − 1 joins, and Σ(k−1) over its sticks is its joins less s. With no join more, the group is a tree, and a
tree has a point with one join only; it is settled without a choice of how many, and what is left is a tree again:

- a stick that takes only one more length takes as much of it as goes in. (More of that length here means less of it
  elsewhere, and that never asks for a join more.)
- a length that has only one stick left goes into it whole.

Each join more allows one step that chooses a number as well: some of one length into one stick, both stay. It is taken
only where no point with one join is taken, so that it may begin at any length: each has two joins there.
All choices are tried; states that were seen before are not tried again. (Own derivation.)
"""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from dataclasses import dataclass, field

from bossage.saw.subset import largest_sums, reach

MOST_TABLE = 1 << 17  # units up to which the wood that two or three lengths lose is looked up
TABLED = 3  # lengths
MOST_SPANS = 2  # clear spans in a stick whose contents can be told to fit

Stick = tuple[int, ...] | tuple[int, int, tuple[tuple[int, int], ...]]
Place = tuple[tuple[int, int, tuple[tuple[int, int], ...]], int]  # room, kind, what is in it; and which stick it is
Move = tuple[int, int, int]  # stick, type, how many


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
    """What fits into the spans of the kinds of stick, looked up again and again."""

    kinds: Sequence[tuple[int, ...]]
    widths: Sequence[int]
    demand: Sequence[int]
    _most: dict[tuple[int, tuple[tuple[int, int], ...], int], int] = field(default_factory=dict)
    _lost: dict[tuple[int, ...], array[int] | None] = field(default_factory=dict)

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

    def lost(self, types: tuple[int, ...], room: int) -> int:
        """What a room loses at least when only these types go in."""
        if len(types) == 1:
            return room % self.widths[types[0]]
        if types not in self._lost:
            top = max(map(sum, self.kinds))
            few = len(types) <= TABLED and top <= MOST_TABLE
            self._lost[types] = largest_sums([self.widths[i] for i in types], top) if few else None
        table = self._lost[types]
        return room - table[room] if table is not None else 0


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
    return search.settle(dem, places, slack, extra, False)


class _Peeling:
    def __init__(self, rooms: Rooms, kinds: list[int], work: Work) -> None:
        self.rooms, self.kinds, self.work = rooms, kinds, work
        self.seen: dict[object, int] = {}

    def settle(
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
        lost = self.rooms.lost
        if sum(lost(types, place[0][0]) for place in places) > slack:
            return None
        if len(dem) == 1:
            return self._last(*dem[0], places)
        return (
            self._close_a_stick(dem, places, slack, extra, cut)
            or self._finish_a_length(dem, places, slack, extra, cut)
            or (self._part(dem, places, slack, extra) if extra else None)
        )

    def _most(self, place: Place, i: int, n: int) -> int:
        (room, _, held), stick = place
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
                    found = self.settle((*dem[:b], (i, n - x), *dem[b + 1 :]), others, left, extra, cut)
                elif cut:  # a part is done: its last step takes a length and a stick, so a join is left over
                    found = self.settle(dem[:b] + dem[b + 1 :], others, left, extra + 1, cut)
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
                    found = self.settle(dem[:b] + dem[b + 1 :], self._put(places, a, i, n), slack, extra, cut)
                    if found is not None:
                        return [(place[1], i, n), *found]
        return None

    def _part(
        self, dem: tuple[tuple[int, int], ...], places: tuple[Place, ...], slack: int, extra: int
    ) -> list[Move] | None:
        b, (i, n) = min(enumerate(dem), key=lambda item: (item[1][1], item[0]))
        before = None
        for a, place in enumerate(places):
            if place[0] == before:
                continue
            before = place[0]
            for x in range(self._most(place, i, n - 1), 0, -1):
                less = (*dem[:b], (i, n - x), *dem[b + 1 :])
                found = self.settle(less, self._put(places, a, i, x), slack, extra - 1, True)
                if found is not None:
                    return [(place[1], i, x), *found]
        return None

    def _put(self, places: tuple[Place, ...], a: int, i: int, n: int) -> tuple[Place, ...]:
        (room, kind, held), stick = places[a]
        if kind >= 0:
            counts = dict(held)
            counts[i] = counts.get(i, 0) + n
            held = tuple(sorted(counts.items()))
        place: Place = ((room - n * self.rooms.widths[i], kind, held), stick)
        return tuple(sorted((*places[:a], place, *places[a + 1 :])))
