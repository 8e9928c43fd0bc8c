"""When each batch is laid, closed, left in the clamps and taken out: hands, sets, bench places and shims shared.

Batches are laid in their order, row after row from the datum corner; a batch may be laid ahead while its set is still
in use, if that set can be unloaded and the batch closed within the open time. First a rule of thumb: a pair of hands
takes whichever can begin sooner, the next laying or the next unloading. Where that does not meet the plain bounds, all
ways of taking turns are searched (`turns`), which also sharpens the bound.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import product

from bossage.press.schedule_records import DAY_S, Pressed, Pressing, PressShop, Schedule, WorkDay
from bossage.press.turns import best_turns
from bossage.press.working_hours import CannotPress, fit

STATES = 3_000
"""Patience of the search: states kept in all. Ours."""

MANY, CLOSE = 30, 1.01
"""So many batches are not searched through for the last hundredth. Ours."""


def schedule(pressings: Sequence[Pressing], shop: PressShop, *, states: int = STATES) -> Schedule:
    """The best way of taking turns that was found, beside the bound.

    Args:
        pressings: Batches in the order in which they are laid, leaf by leaf.
        shop: What they share.
        states: Patience of the search where rules of thumb do not meet the bound; 0 leaves it out.

    Returns:
        Times from the start; `proven` when the finish meets the bound, among schedules in which a pair of hands closes
        what it has laid before it lays more. Where shims are short, or where batches differ in press or unloading and
        several pairs of hands work, the bound is that of hands, sets and bench alone.

    Raises:
        CannotPress: A batch takes longer than the open time, needs more shims than there are, or fits no working day.
    """
    _refuse(pressings, shop)
    if not pressings:
        return Schedule(pressed=(), finish_s=0, bound_s=0, bound_by="hands", proven=True)
    tries = [
        _Bench(pressings, shop).run(lay_first=first, ahead=ahead) for first, ahead in product((True, False), repeat=2)
    ]
    best = min(tries, key=lambda pressed: max(p.done_s for p in pressed))
    finish = max(p.done_s for p in best)
    bound, by = finish_bound(pressings, shop)
    close = len(pressings) > MANY and finish <= bound * CLOSE
    if bound < finish and states and shop.shims is None and not close:
        found = best_turns(pressings, shop, limit_s=finish, states=states)
        if found.pressed is not None:
            best = list(found.pressed)
            finish = max(p.done_s for p in best)
        if found.bound_s > bound:
            bound, by = found.bound_s, "turns"
    return Schedule(pressed=tuple(best), finish_s=finish, bound_s=bound, bound_by=by, proven=finish == bound)


def finish_bound(pressings: Sequence[Pressing], shop: PressShop) -> tuple[int, str]:
    """The latest of several times before which nothing can be finished in any order, and what asks for it.

    Hands: all handling shared out, or all laying, the unloading of every batch that cannot stand in the clamps at the
    end, and one last press. Sets: their time filled without a break, or the set that must take most batches. Bench:
    leaves one after the other.
    """
    whole = _bound_of(pressings, shop)
    leaves = sorted({p.leaf for p in pressings})
    if len(leaves) > shop.bench:
        each = [_bound_of([p for p in pressings if p.leaf == leaf], shop)[0] for leaf in leaves]
        by_bench = -(-sum(each) // shop.bench)
        whole = max(whole, (by_bench, "bench"))
    if shop.work is None:
        return whole
    hands_s = -(-sum(p.hands_s for p in pressings) // shop.hands)
    begun = fit(shop.work, 0, 0)
    by_days = (_days_bound(pressings, shop, shop.work), "sets")
    return max((begun + whole[0], whole[1]), (_worked(shop.work, hands_s), "hands"), by_days)


def _worked(work: WorkDay, need_s: int) -> int:
    """When `need_s` of work are done, if it may be broken off each evening."""
    day = 0
    while True:
        room = work.to_s - work.from_s if work.works(day) else 0
        if need_s <= room:
            return day * DAY_S + work.from_s + need_s
        need_s -= room
        day += 1


def _days_bound(pressings: Sequence[Pressing], shop: PressShop, work: WorkDay) -> int:
    """How many batches a day can close at most, so which day the last ones come to, and how long they take there."""
    held = min(_held_s(pressings, shop))
    lay, close = min(p.lay_s for p in pressings), min(p.close_s for p in pressings)
    unload = min(p.unload_s for p in pressings)
    a_day = shop.sets * (max(0, work.to_s - work.from_s - lay - close) // held + 1)
    days = -(-len(pressings) // a_day)
    day = -1
    for _ in range(days):
        day = next(k for k in range(day + 1, day + 9) if work.works(k))
    turns = -(-(len(pressings) - (days - 1) * a_day) // shop.sets)
    out = lay + close + min(p.press_s for p in pressings) + (turns - 1) * held
    return fit(work, day * DAY_S + work.from_s + out, unload) + unload


def _held_s(pressings: Sequence[Pressing], shop: PressShop) -> list[int]:
    """How long each batch keeps its set: from closing, or from laying where one pair of hands cannot unload between."""
    unload = min(p.unload_s for p in pressings)
    return [p.close_s + p.press_s + p.unload_s + (p.lay_s if _early(p, unload, shop) else 0) for p in pressings]


def _early(p: Pressing, unload_s: int, shop: PressShop) -> bool:
    return shop.hands == 1 and p.lay_s + unload_s + p.close_s > shop.open_s


def _refuse(pressings: Sequence[Pressing], shop: PressShop) -> None:
    owned = None if shop.shims is None else dict(shop.shims)
    for p in pressings:
        if p.lay_s + p.close_s > shop.open_s:
            raise CannotPress(
                f"{p.name} takes {(p.lay_s + p.close_s) / 60:g} minutes to lay and close, more than the open time of "
                f"{shop.open_s / 60:g}. Press it in smaller parts."
            )
        for thickness, count in p.shims:
            if owned is not None and owned.get(thickness, 0) < count:
                raise CannotPress(
                    f"{p.name} needs {count} shims of {thickness / 1e6:g} mm, and there are {owned.get(thickness, 0)}. "
                    "Make the rest."
                )


@dataclass(slots=True)
class _Bench:
    """The shop while the schedule is made."""

    pressings: Sequence[Pressing]
    shop: PressShop
    hands: list[int] = field(init=False)
    sets: list[int] = field(init=False)  # when each is known to be free; -1 while a batch stands in it
    waiting: list[tuple[int, int, int]] = field(default_factory=list)  # ready, pressing, set
    started: dict[int, tuple[int, int, int, int, int]] = field(default_factory=dict)
    left: dict[int, int] = field(init=False)  # batches of each leaf that are not yet out
    opened: dict[int, int] = field(default_factory=dict)  # when each leaf came onto the bench
    returned: list[tuple[int, tuple[tuple[int, int], ...]]] = field(default_factory=list)  # shims, from when on
    freed: list[int] = field(default_factory=list)  # when each finished leaf left the bench

    def __post_init__(self) -> None:
        self.hands = [0] * self.shop.hands
        self.sets = [0] * self.shop.sets
        self.left = {}
        for p in self.pressings:
            self.left[p.leaf] = self.left.get(p.leaf, 0) + 1

    def run(self, *, lay_first: bool, ahead: bool) -> list[Pressed]:
        """Lay and unload until everything is out."""
        done: list[Pressed] = []
        at = 0
        while at < len(self.pressings) or self.waiting:
            hand = min(range(len(self.hands)), key=self.hands.__getitem__)
            lay = self._lay(at, hand, ahead=ahead) if at < len(self.pressings) else None
            out = self._out(hand)
            if lay is None and out is None:
                raise CannotPress("The batches wait for shims that are never free. Make more.")
            if lay is not None and (out is None or lay[0] < out or (lay[0] == out and lay_first)):
                if lay[1] < 0:
                    # the set it needs is taken out between laying and closing
                    done.append(self._unload(hand, lay[0] + self.pressings[at].lay_s))
                    self._start(at, hand, lay[0], done[-1].set_no, self.hands[hand])
                else:
                    close = max(lay[0] + self.pressings[at].lay_s, self.sets[lay[1]])
                    self._start(at, hand, lay[0], lay[1], close)
                at += 1
            else:
                assert out is not None
                done.append(self._unload(hand, out))
        return sorted(done, key=lambda p: p.pressing)

    def _lay(self, at: int, hand: int, *, ahead: bool) -> tuple[int, int] | None:
        """When the next batch can be laid and into which set; set -1 where one must be unloaded between."""
        p, shop = self.pressings[at], self.shop
        opened = len(self.opened.keys() | {p.leaf})
        if opened - len(self.freed) > shop.bench:
            return None
        since = max(self.hands[hand], self.opened.get(p.leaf, 0))
        if opened > shop.bench and p.leaf not in self.opened:
            since = max(since, sorted(self.freed)[opened - shop.bench - 1])
        known = [(free, k) for k, free in enumerate(self.sets) if free >= 0]
        if known:
            free, k = min(known)
            shims = self._shims_from(at)
            if shims is None:
                return None
            ready = max(free, shims)
            start = max(since, ready - p.lay_s) if ahead else max(since, ready)
            return fit(shop.work, start, p.lay_s + p.close_s), k
        ready, first, _ = min(self.waiting)
        between = self.pressings[first].unload_s
        if not ahead or p.lay_s + between + p.close_s > shop.open_s or self.pressings[first].leaf != p.leaf:
            return None
        shims = self._shims_from(at, but=first)
        if shims is None:
            return None
        return fit(shop.work, max(since, max(ready, shims) - p.lay_s), p.lay_s + between + p.close_s), -1

    def _shims_from(self, at: int, *, but: int = -1) -> int | None:
        """When the next batch's shims are back, apart from those in the clamps; `but`: a batch that comes out first."""
        if self.shop.shims is None:
            return 0
        free = dict(self.shop.shims)
        out = [k for _, k, _ in self.waiting if k != but]
        for k in out:
            for thickness, count in self.pressings[k].shims:
                free[thickness] -= count
        if any(free[thickness] < count for thickness, count in self.pressings[at].shims):
            return None
        since = 0
        # what is still being taken out lies on its blocks until that is done; the last to come back are missed first
        for back, shims in sorted(self.returned, reverse=True):
            for thickness, count in shims:
                free[thickness] -= count
            if any(free[thickness] < count for thickness, count in self.pressings[at].shims):
                since = back
                break
        return since

    def _out(self, hand: int) -> int | None:
        if not self.waiting:
            return None
        ready, first, _ = min(self.waiting)
        return fit(self.shop.work, max(self.hands[hand], ready), self.pressings[first].unload_s)

    def _start(self, at: int, hand: int, lay: int, set_no: int, close: int) -> None:
        p = self.pressings[at]
        press = close + p.close_s
        self.hands[hand] = press
        self.sets[set_no] = -1
        self.opened.setdefault(p.leaf, lay)
        self.started[at] = (hand, set_no, lay, close, press)
        self.waiting.append((press + p.press_s, at, set_no))

    def _unload(self, hand: int, out: int) -> Pressed:
        first = min(self.waiting)
        self.waiting.remove(first)
        _, k, set_no = first
        p = self.pressings[k]
        self.hands[hand] = self.sets[set_no] = out + p.unload_s
        if self.shop.shims is not None:
            self.returned.append((out + p.unload_s, p.shims))
        self.left[p.leaf] -= 1
        if not self.left[p.leaf]:
            self.freed.append(out + p.unload_s)
        by, _, lay, close, press = self.started[k]
        return Pressed(
            pressing=k,
            hand=by,
            out_hand=hand,
            set_no=set_no,
            lay_s=lay,
            close_s=close,
            press_s=press,
            out_s=out,
            done_s=out + p.unload_s,
        )


def _bound_of(pressings: Sequence[Pressing], shop: PressShop) -> tuple[int, str]:
    if not pressings:
        return 0, "hands"
    n, sets, alone = len(pressings), min(shop.sets, len(pressings)), shop.hands == 1
    hands = -(-sum(p.hands_s for p in pressings) // shop.hands)
    unload = min(p.unload_s for p in pressings)
    if alone:
        # when the last batch is closed, no more than one a set is still in the clamps; it then has its press to come
        last = min(p.press_s for p in pressings) + unload
        hands = max(hands, sum(p.lay_s + p.close_s for p in pressings) + max(0, n - shop.sets) * unload + last)
    longest = max(p.hands_s + p.press_s for p in pressings)
    early = [_early(p, unload, shop) for p in pressings]
    held = sorted(_held_s(pressings, shop))
    lays = sorted(p.lay_s + p.close_s for p in pressings)
    first = 0 if any(early) else min(p.lay_s for p in pressings)
    heads = [first + (sum(lays[:k]) if alone else 0) for k in range(sets)]
    tails = [k * unload if alone else 0 for k in range(sets)]
    filled = -(-(sum(held) + sum(heads) + sum(tails)) // sets)
    most, rest = -(-n // sets), n % sets or sets
    # either `rest` sets take `most` batches each, the last of them starting late, or one set takes one batch more
    fullest = sum(held[:most]) + heads[rest - 1]
    if most < n:
        fullest = min(fullest, sum(held[: most + 1]) + heads[0])
    return max((hands, "hands"), (longest, "hands"), (filled, "sets"), (fullest, "sets"))
