"""The one place that catches what a command cannot answer: what is the maker's, what is the machine's, what is ours.

Exit codes: 2 the maker's, 4 the machine's, 5 a fault of bossage, 130 stopped with Ctrl-C (128 and the number of the
signal, as shells have it).
"""

from __future__ import annotations

import codecs
import errno
import os
import platform
import sqlite3
import sys
import tempfile
import traceback
import unicodedata
import warnings
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import TextIO

from bossage import __version__
from bossage.errors import BossageError, OurFault
from bossage.files import CannotWrite, why
from bossage.system import reader_has_left

DONE, FAULTY, MACHINE, OUR_FAULT, STOPPED = 0, 2, 4, 5, 130

# Signs of our texts for a screen that has ASCII or a Windows page of letters.
_PLAIN = {
    "·": ".", "×": "x", "–": "-", "—": "-", "−": "-", "‑": "-", "…": "...", "≤": "<=", "≥": ">=", "≈": "~", "±": "+/-",
    "○": "o", "●": "o", "△": "!", "▲": "!", "■": "#", "□": "[]", "→": "->", "←": "<-", "↑": "^", "↓": "v", "✓": "x",
    "′": "'", "″": '"', "‘": "'", "’": "'", "“": '"', "”": '"', "„": '"', "°": " deg", "µ": "u", "Δ": "d", "€": "EUR",
    "£": "GBP", "⌀": "dia ", "⁄": "/", "•": "-", "\u2007": " ", "\u2009": " ", "\u202f": " ", "\u00a0": " ",
}  # fmt: skip


def guarded(command: Callable[[], int], *, arguments: Sequence[str], kept: str) -> int:
    """Run a command; whatever happens ends in a sentence and an exit code, never in a traceback.

    Args:
        command: What to run.
        arguments: The words of the command line, for the file that can be sent.
        kept: What is kept when the maker stops it, as a sentence.
    """
    for stream in (sys.stdout, sys.stderr):
        speak_plainly(stream)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # what a library has to say is for those who make bossage
            code = command()
        if sys.stdout is not None:  # a program without a window has none
            sys.stdout.flush()
    except OurFault as fault:
        return _ours(fault, arguments)
    except CannotWrite as fault:
        return complain(str(fault), MACHINE)
    except BossageError as fault:
        return complain(str(fault), FAULTY)
    except KeyboardInterrupt:
        return complain(f"Stopped. {kept}", STOPPED)
    except OSError as fault:
        if reader_has_left(fault):
            _let_go_of(sys.stdout)
            return DONE  # the reader has seen enough
        return _machine(fault)
    except sqlite3.Error:
        return complain(
            "The file of pieces cannot be used: it is damaged, or another program holds it. Nothing in it was changed. "
            "docs/workbench.md says where copies of it lie.",
            MACHINE,
        )
    except MemoryError:
        return complain("This machine has not enough memory for this piece. Nothing was written.", MACHINE)
    except Exception as fault:
        return _ours(fault, arguments)
    return code


def complain(text: str, code: int) -> int:
    """Say on standard error what is wrong, if anybody can hear it."""
    try:
        print(text, file=sys.stderr, flush=True)
    except (OSError, ValueError):
        _let_go_of(sys.stderr)
    return code


def speak_plainly(stream: object) -> None:
    """Let a stream that has not every letter show the nearest one that it has."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="bossage-plain")


def _plain(fault: UnicodeError) -> tuple[str, int]:
    if not isinstance(fault, UnicodeEncodeError):
        raise fault
    found = []
    for letter in fault.object[fault.start : fault.end]:
        known = _PLAIN.get(letter) or unicodedata.normalize("NFKD", letter).encode("ascii", "ignore").decode()
        found.append(known or "?")
    return "".join(found), fault.end


codecs.register_error("bossage-plain", _plain)


def _machine(fault: OSError) -> int:
    if fault.errno in (errno.ENOSPC, errno.EDQUOT, errno.EIO, errno.EPIPE):
        _let_go_of(sys.stdout)
        return complain(f"The output cannot be written: {why(fault)}.", MACHINE)
    where = f"{fault.filename}: " if fault.filename else ""
    return complain(f"The machine refused: {where}{why(fault)}.", MACHINE)


def _let_go_of(stream: TextIO) -> None:
    """Python flushes its streams once more at its end; that must not fail a second time."""
    with suppress(OSError, ValueError, AttributeError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _ours(fault: Exception, arguments: Sequence[str]) -> int:
    """Three sentences, and a file that can be sent."""
    what = (
        str(fault)
        if isinstance(fault, OurFault)
        else "Something went wrong. This is a fault of bossage, not of the brief."
    )
    try:
        file = _report(fault, arguments)
    except OSError:
        return complain(f"{what} What was kept before is not lost.\n{traceback.format_exc()}", OUR_FAULT)
    return complain(
        f"{what}\nWhat was kept before is not lost.\n{file} says what happened: send it, with the brief, to those who "
        "make bossage (SECURITY.md and CONTRIBUTING.md say how).",
        OUR_FAULT,
    )


def _report(fault: Exception, arguments: Sequence[str]) -> Path:
    handle, name = tempfile.mkstemp(prefix="bossage-fault-", suffix=".txt")
    lines = [
        f"bossage {__version__}, Python {platform.python_version()}, {platform.platform()}",
        "command: " + " ".join(arguments),
        *([f"said: {fault.said}"] if isinstance(fault, OurFault) else []),
        "",
        "".join(traceback.format_exception(fault)),
    ]
    with open(handle, "w", encoding="utf-8", errors="backslashreplace") as file:
        file.write("\n".join(lines))
    return Path(name)
