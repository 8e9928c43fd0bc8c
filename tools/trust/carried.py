"""Takes in thousands of changed piece files, and looks at what that costs and at what is kept.

Held: each is refused in a sentence and nothing is kept, or the piece opens, and goes out as it came in; nothing else is
raised, and none takes longer or more memory than is allowed.

Run: python tools/trust/carried.py [--pieces 2000] [--seed 1]
"""

from __future__ import annotations

import argparse
import json
import random
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "src")]

from tests.store.mutants import mutants
from tests.store.test_carry import opens_and_comes_back

from bossage.errors import BossageError
from bossage.store import Pieces, import_piece

PIECE_FILE = ROOT / "tests" / "kept" / "version_0_1_0" / "piece.bossage.json"
T = TypeVar("T")
MOST_S, MOST_MB = 10.0, 1500.0
SHOWN_EVERY = 10  # a piece that was taken in is planned now and then: that costs most


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pieces", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    rng = random.Random(asked.seed)
    with tempfile.TemporaryDirectory(prefix="bossage-trust-") as folder:
        taking = Taking(Path(folder))
        files = mutants(PIECE_FILE.read_bytes(), rng, asked.pieces)
        say("piece files", *many(files, taking.take, taking.look))
    return 0


class Taking:
    """Takes piece files into one store and looks at what came of them."""

    def __init__(self, folder: Path) -> None:
        self.pieces = Pieces(folder / "pieces.sqlite")
        self.there = self.shown = 0

    def take(self, data: bytes) -> str:
        return import_piece(self.pieces, data)

    def look(self, data: bytes, piece_id: str | None) -> None:
        """Outside of the time that is taken: planning a changed brief is another matter."""
        self.there += piece_id is not None
        assert len(self.pieces.all()) == self.there, "refused, and kept all the same"
        if piece_id is not None and self.there % SHOWN_EVERY == 1:
            opens_and_comes_back(self.pieces, piece_id, json.loads(data.decode("utf-8-sig")))


def many(
    cases: Iterator[bytes], work: Callable[[bytes], T], look: Callable[[bytes, T | None], None] | None = None
) -> tuple[int, int, float]:
    """How many were taken, how many refused in words, and the longest time of one."""
    taken = refused = 0
    longest_s = 0.0
    for data in cases:
        found: T | None = None
        said = ""
        begun = time.process_time()
        try:
            found = work(data)
        except BossageError as fault:
            said = str(fault)
        longest_s = max(longest_s, time.process_time() - begun)
        assert (found is None) == (0 < len(said) < 600)
        taken, refused = taken + (found is not None), refused + (found is None)
        if look is not None:
            look(data, found)
    return taken, refused, longest_s


def say(what: str, taken: int, refused: int, longest_s: float) -> None:
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1e6 if sys.platform == "darwin" else 1e3)
    print(
        f"{taken + refused} changed {what}: {taken} taken, {refused} refused in words; the longest took "
        f"{longest_s:.2f} s of CPU time, and this process at most {peak_mb:.0f} MB"
    )
    assert longest_s <= MOST_S
    assert peak_mb <= MOST_MB


if __name__ == "__main__":
    sys.exit(main())
