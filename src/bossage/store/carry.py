"""One piece as one file, to take along or to keep: JSON in UTF-8, described in docs/piece-file.md.

What comes in was written by anybody: all of it is looked at before a row is made, in time and memory that the bounds
below hold down, and a piece that comes in is a new one here, whatever it was called elsewhere.
"""

from __future__ import annotations

import base64
import json
import math
import re
import secrets
from datetime import UTC, datetime, timedelta
from typing import Any, NoReturn

from bossage.brief import BriefFaults
from bossage.brief.sections import parse_toml
from bossage.errors import BossageError
from bossage.store.photos import MOST_PHOTOS, MOST_TOGETHER_BYTES, MOST_TOGETHER_PIXELS
from bossage.store.pieces import Look, Pieces, trust
from bossage.store.rows import head_of

FORMAT = "bossage.piece/1"
MOST_BYTES = 60_000_000
MOST_VALUES = 1_000_000  # in all lists and tables of the file, before one of them is made
MOST_REVISIONS = 20_000
MOST_VERSIONS = 2_000
HIGHEST_REVISION = 10**9  # the highest that can be asked for
LONGEST_BRIEF = 1_000_000
LONGEST_BRIEFS = 6_000_000  # letters of all briefs that differ, which are all read
LONGEST_WORDS = 400
FARTHEST = 1e9  # of a point, in pixels or millimetres
_EARLIEST = datetime(2000, 1, 1, tzinfo=UTC)
_AHEAD = timedelta(days=366)  # so far another machine's clock may be wrong
_TEXTS = re.compile(rb'"[^"\\]*(?:\\.[^"\\]*)*"', re.DOTALL)
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


def import_piece(pieces: Pieces, data: bytes, *, look: Look = trust) -> str:
    """Take in a piece that `export_piece` wrote; its number here.

    Args:
        pieces: Where to.
        data: The file.
        look: Called with the newest revision before anything is kept; what it raises is raised, and nothing is kept.

    Raises:
        NotAPiece: The file holds no piece, or half of one.
        NotAPhoto: A photo in it is none, or too large.
    """
    body = _parsed(data)
    if not isinstance(body, dict) or body.get("format") != FORMAT:
        raise NotAPiece(f"This file holds no piece: its format is not {FORMAT}. Choose one that bossage exported.")
    until = datetime.fromisoformat(pieces.now()) + _AHEAD
    revisions = _revisions(body, until)
    known = {row["revision_n"] for row in revisions}
    head_n = _number(body, "head_n", "the file")
    if head_n not in known:
        raise NotAPiece(f"The piece's newest revision, {head_n}, is missing from the file.")
    versions = _versions(body, known, until)
    _look_at_briefs(revisions)
    photos = _photos(body, until)
    made_at = _time(body, "made_at", "the file", until)
    piece_id = secrets.token_hex(6)
    with pieces.writing() as db:
        db.execute(
            "INSERT INTO piece (piece_id, made_at, head_n) VALUES (?, ?, ?)",
            (piece_id, made_at, head_n),
        )
        db.executemany(
            "INSERT INTO revision (piece_id, revision_n, parent_n, next_n, aside, saved_at, words, name, seed, stamp,"
            " verdict, toml) VALUES (:piece_id, :revision_n, :parent_n, :next_n, :aside, :saved_at, :words, :name,"
            " :seed, :stamp, :verdict, :toml)",
            [{**row, "piece_id": piece_id} for row in revisions],
        )
        db.executemany(
            "INSERT INTO version (piece_id, name, revision_n, made_at)"
            " VALUES (:piece_id, :name, :revision_n, :made_at)",
            [{**row, "piece_id": piece_id} for row in versions],
        )
        db.executemany(
            "INSERT INTO photo (photo_id, piece_id, made_at, width_px, height_px, points, image)"
            " VALUES (:photo_id, :piece_id, :made_at, :width_px, :height_px, :points, :image)",
            [{**row, "piece_id": piece_id, "photo_id": secrets.token_hex(8)} for row in photos],
        )
        look(head_of(db, piece_id))
    return piece_id


def _parsed(data: bytes) -> Any:
    """The JSON of the file, where its size and the number of its values are such that it can be held."""
    if len(data) > MOST_BYTES:
        raise NotAPiece(
            f"This file holds {len(data) / 1e6:.0f} MB; at most {MOST_BYTES / 1e6:.0f} MB are taken in. A whole store "
            "is carried with `bossage backup`."
        )
    bare = _TEXTS.sub(b"", data)
    if sum(bare.count(mark) for mark in (b",", b"[", b"{")) > MOST_VALUES:
        raise NotAPiece(f"This file holds no piece: it has more than {MOST_VALUES:,} values.")
    try:
        return json.loads(data.decode("utf-8-sig"), parse_constant=_no_number)
    except (ValueError, RecursionError):
        raise NotAPiece(
            "This file holds no piece: it is not JSON in UTF-8. Choose one that bossage exported."
        ) from None


def _no_number(word: str) -> NoReturn:
    raise ValueError(word)


def _look_at_briefs(revisions: list[dict[str, Any]]) -> None:
    """Read every brief once: one that is no TOML could never be shown."""
    briefs = {row["toml"]: row["revision_n"] for row in revisions}
    letters = sum(map(len, briefs))
    if letters > LONGEST_BRIEFS:
        raise NotAPiece(
            f"The briefs of all revisions have {letters:,} letters together; at most {LONGEST_BRIEFS:,} are taken in. "
            "A whole store is carried with `bossage backup`."
        )
    for toml, number in briefs.items():
        try:
            parse_toml(toml)
        except BriefFaults as faults:
            said = "; ".join(f"{fault.found} ({fault.allowed})" for fault in faults.faults[:1])
            raise NotAPiece(f"The brief of revision {number} cannot be read: {said}.") from None


def _versions(body: dict[str, Any], known: set[int], until: datetime) -> list[dict[str, Any]]:
    entries = _list(body, "versions", MOST_VERSIONS)
    found = {row["name"]: row for row in (_version(entry, known, until) for entry in entries)}
    if len(found) < len(entries):
        raise NotAPiece("The file holds two named versions of the same name. Choose a file that bossage exported.")
    return list(found.values())


def _photos(body: dict[str, Any], until: datetime) -> list[dict[str, Any]]:
    """All photos: their heads first, so that what unpacking them costs is known before it is done."""
    entries = _list(body, "photos", MOST_PHOTOS)
    if not entries:
        return []
    from bossage.store.images import kept_photo, photo_work  # pillow, only where there is a photo

    rows = [_photo(entry, until) for entry in entries]
    together = sum(len(row["image"]) for row in rows)
    if together > MOST_TOGETHER_BYTES:
        raise NotAPiece(
            f"The photos in the file hold {together / 1e6:.0f} MB; at most {MOST_TOGETHER_BYTES / 1e6:.0f} MB go with "
            "one piece."
        )
    work = 0
    for row in rows:
        width_px, height_px, more = photo_work(row["image"])
        work += more
        if (width_px, height_px) != (row["width_px"], row["height_px"]):
            raise NotAPiece("A photo in the file is of another size than the file says. Export the piece again.")
    if work > MOST_TOGETHER_PIXELS:  # pass by pass, of which a photo that was kept here has one
        raise NotAPiece(
            f"The photos in the file take {work / 1e6:,.0f} million pixels to unpack; at most "
            f"{MOST_TOGETHER_PIXELS / 1e6:,.0f} million are taken in."
        )
    return [{**row, "image": kept_photo(row["image"])} for row in rows]


def _revisions(body: dict[str, Any], until: datetime) -> list[dict[str, Any]]:
    entries = _list(body, "revisions", MOST_REVISIONS)
    if not entries:
        raise NotAPiece("The file holds no revision. Choose a file that bossage exported.")
    rows, known = [], set()
    for entry in entries:
        number = _number(entry, "revision_n", "a revision")
        where = f"revision {number}"
        if number in known or not 0 < number <= HIGHEST_REVISION:
            raise NotAPiece(f"The file holds {where} twice, or a number that is not 1 to {HIGHEST_REVISION:,}.")
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
                "saved_at": _time(entry, "saved_at", where, until),
                **{key: _text(entry, key, where) for key in ("words", "name", "stamp")},
            }
        )
    for row in rows:
        # parents come before, as they did when the piece was made: no circle, so undo always ends
        if row["parent_n"] is not None and not (row["parent_n"] in known and row["parent_n"] < row["revision_n"]):
            raise NotAPiece(f"Revision {row['revision_n']} was made from {row['parent_n']}, which is not before it.")
        if row["next_n"] is not None and not (row["next_n"] in known and row["next_n"] > row["revision_n"]):
            raise NotAPiece(f"Revision {row['revision_n']} leads to {row['next_n']}, which is not after it.")
    return rows


def _version(entry: Any, known: set[int], until: datetime) -> dict[str, Any]:
    number = _number(entry, "revision_n", "a named version")
    if number not in known:
        raise NotAPiece(f"A named version stands for revision {number}, which is missing from the file.")
    name = _text(entry, "name", "a named version")
    return {"name": name, "revision_n": number, "made_at": _time(entry, "made_at", f"the version {name}", until)}


def _photo(entry: Any, until: datetime) -> dict[str, Any]:
    """A photo as the file has it, not yet looked into."""
    try:
        image = base64.b64decode(_text(entry, "image_base64", "a photo", most=MOST_BYTES), validate=True)
    except ValueError:
        raise NotAPiece("A photo in the file is damaged. Export the piece again.") from None
    return {
        "made_at": _time(entry, "made_at", "a photo", until),
        "width_px": _number(entry, "width_px", "a photo"),
        "height_px": _number(entry, "height_px", "a photo"),
        "points": json.dumps(_points(entry.get("points")), allow_nan=False),
        "image": image,
    }


def _points(value: Any) -> Any:
    """Nothing, or four points with their places."""
    if value != {} and not (
        isinstance(value, dict)
        and set(value) == {"points_px", "places_mm"}
        and all(isinstance(pairs, list) and len(pairs) == 4 and all(map(_is_pair, pairs)) for pairs in value.values())
    ):
        raise NotAPiece(
            "The points of a photo in the file are damaged: four pairs of numbers in points_px and in places_mm, or "
            "none at all. Export the piece again."
        )
    return value


def _is_pair(value: Any) -> bool:
    return (
        isinstance(value, list)
        and len(value) == 2
        and all(type(n) in (int, float) and abs(n) <= FARTHEST and math.isfinite(n) for n in value)
    )


def _list(body: dict[str, Any], key: str, most: int) -> list[Any]:
    value = body.get(key, [])
    if not isinstance(value, list):
        raise NotAPiece(f"'{key}' in the file is no list. Choose a file that bossage exported.")
    if len(value) > most:
        raise NotAPiece(f"The file holds {len(value):,} {key}; a piece has at most {most:,}.")
    return value


def _time(entry: Any, key: str, where: str, until: datetime) -> str:
    """A moment as it is kept: UTC by ISO 8601, to the second."""
    text = _text(entry, key, where)
    try:
        moment = datetime.strptime(text, "%Y-%m-%dT%H:%M:%SZ").replace(tzinfo=UTC)
    except ValueError:
        moment = None
    if moment is None or moment.strftime("%Y-%m-%dT%H:%M:%SZ") != text:
        raise NotAPiece(f"'{key}' of {where} is '{text[:40]}'; a moment such as 2027-05-31T12:00:00Z is expected.")
    if not _EARLIEST <= moment <= until:
        raise NotAPiece(
            f"'{key}' of {where} is {text}, before the year {_EARLIEST.year} or more than a year ahead of this "
            "machine's clock. Look whether that clock is right."
        )
    return text


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
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        raise NotAPiece(f"'{key}' of {where} holds half a letter. Choose a file that bossage exported.") from None
    return value
