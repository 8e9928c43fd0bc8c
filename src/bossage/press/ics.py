"""A job's calendar as an iCalendar file (RFC 5545): one event for each entry, in the shop's own local time."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from bossage import __version__
from bossage.errors import BossageError
from bossage.press.calendar_records import CalendarEntry, JobCalendar

FOLD_OCTETS = 75
"""No line is longer, its break left out (RFC 5545 section 3.1)."""


class NoStartDate(BossageError):
    """A calendar without a date of day 1 cannot be written as events."""


def calendar_ics(calendar: JobCalendar, *, name: str, stamp: str) -> bytes:
    """The calendar as the bytes of an `.ics` file.

    Args:
        calendar: With a date of day 1.
        name: Of the piece; in front of every event's title.
        stamp: Of the plan, so that events of the same plan replace one another.

    Returns:
        UTF-8 with CRLF. Times carry no zone: nine in the morning is nine wherever the shop is. Time that passes by
        itself is marked as free.

    Raises:
        NoStartDate: `calendar.start` is None.

    Source:
        RFC 5545 sections 3.1 (folding), 3.3.5 (local time), 3.3.11 (escaping), 3.6.1, 3.8.
    """
    if calendar.start is None:
        raise NoStartDate("The calendar has no date for day 1. Write piece.date in the brief as 2026-12-01.")
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:-//bossage//bossage {__version__}//EN", "CALSCALE:GREGORIAN"]
    for number, entry in enumerate(calendar.entries):
        lines += _event(entry, calendar.start, name, f"{stamp}-{number}")
    lines.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for line in lines for folded in _fold(line)).encode()


def _event(entry: CalendarEntry, start: date, name: str, uid: str) -> list[str]:
    lines = [
        "BEGIN:VEVENT",
        f"UID:{uid}@bossage",
        # RFC 5545 wants a time of making; the plan has none, so that the same plan gives the same bytes
        f"DTSTAMP:{start:%Y%m%d}T000000Z",
        f"DTSTART:{_time(start, entry.from_s)}",
        f"DTEND:{_time(start, entry.to_s)}",
        f"SUMMARY:{_text(f'{name}: {entry.title}')}",
        f"CATEGORIES:{_text(entry.step)}",
        f"TRANSP:{'OPAQUE' if entry.hands else 'TRANSPARENT'}",
    ]
    if entry.note:
        lines.append(f"DESCRIPTION:{_text(entry.note)}")
    return [*lines, "END:VEVENT"]


def _time(start: date, at_s: int) -> str:
    return f"{datetime(start.year, start.month, start.day) + timedelta(seconds=at_s):%Y%m%dT%H%M%S}"


def _text(value: str) -> str:
    escaped = value.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    return escaped.replace("\r\n", "\\n").replace("\n", "\\n")


def _fold(line: str) -> list[str]:
    """Lines of at most `FOLD_OCTETS` octets, those after the first begun with a space; no character is split."""
    out, part, room = [], "", FOLD_OCTETS
    for character in line:
        size = len(character.encode())
        if size > room:
            out.append(part)
            part, room = " ", FOLD_OCTETS - 1
        part += character
        room -= size
    return [*out, part]
