"""Whose turn it is at the glue bench: the best way of taking turns between laying and unloading, searched to its end.

Batches are laid in their order. What hands do falls into blocks that one pair does without a pause: unload a batch; lay
and close one; lay one, unload others, close it. A schedule is an order of blocks, each begun as early as it can be. Two
orders that leave the same batches in the clamps are compared by all times that still matter (hands, sets, bench
places, batches in the clamps); one that is nowhere earlier is dropped, for whatever follows it can follow the other.
Where too many stay, the rest is merged into a few, each as early as the earliest of its own everywhere: they yield no
schedule, but what comes of them bounds all of them. (Dynamic programming with dominance and state relaxation; own use.)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations
from math import perm

from bossage.press.schedule_records import Pressed, Pressing, PressShop
from bossage.press.working_hours import fit

NARROW = 6
"""States of one kind that the first look keeps."""

NARROW_LAYER = 60
"""States of all kinds that the first look keeps after each block: several pairs of hands make very many kinds."""

MOST_ORDERS = 200
"""So many orders of taking batches out between laying and closing are looked at; where there are more, those that are
ready first, and nothing is proven."""

MOST_LOOKS = 2
"""Patience of the second look: states looked at, for each that may be kept. Given up beyond, for its bound is lost."""

Key = tuple[int, tuple[int, ...]]  # batches laid; which of them are in the clamps


@dataclass(frozen=True, slots=True)
class Block:
    """What one pair of hands does without a pause: lay `row` (-1: none), take `outs` out, close.

    Times are when it begins, when the batch is closed from, when it is in the clamps, and for each of `outs` from when
    to when it is taken out.
    """

    row: int
    lay_s: int
    close_s: int
    press_s: int
    outs: tuple[tuple[int, int, int], ...]  # batch, from, to

    @property
    def end_s(self) -> int:
        """When the hands are free again."""
        return self.press_s if self.row >= 0 else self.outs[-1][2]


@dataclass(frozen=True, slots=True)
class _State:
    """Times that still matter, and how they came about; `exact` False for one that merely bounds others."""

    hands: tuple[int, ...]
    ready: tuple[int, ...]  # of the batches in the clamps, in the order of the key
    sets: tuple[int, ...]  # when each set that is not in use becomes free
    bench: tuple[int, ...]  # the same of bench places
    laid_at: int  # when the last batch was begun: the next is not begun before
    left_by: tuple[tuple[int, int], ...]  # leaves on the bench, and when the last of their batches so far was out
    exact: bool
    before: _State | None
    block: Block | None  # the last one

    @property
    def times(self) -> tuple[int, ...]:
        """All of them, for comparing."""
        left = (at for _, at in self.left_by)
        return (*self.hands, *self.ready, *self.sets, *self.bench, self.laid_at, *left)


@dataclass(frozen=True, slots=True)
class Turns:
    """What was found: a schedule no later than the limit, or none; and what no way of taking turns beats."""

    pressed: tuple[Pressed, ...] | None
    bound_s: int


def best_turns(pressings: Sequence[Pressing], shop: PressShop, *, limit_s: int, states: int) -> Turns:
    """Search all ways of taking turns.

    Args:
        pressings: Batches in the order in which they are laid; each can be laid within the open time.
        shop: What they share. Shims are taken to be made to suit.
        limit_s: Finish of a schedule that is known; nothing later is looked at.
        states: Patience: how many states may be kept in all.

    Returns:
        A schedule that ends before `limit_s` if one was found, and a bound for batches laid in this order (`limit_s`
        where nothing earlier exists, 0 where patience ran out before there was one).
    """
    # a narrow look first: what it finds lets the wide one drop most of what it would have to keep
    narrow = _Search(pressings, shop, limit_s, NARROW, bounds=False).run()
    if narrow.pressed is not None:
        limit_s = max(p.done_s for p in narrow.pressed)
    width = states // len(pressings) // min(shop.sets, len(pressings))
    wide = _Search(pressings, shop, limit_s, width, looks=MOST_LOOKS * states).run()
    return wide if wide.pressed is not None else Turns(narrow.pressed, wide.bound_s)


class _Search:
    def __init__(
        self,
        pressings: Sequence[Pressing],
        shop: PressShop,
        limit_s: int,
        width: int,
        *,
        bounds: bool = True,
        looks: int = 0,
    ) -> None:
        self.rows, self.shop, self.limit, self.work = pressings, shop, limit_s, shop.work
        n, sets = len(pressings), min(shop.sets, len(pressings))
        self.sets = sets
        self.width, self.bounds, self.looks = max(NARROW, width), bounds, looks
        self.alike = len({(p.press_s, p.unload_s) for p in pressings}) == 1
        # hands still wanted for all batches from k on, and the last batch's time in the clamps
        self.wanted = [sum(p.hands_s for p in pressings[k:]) for k in range(n + 1)]
        self.laying = [sum(p.lay_s + p.close_s for p in pressings[k:]) for k in range(n + 1)]
        self.held = [sum(p.close_s + p.press_s + p.unload_s for p in pressings[k:]) for k in range(n + 1)]
        self.quickest = [min((p.lay_s for p in pressings[k:]), default=0) for k in range(n + 1)]
        self.shortest = min(p.press_s + p.unload_s for p in pressings)
        self.last_of = {p.leaf: k for k, p in enumerate(pressings)}
        # every order was looked at so far. With several pairs of hands and batches that differ one pair may wait for
        # what another takes out, which no block here does: what is found then bounds nothing.
        self.whole = self.alike or shop.hands == 1

    def run(self) -> Turns:
        """Layer by layer: blocks done."""
        n = len(self.rows)
        bench = min(self.shop.bench, len({p.leaf for p in self.rows}))
        first = _State((0,) * self.shop.hands, (), (0,) * self.sets, (0,) * bench, 0, (), True, None, None)
        layers: list[dict[Key, list[_State]]] = [{} for _ in range(2 * n + 1)]
        layers[0][0, ()] = [first]
        for at in range(2 * n):
            here = [(key, state) for key, states in layers[at].items() for state in self._few(key, states)]
            if self.bounds:
                self.looks -= len(here)
                if self.looks < 0:
                    return Turns(None, 0)
            elif len(here) > NARROW_LAYER:
                here = sorted(here, key=lambda one: (self._least(*one), sum(one[1].times), one[0], one[1].times))
                here = here[:NARROW_LAYER]
            for key, state in here:
                for to, after in self._blocks(key, state):
                    if self._least(to, after) < self.limit:
                        _keep(layers[2 * to[0] - len(to[1])].setdefault(to, []), after)
            layers[at] = {}
        ends = layers[2 * n].get((n, ()), [])
        bound = min([self.limit, *(max(s.hands) for s in ends)]) if self.whole else 0
        best = min((s for s in ends if s.exact), key=lambda s: max(s.hands), default=None)
        if best is None or max(best.hands) >= self.limit:
            return Turns(None, bound)
        return Turns(_told(_blocks_of(best), self.shop), bound)

    def _few(self, key: Key, states: list[_State]) -> list[_State]:
        """At most `width` of the states of one key, the most hopeful; the others merged into a few."""
        if len(states) <= self.width:
            return states
        ordered = sorted(states, key=lambda s: (not s.exact, self._least(key, s), sum(s.times), s.times))
        kept, rest = ordered[: self.width], ordered[self.width :]
        if not self.bounds:
            return kept
        rest.sort(key=lambda s: s.times)
        size = -(-len(rest) // max(1, self.width // 2))
        return [*kept, *(_merged(rest[at : at + size]) for at in range(0, len(rest), size))]

    def _least(self, key: Key, state: _State) -> int:
        """Before which nothing that follows can end."""
        laid, clamped = key
        hands, rows = state.hands, self.rows
        unloads = [rows[k].unload_s for k in clamped]
        outs = [ready + unload for ready, unload in zip(state.ready, unloads, strict=True)]
        least = max(_level(hands, self.wanted[laid] + sum(unloads)), *hands, *outs)
        if laid == len(rows):
            return least
        # the last to be closed still has its press to come; where hands are alone and batches alike, they also take out
        # all but one batch a set before
        before = max(0, len(clamped) + len(rows) - laid - self.sets) if len(hands) == 1 and self.alike else 0
        closed = _level(hands, self.laying[laid] + before * rows[-1].unload_s)
        held = _level(tuple(sorted((*outs, *state.sets))), self.held[laid])
        return max(least, closed + self.shortest, held)

    def _blocks(self, key: Key, state: _State) -> Iterator[tuple[Key, _State]]:
        """Every block that may come next."""
        laid = key[0]
        for j in self._next_out(state):
            yield self._unloaded(key, state, j)
        if laid == len(self.rows):
            return
        if state.sets:
            found = self._laid(key, state, ())
            if found is not None:
                yield found
        for outs in self._between(key, state):
            found = self._laid(key, state, outs)
            if found is not None:
                yield found

    def _between(self, key: Key, state: _State) -> Iterator[tuple[int, ...]]:
        """What may be taken out between laying and closing, within the open time, and in which order.

        Where all batches take as long to press and to take out, those that are ready first. Else any of them in any
        order: one that is ready later but is quickly out may let the batch be closed sooner.
        """
        laid, clamped = key
        p = self.rows[laid]
        spare = self.shop.open_s - p.lay_s - p.close_s
        order = sorted(range(len(clamped)), key=lambda j: (state.ready[j], j))
        for count in range(1, len(order) + 1):
            few = self.alike or perm(len(order), count) > MOST_ORDERS
            self.whole = self.whole and (self.alike or not few)
            ways = [tuple(order[:count])] if few else permutations(order, count)
            for outs in ways:
                if sum(self.rows[clamped[j]].unload_s for j in outs) <= spare:
                    yield outs

    def _next_out(self, state: _State) -> list[int]:
        """Places in the clamps of what may be taken out next: the first to be ready, if all take as long."""
        if not state.ready:
            return []
        if self.alike:
            return [min(range(len(state.ready)), key=lambda j: (state.ready[j], j))]
        return list(range(len(state.ready)))

    def _unloaded(self, key: Key, state: _State, j: int) -> tuple[Key, _State]:
        laid, clamped = key
        p = self.rows[clamped[j]]
        hand, start = self._begin(state.hands, state.ready[j], p.unload_s)
        done = start + p.unload_s
        left = (*clamped[:j], *clamped[j + 1 :])
        bench, left_by = self._out(state.bench, dict(state.left_by), (laid, left), p.leaf, done)
        return (laid, left), self._state(
            laid,
            _put(state.hands, hand, done),
            (*state.ready[:j], *state.ready[j + 1 :]),
            tuple(sorted((*state.sets, done))),
            bench,
            state.laid_at,
            left_by,
            state,
            Block(-1, start, start, start, ((clamped[j], start, done),)),
        )

    def _laid(self, key: Key, state: _State, outs: tuple[int, ...]) -> tuple[Key, _State] | None:
        """Lay the next batch, take `outs` out of the clamps between, close it."""
        laid, clamped = key
        p = self.rows[laid]
        opened = p.leaf in {self.rows[k].leaf for k in range(laid) if self.last_of[self.rows[k].leaf] >= laid}
        if not opened and not state.bench:
            return None
        since = max(state.laid_at, 0 if opened else state.bench[0])
        between = [self.rows[clamped[j]].unload_s for j in outs]
        if outs:
            gone = 0
            for j, unload in zip(outs, between, strict=True):
                since = max(since, state.ready[j] - p.lay_s - gone)
                gone += unload
        else:
            since = max(since, state.sets[0] - p.lay_s)
        hand, start = self._begin(state.hands, since, p.lay_s + sum(between) + p.close_s)
        at = start + p.lay_s
        taken: list[tuple[int, int, int]] = []
        for j, unload in zip(outs, between, strict=True):
            taken.append((clamped[j], at, at + unload))
            at += unload
        press = at + p.close_s
        frees = sorted((*state.sets, *(to for _, _, to in taken)))
        # of the sets that are free in time the one that became free last: the others may serve somebody sooner
        used = max(k for k, free in enumerate(frees) if free <= at)
        bench = state.bench if opened else self._without(state.bench, start)
        left = tuple(k for j, k in enumerate(clamped) if j not in outs)
        left_by = {p.leaf: start} | dict(state.left_by)
        # by leaf: the last of a leaf's batches to come out, if it was the last of all, frees one place
        for leaf, to in {self.rows[k].leaf: to for k, _, to in taken}.items():
            bench, left_by = self._out(bench, left_by, (laid, left), leaf, to)
        return (laid + 1, (*left, laid)), self._state(
            laid + 1,
            _put(state.hands, hand, press),
            (*(r for j, r in enumerate(state.ready) if j not in outs), press + p.press_s),
            tuple(frees[:used] + frees[used + 1 :]),
            bench,
            start,
            left_by,
            state,
            Block(laid, start, at, press, tuple(taken)),
        )

    def _state(
        self,
        laid: int,
        hands: tuple[int, ...],
        ready: tuple[int, ...],
        sets: tuple[int, ...],
        bench: tuple[int, ...],
        laid_at: int,
        left_by: dict[int, int],
        before: _State,
        block: Block,
    ) -> _State:
        """A state whose times in the past are set to the present: they make no difference any more."""
        now = hands[0]
        close = now + self.quickest[laid]
        return _State(
            hands,
            tuple(max(now, at) for at in ready),
            tuple(max(close, at) for at in sets),
            tuple(max(now, at) for at in bench),
            max(now, laid_at),
            tuple(sorted((leaf, max(now, at)) for leaf, at in left_by.items())),
            before.exact,
            before,
            block,
        )

    def _begin(self, hands: tuple[int, ...], since: int, need: int) -> tuple[int, int]:
        """Which pair of hands, and when: as early as can be, by the pair that would else have waited least."""
        start = fit(self.work, max(since, hands[0]), need)
        return max(k for k, free in enumerate(hands) if free <= start), start

    def _out(
        self, bench: tuple[int, ...], left_by: dict[int, int], key: Key, leaf: int, done: int
    ) -> tuple[tuple[int, ...], dict[int, int]]:
        """Note that a batch of a leaf is out; a leaf whose last one is out leaves its place."""
        laid, clamped = key
        left_by = left_by | {leaf: max(left_by[leaf], done)}
        if self.last_of[leaf] >= laid or any(self.rows[k].leaf == leaf for k in clamped):
            return bench, left_by
        gone = left_by.pop(leaf)
        return tuple(sorted((*bench, gone))), left_by

    @staticmethod
    def _without(bench: tuple[int, ...], start: int) -> tuple[int, ...]:
        used = max(k for k, free in enumerate(bench) if free <= start)
        return (*bench[:used], *bench[used + 1 :])


def _merged(states: list[_State]) -> _State:
    """One that is as early as the earliest of them everywhere."""
    if len(states) == 1:
        return states[0]
    return _State(
        tuple(map(min, zip(*(s.hands for s in states), strict=True))),
        tuple(map(min, zip(*(s.ready for s in states), strict=True))),
        tuple(map(min, zip(*(s.sets for s in states), strict=True))),
        tuple(map(min, zip(*(s.bench for s in states), strict=True))),
        min(s.laid_at for s in states),
        tuple((leaf, min(dict(s.left_by)[leaf] for s in states)) for leaf, _ in states[0].left_by),
        False,
        None,
        None,
    )


def _keep(states: list[_State], new: _State) -> None:
    """Add a state unless one that is nowhere later stands there; take out those that it beats in this way."""
    times = new.times
    for old in states:
        if (old.exact or not new.exact) and all(a <= b for a, b in zip(old.times, times, strict=True)):
            return
    states[:] = [
        old
        for old in states
        if not ((new.exact or not old.exact) and all(a <= b for a, b in zip(times, old.times, strict=True)))
    ]
    states.append(new)


def _level(free: tuple[int, ...], work: int) -> int:
    """How high work stands when it is poured over helpers that are free from these times on, earliest first."""
    poured = 0
    for k, at in enumerate(free, 1):
        poured += at
        level = -(-(poured + work) // k)
        if k == len(free) or level <= free[k]:
            return level
    return work


def _put(hands: tuple[int, ...], hand: int, free: int) -> tuple[int, ...]:
    return tuple(sorted((*hands[:hand], *hands[hand + 1 :], free)))


def _blocks_of(state: _State) -> list[Block]:
    blocks: list[Block] = []
    at: _State | None = state
    while at is not None and at.block is not None:
        blocks.append(at.block)
        at = at.before
    return blocks


def _told(blocks: Sequence[Block], shop: PressShop) -> tuple[Pressed, ...]:
    """Hands and sets by number: always the one that became free last before it is needed."""
    hands, sets = [0] * shop.hands, [0] * shop.sets
    closed: dict[int, tuple[int, Block]] = {}
    taken: dict[int, tuple[int, int, int]] = {}
    for block in sorted(blocks, key=lambda one: (one.lay_s, one.end_s)):
        hand = max((h for h in range(len(hands)) if hands[h] <= block.lay_s), key=lambda h: (hands[h], -h))
        hands[hand] = block.end_s
        if block.row >= 0:
            closed[block.row] = (hand, block)
        for k, out_s, done_s in block.outs:
            taken[k] = (hand, out_s, done_s)
    found: dict[int, Pressed] = {}
    for k, (hand, block) in sorted(closed.items(), key=lambda one: (one[1][1].close_s, one[0])):
        out_hand, out_s, done_s = taken[k]
        set_no = max((n for n in range(len(sets)) if sets[n] <= block.close_s), key=lambda n: (sets[n], -n))
        sets[set_no] = done_s
        found[k] = Pressed(
            pressing=k,
            hand=hand,
            out_hand=out_hand,
            set_no=set_no,
            lay_s=block.lay_s,
            close_s=block.close_s,
            press_s=block.press_s,
            out_s=out_s,
            done_s=done_s,
        )
    return tuple(found[k] for k in sorted(found))
