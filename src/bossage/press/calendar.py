"""One calendar for the whole job: resting, sawing, sanding, coats with their drying, laying, pressing, curing, hanging.

Work fills working days; drying and curing run through the night. One step follows the other, with two exceptions. The
back is made while the slices rest, in the order that its joints ask for, so that no saw runs while paint is wet. The
backer is coated while the blocks dry.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from bossage.body import Body
from bossage.brief.records import Brief
from bossage.brief.terms import WEEKDAYS
from bossage.paint.dabs import Mixing
from bossage.paint.days import PaintDays
from bossage.press.back_jobs import BackJob, back_jobs, backer_jobs
from bossage.press.bow import SETTLED_PCT
from bossage.press.calendar_records import HOUR_S, BatchTime, JobCalendar, Line, clock_words
from bossage.press.clock import press_schedule, pressings_of
from bossage.press.methods import rows_under_bags
from bossage.press.paint_days import (
    DUST_H,
    DUST_NOTE,
    HARDEN_H,
    Backer,
    blocking_test,
    coat,
    mix,
    scrap_test,
    try_on_wood,
)
from bossage.press.records import Press
from bossage.press.schedule_records import DAY_S, Pressed, WorkDay

REST_DAYS = 7
"""Sticks rest in the room before they are sawn: one to two weeks, common practice, no source."""

SLICES_REST_DAYS = 3
"""Slices dry through their ends: until two weighings a day apart agree. Ours; thick slices of oak take longer."""

REST_NOTE = "Weigh a dozen each day, till two weighings agree."

NO_MIXING = Mixing()

HANG_SHARE = 0.15
"""Of the fixed hours: hanging; the rest goes to the back (`back_jobs`). Ours."""


def job_calendar(
    brief: Brief,
    body: Body,
    press: Press,
    paint: PaintDays,
    *,
    work_h: Mapping[str, float],
    fixed_h: float,
    mixing: Mixing = NO_MIXING,
    start: date | None = None,
    work: WorkDay | None = None,
) -> JobCalendar:
    """The calendar of the whole job.

    Args:
        brief: Glue, species; `piece.date`, if it is a date (2026-12-01), starts it where `start` is None.
        body: Its steps of making.
        press: Rows, beds and ring; pressed in the way that was chosen or is advised.
        paint: Rounds on sticks, blocks and backer, with what each dries; batches of the blocks.
        work_h: Hours over the whole job of `saw`, `break edges and sand`, `prime and paint` and `lay`, as costing
            gives them.
        fixed_h: Fixed hours: backer, frame, cleat, hanging.
        mixing: Days that the test card and the dabs of mixed shades dry.
        start: Date of day 1.
        work: Working hours; the brief's where None.

    Returns:
        Entries in order of time. A step longer than a day is broken off in the evening.

    Raises:
        CannotPress: A batch fits no working day.

    Source:
        Hours: the brief's rates. Drying and resting: as the constants say.
    """
    begin = start if start is not None else date_of(brief.piece.date)
    hours = work if work is not None else work_day(brief)
    if begin is not None:
        hours = replace(hours, first_weekday=begin.weekday())
    elif work is None:
        hours = replace(hours, days_off=())
    line = Line(hours)
    line.wait("acclimatise", "Let the sticks rest in the room, stickered", REST_DAYS * 24, "Weigh one now and then.")
    mixed_s = mix(line, mixing, paint.card_days)
    scrap_test(line, paint.scrap_days)
    rounds = (*paint.sticks, *paint.blocks)
    each_h = work_h["prime and paint"] / max(sum(run.minutes for run in rounds), 1e-9)
    for run in paint.sticks:
        line.do(run.step, run.title, run.minutes * each_h)
        line.wait("dry", "Drying of the sticks", run.dry_h)
    line.do("saw", "Saw the blocks and shims", work_h["saw"])
    mixed_s = max(mixed_s, try_on_wood(line, paint.try_days))
    _back(line, brief, back_jobs(brief, body), fixed_h)
    line.do("sand", "Break edges, sand, dust off", work_h["break edges and sand"], DUST_NOTE)
    clear_s = line.at + round(DUST_H * HOUR_S)
    backer = Backer(backer_jobs(paint.backer, ring=press.ring is not None), fixed_h)
    coat(line, brief, paint, each_h, backer, mixed_s=mixed_s, clear_s=clear_s)
    tested_s = blocking_test(line, press)
    line.do("lay", "Lay dry, number the backs", work_h["lay"])
    line.at = max(line.at, tested_s)
    _press(line, brief, press)
    line.wait("cure", "Leave the glue to cure", HARDEN_H, "Do not lift it by its blocks, nor stand it on them.")
    if press.ring is not None:
        _ring(line, brief, press)
    for run in paint.last:
        line.do(run.step, run.title, run.minutes / 60)
        line.wait("dry", "Drying of the backs", run.dry_h)
    hang_h = fixed_h * HANG_SHARE
    line.do("hang", "Hang it, hand over the cards", hang_h, unbroken=line.day_holds(hang_h))
    entries = sorted(line.entries, key=lambda entry: entry.from_s)
    return JobCalendar(entries=tuple(entries), start=begin, work=hours, batches=tuple(line.batches))


def work_day(brief: Brief) -> WorkDay:
    """The brief's working hours. Days off count only where day 1 has a date."""
    tools = brief.tools
    return WorkDay(
        from_s=round(tools.day_from_h * HOUR_S),
        to_s=round(tools.day_to_h * HOUR_S),
        days_off=tuple(WEEKDAYS.index(day) for day in tools.days_off),
    )


def date_of(text: str) -> date | None:
    """The date that a brief gives as 2026-12-01; None for any other words, which are only printed."""
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        return None


def _back(line: Line, brief: Brief, jobs: tuple[BackJob, ...], fixed_h: float) -> None:
    """The back, while bare slices rest where they come out of wetter wood than the room keeps."""
    blocks, rested_s = brief.blocks, line.at
    middle_pct = (blocks.moisture_use_low_pct + blocks.moisture_use_high_pct) / 2
    if abs(blocks.moisture_sawn_pct - middle_pct) > SETTLED_PCT:
        line.wait("rest", "Let the slices lie loose and bare in the room", SLICES_REST_DAYS * 24, REST_NOTE)
        line.at, rested_s = rested_s, line.at
    for job in jobs:
        line.job(job, fixed_h)
    line.at = max(line.at, rested_s)


def _press(line: Line, brief: Brief, press: Press) -> None:
    """Pressing in the way that the cards are for."""
    glue, way = brief.glue, press.way
    if way.name == "face down":
        for bed in press.beds:
            leaf = f", leaf {bed.leaf + 1}" if len(press.beds) > 1 else ""
            line.do("press", f"Lay the bed dry, face down{leaf}", bed.lay_min / 60)
            spread_h = (bed.spread_min / bed.hands + glue.close_min) / 60
            note = f"{bed.hands} people spread the glue." if bed.hands > 1 else ""
            line.do("press", f"Spread the glue, backer on, clamps{leaf}", spread_h, note, unbroken=True)
            line.wait("cure", f"In the clamps{leaf}", glue.clamp_min / 60)
            line.do("press", f"Clamps off{leaf}", glue.unload_min / 60)
    elif way.name == "screws":
        line.do("press", "Glue and screw the blocks from behind", way.attended_h)
        line.wait("cure", "Leave the glue to set", glue.clamp_min / 60)
    else:
        sets = rows_under_bags(brief, press.rows) if way.name == "bags" else way.cauls
        _press_rows(line, brief, press, sets)


def _press_rows(line: Line, brief: Brief, press: Press, sets: int) -> None:
    """Rows start on a fresh morning; one entry for each day, its batches in the note."""
    first = line.at // DAY_S + (line.at % DAY_S > line.work.from_s)
    shifted = replace(line.work, first_weekday=(line.work.first_weekday + first) % 7)
    found = press_schedule(brief, press.rows, sets, work=shifted)
    names = [p.name for p in pressings_of(brief, press.rows)]
    line.batches = [
        BatchTime(lay_s=first * DAY_S + p.lay_s, press_s=first * DAY_S + p.press_s, out_s=first * DAY_S + p.out_s)
        for p in sorted(found.pressed, key=lambda p: p.pressing)
    ]
    days: dict[int, list[tuple[int, int, str]]] = defaultdict(list)
    for p in found.pressed:
        days[p.lay_s // DAY_S].append((p.lay_s, p.press_s, _words(names, p)))
        days[p.out_s // DAY_S].append((p.out_s, p.done_s, ""))
    for day in sorted(days):
        begin, end = min(s for s, _, _ in days[day]), max(e for _, e, _ in days[day])
        note = " ".join(words for _, _, words in sorted(days[day]) if words)
        out = "from under the bags" if press.way.name == "bags" else "out of the clamps"
        title = "Press the rows on their cards" if note else f"Take the last row {out}"
        line.add("press", title, first * DAY_S + begin, first * DAY_S + end, True, note)
    line.at = first * DAY_S + found.finish_s


def _words(names: list[str], p: Pressed) -> str:
    out = clock_words(p.out_s) if p.out_s // DAY_S == p.lay_s // DAY_S else f"{clock_words(p.out_s)} next time"
    return f"{names[p.pressing]}: lay {clock_words(p.lay_s)}, clamps {clock_words(p.press_s)}, out {out}."


def _ring(line: Line, brief: Brief, press: Press) -> None:
    """Leaf by leaf: two pairs of strips, each with its clamp time."""
    ring, glue = press.ring, brief.glue
    assert ring is not None
    leaves = len(ring.template)
    lay_h = ring.blocks_per_leaf * brief.rates.lay_s / 3600
    sides_h = 2 * (glue.close_min + glue.unload_min + glue.clamp_min) / 60
    line.do("ring", "Edge ring on its strips, face down", leaves * (lay_h + sides_h), "As on the ring's sheet.")
    line.wait("cure", "Leave the ring to cure", HARDEN_H, "")
