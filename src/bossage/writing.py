"""Writing single files and whole folders of papers: whole or not at all, and over nothing that we did not make.

A file gets its name only when all of it is on the disk, and never the name of a file that is there. What a folder of
papers holds is written down in the folder itself, in `MADE`, with a digest of each file: so the next plan knows which
files it may replace, which are of another plan and go, and which were never ours, or are the maker's by now.
"""

from __future__ import annotations

import json
import os
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path

from bossage.exchange import NotUndone, exchange, leads_inside, undo_left_over
from bossage.files import CannotWrite, why
from bossage.system import flush

MADE = ".bossage-made.json"
_FORMAT = "bossage.made/1"
#: A folder of version 0.1.0 says nothing of its files. These it always made, within moments of its plan.json.
_VERSION_0_1_0 = frozenset(
    (
        *("plan.json", "pack.pdf", "elevation.svg", "picture.png", "calendar.ics"),
        *("blocks.csv", "counts.csv", "cuts.csv", "shopping.csv", "paint.csv", "checks.csv"),
    )
)
_MOMENTS_S = 120.0
_UNKNOWN = "?"  # the plan of a file that version 0.1.0 may have made: it may be replaced, never taken away


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What was done to a folder: files of the maker's that were kept under another name, and what was taken away."""

    kept: Mapping[str, str] = field(default_factory=dict)
    taken_away: tuple[str, ...] = ()


def write_new(path: Path, data: bytes, *, option: str, overwrite: bool = False) -> Path | None:
    """Write one file that is not there yet.

    Args:
        path: The file.
        data: What it is to hold.
        option: The word of the command line that named it, for the advice.
        overwrite: Where a file is there, keep it under another name beside it.

    Returns:
        Where the file that was there is kept; None if there was none, or it holds the same already.

    Raises:
        CannotWrite: A file is there, or the disk refuses; nothing was changed.
    """
    half: Path | None = None
    kept: Path | None = None
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if os.path.lexists(path):
            if not path.is_file():
                raise CannotWrite(f"{path} is no ordinary file. Name a new file with {option}.")
            if path.read_bytes() == data:
                return None
            if not overwrite:
                raise CannotWrite(
                    f"{path} is there already, and nothing is written over. Name a new file with {option}, or say "
                    "--overwrite, which keeps the old one beside it."
                )
            kept = path.with_name(_free_name(path.parent, path.name))
        half = path.with_name(f".{path.name[:40]}-{secrets.token_hex(4)}.half")
        _write_flushed(half, data)
        if kept is None:
            _name_new(half, path, option)
        else:
            os.replace(path, kept)
            try:
                os.replace(half, path)
            except BaseException:
                os.replace(kept, path)
                raise
        return kept
    except OSError as fault:
        raise CannotWrite(
            f"{path} cannot be written: {why(fault, 'write')}. Nothing was changed; name another place with {option}."
        ) from None
    finally:
        if half is not None:
            half.unlink(missing_ok=True)


def write_folder(out: Path, files: Mapping[str, bytes], *, plan: str, overwrite: bool = False) -> Written:
    """Write all files into a folder, whole or not at all.

    New files are made in a hidden folder inside, so that a mount point, a link to another disk and a folder whose
    parent may not be written will do. Files of an earlier plan that this one does not make are taken away; all that we
    did not make, or that was changed since, stays.

    Args:
        out: The folder, made if it is not there.
        files: Their bytes by name; a name may lead into a folder below.
        plan: What the files are of: files of the same plan stay where others of that plan are added.
        overwrite: Replace files also that we did not make, and keep each under another name beside.

    Raises:
        CannotWrite: The folder cannot be made or written, the disk is full, or a file is in the way that we did not
            make.
    """
    made_here: list[Path] = []
    try:
        if out.exists() and not out.is_dir():
            raise CannotWrite(f"{out} is a file, and the papers need a folder. Name another with --out.")
        made_here = _make_folder(out)
        undo_left_over(out)
        before = _made_before(out)
        theirs = [name for name, data in files.items() if _is_theirs(out, name, data, before)]
        if theirs and not overwrite:
            raise CannotWrite(_in_the_way(out, theirs))
        kept = _free_names(out, theirs)
        others = {name: entry for name, entry in before.items() if name not in files}
        gone = tuple(
            name
            for name, (digest, of) in others.items()
            if of not in (plan, _UNKNOWN) and _digest(out / name) == digest
        )
        stays = {name: entry for name, entry in others.items() if entry[1] == plan}
        record = {**stays, **{name: (sha256(data).hexdigest(), plan) for name, data in files.items()}}
        exchange(out, {**files, MADE: _record(record)}, keep_as=kept, remove=gone)
        return Written(kept=kept, taken_away=gone)
    except NotUndone as fault:
        raise CannotWrite(
            f"The papers cannot be written to {out}: {fault}. Some papers there may be of this plan and some of the "
            f"one before, which are all kept in {fault.folder}. Make room and run the same command again: it begins by "
            "putting them back."
        ) from None
    except OSError as fault:
        _unmake(made_here)
        raise CannotWrite(
            f"The papers cannot be written to {out}: {why(fault, 'write')}. Nothing was changed there; make room or "
            "name another folder with --out."
        ) from None


def _make_folder(out: Path) -> list[Path]:
    """The folders that had to be made, the deepest first."""
    missing = []
    at = out
    while not at.exists():
        missing.append(at)
        at = at.parent
    out.mkdir(parents=True, exist_ok=True)
    return missing


def _unmake(folders: list[Path]) -> None:
    for folder in folders:
        try:
            folder.rmdir()
        except OSError:
            return


def _made_before(out: Path) -> dict[str, tuple[str, str]]:
    """Digest and plan of each file that is written down as ours."""
    try:
        body = json.loads((out / MADE).read_bytes())
        if body["format"] != _FORMAT:
            return {}
        return {
            str(name): (str(entry["sha256"]), str(entry["plan"]))
            for name, entry in body["files"].items()
            if leads_inside(str(name))
        }
    except FileNotFoundError:
        return _made_by_version_0_1_0(out)
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


def _made_by_version_0_1_0(out: Path) -> dict[str, tuple[str, str]]:
    """Files that were written together with a plan.json of version 0.1.0, and not touched since."""
    try:
        with (out / "plan.json").open("rb") as file:
            if b'"bossage.plan/' not in file.read(200):
                return {}
        then = (out / "plan.json").stat().st_mtime
        found = {
            path.relative_to(out).as_posix(): _digest(path) or ""
            for path in (*out.glob("*.*"), *out.glob("*/*.*"))
            if path.is_file() and abs(path.stat().st_mtime - then) <= _MOMENTS_S
        }
    except OSError:
        return {}
    return {name: (digest, "" if name in _VERSION_0_1_0 else _UNKNOWN) for name, digest in found.items()}


def _is_theirs(out: Path, name: str, data: bytes, before: Mapping[str, tuple[str, str]]) -> bool:
    """Whether a file is in the way that we did not make, or that was changed since."""
    path = out / name
    if not os.path.lexists(path):
        return False
    if not path.is_file():
        raise CannotWrite(f"{path} is no ordinary file, and a paper of that name is to be made. Move it away.")
    found = _digest(path)
    return found != sha256(data).hexdigest() and (name not in before or found != before[name][0])


def _in_the_way(out: Path, theirs: list[str]) -> str:
    named = ", ".join(theirs[:4]) + (f" and {len(theirs) - 4} more" if len(theirs) > 4 else "")
    return (
        f"In {out} lie files that bossage did not make, or that were changed since: {named}. Nothing was changed. Name "
        "another folder with --out, or say --overwrite, which keeps the old ones beside the new."
    )


def _free_names(out: Path, theirs: list[str]) -> dict[str, str]:
    return {name: (Path(name).parent / _free_name((out / name).parent, Path(name).name)).as_posix() for name in theirs}


def _free_name(folder: Path, name: str) -> str:
    """A name beside for a file that is kept: `brief-before.toml`, `brief-before-2.toml` and so on."""
    stem, dot, end = name.partition(".") if not name.startswith(".") else (name, "", "")
    for number in range(1, 10_000):
        free = f"{stem}-before{'' if number == 1 else f'-{number}'}{dot}{end}"
        if not os.path.lexists(folder / free):
            return free
    raise CannotWrite(f"{folder} holds thousands of kept copies of {name}. Clear some away.")


def _record(entries: Mapping[str, tuple[str, str]]) -> bytes:
    files = {name: {"sha256": digest, "plan": plan} for name, (digest, plan) in sorted(entries.items())}
    about = "What bossage made in this folder, so that it replaces and takes away nothing else."
    return (
        json.dumps({"format": _FORMAT, "about": about, "files": files}, ensure_ascii=False, indent=1) + "\n"
    ).encode()


def _digest(path: Path) -> str | None:
    try:
        return sha256(path.read_bytes()).hexdigest() if path.is_file() else None
    except OSError:
        return None


def _write_flushed(path: Path, data: bytes) -> None:
    with path.open("xb") as file:
        file.write(data)
        file.flush()
        flush(file.fileno())


def _name_new(half: Path, path: Path, option: str) -> None:
    """The file under its own name, unless somebody took that name meanwhile."""
    try:
        os.link(half, path)  # refuses a name that is taken, which a rename does not
    except FileExistsError:
        raise CannotWrite(
            f"{path} is there already, and nothing is written over. Name a new file with {option}."
        ) from None
    except OSError:
        os.replace(half, path)  # a disk that knows no second names
