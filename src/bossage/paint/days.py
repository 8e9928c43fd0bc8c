"""What paint asks of the calendar: every round on the blocks in its batches, every round on the backer, cards first."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from bossage.brief.records import Brief, EdgeStyle
from bossage.paint.coats import CoatRun, face_primer_coats, numbered
from bossage.paint.tried import days_to_try
from bossage.paint.way_records import GroundWay, PaintWay, StainFamily

JUDGE_DAYS = 1
"""Cards are judged dry a day after their last coat (common practice, no source)."""

DYE_DRY_H = 24.0
"""A water dye before anything goes over it (common practice, no source; the label governs)."""

SCRAP_DAYS = 2
"""Dye on a scrap, a day; two offcuts glued on, another; then they are knocked off (common practice, no source)."""

LAST_MIN = 15.0
"""Minutes for backs that are bare until the end: a first guess, ours."""

BEFORE_PRIME = {
    "mark the lines": "Pencil each block's line off its row card",
    "handles": "Screws into the backs, as handles",
}
AFTER_ALL = {"handles out": "Take the screws out of the backs: blocks must lie flat"}
AFTER_COLOUR = {"touch up the edges": "Touch up the front edges in their shade"}


@dataclass(frozen=True, slots=True, kw_only=True)
class PaintDays:
    """Rounds in their order. Those of the blocks are done batch by batch, as many as the drying room makes."""

    sticks: tuple[CoatRun, ...]  # before the blocks are sawn
    blocks: tuple[CoatRun, ...]
    backer: tuple[CoatRun, ...]
    batches: int
    shares: tuple[float, ...]  # of a round's work, by batch
    card_days: int  # 0 where no shade is bought ready
    scrap_days: int = 0  # of the scrap test; 0 where nothing is glued on a dye
    try_days: int = 0  # of the test pieces of the wood; 0 without a clear finish
    last: tuple[CoatRun, ...] = ()  # on backs that are bare until all glue has cured


def paint_days(
    brief: Brief,
    runs: tuple[CoatRun, ...],
    way: PaintWay,
    ground: GroundWay,
    stains: tuple[StainFamily, ...],
    *,
    shares: tuple[float, ...],
    bought_ready: bool,
    wall_half: bool,
) -> PaintDays:
    """All rounds of the job.

    Args:
        brief: Coats and drying.
        runs: Coats of the blocks, in order.
        way: The way of painting: minutes of each step of its work, batches.
        ground: How the front of the backer gets its colour.
        stains: Families with a clear finish.
        shares: Of a round's work, by batch.
        bought_ready: Whether a shade is painted as it comes out of its tin: a card of it is judged first.
        wall_half: Whether openings of the backer look on to the wall half, which gets the ground's colour with it.
    """
    return PaintDays(
        sticks=tuple(_sticks(brief, way)),
        blocks=tuple(_blocks(brief, runs, way)),
        backer=backer_runs(brief, ground, wall_half=wall_half),
        batches=way.batches,
        shares=shares,
        card_days=card_days(brief) if bought_ready else 0,
        scrap_days=SCRAP_DAYS if ground.name == "dye" else 0,
        try_days=days_to_try(brief, stains),
        last=tuple(_last(brief)),
    )


def card_days(brief: Brief) -> int:
    """Days of a card that is primed and coated like the blocks: as many as its coats take, and one till it is judged.

    A day holds as many coats as begin in its working hours, each when the one before is dry.
    """
    paint, tools = brief.paint, brief.tools
    a_day = max(1, math.ceil((tools.day_to_h - tools.day_from_h) / max(paint.dry_h, 0.5)))
    coats = face_primer_coats(brief) + paint.coats
    return math.ceil(coats / a_day) + JUDGE_DAYS


def backer_runs(brief: Brief, ground: GroundWay, *, wall_half: bool = False) -> tuple[CoatRun, ...]:
    """Rounds on the backer, each with its drying: dye where it is dyed, sealer, then the ground's colour."""
    asked = brief.paint
    strips = " and of the edge strips" if brief.edge.style is EdgeStyle.OUTRIGGER else ""
    dye = [CoatRun(step="seal", title=f"Dye the front of the backer{strips}, once", dry_h=DYE_DRY_H)]
    seal = [
        CoatRun(
            step="seal", title=numbered("Seal back and edges of the backer", n, asked.primer_coats), dry_h=asked.dry_h
        )
        for n in range(1, asked.primer_coats + 1)
    ]
    where = "edges" if ground.painted_mm2 <= 0 else "front and edges"
    where += ", and on the wall half's face behind the openings" if wall_half else ""
    colour = [
        CoatRun(step="seal", title=numbered(f"The ground's colour on {where}", n, asked.coats), dry_h=asked.dry_h)
        for n in range(1, asked.coats + 1)
    ]
    return (*(dye if ground.name == "dye" else ()), *seal, *colour)


def _last(brief: Brief) -> Iterator[CoatRun]:
    """Backs of outer blocks past strips or backer."""
    edge = brief.edge
    over = edge.style is EdgeStyle.OUTRIGGER or (edge.style is EdgeStyle.INSET and edge.overhang_nm > 0)
    if over and brief.paint.primer_coats:
        what = "Prime the outer blocks' backs that are still bare"
        yield CoatRun(step="seal", title=what, dry_h=brief.paint.dry_h, minutes=LAST_MIN)


def _sticks(brief: Brief, way: PaintWay) -> Iterator[CoatRun]:
    """Long sides of the sticks before they are sawn: two sides, then the stick is turned."""
    if way.name != "sticks first":
        return
    total = brief.paint.primer_coats + brief.paint.coats
    minutes = way.minutes.get("sides in the ground's colour", 0.0) / total
    for number in range(1, total + 1):
        for sides in ("two sides", "the other two"):
            yield CoatRun(
                step="sides",
                title=f"{numbered('Sticks', number, total)}, {sides}",
                dry_h=brief.paint.dry_h,
                minutes=minutes / 2,
            )


def _blocks(brief: Brief, runs: tuple[CoatRun, ...], way: PaintWay) -> Iterator[CoatRun]:
    """Coats, and between them what is done without a drying of its own."""
    minutes = way.minutes
    primes = [run for run in runs if run.step == "prime"]
    colours = [run for run in runs if run.step == "paint"]
    tops = [run for run in runs if run.step == "topcoat"]
    yield from (_work(title, minutes[key]) for key, title in BEFORE_PRIME.items() if key in minutes)
    again = minutes.get("prime the faces again", 0.0)
    whole = len(primes) - (again > 0)
    for number, run in enumerate(primes):
        yield replace(run, minutes=minutes.get("prime", 0.0) / whole if number < whole else again)
    if "denib" in minutes:
        yield _work("Denib the faces, dust off", minutes["denib"], step="denib")
    if way.name == "roll":
        coats = brief.paint.coats
        each = minutes.get("sides in the ground's colour", 0.0) / coats
        for number in range(1, coats + 1):
            title = numbered("Sides in the ground's colour", number, coats)
            yield CoatRun(step="paint", title=title, dry_h=brief.paint.dry_h, minutes=each)
    yield from (replace(run, minutes=minutes["colour"] / len(colours)) for run in colours)
    yield from (_work(title, minutes[key], step="paint") for key, title in AFTER_COLOUR.items() if key in minutes)
    yield from (replace(run, minutes=minutes["topcoat"] / len(tops)) for run in tops)
    yield from (_work(title, minutes[key]) for key, title in AFTER_ALL.items() if key in minutes)


def _work(title: str, minutes: float, *, step: str = "ready") -> CoatRun:
    return CoatRun(step=step, title=title, dry_h=0.0, minutes=minutes)
