"""Exhaustive search: a handful of panels on sheets, every guillotine layout of every multiset weighed."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from bossage.saw.boards.guillotine import Box, Counts, Shape, all_boxes
from bossage.saw.boards.places import cut_sheet, most_told, prices_of
from bossage.saw.boards.records import Panel, SheetJob, SheetPlan, SheetShortfall

Chosen = tuple[tuple[int, Counts], ...]  # which sheet, and the multiset on it
Best = tuple[tuple[int, int, int], Chosen]  # price, sheets, and less the squares of their filled areas


def exactly(
    job: SheetJob, panels: tuple[Panel, ...], shapes: list[Shape], rooms: list[tuple[int, int]]
) -> SheetPlan | SheetShortfall:
    """The cheapest of all guillotine layouts: each multiset on each sheet, then the cheapest sharing-out."""
    counts = tuple(p.count for p in panels)
    holds = _holds(shapes, counts, rooms)
    limits = tuple(s.count if s.count is not None else sum(counts) for s in job.sheets)
    answer = _Sharing(job, shapes, holds).cheapest(counts, limits)
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


def _holds(shapes: list[Shape], counts: Counts, rooms: list[tuple[int, int]]) -> list[dict[Counts, Box]]:
    """For each sheet the multisets that it holds, each with a layout."""
    boxes = all_boxes(shapes, counts, max(w for w, _ in rooms), max(h for _, h in rooms))
    holds: list[dict[Counts, Box]] = []
    for w, h in rooms:
        holds.append({})
        for state, found in boxes.items():
            box = next((b for b in found if b.w <= w and b.h <= h), None)
            if box is not None:
                holds[-1][state] = box
    return holds


class _Sharing:
    """Which multisets go onto which sheets, by dynamic programming over what is left of panels and sheets."""

    def __init__(self, job: SheetJob, shapes: list[Shape], holds: list[dict[Counts, Box]]) -> None:
        self.job, self.holds = job, holds
        self.prices = prices_of(job)
        self.area = [s.w * s.h for s in shapes]
        self.memo: dict[tuple[Counts, Counts], Best | None] = {}

    def cheapest(self, state: Counts, left: Counts) -> Best | None:
        """The best way to cut `state` from the sheets that are left; None where there is none."""
        if not any(state):
            return (0, 0, 0), ()
        key = (state, left)
        if key not in self.memo:
            ways = (way for s, n in enumerate(left) if n for way in self._with_sheet(s, state, left))
            self.memo[key] = min(ways, key=lambda way: way[0], default=None)
        return self.memo[key]

    def _with_sheet(self, s: int, state: Counts, left: Counts) -> Iterator[Best]:
        """The best ways that cut some of the first panel from sheet `s`."""
        first = next(i for i, n in enumerate(state) if n)
        limited = self.job.sheets[s].count is not None
        fewer = tuple(n - (k == s) for k, n in enumerate(left)) if limited else left
        for part in product(*(range(c + 1) for c in state)):
            if not part[first] or part not in self.holds[s]:
                continue
            rest = self.cheapest(tuple(a - b for a, b in zip(state, part, strict=True)), fewer)
            if rest is None:
                continue
            full = sum(a * n for a, n in zip(self.area, part, strict=True)) // 10**12
            (price, number, squares), chosen = rest
            yield (price + self.prices[s], number + 1, squares - full * full), ((s, part), *chosen)


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
