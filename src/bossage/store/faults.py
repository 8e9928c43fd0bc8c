"""What can go wrong with the store, in a maker's words."""

from __future__ import annotations

from pathlib import Path

from bossage.errors import BossageError


class StoreFault(BossageError):
    """The file of pieces cannot be used: not ours, of a later version, or the disk refuses."""


class DamagedStore(StoreFault):
    """A file of pieces of which a part is destroyed. Nothing in the file was changed.

    Attributes:
        path: The file.
    """

    def __init__(self, path: Path, said: str) -> None:
        self.path = path
        first = " ".join(said.split())[:120]
        super().__init__(
            f"{path} is damaged ({first}). Nothing in it was changed. `bossage rescue --out NEW.sqlite` takes every "
            "piece out of it that can still be read; `bossage restore` lists the copies that were kept beside it. "
            "Another file can be named with --store."
        )


class NoSuchPiece(BossageError):
    """There is no piece of that name or number."""


class NoSuchRevision(BossageError):
    """The piece has no revision of that number."""


class NotYet(BossageError):
    """What was asked for has no sense at this moment: nothing to undo, not in the wastebasket."""


class NotTheHead(BossageError):
    """A change of a revision that is no longer the newest. Nothing is lost: the refused change is kept beside.

    Attributes:
        theirs_n: The revision that stands.
        mine_n: The refused one, kept; None where there was nothing to keep (an undo).
    """

    def __init__(self, theirs_n: int, mine_n: int | None) -> None:
        self.theirs_n, self.mine_n = theirs_n, mine_n
        kept = f" Yours is kept beside it as revision {mine_n}." if mine_n is not None else ""
        super().__init__(f"The piece has been changed elsewhere meanwhile; revision {theirs_n} stands.{kept}")
