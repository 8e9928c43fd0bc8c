"""Every type of TOML reaches the page, and nothing is kept of which the page could not be told."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from bossage.store import Pieces
from bossage.web import models as m
from tests.store.writer import FACTS
from tests.web.making import SMALL, changed, client_of, made, put

DATED = SMALL.replace("[piece]", "[piece]\ndate = 2026-12-01", 1)


def test_a_date_without_quotes_is_kept_shown_changed_and_carried(tmp_path: Path) -> None:
    client = client_of(tmp_path)
    piece = m.PieceOut.model_validate(made(client, DATED))
    assert piece.brief["piece"]["date"] == "2026-12-01"  # type: ignore[index]
    assert client.get(f"/api/pieces/{piece.piece_id}/plan").status_code == 200
    answer = changed(client, piece.piece_id, 1, put("piece", "seed", to=5))
    assert answer.status_code == 200
    assert "date = 2026-12-01" in client.get(f"/api/pieces/{piece.piece_id}").json()["toml"]
    carried = client.get(f"/api/pieces/{piece.piece_id}/export").content
    octets = {"content-type": "application/octet-stream"}
    taken = m.PieceOut.model_validate(client.post("/api/import", content=carried, headers=octets).json())
    assert taken.brief == client.get(f"/api/pieces/{piece.piece_id}").json()["brief"]


#: One of every type, as a maker may write them where a brief expects something else.
TYPES = {
    "offset": "1979-05-27T07:32:00-08:00",
    "local": "1979-05-27T07:32:00",
    "date": "1979-05-27",
    "time": "07:32:00.999",
    "nan": "nan",
    "inf": "-inf",
    "large": "1" + "0" * 300,
    "float": "6.02e23",
    "hex": "0xDEADBEEF",
    "bool": "true",
    "text": "'''several\nlines'''",
    "list": "[1, 'a', [2026-12-01], { a = nan }]",
    "table": "{ a = { b = 2026-12-01 } }",
}


@pytest.mark.parametrize("name", TYPES)
def test_what_was_kept_already_opens_whatever_it_holds(tmp_path: Path, name: str) -> None:
    # as version 0.1.0 may have kept it: past the reading of the brief
    with Pieces(tmp_path / "pieces.sqlite") as pieces:
        piece_id = pieces.make(f"{SMALL}\n[more]\nkey = {TYPES[name]}\n", FACTS, "begin")
    client = client_of(tmp_path)
    shown = client.get(f"/api/pieces/{piece_id}")
    assert shown.status_code == 200
    assert "key" in m.PieceOut.model_validate(shown.json()).brief["more"]  # type: ignore[operator]
    assert client.get(f"/api/pieces/{piece_id}/plan").status_code == 422  # a section that no brief has
    mended = {"base_revision_n": 1, "toml": SMALL}
    assert client.put(f"/api/pieces/{piece_id}/brief", json=mended).status_code == 200


def test_what_was_kept_already_and_is_no_toml_opens_as_text(tmp_path: Path) -> None:
    with Pieces(tmp_path / "pieces.sqlite") as pieces:
        piece_id = pieces.make("this is [no TOML", FACTS, "begin")
    client = client_of(tmp_path)
    shown = m.PieceOut.model_validate(client.get(f"/api/pieces/{piece_id}").json())
    assert (shown.toml, shown.brief) == ("this is [no TOML", {})
    refused = client.get(f"/api/pieces/{piece_id}/plan")
    assert refused.status_code == 422
    assert m.Refused.model_validate(refused.json()).faults
    mended = {"base_revision_n": 1, "toml": SMALL}
    assert client.put(f"/api/pieces/{piece_id}/brief", json=mended).status_code == 200


def test_a_piece_is_kept_only_once_it_was_answered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    client = client_of(tmp_path)
    piece_id = made(client)["piece_id"]
    client = client_of(tmp_path)
    client._transport.raise_server_exceptions = False  # type: ignore[attr-defined]

    def silent(*args: object) -> dict[str, Any]:
        return {"not": float("nan")}

    monkeypatch.setattr("bossage.web.desk.whole", silent)
    monkeypatch.setattr("bossage.web.desk.plan_view", silent)
    assert client.post("/api/pieces", json={"toml": SMALL}).status_code == 500
    assert changed(client, piece_id, 1, put("piece", "seed", to=5)).status_code == 500
    monkeypatch.undo()
    assert len(client.get("/api/pieces").json()) == 1
    assert len(client.get(f"/api/pieces/{piece_id}/history").json()) == 1


@pytest.mark.parametrize(
    "edit",
    [
        {"op": "append", "path": ["centre"], "value": True},
        {"op": "set", "path": ["family", 0], "value": [1, "a"]},
        {"op": "set", "path": ["family"], "value": 3},
        {"op": "set", "path": ["piece"], "value": [[]]},
        {"op": "set", "path": ["blocks", "levels"], "value": None},
        {"op": "set", "path": ["blocks", "levels"], "value": {"from": None}},
        {"op": "insert", "path": ["family", 0], "value": 7},
        {"op": "remove", "path": ["family", 9]},
        {"op": "set", "path": [0], "value": 7},
        {"op": "set", "path": ["piece", "name"], "value": 10**400},
        {"op": "set", "path": ["piece", "name"], "value": ["\u0000"]},
    ],
)
def test_an_edit_of_a_wrong_type_is_refused_in_words(tmp_path: Path, edit: dict[str, Any]) -> None:
    client = client_of(tmp_path)
    piece_id = made(client)["piece_id"]
    for path in ("changes", "try"):
        answer = client.post(f"/api/pieces/{piece_id}/{path}", json={"base_revision_n": 1, "edits": [edit]})
        assert answer.status_code in (200, 422), answer.text
        if path == "changes":
            assert m.Refused.model_validate(answer.json()).faults
    assert len(client.get(f"/api/pieces/{piece_id}/history").json()) == 1
