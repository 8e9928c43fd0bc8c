"""Arc consistency and Hall's condition: blocks that neighbours leave no level, levels that too few may have."""

from __future__ import annotations

from collections import Counter

import numpy as np

from bossage.relief.problem.graph import Graph, as_masks, clique_cover, compatible_levels
from bossage.relief.problem.matching import unmet_choices
from bossage.relief.problem.records import BoolArray, IntArray, NoField, Proof
from bossage.relief.problem.verdict import Finding, count_of, cut_of, in_group, names_of

MASK_BITS = 62  # levels that fit into the bits of one whole number
TRIANGLES_UP_TO = 50_000  # blocks; above, only plain grids are looked at for blocks that all touch


def few_levels(graph: Graph) -> Finding | None:
    """Blocks that all touch one another, more than there are levels that may touch."""
    touching = _touching(graph)
    most = compatible_levels(graph.conflict)
    if len(touching) <= most:
        return None
    p = graph.problem
    where = ", ".join(p.block_name(v) for v in touching[:-1]) + " and " + p.block_name(touching[-1])
    wanted = levels_wanted(graph, len(touching))
    text = (
        f"The blocks at {where} all touch one another, so they need {len(touching)} levels of which any two may "
        f"meet; these {count_of(graph.L, 'level')} hold {most}. With this rule at least {wanted} levels are needed."
    )
    return Finding(no=NoField(reasons=(text,), proof=Proof.FEW_LEVELS, proven=True, blocks=tuple(touching)))


def levels_wanted(graph: Graph, touching: int) -> int:
    """The fewest levels that so many blocks, all touching one another, can do with."""
    return (touching - 1) * graph.problem.min_step + 1


def _touching(graph: Graph) -> list[int]:
    """The largest set of blocks that all touch one another, as far as it matters (four at most)."""
    if not len(graph.edges):
        return [0] if graph.n else []
    grid = graph.problem.grid
    if grid is not None:
        block = grid.block
        if grid.diagonal and min(block.shape) > 1:
            tile = np.stack([block[:-1, :-1], block[:-1, 1:], block[1:, :-1], block[1:, 1:]])
            for least in (4, 3):
                full = np.argwhere((tile >= 0).sum(axis=0) >= least)
                if len(full):
                    return [int(v) for v in tile[:, full[0][0], full[0][1]] if v >= 0]
        return [int(v) for v in graph.edges[0]]
    if graph.n > TRIANGLES_UP_TO or graph.two_sides is not None:
        return [int(v) for v in graph.edges[0]]
    return max(clique_cover(graph), key=len)


def narrowed(graph: Graph) -> tuple[BoolArray, Finding | None]:
    """Levels that each block can still have once its neighbours' only choices are taken off; stops at the first
    block that is left none and names it with the neighbours that did it.
    """
    reach = graph.choice.copy()
    p = graph.problem
    if p.pins is None and p.allowed is None and max(len(w) for w in graph.windows) < graph.L:
        return reach, None
    empty = np.flatnonzero(~reach.any(axis=1))
    if len(empty):
        v = int(empty[0])
        text = f"The block at {p.block_name(v)} is allowed no level at all; allow it one."
        return reach, Finding(no=NoField(reasons=(text,), proof=Proof.EMPTIED, proven=True, blocks=(v,)))
    if graph.L > MASK_BITS or reach.sum(axis=1).min(initial=graph.L) > max(len(w) for w in graph.windows):
        return reach, None
    return _propagate(graph, reach)


def _propagate(graph: Graph, reach: BoolArray) -> tuple[BoolArray, Finding | None]:
    bit = np.int64(1) << np.arange(graph.L, dtype=np.int64)
    mask = np.append(reach @ bit, np.int64(-1))  # the last stands for nobody, whom nothing bars
    table = graph.padded
    bars = np.array(graph.conflict_mask, dtype=np.int64)
    gone = np.zeros_like(mask)
    gone[:-1] = _taken(mask[:-1], bars)
    todo = np.arange(graph.n)
    while len(todo):
        hit = np.zeros(len(todo), dtype=np.int64)
        for near in table[todo].T:
            hit |= gone[near]
        left = mask[todo] & ~hit
        if (left == 0).any():
            v = int(todo[np.flatnonzero(left == 0)[0]])
            return reach, _emptied(graph, v, [u for u in graph.near(v) if mask[v] & gone[u]])
        changed = todo[left != mask[todo]]
        mask[todo] = left
        gone[changed] = _taken(mask[changed], bars)
        around = np.zeros(graph.n + 1, dtype=np.bool_)
        around[table[changed]] = True
        todo = np.flatnonzero(around[:-1])
    out: BoolArray = (mask[:-1, None] & bit) != 0
    return out, None


def _taken(mask: IntArray, bars: IntArray) -> IntArray:
    """Levels that a neighbour cannot have whichever of its levels the block takes."""
    gone = np.full(len(mask), -1, dtype=np.int64)
    for level, barred in enumerate(bars.tolist()):
        gone = np.where(mask >> level & 1, gone & barred, gone)
    return gone


def _emptied(graph: Graph, v: int, causes: list[int]) -> Finding:
    p = graph.problem
    around = sorted(set(causes))
    where = ", ".join(p.block_name(u) for u in around)
    start = f"pinned to {names_of(graph, [int(graph.pins[v])])}" if graph.pins[v] >= 0 else "without a level of its own"
    pinned = bool((graph.pins[[v, *around]] >= 0).any())
    freed = "Let one of these pins go, or allow" if pinned else "Allow"
    text = (
        f"The block at {p.block_name(v)} is {start}: its neighbours at {where} can only have levels that leave it "
        f"none. {freed} one of these blocks another level."
    )
    return Finding(no=NoField(reasons=(text,), proof=Proof.EMPTIED, proven=True, blocks=(v, *around)))


def choices(graph: Graph, reach: BoolArray) -> Finding | None:
    """Blocks of few levels against the quotas of these, neighbours left aside."""
    if reach.all() or not graph.n:
        return None
    masks = np.array(as_masks(reach), dtype=object)
    for g in range(graph.problem.group_count):
        members = np.flatnonzero(graph.group == g)
        kinds = Counter(masks[members].tolist())
        order = sorted(kinds)
        quota = graph.problem.quotas[g].tolist()
        short = unmet_choices(order, [kinds[k] for k in order], quota)
        if short is None:
            continue
        held = sum(1 << level for level in short)
        bound = sum(count for mask, count in kinds.items() if not mask & ~held)
        have = sum(quota[level] for level in short)
        rest = [level for level in range(graph.L) if level not in short]
        gap = bound - have
        can_be_fewer = len(rest) < len(short) and sum(quota[level] for level in rest) > 0
        if can_be_fewer:
            want, can = sum(quota[level] for level in rest), len(members) - bound
            text = (
                f"{names_of(graph, rest).capitalize()}: asked for {count_of(want, 'block')}{in_group(graph, g)}, but "
                f"only {can:,} can have {'it' if len(rest) == 1 else 'them'}; {gap:,} fewer will do."
            )
        else:
            text = (
                f"{count_of(bound, 'block')}{in_group(graph, g)} can only have {names_of(graph, short)}, but only "
                f"{have:,} are asked for: {gap:,} too few."
            )
        blocks = tuple(v for v in members.tolist() if not masks[v] & ~held)
        return Finding(
            no=NoField(reasons=(text,), proof=Proof.CHOICES, proven=True, blocks=blocks),
            cut=cut_of(graph, [(g, short, -1)], -bound),
            gap=gap if can_be_fewer else 0,
        )
    return None
