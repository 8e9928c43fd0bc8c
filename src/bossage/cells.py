"""Cells of CSV files that makers open in a spreadsheet: written so that none is run, read back as they were.

A spreadsheet runs a cell that begins with `=`, `+`, `-` or `@`, in some countries also one after a semicolon,
which parts cells there. A `'` before such a sign makes the cell text; a `'` that was there already gets another, so
that reading takes away exactly what writing put there (practice of the Open Worldwide Application Security Project,
from memory).
"""

from __future__ import annotations

import csv
import io
import re

from bossage.errors import BossageError

MOST_CELL_LETTERS = 10_000
MOST_ROWS = 100_000

_SIGN = "(?=[=+\\-@\uff1d\uff0b\uff0d\uff20])"
_BARE = re.compile(rf"(^\s*|[;\t]\s*)('*){_SIGN}")
_MARKED = re.compile(rf"(^\s*|[;\t]\s*)'('*){_SIGN}")
_NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?")


class UnreadableTable(BossageError):
    """A CSV file that cannot be read, with its line."""


def cell_text(text: str) -> str:
    """A cell as it is written; a plain number stays a number."""
    return text if _NUMBER.fullmatch(text) else _BARE.sub(r"\1'\2", text)


def cell_meaning(text: str) -> str:
    """What a written cell says; undoes `cell_text`."""
    return _MARKED.sub(r"\1\2", text)


def read_rows(text: str, name: str) -> list[list[str]]:
    """The rows of a CSV file, each cell as it was before it was written.

    Args:
        text: The file.
        name: What to call it in a sentence.

    Raises:
        UnreadableTable: It is no CSV, or larger than any table of a piece.
    """
    rows: list[list[str]] = []
    reader = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""))
    try:
        for row in reader:
            longest = max(map(len, row), default=0)
            if longest > MOST_CELL_LETTERS:
                raise UnreadableTable(
                    f"{name}, line {reader.line_num}: a cell holds {longest:,} letters, and {MOST_CELL_LETTERS:,} are "
                    "read at the most. Look for a quotation mark that is not closed."
                )
            if len(rows) == MOST_ROWS:
                raise UnreadableTable(f"{name} has more than {MOST_ROWS:,} rows. Is it the right file?")
            rows.append([cell_meaning(cell) for cell in row])
    except csv.Error:
        raise UnreadableTable(
            f"{name}, line {reader.line_num}: this is no row of a table. Save the file as CSV in UTF-8, and look for a "
            "quotation mark that is not closed."
        ) from None
    return rows
