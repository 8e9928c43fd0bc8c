"""Backers, strips, ribs and shims out of board stock by guillotine cuts: least money, proven where the job is small."""

from __future__ import annotations

from bossage.saw.guillotine import MOST_WORK, Shape, work_of
from bossage.saw.records import FaultyJob
from bossage.saw.sheet_bench import fits, room_of
from bossage.saw.sheet_exact import exactly
from bossage.saw.sheet_orders import by_orders
from bossage.saw.sheet_records import SheetJob, SheetPlan, SheetShortfall


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
    rooms = [room_of(s, job.kerf_nm) for s in job.sheets]
    too_big = tuple(p for p, shape in zip(panels, shapes, strict=True) if not any(fits(shape, w, h) for w, h in rooms))
    if too_big:
        return SheetShortfall(too_big=too_big, missing=too_big, proven=True)
    if work_of([p.count for p in panels]) <= MOST_WORK:
        return exactly(job, panels, shapes, rooms)
    return by_orders(job, panels, shapes, rooms)


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
