"""One calendar for the whole job: resting, sawing, sanding, coats with their drying, laying, pressing, curing, hanging.

Work fills working days; drying and curing run through the night. One step follows the other, except that the back is
made while the coats dry, in the order that its joints ask for.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from bossage.body import Body
from bossage.brief.records import Brief
from bossage.brief.terms import WEEKDAYS
from bossage.paint.coats import CoatRun
from bossage.paint.dabs import DAB_MIN
from bossage.press.back_jobs import BackJob, back_jobs
from bossage.press.clock import press_schedule, pressings_of
from bossage.press.methods import rows_under_bags
from bossage.press.records import Press
from bossage.press.schedule_records import DAY_S, Pressed, WorkDay
from bossage.press.working_hours import fit

HOUR_S = 3600
REST_DAYS = 7
"""Sticks rest in the room before they are sawn: one to two weeks, common practice, no source."""

BLEED_H = 24.0
"""Stain-blocking primer on redwood and western redcedar: 24 to 48 h (Wood Handbook FPL-GTR-190 ch. 16, read)."""

HARDEN_H = 24.0
"""After the last coat, before the faces are pressed; and white glue until full cure (retailer's guide, read)."""

MIX_NOTE = f"Test card first; {DAB_MIN} min a dab; lids on the pots."

HANG_SHARE = 0.15
"""Of the fixed hours: hanging; the rest goes to the back (`back_jobs`). Ours."""


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


def job_calendar(
    brief: Brief,
    body: Body,
    press: Press,
    coats: tuple[CoatRun, ...],
    *,
    work_h: Mapping[str, float],
    fixed_h: float,
    dab_days: int = 0,
    start: date | None = None,
    work: WorkDay | None = None,
) -> JobCalendar:
    """The calendar of the whole job.

    Args:
        brief: Glue, species; `piece.date`, if it is a date (2026-12-01), starts it where `start` is None.
        body: Its steps of making.
        press: Rows, beds and ring; pressed in the way that was chosen or is advised.
        coats: Those of the blocks, in order, with what each dries.
        work_h: Hours over the whole job of `saw`, `break edges and sand`, `prime and paint` and `lay`, as costing
            gives them.
        fixed_h: Fixed hours: backer, frame, cleat, hanging.
        dab_days: Days that test cards and dabs of mixed shades dry, one after the other.
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
    line = _Line(hours)
    line.wait("acclimatise", "Let the sticks rest in the room, stickered", REST_DAYS * 24, "Weigh one now and then.")
    mixed_s = _mix(line, dab_days)
    line.do("saw", "Saw the blocks and shims", work_h["saw"])
    line.do("sand", "Break edges, sand, dust off", work_h["break edges and sand"])
    _coats(
        line,
        brief,
        coats,
        work_h["prime and paint"],
        back_jobs(brief, body, ring=press.ring is not None),
        fixed_h,
        mixed_s,
    )
    line.do("lay", "Lay dry, number the backs", work_h["lay"])
    _press(line, brief, press)
    line.wait("cure", "Leave the glue to cure", HARDEN_H, "Do not lift it by its blocks.")
    if press.ring is not None:
        _ring(line, brief, press)
    line.do("hang", "Hang it, hand over the cards", fixed_h * HANG_SHARE)
    return JobCalendar(entries=tuple(line.entries), start=begin, work=hours, batches=tuple(line.batches))


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


def clock_words(at_s: int) -> str:
    """Time of day, to the minute."""
    minutes = at_s % DAY_S // 60
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


class _Line:
    """Steps one after the other."""

    def __init__(self, work: WorkDay) -> None:
        self.work, self.at = work, fit(work, 0, 0)
        self.entries: list[CalendarEntry] = []
        self.batches: list[BatchTime] = []

    def do(self, step: str, title: str, hours: float, note: str = "", *, unbroken: bool = False) -> None:
        """Work that fills working days; what may not be broken off waits for a day that holds it whole."""
        left = round(hours * HOUR_S)
        while left > 0:
            begin = fit(self.work, self.at, left if unbroken else min(left, 60))
            end = min(begin + left, begin // DAY_S * DAY_S + self.work.to_s)
            self.add(step, title, begin, end, True, note)
            left -= end - begin
            self.at = end

    def job(self, job: BackJob, fixed_h: float) -> None:
        """One job of the back, and what it then waits for."""
        self.do(job.step, job.title, fixed_h * job.share, job.note)
        if job.wait_h:
            self.wait(job.wait, job.wait_title, job.wait_h)

    def tries(self, job: BackJob, fixed_h: float, *, by_s: int) -> bool:
        """The job, if it is done by then; else nothing."""
        at, entries = self.at, list(self.entries)
        self.job(job, fixed_h)
        if self.at <= by_s:
            return True
        self.at, self.entries = at, entries
        return False

    def wait(self, step: str, title: str, hours: float, note: str = "") -> None:
        """Time that passes by itself."""
        end = self.at + round(hours * HOUR_S)
        self.add(step, title, self.at, end, False, note)
        self.at = end

    def add(self, step: str, title: str, begin: int, end: int, hands: bool, note: str) -> None:
        self.entries.append(CalendarEntry(step=step, title=title, from_s=begin, to_s=end, hands=hands, note=note))


def _mix(line: _Line, days: int) -> int:
    """Cards and dabs dry while the sticks rest, from day 1 on; when the last one is dry."""
    begin = line.entries[0].from_s
    if days:
        line.add(
            "mix",
            "Mix the shades on cards: each dab dries a day, some twice",
            begin,
            begin + days * DAY_S,
            False,
            MIX_NOTE,
        )
    return begin + days * DAY_S


def _coats(
    line: _Line,
    brief: Brief,
    coats: tuple[CoatRun, ...],
    hours: float,
    jobs: tuple[BackJob, ...],
    fixed_h: float,
    mixed_s: int,
) -> None:
    """Each coat its share of the hours, then its drying, in which the back is made as far as the time goes."""
    left = list(jobs)
    bleeds = any(name in brief.blocks.species for name in ("redwood", "redcedar"))
    for coat in coats:
        if coat.step == "paint":
            line.at = max(line.at, mixed_s)
        line.do(coat.step, coat.title, hours / len(coats), "Glue faces stay bare.")
        least = HARDEN_H if coat is coats[-1] else BLEED_H if bleeds and coat.step == "prime" else 0.0
        dries = max(coat.dry_h, least)
        begin = line.at
        line.wait(
            "dry", f"Drying after {coat.title.partition(',')[0].lower()}", dries, "At least 10 °C (50 °F) in the room."
        )
        dry, line.at = line.at, begin
        while left and line.tries(left[0], fixed_h, by_s=dry):
            left.pop(0)
        line.at = max(line.at, dry)
    for job in left:
        line.job(job, fixed_h)


def _press(line: _Line, brief: Brief, press: Press) -> None:
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


def _press_rows(line: _Line, brief: Brief, press: Press, sets: int) -> None:
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


def _ring(line: _Line, brief: Brief, press: Press) -> None:
    """Leaf by leaf: two pairs of strips, each with its clamp time."""
    ring, glue = press.ring, brief.glue
    assert ring is not None
    leaves = len(ring.template)
    lay_h = ring.blocks_per_leaf * brief.rates.lay_s / 3600
    sides_h = 2 * (glue.close_min + glue.unload_min + glue.clamp_min) / 60
    line.do("ring", "Edge ring on its strips, face down", leaves * (lay_h + sides_h), "As on the ring's sheet.")
    line.wait("cure", "Leave the ring to cure", HARDEN_H, "")
