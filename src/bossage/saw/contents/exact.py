"""Constraint programming (CP-SAT): integer programs that place every slice stick by stick.

One worker, a fixed seed and deterministic work, so that one job gives one answer on any machine.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from bossage.saw.job.contents import Filled
from bossage.saw.job.limits import PLACED_STICKS_UP_TO
from bossage.saw.job.numbers import Core


@dataclass(slots=True)
class Exact:
    """What an integer program found: contents, a bound on the price, or that there are none."""

    filled: Filled | None
    bound: int
    impossible: bool = False
    optimal: bool = False


def _solver(work: float, seed: int) -> Any:
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed % (1 << 30)
    solver.parameters.max_deterministic_time = work
    return solver


def place_exactly(core: Core, low: int, high: float, most: int, work: float, seed: int) -> Exact:
    """Every slice into every stick that could be bought below `high`; not tried above `most` sticks times types."""
    from ortools.sat.python import cp_model

    sticks = candidates(core, high - 1 if np.isfinite(high) else None)
    if len(sticks) > PLACED_STICKS_UP_TO or len(sticks) * len(core.widths) > most:
        return Exact(filled=None, bound=low)
    model, variables = stick_model(core, sticks)
    cost = sum(core.bins[b].price * u for b, u in zip(sticks, variables.used, strict=True))
    model.add(cost >= low)
    if np.isfinite(high):
        model.add(cost <= int(high) - 1)
    model.minimize(cost)
    solver = _solver(work, seed)
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        none = not np.isfinite(high)
        return Exact(filled=None, bound=low if none else int(high), impossible=none)
    bound = max(low, int(np.ceil(solver.best_objective_bound - 1e-6)))
    if status == cp_model.UNKNOWN:
        return Exact(filled=None, bound=bound)
    return Exact(filled=variables.read(solver), bound=bound, optimal=status == cp_model.OPTIMAL)


def candidates(core: Core, high: float | None) -> list[int]:
    """Sticks that a plan of at most that price could use, as indices of bins, equal ones side by side."""
    out: list[int] = []
    for k, b in enumerate(core.bins):
        n = b.count if high is None or not b.price else min(b.count, int(high // b.price))
        out += [k] * min(n, PLACED_STICKS_UP_TO + 1)
    return out


@dataclass(slots=True)
class Variables:
    """Variables of the model over sticks."""

    sticks: list[int]
    counts: list[list[list[Any]]]  # stick, span, type
    has: list[list[Any]]  # stick, type
    used: list[Any]

    def read(self, solver: Any) -> Filled:
        """Contents of the solution."""
        return Filled(
            bins=list(self.sticks),
            spans=[[[int(solver.value(v)) for v in span] for span in stick] for stick in self.counts],
        )


def stick_model(core: Core, sticks: list[int]) -> tuple[Any, Variables]:
    """Counts by stick, span and type; which types a stick holds; whether it is used. Equal sticks go by load."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    types = range(len(core.widths))
    counts: list[list[list[Any]]] = []
    has: list[list[Any]] = []
    used: list[Any] = []
    loads: list[Any] = []
    for k, b in enumerate(sticks):
        caps = core.bins[b].caps
        u = model.new_bool_var(f"u{k}")
        rows = []
        for s, cap in enumerate(caps):
            row = [model.new_int_var(0, min(core.demand[i], cap // core.widths[i]), f"x{k},{s},{i}") for i in types]
            model.add(sum(core.widths[i] * row[i] for i in types) <= cap * u)
            rows.append(row)
        flags = [model.new_bool_var(f"y{k},{i}") for i in types]
        for i in types:
            most = min(core.demand[i], sum(cap // core.widths[i] for cap in caps))
            total = sum(row[i] for row in rows)
            model.add(total <= most * flags[i])
            model.add(total >= flags[i])
            model.add_implication(flags[i], u)
        model.add(sum(flags) >= u)
        counts.append(rows)
        has.append(flags)
        used.append(u)
        loads.append(sum(core.widths[i] * row[i] for row in rows for i in types))
        if k and sticks[k - 1] == b:
            model.add(loads[k - 1] >= loads[k])
    for i in types:
        model.add(sum(row[i] for stick in counts for row in stick) == core.demand[i])
    return model, Variables(sticks=list(sticks), counts=counts, has=has, used=used)


def better_at_price(
    core: Core, sticks: list[int], price: int, filled: Filled, work: float, seed: int
) -> tuple[Filled, bool, bool]:
    """At one price: fewest settings, then sticks, then the longest rest; and which of them is proven."""
    from ortools.sat.python import cp_model

    model, variables = stick_model(core, sticks)
    model.add(sum(core.bins[b].price * u for b, u in zip(sticks, variables.used, strict=True)) == price)
    many = len(sticks) + 1
    goal = many * sum(f for flags in variables.has for f in flags) - (many - 1) * sum(variables.used)
    _hint(model, core, variables, filled)
    model.minimize(goal)
    solver = _solver(work, seed)
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return filled, False, False
    first = status == cp_model.OPTIMAL
    best = round(solver.objective_value)
    found = variables.read(solver)
    model.add(goal <= best)
    rest = _longest_rest(model, core, variables)
    model.clear_hints()
    _hint(model, core, variables, found)
    model.maximize(rest)
    solver = _solver(work, seed)
    status = solver.solve(model)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        found = variables.read(solver)
    return found, first, first and status == cp_model.OPTIMAL


def _hint(model: Any, core: Core, variables: Variables, filled: Filled) -> None:
    """Start the search at known contents, sticks of one kind by load as the model wants them."""
    held: dict[int, list[list[list[int]]]] = {}
    for b, spans in zip(filled.bins, filled.spans, strict=True):
        held.setdefault(b, []).append(spans)
    for rows in held.values():
        rows.sort(key=lambda spans: -sum(w * n for span in spans for w, n in zip(core.widths, span, strict=True)))
    for k, b in enumerate(variables.sticks):
        spans = held[b].pop(0) if held.get(b) else [[0] * len(core.widths) for _ in variables.counts[k]]
        for row, span in zip(variables.counts[k], spans, strict=True):
            for v, n in zip(row, span, strict=True):
                model.add_hint(v, n)
        for i, flag in enumerate(variables.has[k]):
            model.add_hint(flag, any(span[i] for span in spans))
        model.add_hint(variables.used[k], any(any(span) for span in spans))


def _longest_rest(model: Any, core: Core, variables: Variables) -> Any:
    """A variable that is at most the rest of one stick: the stick and its last used span are chosen."""
    top = max(core.bins[b].length_nm for b in variables.sticks)
    rest = model.new_int_var(0, top, "rest")
    picks = []
    for k, b in enumerate(variables.sticks):
        for s, start in enumerate(core.bins[b].starts_nm):
            pick = model.new_bool_var(f"pick{k},{s}")
            picks.append(pick)
            load = sum(w * v for w, v in zip(core.widths, variables.counts[k][s], strict=True))
            model.add(rest <= core.bins[b].length_nm - start - core.unit_nm * load).only_enforce_if(pick)
            model.add(load >= 1).only_enforce_if(pick)
            for later in variables.counts[k][s + 1 :]:
                model.add(sum(later) == 0).only_enforce_if(pick)
    model.add_exactly_one(picks)
    return rest
