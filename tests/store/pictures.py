from __future__ import annotations

import io

from PIL import Image


def jpeg(width_px: int, height_px: int, colour: str = "#808080") -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (width_px, height_px), colour).save(out, "JPEG")
    return out.getvalue()
