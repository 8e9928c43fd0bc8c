"""Pieces and their revisions. A change is appended, never written over; undo and redo only move the head.

Revisions of a piece form a tree: each knows the one it was made from, and the one that redo leads to. A change that
was made from a revision which is no longer the head is refused, and kept aside so that its maker can look at it and
take it.
"""

from __future__ import annotations

import secrets
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Self

from bossage.store.database import PATIENCE_S
from bossage.store.faults import NoSuchPiece, NotTheHead, NotYet
from bossage.store.kept_file import KeptFile
from bossage.store.records import PieceRow, Revision, RevisionRow
from bossage.store.rows import head_of, last_number, line_of, live, piece_row, revision_of, revision_row

HISTORY_MOST = 2000
Look = Callable[[Revision], object]
_ROW = "revision_n, parent_n, saved_at, words, name, seed, stamp, verdict, aside"


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What a plan of a brief says, kept beside it."""

    name: str
    seed: int
    stamp: str
    verdict: str


def utc_now() -> str:
    """This second, UTC, ISO 8601."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def trust(revision: Revision) -> None:
    """Keep it without a look."""


class Pieces:
    """The pieces of one file. Safe to use from several threads, and beside other programs that use the same file."""

    def __init__(self, path: Path, *, now: Callable[[], str] = utc_now, patience_s: float = PATIENCE_S) -> None:
        """Open the file, making it if it is not there.

        Args:
            path: The file.
            now: The clock: UTC to the second, by ISO 8601.
            patience_s: How long a change waits for another program that is writing.

        Raises:
            StoreFault: It cannot be used.
        """
        self.now = now
        self.file = KeptFile(path, now, patience_s)
        #: For the rooms of this store: one snapshot to read, and one change, whole or not at all.
        self.reading, self.writing = self.file.reading, self.file.writing

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *fault: object) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self.file.close()

    def all(self) -> tuple[PieceRow, ...]:
        """Every piece, the last changed first, those in the wastebasket too."""
        with self.reading() as db:
            rows = db.execute(
                "SELECT piece_id, name, revision_n, saved_at, discarded_at, verdict, stamp"
                " FROM piece JOIN revision USING (piece_id) WHERE revision_n = head_n"
                " ORDER BY saved_at DESC, made_at DESC, piece_id"
            ).fetchall()
        return tuple(
            PieceRow(
                piece_id=row["piece_id"],
                name=row["name"],
                revision_n=row["revision_n"],
                changed_at=row["saved_at"],
                discarded=row["discarded_at"] is not None,
                verdict=row["verdict"],
                stamp=row["stamp"],
            )
            for row in rows
        )

    def revision(self, piece_id: str, revision_n: int | None = None) -> Revision:
        """A revision with its brief; the head if no number is given.

        Raises:
            NoSuchPiece, NoSuchRevision: There is none.
        """
        with self.reading() as db:
            piece = piece_row(db, piece_id)
            return revision_of(db, piece, piece["head_n"] if revision_n is None else revision_n)

    def history(self, piece_id: str) -> tuple[RevisionRow, ...]:
        """The revisions of a piece, newest first, refused ones too.

        Raises:
            NoSuchPiece: There is none.
        """
        with self.reading() as db:
            piece_row(db, piece_id)
            rows = db.execute(
                f"SELECT {_ROW} FROM revision WHERE piece_id = ? ORDER BY revision_n DESC LIMIT ?",
                (piece_id, HISTORY_MOST),
            ).fetchall()
        return tuple(map(line_of, rows))

    def named(self, words: str) -> str:
        """The number of the piece that goes by a name or by its number, or by the beginning of either.

        Raises:
            NoSuchPiece: None does, or more than one.
        """
        wanted = words.strip().casefold()
        rows = [row for row in self.all() if not row.discarded]
        for fits in (
            lambda row: wanted in (row.piece_id, row.name.casefold()),
            lambda row: row.piece_id.startswith(wanted) or row.name.casefold().startswith(wanted),
        ):
            found = [row for row in rows if wanted and fits(row)]
            if len(found) == 1:
                return found[0].piece_id
            if found:
                several = ", ".join(f"{row.piece_id} ({row.name})" for row in found[:6])
                raise NoSuchPiece(f"More than one piece goes by '{words[:60]}': {several}. Say its number.")
        names = ", ".join(row.name for row in rows[:8]) or "none yet"
        raise NoSuchPiece(f"There is no piece '{words[:60]}'. There are: {names}. `bossage pieces` lists them.")

    def make(self, toml: str, facts: Facts, words: str, *, look: Look = trust) -> str:
        """A new piece with its first revision; its number.

        Args:
            toml: The brief.
            facts: What a plan of it says.
            words: What was done, for the history.
            look: Called with the revision before it is kept; what it raises is raised, and nothing is kept.
        """
        piece_id = secrets.token_hex(6)
        with self.writing() as db:
            db.execute("INSERT INTO piece (piece_id, made_at, head_n) VALUES (?, ?, 1)", (piece_id, self.now()))
            self._append(db, piece_id, 1, None, toml, facts, words)
            look(head_of(db, piece_id))
        return piece_id

    def save(self, piece_id: str, base_n: int, toml: str, facts: Facts, words: str, *, look: Look = trust) -> int:
        """Append a revision made from `base_n` and make it the head; its number. `look` as for `make`.

        Raises:
            NoSuchPiece, NoSuchRevision: There is none.
            NotTheHead: Another revision has become the head; this one is kept aside.
            NotYet: The piece lies in the wastebasket.
        """
        with self.writing() as db:
            piece = live(piece_row(db, piece_id))
            new_n = last_number(db, piece_id) + 1
            if piece["head_n"] != base_n:
                revision_row(db, piece_id, base_n)
                self._append(db, piece_id, new_n, base_n, toml, facts, words, aside=True)
            else:
                self._append(db, piece_id, new_n, base_n, toml, facts, words)
                db.execute(
                    "UPDATE revision SET next_n = ? WHERE piece_id = ? AND revision_n = ?", (new_n, piece_id, base_n)
                )
                db.execute("UPDATE piece SET head_n = ? WHERE piece_id = ?", (new_n, piece_id))
            look(revision_of(db, piece_row(db, piece_id), new_n))
        if piece["head_n"] != base_n:
            raise NotTheHead(piece["head_n"], new_n)
        return new_n

    def undo(self, piece_id: str, base_n: int) -> None:
        """Make the revision that the head was made from the head again; redo leads back.

        Raises:
            NoSuchPiece: There is none.
            NotTheHead: `base_n` is not the head.
            NotYet: There is nothing to undo, or the piece lies in the wastebasket.
        """
        with self.writing() as db:
            head = self._head(db, piece_id, base_n)
            if head["parent_n"] is None:
                raise NotYet("There is nothing to undo: this is how the piece began.")
            db.execute(
                "UPDATE revision SET next_n = ? WHERE piece_id = ? AND revision_n = ?",
                (base_n, piece_id, head["parent_n"]),
            )
            db.execute("UPDATE piece SET head_n = ? WHERE piece_id = ?", (head["parent_n"], piece_id))

    def redo(self, piece_id: str, base_n: int) -> None:
        """Take back the last undo.

        Raises:
            NoSuchPiece: There is none.
            NotTheHead: `base_n` is not the head.
            NotYet: Nothing was undone, or the piece lies in the wastebasket.
        """
        with self.writing() as db:
            head = self._head(db, piece_id, base_n)
            if head["next_n"] is None:
                raise NotYet("There is nothing to do again: nothing was undone here.")
            db.execute("UPDATE piece SET head_n = ? WHERE piece_id = ?", (head["next_n"], piece_id))

    def name_version(self, piece_id: str, name: str, revision_n: int) -> None:
        """Give a revision a name to be found by; the same name given again moves on.

        Raises:
            NoSuchPiece, NoSuchRevision: There is none.
        """
        with self.writing() as db:
            piece_row(db, piece_id)
            revision_row(db, piece_id, revision_n)
            db.execute(
                "INSERT INTO version (piece_id, name, revision_n, made_at) VALUES (?, ?, ?, ?)"
                " ON CONFLICT (piece_id, name)"
                " DO UPDATE SET revision_n = excluded.revision_n, made_at = excluded.made_at",
                (piece_id, name, revision_n, self.now()),
            )

    def discard(self, piece_id: str) -> None:
        """Put a piece into the wastebasket; nothing is lost.

        Raises:
            NoSuchPiece: There is none.
        """
        with self.writing() as db:
            piece_row(db, piece_id)
            db.execute(
                "UPDATE piece SET discarded_at = coalesce(discarded_at, ?) WHERE piece_id = ?", (self.now(), piece_id)
            )

    def recover(self, piece_id: str) -> None:
        """Take a piece out of the wastebasket.

        Raises:
            NoSuchPiece: There is none.
        """
        with self.writing() as db:
            piece_row(db, piece_id)
            db.execute("UPDATE piece SET discarded_at = NULL WHERE piece_id = ?", (piece_id,))

    def empty(self, piece_id: str) -> None:
        """Lose a piece that lies in the wastebasket, with all its history; the only way to lose one.

        Raises:
            NoSuchPiece: There is none.
            NotYet: It does not lie in the wastebasket.
        """
        with self.writing() as db:
            if piece_row(db, piece_id)["discarded_at"] is None:
                raise NotYet("Only what lies in the wastebasket can be thrown away for good.")
            db.execute("DELETE FROM piece WHERE piece_id = ?", (piece_id,))

    def _head(self, db: sqlite3.Connection, piece_id: str, base_n: int) -> sqlite3.Row:
        piece = live(piece_row(db, piece_id))
        if piece["head_n"] != base_n:
            raise NotTheHead(piece["head_n"], None)
        return revision_row(db, piece_id, base_n)

    def _append(
        self,
        db: sqlite3.Connection,
        piece_id: str,
        revision_n: int,
        parent_n: int | None,
        toml: str,
        facts: Facts,
        words: str,
        *,
        aside: bool = False,
    ) -> None:
        db.execute(
            "INSERT INTO revision"
            " (piece_id, revision_n, parent_n, aside, saved_at, words, name, seed, stamp, verdict, toml)"
            " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            (
                piece_id,
                revision_n,
                parent_n,
                int(aside),
                self.now(),
                words,
                facts.name,
                facts.seed,
                facts.stamp,
                facts.verdict,
                toml,
            ),
        )
