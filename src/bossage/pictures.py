"""A picture that anybody may have sent: looked at by its head before a pixel of it is unpacked."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from bossage.errors import BossageError

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PIXELS = 60_000_000  # a 50-megapixel camera passes; a bomb of 30,000 x 30,000 does not
FORMATS = ("JPEG", "PNG", "WEBP")


class NotAPhoto(BossageError):
    """A file that is no photo, or too large a one."""


class TooManyPixels(NotAPhoto):
    """A picture that would unpack to more than this program takes in."""


def upright_picture(data: bytes, *, longest_px: int | None = None) -> Image:
    """The picture, unpacked and turned the way the camera was held.

    A note of the camera that cannot be read leaves the picture as it lies.

    Args:
        data: The file.
        longest_px: Of the longer side: more is not needed, and is not unpacked where that can be helped.

    Raises:
        TooManyPixels: It would unpack to more than `MOST_PIXELS`; nothing was unpacked.
        NotAPhoto: Not JPEG, PNG or WebP, or damaged.
    """
    import warnings

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what a library has to say of a picture is no sentence for a maker
        return _upright(_unpacked(data, longest_px))


def _unpacked(data: bytes, longest_px: int | None) -> Image:
    from PIL import Image

    try:
        # only the head is read here: what it says is checked before anything is unpacked
        opened = Image.open(io.BytesIO(data), formats=FORMATS)
        width_px, height_px = opened.size
        _look_at_size(width_px, height_px)
        if longest_px is not None:
            opened.draft("RGB", (longest_px, longest_px))
        opened.load()
    except Image.DecompressionBombError:
        raise TooManyPixels(_too_many("far more")) from None
    except (BossageError, MemoryError):
        raise
    except Exception:
        # A damaged file may fail anywhere in a decoder, with any error: all of them mean the same.
        raise NotAPhoto("This is no photo that can be read. Send a JPEG, PNG or WebP file.") from None
    return opened


def _upright(opened: Image) -> Image:
    from PIL import ImageOps

    try:
        return ImageOps.exif_transpose(opened)
    except (BossageError, MemoryError):
        raise
    except Exception:
        return opened


def _look_at_size(width_px: int, height_px: int) -> None:
    if width_px * height_px > MOST_PIXELS:
        raise TooManyPixels(_too_many(f"{width_px:,} × {height_px:,}"))


def _too_many(found: str) -> str:
    return f"The photo has {found} pixels; at most {MOST_PIXELS / 1e6:.0f} million are taken. Send a smaller one."
