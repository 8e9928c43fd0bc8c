"""Kills a writer 1,000 times during saves and looks at what it left; then how long one saved change takes.

The kills are those of tests/store. A save is an append to SQLite with the disk told to keep it; its bound, in the same
run, is a bare file that is appended to and flushed to the disk as often, with as many bytes.

Run: python bench/store.py [--kills 1000] [--saves 200]
"""

from __future__ import annotations

import argparse
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.store.killing import kill_often
from tests.store.writer import FACTS, text_of

from bossage.store import Pieces


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=1000)
    parser.add_argument("--saves", type=int, default=200)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        seen = kill_often(Path(folder), asked.kills, seed=7)
    print(
        f"{seen.kills} kills: {seen.acknowledged} acknowledged revisions, all there and whole; {seen.within} kills "
        "fell between a save and its word; integrity and foreign keys clean each time"
    )
    with tempfile.TemporaryDirectory() as folder:
        save = saved_ms(Path(folder), asked.saves)
        bare = flushed_ms(Path(folder) / "bare", asked.saves)
    print(f"a saved change {save:6.2f} ms, a bare flushed append {bare:6.2f} ms, {save / bare:.1f} × (median)")


def saved_ms(folder: Path, saves: int) -> float:
    with Pieces(folder / "pieces.sqlite") as pieces:
        piece_id = pieces.make(text_of(1), FACTS, "begin")
        return median_ms(lambda n: pieces.save(piece_id, n, text_of(n + 1), FACTS, "save"), saves)


def flushed_ms(path: Path, saves: int) -> float:
    with path.open("ab") as file:

        def append(n: int) -> None:
            file.write(text_of(n + 1).encode())
            file.flush()
            os.fsync(file.fileno())

        return median_ms(append, saves)


def median_ms(work: Callable[[int], object], times: int) -> float:
    taken = []
    for n in range(1, times + 1):
        start = time.perf_counter()
        work(n)
        taken.append(time.perf_counter() - start)
    return 1e3 * statistics.median(taken)


if __name__ == "__main__":
    main()
