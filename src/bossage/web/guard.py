"""What stands before every request: who asks, from where, how much, and what the answer lets a page do.

Names served on the loopback address can be borrowed: a foreign page may have its own name point here. So the name by
which we were called is held against our own, and what a page of another origin sends is refused.
"""

from __future__ import annotations

import asyncio
import contextlib
import hmac
import json
from html import escape
from typing import Any

from bossage.web.desk import SAID_IN

Headers = dict[bytes, bytes]
SAFE = ("GET", "HEAD", "OPTIONS")
TOKEN_HEADER = "x-bossage-token"
UNIT_HEADER = b"x-bossage-unit"
MOST_BYTES = 30_000_000  # a photo
MOST_PIECE_BYTES = 60_000_000  # a piece with its photos, as much as the store takes in
MOST_JSON_BYTES = 4_000_000
BODY_S = 30.0  # how long the server waits for the next part of a body

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "font-src 'self'",
        "connect-src 'self'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
    )
)
FIXED_HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), microphone=(), geolocation=(), payment=()"),
)


class TooLarge(Exception):
    """A body that goes on past what is taken."""


class TooSlow(Exception):
    """A body that was begun and does not go on."""


class Guard:
    """ASGI middleware. `hosts` are the names by which the server may be called, with port."""

    def __init__(self, app: Any, *, hosts: frozenset[str], token: str) -> None:
        """Stand before `app`."""
        self._app, self._hosts, self._token = app, hosts, token
        self._origins = frozenset(f"http://{host}" for host in hosts)

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        """Pass the request on, or refuse it."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return
        refused = self._refusal(scope)
        if refused is not None:
            if _is_visit(scope):
                await _refuse_visit(_sealed(send), *refused)
            else:
                await _refuse(_sealed(send), *refused)
            return
        unit = dict(scope["headers"]).get(UNIT_HEADER)
        SAID_IN.set(unit.decode("latin-1") if unit in (b"mm", b"in") else None)
        most = _most(scope)
        read, whole, slow = 0, False, False

        async def counted() -> Any:
            nonlocal read, whole, slow
            try:
                # once the body is whole, the next message is that the asker has left, which may take for ever
                message = await (receive() if whole else asyncio.wait_for(receive(), BODY_S))
            except TimeoutError:
                slow = True
                raise TooSlow from None
            whole = not message.get("more_body", False)
            read += len(message.get("body", b""))
            if read > most:
                raise TooLarge
            return message

        async def sent(message: Any) -> None:
            # whatever the application made of a body that was cut off, the answer is that it was too large, or too slow
            if read <= most and not slow:
                await _sealed(send)(message)

        with contextlib.suppress(TooLarge, TooSlow):
            await self._app(scope, counted, sent)
        if read > most:
            await _refuse(_sealed(send), *_too_large(most))
        elif slow:
            await _refuse(_sealed(send), *_TOO_SLOW)

    def _refusal(self, scope: Any) -> tuple[int, str, str, str, str] | None:
        """Status and words, or None for a request that may pass."""
        several = scope["headers"]
        headers: Headers = dict(several)
        named = [value for key, value in several if key == b"host"]
        if len(named) != 1 or named[0].decode("latin-1").lower() not in self._hosts:
            return (
                403,
                "This server was called by a name that is not its own",
                _FOREIGN_NAME,
                "its own address",
                _OWN,
            )
        origin = headers.get(b"origin")
        if origin is not None and origin.decode("latin-1").lower() not in self._origins:
            return 403, "This request comes from another page", "a foreign Origin", "this page alone", _OWN
        if headers.get(b"sec-fetch-site", b"same-origin") not in (b"same-origin", b"none"):
            return 403, "This request comes from another page", "another site", "this page alone", _OWN
        if scope["method"] not in SAFE:
            given = headers.get(TOKEN_HEADER.encode(), b"")
            if not hmac.compare_digest(given, self._token.encode()):
                return (
                    403,
                    "This page is from before the last start",
                    "no token, or an old one",
                    "the token of this start",
                    "Load the page again.",
                )
        if headers.get(b"content-encoding", b"identity").strip().lower() != b"identity":
            return 415, "Packed requests are not taken", "a Content-Encoding", "plain bytes", "Send it unpacked."
        length = headers.get(b"content-length", b"0")
        if not length.isdigit():
            return 400, "The request's length is no number", "a Content-Length of words", "a number", "Send it again."
        return _too_large(_most(scope)) if len(length) > 12 or int(length) > _most(scope) else None


_TOO_SLOW = (408, "The request did not come in whole", "a part of it", "all of it", "Send it again.")
_FOREIGN_NAME = "a foreign Host"
_OWN = "Open the address that `bossage open` printed."


def _most(scope: Any) -> int:
    if scope["path"] == "/api/import":
        return MOST_PIECE_BYTES
    kind = dict(scope["headers"]).get(b"content-type", b"")
    return MOST_JSON_BYTES if kind.startswith(b"application/json") else MOST_BYTES


def _too_large(most: int) -> tuple[int, str, str, str, str]:
    allowed = f"at most {most / 1e6:.0f} MB"
    return 413, "The request is too large", "more than is taken", allowed, "Send a smaller one."


def _sealed(send: Any) -> Any:
    """Every answer gets the same headers."""

    async def sealed(message: Any) -> None:
        if message["type"] == "http.response.start":
            named = {key.lower() for key, _ in message.get("headers", [])}
            extra = list(FIXED_HEADERS)
            if b"cache-control" not in named:
                extra.append((b"cache-control", b"no-store"))
            message = {**message, "headers": [*message.get("headers", []), *extra]}
        await send(message)

    return sealed


def _is_visit(scope: Any) -> bool:
    """Whether a person's browser wants to show the answer as a page: someone followed a link."""
    return scope["method"] == "GET" and b"text/html" in dict(scope["headers"]).get(b"accept", b"")


async def _refuse_visit(send: Any, status: int, title: str, found: str, allowed: str, remedy: str) -> None:
    """The same refusal as a page. Its link is our own, so whoever follows it comes from here."""
    home = '<p><a href="/">Open the workbench</a></p>' if found != _FOREIGN_NAME else ""
    page = (
        f'<!doctype html><html lang="en"><meta charset="utf-8"><title>{escape(title)}</title><h1>{escape(title)}</h1>'
        f"<p>Found: {escape(found)}; allowed: {escape(allowed)}.</p><p>{escape(remedy)}</p>{home}</html>"
    )
    body = page.encode()
    headers = [(b"content-type", b"text/html; charset=utf-8"), (b"content-length", str(len(body)).encode())]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})


async def _refuse(send: Any, status: int, title: str, found: str, allowed: str, remedy: str) -> None:
    error = {"title": title, "found": found, "allowed": allowed, "remedy": remedy}
    body = json.dumps({"error": error, "faults": [], "conflict": None}).encode()
    headers = [(b"content-type", b"application/json"), (b"content-length", str(len(body)).encode())]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
