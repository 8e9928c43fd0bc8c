"""The least finish of a few batches by constraint programming: an independent reference for the search over turns.

Batches are laid in their order, and a pair of hands closes one before it lays the next. It shares nothing with
`bossage.press` but the records that it reads. Solver: OR-Tools CP-SAT.
"""

from __future__ import annotations

from math import gcd

from ortools.sat.python import cp_model


def least_finish_s(pressings, shop):
    """Seconds to the last unloading, proven."""
    assert shop.work is None
    unit = gcd(shop.open_s, *(s for p in pressings for s in (p.lay_s, p.close_s, p.press_s, p.unload_s)))
    model = cp_model.CpModel()
    end = sum(p.hands_s + p.press_s for p in pressings) // unit
    pairs = range(shop.hands)
    hands, laying = [[] for _ in pairs], [[] for _ in pairs]
    clamps, times = [], []
    for k, p in enumerate(pressings):
        lay, close, out = (model.new_int_var(0, end, f"{name}{k}") for name in ("lay", "close", "out"))
        held = model.new_int_var(0, end, f"held{k}")
        model.add(close >= lay + p.lay_s // unit)
        model.add(close + p.close_s // unit - lay <= shop.open_s // unit)
        model.add(out >= close + (p.close_s + p.press_s) // unit)
        lays, unloads = ([model.new_bool_var(f"{what}{k} {h}") for h in pairs] for what in ("lays", "unloads"))
        model.add_exactly_one(lays)
        model.add_exactly_one(unloads)
        for h in pairs:
            at = model.new_int_var(0, end, f"laid {k} {h}")
            hands[h] += [
                model.new_optional_fixed_size_interval_var(lay, p.lay_s // unit, lays[h], f"laying{k} {h}"),
                model.new_optional_fixed_size_interval_var(close, p.close_s // unit, lays[h], f"closing{k} {h}"),
                model.new_optional_fixed_size_interval_var(out, p.unload_s // unit, unloads[h], f"unloading{k} {h}"),
            ]
            laying[h].append(
                model.new_optional_interval_var(lay, at, close + p.close_s // unit, lays[h], f"all{k} {h}")
            )
        clamps.append(model.new_interval_var(close, held, out + p.unload_s // unit, f"clamps{k}"))
        times.append((lay, close, out))
    for h in pairs:
        model.add_no_overlap(hands[h])
        model.add_no_overlap(laying[h])
    model.add_cumulative(clamps, [1] * len(clamps), shop.sets)
    for k in range(1, len(pressings)):
        model.add(times[k][0] >= times[k - 1][0])
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
