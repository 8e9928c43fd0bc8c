"""Started without a word the workbench opens; a second start shows the one that is open."""

from __future__ import annotations

import http.server
import json
import os
import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from bossage import cli
from bossage.cli import main
from bossage.web import serve
from bossage.web.serve import NoPort, listen, listen_usual, served_store, show

WAIT_S = 60.0


def test_without_a_word_the_workbench_opens(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    asked = []
    monkeypatch.setattr(serve, "serve", lambda store, **options: asked.append((store, options)))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert main([]) == main(["open"]) == 0
    assert asked[0][1]["brief"] is None
    assert asked[0][1]["port"] is None
    assert asked[0][1]["browser"] is True
    assert repr(asked[0][0]) == repr(asked[1][0])


def test_help_is_still_there(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"]) == cli.PLANNED
    said = capsys.readouterr().out
    assert "Without a command the workbench opens." in " ".join(said.split())
    assert "read-card" in said
    assert main(["opn"]) == cli.FAULTY
    assert "bossage --help" in capsys.readouterr().err


@pytest.mark.skipif(os.name != "posix", reason="ends by a signal of POSIX; the browser is a script of a shell")
def test_a_second_start_shows_the_workbench_that_is_open(tmp_path: Path) -> None:
    browser, shown = tmp_path / "browser.sh", tmp_path / "shown"
    browser.write_text(f'#!/bin/sh\necho "$1" >> {shown}\n')
    browser.chmod(0o755)
    env = {**os.environ, "XDG_DATA_HOME": str(tmp_path / "data"), "BROWSER": str(browser)}
    command = [sys.executable, "-m", "bossage.cli"]
    first = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=env)
    try:
        assert first.stdout is not None
        found = re.search(r"http://127\.0\.0\.1:(\d+)/", first.stdout.readline())
        assert found
        again = [*command, "open", "--port", found[1]]
        done = subprocess.run(again, capture_output=True, text=True, env=env, timeout=WAIT_S, check=False)
        assert (done.returncode, done.stderr) == (0, "")
        assert f"is open already at {found[0]}" in done.stdout
        until = time.monotonic() + WAIT_S
        while not shown.exists() or shown.read_text().split() != [found[0], found[0]]:
            assert time.monotonic() < until
            time.sleep(0.05)
        env["XDG_DATA_HOME"] = str(tmp_path / "other")  # other pieces are not shown for these
        done = subprocess.run(again, capture_output=True, text=True, env=env, timeout=WAIT_S, check=False)
        assert done.returncode == cli.FAULTY
        assert "is taken" in done.stderr
    finally:
        first.send_signal(signal.SIGTERM)
        said, _ = first.communicate(timeout=WAIT_S)
    assert first.returncode == 0
    assert "Every change is kept in" in said


class _Foreign(http.server.BaseHTTPRequestHandler):
    """Another program that has the port."""

    body = b""

    def do_GET(self) -> None:
        self.send_response(200)
        self.end_headers()
        self.wfile.write(self.body)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


@pytest.fixture
def foreign() -> Iterator[http.server.HTTPServer]:
    with http.server.HTTPServer(("127.0.0.1", 0), _Foreign) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server
        server.shutdown()


@pytest.mark.parametrize("body", [b"", b"<html>", b"[]", b"7", b'{"store": 7}', b'{"stor": "a"}', b"\xff" * 200_000])
def test_another_program_on_the_port_is_no_workbench(foreign: http.server.HTTPServer, body: bytes) -> None:
    _Foreign.body = body
    assert served_store(foreign.server_address[1]) is None


def test_a_workbench_on_the_port_says_its_store(foreign: http.server.HTTPServer, tmp_path: Path) -> None:
    _Foreign.body = json.dumps({"store": str(tmp_path / "pieces.sqlite")}).encode()
    assert served_store(foreign.server_address[1]) == tmp_path / "pieces.sqlite"
    assert served_store(0) is None


def test_where_the_usual_port_is_taken_any_other_does(monkeypatch: pytest.MonkeyPatch) -> None:
    with listen(0) as taken:
        number = taken.getsockname()[1]
        monkeypatch.setattr(serve, "PORT", number)
        with listen_usual() as other:
            assert other.getsockname()[1] != number
        with pytest.raises(NoPort):
            listen(number)
    with listen_usual() as free:
        assert free.getsockname()[1] == number


@pytest.mark.parametrize("there", [True, False])
def test_where_no_browser_can_be_opened_the_address_is_said(monkeypatch: pytest.MonkeyPatch, there: bool) -> None:
    said: list[str] = []
    monkeypatch.setattr("webbrowser.open", lambda address: there)
    show("http://127.0.0.1:1/", said.append)
    assert bool(said) is not there
    assert all("http://127.0.0.1:1/" in words for words in said)
