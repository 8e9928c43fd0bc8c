"""Backers, strips, ribs and shims out of board stock by guillotine cuts: least money, proven where the job is small."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bossage.engines import Engine, first_answer
from bossage.saw.boards.few import exactly
from bossage.saw.boards.guillotine import Shape, work_of
from bossage.saw.boards.many import by_orders
from bossage.saw.boards.places import fits, room_of
from bossage.saw.boards.records import Panel, SheetCure, SheetJob, SheetPlan, SheetShortfall, SheetStock
from bossage.saw.job import limits
from bossage.saw.job.records import FaultyJob


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
    answer = first_answer(ENGINES, Task(job, panels, shapes, rooms))
    assert answer is not None  # the last engine always answers
    return answer


def _cure(job: SheetJob, short: SheetShortfall) -> SheetCure:
    """More of the limited sheet that makes the whole cheapest; or how large a sheet the largest panel wants."""
    if not short.too_big:
        found: list[tuple[int, int, int, SheetStock]] = []
        for n, stock in enumerate(job.sheets):
            if stock.count is None:
                continue
            # The sheets that are there cost nothing, beside one without end: what is taken of that one is missing.
            more = replace(stock, count=None, owned=False)
            wide = replace(job, sheets=(*(replace(s, price_cents=0, owned=True) for s in job.sheets), more))
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


@dataclass(frozen=True, slots=True)
class Task:
    """Panels that each fit on some sheet; shapes and rooms carry their kerfs."""

    job: SheetJob
    panels: tuple[Panel, ...]
    shapes: list[Shape]
    rooms: list[tuple[int, int]]


def _may_list(task: Task) -> bool:
    counts = [p.count for p in task.panels]
    work = work_of(counts)
    return work <= limits.BOXED_WORK_UP_TO and work * max(counts) ** 2 <= limits.BOXED_PAIRS_UP_TO


def _exactly(task: Task) -> SheetPlan | SheetShortfall | None:
    return exactly(task.job, task.panels, task.shapes, task.rooms)


def _by_orders(task: Task) -> SheetPlan | SheetShortfall | None:
    return by_orders(task.job, task.panels, task.shapes, task.rooms)


ENGINES: tuple[Engine[Task, SheetPlan | SheetShortfall], ...] = (
    Engine(
        name="Dynamic programming over multisets of panels",
        module="saw/boards/few.py, saw/boards/guillotine.py",
        when=(
            f"Up to {limits.BOXED_WORK_UP_TO:,} pairs of multisets; and these times the square of the most panels of "
            f"one size are {limits.BOXED_PAIRS_UP_TO:,} at most."
        ),
        why="A piece has a backer and a handful of strips, so every layout can be weighed.",
        proof="The least money for edge-to-edge cuts, or that the sheets do not suffice.",
        source="Own derivation.",
        runs=_may_list,
        run=_exactly,
    ),
    Engine(
        name="Best-fit placement in several orders",
        module="saw/boards/many.py",
        when="All other jobs.",
        why="It goes on where the layouts are too many to list.",
        proof="The least money, where it meets the bound by area; else both are told.",
        source="Common practice for edge-to-edge cuts, no source; the bound is the stock-mix bound on areas.",
        runs=lambda _: True,
        run=_by_orders,
    ),
)
