from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from bossage.examples import example_names, example_text
from bossage.store import Pieces
from bossage.web import models as m
from tests.web.making import SMALL, changed, client_of, made, put


@pytest.mark.parametrize("name", sorted(example_names()))
def test_every_example_is_shown_as_described(tmp_path: Path, name: str) -> None:
    client = client_of(tmp_path)
    answer = client.post("/api/pieces", json={"from_": "example", "name": name})
    assert answer.status_code == 201
    piece = m.PieceOut.model_validate(answer.json())
    assert piece.toml == example_text(name)
    shown = client.get(f"/api/pieces/{piece.piece_id}/plan").json()
    view = m.Answer.model_validate(shown).plan
    assert view is not None
    assert len({check.check_id for check in view.checks}) == len(view.checks)
    columns = view.blocks.model_dump().values()
    assert {len(column) for column in columns} == {int(view.title_block.blocks.value or 0)}
    assert max(view.blocks.shade) < len(view.shades)
    assert sum(shade.blocks for shade in view.shades) == len(view.blocks.shade)


def test_a_change_is_saved_planned_and_undone(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece = made(client)
    answer = changed(client, piece["piece_id"], 1, put("piece", "seed", to=77), words="Draw again")
    assert answer.status_code == 200
    body = m.Answer.model_validate(answer.json())
    assert (body.revision_n, body.piece.undo_words, body.piece.can_redo) == (2, "Draw again", False)
    undone = m.Answer.model_validate(
        client.post(f"/api/pieces/{piece['piece_id']}/undo", json={"base_revision_n": 2}).json()
    )
    assert (undone.revision_n, undone.piece.redo_words) == (1, "Draw again")
    redone = client.post(f"/api/pieces/{piece['piece_id']}/redo", json={"base_revision_n": 1}).json()
    assert redone["revision_n"] == 2
    assert client.get(f"/api/pieces/{piece['piece_id']}").json()["toml"].count("seed = 77") == 1


def test_a_faulty_change_names_every_fault_and_saves_nothing(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece = made(client)
    answer = changed(client, piece["piece_id"], 1, put("blocks", "gap", to=-3), put("backer", "thickness", to=99999))
    assert answer.status_code == 422
    fields = {fault.field for fault in m.Refused.model_validate(answer.json()).faults}
    assert fields == {"blocks.gap", "backer.thickness"}
    assert client.get(f"/api/pieces/{piece['piece_id']}/history").json()[0]["revision_n"] == 1


def two_pins_that_touch() -> list[dict[str, Any]]:
    return [{"op": "append", "path": ["pin"], "value": {"block": at, "level": 18}} for at in ("2·2", "2·3")]


def test_a_change_that_leaves_no_plan_is_told_before_and_after_it_is_saved(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client, example_text("s7"))["piece_id"]
    pins = two_pins_that_touch()
    tried = m.Tried.model_validate(
        client.post(f"/api/pieces/{piece_id}/try", json={"base_revision_n": 1, "edits": pins}).json()
    )
    told = tried.no_plan
    assert told is not None
    assert told.stage == "relief"
    assert told.reason.startswith("The blocks at 2·2 (18 mm) and 2·3 (18 mm) touch")
    assert told.remedy == "Let the pin at 2·3 go. Nothing less will do."
    assert (tried.faults, tried.checks) == ([], [])
    assert client.get(f"/api/pieces/{piece_id}").json()["head_n"] == 1
    saved = m.Answer.model_validate(changed(client, piece_id, 1, *pins).json())
    assert (saved.revision_n, saved.plan, saved.no_plan) == (2, None, told)
    shown = m.Answer.model_validate(client.get(f"/api/pieces/{piece_id}/plan").json())
    assert (shown.plan, shown.no_plan) == (None, told)
    sheets = client.get(f"/api/pieces/{piece_id}/stages/saw")
    assert sheets.status_code == 409
    title = m.Refused.model_validate(sheets.json()).error.title
    assert title == f"There is nothing to draw. {told.reason} {told.remedy}"


def test_a_whole_brief_takes_the_place_of_the_one_there_is(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client)["piece_id"]
    other = example_text("s7")
    sent = {"base_revision_n": 1, "toml": other, "words": "Take that of the yard"}
    answer = m.Answer.model_validate(client.put(f"/api/pieces/{piece_id}/brief", json=sent).json())
    assert (answer.revision_n, answer.piece.undo_words) == (2, "Take that of the yard")
    assert answer.plan is not None
    assert client.get(f"/api/pieces/{piece_id}").json()["toml"] == other
    faulty = client.put(f"/api/pieces/{piece_id}/brief", json={"base_revision_n": 2, "toml": "[piece]\n", "words": ""})
    assert faulty.status_code == 422
    assert len(m.Refused.model_validate(faulty.json()).faults) > 1
    unsaid = client.put(f"/api/pieces/{piece_id}/brief", json={"base_revision_n": 2, "toml": SMALL, "words": ""})
    assert unsaid.json()["piece"]["undo_words"] == "Change the brief's text"
    assert client.get(f"/api/pieces/{piece_id}").json()["toml"] == SMALL


def test_a_fault_of_ours_is_told_without_what_a_library_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(self: Pieces) -> None:
        raise RuntimeError("a secret of the machine")

    client = client_of(tmp_path)
    quiet = TestClient(client.app, base_url=client.base_url, headers=client.headers, raise_server_exceptions=False)
    monkeypatch.setattr(Pieces, "all", broken)
    answer = quiet.get("/api/pieces")
    assert answer.status_code == 500
    error = m.Refused.model_validate(answer.json()).error
    assert (error.title, error.remedy) == ("A fault of bossage itself", "Please report what you did.")
    assert "secret" not in answer.text
    monkeypatch.undo()
    assert quiet.get("/api/pieces").status_code == 200


def test_two_tabs_keep_both_changes(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client)["piece_id"]
    assert changed(client, piece_id, 1, put("piece", "seed", to=5), words="first tab").status_code == 200
    late = changed(client, piece_id, 1, put("piece", "name", to="Second"), words="second tab")
    assert late.status_code == 409
    conflict = m.Refused.model_validate(late.json()).conflict
    assert conflict == m.Conflict(theirs_revision_n=2, mine_revision_n=3)
    assert client.get(f"/api/pieces/{piece_id}").json()["revision_n"] == 2
    refused = client.get(f"/api/pieces/{piece_id}/plan", params={"revision_n": 3}).json()
    assert refused["piece"]["name"] == "Second"
    taken = client.post(f"/api/pieces/{piece_id}/restore", json={"base_revision_n": 2, "revision_n": 3}).json()
    assert (taken["revision_n"], taken["piece"]["name"]) == (4, "Second")
    back = client.post(f"/api/pieces/{piece_id}/undo", json={"base_revision_n": 4}).json()
    assert back["revision_n"] == 2
    lines = [m.RevisionLine.model_validate(line) for line in client.get(f"/api/pieces/{piece_id}/history").json()]
    assert [line.revision_n for line in lines if line.aside] == [3]


def test_all_survives_a_restart(tmp_path: Path) -> None:
    first = client_of(tmp_path)
    piece_id = made(first)["piece_id"]
    changed(first, piece_id, 1, put("piece", "seed", to=5), words="a")
    changed(first, piece_id, 2, put("piece", "seed", to=6), words="b")
    first.post(f"/api/pieces/{piece_id}/undo", json={"base_revision_n": 3})
    before = first.get(f"/api/pieces/{piece_id}/plan").json()
    after = client_of(tmp_path).get(f"/api/pieces/{piece_id}/plan").json()
    assert after["plan"] == before["plan"]
    assert (after["piece"]["undo_words"], after["piece"]["redo_words"]) == ("a", "b")


def test_only_the_emptied_basket_loses_a_piece(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client)["piece_id"]
    assert client.delete(f"/api/pieces/{piece_id}").status_code == 409
    assert client.post(f"/api/pieces/{piece_id}/discard").json()["discarded"]
    assert changed(client, piece_id, 1, put("piece", "seed", to=5)).status_code == 409
    assert not client.post(f"/api/pieces/{piece_id}/recover").json()["discarded"]
    client.post(f"/api/pieces/{piece_id}/discard")
    assert client.delete(f"/api/pieces/{piece_id}").status_code == 204
    assert client.get(f"/api/pieces/{piece_id}").status_code == 404


def test_a_copy_has_a_life_of_its_own(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece = made(client)
    copy = client.post("/api/pieces", json={"duplicate": piece["piece_id"], "name": "Another"}).json()
    assert copy["name"] == "Another"
    assert copy["toml"].replace('"Another"', f'"{piece["name"]}"') == SMALL
    changed(client, copy["piece_id"], 1, put("piece", "seed", to=5))
    assert client.get(f"/api/pieces/{piece['piece_id']}").json()["toml"] == SMALL


def test_a_version_keeps_its_name(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece_id = made(client)["piece_id"]
    client.post(f"/api/pieces/{piece_id}/versions", json={"name": "for Ada"})
    changed(client, piece_id, 1, put("piece", "seed", to=5))
    named = m.PieceOut.model_validate(client.get(f"/api/pieces/{piece_id}").json()).versions
    assert [(version.name, version.revision_n) for version in named] == [("for Ada", 1)]


def test_the_page_is_told_where_pieces_and_their_copies_lie(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    made(client)
    kept = m.KeptOut.model_validate(client.get("/api/kept").json())
    assert (kept.store, kept.folder) == (str(tmp_path / "pieces.sqlite"), str(tmp_path / "pieces-copies"))
    assert (kept.copies, kept.fault) == ([], "")
    copy = tmp_path / "pieces-copies" / "pieces-2027-03-01.sqlite"
    copy.parent.mkdir()
    copy.write_bytes(b"")
    assert m.KeptOut.model_validate(client.get("/api/kept").json()).copies == [str(copy)]
