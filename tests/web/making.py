from __future__ import annotations

from pathlib import Path
from typing import Any

from starlette.testclient import TestClient

from bossage.examples import example_text
from bossage.store import Pieces
from bossage.web.app import make_app
from bossage.web.bundle import Bundle

HOST = "127.0.0.1:8722"
TOKEN = "a-token-of-this-test"
NO_BUNDLE = Bundle(page=None, assets={})
SMALL = example_text("first")


def client_of(folder: Path, *, bundle: Bundle = NO_BUNDLE, **more: Any) -> TestClient:
    pieces = Pieces(folder / "pieces.sqlite")
    app = make_app(pieces, hosts=frozenset({HOST}), token=TOKEN, bundle=bundle, **more)
    return TestClient(app, base_url=f"http://{HOST}", headers={"x-bossage-token": TOKEN}, raise_server_exceptions=True)


def made(client: TestClient, toml: str = SMALL) -> dict[str, Any]:
    answer = client.post("/api/pieces", json={"toml": toml})
    assert answer.status_code == 201, answer.text
    body: dict[str, Any] = answer.json()
    return body


def changed(client: TestClient, piece_id: str, base_n: int, *edits: dict[str, Any], words: str = "") -> Any:
    return client.post(
        f"/api/pieces/{piece_id}/changes", json={"base_revision_n": base_n, "edits": list(edits), "words": words}
    )


def put(*path: str | int, to: Any) -> dict[str, Any]:
    return {"op": "set", "path": list(path), "value": to}
