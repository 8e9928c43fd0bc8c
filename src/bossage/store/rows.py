"""Rows of the file of pieces, and what they become."""

from __future__ import annotations

import sqlite3

from bossage.store.faults import NoSuchPiece, NoSuchRevision, NotYet
from bossage.store.records import Revision, RevisionRow, Version


def piece_row(db: sqlite3.Connection, piece_id: str) -> sqlite3.Row:
    """The row of a piece; `NoSuchPiece` if there is none."""
    found: sqlite3.Row | None = db.execute("SELECT * FROM piece WHERE piece_id = ?", (piece_id,)).fetchone()
    if found is None:
        raise NoSuchPiece("There is no such piece; it may have been thrown away for good.")
    return found


def live(piece: sqlite3.Row) -> sqlite3.Row:
    """The same row, unless the piece lies in the wastebasket (`NotYet`)."""
    if piece["discarded_at"] is not None:
        raise NotYet("The piece lies in the wastebasket; take it out first.")
    return piece


def revision_row(db: sqlite3.Connection, piece_id: str, revision_n: int) -> sqlite3.Row:
    """The row of a revision; `NoSuchRevision` if there is none."""
    found: sqlite3.Row | None = db.execute(
        "SELECT * FROM revision WHERE piece_id = ? AND revision_n = ?", (piece_id, revision_n)
    ).fetchone()
    if found is None:
        raise NoSuchRevision(f"The piece has no revision {revision_n}.")
    return found


def last_number(db: sqlite3.Connection, piece_id: str) -> int:
    """The highest number of a piece's revisions."""
    last: int = db.execute("SELECT max(revision_n) FROM revision WHERE piece_id = ?", (piece_id,)).fetchone()[0]
    return last


def head_of(db: sqlite3.Connection, piece_id: str) -> Revision:
    """The newest revision of a piece, for the rooms of this store."""
    piece = piece_row(db, piece_id)
    return revision_of(db, piece, piece["head_n"])


def line_of(row: sqlite3.Row) -> RevisionRow:
    """A line of the history."""
    return RevisionRow(
        revision_n=row["revision_n"],
        parent_n=row["parent_n"],
        saved_at=row["saved_at"],
        words=row["words"],
        name=row["name"],
        seed=row["seed"],
        stamp=row["stamp"],
        verdict=row["verdict"],
        aside=bool(row["aside"]),
    )


def revision_of(db: sqlite3.Connection, piece: sqlite3.Row, revision_n: int) -> Revision:
    """A revision with its brief, and where undo and redo lead."""
    piece_id, head_n = piece["piece_id"], piece["head_n"]
    row, head = revision_row(db, piece_id, revision_n), revision_row(db, piece_id, head_n)
    redo = None if head["next_n"] is None else revision_row(db, piece_id, head["next_n"])["words"]
    versions = db.execute(
        "SELECT name, revision_n, made_at FROM version WHERE piece_id = ? ORDER BY made_at, name", (piece_id,)
    ).fetchall()
    return Revision(
        piece_id=piece_id,
        row=line_of(row),
        toml=row["toml"],
        head_n=head_n,
        undo_words=None if head["parent_n"] is None else head["words"],
        redo_words=redo,
        discarded=piece["discarded_at"] is not None,
        versions=tuple(Version(name=v["name"], revision_n=v["revision_n"], made_at=v["made_at"]) for v in versions),
    )
