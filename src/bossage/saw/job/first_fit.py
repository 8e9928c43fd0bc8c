"""First-fit decreasing, the peer that every plan is shown beside: longest slice first, into the first stick with room.

A new stick is an offcut on the shelf if one is left, else the cheapest per millimetre that can hold the slice.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from bossage.saw.job.numbers import Core


@dataclass(slots=True)
class Load:
    """One stick being filled: which kind, room by span, and how many of each type lie in each span."""

    bin: int
    room: list[int]
    spans: list[list[int]] = field(default_factory=list)


def first_fit_decreasing(core: Core, owned: tuple[bool, ...], per_length: tuple[int, ...]) -> list[Load] | None:
    """Fill as a careful person without a plan would; None when a slice finds no stick.

    `owned` and `per_length` (the length of the stick) are by bin of the core.
    """
    order = sorted(
        range(len(core.bins)),
        key=lambda b: (not owned[b], core.bins[b].price / per_length[b], -per_length[b], b),
    )
    left = [b.count for b in core.bins]
    loads: list[Load] = []
    types = len(core.widths)
    for i, (width, demand) in enumerate(zip(core.widths, core.demand, strict=True)):
        todo = demand
        for load in loads:
            todo = _put(load, i, width, todo)
            if not todo:
                break
        while todo:
            fresh = next((b for b in order if left[b] and max(core.bins[b].caps) >= width), None)
            if fresh is None:
                return None
            left[fresh] -= 1
            caps = core.bins[fresh].caps
            load = Load(bin=fresh, room=list(caps), spans=[[0] * types for _ in caps])
            loads.append(load)
            todo = _put(load, i, width, todo)
    return loads


def _put(load: Load, i: int, width: int, todo: int) -> int:
    for s, room in enumerate(load.room):
        take = min(todo, room // width)
        if take:
            load.room[s] -= take * width
            load.spans[s][i] += take
            todo -= take
    return todo
