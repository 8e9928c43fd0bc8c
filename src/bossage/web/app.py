"""The HTTP face: routes that hand everything to the desk. Importing this loads FastAPI, so only `open` does."""

from __future__ import annotations

import secrets
from typing import Any

from fastapi import FastAPI
from fastapi.responses import Response

from bossage import __version__
from bossage.drawing.icon import icon_svg
from bossage.store import Pieces
from bossage.web.answers import refused, teach_words
from bossage.web.bundle import MISSING, Bundle, load_bundle
from bossage.web.desk import Desk
from bossage.web.guard import Guard
from bossage.web.jobs import Jobs
from bossage.web.routes_pieces import carrying, changes, pieces_routes, visits
from bossage.web.routes_views import looking, papers_routes, photos_routes


def make_app(
    pieces: Pieces,
    *,
    hosts: frozenset[str],
    token: str | None = None,
    bundle: Bundle | None = None,
    open_piece: str | None = None,
    unit: str = "mm",
    jobs: Jobs | None = None,
) -> Any:
    """The application over some pieces, with its guard.

    Args:
        pieces: The store.
        hosts: Names with port by which it may be called, such as `127.0.0.1:8765`.
        token: Asked of every request that changes something; a new one if not given.
        bundle: The page; what was built beside the package if not given.
        open_piece: The piece that the page opens first.
        unit: What a new piece is measured in if its maker does not say.
        jobs: The long work, for its caller to end with the server; its own if not given.
    """
    token = token or secrets.token_urlsafe(32)
    app = api_app(Desk(pieces), jobs or Jobs(), open_piece=open_piece, unit=unit)
    _serve_page(app, bundle or load_bundle(), token)
    return Guard(app, hosts=hosts, token=token)


def api_app(desk: Desk, jobs: Jobs, *, open_piece: str | None = None, unit: str = "mm") -> FastAPI:
    """The routes alone, without page and guard: what the API's description is made from."""
    app = FastAPI(
        title="bossage",
        version=__version__,
        description="The workbench of bossage, on this machine alone.",
        docs_url=None,
        redoc_url=None,
        openapi_url="/openapi.json",
    )
    teach_words(app)
    for routes in (
        visits(desk, open_piece, unit),
        carrying(desk),
        pieces_routes(desk),
        changes(desk),
        looking(desk),
        papers_routes(desk, jobs),
        photos_routes(desk),
    ):
        app.include_router(routes)
    return app


def _serve_page(app: FastAPI, bundle: Bundle, token: str) -> None:
    page = bundle.page_with(token)

    @app.get("/", include_in_schema=False)
    def front() -> Response:
        if page is None:
            return Response(MISSING, status_code=503, media_type="text/html; charset=utf-8")
        return Response(page, media_type="text/html; charset=utf-8")

    @app.get("/icon.svg", include_in_schema=False)
    def icon() -> Response:
        return Response(icon_svg(), media_type="image/svg+xml", headers={"cache-control": "no-cache"})

    @app.get("/{name:path}", include_in_schema=False)
    def asset(name: str) -> Response:
        found = bundle.assets.get(name)
        if found is None:
            return refused(404, "There is nothing here", remedy="Open the address that `bossage open` printed.")
        keep = "public, max-age=31536000, immutable" if found.for_good else "no-cache"
        return Response(found.data, media_type=found.kind, headers={"cache-control": keep})
