"""Opening the file of pieces: what SQLite is told, and how a file of an earlier version is brought up to date.

A file knows its version by SQLite's `user_version`. Each step up is one transaction, so that a power cut leaves the
version before or the version after, never half of one. A file that is there is looked through before anything in it is
changed, by a connection that cannot write.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path

from bossage.store.faults import DamagedStore, StoreFault

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
PATIENCE_S = 20.0  # how long a change waits for another program that is writing
READ_PATIENCE_S = 2.0  # readers wait for nobody but a program that has locked the whole file


def open_database(
    path: Path, *, patience_s: float = PATIENCE_S, before_upgrade: Callable[[int], None] | None = None
) -> sqlite3.Connection:
    """The file of pieces, made if it is not there, brought up to date if it is of an earlier version.

    One connection may be used from several threads, one at a time.

    Args:
        path: The file.
        patience_s: How long a change waits for another program that is writing.
        before_upgrade: Called with the version that was found, before a file of an earlier version is changed.

    Raises:
        StoreFault: Not a file of pieces, one of a later bossage, or the disk refuses.
        DamagedStore: A file of pieces of which a part is destroyed; nothing in it was changed.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if path.exists() and (path.is_dir() or path.stat().st_size):
            look_through(path)
        connection = sqlite3.connect(path, timeout=patience_s, isolation_level=None, check_same_thread=False)
    except (OSError, sqlite3.Error) as fault:
        raise StoreFault(f"The pieces cannot be kept in {path}: {fault}. Name another file with --store.") from None
    try:
        _settle(connection, path, before_upgrade)
    except sqlite3.DatabaseError as fault:
        connection.close()
        raise StoreFault(f"{path} cannot be used as a file of pieces: {fault}. Name another with --store.") from None
    except BaseException:
        connection.close()
        raise
    return connection


def open_reader(path: Path, *, still: bool = False) -> sqlite3.Connection:
    """A connection that cannot write, to a file that is there.

    Args:
        path: The file.
        still: Take the file as one that nobody changes, which leaves no files of SQLite beside it. Only where there is
            no log beside the file, which every program that has the file open keeps there.

    Raises:
        sqlite3.Error: It cannot be opened.
    """
    address = f"{path.absolute().as_uri()}?mode=ro{'&immutable=1' if still else ''}"
    connection = sqlite3.connect(
        address, uri=True, timeout=READ_PATIENCE_S, isolation_level=None, check_same_thread=False
    )
    connection.row_factory = sqlite3.Row
    return connection


def look_through(path: Path, *, thoroughly: bool = False) -> int:
    """Look through a file of pieces without changing it; its version.

    Args:
        path: The file, which is there.
        thoroughly: Hold the indexes and the links between rows against the rows too.

    Raises:
        StoreFault: It belongs to another program or to a later bossage, or cannot be read.
        DamagedStore: A part of it is destroyed.
    """
    still = not has_log(path)
    try:
        return _looked_through(path, thoroughly, still=still)
    except DamagedStore:
        if still and has_log(path):
            # another program has opened it meanwhile, and may have changed it under our eyes
            return _looked_through(path, thoroughly, still=False)
        raise


def has_log(path: Path) -> bool:
    """Whether a log lies beside a file: a program has the file open, or did not end as it should."""
    return path.with_name(f"{path.name}-wal").exists()


def _looked_through(path: Path, thoroughly: bool, *, still: bool) -> int:
    try:
        connection = open_reader(path, still=still)
    except sqlite3.Error as fault:
        raise StoreFault(f"{path} cannot be opened: {fault}. Name another file with --store.") from None
    try:
        connection.execute("PRAGMA trusted_schema = OFF")
        found = _ours(connection, path)
        kind = "integrity_check" if thoroughly else "quick_check"
        said = connection.execute(f"PRAGMA {kind}(1)").fetchone()[0]
        if said == "ok" and thoroughly and connection.execute("PRAGMA foreign_key_check").fetchone() is not None:
            said = "a row leads nowhere"
        if said != "ok":
            raise DamagedStore(path, said)
        return found
    except sqlite3.OperationalError as fault:
        raise StoreFault(f"{path} cannot be read: {fault}. Try again, or name another with --store.") from None
    except sqlite3.DatabaseError as fault:
        if "not a database" in str(fault):
            raise StoreFault(
                f"{path} is no file of pieces, or its beginning is destroyed. Nothing in it was changed. `bossage "
                "restore` lists the copies that were kept beside it; another file can be named with --store."
            ) from None
        raise DamagedStore(path, str(fault)) from None
    finally:
        connection.close()


def _ours(connection: sqlite3.Connection, path: Path) -> int:
    application, found = _mark(connection)
    tables = connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0]
    if application != APPLICATION_ID and (application or found or tables):
        raise StoreFault(f"{path} belongs to another program. Name another file with --store.")
    if found > VERSION:
        raise StoreFault(
            f"{path} was written by a later bossage (its pieces are of version {found}, this one reads up to "
            f"{VERSION}). Install the later one, or name another file with --store."
        )
    return found


def _settle(connection: sqlite3.Connection, path: Path, before_upgrade: Callable[[int], None] | None) -> None:
    connection.row_factory = sqlite3.Row
    found = _ours(connection, path)
    if 0 < found < VERSION and before_upgrade is not None:
        before_upgrade(found)
    connection.execute("PRAGMA journal_mode = WAL")
    # FULL: a change that was acknowledged is on the disk, also when the power goes the moment after
    connection.execute("PRAGMA synchronous = FULL")
    # macOS alone heeds these: without them the change may stop at the drive's own memory
    connection.execute("PRAGMA fullfsync = ON")
    connection.execute("PRAGMA checkpoint_fullfsync = ON")
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
