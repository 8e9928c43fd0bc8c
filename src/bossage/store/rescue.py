"""Taking whole pieces out of a damaged file of pieces, into a new one. The damaged file is only read, from a copy.

SQLite refuses a row where a page on the way to it is destroyed. Rows are asked for one after the other from both ends
of a table, and one by one by their numbers in the gap that is left, so that all are found to which a way leads.
"""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bossage.store.copies import copies_folder
from bossage.store.database import APPLICATION_ID
from bossage.store.faults import StoreFault
from bossage.store.pieces import Pieces

GAP_MOST = 2_000_000  # numbers tried one by one in the gap of one table
Row = dict[str, Any]
_COLUMNS = {
    "piece": ("piece_id", "made_at", "discarded_at", "head_n"),
    "revision": (
        *("piece_id", "revision_n", "parent_n", "next_n", "aside", "saved_at"),
        *("words", "name", "seed", "stamp", "verdict", "toml"),
    ),
    "version": ("piece_id", "name", "revision_n", "made_at"),
    "photo": ("photo_id", "piece_id", "made_at", "width_px", "height_px", "points", "image"),
}


class NothingToRescue(StoreFault):
    """A file out of which nothing can be read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rescued:
    """A piece that was taken out. `whole`: no revision of it is known to be lost."""

    piece_id: str
    name: str
    revisions: int
    photos: int
    whole: bool


def rescue(damaged: Path, into: Path) -> tuple[Rescued, ...]:
    """Take every piece that can be read out of a damaged file, into a new file of pieces.

    Raises:
        NothingToRescue: Not a single piece can be read.
        StoreFault: The new file is there already or cannot be written, or the damaged one cannot be read.
    """
    if not damaged.is_file():
        raise StoreFault(f"There is no file {damaged}.")
    if into.exists():
        raise StoreFault(f"{into} is there already, and nothing is written over. Name a new file with --out.")
    with tempfile.TemporaryDirectory(prefix="bossage-") as folder:
        read = Path(folder) / "damaged.sqlite"
        try:
            for end in ("", "-wal"):
                part = damaged.with_name(damaged.name + end)
                if part.is_file():
                    shutil.copyfile(part, read.with_name(read.name + end))
        except OSError as fault:
            raise StoreFault(f"{damaged} cannot be read: {fault.strerror or fault}.") from None
        tables = _tables(read)
    taken = [_piece(piece_id, tables) for piece_id in _named(tables)]
    found = [(rows, told) for rows, told in taken if rows["revision"]]
    if not found:
        raise NothingToRescue(
            f"Nothing can be read out of {damaged} any more. `bossage restore` lists the copies that were kept in "
            f"{copies_folder(damaged)}."
        )
    with Pieces(into) as pieces, pieces.writing() as db:
        for rows, _ in found:
            for name, columns in _COLUMNS.items():
                marks = ", ".join(f":{column}" for column in columns)
                db.executemany(f"INSERT INTO {name} ({', '.join(columns)}) VALUES ({marks})", rows[name])
    return tuple(told for _, told in found)


def _tables(read: Path) -> dict[str, list[Row]]:
    try:
        with closing(sqlite3.connect(read, isolation_level=None)) as db:
            db.row_factory = sqlite3.Row
            db.execute("PRAGMA trusted_schema = OFF")
            db.execute("PRAGMA cell_size_check = ON")
            with suppress(sqlite3.DatabaseError):
                if db.execute("PRAGMA application_id").fetchone()[0] not in (APPLICATION_ID, 0):
                    raise StoreFault("This file belongs to another program.")
            most = min(GAP_MOST, max(1000, read.stat().st_size // 16))  # no row is smaller
            return {name: _rows(db, name, columns, most) for name, columns in _COLUMNS.items()}
    except sqlite3.Error:
        return {name: [] for name in _COLUMNS}


def _rows(db: sqlite3.Connection, table: str, columns: tuple[str, ...], most: int) -> list[Row]:
    """Every row of a table to which a way leads, by rising number; at most `most` numbers are tried in a gap."""
    asked = f"SELECT rowid, {', '.join(columns)} FROM {table} NOT INDEXED"
    found: dict[int, Row] = {}

    def walk(words: str, at: int) -> int | None:
        """From `at` on until a row cannot be read; the number of the last that could, None at the end of the table."""
        while True:
            try:
                row = db.execute(f"{asked} {words}", (at,)).fetchone()
            except sqlite3.Error:
                return at
            if row is None or row["rowid"] in found:
                return None
            at = row["rowid"]
            found[at] = _whole(row)

    low = walk("WHERE rowid > ? ORDER BY rowid LIMIT 1", 0)
    if low is not None:
        top = 2**62
        high = walk("WHERE rowid < ? ORDER BY rowid DESC LIMIT 1", top)
        end = low + most if high in (None, top) else high
        for number in range(low + 1, min(end or 0, low + most)):
            with suppress(sqlite3.Error):
                row = db.execute(f"{asked} WHERE rowid = ?", (number,)).fetchone()
                if row is not None:
                    found[number] = _whole(row)
    return [found[number] for number in sorted(found)]


def _whole(row: sqlite3.Row) -> Row:
    return {key: row[key] for key in row.keys() if key != "rowid"}  # noqa: SIM118 - a Row's keys, not its values


def _named(tables: dict[str, list[Row]]) -> list[str]:
    """Pieces by their own row or by that of a revision."""
    rows = [*tables["piece"], *tables["revision"]]
    return list(dict.fromkeys(row["piece_id"] for row in rows if isinstance(row["piece_id"], str)))


def _piece(piece_id: str, tables: dict[str, list[Row]]) -> tuple[dict[str, list[Row]], Rescued]:
    """One piece with its links tied again where a revision is lost."""
    own = {name: [row for row in tables[name] if row["piece_id"] == piece_id] for name in _COLUMNS}
    revisions = {row["revision_n"]: row for row in own["revision"] if _is_revision(row)}
    wanted = set(range(1, max(revisions, default=0) + 1))
    lost = bool(wanted - set(revisions)) or not own["piece"]
    for row in revisions.values():
        for link in ("parent_n", "next_n"):
            if row[link] is not None and row[link] not in revisions:
                row[link], lost = None, True
    standing = [number for number, row in revisions.items() if not row["aside"]] or list(revisions)
    first = next(iter(own["piece"]), None)
    head_n = first["head_n"] if first is not None else None
    if head_n not in revisions:
        head_n, lost = max(standing, default=0), True
    own["revision"] = [revisions[number] for number in sorted(revisions)]
    own["piece"] = [
        {
            "piece_id": piece_id,
            "made_at": first["made_at"] if first else min((row["saved_at"] for row in own["revision"]), default=""),
            "discarded_at": first["discarded_at"] if first else None,
            "head_n": head_n,
        }
    ]
    named = [row for row in own["version"] if row["revision_n"] in revisions]
    lost = lost or len(named) < len(own["version"])
    own["version"] = list({row["name"]: row for row in named}.values())
    own["photo"] = list({row["photo_id"]: row for row in own["photo"]}.values())
    name = revisions[head_n]["name"] if revisions else ""
    told = Rescued(piece_id=piece_id, name=name, revisions=len(revisions), photos=len(own["photo"]), whole=not lost)
    return own, told


def _is_revision(row: Row) -> bool:
    texts = all(isinstance(row[key], str) for key in ("saved_at", "words", "name", "stamp", "verdict", "toml"))
    numbers = all(isinstance(row[key], int) for key in ("revision_n", "aside", "seed"))
    return texts and numbers and row["revision_n"] > 0 and row["verdict"] in ("fine", "caution", "stop", "no plan")
