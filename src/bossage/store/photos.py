"""Photos of walls that belong to a piece, each with its four points."""

from __future__ import annotations

import json
import secrets
from dataclasses import dataclass

from bossage.errors import BossageError
from bossage.store.faults import NoSuchPiece
from bossage.store.pieces import Pieces

Point = tuple[float, float]
#: Of one piece, so that it goes into one file and comes back.
MOST_TOGETHER_BYTES = 36_000_000
MOST_TOGETHER_PIXELS = 200_000_000
MOST_PHOTOS = 200


class TooManyPhotos(BossageError):
    """More photos than go with one piece."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A photo as it is kept: re-encoded, so that nothing but the picture is in it.

    `points` are what the maker marked and measured, as the edge that made it wrote them down.
    """

    photo_id: str
    piece_id: str
    width_px: int
    height_px: int
    points: dict[str, list[list[float]]]
    image: bytes


class Photos:
    """The photos of one file of pieces."""

    def __init__(self, pieces: Pieces) -> None:
        """Those of the pieces given."""
        self._pieces = pieces

    def keep(
        self, piece_id: str, *, image: bytes, width_px: int, height_px: int, points: dict[str, list[list[float]]]
    ) -> str:
        """Keep a photo; its number.

        Raises:
            NoSuchPiece: There is none.
            TooManyPhotos: Those of the piece would hold more than one file takes.
        """
        photo_id = secrets.token_hex(8)
        with self._pieces.writing() as db:
            if db.execute("SELECT 1 FROM piece WHERE piece_id = ?", (piece_id,)).fetchone() is None:
                raise NoSuchPiece("There is no such piece; it may have been thrown away for good.")
            count, held, pixels = db.execute(
                "SELECT count(*), total(length(image)), total(width_px * height_px) FROM photo WHERE piece_id = ?",
                (piece_id,),
            ).fetchone()
            if (
                count >= MOST_PHOTOS
                or held + len(image) > MOST_TOGETHER_BYTES
                or pixels + width_px * height_px > MOST_TOGETHER_PIXELS
            ):
                raise TooManyPhotos(
                    f"This piece has {count} photos of {held / 1e6:.0f} MB and {pixels / 1e6:.0f} million pixels; with "
                    f"one piece go at most {MOST_PHOTOS} of {MOST_TOGETHER_BYTES / 1e6:.0f} MB and "
                    f"{MOST_TOGETHER_PIXELS / 1e6:.0f} million pixels. Take one away first."
                )
            db.execute(
                "INSERT INTO photo (photo_id, piece_id, made_at, width_px, height_px, points, image)"
                " VALUES (?, ?, ?, ?, ?, ?, ?)",
                (photo_id, piece_id, self._pieces.now(), width_px, height_px, json.dumps(points), image),
            )
        return photo_id

    def photo(self, photo_id: str) -> Photo:
        """One photo.

        Raises:
            NoSuchPiece: There is none.
        """
        with self._pieces.reading() as db:
            row = db.execute("SELECT * FROM photo WHERE photo_id = ?", (photo_id,)).fetchone()
        if row is None:
            raise NoSuchPiece("There is no such photo; it may have been thrown away with its piece.")
        return Photo(
            photo_id=photo_id,
            piece_id=row["piece_id"],
            width_px=row["width_px"],
            height_px=row["height_px"],
            points=json.loads(row["points"]),
            image=row["image"],
        )

    def mark(self, photo_id: str, points: dict[str, list[list[float]]]) -> None:
        """Keep where points of a photo are on the wall, in place of what was kept.

        Raises:
            NoSuchPiece: There is none.
        """
        with self._pieces.writing() as db:
            done = db.execute("UPDATE photo SET points = ? WHERE photo_id = ?", (json.dumps(points), photo_id))
            if not done.rowcount:
                raise NoSuchPiece("There is no such photo; it may have been thrown away with its piece.")

    def of_piece(self, piece_id: str) -> tuple[str, ...]:
        """The photos of a piece, newest first."""
        with self._pieces.reading() as db:
            rows = db.execute(
                "SELECT photo_id FROM photo WHERE piece_id = ? ORDER BY made_at DESC, rowid DESC", (piece_id,)
            ).fetchall()
        return tuple(row["photo_id"] for row in rows)

    def forget(self, photo_id: str) -> None:
        """Take a photo away.

        Raises:
            NoSuchPiece: There is none.
        """
        with self._pieces.writing() as db:
            if not db.execute("DELETE FROM photo WHERE photo_id = ?", (photo_id,)).rowcount:
                raise NoSuchPiece("There is no such photo; it may have been thrown away with its piece.")
