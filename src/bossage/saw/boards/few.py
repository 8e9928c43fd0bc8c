"""Exhaustive search: a handful of panels on sheets, every guillotine layout of every multiset weighed."""

from __future__ import annotations

from itertools import product

from bossage.saw.boards.guillotine import Box, Counts, Shape, all_boxes
from bossage.saw.boards.places import cut_sheet, most_told, prices_of
from bossage.saw.boards.records import Panel, SheetJob, SheetPlan, SheetShortfall


def exactly(
    job: SheetJob, panels: tuple[Panel, ...], shapes: list[Shape], rooms: list[tuple[int, int]]
) -> SheetPlan | SheetShortfall:
    """The cheapest of all guillotine layouts: each multiset on each sheet, then the cheapest sharing-out."""
    counts = tuple(p.count for p in panels)
    boxes = all_boxes(shapes, counts, max(w for w, _ in rooms), max(h for _, h in rooms))
    prices = prices_of(job)
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
        sheets.append(cut_sheet(job, panels, s, number, holds[s][part], rooms[s]))
    money = sum(sheet.stock.price_cents for sheet in sheets)
    return SheetPlan(
        sheets=tuple(sheets),
        money_cents=money,
        bound_cents=money,
        bound_sheets=len(sheets),
        proven=True,
        why_proven="every guillotine layout compared",
        most_per_sheet=most_told(job, panels),
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
