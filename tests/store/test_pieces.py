from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from bossage.store import (
    Facts,
    NoSuchPiece,
    NoSuchRevision,
    NotTheHead,
    NotYet,
    Photos,
    Pieces,
    StoreFault,
    export_piece,
    import_piece,
    open_database,
)
from bossage.store.carry import NotAPiece
from bossage.store.database import STEPS, VERSION

FACTS = Facts(name="Gate", seed=1, stamp="aaaa-0001", verdict="fine")
HERE = Path(__file__).parent


@pytest.fixture
def pieces(tmp_path: Path) -> Iterator[Pieces]:
    with Pieces(tmp_path / "pieces.sqlite") as opened:
        yield opened


def test_a_revision_is_what_was_saved(pieces: Pieces) -> None:
    piece_id = pieces.make("a = 1  # kept\r\n", FACTS, "begin")
    pieces.save(piece_id, 1, "a = 2", replace(FACTS, seed=9, verdict="stop"), "change a")
    found = pieces.revision(piece_id)
    assert (found.toml, found.row.seed, found.row.verdict, found.undo_words) == ("a = 2", 9, "stop", "change a")
    assert pieces.revision(piece_id, 1).toml == "a = 1  # kept\r\n"
    with pytest.raises(NoSuchRevision):
        pieces.revision(piece_id, 3)
    with pytest.raises(NoSuchPiece):
        pieces.revision("0" * 12)


def test_a_late_save_is_refused_and_kept(pieces: Pieces) -> None:
    piece_id = pieces.make("1", FACTS, "begin")
    pieces.save(piece_id, 1, "2", FACTS, "mine")
    with pytest.raises(NotTheHead) as refused:
        pieces.save(piece_id, 1, "3", FACTS, "theirs")
    assert (refused.value.theirs_n, refused.value.mine_n) == (2, 3)
    assert pieces.revision(piece_id).toml == "2"
    kept = pieces.revision(piece_id, 3)
    assert (kept.toml, kept.row.aside, kept.row.parent_n) == ("3", True, 1)
    with pytest.raises(NotTheHead):
        pieces.undo(piece_id, 3)
    with pytest.raises(NoSuchRevision):
        pieces.save(piece_id, 7, "4", FACTS, "from nowhere")


def test_a_change_after_an_undo_keeps_the_other_way(pieces: Pieces) -> None:
    piece_id = pieces.make("1", FACTS, "begin")
    pieces.save(piece_id, 1, "2", FACTS, "a")
    pieces.undo(piece_id, 2)
    assert pieces.revision(piece_id).redo_words == "a"
    assert pieces.save(piece_id, 1, "3", FACTS, "b") == 3
    with pytest.raises(NotYet):
        pieces.redo(piece_id, 3)
    assert pieces.revision(piece_id, 2).toml == "2"
    pieces.undo(piece_id, 3)
    with pytest.raises(NotYet):
        pieces.undo(piece_id, 1)
    pieces.redo(piece_id, 1)
    assert pieces.revision(piece_id).toml == "3"


def test_pieces_are_found_by_name_or_number(pieces: Pieces) -> None:
    one = pieces.make("1", replace(FACTS, name="Stair foot"), "begin")
    pieces.make("1", replace(FACTS, name="Stair head"), "begin")
    gone = pieces.make("1", replace(FACTS, name="Gate"), "begin")
    pieces.discard(gone)
    assert pieces.named("stair foot") == pieces.named("Stair f") == pieces.named(one[:8]) == one
    for words in ("Stair", "Gate", "", "  "):
        with pytest.raises(NoSuchPiece):
            pieces.named(words)


def test_threads_do_not_trip_over_one_another(pieces: Pieces) -> None:
    piece_id = pieces.make("0", FACTS, "begin")
    kept: list[int] = []

    def save(number: int) -> None:
        try:
            kept.append(pieces.save(piece_id, 1, str(number), FACTS, "x"))
        except NotTheHead as refused:
            kept.append(refused.mine_n or 0)

    threads = [threading.Thread(target=save, args=(number,)) for number in range(16)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(kept) == list(range(2, 18))
    assert sum(not row.aside for row in pieces.history(piece_id)) == 2


def test_two_programs_share_one_file(tmp_path: Path) -> None:
    path = tmp_path / "pieces.sqlite"
    with Pieces(path) as one, Pieces(path) as other:
        piece_id = one.make("1", FACTS, "begin")
        assert other.save(piece_id, 1, "2", FACTS, "other") == 2
        with pytest.raises(NotTheHead):
            one.save(piece_id, 1, "3", FACTS, "one")
        assert one.revision(piece_id).toml == "2"


def schema_of(connection: sqlite3.Connection) -> set[str]:
    return {" ".join(row[0].split()) for row in connection.execute("SELECT sql FROM sqlite_schema WHERE sql NOT NULL")}


@pytest.mark.parametrize("version", range(1, VERSION))
def test_a_file_of_an_earlier_version_is_brought_up(tmp_path: Path, version: int) -> None:
    path = tmp_path / "old.sqlite"
    old = sqlite3.connect(path)
    old.executescript((HERE / f"version-{version}.sql").read_text(encoding="utf-8"))
    # what is kept as a file is what the steps made then
    made = sqlite3.connect(":memory:")
    for step in STEPS[:version]:
        for statement in step:
            made.execute(statement)
    assert schema_of(old) == schema_of(made)
    old.close()
    with Pieces(path) as pieces:
        piece_id = "0123456789ab"
        found = pieces.revision(piece_id)
        assert (found.toml, found.redo_words) == ("one = 1  # the first", "draw again")
        assert [(v.name, v.revision_n) for v in found.versions] == [("for Ada", 1)]
        assert [row.aside for row in pieces.history(piece_id)] == [True, False, False]
        pieces.redo(piece_id, 1)
        assert pieces.save(piece_id, 2, "one = 4", FACTS, "go on") == 4
        Photos(pieces).keep(piece_id, image=b"x", width_px=1, height_px=1, points={})
    new, now = open_database(tmp_path / "new.sqlite"), open_database(path)
    assert schema_of(new) == schema_of(now)
    assert now.execute("PRAGMA foreign_key_check").fetchall() == []


def test_the_file_is_told_to_keep_what_it_acknowledged(tmp_path: Path) -> None:
    database = open_database(tmp_path / "new.sqlite")
    told = {
        name: database.execute(f"PRAGMA {name}").fetchone()[0]
        for name in ("journal_mode", "synchronous", "foreign_keys", "fullfsync", "checkpoint_fullfsync")
    }
    assert told == {
        **{"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1},
        **{"fullfsync": 1, "checkpoint_fullfsync": 1},
    }
    tables = [
        row
        for row in database.execute("PRAGMA table_list")
        if row["type"] == "table" and row["name"] != "sqlite_schema"
    ]
    assert len([row for row in tables if row["strict"]]) == 4


def test_foreign_and_later_files_are_refused_untouched(tmp_path: Path) -> None:
    foreign = tmp_path / "foreign.sqlite"
    other = sqlite3.connect(foreign)
    other.execute("CREATE TABLE theirs (a)")
    other.commit()
    other.close()
    later = tmp_path / "later.sqlite"
    open_database(later).execute(f"PRAGMA user_version = {VERSION + 1}")
    broken = tmp_path / "broken.sqlite"
    broken.write_bytes(b"this is no database, but it is long enough to look like one " * 40)
    folder = tmp_path / "folder"
    folder.mkdir()
    for path in (foreign, later, broken, folder):
        before = path.read_bytes() if path.is_file() else b""
        with pytest.raises(StoreFault, match="--store"):
            Pieces(path)
        assert not path.is_file() or path.read_bytes() == before


def test_a_full_disk_is_told_and_nothing_is_half_saved(pieces: Pieces) -> None:
    piece_id = pieces.make("1", FACTS, "begin")
    with pieces.writing() as db:
        pages = db.execute("PRAGMA page_count").fetchone()[0]
        db.execute(f"PRAGMA max_page_count = {pages}")
    with pytest.raises(StoreFault, match="Nothing was changed"):
        pieces.save(piece_id, 1, "x" * 100_000, FACTS, "too much")
    assert len(pieces.history(piece_id)) == 1
    with pieces.writing() as db:
        db.execute("PRAGMA max_page_count = 1000000")
    assert pieces.save(piece_id, 1, "x" * 100_000, FACTS, "now") == 2


def test_a_file_with_photos_comes_back_whole(pieces: Pieces) -> None:
    from tests.store.pictures import jpeg

    photos = Photos(pieces)
    piece_id = pieces.make("a = 1", FACTS, "begin")
    points = {"points_px": [[0.0, 1.0]] * 4, "places_mm": [[2.0, 3.5]] * 4}
    photo_id = photos.keep(piece_id, image=jpeg(20, 10), width_px=20, height_px=10, points=points)
    other = import_piece(pieces, export_piece(pieces, piece_id))
    (taken,) = photos.of_piece(other)
    kept = photos.photo(taken)
    assert (kept.width_px, kept.height_px, kept.points) == (20, 10, points)
    photos.forget(photo_id)
    assert photos.of_piece(piece_id) == ()
    pieces.discard(other)
    pieces.empty(other)
    with pytest.raises(NoSuchPiece):
        photos.photo(taken)


@pytest.mark.parametrize("data", [b"", b"{}", b"[]", b"\xff", b"[" * 100_000, b'{"format": "bossage.piece/1"}'])
def test_what_is_no_piece_is_refused(pieces: Pieces, data: bytes) -> None:
    with pytest.raises(NotAPiece):
        import_piece(pieces, data)
    assert pieces.all() == ()


class Life(RuleBasedStateMachine):
    """Any row of saves, undos, redos and restarts does to the store what it does to two plain lists."""

    def __init__(self) -> None:
        super().__init__()
        import tempfile

        self.folder = tempfile.TemporaryDirectory()
        self.path = Path(self.folder.name) / "pieces.sqlite"
        self.pieces = Pieces(self.path)
        self.piece_id = self.pieces.make("1", FACTS, "1")
        self.parent: dict[int, int | None] = {1: None}
        self.onward: dict[int, int] = {}
        self.head, self.last = 1, 1

    @rule(stale=st.booleans())
    def save(self, stale: bool) -> None:
        base = 1 if stale else self.head
        self.last += 1
        if base == self.head:
            assert self.pieces.save(self.piece_id, base, str(self.last), FACTS, str(self.last)) == self.last
            self.parent[self.last], self.onward[base], self.head = base, self.last, self.last
        else:
            with pytest.raises(NotTheHead):
                self.pieces.save(self.piece_id, base, str(self.last), FACTS, str(self.last))

    @precondition(lambda self: self.parent[self.head] is not None)
    @rule()
    def undo(self) -> None:
        self.pieces.undo(self.piece_id, self.head)
        before = self.parent[self.head]
        assert before is not None
        self.onward[before], self.head = self.head, before

    @precondition(lambda self: self.head in self.onward)
    @rule()
    def redo(self) -> None:
        self.pieces.redo(self.piece_id, self.head)
        self.head = self.onward[self.head]

    @rule()
    def restart(self) -> None:
        self.pieces.close()
        self.pieces = Pieces(self.path)

    @invariant()
    def agrees(self) -> None:
        found = self.pieces.revision(self.piece_id)
        assert (found.head_n, found.toml) == (self.head, str(self.head))
        assert (found.undo_words is not None) == (self.parent[self.head] is not None)
        assert found.redo_words == (str(self.onward[self.head]) if self.head in self.onward else None)
        assert len(self.pieces.history(self.piece_id)) == self.last

    def teardown(self) -> None:
        self.pieces.close()
        self.folder.cleanup()


TestLife: Any = Life.TestCase
TestLife.settings = settings(max_examples=10, stateful_step_count=20, deadline=None)
