"""Reading test cards off a photo: light evened by the paper, tone set by the greys, CIELAB with its uncertainty.

What a phone does to colours between the greys cannot be undone by greys alone: it is the larger part of the stated
uncertainty, growing with chroma. Daylight from one side, no flash, greys beside the cards.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bossage.colour.card_find import find_marks, homography, onto_photo
from bossage.colour.card_sheet import CardSheet, Field, paper_spots_mm
from bossage.colour.difference import delta_e
from bossage.colour.spaces import (
    FloatArray,
    lab_to_xyz,
    linear_to_xyz,
    srgb_to_linear,
    xyz_to_lab,
)
from bossage.errors import BossageError
from bossage.pictures import NotAPhoto, upright_picture

Photo = NDArray[np.uint8]

_SAMPLES_N, _BLOCK_N = 24, 4
_MIDDLE_SHARE: Final = 0.6
CLIPPED_SHARE: Final = 0.01
# A block of a field that is brighter or darker than the field by more than this is gloss or shadow, not paint; the
# second figure keeps the noise of very dark paint from counting.
_GLOSS, _SHADOW, _DARK = 0.30, 0.25, 0.03
_PEAK: Final = 0.15
_PAPER_BESIDE_MM: Final = (5.0, 15.0)  # paper that tells of a field's light: left and right, above and below
# Paper this much darker than its surroundings, in the logarithm, lies in a shadow that the even light does not explain.
_PAPER_SHADOW: Final = 0.10
# What greys cannot tell. A camera's filters are not the eye's: seen through them a paint comes out a few per cent off
# in each channel, the more the more it absorbs. And phones make pictures more vivid, by an eighth at most. Both were
# set on the synthetic cameras of one studio in daylight and are checked on those of another (docs/decisions/0012).
_CAMERA: Final = 0.052
_STYLE: Final = np.array([1.0, 1.08, 1.08])
# From root mean square to what holds 19 in 20 in the studio it was set on, and so 9 in 10 in another, which is what is
# said of a reading. For an error alike in three directions 19 in 20 would be 2.795 / sqrt(3) = 1.614.
COVER_RMS: Final = 1.55


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldReading:
    """What was read of one field."""

    name: str
    lab: tuple[float, float, float]  # CIELAB D65; of no use when refused
    uncertainty_de: float  # CIEDE2000 that holds the truth about 9 times in 10
    refused: str  # '', or in a maker's words why it must not be used


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetReading:
    """What was read of one photo."""

    fields: tuple[FieldReading, ...]  # test cards only
    greys: tuple[FieldReading, ...]  # each read from the others
    corners_px: FloatArray  # mark centres in the photo: upper left, upper right, lower right, lower left
    light_fall: float  # brightest over darkest paper


def open_photo(data: bytes) -> Photo:
    """sRGB pixels of a photo file, turned the way it was held and converted from its own colour profile.

    Raises:
        NotAPhoto: The file is no picture that can be read, or has more pixels than are taken.
    """
    import io

    from PIL import ImageCms

    picture = upright_picture(data)
    profile = picture.info.get("icc_profile")
    if profile:
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            converted = ImageCms.profileToProfile(picture, source, ImageCms.createProfile("sRGB"), outputMode="RGB")
        except (OSError, ValueError, TypeError, ImageCms.PyCMSError):
            raise NotAPhoto("The colour profile of the photo is damaged; save the photo as JPEG in sRGB.") from None
        picture = converted if converted is not None else picture
    return np.asarray(picture.convert("RGB"))


def read_sheet(photo: Photo, sheet: CardSheet, corners_px: ArrayLike | None = None) -> SheetReading:
    """Read every test card on a sheet.

    Args:
        photo: sRGB pixels, height x width x 3, 8 bits.
        sheet: The sheet in the photo.
        corners_px: Centres of the four marks (x, y), upper left first and clockwise; by default they are looked for.

    Raises:
        BossageError: The marks cannot be found, too little paper is in even light, or fewer than three greys are good.
    """
    corners = find_marks(photo, sheet) if corners_px is None else np.asarray(corners_px, dtype=np.float64)
    H = homography(sheet.mark_centres_mm, corners)
    light, shadows, light_error, fall = _light(photo, sheet, H)
    samples = [_sample(photo, field, H, light) for field in sheet.fields]
    faults = [_fault(s, field, shadows) for s, field in zip(samples, sheet.fields, strict=True)]
    good = [i for i, field in enumerate(sheet.fields) if field.grey_lightness is not None and not faults[i]]
    if len(good) < 3:
        bad = ", ".join(f"{f.name} ({why})" for f, why in zip(sheet.fields, faults, strict=True) if why)
        raise BossageError(
            f"Only {len(good)} greys can be read, 3 are needed: {bad}. Take the photo in even, softer light."
        )
    level = np.array([samples[i].level for i in good])
    known = _luminance([float(sheet.fields[i].grey_lightness or 0) for i in good])
    paper = _luminance([sheet.paper_lightness])[0]
    tone_error = _tone_error(level, known, paper)
    readings = []
    for i, field in enumerate(sheet.fields):
        others = np.array([j != i for j in good])
        rgb = _toned(samples[i].level, level[others], known[others], paper)
        lab = xyz_to_lab(linear_to_xyz(rgb))
        readings.append(
            FieldReading(
                name=field.name,
                lab=(float(lab[0]), float(lab[1]), float(lab[2])),
                uncertainty_de=_uncertainty_de(rgb, samples[i].noise, light_error, tone_error, sheet.grey_error),
                refused=faults[i],
            )
        )
    greys_n = sum(field.grey_lightness is not None for field in sheet.fields)
    return SheetReading(
        fields=tuple(readings[greys_n:]), greys=tuple(readings[:greys_n]), corners_px=corners, light_fall=fall
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sample:
    level: FloatArray  # linear RGB over paper
    noise: FloatArray  # relative error of the level
    clipped: float
    vivid: bool  # clipped in one channel at its dark end only: the colour is beyond what the photo can hold
    brighter: float
    darker: float
    peak: float  # the brightest block over the brightest sixth: a highlight is a peak, the lit side of a shadow is not


def _sample(photo: Photo, field: Field, H: FloatArray, light: _Light) -> _Sample:
    u = (np.arange(_SAMPLES_N) + 0.5) / _SAMPLES_N * _MIDDLE_SHARE + (1 - _MIDDLE_SHARE) / 2
    x, y = np.meshgrid(field.x_mm + u * field.width_mm, field.y_mm + u * field.height_mm)
    spots = np.stack([x.ravel(), y.ravel()], axis=1)
    pixel = _pixels(photo, onto_photo(H, spots))
    clipped = float(((pixel == 0) | (pixel == 255)).any(axis=1).mean())
    vivid = bool((pixel == 0).any(axis=1).mean() > CLIPPED_SHARE and pixel.mean() > 30 and not (pixel == 255).any())
    linear = srgb_to_linear(pixel / 255) / light.at(spots)
    side = _SAMPLES_N // _BLOCK_N
    blocks = linear.reshape(side, _BLOCK_N, side, _BLOCK_N, 3).mean(axis=(1, 3)).reshape(-1, 3)
    level = np.median(blocks, axis=0)
    grey, mid = blocks.mean(axis=1), float(level.mean())
    return _Sample(
        level=level,
        noise=blocks.std(axis=0) / np.sqrt(len(blocks)) / np.maximum(level, 1e-4),
        clipped=clipped,
        vivid=vivid,
        brighter=(float(grey.max()) - mid) / (mid + _DARK),
        darker=(mid - float(grey.min())) / (mid + _DARK),
        peak=(float(grey.max()) - float(np.quantile(grey, 5 / 6))) / (mid + _DARK),
    )


def _fault(sample: _Sample, field: Field, shadows_mm: FloatArray) -> str:
    if _sides_in_shadow(field, shadows_mm) >= 2:
        return "shadowed: the paper round it lies in shadow; move what casts it"
    # Gloss before clipping: a highlight clips as well, and tilting the card is what helps.
    if sample.brighter > _GLOSS and sample.peak > _PEAK:
        return "glossy: a highlight lies on it; tilt the card or move the lamp"
    if sample.vivid:
        return "clipped: it is more vivid than the photo can hold; type its reading in from a meter"
    if sample.clipped > CLIPPED_SHARE:
        return "clipped: the photo is over- or underexposed there; change the exposure"
    if sample.darker > _SHADOW or sample.brighter > _GLOSS:
        return "shadowed: part of it lies in shadow; move what casts it"
    return ""


def _sides_in_shadow(field: Field, shadows_mm: FloatArray) -> int:
    """Sides of a field along which the paper lies in shadow: one may be its neighbour's shadow, two are its own."""
    half = np.array([field.width_mm, field.height_mm]) / 2
    away = shadows_mm - (np.array([field.x_mm, field.y_mm]) + half)
    beyond = np.abs(away) - half
    across = beyond[:, 0] > beyond[:, 1]
    near = beyond.max(axis=1) < np.where(across, *_PAPER_BESIDE_MM)
    side = np.where(across, np.where(away[:, 0] > 0, 0, 1), np.where(away[:, 1] > 0, 2, 3))
    return int((np.bincount(side[near], minlength=4) >= 2).sum())


@dataclass(frozen=True, slots=True, kw_only=True)
class _Light:
    coefficients: FloatArray
    size_mm: FloatArray

    def at(self, spots_mm: FloatArray) -> FloatArray:
        return np.asarray(np.exp(_surface(spots_mm / self.size_mm) @ self.coefficients))


def _light(photo: Photo, sheet: CardSheet, H: FloatArray) -> tuple[_Light, FloatArray, float, float]:
    """Light on the paper as a smooth surface, spots that lie in shadow, how well it fits, and its fall."""
    spots = paper_spots_mm(sheet)
    around = np.stack(np.meshgrid([-0.5, 0, 0.5], [-0.5, 0, 0.5]), axis=-1).reshape(-1, 2)
    pixel = _pixels(photo, onto_photo(H, (spots[:, None] + around).reshape(-1, 2))).reshape(len(spots), 9, 3)
    if float((pixel == 255).any(axis=2).mean()) > 0.2:
        raise BossageError("The paper itself is overexposed: its white runs into 255. Take the photo darker.")
    y = np.log(np.maximum(srgb_to_linear(np.median(pixel, axis=1) / 255), 1e-4))
    size = np.array([sheet.width_mm, sheet.height_mm])
    X = _surface(spots / size)
    kept = np.ones(len(spots), dtype=bool)
    for _ in range(6):
        fit = np.linalg.lstsq(X[kept], y[kept], rcond=None)[0]
        off = (y - X @ fit).mean(axis=1)
        now = off > max(-_PAPER_SHADOW, -4 * float(np.std(off[kept])) - 0.02)
        if now.sum() < len(spots) / 2:
            raise BossageError("More than half of the paper lies in shadow; take the photo in even light.")
        if (now == kept).all():
            break
        kept = now
    lit = X[kept] @ fit
    error = float(np.std(y[kept] - lit)) / np.sqrt(max(float(kept.sum()) / 6, 1.0))
    fall = float(np.exp(np.ptp(lit.mean(axis=1))))
    return _Light(coefficients=np.asarray(fit), size_mm=size), spots[~kept], error, fall


def _surface(p: FloatArray) -> FloatArray:
    x, y = 2 * p[:, 0] - 1, 2 * p[:, 1] - 1
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=1)


def _pixels(photo: Photo, at_px: FloatArray) -> FloatArray:
    column = np.clip(np.rint(at_px[:, 0]).astype(int), 0, photo.shape[1] - 1)
    row = np.clip(np.rint(at_px[:, 1]).astype(int), 0, photo.shape[0] - 1)
    seen: FloatArray = photo[row, column].astype(np.float64)
    return seen


def _luminance(lightness: list[float]) -> FloatArray:
    L = np.array(lightness)
    return np.asarray(lab_to_xyz(np.stack([L, 0 * L, 0 * L], axis=1))[:, 1])


def _toned(level: FloatArray, grey_level: FloatArray, known: FloatArray, paper: float) -> FloatArray:
    """Reflectance in linear sRGB: a monotone curve a channel, through the greys and the paper, in logarithms."""
    from scipy.interpolate import PchipInterpolator

    out = np.empty(3)
    white = paper * _paper_tint(grey_level, known)
    for channel in range(3):
        x = np.log(np.maximum(np.append(grey_level[:, channel], 1.0), 1e-5))
        y = np.log(np.append(known, white[channel]))
        order = np.argsort(x)
        x, y = x[order], np.maximum.accumulate(y[order])
        keep = np.append(True, np.diff(x) > 1e-6)
        x, y = x[keep], y[keep]
        at = float(np.log(max(float(level[channel]), 1e-5)))
        if at < x[0] or at > x[-1]:
            end, inner = (0, 1) if at < x[0] else (-1, -2)
            slope = float(np.clip((y[end] - y[inner]) / (x[end] - x[inner]), 0.6, 1.8))
            out[channel] = np.exp(y[end] + slope * (at - x[end]))
        else:
            out[channel] = np.exp(float(PchipInterpolator(x, y)(at)))
    return out


def _paper_tint(grey_level: FloatArray, known: FloatArray) -> FloatArray:
    """Paper's reflectance in each channel over its mean: by going on from the two lightest greys, which are neutral."""
    two = np.argsort(known)[-2:]
    x, y = np.log(np.maximum(grey_level[two], 1e-5)), np.log(known[two])
    slope = np.clip((y[1] - y[0]) / np.maximum(x[1] - x[0], 1e-6), 0.6, 1.8)
    reached = y[1] - slope * x[1]
    return np.asarray(np.exp(reached - reached.mean()))


def _tone_error(level: FloatArray, known: FloatArray, paper: float) -> float:
    """Relative error of a level between greys: each inner grey read from the others, a quarter of the span."""
    errors = []
    for i in range(len(known)):
        rest = np.arange(len(known)) != i
        if rest.sum() >= 2 and known[i] > known.min():
            errors.append(np.log(_toned(level[i], level[rest], known[rest], paper) / known[i]))
    # Leaving a grey out doubles the gap that is bridged; half of that error is left with it in.
    return float(np.sqrt(np.mean(np.square(errors))) / 2) if errors else 0.05


def _uncertainty_de(rgb: FloatArray, noise: FloatArray, light: float, tone: float, greys: float) -> float:
    """Root sum of squares of every source's effect on the colour, times what holds 9 in 10 of them."""
    lab = xyz_to_lab(linear_to_xyz(rgb))
    # What one channel is off by by itself: noise, the tone curve between greys, and the camera's own filters.
    own = np.sqrt(noise**2 + tone**2 + (_CAMERA * np.clip(1 - rgb, 0, 1)) ** 2)
    trials = [rgb * (1 + np.eye(3)[c] * own[c]) for c in range(3)]
    trials += [rgb * (1 + light), rgb * (1 + greys)]
    off = np.append(delta_e(xyz_to_lab(linear_to_xyz(np.array(trials))), lab), delta_e(lab * _STYLE, lab))
    return COVER_RMS * float(np.sqrt((off**2).sum()))
