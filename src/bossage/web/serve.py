"""Starting the server and ending it: a port on the loopback address, the first piece, the browser, the signals.

Where a workbench on the same pieces is open already, a second start shows that one in the browser.
"""

from __future__ import annotations

import http.client
import json
import socket
import threading
import webbrowser
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from bossage.errors import BossageError
from bossage.examples import example_text
from bossage.files import read_text
from bossage.run import is_file_name
from bossage.store import Pieces
from bossage.system import claim_port

if TYPE_CHECKING:
    from bossage.web.desk import Desk

LOOPBACK = "127.0.0.1"
PORT = 8722  # ours, from the range that every program may use
EXAMPLE = "s2-brenlow-terrace"
HTTP_PORT = 80  # which browsers leave out of the name that they call
ENDING_S = 5  # how long an answer in hand may take once the server is told to end
ASKING_S = 2.0  # how long whoever has the port may take to say what it is
KEPT_MOST = 100_000  # bytes of that answer


class NoPort(BossageError):
    """The port is taken."""


def serve(
    store: Path, *, brief: str | None, port: int | None, browser: bool, say: Callable[[str], None]
) -> None:  # pragma: no cover
    """Serve until the maker stops it, or the system does; what is in hand then is ended, and the store closed.

    Args:
        store: The file of pieces.
        brief: What to open first, if anything was named.
        port: The port; None for the usual one, or any that is free where another program has that.
        browser: Whether the browser is opened.
        say: Takes what the maker is told.

    Raises:
        CannotRead, BriefFaults, NoSuchPiece: What is to be opened is not there, or faulty.
        StoreFault: The store cannot be used.
        NoPort: The port is taken.
    """
    from bossage.web.app import make_app
    from bossage.web.desk import Desk
    from bossage.web.jobs import Jobs
    from bossage.web.patient import run

    store = store.absolute()
    usual = PORT if port is None else port
    if brief is None and served_store(usual) == store:
        address = f"http://{LOOPBACK}:{usual}/"
        say(f"The workbench is open already at {address} (pieces: {store}).")
        if browser:
            show(address, say)
        return
    pieces, jobs = Pieces(store), Jobs()
    try:
        for note in pieces.file.notes:
            say(note)
        first = first_piece(Desk(pieces), brief)
        with listen_usual() if port is None else listen(port) as listener:
            port = listener.getsockname()[1]
            app = make_app(pieces, hosts=own_names(port), open_piece=first, jobs=jobs)
            address = f"http://{LOOPBACK}:{port}/"
            say(
                f"The workbench is open at {address} (pieces: {store}). Stop it with Ctrl-C, or by closing this window."
            )
            if browser:
                # a browser of the terminal runs in the foreground, and the server must not wait for its end
                threading.Thread(target=show, args=(address, say), daemon=True).start()
            run(app, listener, ending_s=ENDING_S)
    finally:
        jobs.stop_all()
        pieces.close()
    say(f"The workbench is closed. Every change is kept in {store}.")


def show(address: str, say: Callable[[str], None]) -> None:
    """Show a page in the browser of this machine, or say that there is none."""
    if not webbrowser.open(address):
        say(f"No browser could be opened from here. Type {address} into a browser of this machine.")


def served_store(port: int) -> Path | None:
    """The file of pieces of the workbench that is open on a port; None where there is no workbench."""
    if not port:
        return None
    caller = http.client.HTTPConnection(LOOPBACK, port, timeout=ASKING_S)
    try:
        caller.request("GET", "/api/kept")
        body = json.loads(caller.getresponse().read(KEPT_MOST))
        return Path(body["store"])
    except (OSError, http.client.HTTPException, ValueError, KeyError, TypeError):
        return None
    finally:
        caller.close()


def own_names(port: int) -> frozenset[str]:
    """The names by which a browser may call the server."""
    names = (LOOPBACK, "localhost")
    bare = names if port == HTTP_PORT else ()
    return frozenset((*bare, *(f"{name}:{port}" for name in names)))


def first_piece(desk: Desk, brief: str | None) -> str | None:
    """The piece to open: the brief's, made if its text is new here; else the last changed, or the example."""
    rows = [row for row in desk.pieces.all() if not row.discarded]
    if brief is None:
        if rows:
            return rows[0].piece_id
        made: str = desk.make(example_text(EXAMPLE), "Begin as the example")["piece_id"]
        return made
    if not is_file_name(brief):
        return desk.pieces.named(brief)
    text = read_text(Path(brief))
    for row in rows:
        if desk.pieces.revision(row.piece_id).toml == text:
            return row.piece_id
    made = desk.make(text, f"Begin with {Path(brief).name}")["piece_id"]
    return made


def listen_usual() -> socket.socket:
    """A listener on the usual port, or on any that is free where another program has that."""
    try:
        return listen(PORT)
    except NoPort:
        return listen(0)


def listen(port: int) -> socket.socket:
    """A listener on the loopback address; 0 for any port that is free.

    Raises:
        NoPort: The port is taken.
    """
    # asyncio sends small answers at once only where TCP is named; else each waits 40 ms for the browser to acknowledge
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    claim_port(listener)
    try:
        listener.bind((LOOPBACK, port))
        # From here on a browser is kept waiting rather than turned away, while the server gets up.
        listener.listen(128)
    except OSError:
        listener.close()
        raise NoPort(f"Port {port} is taken. Give another with --port, or 0 for any that is free.") from None
    return listener
