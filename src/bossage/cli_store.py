"""The commands that keep the store of pieces safe: a copy of it, a copy put back, and what is left of a damaged one."""

from __future__ import annotations

import sys
from pathlib import Path

from cyclopts import App

from bossage.cli_pieces import AsJson, Quiet, StoreFile

DONE = 0


def add_commands(app: App) -> None:
    """Give the application these commands."""
    app.command(backup)
    app.command(restore_command, name="restore")
    app.command(rescue_command, name="rescue")


def backup(*, out: Path, store: StoreFile = None, as_json: AsJson = False, quiet: Quiet = False) -> int:
    """Copy all pieces into one new file, whole also while the workbench is at work on them, and check the copy.

    Args:
        out: The new file, such as pieces-today.sqlite; a file that is there is never written over.
    """
    from bossage.serial import dumps
    from bossage.store import copy_store, default_store, look_through

    source = store or default_store()
    copy_store(source, out)
    look_through(out, thoroughly=True)
    if as_json:
        sys.stdout.buffer.write(dumps({"out": str(out), "bytes": out.stat().st_size}))
    elif not quiet:
        print(
            f"All pieces of {source} are in {out}, and the copy was read through. `bossage restore {out}` puts it back."
        )
    return DONE


def restore_command(
    copy: Path | None = None, /, *, store: StoreFile = None, as_json: AsJson = False, quiet: Quiet = False
) -> int:
    """Put a copy of all pieces in the place of the store; without a name, list the copies that were kept by themselves.

    Args:
        copy: The copy. The store as it was is kept beside it, and its place is printed.
    """
    from bossage.serial import Json, dumps
    from bossage.store import copies_folder, default_store, kept_copies, restore
    from bossage.store.pieces import utc_now

    target = store or default_store()
    if copy is None:
        kept = kept_copies(target)
        if as_json:
            sys.stdout.buffer.write(dumps({"copies": [str(path) for path in kept]}))
        elif not quiet:
            print("\n".join(map(str, kept)) or f"No copy lies in {copies_folder(target)} yet.")
        return DONE
    done = restore(copy, target, now=utc_now)
    if as_json:
        body: Json = {
            "pieces": done.pieces,
            "kept": None if done.kept is None else str(done.kept),
            "damaged": done.damaged,
        }
        sys.stdout.buffer.write(dumps(body))
    elif not quiet:
        was = "It was damaged and is" if done.damaged else "What was there before is"
        before = "" if done.kept is None else f" {was} kept as {done.kept}."
        print(f"{target} holds the {done.pieces} pieces of {copy}.{before}")
    return DONE


def rescue_command(*, out: Path, store: StoreFile = None, as_json: AsJson = False, quiet: Quiet = False) -> int:
    """Take every piece that can still be read out of a damaged store, into a new one; the damaged one is only read.

    Args:
        out: The new file of pieces.
    """
    from bossage.serial import dumps, to_json
    from bossage.store import default_store, rescue

    damaged = store or default_store()
    taken = rescue(damaged, out)
    if as_json:
        sys.stdout.buffer.write(dumps({"out": str(out), "pieces": to_json(taken)}))
    elif not quiet:
        for piece in taken:
            state = "whole" if piece.whole else "not whole: some revisions or names are lost"
            print(f"{piece.piece_id}  {piece.name}  {piece.revisions} revisions, {piece.photos} photos, {state}")
        print(
            f"They are in {out}. Look at them with `bossage open --store {out}`; `bossage restore {out}` puts them in"
        )
        print(f"the place of {damaged}, which is kept beside it.")
    return DONE
