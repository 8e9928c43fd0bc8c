"""One piece as one file, to take along or to keep: JSON in UTF-8, described in docs/piece-file.md.

What comes in was written by anybody: every field is looked at before a row is made, and a piece that comes in is a new
one here, whatever it was called elsewhere.
"""

from __future__ import annotations

import base64
import json
import secrets
from typing import Any

from bossage.errors import BossageError
from bossage.store.pieces import Pieces

FORMAT = "bossage.piece/1"
MOST_REVISIONS = 20_000
LONGEST_BRIEF = 1_000_000
LONGEST_WORDS = 400
_VERDICTS = ("fine", "caution", "stop", "no plan")


class NotAPiece(BossageError):
    """A file that holds no piece, and what is wrong with it."""


def export_piece(pieces: Pieces, piece_id: str) -> bytes:
    """The piece with all its history, named versions and photos.

    Raises:
        NoSuchPiece: There is none.
    """
    pieces.revision(piece_id)
    with pieces.reading() as db:
        piece = db.execute("SELECT made_at, head_n FROM piece WHERE piece_id = ?", (piece_id,)).fetchone()
        revisions = db.execute(
            "SELECT revision_n, parent_n, next_n, aside, saved_at, words, name, seed, stamp, verdict, toml"
            " FROM revision WHERE piece_id = ? ORDER BY revision_n",
            (piece_id,),
        ).fetchall()
        versions = db.execute(
            "SELECT name, revision_n, made_at FROM version WHERE piece_id = ? ORDER BY made_at, name", (piece_id,)
        ).fetchall()
        photos = db.execute(
            "SELECT made_at, width_px, height_px, points, image FROM photo WHERE piece_id = ? ORDER BY made_at, rowid",
            (piece_id,),
        ).fetchall()
    body = {
        "format": FORMAT,
        "made_at": piece["made_at"],
        "head_n": piece["head_n"],
        "revisions": [{**dict(row), "aside": bool(row["aside"])} for row in revisions],
        "versions": [dict(row) for row in versions],
        "photos": [
            {
                **{key: row[key] for key in ("made_at", "width_px", "height_px")},
                "points": json.loads(row["points"]),
                "image_base64": base64.b64encode(row["image"]).decode("ascii"),
            }
            for row in photos
        ],
    }
    return (json.dumps(body, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode("utf-8")


def import_piece(pieces: Pieces, data: bytes) -> str:
    """Take in a piece that `export_piece` wrote; its number here.

    Raises:
        NotAPiece: The file holds no piece, or half of one.
    """
    try:
        body = json.loads(data)
    except (ValueError, RecursionError):
        raise NotAPiece("This file holds no piece: it is not JSON. Choose one that bossage exported.") from None
    if not isinstance(body, dict) or body.get("format") != FORMAT:
        raise NotAPiece(f"This file holds no piece: its format is not {FORMAT}. Choose one that bossage exported.")
    revisions = _revisions(body)
    known = {row["revision_n"] for row in revisions}
    head_n = _number(body, "head_n", "the file")
    if head_n not in known:
        raise NotAPiece(f"The piece's newest revision, {head_n}, is missing from the file.")
    versions = [_version(entry, known) for entry in _list(body, "versions")]
    photos = [_photo(entry) for entry in _list(body, "photos")]
    piece_id = secrets.token_hex(6)
    with pieces.writing() as db:
        db.execute(
            "INSERT INTO piece (piece_id, made_at, head_n) VALUES (?, ?, ?)",
            (piece_id, _text(body, "made_at", "the file"), head_n),
        )
        db.executemany(
            "INSERT INTO revision (piece_id, revision_n, parent_n, next_n, aside, saved_at, words, name, seed, stamp,"
            " verdict, toml) VALUES (:piece_id, :revision_n, :parent_n, :next_n, :aside, :saved_at, :words, :name,"
            " :seed, :stamp, :verdict, :toml)",
            [{**row, "piece_id": piece_id} for row in revisions],
        )
        db.executemany(
            "INSERT INTO version (piece_id, name, revision_n, made_at) VALUES (:piece_id, :name, :revision_n, :made_at)"
            " ON CONFLICT DO NOTHING",
            [{**row, "piece_id": piece_id} for row in versions],
        )
        db.executemany(
            "INSERT INTO photo (photo_id, piece_id, made_at, width_px, height_px, points, image)"
            " VALUES (:photo_id, :piece_id, :made_at, :width_px, :height_px, :points, :image)",
            [{**row, "piece_id": piece_id, "photo_id": secrets.token_hex(8)} for row in photos],
        )
    return piece_id


def _revisions(body: dict[str, Any]) -> list[dict[str, Any]]:
    entries = _list(body, "revisions")
    if not 0 < len(entries) <= MOST_REVISIONS:
        raise NotAPiece(f"The file holds {len(entries):,} revisions; a piece has 1 to {MOST_REVISIONS:,}.")
    rows, known = [], set()
    for entry in entries:
        number = _number(entry, "revision_n", "a revision")
        where = f"revision {number}"
        if number in known or number < 1:
            raise NotAPiece(f"The file holds {where} twice, or a number below 1.")
        known.add(number)
        verdict = _text(entry, "verdict", where)
        if verdict not in _VERDICTS:
            raise NotAPiece(f"The verdict of {where} is '{verdict[:20]}'; it is one of {', '.join(_VERDICTS)}.")
        rows.append(
            {
                "revision_n": number,
                "parent_n": _number(entry, "parent_n", where, may_lack=True),
                "next_n": _number(entry, "next_n", where, may_lack=True),
                "aside": int(entry.get("aside") is True),
                "seed": _number(entry, "seed", where),
                "verdict": verdict,
                "toml": _text(entry, "toml", where, most=LONGEST_BRIEF),
                **{key: _text(entry, key, where) for key in ("saved_at", "words", "name", "stamp")},
            }
        )
    for row in rows:
        # parents come before, as they did when the piece was made: no circle, so undo always ends
        if row["parent_n"] is not None and not (row["parent_n"] in known and row["parent_n"] < row["revision_n"]):
            raise NotAPiece(f"Revision {row['revision_n']} was made from {row['parent_n']}, which is not before it.")
        if row["next_n"] is not None and not (row["next_n"] in known and row["next_n"] > row["revision_n"]):
            raise NotAPiece(f"Revision {row['revision_n']} leads to {row['next_n']}, which is not after it.")
    return rows


def _version(entry: Any, known: set[int]) -> dict[str, Any]:
    number = _number(entry, "revision_n", "a named version")
    if number not in known:
        raise NotAPiece(f"A named version stands for revision {number}, which is missing from the file.")
    name = _text(entry, "name", "a named version")
    return {"name": name, "revision_n": number, "made_at": _text(entry, "made_at", f"the version {name}")}


def _photo(entry: Any) -> dict[str, Any]:
    from bossage.store.images import clean_photo  # pillow, only where there is a photo

    try:
        data = base64.b64decode(_text(entry, "image_base64", "a photo", most=40_000_000), validate=True)
    except ValueError:
        raise NotAPiece("A photo in the file is damaged. Export the piece again.") from None
    image, width_px, height_px = clean_photo(data)
    points = entry.get("points")
    if not isinstance(points, dict) or not all(_pairs(value) for value in points.values()):
        raise NotAPiece("The points of a photo in the file are damaged. Export the piece again.")
    return {
        "made_at": _text(entry, "made_at", "a photo"),
        "width_px": width_px,
        "height_px": height_px,
        "points": json.dumps(points),
        "image": image,
    }


def _pairs(value: Any) -> bool:
    return isinstance(value, list) and all(
        isinstance(pair, list) and len(pair) == 2 and all(type(number) in (int, float) for number in pair)
        for pair in value
    )


def _list(body: dict[str, Any], key: str) -> list[Any]:
    value = body.get(key, [])
    if not isinstance(value, list):
        raise NotAPiece(f"'{key}' in the file is no list. Choose a file that bossage exported.")
    return value


def _number(entry: Any, key: str, where: str, *, may_lack: bool = False) -> Any:
    value = entry.get(key) if isinstance(entry, dict) else None
    if value is None and may_lack:
        return None
    if type(value) is not int or abs(value) >= 2**63:
        raise NotAPiece(f"'{key}' of {where} is no whole number. Choose a file that bossage exported.")
    return value


def _text(entry: Any, key: str, where: str, *, most: int = LONGEST_WORDS) -> str:
    value = entry.get(key) if isinstance(entry, dict) else None
    if not isinstance(value, str) or len(value) > most:
        raise NotAPiece(f"'{key}' of {where} is no text, or a very long one. Choose a file that bossage exported.")
    return value
