"""Copies of the file of pieces: kept by themselves beside it, made when asked for, and put back.

A copy is made by SQLite's online backup, so it is whole whoever writes meanwhile. It is looked through before it gets
its name, and it never takes the place of a file that is there.
"""

from __future__ import annotations

import os
import re
import sqlite3
import tempfile
from collections.abc import Callable
from contextlib import closing, suppress
from dataclasses import dataclass
from pathlib import Path

from bossage.store.database import READ_PATIENCE_S, has_log, look_through, open_database, open_reader
from bossage.store.faults import DamagedStore, StoreFault
from bossage.system import flush

KEPT = 10  # copies that were kept by themselves
TABLES = ("piece", "revision", "version", "photo")
_BUSY_MOST = 80  # tries, a quarter of a second each, while another program writes


class NotCopied(StoreFault):
    """A copy that could not be made or put back, and why; what was there is as it was."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Restored:
    """What came of putting a copy back: where the store as it was is kept; None where there was none."""

    pieces: int
    kept: Path | None
    damaged: bool


def copies_folder(store: Path) -> Path:
    """Where the copies of a file of pieces lie."""
    return store.parent / f"{store.stem}-copies"


def kept_copies(store: Path) -> tuple[Path, ...]:
    """The copies that were kept by themselves, the newest first."""
    ours = re.compile(rf"{re.escape(store.stem)}-\d{{4}}-\d\d-\d\d(T\d{{6}}Z-[a-z0-9-]+)?\.sqlite")
    try:
        found = [path for path in copies_folder(store).iterdir() if ours.fullmatch(path.name)]
    except OSError:
        return ()
    return tuple(sorted(found, reverse=True))


def daily_copy(store: Path, day: str) -> Path:
    """Where the copy of a day is kept. `day` by ISO 8601."""
    return copies_folder(store) / f"{store.stem}-{day}.sqlite"


def keep_copy(store: Path, target: Path) -> Path:
    """Keep a copy among those beside the store, and lose the oldest where there are more than are kept.

    Raises:
        NotCopied: It cannot be made.
    """
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise NotCopied(f"No copy can be kept in {target.parent}: {fault.strerror or fault}.") from None
    copy_store(store, target)
    for path in kept_copies(store)[KEPT:]:
        if path != target:
            with suppress(OSError):  # Windows takes away no file that somebody looks at; a later copy does
                path.unlink(missing_ok=True)
    return target


def keep_marked(store: Path, now: str, why: str) -> Path:
    """Keep a copy for a reason, such as `before-restore`. `now` by ISO 8601 to the second, UTC.

    A second copy of the same second and reason gets a number: an upgrade that was ended is begun anew at once.
    """
    moment = now.replace(":", "")
    names = (f"{store.stem}-{moment}-{why}{number}.sqlite" for number in ("", *(f"-{n}" for n in range(2, 1000))))
    targets = (copies_folder(store) / name for name in names)
    return keep_copy(store, next(target for target in targets if not os.path.lexists(target)))


def copy_store(store: Path, target: Path) -> None:
    """A copy of a file of pieces, checked after it is written, under a name that nothing has yet.

    Raises:
        NotCopied: There is a file of that name, no store, or the disk refuses.
        DamagedStore: The store is damaged.
    """
    if os.path.lexists(target):
        raise NotCopied(f"{target} is there already, and a copy takes no other file's place. Name a new file.")
    if not store.is_file():
        raise NotCopied(f"There is no file of pieces {store}.")
    half: Path | None = None
    try:
        half = _passing(target)
        # without a journal of its own a copy is one plain file, to be carried anywhere
        look_through(store)
        with closing(_in_use(store)) as source, closing(sqlite3.connect(half, isolation_level=None)) as copy:
            source.backup(copy, pages=256, sleep=0.25, progress=_patient())
            copy.execute("PRAGMA journal_mode = DELETE")
            counted = _counts(source)
        look_through(half, thoroughly=True)
        with closing(open_reader(half, still=True)) as copy:
            if any(made < had for made, had in zip(_counts(copy), counted, strict=True)):
                raise NotCopied("The copy holds less than the store. It was thrown away; try again.")
        _flush(half)
        _give_name(half, target)
    except DamagedStore as fault:
        raise fault if fault.path == store else DamagedStore(store, str(fault)) from None
    except (OSError, sqlite3.Error) as fault:
        raise NotCopied(f"The pieces cannot be copied to {target}: {fault}. Nothing was changed.") from None
    finally:
        _forget(half)


def restore(copy: Path, store: Path, *, now: Callable[[], str]) -> Restored:
    """Put a copy in the place of the store; the store as it was is kept beside.

    A sound store is filled from the copy in one transaction, so that a workbench that is open on it sees the copy's
    pieces. A damaged one is renamed and never written to.

    Raises:
        NotCopied: The copy cannot be put back, or is the store itself.
        StoreFault, DamagedStore: The copy is no file of pieces, or is damaged.
    """
    if not copy.is_file():
        raise NotCopied(f"There is no file {copy}. `bossage restore` lists the copies that were kept.")
    if store.exists() and copy.samefile(store):
        raise NotCopied(f"{copy} is the store itself. Name a copy.")
    look_through(copy, thoroughly=True)
    ready: Path | None = None
    try:
        store.parent.mkdir(parents=True, exist_ok=True)
        ready = _passing(store)
        with (
            closing(open_reader(copy, still=not has_log(copy))) as source,
            closing(sqlite3.connect(ready, isolation_level=None)) as made,
        ):
            source.backup(made, progress=_patient())
        with closing(open_database(ready)) as made:  # a copy of an earlier version is brought up to date
            made.execute("PRAGMA journal_mode = DELETE")
            pieces: int = made.execute("SELECT count(*) FROM piece").fetchone()[0]
        kept, damaged = _make_way(ready, store, now())
    except (OSError, sqlite3.Error) as fault:
        raise NotCopied(f"{copy} cannot be put back: {fault}. Nothing was changed.") from None
    finally:
        _forget(ready)
    return Restored(pieces=pieces, kept=kept, damaged=damaged)


def _make_way(ready: Path, store: Path, now: str) -> tuple[Path | None, bool]:
    """Put what is ready into the store's place; where the store as it was is kept, and whether it was damaged."""
    if not store.exists():
        _flush(ready)
        _give_name(ready, store)
        return None, False
    try:
        look_through(store)
        kept = keep_marked(store, now, "before-restore")
    except StoreFault:
        kept = store.with_name(f"{store.stem}-{now.replace(':', '')}-damaged{store.suffix}")
        if os.path.lexists(kept):
            raise NotCopied(f"{kept} is there already. Try again in a second.") from None
        _flush(ready)
        for end in ("-wal", "-shm", ""):
            part = store.with_name(store.name + end)
            if part.exists():
                part.rename(kept.with_name(kept.name + end))
        _give_name(ready, store)
        return kept, True
    with closing(open_reader(ready)) as source, closing(open_database(store)) as target:
        source.backup(target, progress=_patient())
        target.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return kept, False


def _in_use(store: Path) -> sqlite3.Connection:
    """A connection to a sound store that others may be writing to, which leaves nothing beside it when it is closed."""
    connection = sqlite3.connect(store, timeout=READ_PATIENCE_S, isolation_level=None)
    try:
        connection.execute("PRAGMA query_only = ON")
        connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    except sqlite3.OperationalError:
        # a folder that can only be read: nobody writes there
        connection.close()
        return open_reader(store, still=not has_log(store))
    return connection


def _patient() -> Callable[[int, int, int], None]:
    """Python's backup tries for ever where the file is locked; this ends it after a while."""
    waits = 0

    def progress(status: int, remaining: int, total: int) -> None:
        nonlocal waits
        waits = waits + 1 if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED) else 0
        if waits > _BUSY_MOST:
            raise sqlite3.OperationalError("another program is writing")

    return progress


def _counts(connection: sqlite3.Connection) -> list[int]:
    there = {row[0] for row in connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}
    return [connection.execute(f"SELECT count(*) FROM {name}").fetchone()[0] if name in there else 0 for name in TABLES]


def _passing(target: Path) -> Path:
    """A new empty file beside the target, whose name nobody takes for a store."""
    handle, name = tempfile.mkstemp(prefix=f".{target.stem}-", suffix=".half", dir=target.parent)
    os.close(handle)
    return Path(name)


def _flush(path: Path) -> None:
    handle = os.open(path, os.O_RDWR)
    try:
        flush(handle)
    finally:
        os.close(handle)


def _give_name(half: Path, target: Path) -> None:
    """The file under its own name, unless there is one of that name."""
    try:
        os.link(half, target)  # refuses a name that is taken, which a rename does not
    except FileExistsError:
        raise NotCopied(f"{target} is there already, and a copy takes no other file's place.") from None
    except OSError:
        # a disk that knows no second names
        if os.path.lexists(target):
            raise NotCopied(f"{target} is there already, and a copy takes no other file's place.") from None
        half.rename(target)


def _forget(half: Path | None) -> None:
    if half is not None:
        for end in ("", "-wal", "-shm", "-journal"):
            half.with_name(half.name + end).unlink(missing_ok=True)
