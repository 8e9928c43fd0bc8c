"""The real server in a process of its own: how it ends, what it leaves, and who cannot keep it from its work."""

from __future__ import annotations

import http.client
import json
import os
import pickle
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from bossage.brief import read_brief
from bossage.plan import make_plan
from bossage.store import Pieces
from bossage.web.jobs import LENGTH
from bossage.web.serve import own_names
from tests.web.making import SMALL

pytestmark = pytest.mark.skipif(os.name != "posix", reason="signals and limits of POSIX")
WAIT_S = 60.0


class Server:
    """A running workbench."""

    def __init__(self, folder: Path, **env: str) -> None:
        self.store, self.tmp = folder / "pieces.sqlite", folder / "tmp"
        self.tmp.mkdir(exist_ok=True)
        with Pieces(self.store) as pieces:
            from bossage.web.desk import Desk

            self.piece_id = Desk(pieces).make(SMALL, "begin")["piece_id"]
        # the page brings the token, so one is put in place of the page that may not be built here
        script = (
            "import resource, sys; import bossage.web.app as app; from bossage.web.bundle import TOKEN_MARK, Bundle\n"
            "resource.setrlimit(resource.RLIMIT_NOFILE, (256, 256))\n"
            "app.load_bundle = lambda: Bundle(page='token=' + TOKEN_MARK, assets={})\n"
            "from bossage.cli import main; sys.exit(main(sys.argv[1:]))"
        )
        more = ["open", "--store", str(self.store), "--port", "0", *([] if "BROWSER" in env else ["--no-browser"])]
        self.process = subprocess.Popen(
            [sys.executable, "-c", script, *more],
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "TMPDIR": str(self.tmp), **env},
        )
        assert self.process.stdout is not None
        said = self.process.stdout.readline()
        found = re.search(r"http://127\.0\.0\.1:(\d+)/", said)
        assert found, said
        self.port = int(found.group(1))
        self.token = self.ask("GET", "/").decode().removeprefix("token=")

    def ask(self, method: str, path: str, body: Any = None) -> bytes:
        desk = http.client.HTTPConnection("127.0.0.1", self.port, timeout=WAIT_S)
        headers = {"content-type": "application/json", "x-bossage-token": getattr(self, "token", "")}
        desk.request(method, path, None if body is None else json.dumps(body), headers)
        answer = desk.getresponse()
        data = answer.read()
        desk.close()
        assert answer.status < 300, data
        return data

    def end(self, number: int) -> tuple[int, str]:
        self.process.send_signal(number)
        out, _ = self.process.communicate(timeout=WAIT_S)
        return self.process.returncode, out


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    running = Server(tmp_path)
    yield running
    with suppress(ProcessLookupError):
        running.process.kill()
    running.process.communicate()


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
def test_the_server_ends_cleanly_and_leaves_one_whole_file(server: Server, number: int, tmp_path: Path) -> None:
    edit = {"op": "set", "path": ["piece", "seed"], "value": 77}
    server.ask("POST", f"/api/pieces/{server.piece_id}/changes", {"base_revision_n": 1, "edits": [edit]})
    shutil.copy(server.store, tmp_path / "meanwhile.sqlite")
    code, said = server.end(number)
    assert code == 0
    assert f"Every change is kept in {server.store}" in said
    assert sorted(path.name for path in tmp_path.iterdir() if path.is_file()) == ["meanwhile.sqlite", "pieces.sqlite"]
    for path in (server.store, tmp_path / "meanwhile.sqlite"):
        with Pieces(path) as pieces:
            assert "seed = 77" in pieces.revision(server.piece_id).toml
            assert pieces.file.notes == ()


def at_work(folder: Path) -> list[int]:
    """Processes whose passing folder lies here."""
    found = []
    for path in Path("/proc").glob("[0-9]*/environ"):
        with suppress(OSError):
            if f"TMPDIR={folder}/bossage-papers-".encode() in path.read_bytes():
                found.append(int(path.parent.name))
    return found


@pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="looks at processes in /proc")
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGKILL])
def test_papers_in_making_end_with_the_server(server: Server, number: int) -> None:
    server.ask("POST", f"/api/pieces/{server.piece_id}/papers", {})
    until = time.monotonic() + WAIT_S
    while not at_work(server.tmp):
        assert time.monotonic() < until
        time.sleep(0.02)
    time.sleep(1.0)  # into the setting of the pages
    assert at_work(server.tmp)
    server.end(number)
    until = time.monotonic() + WAIT_S
    while at_work(server.tmp) or list(server.tmp.iterdir()):
        assert time.monotonic() < until, "work goes on after the server has ended"
        time.sleep(0.05)


@pytest.mark.parametrize("kept", [0, 3, 8, 500])
def test_papers_clear_up_where_the_server_ends_in_the_middle_of_its_order(tmp_path: Path, kept: int) -> None:
    """A server that is killed may have handed over a part of the order only."""
    passing = tmp_path / "passing"
    passing.mkdir()
    order = pickle.dumps((make_plan(read_brief(SMALL)), ("totals",), "print"))
    call = [sys.executable, "-m", "bossage.web.papers", str(passing)]
    handed = (LENGTH.pack(len(order)) + order)[:kept]
    done = subprocess.run(call, input=handed, capture_output=True, timeout=WAIT_S, check=False, start_new_session=True)
    assert (done.returncode, done.stderr) == (1, b"")
    assert not passing.exists()


def test_papers_clear_up_where_nobody_hears_their_progress(tmp_path: Path) -> None:
    """A word about the progress meets the end of the server before the thread does that waits for it."""
    passing = tmp_path / "passing"
    passing.mkdir()
    order = pickle.dumps((make_plan(read_brief(SMALL)), ("totals",), "print"))
    command = [sys.executable, "-m", "bossage.web.papers", str(passing)]
    job = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, start_new_session=True)
    assert job.stdin is not None
    assert job.stdout is not None
    job.stdout.close()
    job.stdin.write(LENGTH.pack(len(order)) + order)
    job.stdin.flush()
    assert job.wait(timeout=WAIT_S) == 1
    assert not passing.exists()
    job.stdin.close()


def test_half_sent_requests_do_not_stop_the_server(server: Server) -> None:
    half = []
    for number in range(300):
        caller = socket.create_connection(("127.0.0.1", server.port), timeout=WAIT_S)
        with suppress(OSError):
            caller.sendall(b"GET /api/pieces HTTP/1.1\r\nHost: 127" if number % 2 else b"POST /api/pieces HTTP/1.1\r\n")
        half.append(caller)
        if number % 50 == 49:
            assert server.piece_id.encode() in server.ask("GET", "/api/pieces")
    assert len(os.listdir(f"/proc/{server.process.pid}/fd")) < 200 or not Path("/proc").exists()
    for caller in half:
        caller.close()
    assert server.end(signal.SIGTERM)[0] == 0


def test_a_browser_in_the_foreground_does_not_keep_the_server_from_starting(tmp_path: Path) -> None:
    browser, number = tmp_path / "browser.sh", tmp_path / "number"
    browser.write_text(
        f"#!/bin/sh\necho $$ > {number}-half; mv {number}-half {number}\nexec sleep 60 > {tmp_path}/said\n"
    )
    browser.chmod(0o755)
    running = Server(tmp_path, BROWSER=str(browser))
    assert running.piece_id.encode() in running.ask("GET", "/api/pieces")
    until = time.monotonic() + WAIT_S
    while not number.exists():
        assert time.monotonic() < until
        time.sleep(0.02)
    assert running.piece_id.encode() in running.ask("GET", "/api/pieces")
    assert running.end(signal.SIGTERM)[0] == 0
    os.kill(int(number.read_text()), signal.SIGKILL)


def test_on_the_port_that_browsers_leave_out_the_server_knows_its_name() -> None:
    assert own_names(80) >= {"127.0.0.1", "localhost", "127.0.0.1:80"}
    assert own_names(8722) == {"127.0.0.1:8722", "localhost:8722"}
