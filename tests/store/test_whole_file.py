"""The one file holds everything whenever no change is in hand, whoever copies it and however its last user ended."""

from __future__ import annotations

import os
import shutil
import sqlite3
import threading
import time
from pathlib import Path

import pytest

from bossage.store import Photos, Pieces, StoreFault, export_piece, import_piece
from tests.store.pictures import jpeg
from tests.store.writer import FACTS, text_of

KEPT = Path(__file__).parent.parent / "kept" / "version_0_1_0"


def alone(path: Path, into: Path) -> Pieces:
    """The pieces of a copy of that one file, as a backup program makes one."""
    into.mkdir()
    shutil.copy(path, into / path.name)
    return Pieces(into / path.name)


def test_a_copy_of_the_one_file_holds_all_that_was_acknowledged(tmp_path: Path) -> None:
    path = tmp_path / "pieces.sqlite"
    with Pieces(path) as pieces:
        piece_id = pieces.make(text_of(1), FACTS, "begin")
        Photos(pieces).keep(piece_id, image=jpeg(40, 30), width_px=40, height_px=30, points={})
        for number in range(2, 12):
            pieces.save(piece_id, number - 1, text_of(number), FACTS, f"save {number}")
            with alone(path, tmp_path / f"copy-{number}") as copy:
                assert copy.revision(piece_id).toml == text_of(number)
        other = import_piece(pieces, export_piece(pieces, piece_id))
        pieces.undo(piece_id, 11)
        pieces.name_version(piece_id, "for Ada", 3)
        with alone(path, tmp_path / "last") as copy:
            assert copy.revision(piece_id).redo_words == "save 11"
            assert copy.revision(piece_id).versions[0].name == "for Ada"
            assert len(copy.history(other)) == 11
            assert len(Photos(copy).of_piece(other)) == 1


def test_a_program_that_reads_does_not_hold_a_save_up_and_the_file_catches_up(tmp_path: Path) -> None:
    path = tmp_path / "pieces.sqlite"
    with Pieces(path) as pieces:
        piece_id = pieces.make("1", FACTS, "begin")
        reader = sqlite3.connect(path, isolation_level=None)
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM piece").fetchone()
        pieces.save(piece_id, 1, "2", FACTS, "while another reads")
        assert pieces.revision(piece_id).toml == "2"
        reader.execute("COMMIT")
        reader.close()
        pieces.save(piece_id, 2, "3", FACTS, "afterwards")
        with alone(path, tmp_path / "copy") as copy:
            assert copy.revision(piece_id).toml == "3"


@pytest.mark.parametrize("lock", ["IMMEDIATE", "EXCLUSIVE"])
def test_reads_wait_for_no_program_that_writes(tmp_path: Path, lock: str, monkeypatch: pytest.MonkeyPatch) -> None:
    with Pieces(tmp_path / "pieces.sqlite", patience_s=0.5) as pieces:
        piece_id = pieces.make("1", FACTS, "begin")
        other = sqlite3.connect(pieces.file.path, isolation_level=None)
        other.execute(f"BEGIN {lock}")
        other.execute("UPDATE piece SET made_at = ''")
        refused: list[str] = []

        def save() -> None:
            with pytest.raises(StoreFault, match="Another program is writing") as fault:
                pieces.save(piece_id, 1, "2", FACTS, "save")
            refused.append(str(fault.value))

        waiting = threading.Thread(target=save)
        waiting.start()
        while waiting.is_alive():
            assert pieces.revision(piece_id).toml == "1"
            time.sleep(0.01)
            if len(refused) == 0:
                # the change still waits, and this read has not
                other.execute("UPDATE piece SET made_at = 'x'")
        waiting.join()
        assert refused
        other.execute("ROLLBACK")
        assert pieces.save(piece_id, 1, "2", FACTS, "save") == 2


def test_opening_says_what_lay_beside_the_file(tmp_path: Path) -> None:
    for name in ("pieces.sqlite", "pieces.sqlite-wal"):
        shutil.copy(KEPT / "left_open" / name, tmp_path / name)
    with Pieces(tmp_path / "pieces.sqlite") as pieces:
        (note,) = pieces.file.notes
        assert "74 kB of changes lay beside it in pieces.sqlite-wal. They are in the file now" in note
        with alone(pieces.file.path, tmp_path / "copy") as copy:
            assert copy.all() == pieces.all()
            assert copy.file.notes == ()
    with Pieces(tmp_path / "pieces.sqlite") as pieces:
        assert pieces.file.notes == ()


def test_a_lone_copy_of_a_store_in_use_by_version_0_1_0_is_told_apart_from_a_new_one(tmp_path: Path) -> None:
    old = sqlite3.connect(tmp_path / "old.sqlite", isolation_level=None)
    old.execute("PRAGMA journal_mode = WAL")
    old.execute("CREATE TABLE piece (a)")
    shutil.copy(tmp_path / "old.sqlite", tmp_path / "lone.sqlite")
    assert os.path.getsize(tmp_path / "lone.sqlite") == 4096
    with Pieces(tmp_path / "lone.sqlite") as pieces:
        assert "in use by version 0.1.0" in pieces.file.notes[0]
    with Pieces(tmp_path / "new.sqlite") as pieces:
        assert pieces.file.notes == ()
    old.close()


def test_a_store_that_is_being_closed_refuses_in_words(tmp_path: Path) -> None:
    pieces = Pieces(tmp_path / "pieces.sqlite")
    piece_id = pieces.make("1", FACTS, "begin")
    pieces.close()
    with pytest.raises(StoreFault, match="is being closed"):
        pieces.save(piece_id, 1, "2", FACTS, "late")
    with pytest.raises(StoreFault, match="is being closed"):
        pieces.all()
    assert [path.name for path in tmp_path.iterdir()] == ["pieces.sqlite"]
