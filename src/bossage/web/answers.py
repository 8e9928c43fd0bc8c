"""How answers leave: JSON bytes, and every refusal in the same form."""

from __future__ import annotations

import json
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from bossage.brief import BriefFaults
from bossage.errors import BossageError
from bossage.store import NoSuchPiece, NoSuchRevision, NotTheHead, NotYet, StoreFault
from bossage.store.images import NotAPhoto, TooManyPixels
from bossage.web.desk import NoSuchFix, NothingToDraw
from bossage.web.jobs import NoSuchJob, NotDone, TooMany
from bossage.web.models import Refused

Json = dict[str, Any]


def answered(body: object, status: int = 200) -> Response:
    """A JSON answer; not validated on the way out, which tests do for every kind."""
    data = json.dumps(body, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    return Response(data.encode("utf-8"), status_code=status, media_type="application/json")


def sent(data: bytes, kind: str, name: str | None = None) -> Response:
    """A file; with a name, to be kept by the browser."""
    headers = {} if name is None else {"content-disposition": f'attachment; filename="{name}"'}
    return Response(data, media_type=kind, headers=headers)


def refused(
    status: int,
    title: str,
    *,
    found: str = "",
    allowed: str = "",
    remedy: str = "",
    faults: list[Json] | None = None,
    conflict: Json | None = None,
) -> Response:
    """A refusal (`Refused`)."""
    error = {"title": title, "found": found, "allowed": allowed, "remedy": remedy}
    return answered({"error": error, "faults": faults or [], "conflict": conflict}, status)


_SAID = {
    400: "The request could not be read.",
    403: "The request is from elsewhere, or without the token of this start.",
    404: "There is no such thing.",
    405: "That is not done here.",
    409: "It has changed meanwhile; both are kept.",
    413: "The request is too large.",
    415: "That kind of content is not taken.",
    422: "Something in it is to be put right.",
    503: "The disk refuses.",
}


def documented(*statuses: int) -> dict[int | str, Json]:
    """The refusals that a route may answer with, for the API's description."""
    return {status: {"model": Refused, "description": _SAID[status]} for status in (400, 403, *statuses, 503)}


def teach_words(app: FastAPI) -> None:
    """Make every error of the application a refusal in words."""

    @app.exception_handler(BossageError)
    async def _bossage(request: Request, fault: BossageError) -> Response:
        return refusal_of(fault)

    @app.exception_handler(RequestValidationError)
    async def _request(request: Request, fault: RequestValidationError) -> Response:
        errors = fault.errors()
        if any(error["type"] == "json_invalid" for error in errors):
            return refused(400, "The request is not JSON", remedy="Load the page again.")
        faults = [
            {
                "field": ".".join(str(step) for step in error["loc"]),
                "found": str(error.get("input"))[:80],
                "allowed": str(error["msg"]),
                "remedy": "",
            }
            for error in errors
        ]
        return refused(422, "The request is not as it should be", faults=faults, remedy="Load the page again.")

    @app.exception_handler(Exception)
    async def _ours(request: Request, fault: Exception) -> Response:
        # its traceback goes to the terminal; what was saved before stays
        return refused(500, "A fault of bossage itself", found="a bug", remedy="Please report what you did.")

    @app.exception_handler(HTTPException)
    async def _http(request: Request, fault: HTTPException) -> Response:
        return refused(fault.status_code, _SAID.get(fault.status_code, str(fault.detail)))


def refusal_of(fault: BossageError) -> Response:
    """A fault of ours as an answer."""
    if isinstance(fault, BriefFaults):
        faults = [{"field": f.field, "found": f.found, "allowed": f.allowed, "remedy": f.remedy} for f in fault.faults]
        return refused(422, str(fault).splitlines()[0], faults=faults)
    if isinstance(fault, NotTheHead):
        conflict = {"theirs_revision_n": fault.theirs_n, "mine_revision_n": fault.mine_n}
        return refused(409, str(fault), conflict=conflict)
    kinds: dict[type[BossageError], int] = {
        NoSuchPiece: 404,
        NoSuchRevision: 404,
        NotYet: 409,
        StoreFault: 503,
        TooManyPixels: 413,
        NotAPhoto: 415,
        NoSuchJob: 404,
        NoSuchFix: 404,
        TooMany: 409,
        NotDone: 409,
        NothingToDraw: 409,
    }
    return refused(kinds.get(type(fault), 422), str(fault))
