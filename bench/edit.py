"""How long an edit of S2 takes at the server: change the text, save it, plan what changed, answer with the whole view.

Over HTTP on the loopback address, server and client in one process, each kind of edit several times with values that
were not seen before. The peer, in the same run: the brief read and planned from nothing. Wall time is what a maker
waits; CPU time of the process tells the same on a machine that others use as well.

Run: python bench/edit.py [--rounds 8]
"""

from __future__ import annotations

import argparse
import http.client
import json
import statistics
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

import uvicorn

from bossage.brief import read_brief
from bossage.examples import example_text
from bossage.plan import make_plan
from bossage.store import Pieces
from bossage.web.app import make_app

TARGET_MS = 150.0
TOKEN = "bench"
Edit = dict[str, Any]


def put(*path: str | int, to: Any) -> Edit:
    return {"op": "set", "path": list(path), "value": to}


def pin(n: int, **what: Any) -> Edit:
    address = f"{n % 16 + 1}·{n // 16 % 8 + 1}a"
    return {"op": "append", "path": ["pin"], "value": {"leaf": "whole", "block": address, **what}}


#: Each kind of edit, by a number that is new each time.
KINDS: dict[str, Callable[[int], Edit]] = {
    "pin a level": lambda n: pin(n, level=(22, 26, 30, 35)[n % 4]),
    "pin a shade": lambda n: pin(64 + n, shade=("rust 50", "clay 58")[n % 2]),
    "move": lambda n: put("leaf", 0, "x", to=880 + n),
    "gap": lambda n: put("blocks", "gap", to=(n % 12) / 10),
    "seed": lambda n: put("piece", "seed", to=100 + n),
    "price": lambda n: put("price", 0, "price", to=30 + n),
    "a shade's lightness": lambda n: put("family", 0, "lightness", 1, to=70 + n % 9 + n / 100),
    "grain": lambda n: put("fade", "grain", to=0.5 + n / 100),
}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=8)
    rounds = parser.parse_args().rounds
    text = example_text("s2")
    with tempfile.TemporaryDirectory() as folder, served(Path(folder) / "pieces.sqlite") as port:
        desk = http.client.HTTPConnection("127.0.0.1", port)
        piece = ask(desk, "POST", "/api/pieces", {"toml": text})
        base, path = 1, f"/api/pieces/{piece['piece_id']}/changes"
        taken: dict[str, list[tuple[float, float]]] = {kind: [] for kind in KINDS}
        anew: list[tuple[float, float]] = []
        for n in range(rounds):
            for kind, edit in KINDS.items():
                change = {"base_revision_n": base, "edits": [edit(n)], "words": kind}
                answer, *times = timed(partial(ask, desk, "POST", path, change))
                taken[kind].append((times[0], times[1]))
                base = answer["revision_n"]
            _, *times = timed(lambda: make_plan(read_brief(text)))
            anew.append((times[0], times[1]))
    print(f"{'edit':<22}{'wall ms':>9}{'CPU ms':>9}   of a plan made anew")
    full = [statistics.median(column) for column in zip(*anew, strict=True)]
    for kind, pairs in taken.items():
        report(kind, pairs, full)
    every = [pair for pairs in taken.values() for pair in pairs]
    wall = report("all edits", every, full)
    report("plan made anew", anew, full)
    print(f"median {wall:.0f} ms, {'within' if wall <= TARGET_MS else 'OVER'} {TARGET_MS:.0f} ms")


def report(kind: str, pairs: list[tuple[float, float]], full: list[float]) -> float:
    wall = statistics.median(pair[0] for pair in pairs)
    cpu = statistics.median(pair[1] for pair in pairs)
    print(f"{kind:<22}{wall:9.1f}{cpu:9.1f}   {wall / full[0]:.2f} of its wall, {cpu / full[1]:.2f} of its CPU time")
    return wall


def timed(work: Callable[[], Any]) -> tuple[Any, float, float]:
    wall, cpu = time.perf_counter(), time.process_time()
    result = work()
    return result, 1e3 * (time.perf_counter() - wall), 1e3 * (time.process_time() - cpu)


def ask(desk: http.client.HTTPConnection, method: str, path: str, body: Any) -> Any:
    desk.request(method, path, json.dumps(body), {"content-type": "application/json", "x-bossage-token": TOKEN})
    answer = desk.getresponse()
    data = json.loads(answer.read())
    assert answer.status < 300, data
    return data


@contextmanager
def served(store: Path) -> Iterator[int]:
    """The server in a thread; its port."""
    from bossage.web.serve import listen

    listener = listen(0)
    port: int = listener.getsockname()[1]
    app = make_app(Pieces(store), hosts=frozenset({f"127.0.0.1:{port}"}), token=TOKEN)
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    yield port
    server.should_exit = True
    thread.join()


if __name__ == "__main__":
    main()
