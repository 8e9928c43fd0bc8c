"""A photo that anybody may have sent: looked at by its head before a pixel of it is unpacked, then written anew."""

from __future__ import annotations

import io

from bossage.errors import BossageError

MOST_BYTES = 24_000_000
MOST_PIXELS = 60_000_000  # a 50-megapixel camera passes; a bomb of 30,000 x 30,000 does not
KEPT_PX = 2400  # of the longer side: more than a screen or an A4 print shows
FORMATS = ("JPEG", "PNG", "WEBP")


class NotAPhoto(BossageError):
    """An upload that is no photo, or too large a one."""


class TooManyPixels(NotAPhoto):
    """A picture that would unpack to more than this program takes in."""


def clean_photo(data: bytes) -> tuple[bytes, int, int]:
    """The photo turned upright, shrunk to what is needed, and nothing else that was in the file: JPEG, width, height.

    Raises:
        NotAPhoto: Not JPEG, PNG or WebP, too large, or damaged.
    """
    from PIL import Image, ImageOps, UnidentifiedImageError

    if len(data) > MOST_BYTES:
        raise NotAPhoto(f"The photo holds {len(data) / 1e6:.0f} MB; at most {MOST_BYTES / 1e6:.0f} MB are taken.")
    try:
        # only the head is read here: what it says is checked before anything is unpacked
        with Image.open(io.BytesIO(data), formats=FORMATS) as image:
            width_px, height_px = image.size
            if width_px * height_px > MOST_PIXELS:
                raise TooManyPixels(
                    f"The photo has {width_px:,} × {height_px:,} pixels; at most {MOST_PIXELS / 1e6:.0f} million are "
                    "taken. Send a smaller one."
                )
            image.draft("RGB", (KEPT_PX, KEPT_PX))
            upright = ImageOps.exif_transpose(image).convert("RGB")
            upright.thumbnail((KEPT_PX, KEPT_PX), Image.Resampling.LANCZOS)
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError, ValueError, SyntaxError):
        raise NotAPhoto("This is no photo that can be read. Send a JPEG, PNG or WebP file.") from None
    out = io.BytesIO()
    upright.save(out, "JPEG", quality=90)
    return out.getvalue(), upright.width, upright.height
