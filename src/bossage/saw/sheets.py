"""Backers, strips, ribs and shims out of board stock by guillotine cuts: least money, proven where the job is small."""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from itertools import product

from bossage.saw.core import Bin
from bossage.saw.guillotine import MOST_WORK, Box, Counts, Shape, all_boxes, most_of, tidy, work_of
from bossage.saw.mix import Mixes
from bossage.saw.records import FaultyJob
from bossage.saw.sheet_records import (
    CutSheet,
    Panel,
    PlacedPanel,
    SheetCut,
    SheetJob,
    SheetOffcut,
    SheetPlan,
    SheetShortfall,
    SheetStock,
)

MOST_ASKED = 12  # panels that a sheet could hold by area, up to which the true most is looked for

Region = tuple[int, int, int, int]  # x, y, w, h; far kerfs within


def plan_sheets(job: SheetJob) -> SheetPlan | SheetShortfall:
    """Cut the panels from the sheets for the least money, then the fewest sheets, the first ones fullest.

    Returns:
        Positions and the order of cuts for each sheet with the proof, or what does not fit.

    Raises:
        FaultyJob: Nothing to cut, or a size, count, price, trim or kerf that makes no sense.

    Leaves out:
        Layouts that no sequence of edge-to-edge cuts can make.
    """
    _check(job)
    panels = tuple(p for p in job.panels if p.count)
    shapes = [Shape(p.width_nm + job.kerf_nm, p.length_nm + job.kerf_nm, p.turn) for p in panels]
    rooms = [_room(s, job.kerf_nm) for s in job.sheets]
    too_big = tuple(p for p, shape in zip(panels, shapes, strict=True) if not any(_fits(shape, w, h) for w, h in rooms))
    if too_big:
        return SheetShortfall(too_big=too_big, missing=too_big, proven=True)
    if work_of([p.count for p in panels]) <= MOST_WORK:
        return _exact(job, panels, shapes, rooms)
    return _by_orders(job, panels, shapes, rooms)


def most_per_sheet(panel: Panel, sheet: SheetStock, kerf_nm: int) -> tuple[int, tuple[PlacedPanel, ...], bool]:
    """Most of one panel on one sheet, where they lie, and whether one more is proven impossible."""
    w, h = _room(sheet, kerf_nm)
    if w <= 0 or h <= 0:
        return 0, (), True
    shape = Shape(panel.width_nm + kerf_nm, panel.length_nm + kerf_nm, panel.turn)
    n, box, proven = most_of(shape, w, h)
    if box is None:
        return 0, (), proven
    bench = _Bench(kerf=kerf_nm, panels=(panel,))
    bench.saw(tidy(box), (sheet.trim_nm, sheet.trim_nm, w, h))
    return n, tuple(bench.placed), proven


def _check(job: SheetJob) -> None:
    if job.kerf_nm < 0:
        raise FaultyJob(f"The kerf is {job.kerf_nm / 1e6:g} mm; it cannot be below 0.")
    if not any(p.count for p in job.panels):
        raise FaultyJob("There is no panel to cut: every count is 0.")
    for p in job.panels:
        if min(p.width_nm, p.length_nm) <= 0 or p.count < 0:
            raise FaultyJob(f"Panel '{p.name}' needs a width and length above 0 and a count of 0 or more.")
    for s in job.sheets:
        if min(s.width_nm, s.length_nm) <= 0 or min(s.price_cents, s.trim_nm, s.count or 0) < 0:
            raise FaultyJob(f"Sheet '{s.name}' needs sizes above 0 and no price, trim or count below 0.")


def _room(sheet: SheetStock, kerf: int) -> tuple[int, int]:
    return sheet.width_nm - 2 * sheet.trim_nm + kerf, sheet.length_nm - 2 * sheet.trim_nm + kerf


def _fits(shape: Shape, w: int, h: int) -> bool:
    return (shape.w <= w and shape.h <= h) or (shape.turn and shape.h <= w and shape.w <= h)


def _prices(job: SheetJob) -> list[int]:
    """Prices to weigh by; without any price the area bought stands in, whole cm²."""
    if any(s.price_cents for s in job.sheets):
        return [s.price_cents for s in job.sheets]
    return [0 if s.owned else s.width_nm * s.length_nm // 10**14 + 1 for s in job.sheets]


def _exact(
    job: SheetJob, panels: tuple[Panel, ...], shapes: list[Shape], rooms: list[tuple[int, int]]
) -> SheetPlan | SheetShortfall:
    counts = tuple(p.count for p in panels)
    boxes = all_boxes(shapes, counts, max(w for w, _ in rooms), max(h for _, h in rooms))
    prices = _prices(job)
    holds: list[dict[Counts, Box]] = []
    for w, h in rooms:
        holds.append({})
        for state, found in boxes.items():
            box = next((b for b in found if b.w <= w and b.h <= h), None)
            if box is not None:
                holds[-1][state] = box
    area = [s.w * s.h for s in shapes]
    limits = tuple(s.count if s.count is not None else sum(counts) for s in job.sheets)
    Best = tuple[tuple[int, int, int], tuple[tuple[int, Counts], ...]]
    memo: dict[tuple[Counts, Counts], Best | None] = {}

    def cheapest(state: Counts, left: Counts) -> Best | None:
        if not any(state):
            return (0, 0, 0), ()
        key = (state, left)
        if key in memo:
            return memo[key]
        memo[key] = best = None
        first = next(i for i, n in enumerate(state) if n)
        for s, stock_left in enumerate(left):
            if not stock_left:
                continue
            fewer = tuple(n - (k == s) for k, n in enumerate(left)) if job.sheets[s].count is not None else left
            for part in product(*(range(c + 1) for c in state)):
                if not part[first] or part not in holds[s]:
                    continue
                rest = cheapest(tuple(a - b for a, b in zip(state, part, strict=True)), fewer)
                if rest is None:
                    continue
                full = sum(a * n for a, n in zip(area, part, strict=True)) // 10**12
                (price, number, squares), chosen = rest
                value = (price + prices[s], number + 1, squares - full * full)
                if best is None or value < best[0]:
                    best = (value, ((s, part), *chosen))
        memo[key] = best
        return best

    answer = cheapest(counts, limits)
    if answer is None:
        return SheetShortfall(too_big=(), missing=_unplaced(panels, holds, limits), proven=True)
    sheets = []
    for number, (s, part) in enumerate(sorted(answer[1], key=lambda c: (c[0], [-n for n in c[1]])), start=1):
        sheets.append(_cut(job, panels, s, number, holds[s][part], rooms[s]))
    money = sum(sheet.stock.price_cents for sheet in sheets)
    return SheetPlan(
        sheets=tuple(sheets),
        money_cents=money,
        bound_cents=money,
        bound_sheets=len(sheets),
        proven=True,
        why_proven="every guillotine layout compared",
        most_per_sheet=_most(job, panels),
    )


def _unplaced(panels: tuple[Panel, ...], holds: list[dict[Counts, Box]], limits: Counts) -> tuple[Panel, ...]:
    """What stays over when the fullest multisets go onto the sheets in turn: a list to buy for, not a proof."""
    left = tuple(p.count for p in panels)
    for s, n in enumerate(limits):
        for _ in range(n):
            fits = [t for t in holds[s] if all(a <= b for a, b in zip(t, left, strict=True))]
            if not fits:
                break
            best = max(
                fits, key=lambda t: (sum(a * p.width_nm * p.length_nm for a, p in zip(t, panels, strict=True)), t)
            )
            left = tuple(a - b for a, b in zip(left, best, strict=True))
    return tuple(
        Panel(name=p.name, width_nm=p.width_nm, length_nm=p.length_nm, count=n, turn=p.turn)
        for p, n in zip(panels, left, strict=True)
        if n
    )


def _most(job: SheetJob, panels: tuple[Panel, ...]) -> tuple[tuple[str, str, int, bool], ...]:
    out = []
    for p in panels:
        for s in job.sheets:
            # how many narrow strips a sheet might hold helps nobody, and costs more than all the rest
            if s.width_nm * s.length_nm <= MOST_ASKED * p.width_nm * p.length_nm:
                n, _, proven = most_per_sheet(p, s, job.kerf_nm)
                out.append((p.name, s.name, n, proven))
    return tuple(out)


@dataclass(slots=True)
class _Bench:
    """Turns a layout into places, cuts in order and offcuts."""

    kerf: int
    panels: tuple[Panel, ...]
    placed: list[PlacedPanel] = field(default_factory=list)
    cuts: list[SheetCut] = field(default_factory=list)
    offcuts: list[SheetOffcut] = field(default_factory=list)

    def trim(self, sheet: SheetStock) -> None:
        """The four factory edges, long ones first."""
        t, w, h = sheet.trim_nm, sheet.width_nm, sheet.length_nm
        if t:
            self._cut("y", t, (0, 0, w, h), trim=True)
            self._cut("y", w - t, (t, 0, w, h), trim=True)
            self._cut("x", t, (t, 0, w - t, h), trim=True)
            self._cut("x", h - t, (t, t, w - t, h), trim=True)

    def saw(self, box: Box, region: Region) -> None:
        """Free the box from its region, the larger rest in one, then divide it."""
        x, y, w, h = region
        sides = ["x", "y"]
        if (w - box.w) * h > w * (h - box.h):
            sides.reverse()
        for side in sides:
            if side == "x" and h > box.h:
                self._cut("x", y + box.h - self.kerf, self._corners(x, y, w, h))
                self._rest((x, y + box.h, w, h - box.h))
                h = box.h
            elif side == "y" and w > box.w:
                self._cut("y", x + box.w - self.kerf, self._corners(x, y, w, h))
                self._rest((x + box.w, y, w - box.w, h))
                w = box.w
        if box.parts is None:
            p = self.panels[box.panel]
            self.placed.append(
                PlacedPanel(
                    name=p.name,
                    x_nm=x,
                    y_nm=y,
                    width_nm=p.length_nm if box.turned else p.width_nm,
                    length_nm=p.width_nm if box.turned else p.length_nm,
                    turned=box.turned,
                )
            )
            return
        a, b = box.parts
        if box.axis == "x":
            self._cut("y", x + a.w - self.kerf, self._corners(x, y, w, h))
            self.saw(a, (x, y, a.w, h))
            self.saw(b, (x + a.w, y, b.w, h))
        else:
            self._cut("x", y + a.h - self.kerf, self._corners(x, y, w, h))
            self.saw(a, (x, y, w, a.h))
            self.saw(b, (x, y + a.h, w, b.h))

    def _corners(self, x: int, y: int, w: int, h: int) -> tuple[int, int, int, int]:
        return x, y, x + w - self.kerf, y + h - self.kerf

    def _cut(self, along: str, at: int, board: tuple[int, int, int, int], trim: bool = False) -> None:
        self.cuts.append(
            SheetCut(number=len(self.cuts) + 1, along="x" if along == "x" else "y", at_nm=at, board=board, trim=trim)
        )

    def _rest(self, region: Region) -> None:
        x, y, w, h = region
        if w > self.kerf and h > self.kerf:
            self.offcuts.append(SheetOffcut(x_nm=x, y_nm=y, width_nm=w - self.kerf, length_nm=h - self.kerf))


def _cut(job: SheetJob, panels: tuple[Panel, ...], s: int, number: int, box: Box, room: tuple[int, int]) -> CutSheet:
    stock = job.sheets[s]
    bench = _Bench(kerf=job.kerf_nm, panels=panels)
    bench.trim(stock)
    bench.saw(tidy(box), (stock.trim_nm, stock.trim_nm, *room))
    return CutSheet(
        stock=stock,
        number=number,
        panels=tuple(bench.placed),
        cuts=tuple(bench.cuts),
        offcuts=tuple(sorted(bench.offcuts, key=lambda o: (-o.width_nm * o.length_nm, o.x_nm, o.y_nm))),
    )


def _by_orders(
    job: SheetJob, panels: tuple[Panel, ...], shapes: list[Shape], rooms: list[tuple[int, int]]
) -> SheetPlan | SheetShortfall:
    """Many panels: place them one by one into what is left, in several orders; the bound is by area."""
    prices = _prices(job)
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
    sheets = tuple(_cut(job, panels, s, number, box, rooms[s]) for number, (s, box) in enumerate(best[1], start=1))
    priced = any(s.price_cents for s in job.sheets)
    return SheetPlan(
        sheets=sheets,
        money_cents=sum(sheet.stock.price_cents for sheet in sheets),
        bound_cents=(bound or 0) if priced else 0,
        bound_sheets=-(-area // max(w * h for w, h in rooms)),
        proven=best[0][0] <= (bound or 0),
        why_proven="area of panels with kerfs",
        most_per_sheet=_most(job, panels),
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
                (s for s in by_value if used[s] < _count(job, s, len(order)) and _fits(shapes[i], *rooms[s])),
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
