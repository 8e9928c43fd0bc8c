"""Meet in the middle: fewest settings where hardly any wood may be lost.

With little slack a stick has few contents that lose no more than all sticks together may. The contents of each stick
are listed by how many settings they take beyond the fewest of that stick. The contents of half of the sticks are added
up to sums, and so are those of the other half. Where a sum of one half and a sum of the other half together are the
demand, they are a plan. All slices have to be placed, so what the sticks hold beyond the slices is lost, and every plan
is among these pairs. Where all pairs with so many settings were compared and none was found, there is no such plan.

Source: Horowitz and Sahni 1974.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from bossage.saw.job.numbers import Core
from bossage.saw.settings.peeling import Spent, Work
from bossage.saw.whole.knapsack import Ints

ROWS_A_UNIT = 100  # sums that are made for one unit of work
MOST_ROWS = 1_500_000  # made at once
SHARE = 3  # of the work that is left one pair of halves may have so much: 1/SHARE
MIXER = 0x9E3779B97F4A7C15  # odd, bits without a pattern; two sums hardly ever have one number, but that is no proof

Keys = NDArray[np.uint64]


@dataclass(slots=True)
class Sums:
    """Contents of some sticks together, a row each, and what they lose."""

    rows: Ints
    lost: Ints

    def __len__(self) -> int:
        return len(self.rows)


@dataclass(slots=True)
class Halves:
    """The sticks of one mix in two halves, by their clear spans, at most two in each."""

    core: Core
    sticks: list[tuple[int, ...]]
    work: Work
    unsure: bool = False  # some sums took more work than they may have
    slack: int = field(init=False)
    base: list[int] = field(init=False)  # the fewest settings of each stick, its first length not counted
    _demand: Ints = field(init=False)
    _places: Keys = field(init=False)  # what one slice of each length counts in the number of a sum
    _exact: bool = field(init=False)  # whether no two sums have one number
    _alone: dict[tuple[tuple[int, ...], int], Sums] = field(default_factory=dict)
    _tables: dict[tuple[int, int, int], Sums] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._demand = np.array(self.core.demand, dtype=np.int64)
        places = [1]
        for n in self.core.demand:
            places.append(places[-1] * (n + 1))
        self._exact = places[-1] < 1 << 63
        if not self._exact:
            places = [pow(MIXER, k, 1 << 64) for k in range(1, len(places) + 1)]
        self._places = np.array(places[: len(self.core.demand)], dtype=np.uint64)
        self.slack = sum(map(sum, self.sticks)) - self.core.need
        self.base = [self._fewest(caps) for caps in self.sticks]
        order = sorted(range(len(self.sticks)), key=lambda k: (len(self._contents(self.sticks[k], self.base[k])), k))
        self.sticks = [self.sticks[k] for k in order[::2] + order[1::2]]
        self.base = [self.base[k] for k in order[::2] + order[1::2]]

    def with_settings(self, settings: int, near: bool = False) -> list[tuple[tuple[int, ...], list[int]]] | None:
        """Clear spans and contents of each stick, with so many settings in all; None when none was found.

        With `near` only where both halves go about equally far beyond their fewest, which costs least and finds most.
        None is a proof unless `unsure` is set then: where work ran out, or sums are too many to number.
        """
        more = settings - sum(self.base)
        self.unsure = (near and more > 1) or not self._exact
        for here in sorted(range(more + 1), key=lambda n: abs(2 * n - more)):
            if near and abs(2 * here - more) > 1:
                break
            left = self.work.left
            self.work.left = left // SHARE
            try:
                found = self._meet(here, more - here)
            except Spent:
                self.unsure = True
                found = None
            finally:
                self.work.left += left - left // SHARE
            if found is not None:
                return found
        return None

    def _meet(self, here: int, there: int) -> list[tuple[tuple[int, ...], list[int]]] | None:
        middle, end = (len(self.sticks) + 1) // 2, len(self.sticks)
        one, other = self._table(0, middle, here), self._table(middle, end, there)
        if not len(one) or not len(other):
            return None
        wanted = self._keys(self._demand[None, :])[0] - self._keys(other.rows)
        order = np.argsort(wanted)
        keys = self._keys(one.rows)
        at = np.searchsorted(wanted[order], keys)
        at[at == len(order)] = 0
        for k in np.flatnonzero(wanted[order[at]] == keys):
            if (one.rows[k] + other.rows[order[at[k]]] == self._demand).all():
                return [
                    *self._taken_apart(0, middle, here, one.rows[k]),
                    *self._taken_apart(middle, end, there, other.rows[order[at[k]]]),
                ]
        return None

    def _taken_apart(self, start: int, end: int, more: int, row: Ints) -> Iterator[tuple[tuple[int, ...], list[int]]]:
        """Which contents of the sticks from `start` to `end` make that sum."""
        for k in range(end - 1, start - 1, -1):
            less, left, own = next(
                (x, rest, contents)
                for x in range(more + 1)
                for contents in self._contents(self.sticks[k], self.base[k] + x).rows
                for rest in (row - contents,)
                if (rest >= 0).all() and self._is_sum(start, k, more - x, rest)
            )
            yield self.sticks[k], [int(n) for n in own]
            row, more = left, more - less

    def _is_sum(self, start: int, end: int, more: int, row: Ints) -> bool:
        return bool((self._table(start, end, more).rows == row).all(axis=1).any())

    def _keys(self, rows: Ints) -> Keys:
        """Numbers that add up as the rows do; each its own while all sums can be counted, else modulo 2^64."""
        return rows.astype(np.uint64) @ self._places

    def _table(self, start: int, end: int, more: int) -> Sums:
        """The sums of the sticks from `start` to `end` with so many settings more than the fewest."""
        key = (start, end, more)
        if key not in self._tables:
            if start == end:
                rows = 0 if more else 1
                made = Sums(np.zeros((rows, len(self._demand)), dtype=np.int64), np.zeros(rows, dtype=np.int64))
            else:
                caps, fewest = self.sticks[end - 1], self.base[end - 1]
                made = self._unique(
                    [
                        part
                        for x in range(more + 1)
                        for part in self._added(self._table(start, end - 1, more - x), self._contents(caps, fewest + x))
                    ]
                )
            self._tables[key] = made
        return self._tables[key]

    def _added(self, sums: Sums, more: Sums) -> Iterator[Sums]:
        """Each of the one with each of the other, as far as they lose little enough and the demand allows."""
        order = np.argsort(more.lost, kind="stable")
        rows, lost = more.rows[order], more.lost[order]
        for level in np.unique(sums.lost):
            first = sums.rows[sums.lost == level]
            n = int(np.searchsorted(lost, self.slack - level, side="right"))
            if not n:
                continue
            self.work.spend(1 + len(first) * n // ROWS_A_UNIT)
            step = max(1, MOST_ROWS // n)
            for at in range(0, len(first), step):
                part = first[at : at + step]
                made = (part[:, None, :] + rows[None, :n, :]).reshape(-1, rows.shape[1])
                fits = (made <= self._demand).all(axis=1)
                yield Sums(made[fits], np.tile(level + lost[:n], len(part))[fits])

    def _unique(self, parts: Sequence[Sums]) -> Sums:
        if not parts:
            return Sums(np.zeros((0, len(self._demand)), dtype=np.int64), np.zeros(0, dtype=np.int64))
        rows, lost = np.concatenate([p.rows for p in parts]), np.concatenate([p.lost for p in parts])
        _, first = np.unique(self._keys(rows), return_index=True)
        return Sums(rows[first], lost[first])

    def _fewest(self, caps: tuple[int, ...]) -> int:
        """The fewest settings after the first with which a stick loses little enough."""
        for settings in range(len(self._demand)):
            if len(self._contents(caps, settings)):
                return settings
        return len(self._demand)

    def _contents(self, caps: tuple[int, ...], settings: int) -> Sums:
        """What a stick can hold with so many settings after the first one."""
        key = (caps, settings)
        if key not in self._alone:
            kinds = (0, 1) if not settings else (settings + 1,)
            rows = np.concatenate([self._holding(caps, k) for k in kinds])
            self._alone[key] = self._sums(rows, sum(caps))
        return self._alone[key]

    def _holding(self, caps: tuple[int, ...], kinds: int) -> Ints:
        """The contents of a stick with exactly so many lengths."""
        types = range(len(self._demand))
        found = [rows for chosen in combinations(types, kinds) if len(rows := self._of_types(caps, chosen))]
        return np.concatenate(found) if found else np.zeros((0, len(self._demand)), dtype=np.int64)

    def _of_types(self, caps: tuple[int, ...], chosen: tuple[int, ...]) -> Ints:
        """The contents with some of each of these lengths and no others."""
        if len(caps) == 1:
            return self._of_one_span(caps[0], chosen, 1)
        one, other = (self._sums(self._of_one_span(cap, chosen, 0), cap) for cap in caps)
        rows = self._unique(list(self._added(one, other))).rows
        return rows[(rows[:, list(chosen)] > 0).all(axis=1)]

    def _sums(self, rows: Ints, room: int) -> Sums:
        return Sums(rows, room - rows @ np.array(self.core.widths, dtype=np.int64))

    def _of_one_span(self, cap: int, chosen: tuple[int, ...], least: int) -> Ints:
        """Fillings of one span with these lengths, `least` of each or more, that lose little enough."""
        widths, types = self.core.widths, len(self._demand)
        if not chosen:
            return np.zeros((int(cap <= self.slack), types), dtype=np.int64)
        made = np.zeros((1, types), dtype=np.int64)
        room = np.array([cap], dtype=np.int64)
        for i in chosen[:-1]:
            counts = np.arange(least, min(self.core.demand[i], cap // widths[i]) + 1)
            self.work.spend(len(made) * len(counts) // ROWS_A_UNIT)
            made = np.repeat(made, len(counts), axis=0)
            made[:, i] = np.tile(counts, len(room))
            room = np.repeat(room, len(counts)) - made[:, i] * widths[i]
            made, room = made[room >= 0], room[room >= 0]
        i = chosen[-1]
        out = []
        n = np.minimum(room // widths[i], self.core.demand[i])
        while True:
            fits = (n >= least) & (room - n * widths[i] <= self.slack)
            if not fits.any():
                break
            made, room, n = made[fits], room[fits], n[fits]
            out.append(made.copy())
            out[-1][:, i] = n
            n = n - 1
        return np.concatenate(out) if out else np.zeros((0, types), dtype=np.int64)
