"""Best-fit placement in several orders: many panels on sheets, against a bound by area."""

from __future__ import annotations

import random
from dataclasses import dataclass, field

from bossage.saw.boards.guillotine import Box, Shape
from bossage.saw.boards.places import Region, cut_sheet, fits, most_told, prices_of
from bossage.saw.boards.records import Panel, SheetJob, SheetPlan, SheetShortfall
from bossage.saw.job.numbers import Bin
from bossage.saw.money.bound import Mixes


def by_orders(
    job: SheetJob, panels: tuple[Panel, ...], shapes: list[Shape], rooms: list[tuple[int, int]]
) -> SheetPlan | SheetShortfall:
    """Many panels: place them one by one into what is left, in several orders; the bound is by area."""
    prices = prices_of(job)
    items = [i for i, p in enumerate(panels) for _ in range(p.count)]
    by_value = sorted(
        range(len(rooms)), key=lambda s: (not job.sheets[s].owned, prices[s] / (rooms[s][0] * rooms[s][1]), s)
    )
    best: tuple[tuple[int, int], list[tuple[int, Box]]] | None = None
    least_left: list[int] = items
    rng = random.Random(0)
    for order in _orders(items, shapes, job.orders, rng):
        for rip_first in (True, False):
            filled, left = _place_all(order, shapes, rooms, by_value, job, rip_first)
            if left:
                least_left = min(least_left, left, key=len)
                continue
            value = (sum(prices[s] for s, _ in filled), len(filled))
            if best is None or value < best[0]:
                best = (value, filled)
    area = sum(s.w * s.h * p.count for s, p in zip(shapes, panels, strict=True))
    bins = tuple(
        Bin(stock=s, caps=(w * h,), price=prices[s], count=_count(job, s, len(items)), fill=min(w * h, area))
        for s, (w, h) in enumerate(rooms)
        if _count(job, s, len(items)) and w > 0 and h > 0
    )
    bound = Mixes(bins, area).bound
    if best is None:
        missing = tuple(
            Panel(name=p.name, width_nm=p.width_nm, length_nm=p.length_nm, count=least_left.count(i), turn=p.turn)
            for i, p in enumerate(panels)
            if i in least_left
        )
        return SheetShortfall(too_big=(), missing=missing, proven=bound is None)
    sheets = tuple(cut_sheet(job, panels, s, number, box, rooms[s]) for number, (s, box) in enumerate(best[1], start=1))
    priced = any(s.price_cents for s in job.sheets)
    return SheetPlan(
        sheets=sheets,
        money_cents=sum(sheet.stock.price_cents for sheet in sheets),
        bound_cents=(bound or 0) if priced else 0,
        bound_sheets=-(-area // max(w * h for w, h in rooms)),
        proven=best[0][0] <= (bound or 0),
        why_proven="area of panels with kerfs",
        most_per_sheet=most_told(job, panels),
    )


def _count(job: SheetJob, s: int, items: int) -> int:
    limit = job.sheets[s].count
    return items if limit is None else min(limit, items)


def _orders(items: list[int], shapes: list[Shape], most: int, rng: random.Random) -> list[list[int]]:
    """Large first by several measures, then those orders a little disturbed."""
    keys = [
        lambda i: (-max(shapes[i].w, shapes[i].h), -min(shapes[i].w, shapes[i].h), i),
        lambda i: (-shapes[i].w * shapes[i].h, i),
        lambda i: (-shapes[i].w, -shapes[i].h, i),
        lambda i: (-shapes[i].h, -shapes[i].w, i),
    ]
    out = [sorted(items, key=key) for key in keys]
    while len(out) < most:
        base = out[len(out) % len(keys)].copy()
        for _ in range(max(1, len(base) // 8)):
            a, b = rng.randrange(len(base)), rng.randrange(len(base))
            base[a], base[b] = base[b], base[a]
        out.append(base)
    return out[:most]


@dataclass(slots=True)
class _Node:
    """A board in hand while panels are placed: free, or a panel with its two rests, or divided."""

    region: Region
    panel: int = -1
    turned: bool = False
    rests: list[_Node] = field(default_factory=list)
    rip: bool = True


def _place_all(
    order: list[int],
    shapes: list[Shape],
    rooms: list[tuple[int, int]],
    by_value: list[int],
    job: SheetJob,
    rip_first: bool,
) -> tuple[list[tuple[int, Box]], list[int]]:
    used = [0] * len(rooms)
    roots: list[tuple[int, _Node]] = []
    free: list[_Node] = []
    left: list[int] = []
    for i in order:
        spot = _best_spot(free, shapes[i])
        if spot is None:
            s = next(
                (s for s in by_value if used[s] < _count(job, s, len(order)) and fits(shapes[i], *rooms[s])),
                None,
            )
            if s is None:
                left.append(i)
                continue
            used[s] += 1
            root = _Node((0, 0, *rooms[s]))
            roots.append((s, root))
            free.append(root)
            spot = _best_spot([root], shapes[i])
        assert spot is not None
        node, turned = spot
        w, h = (shapes[i].h, shapes[i].w) if turned else (shapes[i].w, shapes[i].h)
        x, y, W, H = node.region
        node.panel, node.turned, node.rip = i, turned, rip_first == (W - w >= H - h)
        free.remove(node)
        if node.rip:
            node.rests = [_Node((x + w, y, W - w, H)), _Node((x, y + h, w, H - h))]
        else:
            node.rests = [_Node((x, y + h, W, H - h)), _Node((x + w, y, W - w, h))]
        free.extend(rest for rest in node.rests if rest.region[2] > 0 and rest.region[3] > 0)
    return [(s, box) for s, root in roots if (box := _as_box(root, shapes)) is not None], left


def _best_spot(free: list[_Node], shape: Shape) -> tuple[_Node, bool] | None:
    best: tuple[tuple[int, int], _Node, bool] | None = None
    for node in free:
        _, _, W, H = node.region
        for turned in (False, True) if shape.turn else (False,):
            w, h = (shape.h, shape.w) if turned else (shape.w, shape.h)
            if w <= W and h <= H:
                value = (min(W - w, H - h), max(W - w, H - h))
                if best is None or value < best[0]:
                    best = (value, node, turned)
    return None if best is None else (best[1], best[2])


def _as_box(node: _Node, shapes: list[Shape]) -> Box | None:
    """The layout of a node as boxes, so that one routine saws both kinds of answer."""
    if node.panel < 0:
        return None
    shape = shapes[node.panel]
    w, h = (shape.h, shape.w) if node.turned else (shape.w, shape.h)
    box = Box(w, h, panel=node.panel, turned=node.turned)
    outer, inner = (_as_box(rest, shapes) for rest in node.rests)
    # The second rest was cut off within the first cut's near side.
    for rest, axis in ((inner, "y" if node.rip else "x"), (outer, "x" if node.rip else "y")):
        if rest is not None:
            if axis == "x":
                box = Box(box.w + rest.w, max(box.h, rest.h), axis="x", parts=(box, rest))
            else:
                box = Box(max(box.w, rest.w), box.h + rest.h, axis="y", parts=(box, rest))
    return box
