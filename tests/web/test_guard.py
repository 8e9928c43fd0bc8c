from __future__ import annotations

import gzip
import io
import re
import struct
import zlib
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from bossage.drawing.icon import icon_svg
from bossage.store import Pieces
from bossage.web import models as m
from bossage.web.app import make_app
from bossage.web.bundle import TOKEN_MARK, load_bundle
from bossage.web.guard import MOST_BYTES, MOST_JSON_BYTES
from tests.web.making import HOST, SMALL, TOKEN, client_of, made

CHANGES = {"base_revision_n": 1, "edits": [{"op": "set", "path": ["piece", "seed"], "value": 3}]}
JPEG = {"content-type": "application/octet-stream"}


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> TestClient:
    """A server with one piece; no test here changes it."""
    return client_of(tmp_path_factory.mktemp("guard"))


@pytest.fixture(scope="module")
def piece_id(client: TestClient) -> str:
    return str(made(client)["piece_id"])


def bundle_in(folder: Path) -> Path:
    (folder / "assets").mkdir(parents=True)
    (folder / "index.html").write_text(f'<meta name="bossage-token" content="{TOKEN_MARK}">')
    (folder / "assets" / "app-a1b2c3d4.js").write_text("1")
    (folder / "plain.css").write_text("a{}")
    (folder / "secret.pem").write_text("not to be served")
    return folder


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1", "127.0.0.1:1", "localhost:8722.evil.example", ""])
def test_a_foreign_name_is_refused(client: TestClient, host: str) -> None:
    for path in ("/", "/api/pieces", "/assets/x.js"):
        answer = client.get(path, headers={"host": host})
        assert answer.status_code == 403
        assert "token" not in answer.text.lower() or TOKEN not in answer.text


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "https://127.0.0.1:8722"},
        {"origin": "http://127.0.0.1:9999"},
        {"origin": "null"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_another_page_is_refused_even_with_the_token(
    client: TestClient, piece_id: str, headers: dict[str, str]
) -> None:
    assert client.get("/api/pieces", headers=headers).status_code == 403
    assert client.post(f"/api/pieces/{piece_id}/changes", json=CHANGES, headers=headers).status_code == 403
    assert client.get(f"/api/pieces/{piece_id}").json()["head_n"] == 1


def test_our_own_page_may(client: TestClient) -> None:
    own = {"origin": f"http://{HOST}", "sec-fetch-site": "same-origin"}
    assert client.get("/api/pieces", headers=own).status_code == 200
    assert client.post("/api/pieces", json={"toml": SMALL}, headers=own).status_code == 201


@pytest.mark.parametrize("token", ["", "a", TOKEN[:-1], TOKEN + "x", TOKEN.upper()])
def test_without_the_token_nothing_changes(client: TestClient, piece_id: str, token: str) -> None:
    headers = {"x-bossage-token": token}
    calls = [
        client.post("/api/pieces", json={"toml": SMALL}, headers=headers),
        client.post(f"/api/pieces/{piece_id}/changes", json=CHANGES, headers=headers),
        client.put(f"/api/pieces/{piece_id}/brief", json={"base_revision_n": 1, "toml": SMALL}, headers=headers),
        client.post(f"/api/pieces/{piece_id}/discard", headers=headers),
        client.delete(f"/api/pieces/{piece_id}", headers=headers),
        client.post("/api/import", content=b"{}", headers={**headers, **JPEG}),
        client.post(f"/api/pieces/{piece_id}/photos", content=b"x", headers={**headers, **JPEG}),
        client.post(f"/api/pieces/{piece_id}/papers", json={}, headers=headers),
    ]
    assert {call.status_code for call in calls} == {403}
    assert client.get(f"/api/pieces/{piece_id}").json()["discarded"] is False
    assert client.get(f"/api/pieces/{piece_id}/history").json()[0]["revision_n"] == 1


def test_every_start_has_a_token_of_its_own(tmp_path: Path) -> None:
    pages = set()
    bundle = load_bundle(bundle_in(tmp_path / "web"))
    for name in ("a", "b"):
        app = make_app(Pieces(tmp_path / f"{name}.sqlite"), hosts=frozenset({HOST}), bundle=bundle)
        pages.add(TestClient(app, base_url=f"http://{HOST}").get("/").text)
    assert len(pages) == 2
    assert not any(TOKEN_MARK in page for page in pages)


def test_every_answer_is_sealed(client: TestClient) -> None:
    for answer in (
        client.get("/"),
        client.get("/api/pieces"),
        client.get("/x"),
        client.get("/", headers={"host": "x"}),
    ):
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "frame-ancestors 'none'" in policy
        assert "unsafe" not in policy
        assert "http" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["referrer-policy"] == "no-referrer"


def test_a_missing_page_says_what_to_run(client: TestClient) -> None:
    answer = client.get("/")
    assert answer.status_code == 503
    assert "make web" in answer.text


@pytest.mark.parametrize(
    "path",
    [
        "/secret.pem",
        "/assets/../secret.pem",
        "/assets/..%2f..%2fetc/passwd",
        "/%2e%2e/%2e%2e/etc/passwd",
        "//etc/passwd",
        "/assets/%00",
        "/assets\\..\\secret.pem",
        "/etc/passwd",
        "/../../../../etc/passwd",
        "/index.html",
        "/api/pieces/../../etc/passwd",
        "/api/pieces/%2e%2e%2f",
        "/api/jobs/../../../etc/passwd/file",
        "/api/photos/..%2f..%2fetc%2fpasswd.jpg",
    ],
)
def test_no_path_reaches_the_disk(tmp_path: Path, path: str) -> None:
    client = client_of(tmp_path, bundle=load_bundle(bundle_in(tmp_path / "web")))
    answer = client.get(path)
    assert answer.status_code in (404, 422)
    assert "root:" not in answer.text
    assert "not to be served" not in answer.text


def test_assets_are_served_as_what_they_are(tmp_path: Path) -> None:
    client = client_of(tmp_path, bundle=load_bundle(bundle_in(tmp_path / "web")))
    script = client.get("/assets/app-a1b2c3d4.js")
    assert script.headers["content-type"].startswith("text/javascript")
    assert "immutable" in script.headers["cache-control"]
    assert client.get("/plain.css").headers["cache-control"] == "no-cache"
    assert TOKEN in client.get("/").text


def test_the_page_asks_for_our_icon_and_gets_it(client: TestClient) -> None:
    page = (Path(__file__).parents[2] / "ui" / "index.html").read_text(encoding="utf-8")
    (address,) = re.findall(r'<link rel="icon" type="image/svg\+xml" href="([^"]+)"', page)
    answer = client.get(address)
    assert answer.content == icon_svg()
    assert answer.headers["content-type"] == "image/svg+xml"


def test_too_much_is_refused_before_it_is_read(client: TestClient, piece_id: str) -> None:
    large = b"x" * (MOST_JSON_BYTES + 1)
    said = client.post("/api/pieces", content=large, headers={"content-type": "application/json"})
    assert said.status_code == 413
    told = client.post(
        f"/api/pieces/{piece_id}/photos", content=b"", headers={**JPEG, "content-length": str(MOST_BYTES + 1)}
    )
    assert told.status_code == 413
    lied = client.post("/api/pieces", content=b"", headers={"content-length": "9" * 30})
    assert lied.status_code == 413
    m.Refused.model_validate(lied.json())


def test_a_body_that_does_not_say_its_length_is_counted(client: TestClient) -> None:

    def stream():  # type: ignore[no-untyped-def]
        for _ in range(MOST_JSON_BYTES // 100_000 + 2):
            yield b" " * 100_000

    answer = client.post("/api/pieces", content=stream(), headers={"content-type": "application/json"})
    assert answer.status_code == 413
    m.Refused.model_validate(answer.json())


@pytest.mark.parametrize("coding", ["gzip", "deflate", "br", "zstd", "GZIP", "gzip, identity"])
def test_packed_bodies_are_not_unpacked(client: TestClient, coding: str) -> None:
    bomb = gzip.compress(b" " * 50_000_000)
    headers = {"content-type": "application/json", "content-encoding": coding}
    answer = client.post("/api/pieces", content=bomb, headers=headers)
    assert answer.status_code == 415


def png_that_says(width: int, height: int) -> bytes:
    """A small PNG whose head promises a huge picture."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(b"\0" * 2_000_000, 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def test_a_pixel_bomb_is_refused_by_its_head(
    client: TestClient, piece_id: str, monkeypatch: pytest.MonkeyPatch
) -> None:

    def unpacked(*args: object, **more: object) -> None:
        raise AssertionError("unpacked")

    monkeypatch.setattr(Image.Image, "load", unpacked)
    for width, height in ((30_000, 30_000), (100_000, 100_000), (2_000_000_000, 1)):
        answer = client.post(f"/api/pieces/{piece_id}/photos", content=png_that_says(width, height), headers=JPEG)
        assert answer.status_code in (413, 415)
        m.Refused.model_validate(answer.json())


@pytest.mark.parametrize("kind", ["GIF", "TIFF", "BMP", "PPM"])
def test_only_photos_are_taken(client: TestClient, piece_id: str, kind: str) -> None:
    out = io.BytesIO()
    Image.new("RGB", (8, 8)).save(out, kind)
    for data in (out.getvalue(), b"", b"\xff\xd8\xff", b"<svg/>", png_that_says(64, 64)[:60]):
        answer = client.post(f"/api/pieces/{piece_id}/photos", content=data, headers=JPEG)
        assert answer.status_code in (415, 422)
    assert client.get(f"/api/pieces/{piece_id}/photos").json() == []


def test_what_hides_in_a_photo_is_not_kept(client: TestClient, piece_id: str) -> None:
    exif = Image.Exif()
    exif[0x010E] = "where I live"
    exif[0x0112] = 6  # to be turned
    out = io.BytesIO()
    Image.new("RGB", (80, 40), "#888888").save(out, "JPEG", exif=exif)
    kept = m.PhotoOut.model_validate(
        client.post(f"/api/pieces/{piece_id}/photos", content=out.getvalue(), headers=JPEG).json()
    )
    assert (kept.width_px, kept.height_px) == (40, 80)
    assert b"where I live" not in client.get(f"/api/photos/{kept.photo_id}.jpg").content


def test_websockets_are_not_spoken(client: TestClient) -> None:
    with pytest.raises(WebSocketDisconnect) as closed, client.websocket_connect("/api/pieces"):
        pass
    assert closed.value.code == 1008


def test_answers_go_out_at_once():
    """asyncio holds small packets back on a socket that does not name TCP, 40 ms an answer."""
    import socket

    from bossage.web.serve import listen

    with listen(0) as listener:
        assert listener.proto == socket.IPPROTO_TCP


def test_a_link_from_another_site_is_answered_with_a_page_that_leads_in(client: TestClient) -> None:
    followed = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate", "accept": "text/html,*/*;q=0.8"}
    answer = client.get("/", headers=followed)
    assert answer.status_code == 403
    assert answer.headers["content-type"].startswith("text/html")
    assert '<a href="/">Open the workbench</a>' in answer.text
    assert TOKEN not in answer.text
    foreign = client.get("/", headers={**followed, "host": "evil.example"})
    assert foreign.status_code == 403
    assert "<a " not in foreign.text
    m.Refused.model_validate(client.get("/api/pieces", headers={**followed, "accept": "application/json"}).json())


def test_a_body_that_does_not_go_on_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    import asyncio
    from concurrent.futures import ThreadPoolExecutor

    from bossage.web import guard

    monkeypatch.setattr(guard, "BODY_S", 0.05)
    said: list[dict[str, Any]] = []

    async def app(scope: Any, receive: Any, send: Any) -> None:
        while (await receive()).get("more_body"):
            pass

    async def ask() -> None:
        parts = [{"type": "http.request", "body": b"{", "more_body": True}]

        async def receive() -> Any:
            return parts.pop() if parts else await asyncio.sleep(60)

        async def send(message: Any) -> None:
            said.append(message)

        headers = [(b"host", b"here"), (b"x-bossage-token", b"t")]
        scope = {"type": "http", "method": "POST", "path": "/api/pieces", "headers": headers}
        await guard.Guard(app, hosts=frozenset({"here"}), token="t")(scope, receive, send)

    # a browser's test leaves a loop running in this thread, where a second loop may not start
    with ThreadPoolExecutor(1) as apart:
        apart.submit(asyncio.run, ask()).result()
    assert said[0]["status"] == 408
