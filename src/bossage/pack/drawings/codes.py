"""Square codes (QR, ISO/IEC 18004) for thousands of stickers at once.

With version, error level and mask fixed, a code is an affine map of the bits of its text: error correction is linear,
and masking adds a constant. So of texts of one length only one is encoded as it is, and one for each bit that differs
among them; all others are sums (exclusive or) of those.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Rows = tuple[str, ...]


def codes_of(texts: Sequence[str]) -> list[Rows]:
    """The code of each text at error level M, rows of `0` and `1` from the top, without its quiet zone.

    Texts of one length share the mask that suits the first of them best.
    """
    raw = [_bytes(text) for text in texts]
    found: list[Rows] = [()] * len(raw)
    for length in sorted({len(one) for one in raw}):
        alike = [number for number, one in enumerate(raw) if len(one) == length]
        for number, code in zip(alike, _of_one_length([raw[number] for number in alike]), strict=True):
            found[number] = code
    return found


def _of_one_length(texts: list[bytes]) -> list[Rows]:
    import segno

    first = segno.make(texts[0], mode="byte", error="m", micro=False, boost_error=False)

    def encoded(bits: NDArray[np.uint8]) -> NDArray[np.uint8]:
        code = segno.make(
            np.packbits(bits).tobytes(), mode="byte", error="m", micro=False, boost_error=False,
            version=first.version, mask=first.mask,
        )  # fmt: skip
        return np.array([list(row) for row in code.matrix], dtype=np.uint8)

    base = np.array([list(row) for row in first.matrix], dtype=np.uint8)
    bits = np.unpackbits(np.array([list(text) for text in texts], dtype=np.uint8), axis=1)
    changed = bits ^ bits[0]
    varying = np.flatnonzero(changed.any(axis=0))
    if varying.size >= len(texts):
        return [_rows(encoded(own)) for own in bits]
    steps = np.zeros((varying.size, base.size), dtype=np.uint8)
    for step, place in zip(steps, varying, strict=True):
        flipped = bits[0].copy()
        flipped[place] ^= 1
        step[:] = (encoded(flipped) ^ base).ravel()
    sums = (changed[:, varying].astype(np.float32) @ steps.astype(np.float32)).astype(np.int64) & 1
    return [_rows(own) for own in (sums.astype(np.uint8) ^ base.ravel()).reshape(-1, *base.shape)]


def _bytes(text: str) -> bytes:
    """In Latin-1, which readers take it for unless told otherwise, or in UTF-8, which they find out."""
    try:
        return text.encode("latin-1")
    except UnicodeEncodeError:
        return text.encode("utf-8")


def _rows(code: NDArray[np.uint8]) -> Rows:
    side = len(code)
    text = (code + ord("0")).astype(np.uint8).tobytes().decode("ascii")
    return tuple(text[start : start + side] for start in range(0, side * side, side))
