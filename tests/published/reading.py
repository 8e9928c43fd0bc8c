"""Reads the printed tables of `data/`; each row names its source and whether any of it is from memory."""

from __future__ import annotations

import csv
from pathlib import Path

DATA = Path(__file__).parent / "data"


def read_published(name: str) -> list[dict[str, str]]:
    """All rows of one table, every cell as text; a row without source or memory mark is refused."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    unmarked = [row for row in rows if not row["source"] or row["from_memory"] not in {"yes", "no"}]
    assert rows, f"{name} is empty"
    assert not unmarked, f"{name}: {unmarked[0]}"
    return rows
