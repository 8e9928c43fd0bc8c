"""Reading a brief or a photo: a clear sentence for everything that disks do."""

from __future__ import annotations

import errno
from pathlib import Path

from bossage.errors import BossageError
from bossage.system import is_in_use

BRIEF_MAX_BYTES = 2_000_000
PHOTO_MAX_BYTES = 100_000_000


class CannotRead(BossageError):
    """A brief that could not be read, and what to do."""


class CannotWrite(BossageError):
    """Papers that could not be written; what lay in the folder before is still there."""


def read_text(path: Path, *, most_bytes: int = BRIEF_MAX_BYTES) -> str:
    """The text of a brief, or of another file of up to so many bytes.

    Raises:
        CannotRead: No such file, a folder, too large, not allowed, or not text in UTF-8.
    """
    try:
        size = path.stat().st_size
        if path.is_dir():
            raise CannotRead(f"{path} is a folder; name the brief in it, a file that ends in .toml.")
        if size > most_bytes:
            raise CannotRead(
                f"{path} holds {size / 1e6:.0f} MB; a brief is a page or two of text, and "
                f"{most_bytes / 1e6:.0f} MB are read at the most. Is it the right file?"
            )
        data = _read(path, most_bytes)
        return data.decode("utf-8-sig")
    except FileNotFoundError:
        raise CannotRead(f"There is no file {path}. `bossage example first` prints one to begin with.") from None
    except UnicodeDecodeError as fault:
        line = fault.object[: fault.start].count(b"\n") + 1
        raise CannotRead(f"{path} is not text in UTF-8 (line {line}). Save it again as UTF-8 text.") from None
    except OSError as fault:
        raise CannotRead(f"{path} cannot be read: {why(fault, 'read')}.") from None


def read_bytes(path: Path) -> bytes:
    """The bytes of a photo.

    Raises:
        CannotRead: No such file, a folder, too large, or not allowed.
    """
    try:
        size = path.stat().st_size
        if path.is_dir():
            raise CannotRead(f"{path} is a folder; name the photo in it.")
        if size > PHOTO_MAX_BYTES:
            raise CannotRead(f"{path} holds {size / 1e6:.0f} MB; a photo of {PHOTO_MAX_BYTES / 1e6:.0f} MB is enough.")
        return _read(path, PHOTO_MAX_BYTES)
    except FileNotFoundError:
        raise CannotRead(f"There is no file {path}.") from None
    except OSError as fault:
        raise CannotRead(f"{path} cannot be read: {why(fault, 'read')}.") from None


def _read(path: Path, most_bytes: int) -> bytes:
    """All bytes, if there are not more; a device or a pipe has no size before it is read."""
    with path.open("rb") as file:
        data = file.read(most_bytes + 1)
    if len(data) > most_bytes:
        raise CannotRead(f"{path} goes on past {most_bytes / 1e6:.0f} MB, the most that is read. Is it the right file?")
    return data


def why(fault: OSError, doing: str = "write") -> str:
    """What the system refused, in a few words of a sentence. `doing`: "read" or "write"."""
    if is_in_use(fault):
        return "another program has that file open; close the file there and try again"
    known = {
        errno.ENOSPC: "the disk is full",
        errno.EDQUOT: "your share of the disk is used up",
        errno.EACCES: f"you may not {doing} there",
        errno.EPERM: f"you may not {doing} there",
        errno.EROFS: "that disk can only be read",
        errno.ENOTDIR: "a part of that path is a file, not a folder",
        errno.EEXIST: "a part of that path is a file, not a folder",
        errno.ENAMETOOLONG: "that name is too long",
        errno.ELOOP: "its links lead in a circle",
    }
    return known.get(fault.errno or 0, (fault.strerror or "the system refused").lower())
