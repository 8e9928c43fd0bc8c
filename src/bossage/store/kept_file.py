"""One file of pieces in use: a connection that writes, one that only reads, and a file that is whole after each change.

Changes go through a write-ahead log, which readers never wait for; after each one the log is emptied into the file, so
that whoever copies the file between two changes has everything that was acknowledged.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from bossage.store.copies import daily_copy, keep_copy, keep_marked
from bossage.store.database import PATIENCE_S, VERSION, open_database, open_reader
from bossage.store.faults import DamagedStore, StoreFault

EMPTYING_PATIENCE_MS = 250  # how long the emptying of the log waits for another program that reads


class KeptFile:
    """Safe to use from several threads, and beside other programs that use the same file.

    Attributes:
        path: The file.
        notes: What its opening found, in a maker's words: a log that lay beside it, a copy that was kept.
        copy_fault: Why the copy of the day could not be kept; empty if it was.
    """

    def __init__(self, path: Path, now: Callable[[], str], patience_s: float = PATIENCE_S) -> None:
        """Open the file, making it if it is not there.

        Raises:
            StoreFault: It cannot be used.
        """
        self.path, self.now = path, now
        self._patience_ms = round(1000 * patience_s)
        self.copy_fault = ""
        self._copied_on = ""
        self._write_lock, self._read_lock = threading.RLock(), threading.RLock()
        notes: list[str] = []
        left = _log_size(path)

        def before_upgrade(found: int) -> None:
            kept = keep_marked(path, now(), f"before-version-{VERSION}")
            notes.append(f"{path} was of version {found} and is now of version {VERSION}; a copy as it was: {kept}.")

        lone = _is_lone(path) if not left else False
        self._writer = open_database(path, patience_s=patience_s, before_upgrade=before_upgrade)
        try:
            self._reader = open_reader(path)
            self._reader.execute("PRAGMA trusted_schema = OFF")
        except sqlite3.Error as fault:
            self._writer.close()
            raise StoreFault(f"{path} cannot be opened: {fault}. Name another file with --store.") from None
        self.behind = True  # whether the log may hold changes that the file does not
        self._empty_log()
        if left:
            notes.append(_left_words(path, left, taken=not self.behind))
        if lone:
            notes.append(
                f"{path} held no pieces. If it is a copy of a store that was in use by version 0.1.0, its pieces lie "
                "in the file ending in -wal beside the store that it was copied from."
            )
        self.notes = tuple(notes)

    def close(self) -> None:
        """Let go of the file, after a change that is in hand; the log is gone then."""
        with self._write_lock, self._read_lock:
            self._reader.close()
            self._writer.close()

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """One snapshot for all that is read within; whoever writes meanwhile is not waited for."""
        with self._read_lock, self._in_words():
            self._reader.execute("BEGIN")
            try:
                yield self._reader
            finally:
                self._reader.execute("COMMIT")

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """One change, whole or not at all, and in the file itself when this ends."""
        with self._write_lock:
            with self._in_words():
                self._keep_daily()
                self._writer.execute("BEGIN IMMEDIATE")
                try:
                    yield self._writer
                    self._writer.execute("COMMIT")
                except BaseException:
                    if self._writer.in_transaction:
                        self._writer.execute("ROLLBACK")
                    raise
            # the change is kept from here on, whatever becomes of the log
            self.behind = True
            self._empty_log()

    def _empty_log(self) -> None:
        """Put what the log holds into the file. Where another program reads, a later change does it."""
        with self._read_lock, suppress(sqlite3.Error):
            self._writer.execute(f"PRAGMA busy_timeout = {EMPTYING_PATIENCE_MS}")
            try:
                busy = self._writer.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
                self.behind = bool(busy)
            finally:
                self._writer.execute(f"PRAGMA busy_timeout = {self._patience_ms}")

    def _keep_daily(self) -> None:
        """Before the first change of a day, a copy of the store as it was; the change is made also without one."""
        day = self.now()[:10]
        if day == self._copied_on:
            return
        self._copied_on = day
        target = daily_copy(self.path, day)
        with self._read_lock:
            empty = self._reader.execute("SELECT 1 FROM piece").fetchone() is None
        if empty or target.exists():
            self.copy_fault = ""
            return
        try:
            keep_copy(self.path, target)
            self.copy_fault = ""
        except DamagedStore:
            raise
        except StoreFault as fault:
            self.copy_fault = "" if target.exists() else str(fault)

    @contextmanager
    def _in_words(self) -> Iterator[None]:
        try:
            yield
        except sqlite3.ProgrammingError:
            raise StoreFault("The workbench is being closed. Nothing was changed.") from None
        except sqlite3.OperationalError as fault:
            if "locked" in str(fault):
                raise StoreFault(
                    f"Another program is writing to {self.path} and does not end. Nothing was changed; try again."
                ) from None
            raise StoreFault(f"The pieces could not be read or written: {fault}. Nothing was changed.") from None
        except sqlite3.IntegrityError:
            raise
        except sqlite3.DatabaseError as fault:
            raise DamagedStore(self.path, str(fault)) from None


def _log_size(path: Path) -> int:
    try:
        return path.with_name(f"{path.name}-wal").stat().st_size if path.is_file() else 0
    except OSError:
        return 0


def _is_lone(path: Path) -> bool:
    """Whether this is what a copy holds of a store in use by version 0.1.0: one page, with nothing in it."""
    try:
        with path.open("rb") as file:
            head = file.read(8192)
    except OSError:
        return False
    return head.startswith(b"SQLite format 3\0") and len(head) == 4096 and head[18] == 2


def _left_words(path: Path, size: int, *, taken: bool) -> str:
    log = f"{path.name}-wal"
    if taken:
        return (
            f"The last program that used {path} did not end as it should: {size / 1000:.0f} kB of changes lay beside "
            f"it in {log}. They are in the file now; nothing is lost."
        )
    return (
        f"Another program has {path} open, and {size / 1000:.0f} kB of changes lie beside it in {log}. Until that "
        "program ends, copy both files together, or use `bossage backup`."
    )
