"""Kills a writer again and again and looks at what it left; the test does it 300 times, the benchmark 1,000."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
from pathlib import Path

from bossage.store import Pieces
from tests.store.writer import FACTS, text_of, write_for_ever


class Killed:
    """Counts of what was seen."""

    def __init__(self) -> None:
        self.kills = self.acknowledged = self.within = 0


def kill_often(folder: Path, kills: int, seed: int, *, saves_each: int = 8) -> Killed:
    """Start a writer, let it acknowledge a few acts, kill it a random moment later, look; `kills` times.

    Raises:
        AssertionError: An acknowledged revision is missing or not whole, or the file is damaged.
    """
    rng = random.Random(seed)
    path = folder / "pieces.sqlite"
    with Pieces(path) as pieces:
        piece_id = pieces.make(text_of(1), FACTS, "begin")
    seen = Killed()
    while seen.kills < kills:
        said = _one_life(path, piece_id, rng, saves_each)
        seen.kills += 1
        last = max((int(words[1]) for words in said if words[0] == "saved"), default=0)
        seen.acknowledged += sum(words[0] == "saved" for words in said)
        seen.within += _look(path, piece_id, last, said)
    return seen


def _one_life(path: Path, piece_id: str, rng: random.Random, saves_each: int) -> list[list[str]]:
    back, out = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(back)
            write_for_ever(path, piece_id, out)
        finally:
            os._exit(1)
    os.close(out)
    with os.fdopen(back) as lines:
        said = [lines.readline() for _ in range(rng.randrange(saves_each) + 1)]
        # a random moment within the next save: spin a while, which no timer of the system rounds
        for _ in range(rng.randrange(60_000)):
            pass
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        said += lines.readlines()
    # a line that the kill cut in two acknowledges nothing
    return [line.split() for line in said if line.endswith("\n")]


def _look(path: Path, piece_id: str, last: int, said: list[list[str]]) -> bool:
    """Whether everything acknowledged is there and whole; returns whether a save was done but not yet acknowledged."""
    raw = sqlite3.connect(path)
    assert raw.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
    assert raw.execute("PRAGMA foreign_key_check").fetchall() == []
    raw.close()
    with Pieces(path) as pieces:
        numbers = [row.revision_n for row in pieces.history(piece_id)]
        assert numbers == list(range(numbers[0], numbers[-1] - 1, -1)), "a gap in the history"
        assert numbers[0] >= last, f"revision {last} was acknowledged and is gone"
        for number in numbers[: len(said) + 2]:
            assert pieces.revision(piece_id, number).toml == text_of(number), "half a change is seen"
        head = pieces.revision(piece_id).head_n
        assert head in (numbers[0], numbers[0] - 1)
        return numbers[0] > last > 0
