"""Disks: a clear sentence for everything that can go wrong, and nothing half-written."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from bossage.files import CannotRead, CannotWrite, read_text, write_folder

PAPERS = {"plan.json": b"{}\n", "pack.pdf": b"%PDF", "sheets/saw.svg": b"<svg/>"}


def contents(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_papers_are_written_and_nothing_else_is_left(tmp_path: Path) -> None:
    write_folder(tmp_path / "a" / "out", PAPERS)
    assert contents(tmp_path / "a" / "out") == PAPERS
    assert [p.name for p in (tmp_path / "a").iterdir()] == ["out"]


def test_other_files_in_the_folder_stay(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    write_folder(tmp_path, PAPERS)
    assert contents(tmp_path) == {**PAPERS, "notes.txt": b"mine"}


def test_a_full_disk_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = tmp_path / "out"
    write_folder(out, PAPERS)
    real = Path.write_bytes

    def full(self: Path, data: bytes) -> int:
        if self.name == "pack.pdf":
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return real(self, data)

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(CannotWrite, match="the disk is full"):
        write_folder(out, dict.fromkeys(PAPERS, b"new"))
    monkeypatch.undo()
    assert contents(out) == PAPERS
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_a_file_in_the_place_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")
    with pytest.raises(CannotWrite, match="is a file, and the papers need a folder"):
        write_folder(tmp_path / "out", PAPERS)
    with pytest.raises(CannotWrite, match="a part of that path is a file"):
        write_folder(tmp_path / "out" / "below", PAPERS)


@pytest.mark.parametrize("code", [errno.EACCES, errno.EROFS, errno.ENAMETOOLONG])
def test_a_folder_that_may_not_be_made(code: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # tests may run as root, who may write anywhere, so the refusal is put in place of the system's
    def refuse(*args: object, **more: object) -> None:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr("tempfile.mkdtemp", refuse)
    with pytest.raises(CannotWrite, match="Nothing was changed there"):
        write_folder(tmp_path / "out", PAPERS)


def test_a_brief_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(CannotRead, match="There is no file"):
        read_text(tmp_path / "none.toml")
    with pytest.raises(CannotRead, match="is a folder"):
        read_text(tmp_path)
    (tmp_path / "big.toml").write_bytes(b"#" * 50_000_000)
    with pytest.raises(CannotRead, match="50 MB"):
        read_text(tmp_path / "big.toml")
    (tmp_path / "photo.toml").write_bytes(b"\n\n\xff\xd8\xff")
    with pytest.raises(CannotRead, match=r"not text in UTF-8 \(line 3\)"):
        read_text(tmp_path / "photo.toml")


def test_a_byte_order_mark_is_no_text(tmp_path: Path) -> None:
    (tmp_path / "b.toml").write_bytes(b"\xef\xbb\xbf[piece]\n")
    assert read_text(tmp_path / "b.toml") == "[piece]\n"
