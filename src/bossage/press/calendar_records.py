"""What a calendar of the whole job is made of, and the line on which its steps follow one another."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bossage.press.back_jobs import BackJob
from bossage.press.schedule_records import DAY_S, WorkDay
from bossage.press.working_hours import fit

HOUR_S = 3600
SHORTEST_S = 900
"""Nobody begins a step for less time than that before the day is over. Ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarEntry:
    """One stretch of one step, in seconds from midnight before day 1; `hands` tells whether somebody works."""

    step: str
    title: str
    from_s: int
    to_s: int
    hands: bool
    note: str

    @property
    def day(self) -> int:
        """The day that it starts on, from 1."""
        return self.from_s // DAY_S + 1

    @property
    def clock(self) -> str:
        """From when to when: `09:00–12:30`; `17:00–09:00 (day 3)` where it ends on another day."""
        ends = self.to_s // DAY_S + 1
        return f"{clock_words(self.from_s)}–{clock_words(self.to_s)}" + (f" (day {ends})" if ends != self.day else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchTime:
    """When one batch of a row is glued: laid from, in the clamps (or under the bags) from, taken out from."""

    lay_s: int
    press_s: int
    out_s: int

    @property
    def clock(self) -> str:
        """`day 11: lay 09:00, on 09:06, off 09:51`."""
        day, out = self.lay_s // DAY_S + 1, self.out_s // DAY_S + 1
        later = f" on day {out}" if out != day else ""
        on, off = clock_words(self.press_s), clock_words(self.out_s)
        return f"day {day}: lay {clock_words(self.lay_s)}, on {on}, off {off}{later}"


@dataclass(frozen=True, slots=True, kw_only=True)
class JobCalendar:
    """The whole job, in order. `start` is the date of day 1, if the maker gave one.

    `batches` are those of all row cards in their order; empty where the piece is not pressed by rows.
    """

    entries: tuple[CalendarEntry, ...]
    start: date | None
    work: WorkDay
    batches: tuple[BatchTime, ...] = ()

    @property
    def days(self) -> int:
        """Days from the first to the last, both counted."""
        return max((entry.to_s - 1) // DAY_S + 1 for entry in self.entries)

    @property
    def attended_h(self) -> float:
        """Hours of work in it."""
        return sum(entry.to_s - entry.from_s for entry in self.entries if entry.hands) / HOUR_S


class Line:
    """Steps one after the other."""

    def __init__(self, work: WorkDay) -> None:
        self.work, self.at = work, fit(work, 0, 0)
        self.entries: list[CalendarEntry] = []
        self.batches: list[BatchTime] = []

    def do(self, step: str, title: str, hours: float, note: str = "", *, unbroken: bool = False) -> None:
        """Work that fills working days; what may not be broken off waits for a day that holds it whole."""
        left = round(hours * HOUR_S)
        while left > 0:
            begin = fit(self.work, self.at, left if unbroken else min(left, SHORTEST_S))
            end = min(begin + left, begin // DAY_S * DAY_S + self.work.to_s)
            self.add(step, title, begin, end, True, note)
            tail = left - (end - begin)
            if 0 < tail < SHORTEST_S <= end - begin - (SHORTEST_S - tail):
                end -= SHORTEST_S - tail  # no minute of it is left for the morning alone
            left -= end - begin
            self.at = end

    def day_holds(self, hours: float) -> bool:
        """Whether one working day holds so much work."""
        return self.work is None or round(hours * HOUR_S) <= self.work.to_s - self.work.from_s

    def job(self, job: BackJob, fixed_h: float) -> None:
        """One job of the back, and what it then waits for."""
        self.do(job.step, job.title, fixed_h * job.share, job.note)
        if job.wait_h:
            self.wait(job.wait, job.wait_title, job.wait_h)

    def wait(self, step: str, title: str, hours: float, note: str = "") -> None:
        """Time that passes by itself."""
        end = self.at + round(hours * HOUR_S)
        self.add(step, title, self.at, end, False, note)
        self.at = end

    def add(self, step: str, title: str, begin: int, end: int, hands: bool, note: str) -> None:
        """An entry at its own time, beside whatever runs then."""
        self.entries.append(CalendarEntry(step=step, title=title, from_s=begin, to_s=end, hands=hands, note=note))


def clock_words(at_s: int) -> str:
    """Time of day, to the minute."""
    minutes = at_s % DAY_S // 60
    return f"{minutes // 60:02d}:{minutes % 60:02d}"
