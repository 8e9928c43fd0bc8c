"""Reading: a clear sentence for everything that can go wrong with a disk."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from bossage.files import CannotRead, read_text


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


def test_a_brief_that_may_not_be_read_is_said_to_be_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # tests may run as root, who may read anything, so the refusal is put in place of the system's
    path = tmp_path / "mine.toml"
    path.write_text("[piece]\n")

    def refuse(self: Path, mode: str) -> None:
        raise OSError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(CannotRead, match="you may not read there"):
        read_text(path)


def test_a_byte_order_mark_is_no_text(tmp_path: Path) -> None:
    (tmp_path / "b.toml").write_bytes(b"\xef\xbb\xbf[piece]\n")
    assert read_text(tmp_path / "b.toml") == "[piece]\n"
