"""Starting the server: a port on the loopback address, the first piece, the browser."""

from __future__ import annotations

import socket
import webbrowser
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from bossage.errors import BossageError
from bossage.examples import example_text
from bossage.files import read_text
from bossage.run import is_file_name
from bossage.store import Pieces

if TYPE_CHECKING:
    from bossage.web.desk import Desk

LOOPBACK = "127.0.0.1"
EXAMPLE = "s2-brenlow-terrace"


class NoPort(BossageError):
    """The port is taken."""


def serve(
    store: Path, *, brief: str | None, port: int, browser: bool, say: Callable[[str], None]
) -> None:  # pragma: no cover
    """Serve until the maker stops it.

    Raises:
        CannotRead, BriefFaults, NoSuchPiece: What is to be opened is not there, or faulty.
        StoreFault: The store cannot be used.
        NoPort: The port is taken.
    """
    import uvicorn

    from bossage.web.app import make_app
    from bossage.web.desk import Desk

    pieces = Pieces(store)
    first = first_piece(Desk(pieces), brief)
    listener = listen(port)
    port = listener.getsockname()[1]
    hosts = frozenset(f"{name}:{port}" for name in (LOOPBACK, "localhost"))
    app = make_app(pieces, hosts=hosts, open_piece=first)
    address = f"http://{LOOPBACK}:{port}/"
    say(f"The workbench is open at {address} (pieces: {store}). Stop it with Ctrl-C.")
    config = uvicorn.Config(app, log_level="warning", server_header=False, date_header=False, proxy_headers=False)
    if browser:
        webbrowser.open(address)
    try:
        uvicorn.Server(config).run(sockets=[listener])
    finally:
        listener.close()
        pieces.close()


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


def listen(port: int) -> socket.socket:
    """A listener on the loopback address; 0 for any port that is free.

    Raises:
        NoPort: The port is taken.
    """
    # asyncio sends small answers at once only where TCP is named; else each waits 40 ms for the browser to acknowledge
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((LOOPBACK, port))
        # From here on a browser is kept waiting rather than turned away, while the server gets up.
        listener.listen(128)
    except OSError:
        listener.close()
        raise NoPort(f"Port {port} is taken. Give another with --port, or 0 for any that is free.") from None
    return listener
