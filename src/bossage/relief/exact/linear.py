"""Linear and integer programming (HiGHS): the fewest changes.

The linear program has the same rows as the CP-SAT model, with fractions in place of 0 and 1. On re-plans its value is
the least number of changes, or nearly always less than one change below it. Its bound, and its answer that there is
no field, do not rest on floats: the dual prices are rounded to integers, and the bound is summed again in integers.
By weak duality that is a proof whatever the prices are. Of the integer program two results are used: its field, which
is checked again, and its bound, which is taken as exact to a ten-thousandth of a change. That an integer program
finds no field proves nothing here; only CP-SAT is asked for that proof.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from bossage.relief.exact.cp_sat import Found, fewest_changed
from bossage.relief.problem.field import is_field
from bossage.relief.problem.graph import Graph, clique_cover
from bossage.relief.problem.records import Effort, IntArray

SCALE = 1 << 20  # prices are whole numbers of this part of a change
NODES = 60  # branches of the search in whole numbers; nearly all searches end at the first
PATIENT_UP_TO = 300  # blocks; a maker with glue on his hands rather waits half a minute than moves blocks in vain
PATIENCE = 6  # times as much work of CP-SAT on these
SPLIT_SHARE = 0.5  # of the blocks; with more shared among levels the program says too little to search from it
WHOLE = 1e-6
INFEASIBLE = 2  # as scipy says it


def fewest_exactly(graph: Graph, current: IntArray, best: IntArray | None, least: int, effort: Effort) -> Found:
    """The field with the fewest blocks that differ from `current`.

    Args:
        graph: What is asked.
        current: Level of each block now.
        best: The best field known, if any.
        least: No field has fewer changes.
        effort: `exact_units` bounds the search of CP-SAT, which is asked where the linear program leaves it open; six
            times as much on pieces of up to 300 blocks.
    """
    one = np.ones(graph.n, dtype=np.int64)
    program = Program(graph, current, one)
    shares = program.shares()
    if shares.none:
        return Found(levels=None, value=0, bound=0, best=True)
    least = max(least, shares.bound)
    found = _found(best, current, least)
    if not found.best and shares.split == 0:
        found = _found(program.field_of(shares.share), current, least)
    if not found.best and shares.split <= SPLIT_SHARE * graph.n:
        found = _better(found, program.in_whole(least))
    if not found.best:
        units = effort.exact_units * (PATIENCE if graph.n <= PATIENT_UP_TO else 1)
        searched = fewest_changed(graph, current, one, units=units, least=max(least, found.bound), hint=found.levels)
        found = _better(found, searched)
    return found


def least_seen(graph: Graph, current: IntArray, levels: IntArray, weight: IntArray, effort: Effort) -> IntArray:
    """Of the fields with no more changes than `levels`, one whose changes weigh least."""
    changes = int((levels != current).sum())
    program = Program(graph, current, weight, most=changes)
    shares = program.shares()
    if shares.split == 0:
        whole = program.field_of(shares.share)
        if whole is not None:
            return whole
    if shares.split <= SPLIT_SHARE * graph.n:
        found = program.in_whole(shares.bound)
        if found.levels is not None and found.best:
            return found.levels
    each = int(weight.sum()) + 1  # so that one change fewer outweighs any difference in weight
    searched = fewest_changed(
        graph, current, each + weight, units=effort.exact_units, least=each * changes, hint=levels
    )
    return levels if searched.levels is None else searched.levels


def some_field(graph: Graph) -> IntArray | None:
    """A field that keeps every rule, if the program in whole numbers comes upon one; none is no proof."""
    nothing = np.zeros(graph.n, dtype=np.int64)
    return Program(graph, nothing, nothing).in_whole(0).levels


def _whole_bound(bound: float | None, least: int) -> int:
    """The bound of a whole number that a search in whole numbers gave; `least` where it gave none."""
    return least if bound is None or not np.isfinite(bound) else max(least, int(np.ceil(bound - 1e-4)))


def _found(levels: IntArray | None, current: IntArray, bound: int) -> Found:
    value = 0 if levels is None else int((levels != current).sum())
    return Found(levels=levels, value=value, bound=bound, best=levels is not None and value == bound)


def _better(one: Found, other: Found) -> Found:
    """What two searches of the same question say together."""
    if one.levels is None and other.levels is None:
        return other
    levels, value = min(((f.levels, f.value) for f in (one, other) if f.levels is not None), key=lambda x: x[1])
    bound = min(value, max(one.bound, other.bound))
    return Found(levels=levels, value=value, bound=bound, best=value == bound)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shares:
    """What the linear program came to.

    Attributes:
        share: How much of each block stands on each level, shape (blocks, levels); None without an answer.
        bound: No field costs less than this; proven in whole numbers.
        none: Whether there is no field, not even in shares.
        split: Blocks that are shared among levels; all where there is no answer.
    """

    share: Any
    bound: int
    none: bool
    split: int


class Program:
    """The rules of a graph as rows of a linear program: a variable for each block and level."""

    def __init__(self, graph: Graph, current: IntArray, price: IntArray, *, most: int | None = None) -> None:
        """`price` is what a change of each block costs; no more than `most` blocks change."""
        from scipy.sparse import csr_array

        n, L = graph.n, graph.L
        self.graph, self.current, self.price = graph, current, price
        at = np.arange(n) * L + current
        changes = np.setdiff1d(np.arange(n * L), at)
        parts = [*_clique_rows(graph), *([] if most is None else [changes[None, :]])]
        width = np.concatenate([np.full(len(part), part.shape[1]) for part in parts] or [np.zeros(0, dtype=np.int64)])
        cols = np.concatenate([part.reshape(-1) for part in parts] or [np.zeros(0, dtype=np.int64)])
        start = np.concatenate([[0], np.cumsum(width)])
        self.apart: Any = csr_array((np.ones(len(cols)), cols, start), shape=(len(width), n * L))
        self.room = np.ones(len(width), dtype=np.int64)
        if most is not None:
            self.room[-1] = most
        each = np.arange(n * L)
        rows = np.concatenate([each // L, n + np.repeat(graph.group, L) * L + each % L])
        total = n + graph.problem.quotas.size
        self.whole: Any = csr_array((np.ones(2 * n * L), (rows, np.tile(each, 2))), shape=(total, n * L))
        self.due = np.concatenate([np.ones(n, dtype=np.int64), graph.problem.quotas.reshape(-1)])
        self.most = graph.choice.reshape(-1).astype(np.int64)
        self.cost = np.repeat(price, L)
        self.cost[at] = 0

    def shares(self) -> Shares:
        """The least cost in shares, with its proof."""
        from scipy.optimize import linprog

        solve: Any = linprog
        found = solve(
            self.cost.astype(np.float64),
            A_ub=self.apart,
            b_ub=self.room,
            A_eq=self.whole,
            b_eq=self.due.astype(np.float64),
            bounds=np.stack([np.zeros(len(self.most)), self.most], axis=1),
            method="highs",
        )
        if found.status != 0:
            none = found.status == INFEASIBLE and self._least_missed() > 0
            return Shares(share=None, bound=0, none=none, split=self.graph.n)
        share = found.x.reshape(self.graph.n, self.graph.L)
        split = int((share.max(axis=1) < 1 - WHOLE).sum())
        bound = self._proven(found.ineqlin.marginals, found.eqlin.marginals)
        return Shares(share=share, bound=bound, none=False, split=split)

    def _least_missed(self) -> int:
        """By how much every field misses blocks and quotas at least: above 0 there is none."""
        from scipy.optimize import linprog
        from scipy.sparse import csr_array, eye_array, hstack

        solve: Any = linprog
        miss: Any = eye_array(len(self.due))
        found = solve(
            np.concatenate([np.zeros(len(self.most)), np.ones(2 * len(self.due))]),
            A_ub=hstack([self.apart, csr_array((len(self.room), 2 * len(self.due)))]),
            b_ub=self.room,
            A_eq=hstack([self.whole, miss, -miss]),
            b_eq=self.due.astype(np.float64),
            bounds=[*((0, int(most)) for most in self.most), *((0, None) for _ in range(2 * len(self.due)))],
            method="highs",
        )
        if found.status != 0:
            return 0
        whole = np.clip(found.eqlin.marginals, -1.0, 1.0)  # more than what is missed may not be charged
        return self._proven(found.ineqlin.marginals, whole, free=True)

    def _proven(self, apart: Any, whole: Any, *, free: bool = False) -> int:
        """What every field costs, or misses where changes are `free`, by these prices of rows as whole numbers."""
        y = np.maximum(np.rint(-apart * SCALE), 0).astype(np.int64)
        z = np.rint(whole * SCALE).astype(np.int64)
        rest = self.apart.T.astype(np.int64) @ y - self.whole.T.astype(np.int64) @ z
        if not free:
            rest = rest + self.cost * SCALE
        least = int(np.minimum(rest, 0) @ self.most) - int(y @ self.room) + int(z @ self.due)
        return max(0, -(-least // SCALE))

    def in_whole(self, least: int) -> Found:
        """The least cost in whole numbers, none below `least`."""
        from scipy.optimize import Bounds, LinearConstraint, milp

        found: Any = milp(
            self.cost.astype(np.float64),
            constraints=[
                LinearConstraint(self.apart, -np.inf, self.room),
                LinearConstraint(self.whole, self.due, self.due),
                LinearConstraint(self.cost[None, :].astype(np.float64), least, np.inf),
            ],
            bounds=Bounds(0, self.most),
            integrality=np.ones(len(self.most), dtype=np.int64),
            options={"node_limit": NODES, "mip_rel_gap": 0.0},
        )
        levels = None if found.x is None else self.field_of(found.x)
        if levels is None:
            return Found(levels=None, value=0, bound=least, best=False)
        value = int(self.price[levels != self.current].sum())
        bound = min(value, _whole_bound(found.mip_dual_bound, least))
        return Found(levels=levels, value=value, bound=bound, best=bound == value)

    def field_of(self, share: Any) -> IntArray | None:
        """The level that most of each block stands on, if that keeps every rule."""
        levels: IntArray = share.reshape(self.graph.n, self.graph.L).argmax(axis=1).astype(np.int64)
        return levels if is_field(self.graph, levels) else None


def _clique_rows(graph: Graph) -> list[IntArray]:
    """Of all that touch one another one at most stands within a window of levels: variables of each row, by size."""
    by_size: dict[int, list[list[int]]] = {}
    for clique in clique_cover(graph):
        by_size.setdefault(len(clique), []).append(clique)
    out = []
    for size, cliques in sorted(by_size.items()):
        first = np.array(cliques, dtype=np.int64)[:, :, None] * graph.L
        out += [(first + np.array(window)).reshape(len(first), size * len(window)) for window in graph.windows]
    return out
