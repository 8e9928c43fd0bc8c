"""Reads the printed tables that lie as CSV beside the code; each row names its source."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files


@cache
def table_rows(package: str, name: str) -> tuple[dict[str, str], ...]:
    """Rows of `data/<name>` in `package`, every cell as text."""
    text = files(package).joinpath("data", name).read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def number_or_none(cell: str) -> float | None:
    """An empty cell is `None`; anything else must be a number."""
    return float(cell) if cell.strip() else None


def is_from_memory(row: dict[str, str]) -> bool:
    """Whether any figure of the row was recalled and not read."""
    return row["from_memory"] == "yes"
