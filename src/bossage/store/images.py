"""A photo that anybody may have sent: looked at by its head before a pixel of it is unpacked, then written anew."""

from __future__ import annotations

import io

from bossage.pictures import NotAPhoto, TooManyPixels, upright_picture

__all__ = ["KEPT_PX", "MOST_BYTES", "NotAPhoto", "TooManyPixels", "clean_photo", "kept_photo", "photo_work"]

MOST_BYTES = 24_000_000
KEPT_PX = 2400  # of the longer side: more than a screen or an A4 print shows


def clean_photo(data: bytes) -> tuple[bytes, int, int]:
    """The photo turned upright, shrunk to what is needed, and nothing else that was in the file: JPEG, width, height.

    Raises:
        NotAPhoto: Not JPEG, PNG or WebP, too large, or damaged.
    """
    from PIL import Image

    if len(data) > MOST_BYTES:
        raise NotAPhoto(f"The photo holds {len(data) / 1e6:.0f} MB; at most {MOST_BYTES / 1e6:.0f} MB are taken.")
    upright = upright_picture(data, longest_px=KEPT_PX).convert("RGB")
    upright.thumbnail((KEPT_PX, KEPT_PX), Image.Resampling.LANCZOS)
    out = io.BytesIO()
    upright.save(out, "JPEG", quality=90)
    return out.getvalue(), upright.width, upright.height


def photo_work(data: bytes) -> tuple[int, int, int]:
    """Width and height of a photo that was kept, by its head, and the work of unpacking it: pixels times passes.

    Raises:
        NotAPhoto: No JPEG, or larger than photos are kept.
    """
    from PIL import Image

    try:
        with Image.open(io.BytesIO(data), formats=("JPEG",)) as image:
            width_px, height_px = image.size
    except Exception:  # a library that reads damaged files raises of every kind
        raise NotAPhoto("A photo in the file is no JPEG that can be read. Export the piece again.") from None
    if max(width_px, height_px) > KEPT_PX:
        raise TooManyPixels(
            f"A photo in the file has {width_px:,} × {height_px:,} pixels; photos are kept with at most {KEPT_PX:,} on "
            "the longer side. Make it smaller."
        )
    # in a JPEG this mark begins a pass over the picture, and stands nowhere in the packed pixels
    return width_px, height_px, width_px * height_px * max(1, data.count(b"\xff\xda"))


def kept_photo(data: bytes) -> bytes:
    """A photo that comes in with a piece: the same bytes if only a picture is in them, else written anew.

    Raises:
        NotAPhoto: It cannot be unpacked.
    """
    if not _is_bare(data):
        return clean_photo(data)[0]
    upright_picture(data)  # only to see that it can be
    return data


def _is_bare(data: bytes) -> bool:
    """Whether a JPEG holds a colour picture and nothing else: no notes of a camera, no words, nothing behind it."""
    at, colours = 2, 0
    while at + 4 <= len(data) and data[at] == 0xFF:
        mark, size = data[at + 1], int.from_bytes(data[at + 2 : at + 4], "big")
        if mark == 0xDA:
            return colours == 3 and data.find(b"\xff\xd9", at) == len(data) - 2
        if mark not in (0xE0, 0xDB, 0xC0, 0xC2, 0xC4, 0xDD) or (mark == 0xE0 and size > 16):
            return False
        if mark in (0xC0, 0xC2):
            colours = data[at + 9] if at + 9 < len(data) else 0
        at += 2 + size
    return False
