"""Exchanging many files of a folder at once: all of them or none, also when the disk or the power fails in between.

New files are first made in a hidden folder inside. What is going to be done is written down there before the first file
is moved, and every file that gives way is moved beside it. As long as that note lies there the exchange can be undone:
at once when something fails, or by the next command that writes here after a power cut.
"""

from __future__ import annotations

import json
import os
import re
import secrets
import shutil
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path, PurePosixPath, PureWindowsPath

from bossage.system import flush, is_alive

_HIDDEN = re.compile(r"\.bossage-new-(\d+)-[0-9a-f]{8}")
_STEPS = "steps.json"


class NotUndone(Exception):
    """An exchange that failed and could not be undone either; what gave way lies in `folder`."""

    def __init__(self, said: str, folder: Path) -> None:
        self.folder = folder
        super().__init__(said)


def exchange(
    out: Path, files: Mapping[str, bytes], *, keep_as: Mapping[str, str], remove: tuple[str, ...] = ()
) -> None:
    """Put files into a folder and take others away, all or nothing.

    Args:
        out: The folder, which is there.
        files: Their bytes by name.
        keep_as: Of files that are there and give way, those to be kept, with the name that each gets.
        remove: Files to be taken away.

    Raises:
        OSError: The disk refuses; the folder is as it was.
        NotUndone: The disk refuses, and refuses to put back what was there as well.
    """
    hidden = out / f".bossage-new-{os.getpid()}-{secrets.token_hex(4)}"
    hidden.mkdir()
    try:
        for name, data in files.items():
            _write(hidden / "new" / name, data)
        away = {name: keep_as.get(name) for name in (*files, *remove) if (out / name).exists()}
        fresh = [name for name in files if name not in away]
        _write(hidden / _STEPS, json.dumps({"away": away, "fresh": fresh}).encode())
        try:
            _move(out, hidden, files, away)
        except BaseException as fault:
            _undo_or_say(out, hidden, fault)
            raise
        (hidden / _STEPS).unlink()  # from here on the exchange is done
        for name in remove:
            _leave_no_empty(out, name)
    except NotUndone:
        raise
    except BaseException:
        shutil.rmtree(hidden, ignore_errors=True)
        raise
    shutil.rmtree(hidden, ignore_errors=True)


def undo_left_over(out: Path) -> None:
    """Undo what a process left half done that ended within an exchange.

    Raises:
        NotUndone: The disk refuses.
    """
    for hidden in out.glob(".bossage-new-*"):
        found = _HIDDEN.fullmatch(hidden.name)
        if found is None or not hidden.is_dir() or is_alive(int(found.group(1))):
            continue
        if (hidden / _STEPS).exists():
            _undo_or_say(out, hidden, None)
        shutil.rmtree(hidden, ignore_errors=True)


def leads_inside(name: str) -> bool:
    """Whether a name leads to a place below its folder on any system: without root, drive or a step up."""
    return all(
        not path.anchor and path.parts and ".." not in path.parts
        for path in (PurePosixPath(name), PureWindowsPath(name))
    )


def _move(out: Path, hidden: Path, files: Mapping[str, bytes], away: Mapping[str, str | None]) -> None:
    for name, kept in away.items():
        if name not in files:
            _replace(out / name, _aside(out, hidden, name, kept))
    for name in files:
        if name in away:
            _replace(out / name, _aside(out, hidden, name, away[name]))
        _replace(hidden / "new" / name, out / name)


def _undo_or_say(out: Path, hidden: Path, cause: BaseException | None) -> None:
    try:
        _undo(out, hidden)
    except (OSError, ValueError, KeyError, TypeError, AttributeError) as fault:
        raise NotUndone(str(cause or fault), hidden) from None


def _undo(out: Path, hidden: Path) -> None:
    """Put everything back as the steps say it was. Done twice it does no harm."""
    steps = json.loads((hidden / _STEPS).read_bytes())
    named = [*steps["away"], *(kept for kept in steps["away"].values() if kept is not None), *steps["fresh"]]
    if not all(leads_inside(name) for name in named):
        raise ValueError(f"{hidden / _STEPS} names places outside the folder")
    for name, kept in steps["away"].items():
        aside = _aside(out, hidden, name, kept)
        if aside.exists():
            _replace(aside, out / name)
    for name in steps["fresh"]:
        if not (hidden / "new" / name).exists():
            (out / name).unlink(missing_ok=True)
        _leave_no_empty(out, name)
    (hidden / _STEPS).unlink()


def _aside(out: Path, hidden: Path, name: str, kept: str | None) -> Path:
    return hidden / "old" / name if kept is None else out / kept


def _replace(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    os.replace(source, target)


def _leave_no_empty(out: Path, name: str) -> None:
    """Take the folders away that a file left empty."""
    for folder in list((out / name).parents):
        if folder == out:
            return
        with suppress(OSError):
            folder.rmdir()


def _write(path: Path, data: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("xb") as file:
        file.write(data)
        file.flush()
        flush(file.fileno())
