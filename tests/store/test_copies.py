"""Copies of the store: kept by themselves, made when asked for, put back; and what is taken out of a damaged one."""

from __future__ import annotations

import random
import shutil
import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest

from bossage.cli import main
from bossage.store import (
    DamagedStore,
    NotCopied,
    NothingToRescue,
    Photos,
    Pieces,
    StoreFault,
    copies_folder,
    copy_store,
    kept_copies,
    look_through,
    rescue,
    restore,
)
from bossage.store.copies import KEPT, keep_copy, keep_marked
from tests.store.pictures import jpeg
from tests.store.writer import FACTS, text_of

HERE = Path(__file__).parent
NOON = "2027-05-01T12:00:00Z"


class Clock:
    """A day that a test moves on."""

    def __init__(self) -> None:
        self.day = 1

    def __call__(self) -> str:
        return f"2027-03-{self.day:02d}T12:00:00Z"


def test_a_copy_is_kept_before_the_first_change_of_a_day_and_ten_of_them(tmp_path: Path) -> None:
    clock, path = Clock(), tmp_path / "pieces.sqlite"
    with Pieces(path, now=clock) as pieces:
        piece_id = pieces.make(text_of(1), FACTS, "begin")
        assert kept_copies(path) == ()  # there was nothing to copy
        pieces.save(piece_id, 1, text_of(2), FACTS, "same day")
        for number in range(2, 17):
            clock.day = number
            pieces.save(piece_id, number, text_of(number + 1), FACTS, "next day")
            pieces.undo(piece_id, number + 1)
            pieces.redo(piece_id, number)
        mine = copies_folder(path) / "my own notes.txt"
        mine.write_text("mine")
        clock.day = 17
        pieces.save(piece_id, 17, text_of(18), FACTS, "one more day")
        assert pieces.file.copy_fault == ""
    kept = kept_copies(path)
    assert [copy.name for copy in kept] == [f"pieces-2027-03-{day:02d}.sqlite" for day in range(17, 7, -1)]
    assert len(kept) == KEPT
    assert mine.exists()
    assert sorted(p.name for p in copies_folder(path).iterdir()) == sorted([*(c.name for c in kept), mine.name])
    with Pieces(kept[0]) as copy:
        # as it was in the evening before
        assert copy.revision(piece_id).toml == text_of(17)


def test_a_copy_that_cannot_be_kept_hinders_no_change(tmp_path: Path) -> None:
    clock, path = Clock(), tmp_path / "pieces.sqlite"
    with Pieces(path, now=clock) as pieces:
        piece_id = pieces.make("1", FACTS, "begin")
        copies_folder(path).write_text("a file where the folder would be")
        clock.day = 2
        assert pieces.save(piece_id, 1, "2", FACTS, "save") == 2
        assert "No copy can be kept" in pieces.file.copy_fault


def test_an_old_copy_that_somebody_looks_at_hinders_no_change(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Windows takes away no file that another program has open."""
    store = tmp_path / "pieces.sqlite"
    with Pieces(store):
        pass
    copies = [copies_folder(store) / f"pieces-2026-01-{day:02}.sqlite" for day in range(1, KEPT + 2)]
    for path in copies[:-1]:
        keep_copy(store, path)

    def refuse(path: Path, missing_ok: bool = False) -> None:
        raise PermissionError(path)

    with monkeypatch.context() as held:
        real = Path.unlink
        held.setattr(Path, "unlink", lambda path, **words: (refuse if path == copies[0] else real)(path, **words))
        assert keep_copy(store, copies[-1]) == copies[-1]
    assert sorted(kept_copies(store)) == copies
    keep_copy(store, copies_folder(store) / "pieces-2026-02-01.sqlite")
    assert copies[0] not in kept_copies(store)


def test_a_store_is_copied_before_it_is_upgraded(tmp_path: Path) -> None:
    path = tmp_path / "old.sqlite"
    old = sqlite3.connect(path)
    old.executescript((HERE / "version-1.sql").read_text(encoding="utf-8"))
    old.close()
    with Pieces(path, now=lambda: NOON) as pieces:
        (note,) = pieces.file.notes
    (copy,) = kept_copies(path)
    assert copy.name == "old-2027-05-01T120000Z-before-version-2.sqlite"
    assert str(copy) in note
    assert look_through(copy, thoroughly=True) == 1
    done = restore(copy, tmp_path / "back.sqlite", now=lambda: NOON)
    assert (done.pieces, done.kept) == (1, None)
    assert look_through(tmp_path / "back.sqlite") == 2
    assert look_through(copy) == 1


def test_an_upgrade_that_was_ended_is_begun_anew_in_the_same_second(tmp_path: Path) -> None:
    path = tmp_path / "old.sqlite"
    old = sqlite3.connect(path)
    old.executescript((HERE / "version-1.sql").read_text(encoding="utf-8"))
    old.close()
    # the copy was kept, and then the program was ended
    kept = [keep_marked(path, NOON, "before-version-2") for _ in range(2)]
    with Pieces(path, now=lambda: NOON) as pieces:
        (note,) = pieces.file.notes
    assert [copy.name for copy in sorted(kept_copies(path))] == [
        "old-2027-05-01T120000Z-before-version-2-2.sqlite",
        "old-2027-05-01T120000Z-before-version-2-3.sqlite",
        "old-2027-05-01T120000Z-before-version-2.sqlite",
    ]
    assert "before-version-2-3.sqlite" in note
    assert all(look_through(copy) == 1 for copy in kept)


def test_an_upgrade_without_room_for_a_copy_is_refused_and_changes_nothing(tmp_path: Path) -> None:
    path = tmp_path / "old.sqlite"
    old = sqlite3.connect(path)
    old.executescript((HERE / "version-1.sql").read_text(encoding="utf-8"))
    old.close()
    copies_folder(path).write_text("a file where the folder would be")
    before = path.read_bytes()
    with pytest.raises(NotCopied, match="No copy can be kept"):
        Pieces(path)
    assert path.read_bytes() == before


def test_backup_and_restore_while_the_workbench_is_open(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, out = tmp_path / "pieces.sqlite", tmp_path / "elsewhere" / "backup.sqlite"
    out.parent.mkdir()
    at = ["--store", str(path)]
    with Pieces(path) as pieces:
        piece_id = pieces.make(text_of(1), FACTS, "begin")
        Photos(pieces).keep(piece_id, image=jpeg(40, 30), width_px=40, height_px=30, points={})
        assert main(["backup", "--out", str(out), *at]) == 0
        assert "was read through" in capsys.readouterr().out
        saved = out.read_bytes()
        pieces.save(piece_id, 1, text_of(2), FACTS, "after the backup")
        assert main(["backup", "--out", str(out), *at]) == 2
        assert "takes no other file's place" in capsys.readouterr().err
        assert out.read_bytes() == saved
        assert main(["restore", str(out), *at]) == 0
        said = capsys.readouterr().out
        # the open workbench sees what was put back, and goes on from there
        assert len(pieces.history(piece_id)) == 1
        assert pieces.save(piece_id, 1, text_of(3), FACTS, "go on") == 2
        (kept,) = kept_copies(path)
        assert str(kept) in said
        assert kept.name.endswith("Z-before-restore.sqlite")
        with Pieces(kept) as before:
            assert before.revision(piece_id).toml == text_of(2)
    assert [p.name for p in out.parent.iterdir()] == ["backup.sqlite"]
    assert main(["restore", *at]) == 0
    assert capsys.readouterr().out == f"{kept}\n"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["elsewhere", "pieces-copies", "pieces.sqlite"]


def test_only_a_sound_copy_is_put_back(tmp_path: Path) -> None:
    path = tmp_path / "pieces.sqlite"
    with Pieces(path) as pieces:
        pieces.make(text_of(1), FACTS, "begin")
    before = path.read_bytes()
    foreign, damaged = tmp_path / "foreign.sqlite", tmp_path / "damaged.sqlite"
    sqlite3.connect(foreign).execute("CREATE TABLE theirs (a)")
    data = bytearray(before)
    data[4096 * 2 : 4096 * 4] = b"\xff" * (4096 * 2)
    damaged.write_bytes(data)
    for copy in (foreign, damaged, tmp_path / "none.sqlite", path):
        with pytest.raises(StoreFault):
            restore(copy, path, now=lambda: NOON)
    with pytest.raises(NotCopied, match="There is no file of pieces"):
        copy_store(tmp_path / "none.sqlite", tmp_path / "out.sqlite")
    assert path.read_bytes() == before
    assert not copies_folder(path).exists()


def damage(path: Path, rng: random.Random, pages: int) -> None:
    """Some pages after the first are overwritten, as by a disk that fails."""
    data = bytearray(path.read_bytes())
    for _ in range(pages):
        at = 4096 * rng.randrange(1, len(data) // 4096)
        data[at : at + 4096] = rng.randbytes(4096)
    path.write_bytes(data)


@pytest.mark.parametrize("seed", range(6))
def test_a_damaged_store_is_told_never_written_to_and_emptied_of_what_can_be_read(tmp_path: Path, seed: int) -> None:
    rng, path = random.Random(seed), tmp_path / "pieces.sqlite"
    texts: dict[str, str] = {}
    with Pieces(path) as pieces:
        for number in range(20):
            piece_id = pieces.make(text_of(1), replace(FACTS, name=f"Piece {number}"), "begin")
            for later in range(2, 8):
                pieces.save(piece_id, later - 1, text_of(100 * number + later), FACTS, "save")
            texts[piece_id] = text_of(100 * number + 7)
    damage(path, rng, 3)
    before = path.read_bytes()
    with pytest.raises(DamagedStore, match="bossage rescue"):
        Pieces(path)
    taken = rescue(path, tmp_path / "new.sqlite")
    with Pieces(tmp_path / "new.sqlite") as pieces:
        whole = [piece.piece_id for piece in taken if piece.whole]
        for piece_id in whole:
            assert pieces.revision(piece_id).toml == texts[piece_id]
            assert len(pieces.history(piece_id)) == 7
        with pieces.reading() as db:
            assert db.execute("PRAGMA foreign_key_check").fetchall() == []
    assert path.read_bytes() == before
    assert {p.name for p in tmp_path.iterdir()} <= {"pieces.sqlite", "new.sqlite"}
    assert len(whole) >= 5


def test_what_was_taken_out_goes_into_the_place_of_the_damaged_store(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, new = tmp_path / "pieces.sqlite", tmp_path / "new.sqlite"
    with Pieces(path) as pieces:
        for number in range(12):
            pieces.make(text_of(number), FACTS, "begin")
    damage(path, random.Random(1), 1)
    before = path.read_bytes()
    at = ["--store", str(path)]
    assert main(["pieces", *at]) == 2
    assert "is damaged" in capsys.readouterr().err
    assert main(["rescue", "--out", str(new), *at]) == 0
    assert main(["restore", str(new), *at]) == 0
    assert "It was damaged and is kept as" in capsys.readouterr().out
    (kept,) = tmp_path.glob("pieces-*-damaged.sqlite")
    assert kept.read_bytes() == before
    with Pieces(path) as pieces:
        assert len(pieces.all()) >= 6
    assert main(["rescue", "--out", str(new), *at]) == 2
    assert "nothing is written over" in capsys.readouterr().err


def test_a_log_beside_a_damaged_store_stays_as_it_is(tmp_path: Path) -> None:
    kept = HERE.parent / "kept" / "version_0_1_0" / "left_open"
    for name in ("pieces.sqlite", "pieces.sqlite-wal"):
        shutil.copy(kept / name, tmp_path / name)
    path = tmp_path / "pieces.sqlite"
    log = path.with_name("pieces.sqlite-wal")
    data = bytearray(path.read_bytes())
    # a page that the log does not bring anew
    data[4096 * 2 : 4096 * 3] = b"\xff" * 4096
    path.write_bytes(data)
    before = path.read_bytes(), log.read_bytes()
    with pytest.raises(DamagedStore):
        Pieces(path)
    assert (path.read_bytes(), log.read_bytes()) == before


def test_out_of_a_file_without_a_beginning_nothing_is_taken(tmp_path: Path) -> None:
    path = tmp_path / "pieces.sqlite"
    with Pieces(path) as pieces:
        pieces.make(text_of(1), FACTS, "begin")
    data = bytearray(path.read_bytes())
    data[:4096] = bytes(4096)
    path.write_bytes(data)
    with pytest.raises(StoreFault, match="its beginning is destroyed"):
        Pieces(path)
    with pytest.raises(NothingToRescue, match="bossage restore"):
        rescue(path, tmp_path / "new.sqlite")
    assert not (tmp_path / "new.sqlite").exists()
