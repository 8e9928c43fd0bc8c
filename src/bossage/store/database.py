"""Opening the file of pieces: what SQLite is told, and how a file of an earlier version is brought up to date.

A file knows its version by SQLite's `user_version`. Each step up is one transaction, so that a power cut leaves the
version before or the version after, never half of one.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path

from bossage.store.faults import StoreFault

APPLICATION_ID = 0x62736765  # "bsge", so that `file` and we know our own

#: Statements that lead from version n to n + 1. Never changed once released; tests keep a file of every version.
STEPS: tuple[tuple[str, ...], ...] = (
    (
        """CREATE TABLE piece (
            piece_id TEXT PRIMARY KEY,
            made_at TEXT NOT NULL,
            discarded_at TEXT,
            head_n INTEGER NOT NULL,
            FOREIGN KEY (piece_id, head_n) REFERENCES revision (piece_id, revision_n) DEFERRABLE INITIALLY DEFERRED
        ) STRICT""",
        """CREATE TABLE revision (
            piece_id TEXT NOT NULL REFERENCES piece (piece_id) ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED,
            revision_n INTEGER NOT NULL CHECK (revision_n > 0),
            parent_n INTEGER,
            next_n INTEGER,
            aside INTEGER NOT NULL DEFAULT 0 CHECK (aside IN (0, 1)),
            saved_at TEXT NOT NULL,
            words TEXT NOT NULL,
            name TEXT NOT NULL,
            seed INTEGER NOT NULL,
            stamp TEXT NOT NULL,
            verdict TEXT NOT NULL CHECK (verdict IN ('fine', 'caution', 'stop', 'no plan')),
            toml TEXT NOT NULL,
            PRIMARY KEY (piece_id, revision_n),
            FOREIGN KEY (piece_id, parent_n) REFERENCES revision (piece_id, revision_n) DEFERRABLE INITIALLY DEFERRED,
            FOREIGN KEY (piece_id, next_n) REFERENCES revision (piece_id, revision_n) DEFERRABLE INITIALLY DEFERRED
        ) STRICT""",
        """CREATE TABLE version (
            piece_id TEXT NOT NULL REFERENCES piece (piece_id) ON DELETE CASCADE,
            name TEXT NOT NULL,
            revision_n INTEGER NOT NULL,
            made_at TEXT NOT NULL,
            PRIMARY KEY (piece_id, name),
            FOREIGN KEY (piece_id, revision_n) REFERENCES revision (piece_id, revision_n)
                ON DELETE CASCADE DEFERRABLE INITIALLY DEFERRED
        ) STRICT""",
    ),
    (
        # Photos of walls came with version 2. `points` is JSON: four corners and what was measured between them.
        """CREATE TABLE photo (
            photo_id TEXT PRIMARY KEY,
            piece_id TEXT NOT NULL REFERENCES piece (piece_id) ON DELETE CASCADE,
            made_at TEXT NOT NULL,
            width_px INTEGER NOT NULL,
            height_px INTEGER NOT NULL,
            points TEXT NOT NULL,
            image BLOB NOT NULL
        ) STRICT""",
        "CREATE INDEX photo_of_piece ON photo (piece_id)",
    ),
)
VERSION = len(STEPS)
PATIENCE_S = 20.0  # how long to wait for another program that is writing


def open_database(path: Path) -> sqlite3.Connection:
    """The file of pieces, made if it is not there, brought up to date if it is of an earlier version.

    One connection may be used from several threads, one at a time.

    Raises:
        StoreFault: Not a file of pieces, one of a later bossage, or the disk refuses.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        connection = sqlite3.connect(path, timeout=PATIENCE_S, isolation_level=None, check_same_thread=False)
    except (OSError, sqlite3.Error) as fault:
        raise StoreFault(f"The pieces cannot be kept in {path}: {fault}. Name another file with --store.") from None
    try:
        _settle(connection, path)
    except sqlite3.DatabaseError as fault:
        connection.close()
        raise StoreFault(f"{path} cannot be used as a file of pieces: {fault}. Name another with --store.") from None
    except StoreFault:
        connection.close()
        raise
    return connection


def _settle(connection: sqlite3.Connection, path: Path) -> None:
    connection.row_factory = sqlite3.Row
    application, found = _mark(connection)
    tables = connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0]
    if application != APPLICATION_ID and (application or found or tables):
        raise StoreFault(f"{path} belongs to another program. Name another file with --store.")
    if found > VERSION:
        raise StoreFault(
            f"{path} was written by a later bossage (its pieces are of version {found}, this one reads up to "
            f"{VERSION}). Install the later one, or name another file with --store."
        )
    connection.execute("PRAGMA journal_mode = WAL")
    # FULL: a change that was acknowledged is on the disk, also when the power goes the moment after
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute("PRAGMA trusted_schema = OFF")
    if found < VERSION:
        _bring_up(connection)


def _bring_up(connection: sqlite3.Connection) -> None:
    connection.execute("BEGIN IMMEDIATE")
    try:
        # read again: another program may have done it while this one waited
        for step in STEPS[_mark(connection)[1] :]:
            for statement in step:
                connection.execute(statement)
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(f"PRAGMA user_version = {VERSION}")
        connection.execute("COMMIT")
    except BaseException:
        connection.execute("ROLLBACK")
        raise


def _mark(connection: sqlite3.Connection) -> tuple[int, int]:
    application = connection.execute("PRAGMA application_id").fetchone()[0]
    return application, connection.execute("PRAGMA user_version").fetchone()[0]
