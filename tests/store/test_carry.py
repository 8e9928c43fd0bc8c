"""A piece file that anybody may have written is looked at as a whole before anything is kept, within bounds."""

from __future__ import annotations

import base64
import io
import json
import random
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from bossage.errors import BossageError
from bossage.store import Photos, Pieces, export_piece, import_piece
from bossage.store.carry import MOST_VALUES, NotAPiece
from bossage.store.photos import MOST_TOGETHER_BYTES, MOST_TOGETHER_PIXELS, TooManyPhotos
from bossage.web.desk import Desk
from tests.store.mutants import mutants
from tests.store.pictures import jpeg
from tests.store.writer import FACTS

KEPT = Path(__file__).parent.parent / "kept" / "version_0_1_0" / "piece.bossage.json"
NOW = "2026-12-01T12:00:00Z"
Body = dict[str, Any]


@pytest.fixture
def pieces(tmp_path: Path) -> Iterator[Pieces]:
    with Pieces(tmp_path / "pieces.sqlite", now=lambda: NOW) as opened:
        yield opened


def body() -> Body:
    read: Body = json.loads(KEPT.read_bytes())
    return read


def set_in(body: Body, value: Any, *way: str | int) -> None:
    here: Any = body
    for step in way[:-1]:
        here = here[step]
    here[way[-1]] = value


def picture(kind: str, width: int, height: int, **more: Any) -> str:
    out = io.BytesIO()
    Image.new("RGB", (width, height), "#808080").save(out, kind, **more)
    return base64.b64encode(out.getvalue()).decode()


def many_passes() -> str:
    """A small JPEG that claims to be drawn over and over again."""
    data = base64.b64decode(picture("JPEG", 2400, 2400, progressive=True))
    at = data.index(b"\xff\xda")
    scan = data[at:-2]
    return base64.b64encode(data[:-2] + scan * 400 + b"\xff\xd9").decode()


PHOTO: dict[str, Callable[[Body], None]] = {
    "points that are no numbers": lambda b: set_in(b, float("nan"), "photos", 0, "points", "points_px", 0, 0),
    "points without end": lambda b: set_in(b, 1e400, "photos", 0, "points", "points_px", 0, 0),
    "points far away": lambda b: set_in(b, 10**400, "photos", 0, "points", "places_mm", 0, 0),
    "three points": lambda b: b["photos"][0]["points"]["points_px"].pop(),
    "other points": lambda b: set_in(b, [], "photos", 0, "points", "more"),
    "sixty million pixels": lambda b: set_in(b, picture("PNG", 7700, 7700), "photos", 0, "image_base64"),
    "a photo of a large size": lambda b: set_in(b, picture("JPEG", 4000, 3000), "photos", 0, "image_base64"),
    "a photo of another size": lambda b: set_in(b, picture("JPEG", 63, 48), "photos", 0, "image_base64"),
    "a photo in many passes": lambda b: b["photos"][0].update(
        image_base64=many_passes(), width_px=2400, height_px=2400
    ),
    "a damaged photo": lambda b: set_in(b, b["photos"][0]["image_base64"][:400], "photos", 0, "image_base64"),
    "too many photos": lambda b: b["photos"].extend(b["photos"] * 300),
}
OTHER: dict[str, Callable[[Body], None]] = {
    "text that is no TOML": lambda b: set_in(b, "this is [no TOML", "revisions", 1, "toml"),
    "a control letter": lambda b: set_in(b, "a = '\x00'", "revisions", 0, "toml"),
    "a high number": lambda b: b["revisions"].append({**b["revisions"][3], "revision_n": 10**9 + 1}),
    "a number of a thousand digits": lambda b: set_in(b, 10**1000, "revisions", 0, "seed"),
    "the year 9999": lambda b: set_in(b, "9999-12-31T23:59:59Z", "revisions", 0, "saved_at"),
    "no year": lambda b: set_in(b, "yesterday", "made_at"),
    "a day that is none": lambda b: set_in(b, "2026-02-30T00:00:00Z", "versions", 0, "made_at"),
    "half a letter": lambda b: set_in(b, "\ud800", "revisions", 0, "words"),
    "half a letter in a name": lambda b: set_in(b, "\udfff", "versions", 0, "name"),
    "a name given twice": lambda b: b["versions"].append(dict(b["versions"][0])),
    "no head": lambda b: set_in(b, 77, "head_n"),
    "a way in a circle": lambda b: set_in(b, 3, "revisions", 1, "parent_n"),
    "very many values": lambda b: set_in(b, [0] * (MOST_VALUES + 1), "more"),
    "briefs without end": lambda b: b["revisions"].extend(
        {**b["revisions"][0], "revision_n": n, "toml": f"# {n}" + "x" * 999_000} for n in range(5, 19)
    ),
}


@pytest.mark.parametrize("name", [*PHOTO, *OTHER])
def test_what_could_not_be_shown_or_exported_is_refused_before_anything_is_kept(pieces: Pieces, name: str) -> None:
    wrong = body()
    {**PHOTO, **OTHER}[name](wrong)
    with pytest.raises(BossageError) as fault:
        import_piece(pieces, json.dumps(wrong).encode())
    assert len(str(fault.value)) < 400
    assert pieces.all() == ()


def test_photos_are_not_unpacked_before_all_of_them_were_looked_at(
    pieces: Pieces, monkeypatch: pytest.MonkeyPatch
) -> None:
    def unpacked(*args: object, **more: object) -> None:
        raise AssertionError("unpacked")

    wrong = body()
    photo = {**wrong["photos"][0], "image_base64": picture("JPEG", 2400, 2400), "width_px": 2400, "height_px": 2400}
    wrong["photos"] = [photo] * (MOST_TOGETHER_PIXELS // 2400**2 + 1)
    monkeypatch.setattr(Image.Image, "load", unpacked)
    with pytest.raises(NotAPiece, match="million pixels to unpack"):
        import_piece(pieces, json.dumps(wrong).encode())


@pytest.mark.parametrize("coding", ["utf-16", "utf-32", "latin-1"])
def test_the_file_is_in_utf_8(pieces: Pieces, coding: str) -> None:
    text = json.dumps(body()).replace("Draw again", "Tracé")
    with pytest.raises(NotAPiece, match="UTF-8"):
        import_piece(pieces, text.encode(coding))


def test_a_photo_keeps_its_bytes_and_loses_what_hides_in_it(pieces: Pieces) -> None:
    piece_id = pieces.make("a = 1", FACTS, "begin")
    Photos(pieces).keep(piece_id, image=jpeg(300, 200), width_px=300, height_px=200, points={})
    data = export_piece(pieces, piece_id)
    once = json.loads(data)
    other = import_piece(pieces, data)
    assert json.loads(export_piece(pieces, other)) == once
    exif = Image.Exif()
    exif[0x010E] = "where I live"
    noted = base64.b64decode(picture("JPEG", 300, 200, exif=exif))
    for hidden in (noted, jpeg(300, 200) + b"behind the end", jpeg(300, 200)[:-2] + b"\xff\xd9where I live\xff\xd9"):
        once["photos"][0]["image_base64"] = base64.b64encode(hidden).decode()
        taken = import_piece(pieces, json.dumps(once).encode())
        (photo_id,) = Photos(pieces).of_piece(taken)
        image = Photos(pieces).photo(photo_id).image
        assert b"where I live" not in image
        assert b"behind" not in image


def test_no_more_photos_are_kept_than_go_into_one_file(pieces: Pieces) -> None:
    piece_id = pieces.make("a = 1", FACTS, "begin")
    photos = Photos(pieces)
    half = bytes(MOST_TOGETHER_BYTES // 2)
    for _ in range(2):
        photos.keep(piece_id, image=half, width_px=1, height_px=1, points={})
    with pytest.raises(TooManyPhotos, match="Take one away first"):
        photos.keep(piece_id, image=b"1", width_px=1, height_px=1, points={})
    other = pieces.make("a = 1", FACTS, "begin")
    for _ in range(MOST_TOGETHER_PIXELS // 2400**2):
        photos.keep(other, image=b"1", width_px=2400, height_px=2400, points={})
    with pytest.raises(TooManyPhotos, match="million pixels"):
        photos.keep(other, image=b"1", width_px=2400, height_px=2400, points={})


def opens_and_comes_back(pieces: Pieces, piece_id: str, said: Body) -> None:
    """What every piece does that was taken in: it is shown, and goes out as it came in."""
    desk = Desk(pieces)
    json.dumps(desk.piece(piece_id), allow_nan=False)
    for row in pieces.history(piece_id):
        try:
            json.dumps(desk.answer(piece_id, row.revision_n), allow_nan=False)
        except BossageError:
            continue  # a brief of another version, which is refused in words
    again = json.loads(export_piece(pieces, piece_id))
    known = {key: said[key] for key in again if key in said}
    for photo in (*again["photos"], *known.get("photos", ())):
        photo.pop("image_base64", None)
    assert [row["toml"] for row in again["revisions"]] == [
        row["toml"] for row in sorted(known["revisions"], key=lambda row: row["revision_n"])
    ]
    assert again["photos"] == known.get("photos", [])
    assert again["head_n"] == known["head_n"]


@pytest.mark.parametrize("seed", [1, 2])
def test_a_file_changed_anywhere_is_refused_in_words_or_opens_and_comes_back(pieces: Pieces, seed: int) -> None:
    taken = 0
    for data in mutants(KEPT.read_bytes(), random.Random(seed), 30):
        before = len(pieces.all())
        try:
            piece_id = import_piece(pieces, data)
        except BossageError:
            assert len(pieces.all()) == before
        else:
            opens_and_comes_back(pieces, piece_id, json.loads(data.decode("utf-8-sig")))
            taken += 1
    assert taken > 0


def test_the_mutants_are_many_and_different() -> None:
    made = list(mutants(KEPT.read_bytes(), random.Random(1), 60))
    assert len(set(made)) > 50
