"""The proven best schedule of a few batches, by constraint programming: slow, and asked for by name only."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import gcd
from typing import Any

from bossage.press.schedule import schedule
from bossage.press.schedule_records import Pressed, Pressing, PressShop, Schedule

MOST_PRESSINGS = 24
"""Above, the proof does not close in any patience worth having; the bound then has to do."""


def best_schedule(pressings: Sequence[Pressing], shop: PressShop, *, patience: float = 20.0) -> Schedule:
    """Fewest seconds to the last unloading, in any order of the batches; proven if the patience suffices.

    Args:
        pressings: Up to `MOST_PRESSINGS` batches; more are scheduled by `schedule` alone.
        shop: What they share. Working days are left out: this is for hands that never stop.
        patience: Deterministic time of the solver, a count of its work.

    Returns:
        The better of what was found and of `schedule`, with the better of the two bounds.

    Raises:
        CannotPress: As `schedule`.

    Leaves out:
        Bench places, and which of several pairs of hands does what.
    """
    quick = schedule(pressings, shop)
    if quick.proven or not 0 < len(pressings) <= MOST_PRESSINGS or shop.work is not None:
        return quick
    if len({p.leaf for p in pressings}) > shop.bench:
        return quick
    found = _solve(pressings, shop, quick, patience)
    return quick if found is None else found


def _solve(pressings: Sequence[Pressing], shop: PressShop, quick: Schedule, patience: float) -> Schedule | None:
    from ortools.sat.python import cp_model

    model: Any = cp_model.CpModel()
    horizon, unit = quick.finish_s, _common(pressings, shop, quick)
    end = horizon // unit
    at = []
    hands, presses = [], []
    for k, p in enumerate(pressings):
        lay, close = model.new_int_var(0, end, f"lay{k}"), model.new_int_var(0, end, f"close{k}")
        press, out = close + p.close_s // unit, model.new_int_var(0, end, f"out{k}")
        held = model.new_int_var(0, end, f"held{k}")
        model.add(close >= lay + p.lay_s // unit)
        model.add(press - lay <= shop.open_s // unit)
        model.add(out >= press + p.press_s // unit)
        hands += [
            model.new_fixed_size_interval_var(lay, p.lay_s // unit, f"hands{k}"),
            model.new_fixed_size_interval_var(close, p.close_s // unit, f"closing{k}"),
            model.new_fixed_size_interval_var(out, p.unload_s // unit, f"unload{k}"),
        ]
        done = out + p.unload_s // unit
        presses.append(model.new_interval_var(close, held, done, f"press{k}"))
        at.append((lay, close, out))
    if shop.hands == 1:
        model.add_no_overlap(hands)
    else:
        model.add_cumulative(hands, [1] * len(hands), shop.hands)
    model.add_cumulative(presses, [1] * len(presses), shop.sets)
    for thickness, owned in shop.shims or ():
        needs = [dict(p.shims).get(thickness, 0) for p in pressings]
        model.add_cumulative(presses, needs, owned)
    # batches that are alike keep their order
    last_alike: dict[Pressing, int] = {}
    for k, p in enumerate(pressings):
        kind = _kind(p)
        if kind in last_alike:
            model.add(at[last_alike[kind]][0] <= at[k][0])
        last_alike[kind] = k
    last = model.new_int_var(-(-quick.bound_s // unit), end, "finish")
    for (_, _, out), p in zip(at, pressings, strict=True):
        model.add(last >= out + p.unload_s // unit)
    model.minimize(last)
    for (lay, close, out), told in zip(at, quick.pressed, strict=True):
        model.add_hint(lay, told.lay_s // unit)
        model.add_hint(close, told.close_s // unit)
        model.add_hint(out, told.out_s // unit)
    solver: Any = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = patience
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    times = [tuple(solver.value(v) * unit for v in row) for row in at]
    finish = max(out + p.unload_s for (_, _, out), p in zip(times, pressings, strict=True))
    bound = max(quick.bound_s, int(solver.best_objective_bound) * unit)
    pressed = _placed(pressings, shop, times)
    by = quick.bound_by if bound == quick.bound_s else "search"
    return Schedule(pressed=pressed, finish_s=finish, bound_s=bound, bound_by=by, proven=finish == bound)


def _placed(pressings: Sequence[Pressing], shop: PressShop, times: list[tuple[int, ...]]) -> tuple[Pressed, ...]:
    """Give every batch a set: the first that is free when it is closed."""
    free = [0] * shop.sets
    out: list[Pressed] = []
    for k in sorted(range(len(pressings)), key=lambda one: times[one][1]):
        lay, close, taken = times[k]
        p = pressings[k]
        set_no = next(n for n, since in enumerate(free) if since <= close)
        free[set_no] = taken + p.unload_s
        out.append(
            Pressed(
                pressing=k,
                hand=0,
                out_hand=0,
                set_no=set_no,
                lay_s=lay,
                close_s=close,
                press_s=close + p.close_s,
                out_s=taken,
                done_s=taken + p.unload_s,
            )
        )
    return tuple(sorted(out, key=lambda one: one.pressing))


def _common(pressings: Sequence[Pressing], shop: PressShop, quick: Schedule) -> int:
    """The greatest unit of seconds that all times are whole numbers of."""
    unit = gcd(shop.open_s, quick.finish_s, quick.bound_s)
    for p in pressings:
        unit = gcd(unit, p.lay_s, p.close_s, p.press_s, p.unload_s)
    for one in quick.pressed:
        unit = gcd(unit, one.lay_s, one.close_s, one.out_s)
    return max(1, unit)


def _kind(p: Pressing) -> Pressing:
    return replace(p, name="")
