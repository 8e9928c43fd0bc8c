"""Gluing and pressing: cards a row, shims, batches, methods, hours; wood in its house; the job's calendar."""

from __future__ import annotations

from bossage.press.bench import Bench, bench_of
from bossage.press.calendar import date_of, job_calendar
from bossage.press.calendar_records import BatchTime, CalendarEntry, JobCalendar
from bossage.press.ics import NoStartDate, calendar_ics
from bossage.press.records import Press
from bossage.press.schedule import schedule
from bossage.press.stage import plan_press
from bossage.press.working_hours import CannotPress

__all__ = [
    "BatchTime",
    "Bench",
    "CalendarEntry",
    "CannotPress",
    "JobCalendar",
    "NoStartDate",
    "Press",
    "bench_of",
    "calendar_ics",
    "date_of",
    "job_calendar",
    "plan_press",
    "schedule",
]
