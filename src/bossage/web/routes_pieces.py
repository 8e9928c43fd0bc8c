"""Routes about pieces: what there is, making, changing, carrying in and out."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Body, Query
from fastapi import Path as InPath
from fastapi.responses import Response

from bossage import __version__
from bossage.checks import Edit
from bossage.errors import BossageError
from bossage.examples import example_names, example_text
from bossage.pack import SHEETS, Form
from bossage.store import NoSuchPiece, copies_folder, export_piece, kept_copies
from bossage.web import models as m
from bossage.web.answers import answered, documented, sent
from bossage.web.desk import Desk
from bossage.web.papers import slug
from bossage.web.questions import brief_of

PieceId = Annotated[str, InPath(pattern=r"^[0-9a-f]{12}$", description="The number of a piece.")]
At = Annotated[int | None, Query(ge=1, le=10**9, description="A revision; the newest if left out.")]
Octets = Annotated[bytes, Body(media_type="application/octet-stream")]


def visits(desk: Desk, open_piece: str | None, unit: str) -> APIRouter:
    """Where a visit begins."""
    routes = APIRouter(prefix="/api")

    @routes.get("/session", response_model=m.Session, responses=documented())
    def session() -> Response:
        """What this server is and where a visit begins."""
        return answered(
            {
                "version": __version__,
                "unit_default": unit,
                "example_open": open_piece,
                "examples": [{"name": name, "about": about} for name, about in example_names().items()],
                "sheets": list(SHEETS),
                "forms": [form.value for form in Form],
            }
        )

    @routes.get("/pieces", response_model=list[m.PieceLine], responses=documented())
    def pieces() -> Response:
        """Every piece, the last changed first, those in the wastebasket too."""
        return answered(
            [
                {
                    "piece_id": row.piece_id,
                    "name": row.name,
                    "revision_n": row.revision_n,
                    "changed_at": row.changed_at,
                    "discarded": row.discarded,
                    "verdict": row.verdict,
                    "stamp": row.stamp,
                }
                for row in desk.pieces.all()
            ]
        )

    @routes.get("/kept", response_model=m.KeptOut, responses=documented())
    def kept() -> Response:
        """Where pieces are kept, and the copies of that file that are kept by themselves."""
        file = desk.pieces.file
        copies = [str(path) for path in kept_copies(file.path)]
        folder = str(copies_folder(file.path))
        return answered({"store": str(file.path), "folder": folder, "copies": copies, "fault": file.copy_fault})

    @routes.post("/pieces", response_model=m.PieceOut, status_code=201, responses=documented(404, 413, 415, 422))
    def make_piece(wanted: m.NewPiece) -> Response:
        """A new piece: from an example, from a brief, or as a copy of another."""
        return answered(_made(desk, wanted), 201)

    return routes


def _made(desk: Desk, wanted: m.NewPiece) -> dict[str, Any]:
    if isinstance(wanted, m.FromExample):
        try:
            toml = example_text(wanted.name)
        except BossageError as fault:
            raise NoSuchPiece(str(fault)) from None
        return desk.make(toml, f"Begin as the example {wanted.name}")
    if isinstance(wanted, m.FromText):
        return desk.make(wanted.toml, "Begin with a brief")
    if isinstance(wanted, m.FromAnswers):
        return desk.make(brief_of(wanted.answers), "Begin with five questions")
    source = desk.pieces.revision(wanted.duplicate, wanted.revision_n)
    toml = source.toml
    if wanted.name is not None:
        toml = desk.amended(toml, [Edit(op="set", path=("piece", "name"), value=wanted.name)])
    return desk.make(toml, f"Begin as a copy of {source.row.name}, revision {source.row.revision_n}")


def carrying(desk: Desk) -> APIRouter:
    """A piece as one file."""
    routes = APIRouter(prefix="/api")

    @routes.get(
        "/pieces/{piece_id}/export",
        response_class=Response,
        responses={**documented(404, 422), 200: {"content": {"application/octet-stream": {}}}},
    )
    def export(piece_id: PieceId) -> Response:
        """The piece with all its history in one file."""
        name = slug(desk.pieces.revision(piece_id).row.name)
        return sent(export_piece(desk.pieces, piece_id), "application/octet-stream", f"{name}.bossage.json")

    @routes.post("/import", response_model=m.PieceOut, status_code=201, responses=documented(404, 413, 415, 422))
    def take_in(data: Octets) -> Response:
        """Take in a piece from such a file; it is a new one here."""
        return answered(desk.take_in(data), 201)

    return routes


def pieces_routes(desk: Desk) -> APIRouter:
    """One piece."""
    routes = APIRouter(prefix="/api/pieces/{piece_id}")

    @routes.get("", response_model=m.PieceOut, responses=documented(404, 422))
    def piece(piece_id: PieceId, revision_n: At = None) -> Response:
        """A piece with its brief."""
        return answered(desk.piece(piece_id, revision_n))

    @routes.get("/history", response_model=list[m.RevisionLine], responses=documented(404, 422))
    def history(piece_id: PieceId) -> Response:
        """The revisions of a piece, newest first; those that were refused too."""
        return answered(
            [
                {
                    "revision_n": row.revision_n,
                    "parent_n": row.parent_n,
                    "saved_at": row.saved_at,
                    "words": row.words,
                    "name": row.name,
                    "seed": row.seed,
                    "stamp": row.stamp,
                    "verdict": row.verdict,
                    "aside": row.aside,
                }
                for row in desk.pieces.history(piece_id)
            ]
        )

    @routes.get("/plan", response_model=m.Answer, responses=documented(404, 422))
    def plan(piece_id: PieceId, revision_n: At = None) -> Response:
        """A revision with its plan."""
        return answered(desk.answer(piece_id, revision_n))

    @routes.post("/versions", response_model=m.PieceOut, responses=documented(404, 413, 415, 422))
    def name_version(piece_id: PieceId, named: m.NamedIn) -> Response:
        """Give a revision a name to be found by; a name that is there already moves to it."""
        at = desk.pieces.revision(piece_id, named.revision_n).row.revision_n
        desk.pieces.name_version(piece_id, named.name, at)
        return answered(desk.piece(piece_id))

    @routes.post("/discard", response_model=m.PieceOut, responses=documented(404, 422))
    def discard(piece_id: PieceId) -> Response:
        """Put a piece into the wastebasket."""
        desk.pieces.discard(piece_id)
        return answered(desk.piece(piece_id))

    @routes.post("/recover", response_model=m.PieceOut, responses=documented(404, 422))
    def recover(piece_id: PieceId) -> Response:
        """Take a piece out of the wastebasket."""
        desk.pieces.recover(piece_id)
        return answered(desk.piece(piece_id))

    @routes.delete("", status_code=204, responses=documented(404, 409, 422))
    def throw_away(piece_id: PieceId) -> Response:
        """Lose a piece that lies in the wastebasket, for good."""
        desk.pieces.empty(piece_id)
        return Response(status_code=204)

    return routes


def edits_of(edits: list[m.EditIn]) -> list[Edit]:
    """Edits as they came in."""
    return [Edit(op=edit.op, path=tuple(edit.path), value=edit.value) for edit in edits]  # type: ignore[arg-type]


def changes(desk: Desk) -> APIRouter:
    """Changing a piece."""
    routes = APIRouter(prefix="/api/pieces/{piece_id}")
    may = documented(404, 409, 413, 415, 422)

    @routes.post("/changes", response_model=m.Answer, responses=may)
    def change(piece_id: PieceId, changes: m.ChangesIn) -> Response:
        """Change a brief, save it as the next revision and plan it."""
        return answered(desk.change(piece_id, changes.base_revision_n, edits_of(changes.edits), changes.words))

    @routes.put("/brief", response_model=m.Answer, responses=may)
    def rewrite(piece_id: PieceId, text: m.TextIn) -> Response:
        """Put a whole brief, as text, in place of the one there is."""
        return answered(
            desk.rewrite(piece_id, text.base_revision_n, text.toml, text.words or "Change the brief's text")
        )

    @routes.post("/try", response_model=m.Tried, responses=may)
    def attempt(piece_id: PieceId, wanted: m.TryIn) -> Response:
        """What changes would do; nothing is saved."""
        return answered(desk.attempt(piece_id, wanted.base_revision_n, edits_of(wanted.edits)))

    @routes.get("/fixes", response_model=list[m.FixOut], responses=documented(404, 422))
    def fixes(piece_id: PieceId, revision_n: At = None) -> Response:
        """Remedies that were tried and heal; finding them takes a moment."""
        return answered(desk.fixes(piece_id, revision_n))

    @routes.post("/fixes", response_model=m.Answer, responses=may)
    def fix(piece_id: PieceId, wanted: m.FixIn) -> Response:
        """Apply a remedy and save what comes of it."""
        return answered(desk.fix(piece_id, wanted.base_revision_n, wanted.fix_id))

    @routes.post("/undo", response_model=m.Answer, responses=may)
    def undo(piece_id: PieceId, base: m.BaseIn) -> Response:
        """Go back to the revision that this one was made from."""
        desk.pieces.undo(piece_id, base.base_revision_n)
        return answered(desk.answer(piece_id))

    @routes.post("/redo", response_model=m.Answer, responses=may)
    def redo(piece_id: PieceId, base: m.BaseIn) -> Response:
        """Take back the last undo."""
        desk.pieces.redo(piece_id, base.base_revision_n)
        return answered(desk.answer(piece_id))

    @routes.post("/restore", response_model=m.Answer, responses=may)
    def restore(piece_id: PieceId, wanted: m.RestoreIn) -> Response:
        """Make an earlier, or a refused, revision the newest again."""
        return answered(desk.restore(piece_id, wanted.base_revision_n, wanted.revision_n))

    return routes
