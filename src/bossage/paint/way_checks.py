"""What the chosen way of painting wants and the shop has not: means, room to dry."""

from __future__ import annotations

import math

from bossage.brief.records import Brief
from bossage.checks import Check, Edit, Verdict
from bossage.paint.days import PaintDays
from bossage.paint.way_records import PaintWay
from bossage.units import format_area

ROOM_STEP_M2 = 0.1
"""How finely more room is asked for. Ours."""


def way_checks(brief: Brief, way: PaintWay, days: PaintDays) -> tuple[Check, ...]:
    """`paint_means` where something is missing, `drying_room` where a coat takes several batches."""
    return (*_means(way), *_room(brief, way, days))


def _means(way: PaintWay) -> tuple[Check, ...]:
    if way.has_means:
        return ()
    return (
        Check(
            stage="paint",
            name="paint_means",
            title="What the way of painting takes",
            subject=way.name,
            verdict=Verdict.CAUTION,
            found=f"{way.title}: there is not {' or '.join(way.missing)}.",
            allowed="All that the way takes.",
            why="A way that wants what is not there stops half way, with the paint open.",
            remedy="Take the advised way, or get what is missing and say so in the brief.",
            source="The brief.",
        ),
    )


def _room(brief: Brief, way: PaintWay, days: PaintDays) -> tuple[Check, ...]:
    """Several batches dry one after the other: how much more room makes them one."""
    if way.batches == 1:
        return ()
    have_m2 = brief.paint.rack_m2
    want_m2 = round(math.ceil(way.rack_mm2 / 1e6 / ROOM_STEP_M2 - 1e-9) * ROOM_STEP_M2, 1)
    unit = brief.piece.unit
    have, need, more = (format_area(round(m2 * 1e18), unit) for m2 in (have_m2, way.rack_mm2 / 1e6, want_m2 - have_m2))
    drying_h = (way.batches - 1) * sum(run.dry_h for run in days.blocks)
    return (
        Check(
            stage="paint",
            name="drying_room",
            title="Room for the blocks to dry",
            verdict=Verdict.CAUTION,
            found=f"{need} for all blocks and spares at once, {have} are there: every coat is done in {way.batches} "
            f"batches, {drying_h:.0f} h more of drying in all.",
            allowed="One batch a coat, or the batches that the days are planned for.",
            why="A batch that has nowhere to lie is stacked wet.",
            remedy=f"find {more} more to dry on, a shelf or a board on trestles",
            source="arithmetic of the blocks' sizes; how far they stand apart is our assumption",
            edits=(Edit(op="set", path=("paint", "rack"), value=want_m2),),
        ),
    )
