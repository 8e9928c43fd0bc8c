"""Makes papers in a process of its own: an order comes in, words about the progress go out, then one file.

Out go lines of JSON; the last one names the file and its size, and so many bytes follow it. The pipe that the order
came through stays open: when it ends, the server has ended, and so does this process with its passing folder.
"""

from __future__ import annotations

import io
import json
import os
import pickle
import re
import shutil
import signal
import sys
import threading
import zipfile
from typing import IO

from bossage.plan import Plan
from bossage.system import end_rest_of_group
from bossage.web.jobs import LENGTH

#: Taken once, by the thread that ends this process, and never given back.
ENDING = threading.Lock()


def main() -> None:
    """Read an order from standard input, which is our own server's pickle, and answer on standard output."""
    # a function, not SIG_IGN, which processes that are started here would take over
    signal.signal(signal.SIGTERM, lambda number, frame: None)
    source, folder = sys.stdin.buffer, sys.argv[1]
    head = source.read(LENGTH.size)
    length = LENGTH.unpack(head)[0] if len(head) == LENGTH.size else 0
    order = source.read(length)
    if not length or len(order) < length:  # the server has ended in the middle of its order
        _end(folder)
    threading.Thread(target=_end_with, args=(source.fileno(), folder), daemon=True).start()
    plan, sheets, form = pickle.loads(order)
    try:
        make(plan, sheets, form, sys.stdout.buffer)
    except BrokenPipeError:  # the server has ended, and a word about the progress found that out first
        _end(folder)


def _end_with(source: int, folder: str) -> None:
    """Wait for the end of the server, then end this process; a file's own lock would be held as Python ends."""
    while os.read(source, 1):
        pass
    _end(folder)


def _end(folder: str) -> None:
    """End whatever was started here, clear the passing folder away, and end; the thread that comes second waits."""
    ENDING.acquire()
    end_rest_of_group()  # those that set large papers
    shutil.rmtree(folder, ignore_errors=True)
    os._exit(1)


def make(plan: Plan, sheets: tuple[str, ...] | None, form: str, out: IO[bytes]) -> None:
    """Make the papers of an order."""
    from bossage.pack import Form, Order
    from bossage.run import papers

    wanted = Form(form)
    if sheets is None:
        _say(out, "pack", None, "Drawing and setting the pages …")
        files = papers(plan, Order(sheets=None, forms=(wanted,)))
    else:
        files = {}
        for number, name in enumerate(sheets):
            _say(out, name, number / len(sheets), f"Making the sheet: {name} …")
            made = papers(plan, Order(sheets=(name,), forms=(wanted,)))
            files |= {key: data for key, data in made.items() if key != "plan.json"}
    stem = f"{slug(plan.brief.piece.name)}-{plan.stamp}"
    if len(files) == 1:
        ((name, data),) = files.items()
        kind = "application/pdf" if name.endswith(".pdf") else "text/plain; charset=utf-8"
        _hand_over(out, f"{stem}-{name.rpartition('/')[2]}", kind, data)
    else:
        _hand_over(out, f"{stem}.zip", "application/zip", zipped(files))


def zipped(files: dict[str, bytes]) -> bytes:
    """All files in one: the same bytes for the same files."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, data in files.items():
            entry = zipfile.ZipInfo(name, date_time=(1980, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, data)
    return out.getvalue()


def slug(name: str) -> str:
    """A piece's name as a file may be called anywhere."""
    return re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-")[:40] or "piece"


def _say(out: IO[bytes], stage: str, share: float | None, words: str) -> None:
    out.write(json.dumps({"stage": stage, "share": share, "words": words}).encode() + b"\n")
    out.flush()


def _hand_over(out: IO[bytes], name: str, kind: str, data: bytes) -> None:
    out.write(json.dumps({"name": name, "kind": kind, "size": len(data)}).encode() + b"\n")
    out.write(data)
    out.flush()


if __name__ == "__main__":
    main()
