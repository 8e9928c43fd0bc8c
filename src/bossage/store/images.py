"""A photo that anybody may have sent: looked at by its head before a pixel of it is unpacked, then written anew."""

from __future__ import annotations

import io

from bossage.pictures import MOST_PIXELS, NotAPhoto, TooManyPixels, upright_picture

__all__ = ["KEPT_PX", "MOST_BYTES", "MOST_PIXELS", "NotAPhoto", "TooManyPixels", "clean_photo"]

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
