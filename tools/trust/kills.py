"""Kills the real server during saves, imports, backups, restores and upgrades, and looks at what it left each time.

Held: every change that was acknowledged is there and whole, also in a copy of the one file that was taken between two
changes; a copy under its own name is whole; a store is as it was before an upgrade or a restore or as it is after,
never between; a folder of papers holds one plan.

A server's life begins as a fork of this process, which has everything loaded already, so that two thousand of them take
minutes. What is killed is the whole of `bossage open`, over HTTP on the loopback address.

Run: python tools/trust/kills.py [--kills 2000] [--seed 1]
"""

from __future__ import annotations

import argparse
import gc
import http.client
import json
import os
import random
import shutil
import signal
import sqlite3
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "src")]

from bossage.brief import read_brief
from bossage.examples import example_text
from bossage.exchange import undo_left_over
from bossage.plan import make_plan
from bossage.store import Pieces, copy_store, kept_copies, look_through, restore
from bossage.web import app as web_app
from bossage.web.bundle import TOKEN_MARK, Bundle
from bossage.web.desk import Desk
from bossage.web.serve import serve
from bossage.writing import MADE, write_folder

NOW = "2027-05-01T12:00:00Z"
ENOUGH_S = 60.0
LARGE_BYTES = 400_000
#: A small piece: what is looked at here is not how long it takes to plan.
TEXT = example_text("first").replace("width = 70\nheight = 70", "width = 350\nheight = 350")
PIECE_FILE = (ROOT / "tests" / "kept" / "version_0_1_0" / "piece.bossage.json").read_bytes()
OLD_STORE = (ROOT / "tests" / "store" / "version-1.sql").read_text(encoding="utf-8")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    rng, seen = random.Random(asked.seed), Counter[str]()
    vars(web_app)["load_bundle"] = lambda: Bundle(page="token=" + TOKEN_MARK, assets={})
    make_plan(read_brief(TEXT))  # what is loaded late is loaded now
    gc.freeze()
    lives: dict[str, Callable[[Path, random.Random, Counter[str]], None]] = {
        "saves": life_of_saves,
        "imports": life_of_imports,
        "backups": life_of_backups,
        "restores": life_of_restores,
        "upgrades": life_of_upgrades,
        "papers": life_of_papers,
    }
    begun = time.monotonic()
    with tempfile.TemporaryDirectory(prefix="bossage-trust-") as folder:
        for number in range(asked.kills):
            (kind,) = rng.choices(list(lives), (8, 3, 2, 2, 3, 2))
            place = Path(folder) / kind
            place.mkdir(exist_ok=True)
            lives[kind](place, rng, seen)
            seen[kind] += 1
            if number % 200 == 199:
                print(f"  {number + 1} kills, {time.monotonic() - begun:.0f} s", flush=True)
    kinds = ", ".join(f"{seen[kind]} during {kind}" for kind in lives)
    print(f"{asked.kills} kills: {kinds}")
    print(f"{seen['acknowledged']} acknowledged changes, none lost; {seen['copied']} copies between changes, all whole")
    print(f"{seen['within']} kills fell between the beginning of a change, an upgrade or an exchange and its word")
    print(f"{time.monotonic() - begun:.0f} s")
    return 0


class Life:
    """A server that was forked off, and what it acknowledged."""

    def __init__(self, store: Path) -> None:
        back, out = os.pipe()
        self.number = os.fork()
        if self.number == 0:
            os.close(back)
            with suppress(BaseException):
                os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
                serve(store, brief=None, port=0, browser=False, say=lambda words: _say(out, words))
            os._exit(1)
        os.close(out)
        self.lines = os.fdopen(back)

    def port(self) -> int:
        """Wait until it serves; 0 if it was killed before."""
        for line in self.lines:
            if "http://127.0.0.1:" in line:
                return int(line.split("127.0.0.1:")[1].split("/")[0])
        return 0

    def kill(self) -> None:
        os.kill(self.number, signal.SIGKILL)
        os.waitpid(self.number, 0)
        self.lines.close()


def _say(out: int, words: str) -> None:
    os.write(out, (words + "\n").encode())


class Desktop:
    """A page in front of a server."""

    def __init__(self, port: int) -> None:
        self.desk = http.client.HTTPConnection("127.0.0.1", port, timeout=ENOUGH_S)
        self.token = ""
        self.token = self.ask("GET", "/").decode().removeprefix("token=")

    def ask(self, method: str, path: str, body: Any = None) -> bytes:
        data = body if isinstance(body, bytes) else None if body is None else json.dumps(body).encode()
        kind = "application/octet-stream" if isinstance(body, bytes) else "application/json"
        self.desk.request(method, path, data, {"content-type": kind, "x-bossage-token": self.token})
        answer = self.desk.getresponse()
        said = answer.read()
        assert answer.status < 500, said
        assert answer.status < 300, said
        return said


def killed_within(life: Life, rng: random.Random, work: Callable[[], None]) -> None:
    """Do something over HTTP a few times, and kill the server a random moment after the last of them was begun."""
    taken_s = 0.0
    for _ in range(1 + rng.randrange(3)):
        begun_s = time.monotonic()
        work()
        taken_s = time.monotonic() - begun_s
    moment_s = rng.random() * 1.3 * taken_s
    killer = os.fork()
    if killer == 0:
        time.sleep(moment_s)
        with suppress(OSError):
            os.kill(life.number, signal.SIGKILL)
        os._exit(0)
    with suppress(OSError, http.client.HTTPException):
        while True:
            work()
    os.waitpid(killer, 0)
    life.kill()


def life_of_saves(place: Path, rng: random.Random, seen: Counter[str]) -> None:
    store = place / "pieces.sqlite"
    if store.exists() and store.stat().st_size > LARGE_BYTES:
        shutil.rmtree(place)  # a long history takes longer to look through, and shows nothing new
        place.mkdir()
    piece_id = begun(store)
    with Pieces(store) as pieces:
        head = pieces.revision(piece_id).head_n
    acknowledged: list[tuple[int, int]] = []  # revision and seed
    copies: list[tuple[Path, int]] = []
    life = Life(store)
    desktop = Desktop(life.port())

    def save() -> None:
        nonlocal head
        if rng.random() < 0.3:
            copies.append((place / f"copy-{len(copies)}.sqlite", head))
            shutil.copy(store, copies[-1][0])
        seed = rng.randrange(10**6)
        edit = {"op": "set", "path": ["piece", "seed"], "value": seed}
        path = f"/api/pieces/{piece_id}/changes"
        head = json.loads(desktop.ask("POST", path, {"base_revision_n": head, "edits": [edit]}))["revision_n"]
        acknowledged.append((head, seed))

    killed_within(life, rng, save)
    with looked_at(store) as pieces:
        for number, seed in acknowledged:
            assert f"seed = {seed}" in pieces.revision(piece_id, number).toml, f"revision {number} is lost"
        now = pieces.revision(piece_id).head_n
        assert now in (head, head + 1), "the head is another"
        seen["within"] += now > head
    for path, number in copies:
        with looked_at(path) as pieces:
            assert pieces.revision(piece_id).head_n == number, "a copy between two changes lacks one"
        path.unlink()
    seen["acknowledged"] += len(acknowledged)
    seen["copied"] += len(copies)


def life_of_imports(place: Path, rng: random.Random, seen: Counter[str]) -> None:
    store = place / "pieces.sqlite"
    begun(store)
    life = Life(store)
    desktop = Desktop(life.port())
    taken: list[str] = []

    def take() -> None:
        taken.append(json.loads(desktop.ask("POST", "/api/import", PIECE_FILE))["piece_id"])

    killed_within(life, rng, take)
    with looked_at(store) as pieces:
        there = {row.piece_id for row in pieces.all()}
        assert there.issuperset(taken), "a piece that was taken in is lost"
        for piece_id in there - {begun(store)}:
            assert len(pieces.history(piece_id)) == 4, "half a piece was taken in"
        seen["within"] += len(there) - 1 > len(taken)
    seen["acknowledged"] += len(taken)
    store.unlink()


def life_of_backups(place: Path, rng: random.Random, seen: Counter[str]) -> None:
    store, out = place / "pieces.sqlite", place / "backup.sqlite"
    piece_id = begun(store)
    forked(rng, 0.03, lambda: copy_store(store, out))
    if out.exists():
        with looked_at(out) as copy, looked_at(store) as pieces:
            assert copy.revision(piece_id) == pieces.revision(piece_id)
        out.unlink()
    else:
        seen["within"] += 1
    with looked_at(store) as pieces:
        assert len(pieces.history(piece_id)) >= 1


def life_of_restores(place: Path, rng: random.Random, seen: Counter[str]) -> None:
    store, copy = place / "pieces.sqlite", place / "copy.sqlite"
    piece_id = begun(store)
    copy_store(store, copy)
    with Pieces(store) as pieces:
        before = pieces.revision(piece_id)
        later = Desk(pieces).save(piece_id, before.head_n, before.toml + "# later\n", "later")
    forked(rng, 0.06, lambda: restore(copy, store, now=lambda: NOW))
    with looked_at(store) as pieces:
        now = pieces.revision(piece_id).head_n
        assert now in (before.head_n, later), "neither as it was nor as it is to be"
        seen["within"] += now == later
        if now != later:
            with looked_at(kept_copies(store)[0]) as kept:
                assert kept.revision(piece_id).head_n == later, "the store as it was is lost"
    for path in (copy, *kept_copies(store), store):
        path.unlink()


def life_of_upgrades(place: Path, rng: random.Random, seen: Counter[str]) -> None:
    store = place / "pieces.sqlite"
    with closing(sqlite3.connect(store)) as old:
        old.executescript(OLD_STORE)
    life = Life(store)
    time.sleep(rng.random() * 0.06)
    life.kill()
    version = look_through(store)
    kept = kept_copies(store)
    assert version == 1 or kept, "upgraded without a copy"
    seen["within"] += bool(kept) and version == 1
    for path in (*kept, store):
        with looked_at(path) as pieces:
            assert len(pieces.history("0123456789ab")) == 3
    shutil.rmtree(place)


def life_of_papers(place: Path, rng: random.Random, seen: Counter[str]) -> None:
    out = place / "papers"
    plans = [{f"{name}.pdf": f"{plan} {name}".encode() * 2000 for name in range(12 + plan)} for plan in range(2)]
    write_folder(out, plans[0], plan="0")
    forked(rng, 0.02, lambda: write_folder(out, plans[1], plan="1"))
    seen["within"] += any(out.glob(".bossage-new-*"))
    undo_left_over(out)
    found = {path.name: path.read_bytes() for path in out.iterdir() if path.name != MADE}
    assert found in plans, "a folder with papers of two plans"
    shutil.rmtree(out)


def forked(rng: random.Random, most_s: float, work: Callable[[], object]) -> None:
    """Work in a process of its own, killed at a random moment."""
    child = os.fork()
    if child == 0:
        with suppress(BaseException):
            work()
        os._exit(0)
    time.sleep(rng.random() * most_s)
    with suppress(ProcessLookupError):
        os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)


def begun(store: Path) -> str:
    """The first piece of a store, made if there is none."""
    with Pieces(store) as pieces:
        there = sorted(pieces.all(), key=lambda row: row.name != "Meter cupboard in the hall")
        mine = [row for row in there if pieces.revision(row.piece_id, 1).row.words == "begin"]
        if mine:
            return mine[0].piece_id
        made: str = Desk(pieces).make(TEXT, "begin")["piece_id"]
        return made


def looked_at(path: Path) -> Pieces:
    """The pieces of a file that is sound in every respect."""
    look_through(path, thoroughly=True)
    return Pieces(path)


if __name__ == "__main__":
    sys.exit(main())
