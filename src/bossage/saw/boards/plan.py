"""Backers, strips, ribs and shims out of board stock by guillotine cuts: least money, proven where the job is small."""

from __future__ import annotations

from dataclasses import replace

from bossage.saw.boards.few import exactly
from bossage.saw.boards.guillotine import MOST_WORK, Shape, work_of
from bossage.saw.boards.many import by_orders
from bossage.saw.boards.places import fits, room_of
from bossage.saw.boards.records import SheetCure, SheetJob, SheetPlan, SheetShortfall, SheetStock
from bossage.saw.job.records import FaultyJob

MOST_BOXED = 800_000  # pairs of layouts weighed: many panels of one size can be put together in many ways


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
    answer = _cut(job)
    return replace(answer, cure=_cure(job, answer)) if isinstance(answer, SheetShortfall) else answer


def _cut(job: SheetJob) -> SheetPlan | SheetShortfall:
    panels = tuple(p for p in job.panels if p.count)
    shapes = [Shape(p.width_nm + job.kerf_nm, p.length_nm + job.kerf_nm, p.turn) for p in panels]
    rooms = [room_of(s, job.kerf_nm) for s in job.sheets]
    too_big = tuple(p for p, shape in zip(panels, shapes, strict=True) if not any(fits(shape, w, h) for w, h in rooms))
    if too_big:
        return SheetShortfall(too_big=too_big, missing=too_big, proven=True)
    counts = [p.count for p in panels]
    work = work_of(counts)
    if work <= MOST_WORK and work * max(counts) ** 2 <= MOST_BOXED:
        return exactly(job, panels, shapes, rooms)
    return by_orders(job, panels, shapes, rooms)


def _cure(job: SheetJob, short: SheetShortfall) -> SheetCure:
    """More of the limited sheet that makes the whole cheapest; or how large a sheet the largest panel wants."""
    if not short.too_big:
        found: list[tuple[int, int, int, SheetStock]] = []
        for n, stock in enumerate(job.sheets):
            if stock.count is None:
                continue
            # one without end beside those that are there: what is taken of it is what is missing
            more = replace(stock, count=None, owned=False)
            wide = replace(job, sheets=(*(replace(s, price_cents=0) for s in job.sheets), more))
            plan = _cut(wide)
            if isinstance(plan, SheetPlan):
                taken = sum(sheet.stock == more for sheet in plan.sheets)
                area = more.width_nm * more.length_nm
                found.append((taken * (stock.price_cents or area), taken * area, n, stock))
        if found:
            _, area, _, stock = min(found, key=lambda one: one[:3])
            return SheetCure(sheet=stock, count=area // (stock.width_nm * stock.length_nm), larger=False)
    trim = min((s.trim_nm for s in job.sheets), default=0)
    panels = short.too_big or short.missing
    turned = [sorted((p.width_nm, p.length_nm)) if p.turn else [p.width_nm, p.length_nm] for p in panels]
    least = SheetStock(
        name="",
        width_nm=max(width for width, _ in turned) + 2 * trim,
        length_nm=max(length for _, length in turned) + 2 * trim,
        price_cents=0,
        trim_nm=trim,
    )
    return SheetCure(sheet=least, count=1, larger=True)


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
