"""Counting alone: quotas that do not add up, pins against quotas, pins against one another."""

from __future__ import annotations

import numpy as np

from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import NoField, Proof
from bossage.relief.problem.verdict import Finding, count_of, cut_of, in_group, names_of


def sums(graph: Graph) -> Finding | None:
    """Quotas that do not add up to the blocks there are."""
    have = np.bincount(graph.group, minlength=graph.problem.group_count)
    for g, want in enumerate(graph.problem.quotas.sum(axis=1).tolist()):
        gap = int(have[g]) - want
        if gap:
            do = f"add {gap:,}" if gap > 0 else f"take {-gap:,} away"
            there = count_of(int(have[g]), "block")
            text = f"The quotas{in_group(graph, g)} add up to {want:,}, but there are {there}; {do}."
            return Finding(no=NoField(reasons=(text,), proof=Proof.COUNTS, proven=True))
    return None


def pin_counts(graph: Graph) -> Finding | None:
    """More pins of a level than its quota."""
    if graph.problem.pins is None:
        return None
    pinned = graph.pins >= 0
    flat = np.bincount(graph.group[pinned] * graph.L + graph.pins[pinned], minlength=graph.problem.quotas.size)
    over = flat.reshape(graph.problem.quotas.shape) - graph.problem.quotas
    if (over <= 0).all():
        return None
    g, level = (int(i) for i in np.unravel_index(int(over.argmax()), over.shape))
    have, want, gap = int(over[g, level] + graph.problem.quotas[g, level]), int(graph.problem.quotas[g, level]), 0
    gap = have - want
    text = (
        f"{count_of(have, 'block')}{in_group(graph, g)} are pinned to {names_of(graph, [level])}, but only {want:,} "
        f"are asked for; ask for {gap:,} more, or let {gap:,} pins go."
    )
    blocks = np.flatnonzero(pinned & (graph.group == g) & (graph.pins == level))
    return Finding(
        no=NoField(reasons=(text,), proof=Proof.PINS, proven=True, blocks=tuple(blocks.tolist())),
        cut=cut_of(graph, [(g, [level], -1)], -have),
    )


def pin_pairs(graph: Graph) -> Finding | None:
    """Pins that touch and are too alike, and pins to a level that is not allowed."""
    if graph.problem.pins is None:
        return None
    a, b = graph.edges[:, 0], graph.edges[:, 1]
    la, lb = graph.pins[a], graph.pins[b]
    both = np.flatnonzero((la >= 0) & (lb >= 0))
    clash = both[graph.conflict[la[both], lb[both]]]
    p = graph.problem
    if len(clash):
        one, two = int(a[clash[0]]), int(b[clash[0]])
        text = (
            f"The blocks at {p.block_name(one)} ({p.level_name(int(graph.pins[one]))}) and {p.block_name(two)} "
            f"({p.level_name(int(graph.pins[two]))}) touch, and are pinned to levels that may not meet; "
            f"let one of the two go."
        )
        return Finding(no=NoField(reasons=(text,), proof=Proof.PINS, proven=True, blocks=(one, two)))
    pinned = np.flatnonzero(graph.pins >= 0)
    barred = pinned[~graph.allowed[pinned, graph.pins[pinned]]]
    if len(barred):
        v = int(barred[0])
        text = (
            f"The block at {p.block_name(v)} is pinned to {names_of(graph, [int(graph.pins[v])])}, "
            f"which it is not allowed to have; allow it there, or let the pin go."
        )
        return Finding(no=NoField(reasons=(text,), proof=Proof.PINS, proven=True, blocks=(v,)))
    return None
