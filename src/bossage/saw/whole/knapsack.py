"""Bounded knapsacks: the best worth for every capacity of a span, and all fillings that are worth enough.

Dynamic programming over whole units (Bellman 1957); copies of a type go in by powers of two.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
Step = tuple[int, int, NDArray[np.bool_]]  # type, copies, where taken

EPS = 1e-9
MOST_CELLS = 40_000_000  # cells of one table of whole worths
WORTH = 1 << 27  # whole worths: the dearest stick is worth so many


def best_values(values: Floats, widths: Ints, limits: Ints, cap: int) -> tuple[Floats, list[Step]]:
    """Best value for every capacity up to `cap`, and the choices to walk back by."""
    best = np.zeros(cap + 1)
    trial = np.empty(cap + 1)
    steps: list[Step] = []
    for i in np.flatnonzero((values > EPS) & (widths <= cap)):
        w, left, copies = int(widths[i]), min(int(limits[i]), cap // int(widths[i])), 1
        while left > 0:
            k = min(copies, left)
            size = k * w
            new, old = trial[: cap + 1 - size], best[size:]
            np.add(best[: cap + 1 - size], k * values[i], out=new)
            taken = new > old
            np.copyto(old, new, where=taken)
            steps.append((int(i), k, taken))
            left -= k
            copies *= 2
    return best, steps


def walk_back(steps: list[Step], widths: Ints, cap: int, types: int) -> Ints:
    """The filling behind the best value at `cap`."""
    counts = np.zeros(types, dtype=np.int64)
    at = cap
    for i, k, taken in reversed(steps):
        size = k * int(widths[i])
        if at >= size and taken[at - size]:
            counts[i] += k
            at -= size
    return counts


def whole_tables(worths: Ints, widths: Ints, limits: Ints, cap: int) -> NDArray[np.int32] | None:
    """For each type on, the best worth of that type and the later ones by capacity; None where it grows too large."""
    types = len(widths)
    if (types + 1) * (cap + 1) > MOST_CELLS:
        return None
    tables = np.zeros((types + 1, cap + 1), dtype=np.int32)
    for i in range(types - 1, -1, -1):
        best = tables[i]
        best[:] = tables[i + 1]
        w, copies = int(widths[i]), 1
        left = min(int(limits[i]), cap // w) if worths[i] > 0 else 0
        while left > 0:
            k = min(copies, left)
            size = k * w
            # The sum is a new array, so that no copy goes in twice.
            np.maximum(best[size:], best[: cap + 1 - size] + np.int32(k * worths[i]), out=best[size:])
            left -= k
            copies *= 2
    return tables


def all_worth(
    tables: NDArray[np.int32], worths: Ints, widths: Ints, limits: Ints, cap: int, least: int, most: int
) -> Ints | None:
    """Every filling of `cap` worth at least `least`, one a column; None when there are more than `most` on the way."""
    types = len(widths)
    room, worth = np.array([cap]), np.array([0], dtype=np.int64)
    back: list[tuple[Ints, Ints]] = []
    for i in range(types):
        w = int(widths[i])
        after = tables[i + 1]
        parents, copies, rooms, worthies = [], [], [], []
        for k in range(min(int(limits[i]), cap // w) + 1):
            at = np.flatnonzero(room >= k * w)
            if not len(at):
                break
            r, v = room[at] - k * w, worth[at] + k * int(worths[i])
            good = v + after[r] >= least
            parents.append(at[good])
            copies.append(np.full(int(good.sum()), k))
            rooms.append(r[good])
            worthies.append(v[good])
        if not sum(map(len, rooms)):
            return np.zeros((types, 0), dtype=np.int64)
        room, worth = np.concatenate(rooms), np.concatenate(worthies)
        back.append((np.concatenate(parents), np.concatenate(copies)))
        if len(room) > most:
            return None
    out = np.zeros((types, len(room)), dtype=np.int64)
    at = np.arange(len(room))
    for i in range(types - 1, -1, -1):
        parents_of, copies_of = back[i]
        out[i] = copies_of[at]
        at = parents_of[at]
    return out
