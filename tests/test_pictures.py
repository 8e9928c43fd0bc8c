"""Pictures that anybody may have sent: none is unpacked that is too large, none ends in anything but a sentence."""

from __future__ import annotations

import io
import random
import struct
import tracemalloc
import zlib
from contextlib import suppress

import pytest
from PIL import Image

from bossage.colour.card import open_photo
from bossage.pictures import NotAPhoto, TooManyPixels, upright_picture
from bossage.store.images import clean_photo


def _jpeg(width_px: int = 120, height_px: int = 80, exif: bytes = b"") -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (width_px, height_px), (90, 120, 80)).save(out, "JPEG", exif=exif)
    return out.getvalue()


def _huge_png(width_px: int, height_px: int) -> bytes:
    def chunk(name: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))

    head = struct.pack(">IIBBBBB", width_px, height_px, 8, 2, 0, 0, 0)
    body = zlib.compress(b"\0" * 1000)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def _huge_jpeg() -> bytes:
    data = bytearray(_jpeg())
    frame = data.index(b"\xff\xc0")
    data[frame + 5 : frame + 9] = struct.pack(">HH", 14_000, 14_300)
    return bytes(data)


@pytest.mark.parametrize("open_it", [open_photo, clean_photo])
@pytest.mark.parametrize(
    "data", [_huge_jpeg(), _huge_png(30_000, 30_000), _huge_png(9_000, 9_000)], ids=["jpeg", "bomb", "png"]
)
def test_too_many_pixels_are_refused_before_any_is_unpacked(open_it, data: bytes) -> None:
    tracemalloc.start()
    try:
        with pytest.raises(TooManyPixels, match="Send a smaller one"):
            open_it(data)
        assert tracemalloc.get_traced_memory()[1] < 5_000_000
    finally:
        tracemalloc.stop()


def test_a_note_of_the_camera_that_is_cut_short_leaves_the_picture_as_it_lies() -> None:
    whole = Image.Exif()
    whole[0x0112] = 6
    whole[0x010F] = "maker of cameras" * 20
    note = whole.tobytes()
    assert upright_picture(_jpeg(exif=note)).size == (80, 120)
    for length in range(8, len(note), 3):
        assert upright_picture(_jpeg(exif=note[:length])).size in ((120, 80), (80, 120))
        assert clean_photo(_jpeg(exif=note[:length]))[0]


@pytest.mark.parametrize("seed", range(200))
def test_a_damaged_picture_is_read_or_refused_in_a_sentence(seed: int) -> None:
    chance = random.Random(seed)
    form = chance.choice(["JPEG", "PNG", "WEBP"])
    out = io.BytesIO()
    Image.effect_noise((64, 48), 60).convert("RGB").save(out, form)
    data = bytearray(out.getvalue())
    for _ in range(chance.randint(1, 12)):
        data[chance.randrange(len(data))] = chance.randrange(256)
    if chance.random() < 0.3:
        del data[chance.randrange(len(data)) :]
    for open_it in (open_photo, clean_photo):
        with suppress(NotAPhoto):  # anything else that it raises fails this test
            open_it(bytes(data))
