"""Colour spaces: sRGB, linear light, CIE XYZ, CIELAB and OKLab, all under D65 and all on whole arrays.

CIELAB here is always D65 (CSS `lab()` is D50; the two must not be mixed). XYZ is scaled so that white has Y = 1.
Sources: IEC 61966-2-1:1999 (sRGB transfer function [from memory], primaries and white); CIE 15 (CIELAB);
W3C CSS Color Module Level 4, section 'Sample code for color conversions' (OKLab matrices); Ottosson 2020 (OKLab).
"""

from __future__ import annotations

import re
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bossage.errors import BossageError

FloatArray = NDArray[np.float64]

# x = 0.3127, y = 0.3290 (IEC 61966-2-1); other D65 whites differ by up to 2e-4 and are not interchangeable.
WHITE_D65: Final[FloatArray] = np.array([0.3127 / 0.3290, 1.0, (1 - 0.3127 - 0.3290) / 0.3290])


def srgb_to_linear(srgb: ArrayLike) -> FloatArray:
    """Linear light of sRGB values; values outside 0..1 are mirrored at 0, as CSS Color 4 does.

    Source: IEC 61966-2-1:1999 [from memory].
    """
    v = np.asarray(srgb, dtype=np.float64)
    size = np.abs(v)
    return np.where(size <= 0.04045, v / 12.92, np.sign(v) * ((size + 0.055) / 1.055) ** 2.4)


def linear_to_srgb(linear: ArrayLike) -> FloatArray:
    """sRGB values of linear light; the inverse of `srgb_to_linear`, not clipped."""
    v = np.asarray(linear, dtype=np.float64)
    size = np.abs(v)
    bent = np.sign(v) * (1.055 * np.maximum(size, 0.0031308) ** (1 / 2.4) - 0.055)
    return np.where(size <= 0.0031308, v * 12.92, bent)


def linear_to_xyz(linear: ArrayLike) -> FloatArray:
    """CIE XYZ (D65, Y of white = 1) of linear sRGB."""
    return np.asarray(linear, dtype=np.float64) @ _RGB_TO_XYZ.T


def xyz_to_linear(xyz: ArrayLike) -> FloatArray:
    """Linear sRGB of CIE XYZ; outside 0..1 when the colour is outside sRGB."""
    return np.asarray(xyz, dtype=np.float64) @ _XYZ_TO_RGB.T


def xyz_to_lab(xyz: ArrayLike, white: ArrayLike = WHITE_D65) -> FloatArray:
    """CIELAB of XYZ under `white`.

    Source: CIE 15; linear below t = (6/29)^3.
    """
    t = np.asarray(xyz, dtype=np.float64) / np.asarray(white, dtype=np.float64)
    f = np.where(t > _DELTA**3, np.cbrt(t), t / (3 * _DELTA**2) + 4 / 29)
    x, y, z = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def lab_to_xyz(lab: ArrayLike, white: ArrayLike = WHITE_D65) -> FloatArray:
    """XYZ of CIELAB under `white`; the inverse of `xyz_to_lab`."""
    v = np.asarray(lab, dtype=np.float64)
    y = (v[..., 0] + 16) / 116
    f = np.stack([y + v[..., 1] / 500, y, y - v[..., 2] / 200], axis=-1)
    t = np.where(f > _DELTA, f**3, 3 * _DELTA**2 * (f - 4 / 29))
    return t * np.asarray(white, dtype=np.float64)


def srgb_to_lab(srgb: ArrayLike) -> FloatArray:
    """CIELAB (D65) of sRGB values 0..1."""
    return xyz_to_lab(linear_to_xyz(srgb_to_linear(srgb)))


def lab_to_srgb(lab: ArrayLike) -> FloatArray:
    """sRGB values of CIELAB (D65), not clipped: see `in_gamut` and `into_gamut`."""
    return linear_to_srgb(xyz_to_linear(lab_to_xyz(lab)))


def xyz_to_oklab(xyz: ArrayLike) -> FloatArray:
    """OKLab of XYZ; the cube root keeps the sign, so colours outside any gamut survive the round trip.

    Source: CSS Color 4, 16-digit matrices.
    """
    return np.cbrt(np.asarray(xyz, dtype=np.float64) @ _XYZ_TO_LMS.T) @ _LMS_TO_OKLAB.T


def oklab_to_xyz(oklab: ArrayLike) -> FloatArray:
    """XYZ of OKLab; the inverse of `xyz_to_oklab`."""
    lms: FloatArray = np.asarray(oklab, dtype=np.float64) @ _OKLAB_TO_LMS.T
    return lms**3 @ _LMS_TO_XYZ.T


def srgb_to_oklab(srgb: ArrayLike) -> FloatArray:
    """OKLab of sRGB values 0..1."""
    return xyz_to_oklab(linear_to_xyz(srgb_to_linear(srgb)))


def oklab_to_srgb(oklab: ArrayLike) -> FloatArray:
    """sRGB values of OKLab, not clipped."""
    return linear_to_srgb(xyz_to_linear(oklab_to_xyz(oklab)))


def hex_to_srgb(text: str) -> FloatArray:
    """sRGB values 0..1 of a hex colour such as `#4A6B4E`, `4a6b4e` or `#fc0`.

    Raises:
        BossageError: The text is not three or six hexadecimal digits.
    """
    digits = text.strip().removeprefix("#")
    if not re.fullmatch(r"[0-9a-fA-F]{3}|[0-9a-fA-F]{6}", digits):
        raise BossageError(f"'{text}' is not a hex colour; write three or six digits 0-9 and A-F, such as #4A6B4E.")
    if len(digits) == 3:
        digits = "".join(2 * digit for digit in digits)
    return np.array([int(digits[i : i + 2], 16) for i in (0, 2, 4)]) / 255


def srgb_to_hex(srgb: ArrayLike) -> str:
    """Hex colour of one sRGB triple, rounded to 8 bits; values outside 0..1 are clipped."""
    eight = np.rint(np.clip(np.asarray(srgb, dtype=np.float64), 0, 1) * 255).astype(int)
    return "#" + "".join(f"{int(v):02X}" for v in eight)


def hex_to_lab(text: str) -> FloatArray:
    """CIELAB (D65) of a hex colour."""
    return srgb_to_lab(hex_to_srgb(text))


def lab_to_hex(lab: ArrayLike) -> str:
    """Hex colour to show for one CIELAB colour; what sRGB cannot show keeps lightness and hue and loses chroma."""
    return srgb_to_hex(lab_to_srgb(into_gamut(lab)))


def in_gamut(lab: ArrayLike, slack: float = 1e-6) -> NDArray[np.bool_]:
    """Whether sRGB can show each CIELAB colour, within `slack` of each sRGB value."""
    srgb = lab_to_srgb(lab)
    inside: NDArray[np.bool_] = np.all((srgb >= -slack) & (srgb <= 1 + slack), axis=-1)
    return inside


def into_gamut(lab: ArrayLike) -> FloatArray:
    """The nearest colours of the same lightness and hue that sRGB can show; lightness is held to 0..100.

    Found by halving the chroma interval 40 times, so to 1e-10 of the chroma asked for.
    """
    wanted = np.array(lab, dtype=np.float64)
    wanted[..., 0] = np.clip(wanted[..., 0], 0, 100)
    high = np.ones(wanted.shape[:-1])
    low = np.where(in_gamut(wanted), 1.0, 0.0)
    for _ in range(0 if low.all() else 40):
        middle = (low + high) / 2
        fits = in_gamut(_with_chroma(wanted, middle))
        low, high = np.where(fits, middle, low), np.where(fits, high, middle)
    return _with_chroma(wanted, low)


def chroma(lab: ArrayLike) -> FloatArray:
    """CIELAB chroma C*ab."""
    v = np.asarray(lab, dtype=np.float64)
    return np.asarray(np.hypot(v[..., 1], v[..., 2]))


def hue_deg(lab: ArrayLike) -> FloatArray:
    """CIELAB hue angle in degrees, 0 to 360; 0 for a grey."""
    v = np.asarray(lab, dtype=np.float64)
    return np.asarray(np.degrees(np.arctan2(v[..., 2], v[..., 1])) % 360)


def lightness_of_luminance(Y: ArrayLike) -> FloatArray:
    """CIE lightness L* of relative luminance Y (white = 1). Source: CIE 15."""
    y = np.asarray(Y, dtype=np.float64)
    return np.where(y > _DELTA**3, 116 * np.cbrt(y) - 16, y * (29 / 3) ** 3)


def _with_chroma(lab: FloatArray, factor: FloatArray) -> FloatArray:
    return lab * np.stack([np.ones_like(factor), factor, factor], axis=-1)


def _rgb_to_xyz() -> FloatArray:
    # Derived from the primaries rather than typed in, so that R = G = B lands on the white exactly.
    xy = np.array([[0.64, 0.33], [0.30, 0.60], [0.15, 0.06]])
    primaries = np.stack([xy[:, 0] / xy[:, 1], np.ones(3), (1 - xy.sum(axis=1)) / xy[:, 1]])
    return np.asarray(primaries * np.linalg.solve(primaries, WHITE_D65), dtype=np.float64)


_DELTA: Final = 6 / 29
_RGB_TO_XYZ: Final[FloatArray] = _rgb_to_xyz()
_XYZ_TO_RGB: Final[FloatArray] = np.asarray(np.linalg.inv(_RGB_TO_XYZ))
# CSS Color 4, 'Sample code for color conversions': XYZtoLMS and LMStoOKLab.
_XYZ_TO_LMS: Final[FloatArray] = np.array(
    [
        [0.8190224379967030, 0.3619062600528904, -0.1288737815209879],
        [0.0329836539323885, 0.9292868615863434, 0.0361446663506424],
        [0.0481771893596242, 0.2642395317527308, 0.6335478284694309],
    ]
)
_LMS_TO_OKLAB: Final[FloatArray] = np.array(
    [
        [0.2104542683093140, 0.7936177747023054, -0.0040720430116193],
        [1.9779985324311684, -2.4285922420485799, 0.4505937096174110],
        [0.0259040424655478, 0.7827717124575296, -0.8086757549230774],
    ]
)
_LMS_TO_XYZ: Final[FloatArray] = np.asarray(np.linalg.inv(_XYZ_TO_LMS))
_OKLAB_TO_LMS: Final[FloatArray] = np.asarray(np.linalg.inv(_LMS_TO_OKLAB))
