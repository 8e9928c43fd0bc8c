"""Who paints which block. Everyone gets as many as everyone else, by lot; an absentee moves nobody but themselves.

The lot of a person hangs on the seed, the leaf and their name only. All names are dealt first, absentees too; then
each block of an absentee goes to whoever of those present has the fewest, so no other block changes hands.
"""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from itertools import pairwise

import numpy as np

from bossage.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """The blocks of one person, by number; those that they took over from an absentee among them."""

    name: str
    blocks: tuple[int, ...]
    taken_over: tuple[int, ...] = ()


def deal(plan: Plan) -> tuple[Share, ...]:
    """Everyone who is present, in the order of the brief, with their blocks."""
    crew, seed = plan.brief.crew, plan.brief.piece.seed
    owner = _dealt(plan)
    absent = set(crew.absent)
    present = [name for name in crew.names if name not in absent]
    count = {name: sum(one == name for one in owner.values()) for name in present}
    taken: dict[str, list[int]] = {name: [] for name in present}
    for block in sorted(block for block, name in owner.items() if name in absent):
        name = min(present, key=lambda one: (count[one], _lot(seed, "over", one, str(block))))
        owner[block] = name
        count[name] += 1
        taken[name].append(block)
    return tuple(
        Share(
            name=name,
            blocks=tuple(block for block, one in sorted(owner.items()) if one == name),
            taken_over=tuple(taken[name]),
        )
        for name in present
    )


def helper_groups(plan: Plan) -> list[list[Share]]:
    """Shares in as many lists as there are helpers, in the order of the brief, as equal as can be."""
    shares = list(deal(plan))
    helpers = min(plan.brief.crew.helpers, len(shares))
    cuts = [round(number * len(shares) / helpers) for number in range(helpers + 1)]
    return [shares[start:end] for start, end in pairwise(cuts)]


def _dealt(plan: Plan) -> dict[int, str]:
    """Every block that is dealt out, with its person, as if all were present."""
    crew, seed, blocks = plan.brief.crew, plan.brief.piece.seed, plan.layout.blocks
    names = [footprint.name for footprint in plan.brief.blocks.footprints]
    wanted = np.ones(blocks.count, dtype=bool)
    if crew.footprint:
        wanted = blocks.footprint == names.index(crew.footprint)
    count = dict.fromkeys(crew.names, 0)
    owner: dict[int, str] = {}
    for leaf in range(len(plan.layout.leaves)):
        mine = np.flatnonzero(wanted & (blocks.leaf == leaf)).tolist()
        mine.sort(key=lambda block: _lot(seed, str(leaf), blocks.address(block)))
        while mine:
            # One round: those who have fewest first, so that nobody is ever two ahead.
            order = sorted(crew.names, key=lambda name: (count[name], _lot(seed, str(leaf), name)))
            for name, block in zip(order, mine, strict=False):
                owner[block] = name
                count[name] += 1
            mine = mine[len(order) :]
    return owner


def _lot(seed: int, *words: str) -> str:
    return sha256("|".join([str(seed), *words]).encode()).hexdigest()
