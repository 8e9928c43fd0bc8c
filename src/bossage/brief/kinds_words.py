# ruff: noqa: D102 - `read`, `show` and `schema` are explained once, on `Kind`
"""The kinds of value that are a maker's own words."""

from __future__ import annotations

import datetime
import re
from typing import Any

from bossage.brief.faults import Bad, quoted
from bossage.brief.kinds import Kind
from bossage.brief.spelling import look_at_letters
from bossage.letters import composed

FIRST_YEAR, LAST_YEAR = 2000, 2200


class Text(Kind):
    """Words of the maker's own, on one line. A TOML date counts as its text."""

    def __init__(self, longest: int = 120, *, empty: bool = False) -> None:
        self.longest, self.empty = longest, empty
        self.schema = {"type": "string", "maxLength": longest}
        if not empty:
            self.schema["minLength"] = 1

    def read(self, value: Any, unit: str) -> str:
        allowed = f"words in quotes, at most {self.longest} letters on one line"
        if isinstance(value, datetime.date):
            return value.isoformat()
        if not isinstance(value, str) or isinstance(value, datetime.datetime):
            raise Bad(quoted(value), allowed, "Put it in quotes.")
        text = composed(value.strip()) if len(value) <= 8 * self.longest else value
        if len(text) > self.longest or not (text or self.empty):
            raise Bad(quoted(value), allowed, "Shorten it." if text else "Write something between the quotes.")
        look_at_letters(text)
        return text

    def show(self, value: str, unit: str) -> str:
        return value or "none"


class Date(Text):
    """A day, as 2026-12-01 or as other words; what looks like a day must be one."""

    def __init__(self) -> None:
        super().__init__(40, empty=True)

    def read(self, value: Any, unit: str) -> str:
        text = super().read(value, unit)
        if re.fullmatch(r"\d{3,}-\d\d?-\d\d?|\d{8}|\d{4}-?W\d\d(-?\d)?", text):
            try:
                day = datetime.date.fromisoformat(text)
            except ValueError:
                day = None
            if day is None or not FIRST_YEAR <= day.year <= LAST_YEAR:
                allowed = f"a day of the calendar from {FIRST_YEAR} to {LAST_YEAR}, as 2026-12-01, or other words"
                raise Bad(quoted(value), allowed, "Write a day that the calendar has.")
        return text
