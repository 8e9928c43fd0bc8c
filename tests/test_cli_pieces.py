from __future__ import annotations

import json
from pathlib import Path

import pytest

from bossage.brief.amend import amend_text
from bossage.checks import Edit
from bossage.cli import main
from bossage.examples import example_text
from bossage.store import Pieces
from bossage.web.desk import Desk
from bossage.web.serve import NoPort, first_piece, listen

TEXT = example_text("first")
NAME = "Meter cupboard in the hall"


@pytest.fixture
def brief(tmp_path: Path) -> Path:
    path = tmp_path / "hall.toml"
    path.write_text(TEXT, encoding="utf-8")
    return path


@pytest.fixture
def store(tmp_path: Path) -> Path:
    return tmp_path / "kept" / "pieces.sqlite"


def out_of(capsysbinary: pytest.CaptureFixture[bytes], *arguments: str, code: int = 0) -> bytes:
    assert main(list(arguments)) == code
    return capsysbinary.readouterr().out


def test_a_brief_is_kept_listed_changed_and_printed(
    brief: Path, store: Path, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    at = ("--store", str(store))
    assert b"No piece is kept yet" in out_of(capsysbinary, "pieces", *at)
    kept = json.loads(out_of(capsysbinary, "keep", str(brief), *at, "--json"))
    assert (kept["name"], kept["revision_n"]) == (NAME, 1)
    assert out_of(capsysbinary, "brief", NAME, *at).decode() == TEXT
    changed = amend_text(TEXT, [Edit(op="set", path=("piece", "seed"), value=9)])
    brief.write_text(changed, encoding="utf-8")
    again = json.loads(out_of(capsysbinary, "keep", str(brief), "--piece", "meter", *at, "--json"))
    assert again == {**kept, "revision_n": 2}
    assert out_of(capsysbinary, "brief", kept["piece_id"], *at).decode() == changed
    assert out_of(capsysbinary, "brief", NAME, "--revision", "1", *at).decode() == TEXT
    listed = json.loads(out_of(capsysbinary, "pieces", *at, "--json"))["pieces"]
    assert [(row["name"], row["revision_n"]) for row in listed] == [(NAME, 2)]
    assert NAME.encode() in out_of(capsysbinary, "pieces", *at)
    assert out_of(capsysbinary, "pieces", *at, "--quiet") == b""


def test_a_kept_piece_is_planned_as_its_file_is(
    brief: Path, store: Path, tmp_path: Path, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    at = ("--store", str(store))
    out_of(capsysbinary, "keep", str(brief), *at)
    by_name = out_of(capsysbinary, "check", "meter cup", *at, "--json")
    assert by_name == out_of(capsysbinary, "check", str(brief), "--json")


def test_what_is_not_there_is_said_and_no_store_is_made(
    store: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", "no such piece", "--store", str(store)]) == 2
    assert "There is no file" in capsys.readouterr().err
    assert not store.exists()
    with Pieces(store):
        pass
    assert main(["check", "no such piece", "--store", str(store)]) == 2
    assert "There is no piece" in capsys.readouterr().err
    faulty = tmp_path / "faulty.toml"
    faulty.write_text("[piece]\nseed = -1\n", encoding="utf-8")
    assert main(["keep", str(faulty), "--store", str(store)]) == 2
    assert "piece.seed" in capsys.readouterr().err


def test_the_first_start_opens_the_example_and_later_ones_what_was_changed_last(brief: Path, store: Path) -> None:
    with Pieces(store) as pieces:
        desk = Desk(pieces)
        example = first_piece(desk, None)
        assert desk.piece(str(example))["toml"] == example_text("s2")
        assert first_piece(desk, None) == example
        mine = first_piece(desk, str(brief))
        assert first_piece(desk, str(brief)) == mine
        assert first_piece(desk, NAME) == mine
        assert len(pieces.all()) == 2


def test_a_taken_port_is_said() -> None:
    taken = listen(0)
    with pytest.raises(NoPort, match="--port"):
        listen(taken.getsockname()[1])
    taken.close()
