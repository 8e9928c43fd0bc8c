"""The least finish of a few batches by constraint programming: an independent reference for the search over turns.

One pair of hands; batches are laid in their order and one is closed before the next is laid. It shares nothing with
`bossage.press` but the records that it reads. Solver: OR-Tools CP-SAT.
"""

from __future__ import annotations

from math import gcd

from ortools.sat.python import cp_model


def least_finish_s(pressings, shop):
    """Seconds to the last unloading, proven."""
    assert shop.hands == 1
    assert shop.work is None
    unit = gcd(shop.open_s, *(s for p in pressings for s in (p.lay_s, p.close_s, p.press_s, p.unload_s)))
    model = cp_model.CpModel()
    end = sum(p.hands_s + p.press_s for p in pressings) // unit
    hands, clamps, times = [], [], []
    for k, p in enumerate(pressings):
        lay, close, out = (model.new_int_var(0, end, f"{name}{k}") for name in ("lay", "close", "out"))
        held = model.new_int_var(0, end, f"held{k}")
        model.add(close >= lay + p.lay_s // unit)
        model.add(close + p.close_s // unit - lay <= shop.open_s // unit)
        model.add(out >= close + (p.close_s + p.press_s) // unit)
        hands += [
            model.new_fixed_size_interval_var(lay, p.lay_s // unit, f"laying{k}"),
            model.new_fixed_size_interval_var(close, p.close_s // unit, f"closing{k}"),
            model.new_fixed_size_interval_var(out, p.unload_s // unit, f"unloading{k}"),
        ]
        clamps.append(model.new_interval_var(close, held, out + p.unload_s // unit, f"clamps{k}"))
        times.append((lay, close, out))
    model.add_no_overlap(hands)
    model.add_cumulative(clamps, [1] * len(clamps), shop.sets)
    for k in range(1, len(pressings)):
        model.add(times[k][0] >= times[k - 1][1] + pressings[k - 1].close_s // unit)
    if len({p.leaf for p in pressings}) > shop.bench:
        assert shop.bench == 1
        for k in range(1, len(pressings)):
            for j in range(k):
                if pressings[j].leaf != pressings[k].leaf:
                    model.add(times[k][0] >= times[j][2] + pressings[j].unload_s // unit)
    last = model.new_int_var(0, end, "last")
    for (_, _, out), p in zip(times, pressings, strict=True):
        model.add(last >= out + p.unload_s // unit)
    model.minimize(last)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = 60
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value) * unit
