"""A writer that saves and says what was acknowledged, to be killed at any moment."""

from __future__ import annotations

import os
from pathlib import Path

from bossage.store import Facts, Pieces

FACTS = Facts(name="piece", seed=1, stamp="0000-0000", verdict="fine")


def text_of(number: int) -> str:
    """A brief-sized text that tells which it is, and whether it is whole."""
    return f"# {number}\n" + "# x = 1, filling\n" * (200 + number % 50) + f"# end {number}\n"


def write_for_ever(path: Path, piece_id: str, out: int) -> None:
    """Save, undoing and redoing now and then; each line into the pipe `out` is one acknowledged act."""

    def say(*words: object) -> None:
        os.write(out, (" ".join(map(str, words)) + "\n").encode())

    pieces = Pieces(path)
    head = pieces.revision(piece_id).head_n
    while True:
        new_n = pieces.history(piece_id)[0].revision_n + 1
        head = pieces.save(piece_id, head, text_of(new_n), FACTS, f"save {new_n}")
        say("saved", head)
        if head % 5 == 0:
            pieces.undo(piece_id, head)
            say("undone", head)
            pieces.redo(piece_id, pieces.revision(piece_id).head_n)
            say("redone", head)
