"""Constraint programming (CP-SAT): a relief from the blocks in the trays; `tray_flow` says what is asked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from bossage.relief.change.tray_flow import Flow, Trays, fewest_possible, shortage
from bossage.relief.exact.cp_sat import hold_pairs, solver_of
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import IntArray, NoField, Proof


@dataclass(frozen=True, slots=True, kw_only=True)
class FromTrays:
    """What the search came to. `fewest_new` says whether no relief is proven to need fewer blocks off a stick."""

    levels: IntArray
    flow: Flow
    bound: int
    fewest_new: bool
    least_seen: bool


@dataclass(kw_only=True)
class _Model:
    """The variables: a level for each place, blocks by what they become, what comes off a stick, who is repainted."""

    model: Any
    x: list[dict[int, Any]]
    flow: dict[tuple[int, int, int, int], Any]
    new: dict[tuple[int, int], Any]
    beyond: list[Any]
    paint: list[Any]


def fewest_from_trays(
    graph: Graph, current: IntArray, trays: Trays, weight: IntArray, *, units: float
) -> FromTrays | NoField | None:
    """First the fewest new blocks beyond what is missing and the fewest changes, then the least seen of those.

    Returns None when patience ran out before anything was found.
    """
    from ortools.sat.python import cp_model

    m = _build(graph, current, trays)
    free = np.flatnonzero(graph.pins < 0).tolist()
    forced = int(((graph.pins >= 0) & (graph.pins != current)).sum())
    changed = {v: 1 - m.x[v][int(current[v])] if int(current[v]) in m.x[v] else 1 for v in free}
    changes = sum(changed.values())
    beyond = sum(m.beyond)
    bound = fewest_possible(graph, current, trays)
    m.model.add(changes + forced + beyond >= bound)
    m.model.minimize((graph.n + 1) * beyond + changes)
    _hint(m, current, trays)
    solver = solver_of(units)
    status = solver.solve(m.model)
    if status == cp_model.INFEASIBLE:
        text = "Round what is glued no relief keeps the rule, whatever is sawn: every way was tried."
        return NoField(reasons=(text,), proof=Proof.SEARCH, proven=True)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    best = _read(m, trays, solver, len(graph.pins))
    fewest, extra = int(solver.value(changes)) if free else 0, int(solver.value(beyond))
    least, fewest_new = forced + fewest, True
    if status != cp_model.OPTIMAL:
        left, fewest_new = _left_open(solver.best_objective_bound, extra, graph.n)
        least = max(bound - extra, forced + left)
    m.model.add(changes <= fewest)
    m.model.add(beyond <= extra)
    length_count = trays.have.shape[1]
    # few cuts first, then short ones
    recuts = sum((length_count + k - to) * var for (_, k, _, to), var in m.flow.items() if to < k)
    seen = sum(int(weight[v]) * part for v, part in changed.items())
    each = 2 * length_count * graph.n + 1
    m.model.minimize(each * ((2 * graph.n + 1) * seen + sum(m.paint)) + recuts)
    m.model.clear_hints()
    for v, own in enumerate(m.x):
        for level, var in own.items():
            m.model.add_hint(var, int(best[0][v]) == level)
    solver = solver_of(units)
    status = solver.solve(m.model)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        best = _read(m, trays, solver, len(graph.pins))
    seen_least = status == cp_model.OPTIMAL
    return FromTrays(levels=best[0], flow=best[1], bound=least, fewest_new=fewest_new, least_seen=seen_least)


def _left_open(objective: float, extra: int, n: int) -> tuple[int, bool]:
    """What a bound of the objective proves, where n places are `changes` at most and a block beyond counts n + 1.

    The fewest changes with `extra` blocks beyond those missing or fewer; and whether fewer than `extra` cannot be.
    """
    whole = int(np.ceil(objective - 1e-6))
    return max(0, whole - extra * (n + 1)), whole > (extra - 1) * (n + 1) + n


def _build(graph: Graph, current: IntArray, trays: Trays) -> _Model:
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    x = [{level: model.new_bool_var("") for level in np.flatnonzero(row).tolist()} for row in graph.choice]
    for own in x:
        model.add_exactly_one(own.values())
    hold_pairs(model, graph, x)
    m = _Model(model=model, x=x, flow={}, new={}, beyond=[], paint=[])
    wants: dict[tuple[int, int], dict[int, list[Any]]] = {}
    for v in np.flatnonzero(graph.pins < 0).tolist():
        for level, var in x[v].items():
            by_shade = wants.setdefault((int(trays.kind[v]), int(trays.length[v, level])), {})
            by_shade.setdefault(int(trays.shade[v]), []).append(var)
    open = np.bincount(trays.kind[graph.pins < 0], minlength=len(trays.have)).tolist()
    for kind, lack in enumerate(shortage(graph, trays).tolist()):
        _serve(m, trays, kind, lack, open[kind], {k: by for (g, k), by in wants.items() if g == kind})
    return m


def _serve(m: _Model, trays: Trays, kind: int, lack: int, open: int, wants: dict[int, dict[int, list[Any]]]) -> None:
    """What places of one kind want must come out of the trays, longer ones sawn shorter, or off a stick."""
    model, have = m.model, trays.have[kind]
    came: dict[int, dict[int, list[Any]]] = {k: {} for k in wants}
    for k, s in np.argwhere(have > 0).tolist():
        out = []
        for to in wants:
            if to == k or (to < k and trays.saw):
                var = model.new_int_var(0, int(have[k, s]), "")
                m.flow[kind, k, s, to] = var
                came[to].setdefault(s, []).append(var)
                out.append(var)
        if out:
            model.add(sum(out) <= int(have[k, s]))
    beyond = model.new_int_var(0, open, "")
    m.beyond.append(beyond)
    for k, by_shade in wants.items():
        m.new[kind, k] = model.new_int_var(0, open, "")
        every = [var for own in by_shade.values() for var in own]
        model.add(sum(v for own in came[k].values() for v in own) + m.new[kind, k] == sum(every))
        right = []
        for s, own in by_shade.items():
            if s in came[k]:
                part = model.new_int_var(0, len(own), "")
                model.add(part <= sum(own))
                model.add(part <= sum(came[k][s]))
                right.append(part)
        # every block that does not come in its shade is painted, and one in another shade is sanded first
        m.paint.append(sum(every) - sum(right))
        painted = [var for s, own in came[k].items() if s != trays.bare for var in own]
        if painted:
            wrong = model.new_int_var(0, open, "")
            model.add(wrong >= sum(painted) - sum(right))
            m.paint.append(wrong)
    model.add(sum(m.new[kind, k] for k in wants) == lack + beyond)


def _hint(m: _Model, current: IntArray, trays: Trays) -> None:
    for v, own in enumerate(m.x):
        for level, var in own.items():
            m.model.add_hint(var, int(current[v]) == level)


def _read(m: _Model, trays: Trays, solver: Any, n: int) -> tuple[IntArray, Flow]:
    levels = np.array([next(level for level, var in own.items() if solver.value(var)) for own in m.x], dtype=np.int64)
    kinds, lengths, shades = trays.have.shape
    count = np.zeros((kinds, lengths, shades, lengths), dtype=np.int64)
    for at, var in m.flow.items():
        count[at] = solver.value(var)
    new = np.zeros((kinds, lengths), dtype=np.int64)
    for where, var in m.new.items():
        new[where] = solver.value(var)
    return levels.reshape(n), Flow(count=count, new=new)
