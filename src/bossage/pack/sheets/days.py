"""On the wall by the door: the calendar of the whole job, day by day; as a timeline when asked for."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import groupby

from bossage.pack.drawings.timeline import timeline_drawing
from bossage.pack.sheet import Column, Drawn, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.common import room
from bossage.pack.words import listed
from bossage.paint.dabs import mixing
from bossage.plan import Plan
from bossage.press import JobCalendar, job_calendar
from bossage.press.calendar_records import CalendarEntry

LONGEST_NOTE = 60  # longer ones are the clock of the rows, which stands on their cards, or else in a table of its own


def calendar_of(plan: Plan) -> JobCalendar:
    """The job's calendar, from the hours that costing gives."""
    return job_calendar(
        plan.brief,
        plan.body,
        plan.press,
        plan.paint.days,
        work_h={step.step: step.hours for step in plan.cost.steps},
        fixed_h=plan.cost.fixed_h,
        mixing=mixing(plan.brief, plan.paint.pots),
    )


def days_sheet(plan: Plan) -> Sheet:
    """A line for each day."""
    calendar = calendar_of(plan)
    dated = calendar.start is not None
    rows = tuple(
        (_day(calendar, day[0]), " ".join(_told(day)), "" if any(map(_ticked, day)) else "-")
        for _, group in groupby(calendar.entries, key=lambda entry: entry.day)
        for day in [list(group)]
    )
    parts: list[Part] = [
        Para(
            lead=f"{calendar.days} days, {calendar.attended_h:.0f} h",
            text="with somebody there, waits at the clamps counted. "
            + (
                f"{_off(plan)} The same days stand in calendar.ics for a phone or a desk."
                if dated
                else f'Day 1 has no date yet: write piece.date = "2026-12-01" for dates and calendar.ics. {_off(plan)}'
            ),
            small=True,
        ),
        Table(
            columns=(
                Column(head="day", kind="strong"),
                Column(head="what, from when", wide=True),
                Column(head="done", kind="tick"),
            ),
            rows=rows,
            groups=tuple(range(len(rows))),
            tight=True,
        ),
    ]
    for entry in calendar.entries:
        if len(entry.note) > LONGEST_NOTE and not plan.press.rows:
            parts += [Heading(text=f"Rows on day {entry.day}"), _rows(entry.note)]
    return Sheet(
        name="days",
        title="The days of the job",
        todo="Start so that paint dries overnight and glue over a meal. Tick off each day.",
        wrong="A day was lost? All that follows moves by a day. Nothing starts before it is dry.",
        parts=tuple(parts),
    )


def timeline_sheet(plan: Plan) -> Sheet:
    """The same as a drawing: a line for each step of the work, a column for each day."""
    calendar = calendar_of(plan)
    drawing = timeline_drawing(calendar, width_mm=room(plan).width_mm - 1)
    return Sheet(
        name="timeline",
        title="Timeline",
        todo="See at a glance what waits for what. The days of the job say the same in words.",
        wrong="A day was lost? Everything after it moves by that day.",
        parts=(Drawn(drawing=drawing, caption="Solid: somebody works. Hatched: it waits by itself."),),
    )


def _off(plan: Plan) -> str:
    """Which days of the week nobody works: what the brief names, and no other."""
    off = plan.brief.tools.days_off
    if not off:
        return (
            "Every day is worked, Saturday and Sunday too, unless the brief names days off: "
            'tools.days_off = ["saturday", "sunday"].'
        )
    named = listed([day.capitalize() for day in off])
    return f"Nobody works on {named} (tools.days_off), where day 1 has a date."


def _rows(note: str) -> Table:
    """The clock of the rows, read down the first column, then down the second."""
    said = [f"{one.removesuffix('.')}." for one in note.split(". ")]
    half = -(-len(said) // 2)
    columns = (Column(wide=True), Column(wide=True))
    second = [*said[half:], ""]
    return Table(columns=columns, rows=tuple((said[n], second[n]) for n in range(half)), tight=True)


def _day(calendar: JobCalendar, entry: CalendarEntry) -> str:
    if calendar.start is None:
        return str(entry.day)
    date = calendar.start + timedelta(days=entry.day - 1)
    return f"{entry.day}, {date.isoformat()}"


def _told(day: list[CalendarEntry]) -> Iterator[str]:
    """A day's work, each with the clock when it begins; what waits by itself right after it is told with it."""
    waits = {_begins(entry): entry for entry in day if not _ticked(entry)}
    done: set[int] = set()
    for entry in day:
        if id(entry) in done:
            continue
        after = waits.get(_ends(entry)) if _ticked(entry) else None
        if after is not None and id(after) not in done:
            done.add(id(after))
            title = f"{entry.title}; {after.title[:1].lower()}{after.title[1:]} till {_ends(after)}."
            yield f"{_begins(entry)} {title}{_note(entry)}{_note(after)}"
        else:
            till = "" if _ticked(entry) else f" till {_ends(entry)}"
            yield f"{_begins(entry)} {entry.title}{till}.{_note(entry)}"


def _begins(entry: CalendarEntry) -> str:
    return entry.clock.partition("–")[0]


def _ends(entry: CalendarEntry) -> str:
    return entry.clock.partition("–")[2]


def _note(entry: CalendarEntry) -> str:
    return f" {entry.note}" if entry.note and len(entry.note) <= LONGEST_NOTE else ""


def _ticked(entry: CalendarEntry) -> bool:
    return entry.hands or entry.step in ("mix", "test")  # work, or a little of it every day
