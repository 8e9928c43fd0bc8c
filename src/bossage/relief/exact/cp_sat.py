"""Constraint programming (CP-SAT): a field, or the proof that there is none, and what is least to give up.

The model has one Boolean for each block and each level that the block may have. Neighbours enter as cliques rather
than as pairs: so the solver sees that four blocks round a corner need four levels. One worker, a fixed seed and
deterministic time make the answer depend on the problem alone.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from bossage.relief.problem.graph import Graph, clique_cover
from bossage.relief.problem.records import BoolArray, IntArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a search came to.

    `levels` is the field found, if any; `value` what was minimised; `best` whether nothing better exists, or, with
    no field, whether there is none; `bound` a proven lower bound of `value`.
    """

    levels: IntArray | None
    value: int
    bound: int
    best: bool


def search(graph: Graph, *, units: float, hint: IntArray | None = None) -> Found:
    """A field that keeps every rule, or the proof that there is none."""
    model, x = _model(graph, graph.choice)
    _hold_quotas(model, graph, x)
    return _run(model, x, graph, units, hint)


def fewest_moved(graph: Graph, *, units: float, least: int = 0) -> Found:
    """The field with the fewest blocks on another level than the quotas ask for; pins and choices are kept.

    `least` is a proven lower bound of that number, which ends the search where it is met.
    """
    model, x = _model(graph, graph.choice)
    short = _shortfalls(model, graph.problem.quotas)
    for (g, level), missing in short.items():
        members = np.flatnonzero(graph.group == g).tolist()
        have = sum(x[v][level] for v in members if level in x[v])
        model.add(have + missing >= int(graph.problem.quotas[g, level]))
    model.add(sum(short.values()) >= least)
    model.minimize(sum(short.values()))
    return _run(model, x, graph, units, None)


def nearest_quotas(
    graph: Graph,
    cuts: list[tuple[IntArray, int]],
    hold: Callable[[Any, dict[tuple[int, int], Any]], object] | None = None,
    *,
    within: tuple[int, int] | None = None,
) -> tuple[IntArray, int] | None:
    """Quotas that keep every cut (coef, most) and add up to each group's blocks, with the fewest blocks moved.

    Among these, those that spread the change most evenly. `hold` adds further rules to the model, which has a variable
    for each group and level. `within` are bounds of the blocks that move; with it the change is spread as it comes.
    Returns the quotas and how many blocks move, or None when no quotas keep the cuts.
    """
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    quotas = graph.problem.quotas
    size = np.bincount(graph.group, minlength=len(quotas)).tolist()
    cells = list(np.ndindex(*quotas.shape))
    new = {(g, level): model.new_int_var(0, size[g], "") for g, level in cells}
    for g, n in enumerate(size):
        model.add(sum(new[g, level] for level in range(graph.L)) == n)
    for coef, most in cuts:
        model.add(sum(int(coef[i]) * new[i] for i in cells) <= most)
    if hold:
        hold(model, new)
    short = _shortfalls(model, quotas)
    widest = model.new_int_var(0, max(1, graph.n, int(quotas.max(initial=0))), "")
    narrowest = model.new_int_var(0, max(1, int(quotas.max(initial=0))), "")
    for i in cells:
        model.add(new[i] + short[i] >= int(quotas[i]))
        model.add(widest >= new[i] - int(quotas[i]))
        model.add(narrowest >= int(quotas[i]) - new[i])
    if within:
        model.add_linear_constraint(sum(short.values()), *within)
        model.minimize(sum(short.values()))
    else:
        model.minimize(sum(short.values()) * 4 * (int(quotas.max(initial=0)) + graph.n + 1) + widest + narrowest)
    solver = solver_of(10.0)
    if solver.solve(model) != cp_model.OPTIMAL:
        return None
    found = np.array([solver.value(new[i]) for i in cells], dtype=np.int64).reshape(quotas.shape)
    return found, int(np.maximum(quotas - found, 0).sum())


def _shortfalls(model: Any, quotas: IntArray) -> dict[tuple[int, int], Any]:
    return {(g, level): model.new_int_var(0, int(quotas[g, level]), "") for g, level in np.ndindex(*quotas.shape)}


def fewest_released(graph: Graph, *, units: float, quotas_too: bool) -> Found:
    """The field (quotas held or not) that lets go of the fewest pins and, at a thousandth of the price, of the
    fewest blocks' allowed levels; `value` counts 1000 for each block's levels widened and 1 for each pin.
    """
    everything = np.ones((graph.n, graph.L), dtype=np.bool_)
    model, x = _model(graph, everything)
    price = []
    for v in range(graph.n):
        for level in range(graph.L):
            if not graph.allowed[v, level]:
                price.append(1000 * x[v][level])
        if graph.pins[v] >= 0:
            price.append(1 - x[v][int(graph.pins[v])])
    if quotas_too:
        _hold_quotas(model, graph, x)
    model.minimize(sum(price))
    return _run(model, x, graph, units, None)


def fewest_changed(
    graph: Graph, current: IntArray, price: IntArray, *, units: float, least: int, hint: IntArray | None
) -> Found:
    """The field with these quotas in which the blocks that differ from `current` cost least.

    `price` is what a change of each block costs; `least` is a proven lower bound of the total.
    """
    model, x = _model(graph, graph.choice)
    _hold_quotas(model, graph, x)
    gone = sum(int(price[v]) for v in range(graph.n) if int(current[v]) not in x[v])
    change = [int(price[v]) * (1 - x[v][int(current[v])]) for v in range(graph.n) if int(current[v]) in x[v]]
    model.add(gone + sum(change) >= least)
    model.minimize(gone + sum(change))
    return _run(model, x, graph, units, current if hint is None else hint)


def fewest_colours(graph: Graph, least: int, most: int, *, units: float) -> tuple[int, bool]:
    """The fewest levels with which neighbours can all differ, between two numbers, and whether that is proven.

    `most` is an upper bound that is known to do.
    """
    from ortools.sat.python import cp_model

    for colours in range(least, most):
        model = cp_model.CpModel()
        x = [[model.new_bool_var("") for _ in range(colours)] for _ in range(graph.n)]
        for own in x:
            model.add_exactly_one(own)
        for clique in clique_cover(graph):
            for colour in range(colours):
                model.add_at_most_one(x[v][colour] for v in clique)
        status = solver_of(units).solve(model)
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return colours, True
        if status != cp_model.INFEASIBLE:
            return most, False
    return most, True


def most_apart(n: int, cliques: list[list[int]], *, units: float) -> tuple[int, bool]:
    """The most of n blocks of which no two share a clique, and whether that is proven to be the most."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    x = [model.new_bool_var("") for _ in range(n)]
    for clique in cliques:
        model.add_at_most_one(x[v] for v in clique)
    model.maximize(sum(x))
    solver = solver_of(units)
    status = solver.solve(model)
    return int(solver.best_objective_bound + 0.5), status == cp_model.OPTIMAL


def _model(graph: Graph, choice: BoolArray) -> tuple[Any, list[dict[int, Any]]]:
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    x = [{level: model.new_bool_var("") for level in np.flatnonzero(row).tolist()} for row in choice]
    for own in x:
        model.add_exactly_one(own.values())
    hold_pairs(model, graph, x)
    return model, x


def hold_pairs(model: Any, graph: Graph, x: list[dict[int, Any]]) -> None:
    """Neighbours keep the rule: of all that touch one another, one at most stands within a window of levels."""
    for clique in clique_cover(graph):
        for window in graph.windows:
            terms = [x[v][level] for v in clique for level in window if level in x[v]]
            if len(terms) > 1:
                model.add_at_most_one(terms)


def _hold_quotas(model: Any, graph: Graph, x: list[dict[int, Any]]) -> None:
    for g in range(graph.problem.group_count):
        members = np.flatnonzero(graph.group == g).tolist()
        for level in range(graph.L):
            model.add(sum(x[v][level] for v in members if level in x[v]) == int(graph.problem.quotas[g, level]))


def solver_of(units: float) -> Any:
    """One worker, a fixed seed, patience in deterministic time."""
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 7
    solver.parameters.max_deterministic_time = units
    return solver


def _run(model: Any, x: list[dict[int, Any]], graph: Graph, units: float, hint: IntArray | None) -> Found:
    from ortools.sat.python import cp_model

    if hint is not None:
        for v, own in enumerate(x):
            for level, var in own.items():
                model.add_hint(var, int(hint[v]) == level)
    solver = solver_of(units)
    status = solver.solve(model)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        levels = np.array([next(level for level, var in own.items() if solver.value(var)) for own in x], dtype=np.int64)
        bound = int(np.ceil(solver.best_objective_bound - 1e-6))
        value = round(solver.objective_value)
        return Found(levels=levels, value=value, bound=bound, best=status == cp_model.OPTIMAL)
    return Found(levels=None, value=0, bound=0, best=status == cp_model.INFEASIBLE)
