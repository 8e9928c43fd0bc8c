"""The HTTP server itself: so many connections at the most, none that keeps it waiting for ever, and a clean end.

A half-sent request costs a connection and nothing else, but a process may open so many files only. Where too many
connections stand open the ones that have waited longest for the rest of a request are closed.
"""

from __future__ import annotations

import asyncio
import signal
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import uvicorn
from uvicorn.protocols.http.h11_impl import H11Protocol

CONNECTIONS_MOST = 100  # a browser opens six; systems let a process open 256 files at the least
HEAD_S = 20.0  # how long a request's head may take to come in whole
_ENDS = ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK")


class Patient(H11Protocol):
    """One connection, which is closed when it keeps the server waiting for a request."""

    _waits: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Take a connection; where there are too many already, the one that has waited longest goes."""
        super().connection_made(transport)
        waiting = [other for other in self.connections if isinstance(other, Patient) and other._waits is not None]
        if len(self.connections) > CONNECTIONS_MOST:
            if waiting:
                min(waiting, key=lambda other: other._waits.when() if other._waits else 0.0).give_up()
            else:
                transport.abort()
                return
        self._wait()

    def data_received(self, data: bytes) -> None:
        """Read on; the wait ends with a whole head, and begins with what comes after an answer."""
        super().data_received(data)
        if self.cycle is not None and not self.cycle.response_complete:
            self._stop_waiting()
        elif self._waits is None:
            self._wait()

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget the connection."""
        self._stop_waiting()
        super().connection_lost(exc)

    def give_up(self) -> None:
        """Close the connection, whatever was half sent over it."""
        self._stop_waiting()
        self.transport.abort()

    def _wait(self) -> None:
        self._waits = self.loop.call_later(HEAD_S, self.give_up)

    def _stop_waiting(self) -> None:
        if self._waits is not None:
            self._waits.cancel()
            self._waits = None


class _Server(uvicorn.Server):
    """Ends on any signal that asks for it, and gives the end back to its caller rather than raise the signal again."""

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        if threading.current_thread() is not threading.main_thread():
            yield  # signals reach the main thread alone
            return
        ends = [getattr(signal, name) for name in _ENDS if hasattr(signal, name)]
        before = {number: signal.signal(number, self.handle_exit) for number in ends}
        try:
            yield
        finally:
            for number, handler in before.items():
                signal.signal(number, handler)


def run(app: Any, listener: socket.socket, *, ending_s: int) -> None:
    """Serve until a signal asks for the end.

    Args:
        app: The application.
        listener: A listening socket.
        ending_s: How long answers in hand may take then.
    """
    config = uvicorn.Config(
        app,
        log_level="warning",
        server_header=False,
        date_header=False,
        proxy_headers=False,
        http=Patient,
        ws="none",
        backlog=CONNECTIONS_MOST // 2,  # so many are accepted before the first is looked at
        timeout_graceful_shutdown=ending_s,
    )
    _Server(config).run(sockets=[listener])
