"""What version 0.1.0 made with its own commands opens for ever: a store, briefs, a plan.json and a piece file.

Made by `bossage example`, `plan`, `keep` and the workbench of version 0.1.0. `left_open` is a store as that version's
workbench left it when it was killed: most of it lies in the file that ends in `-wal`.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from bossage.brief import read_brief
from bossage.cli import main
from bossage.plan import Plan, make_plan
from bossage.store import Photos, Pieces, export_piece, import_piece
from bossage.web.desk import Desk

HERE = Path(__file__).parent / "version_0_1_0"
NAME = "Meter cupboard in the hall"


@pytest.fixture(params=["pieces.sqlite", "left_open/pieces.sqlite"])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    source = HERE / request.param
    for path in source.parent.glob("pieces.sqlite*"):
        shutil.copy(path, tmp_path / path.name)
    return tmp_path / "pieces.sqlite"


def looked_at(pieces: Pieces, piece_id: str) -> None:
    """Everything that the maker did to the piece in version 0.1.0."""
    found = pieces.revision(piece_id)
    assert (found.row.name, found.row.revision_n, found.undo_words, found.redo_words) == (
        NAME,
        2,
        "Draw again",
        "Wider joints",
    )
    assert found.toml.count("seed = 9") == 1
    assert [(version.name, version.revision_n) for version in found.versions] == [("for Ada", 2)]
    lines = [(row.revision_n, row.parent_n, row.words, row.aside) for row in pieces.history(piece_id)]
    assert lines == [
        (4, 2, "from the other tab", True),
        (3, 2, "Wider joints", False),
        (2, 1, "Draw again", False),
        (1, None, "Begin with brief.toml", False),
    ]
    photos = Photos(pieces)
    (photo_id,) = photos.of_piece(piece_id)
    photo = photos.photo(photo_id)
    assert (photo.width_px, photo.height_px) == (64, 48)
    assert photo.points["points_px"][2] == [58, 44]
    assert photo.points["places_mm"][2] == [2000, 1000]


def test_the_store_opens_with_all_that_was_kept(store: Path) -> None:
    with Pieces(store) as pieces:
        assert [(row.name, row.discarded) for row in pieces.all()].count(("Thrown away", True)) == 1
        piece_id = pieces.named(NAME)
        looked_at(pieces, piece_id)
        desk = Desk(pieces)
        for number in (1, 2, 3, 4):
            assert desk.answer(piece_id, number)["plan"] is not None
        pieces.redo(piece_id, 2)
        assert desk.save(piece_id, 3, desk.piece(piece_id)["toml"] + "\n", "go on") == 5


def test_the_piece_file_comes_in_and_goes_out_the_same(tmp_path: Path) -> None:
    data = (HERE / "piece.bossage.json").read_bytes()
    # by its own clock: on a machine whose clock stands far behind, the file would lie in the future
    with Pieces(tmp_path / "new.sqlite", now=lambda: "2026-12-01T12:00:00Z") as pieces:
        piece_id = import_piece(pieces, data)
        looked_at(pieces, piece_id)
        assert Desk(pieces).answer(piece_id)["plan"] is not None
        again = json.loads(export_piece(pieces, piece_id))
        assert again == json.loads(data)


@pytest.mark.parametrize("name", ["brief.toml", "brenlow.toml"])
def test_the_briefs_are_read_and_planned(name: str) -> None:
    assert isinstance(make_plan(read_brief((HERE / name).read_text(encoding="utf-8"))), Plan)


def test_the_plan_is_planned_again_after_a_mishap(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    settled = tmp_path / "settled.toml"
    words = ["replan", str(HERE / "plan.json"), "--glued", "rows 1-3", "--spoiled", "5·3", "--write", str(settled)]
    assert main(words) == 0
    assert f"{NAME}, plan ab14-17ab: re-plan" in capsys.readouterr().out
    assert settled.read_text(encoding="utf-8").count("[[pin]]") > 0
