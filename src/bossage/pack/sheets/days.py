"""On the wall by the door: the calendar of the whole job, as a timeline and day by day."""

from __future__ import annotations

from datetime import timedelta

from bossage.pack.drawings.timeline import timeline_drawing
from bossage.pack.sheet import Column, Drawn, Figure, Figures, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.common import room
from bossage.pack.words import listed
from bossage.paint.dabs import mixing
from bossage.plan import Plan
from bossage.press import JobCalendar, job_calendar
from bossage.press.calendar_records import CalendarEntry

LONGEST_NOTE = 60  # longer ones are the clock of the rows, which have a table of their own


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
    """Timeline on top, then a line for each stretch of work."""
    calendar = calendar_of(plan)
    dated = calendar.start is not None
    rows: list[tuple[str, ...]] = []
    groups, last = list[int](), 0
    for entry in calendar.entries:
        if entry.day != last:
            groups.append(len(rows))
        rows.append((_day(calendar, entry) if entry.day != last else "", entry.clock, _what(entry), _tick(entry)))
        last = entry.day
    parts: list[Part] = [
        Figures(
            items=(
                Figure(value=str(calendar.days), unit="days", words="from the first to the last"),
                Figure(
                    value=f"{calendar.attended_h:.0f}",
                    unit="h",
                    words="with somebody there, waits at the clamps counted",
                ),
            )
        ),
        Drawn(
            drawing=timeline_drawing(calendar, width_mm=room(plan).width_mm - 1),
            caption="Solid: somebody works. Hatched: it waits by itself.",
        ),
        Para(
            text=(
                f"{_off(plan)} The same days stand in calendar.ics for a phone or a desk."
                if dated
                else f'Day 1 has no date yet: write piece.date = "2026-12-01" for dates and calendar.ics. {_off(plan)}'
            ),
            small=True,
        ),
        Table(
            columns=(
                Column(head="day", kind="strong"),
                Column(head="clock"),
                Column(head="what", wide=True),
                Column(head="done", kind="tick"),
            ),
            rows=tuple(rows),
            groups=tuple(groups),
            tight=True,
        ),
    ]
    for entry in calendar.entries:
        if len(entry.note) > LONGEST_NOTE:
            parts += [Heading(text=f"Rows on day {entry.day}"), _rows(entry.note)]
    return Sheet(
        name="days",
        title="The days of the job",
        todo="Start so that paint dries overnight and glue over a meal. Tick off; what waits by itself has no box.",
        wrong="A day was lost? Everything after it moves by that day; nothing may start before it is dry.",
        parts=tuple(parts),
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


def _what(entry: CalendarEntry) -> str:
    note = f" {entry.note}" if entry.note and len(entry.note) <= LONGEST_NOTE else ""
    return f"{entry.title}.{note}"


def _tick(entry: CalendarEntry) -> str:
    return "" if entry.hands or entry.step in ("mix", "test") else "-"  # work, a little every day
