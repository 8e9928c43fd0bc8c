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
from bossage.press.turn_states import Block, Key, State, blocks_of, keep, level_of, merged, put, told
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
        first = State((0,) * self.shop.hands, (), (0,) * self.sets, (0,) * bench, 0, (), True, None, None)
        layers: list[dict[Key, list[State]]] = [{} for _ in range(2 * n + 1)]
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
                        keep(layers[2 * to[0] - len(to[1])].setdefault(to, []), after)
            layers[at] = {}
        ends = layers[2 * n].get((n, ()), [])
        bound = min([self.limit, *(max(s.hands) for s in ends)]) if self.whole else 0
        best = min((s for s in ends if s.exact), key=lambda s: max(s.hands), default=None)
        if best is None or max(best.hands) >= self.limit:
            return Turns(None, bound)
        return Turns(told(blocks_of(best), self.shop), bound)

    def _few(self, key: Key, states: list[State]) -> list[State]:
        """At most `width` of the states of one key, the most hopeful; the others merged into a few."""
        if len(states) <= self.width:
            return states
        ordered = sorted(states, key=lambda s: (not s.exact, self._least(key, s), sum(s.times), s.times))
        kept, rest = ordered[: self.width], ordered[self.width :]
        if not self.bounds:
            return kept
        rest.sort(key=lambda s: s.times)
        size = -(-len(rest) // max(1, self.width // 2))
        return [*kept, *(merged(rest[at : at + size]) for at in range(0, len(rest), size))]

    def _least(self, key: Key, state: State) -> int:
        """Before which nothing that follows can end."""
        laid, clamped = key
        hands, rows = state.hands, self.rows
        unloads = [rows[k].unload_s for k in clamped]
        outs = [ready + unload for ready, unload in zip(state.ready, unloads, strict=True)]
        least = max(level_of(hands, self.wanted[laid] + sum(unloads)), *hands, *outs)
        if laid == len(rows):
            return least
        # the last to be closed still has its press to come; where hands are alone and batches alike, they also take out
        # all but one batch a set before
        before = max(0, len(clamped) + len(rows) - laid - self.sets) if len(hands) == 1 and self.alike else 0
        closed = level_of(hands, self.laying[laid] + before * rows[-1].unload_s)
        held = level_of(tuple(sorted((*outs, *state.sets))), self.held[laid])
        return max(least, closed + self.shortest, held)

    def _blocks(self, key: Key, state: State) -> Iterator[tuple[Key, State]]:
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

    def _between(self, key: Key, state: State) -> Iterator[tuple[int, ...]]:
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

    def _next_out(self, state: State) -> list[int]:
        """Places in the clamps of what may be taken out next: the first to be ready, if all take as long."""
        if not state.ready:
            return []
        if self.alike:
            return [min(range(len(state.ready)), key=lambda j: (state.ready[j], j))]
        return list(range(len(state.ready)))

    def _unloaded(self, key: Key, state: State, j: int) -> tuple[Key, State]:
        laid, clamped = key
        p = self.rows[clamped[j]]
        hand, start = self._begin(state.hands, state.ready[j], p.unload_s)
        done = start + p.unload_s
        left = (*clamped[:j], *clamped[j + 1 :])
        bench, left_by = self._out(state.bench, dict(state.left_by), (laid, left), p.leaf, done)
        return (laid, left), self._state(
            laid,
            put(state.hands, hand, done),
            (*state.ready[:j], *state.ready[j + 1 :]),
            tuple(sorted((*state.sets, done))),
            bench,
            state.laid_at,
            left_by,
            state,
            Block(-1, start, start, start, ((clamped[j], start, done),)),
        )

    def _laid(self, key: Key, state: State, outs: tuple[int, ...]) -> tuple[Key, State] | None:
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
            put(state.hands, hand, press),
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
        before: State,
        block: Block,
    ) -> State:
        """A state whose times in the past are set to the present: they make no difference any more."""
        now = hands[0]
        close = now + self.quickest[laid]
        return State(
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
