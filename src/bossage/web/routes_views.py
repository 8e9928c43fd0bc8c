"""Routes to look at a piece: sheets, sizes, pictures, papers, photos."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter
from fastapi import Path as InPath
from fastapi.responses import Response

from bossage.pack.catalogue import wanted_sheets
from bossage.pack.files import wall_picture
from bossage.plan import Plan
from bossage.store import Photos
from bossage.store.images import clean_photo
from bossage.web import models as m
from bossage.web.answers import answered, documented, sent
from bossage.web.desk import Desk
from bossage.web.jobs import Job, Jobs, NotDone
from bossage.web.marks import matrix_of, points_of
from bossage.web.photo import photo_array, piece_on_photo, png_of
from bossage.web.routes_pieces import At, Octets, PieceId
from bossage.web.sheets import stage_sheets
from bossage.web.sizes import sizes_of

Stage = Literal["wall", "sizes", "relief", "fade", "saw", "paint", "press", "hang", "papers", "ask"]
JobId = Annotated[str, InPath(pattern=r"^[0-9a-f]{16}$", description="The number of a job.")]
PhotoId = Annotated[str, InPath(pattern=r"^[0-9a-f]{16}$", description="The number of a photo.")]


def _bytes_of(kind: str) -> dict[int | str, dict[str, Any]]:
    return {200: {"content": {kind: {"schema": {"type": "string", "format": "binary"}}}}}


def looking(desk: Desk) -> APIRouter:
    """Sheets, sizes and the lit picture."""
    routes = APIRouter(prefix="/api/pieces/{piece_id}")

    @routes.get("/stages/{stage}", response_model=list[m.SheetOut], responses=documented(404, 409, 422))
    def stage(piece_id: PieceId, stage: Stage, revision_n: At = None) -> Response:
        """The sheets of a stage."""
        return answered(stage_sheets(desk.plan(piece_id, revision_n, said=True), stage))

    @routes.get("/sizes", response_model=m.SizesOut, responses=documented(404, 422))
    def sizes(piece_id: PieceId, revision_n: At = None) -> Response:
        """Sizes to choose from, and the brief's own."""
        planned = desk.outcome(piece_id, revision_n, said=True)
        made = planned.outcome
        return answered(sizes_of(planned.brief, as_planned=made.brief if isinstance(made, Plan) else planned.brief))

    @routes.get(
        "/picture.png",
        response_class=Response,
        responses={**documented(404, 409, 422), **_bytes_of("image/png")},
    )
    def picture(piece_id: PieceId, revision_n: At = None) -> Response:
        """The lit picture of the piece on its wall."""
        return sent(wall_picture(desk.plan(piece_id, revision_n)), "image/png")

    return routes


def papers_routes(desk: Desk, jobs: Jobs) -> APIRouter:
    """Papers, made by a job that can be watched and stopped."""
    routes = APIRouter(prefix="/api")

    @routes.post(
        "/pieces/{piece_id}/papers",
        response_model=m.JobOut,
        status_code=202,
        responses=documented(404, 409, 413, 415, 422),
    )
    def begin(piece_id: PieceId, wanted: m.PapersIn) -> Response:
        """Begin to make papers: the whole pack, or some sheets."""
        sheets = None if wanted.sheets is None else wanted_sheets(tuple(wanted.sheets))
        plan = desk.plan(piece_id, wanted.revision_n)
        return answered(_job(jobs.begin(plan, sheets=sheets, form=wanted.form)), 202)

    @routes.get("/jobs/{job_id}", response_model=m.JobOut, responses=documented(404, 422))
    def job(job_id: JobId) -> Response:
        """How far a job is."""
        return answered(_job(jobs.job(job_id)))

    @routes.delete("/jobs/{job_id}", response_model=m.JobOut, responses=documented(404, 422))
    def cancel(job_id: JobId) -> Response:
        """Stop a job."""
        return answered(_job(jobs.cancel(job_id)))

    @routes.get(
        "/jobs/{job_id}/file",
        response_class=Response,
        responses={**documented(404, 409, 422), **_bytes_of("application/octet-stream")},
    )
    def file(job_id: JobId) -> Response:
        """What a job made."""
        done = jobs.job(job_id)
        if done.file_name is None:
            raise NotDone(done.words)
        return sent(done.data, done.kind, done.file_name)

    return routes


def _job(job: Job) -> dict[str, Any]:
    return {
        "job_id": job.job_id,
        "state": job.state,
        "stage": job.stage,
        "share": job.share,
        "words": job.words,
        "file_name": job.file_name,
        "stamp": job.stamp,
    }


def photos_routes(desk: Desk) -> APIRouter:
    """Photos of the wall, and the piece on them."""
    routes = APIRouter(prefix="/api")
    photos = Photos(desk.pieces)

    def shown(photo_id: str) -> dict[str, Any]:
        photo = photos.photo(photo_id)
        return {
            "photo_id": photo_id,
            "width_px": photo.width_px,
            "height_px": photo.height_px,
            "marked": bool(photo.points),
        }

    @routes.get("/pieces/{piece_id}/photos", response_model=list[m.PhotoOut], responses=documented(404, 422))
    def of_piece(piece_id: PieceId) -> Response:
        """The photos of a piece's wall, newest first."""
        desk.pieces.revision(piece_id)
        return answered([shown(photo_id) for photo_id in photos.of_piece(piece_id)])

    @routes.post(
        "/pieces/{piece_id}/photos",
        response_model=m.PhotoOut,
        status_code=201,
        responses=documented(404, 413, 415, 422),
    )
    def keep(piece_id: PieceId, image: Octets) -> Response:
        """Keep a photo of the wall: JPEG, PNG or WebP."""
        desk.pieces.revision(piece_id)
        data, width_px, height_px = clean_photo(image)
        photo_id = photos.keep(piece_id, image=data, width_px=width_px, height_px=height_px, points={})
        return answered(shown(photo_id), 201)

    @routes.get(
        "/photos/{photo_id}.jpg",
        response_class=Response,
        responses={**documented(404, 422), **_bytes_of("image/jpeg")},
    )
    def photo(photo_id: PhotoId) -> Response:
        """The photo as it is kept."""
        return sent(photos.photo(photo_id).image, "image/jpeg")

    @routes.put("/photos/{photo_id}/marks", response_model=m.PhotoOut, responses=documented(404, 413, 415, 422))
    def mark(photo_id: PhotoId, marks: m.MarksIn) -> Response:
        """Say where four points of the photo are on the wall."""
        brief = desk.outcome(photos.photo(photo_id).piece_id, None).brief
        points = points_of(marks, brief)
        matrix_of(points)
        photos.mark(photo_id, points)
        return answered(shown(photo_id))

    @routes.delete("/photos/{photo_id}", status_code=204, responses=documented(404, 422))
    def forget(photo_id: PhotoId) -> Response:
        """Take a photo away."""
        photos.forget(photo_id)
        return Response(status_code=204)

    @routes.get(
        "/pictures/{photo_id}.png",
        response_class=Response,
        responses={**documented(404, 409, 422), **_bytes_of("image/png")},
    )
    def on_photo(photo_id: PhotoId, revision_n: At = None) -> Response:
        """The piece on the photo of its wall, to scale and lit from its side."""
        kept = photos.photo(photo_id)
        matrix = matrix_of(kept.points)
        return sent(
            png_of(piece_on_photo(photo_array(kept.image), matrix, desk.plan(kept.piece_id, revision_n))), "image/png"
        )

    return routes
