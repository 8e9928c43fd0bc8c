"""The commands around the store of pieces: open the workbench, list the pieces, keep a brief, print one."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import App, Parameter, validators

if TYPE_CHECKING:
    from bossage.store import Pieces

DONE = 0

AsJson = Annotated[bool, Parameter(name="--json", negative=(), help="Print the outcome as JSON, for programs.")]
Quiet = Annotated[bool, Parameter(name="--quiet", negative=(), help="Print nothing unless something is wrong.")]
Port = Annotated[int, Parameter(validator=validators.Number(gte=0, lte=65_535))]
StoreFile = Annotated[
    Path | None, Parameter(name="--store", help="The file of pieces; in the folder for programs' data if not said.")
]


def add_commands(app: App) -> None:
    """Give the application these commands."""
    app.command(open_command, name="open")
    app.command(pieces)
    app.command(keep)
    app.command(brief)


def opened(store: Path | None) -> Pieces:
    """The store, the usual one if none is named; what its opening found is said on standard error."""
    from bossage.store import Pieces, default_store

    pieces = Pieces(store or default_store())
    for note in pieces.file.notes:
        print(note, file=sys.stderr)
    return pieces


def open_command(
    brief: str = "", /, *, store: StoreFile = None, port: Port | None = None, browser: bool = True, quiet: Quiet = False
) -> int:
    """Open the workbench in the browser, served on this machine alone.

    Args:
        brief: A brief (a TOML file), or a piece by its name or number; the piece changed last if left out.
        port: The port to serve on; 0 for any that is free. 8722 if not said, or any that is free where it is taken.
        browser: Open the browser.
    """
    from bossage.store import default_store
    from bossage.web.serve import serve

    def say(words: str) -> None:
        if not quiet:
            print(words, flush=True)

    serve(store or default_store(), brief=brief or None, port=port, browser=browser, say=say)
    return DONE


def pieces(*, store: StoreFile = None, as_json: AsJson = False, quiet: Quiet = False) -> int:
    """List the pieces that are kept, the last changed first."""
    from bossage.serial import dumps, to_json

    with opened(store) as kept:
        rows = kept.all()
    if as_json:
        sys.stdout.buffer.write(dumps({"pieces": to_json(rows)}))
    elif not quiet:
        width = max((len(row.name) for row in rows), default=0)
        for row in rows:
            basket = "  (in the wastebasket)" if row.discarded else ""
            words = f"revision {row.revision_n}, {row.verdict}, {row.changed_at}"
            print(f"{row.piece_id}  {row.name:<{width}}  {words}{basket}")
        if not rows:
            print("No piece is kept yet. `bossage open` begins with an example, `bossage keep BRIEF` keeps a brief.")
    return DONE


def keep(
    brief: Path,
    /,
    *,
    piece: str = "",
    words: str = "",
    store: StoreFile = None,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> int:
    """Keep a brief as a new piece, or as the next revision of one that is kept.

    Args:
        brief: The brief, a TOML file.
        piece: The piece that it is a revision of, by name or number; a new piece if left out.
        words: What changed, for the history.
    """
    from bossage.files import read_text
    from bossage.serial import dumps
    from bossage.web.desk import Desk

    text = read_text(brief)
    with opened(store) as kept:
        desk = Desk(kept)
        if piece:
            piece_id = kept.named(piece)
            base_n = kept.revision(piece_id).head_n
            revision_n = desk.save(piece_id, base_n, text, words or f"Keep {brief.name}")
        else:
            piece_id = desk.make(text, words or f"Begin with {brief.name}")["piece_id"]
            revision_n = 1
        name = kept.revision(piece_id).row.name
    if as_json:
        sys.stdout.buffer.write(dumps({"piece_id": piece_id, "name": name, "revision_n": revision_n}))
    elif not quiet:
        print(f"{name} is kept as piece {piece_id}, revision {revision_n}.")
    return DONE


def brief(
    piece: str, /, *, revision: int = 0, store: StoreFile = None, as_json: AsJson = False, quiet: Quiet = False
) -> int:
    """Print the brief of a piece that is kept, comments and all.

    Args:
        piece: The piece, by name or number.
        revision: Which revision; the newest if left out.
    """
    from bossage.serial import Json, dumps

    with opened(store) as kept:
        found = kept.revision(kept.named(piece), revision or None)
    if as_json:
        row = found.row
        body: Json = {"piece_id": found.piece_id, "name": row.name, "revision_n": row.revision_n, "brief": found.toml}
        sys.stdout.buffer.write(dumps(body))
    elif not quiet:
        sys.stdout.buffer.write(found.toml.encode("utf-8"))
    return DONE
