"""States of the search for turns at the glue bench: times that still matter, compared, merged, told as a schedule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bossage.press.schedule_records import Pressed, PressShop

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
class State:
    """Times that still matter, and how they came about; `exact` False for one that merely bounds others."""

    hands: tuple[int, ...]
    ready: tuple[int, ...]  # of the batches in the clamps, in the order of the key
    sets: tuple[int, ...]  # when each set that is not in use becomes free
    bench: tuple[int, ...]  # the same of bench places
    laid_at: int  # when the last batch was begun: the next is not begun before
    left_by: tuple[tuple[int, int], ...]  # leaves on the bench, and when the last of their batches so far was out
    exact: bool
    before: State | None
    block: Block | None  # the last one

    @property
    def times(self) -> tuple[int, ...]:
        """All of them, for comparing."""
        left = (at for _, at in self.left_by)
        return (*self.hands, *self.ready, *self.sets, *self.bench, self.laid_at, *left)


def merged(states: list[State]) -> State:
    """One that is as early as the earliest of them everywhere."""
    if len(states) == 1:
        return states[0]
    return State(
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


def keep(states: list[State], new: State) -> None:
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


def level_of(free: tuple[int, ...], work: int) -> int:
    """How high work stands when it is poured over helpers that are free from these times on, earliest first."""
    poured = 0
    for k, at in enumerate(free, 1):
        poured += at
        level = -(-(poured + work) // k)
        if k == len(free) or level <= free[k]:
            return level
    return work


def put(hands: tuple[int, ...], hand: int, free: int) -> tuple[int, ...]:
    """Free times of all hands, earliest first, after one of them is busy until `free`."""
    return tuple(sorted((*hands[:hand], *hands[hand + 1 :], free)))


def blocks_of(state: State) -> list[Block]:
    """The blocks that led to a state, the last one first."""
    blocks: list[Block] = []
    at: State | None = state
    while at is not None and at.block is not None:
        blocks.append(at.block)
        at = at.before
    return blocks


def told(blocks: Sequence[Block], shop: PressShop) -> tuple[Pressed, ...]:
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
