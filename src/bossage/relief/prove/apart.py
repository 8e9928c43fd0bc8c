"""Kőnig's theorem and clique covers: how many blocks can stand apart; and how much company levels need."""

from __future__ import annotations

import numpy as np

from bossage.relief.problem.graph import Graph, clique_cover
from bossage.relief.problem.limits import suits_cp_sat
from bossage.relief.problem.matching import matching_size
from bossage.relief.problem.records import BoolArray, IntArray, NoField, Proof
from bossage.relief.problem.verdict import Finding, count_of, cut_of, in_group, names_of


def apart(graph: Graph, reach: BoolArray, window: list[int], with_solver: bool) -> Finding | None:
    """More blocks of a window of levels than can stand apart, in all or in one group."""
    if graph.unbound and graph.problem.group_count == 1 and 4 * int(graph.problem.quotas[0, window].sum()) <= graph.n:
        return None  # as below, without counting
    holds: BoolArray = np.asarray(reach[:, window].any(axis=1))
    quotas = graph.problem.quotas[:, window].sum(axis=1)
    sets: list[tuple[int, BoolArray, int]] = [(int(quotas.sum()), holds, -1)]
    if graph.problem.group_count > 1:
        sets += [(int(q), holds & (graph.group == g), g) for g, q in enumerate(quotas.tolist())]
    for want, inside, g in sets:
        if want * 4 <= int(inside.sum()):
            continue  # four colours always do for blocks that touch in the plane, so a quarter can always stand apart
        can = _can_stand_apart(graph, inside, want, with_solver)
        if can >= want:
            continue
        gap = want - can
        verb = "is" if len(window) == 1 else "are"
        text = (
            f"{names_of(graph, window).capitalize()} {verb} asked for {want:,} of {count_of(int(graph.n), 'block')}"
            f"{in_group(graph, g) if g >= 0 else ''}, but at most {can:,} can stand apart; {gap:,} fewer will do."
        )
        return Finding(
            no=NoField(reasons=(text,), proof=Proof.APART, proven=True),
            cut=cut_of(graph, [(g, window, 1)], can),
            gap=gap,
        )
    return None


def _can_stand_apart(graph: Graph, inside: BoolArray, want: int, with_solver: bool) -> int:
    """An upper bound of how many of these blocks can stand apart; exact on two-sided graphs."""
    total = int(inside.sum())
    start, flat = graph.csr
    side = graph.two_sides
    if side is not None:
        return total - matching_size(side, inside, start, flat)
    grid = graph.problem.grid
    if grid is not None and grid.diagonal:
        return _tiles_met(grid.block, inside)
    cover = _clique_cover_size(graph, inside)
    if not with_solver or not suits_cp_sat(graph):
        return cover
    return _exact_apart(graph, inside, cover)


def _tiles_met(block: IntArray, inside: BoolArray) -> int:
    held = np.zeros((block.shape[0] + 2, block.shape[1] + 2), dtype=np.bool_)
    held[1:-1, 1:-1] = np.where(block >= 0, inside[np.maximum(block, 0)], False)
    best = int(inside.sum())
    for r in (0, 1):
        for c in (0, 1):
            part = held[r:, c:]
            part = part[: len(part) // 2 * 2, : part.shape[1] // 2 * 2]
            met = part[0::2, 0::2] | part[1::2, 0::2] | part[0::2, 1::2] | part[1::2, 1::2]
            best = min(best, int(met.sum()))
    return best


def _clique_cover_size(graph: Graph, inside: BoolArray) -> int:
    """Cliques in a greedy cover of these blocks: triangles and fours first, then pairs, then single blocks."""
    left = set(np.flatnonzero(inside).tolist())
    used = 0
    for clique in sorted(clique_cover(graph), key=lambda c: (-len(c), c)):
        if len(clique) > 2 and all(v in left for v in clique):
            left.difference_update(clique)
            used += 1
    near = graph.neighbours
    for v in sorted(left, key=lambda v: (sum(u in left for u in near[v]), v)):
        if v not in left:
            continue
        mate = [u for u in near[v] if u in left]
        left.discard(v)
        if mate:
            left.discard(min(mate, key=lambda u: (sum(w in left for w in near[u]), u)))
        used += 1
    return used


def _exact_apart(graph: Graph, inside: BoolArray, cover: int) -> int:
    from bossage.relief.exact.cp_sat import most_apart

    index = np.cumsum(inside) - 1
    held = inside.tolist()
    cliques = [[int(index[v]) for v in c if held[v]] for c in clique_cover(graph)]
    can, _ = most_apart(int(inside.sum()), [c for c in cliques if len(c) > 1], units=5.0)
    return min(can, cover)


def company(graph: Graph) -> Finding | None:
    """Levels that all conflict need company: in a matching, the mate of each must be a level that they may touch."""
    side = graph.two_sides if max(len(w) for w in graph.windows) > 1 else None
    if side is None:
        return None
    start, flat = graph.csr
    alone = graph.n - 2 * matching_size(side, np.ones(graph.n, dtype=np.bool_), start, flat)
    total = graph.problem.quotas.sum(axis=0)
    for window in graph.windows:
        for i in range(len(window)):
            for j in range(i, len(window)):
                inner = window[i : j + 1]
                beside = [b for b in range(graph.L) if not graph.conflict[inner, b].all()]
                want, can = int(total[inner].sum()), int(total[beside].sum()) + alone
                if want <= can:
                    continue
                verb = "is" if len(inner) == 1 else "are"
                beyond = f" and {count_of(alone, 'block')} can do without" if alone else ""
                text = (
                    f"{names_of(graph, inner).capitalize()} {verb} asked for {count_of(want, 'block')}, and may only "
                    f"touch {names_of(graph, beside) if beside else 'no other level'}, asked for "
                    f"{can - alone:,}{beyond}; so {want - can:,} are left without a neighbour that they may touch. "
                    f"Move {(want - can + 1) // 2:,} or more to other levels."
                )
                return Finding(
                    no=NoField(reasons=(text,), proof=Proof.COMPANY, proven=True),
                    cut=cut_of(graph, [(-1, inner, 1), (-1, beside, -1)], alone),
                )
    return None
