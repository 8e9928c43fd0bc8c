"""Re-adds a pressing schedule from its times alone; shares no code with the scheduler."""

from __future__ import annotations


def faults(pressings, shop, found):
    """Everything that is wrong with the times, in words; nothing if they hold."""
    wrong = []
    told = sorted(p.pressing for p in found.pressed)
    if told != list(range(len(pressings))):
        wrong.append(f"batches told: {told}")
    busy, held = [], []
    for row in found.pressed:
        batch = pressings[row.pressing]
        if row.close_s < row.lay_s + batch.lay_s:
            wrong.append(f"{batch.name} is closed before it is laid")
        if row.press_s != row.close_s + batch.close_s or row.done_s != row.out_s + batch.unload_s:
            wrong.append(f"{batch.name}: closing or unloading takes another time than it should")
        if row.press_s - row.lay_s > shop.open_s:
            wrong.append(f"{batch.name} is open for {row.press_s - row.lay_s} s of {shop.open_s}")
        if row.out_s < row.press_s + batch.press_s:
            wrong.append(f"{batch.name} comes out too soon")
        busy += [(row.lay_s, row.lay_s + batch.lay_s), (row.close_s, row.press_s), (row.out_s, row.done_s)]
        held.append((row.close_s, row.done_s, batch))
    for at in {start for start, _ in busy}:
        if sum(start <= at < end for start, end in busy) > shop.hands:
            wrong.append(f"more hands than {shop.hands} at {at}")
    for at in {start for start, _, _ in held}:
        now = [batch for start, end, batch in held if start <= at < end]
        if len(now) > shop.sets:
            wrong.append(f"more sets than {shop.sets} at {at}")
        for thickness, owned in shop.shims or ():
            if sum(count for b in now for t, count in b.shims if t == thickness) > owned:
                wrong.append(f"more shims of {thickness} than {owned} at {at}")
    for at in {row.lay_s for row in found.pressed}:
        leaves = {}
        for row in found.pressed:
            first, last = leaves.get(pressings[row.pressing].leaf, (row.lay_s, row.done_s))
            leaves[pressings[row.pressing].leaf] = (min(first, row.lay_s), max(last, row.done_s))
        if sum(first <= at < last for first, last in leaves.values()) > shop.bench:
            wrong.append(f"more leaves than {shop.bench} on the bench at {at}")
    if shop.work is not None:
        for start, end in busy:
            day = start // 86400
            if not (day * 86400 + shop.work.from_s <= start and end <= day * 86400 + shop.work.to_s):
                wrong.append(f"work from {start} to {end} outside of working hours")
    if found.finish_s != max((row.done_s for row in found.pressed), default=0):
        wrong.append("the finish is not that of the last batch")
    if found.bound_s > found.finish_s:
        wrong.append(f"bound {found.bound_s} above finish {found.finish_s}")
    return wrong
