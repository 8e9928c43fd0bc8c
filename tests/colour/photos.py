"""Made-up photos of a card sheet, from spectra: lights, cameras, a tilt, noise, a fall of light, planted faults.

Two studios share the sheet and the laws of optics and nothing else. HOME is what the reader's uncertainty was set on:
daylight from 5000 to 7500 K. AWAY is what it is checked on: other lights (through leaves and glass, a share of good
LED lamps), other cameras, other paints, more noise, a stronger fall of light.
"""

from __future__ import annotations

import io
from dataclasses import dataclass, field

import numpy as np
from PIL import Image

from bossage.colour.card_find import homography, onto_photo
from bossage.colour.card_sheet import CardSheet, card_sheet
from bossage.colour.spaces import into_gamut, lab_to_xyz, linear_to_srgb, xyz_to_linear
from bossage.colour.spectrum import lab_to_spectrum, spectrum_to_lab, weights

WIDTH, HEIGHT = 420, 340
NM = weights()[0]


@dataclass(frozen=True)
class Studio:
    """Ranges that a photo's making is drawn from."""

    light_k: tuple[float, float]
    lamp_share: float  # photos by LED lamps
    tint: float  # of the light, by leaves and glass
    camera_nm: float  # spread of the camera's peaks
    camera_width: tuple[float, float]
    saturation: tuple[float, float]
    contrast: tuple[float, float]
    metamerism: float  # how far paints' spectra stray from smooth
    noise: float
    fall: float
    vivid: float  # most chroma of the cards
    lens: tuple[float, float]  # how much darker the corners of the photo are than its middle
    jpeg: tuple[int, int]  # quality that the photo is kept at


HOME = Studio((5000, 7500), 0.0, 0.0, 8, (0.9, 1.1), (1.0, 1.12), (0.0, 0.25), 0.06, 1.0, 0.15, 42, (0, 0.15), (85, 96))
AWAY = Studio(
    (4600, 8200), 0.05, 0.03, 6, (0.8, 1.0), (0.98, 1.10), (0.05, 0.35), 0.08, 2.0, 0.22, 50, (0.05, 0.25), (75, 92)
)


@dataclass
class Shot:
    """One photo and the truth behind it."""

    photo: np.ndarray
    sheet: CardSheet
    corners_px: np.ndarray
    labs: dict[str, np.ndarray]
    faults: dict[str, str] = field(default_factory=dict)


def paint_labs(rng: np.random.Generator, count: int, vivid: float = 42) -> np.ndarray:
    """Colours of painted cards: light tints to full strength, inside sRGB."""
    hue, much = rng.uniform(0, 6.283, count), rng.uniform(0, vivid, count)
    return into_gamut(np.stack([rng.uniform(28, 90, count), much * np.cos(hue), much * np.sin(hue)], axis=1))


def take_photo(
    seed: int,
    *,
    faults: dict[str, str] | None = None,
    turn_deg: float | None = None,
    studio: Studio = HOME,
    sheet: CardSheet | None = None,
    labs: dict[str, np.ndarray] | None = None,
    print_of_sheet: np.ndarray | None = None,
    size_px: tuple[int, int] = (WIDTH, HEIGHT),
) -> Shot:
    """A photo; `faults` maps a card's name to 'glossy', 'clipped' or 'shadowed'.

    `print_of_sheet` is a printed sheet, reflectance (rows from the top, the sheet's rectangle alone), to be taken in
    place of a drawn one; cards are laid onto its fields.
    """
    rng = np.random.default_rng([seed, 77 if studio is AWAY else 0])
    if sheet is None:
        sheet = card_sheet([f"card {i + 1}" for i in range(int(rng.integers(4, 13)))], grey_error=0.02)
    names = [f.name for f in sheet.fields if f.grey_lightness is None]
    if labs is None:
        labs = dict(zip(names, paint_labs(rng, len(names), studio.vivid), strict=True))
    for name, fault in (faults or {}).items():
        if fault == "clipped":
            labs = labs | {name: np.array([64.0, 62.0, 58.0])}
    corners = _corners(rng, sheet, turn_deg, size_px)
    H = homography(sheet.mark_centres_mm, corners)
    x, y = np.meshgrid(np.arange(size_px[0]), np.arange(size_px[1]))
    mm = onto_photo(np.linalg.inv(H), np.stack([x.ravel(), y.ravel()], axis=1).astype(float))
    see = _camera_of(rng, studio)
    scene, truth = _scene(sheet, labs, mm, rng, see, studio, print_of_sheet)
    scene = scene * _light_of(sheet, mm, rng, studio, faults or {})[:, None]
    scene = scene * _lens(x, y, rng, studio)[:, None]
    photo = _picture(scene, rng, faults or {}, sheet, mm, studio).reshape(size_px[1], size_px[0], 3)
    photo = _kept(photo, int(rng.integers(*studio.jpeg)))
    return Shot(photo, sheet, corners, truth, dict(faults or {}))


def _bump(centre: float, width: float) -> np.ndarray:
    return np.exp(-0.5 * ((NM - centre) / width) ** 2)


def _planck(kelvin: float) -> np.ndarray:
    light = (NM / 560.0) ** -5 / (np.exp(1.4388e7 / (NM * kelvin)) - 1)
    return light / light[18]


def _light_spectrum(rng: np.random.Generator, studio: Studio) -> np.ndarray:
    if rng.random() < studio.lamp_share:  # a good lamp: broad phosphors, no deep gap beside the blue peak
        return rng.uniform(0.3, 0.6) * _bump(452, 14) + _bump(535, 45) * 0.6 + _bump(620, 55)
    light = _planck(rng.uniform(*studio.light_k))
    return light * np.exp(studio.tint * rng.normal(0, 1) * np.sin((NM - 380) / 350 * 2 * np.pi))


def _camera_of(rng: np.random.Generator, studio: Studio):
    """From reflectance to the camera's linear sRGB: sensitivities under a light, balance, a matrix set for daylight."""
    w, d = rng.uniform(*studio.camera_width), studio.camera_nm
    sense = np.stack(
        [
            _bump(600 + rng.normal(0, d), 32 * w) + 0.1 * rng.uniform(0, 1) * _bump(450, 20),
            _bump(540 + rng.normal(0, d), 36 * w),
            _bump(462 + rng.normal(0, 0.75 * d), 26 * w),
        ],
        axis=1,
    )
    light = _light_spectrum(rng, studio)

    def raw(R: np.ndarray, by: np.ndarray) -> np.ndarray:
        return (R * by) @ sense / (by @ sense)

    train = lab_to_spectrum(paint_labs(np.random.default_rng(5), 60, 45))
    wanted = xyz_to_linear(lab_to_xyz(spectrum_to_lab(train)))
    matrix = np.linalg.lstsq(raw(train, _planck(6504)), wanted, rcond=None)[0]
    matrix = matrix / matrix.sum(axis=0)  # greys stay grey
    boost, cast = rng.uniform(*studio.saturation), np.exp(rng.normal(0, 0.08, 3))

    def see(R: np.ndarray) -> np.ndarray:
        rgb = raw(R, light) @ matrix
        grey = rgb.mean(axis=1, keepdims=True)
        return (grey + boost * (rgb - grey)) * cast

    return see


def _paint_spectra(labs: np.ndarray, rng: np.random.Generator, stray: float) -> np.ndarray:
    z = np.arctanh(np.clip(2 * lab_to_spectrum(labs) - 1, -0.998, 0.998))
    for i in range(len(z)):
        for _ in range(3):
            wave = np.sin(2 * np.pi * (NM - 380) / rng.uniform(60, 180) + rng.uniform(0, 6.28))
            z[i] += rng.normal(0, stray) * wave
    return (np.tanh(z) + 1) / 2


def _corners(rng: np.random.Generator, sheet: CardSheet, turn_deg: float | None, size_px) -> np.ndarray:
    centre = sheet.mark_centres_mm - np.array([sheet.width_mm, sheet.height_mm]) / 2
    turn = np.radians(rng.uniform(-8, 8) if turn_deg is None else turn_deg)
    spin = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    scale = min(size_px[0] / sheet.width_mm, size_px[1] / sheet.height_mm) * rng.uniform(0.72, 0.84)
    if abs(np.sin(turn)) > 0.5:
        scale *= 0.75
    flat = centre @ spin.T * scale
    # A tilt of the camera, seen in perspective.
    tilt = rng.uniform(-1, 1, 2) * 3e-4 * (WIDTH / size_px[0])
    return flat / (1 + flat @ tilt)[:, None] + np.array(size_px) / 2


def _scene(sheet, labs, mm, rng, see, studio, print_of_sheet):
    """What each pixel looks at, as the camera's linear light under even light, and the cards' true colours."""
    flat = np.ones(len(NM))
    table = lab_to_spectrum(np.array([[rng.uniform(30, 75), rng.uniform(0, 8), rng.uniform(0, 16)]]))
    out = np.tile(see(table)[0], (len(mm), 1))

    def grey_of(lightness: float) -> np.ndarray:
        Y = float(lab_to_xyz(np.array([lightness, 0.0, 0.0]))[1])
        return see(Y * flat[None])[0]

    # Paper is a little bluish.
    paper = see(
        np.clip(float(lab_to_xyz(np.array([sheet.paper_lightness, 0, 0]))[1]) * (1 + 0.02 * _bump(440, 25)), 0, 1)[None]
    )[0]
    on_sheet = _inside(mm, 0, 0, sheet.width_mm, sheet.height_mm)
    out[on_sheet] = paper
    if print_of_sheet is None:
        for i, (cx, cy) in enumerate(sheet.mark_centres_mm):
            half = sheet.mark_mm / 2
            out[_inside(mm, cx - half, cy - half, sheet.mark_mm, sheet.mark_mm)] = grey_of(20)
            if i == 0:
                hole = sheet.hole_mm / 2
                out[_inside(mm, cx - hole, cy - hole, sheet.hole_mm, sheet.hole_mm)] = paper
    else:
        rows, columns = print_of_sheet.shape[:2]
        at = np.floor(mm[on_sheet] / [sheet.width_mm, sheet.height_mm] * [columns, rows]).astype(int)
        ink = print_of_sheet[np.clip(at[:, 1], 0, rows - 1), np.clip(at[:, 0], 0, columns - 1)]
        Y = float(lab_to_xyz(np.array([sheet.paper_lightness, 0.0, 0.0]))[1])
        out[on_sheet] = paper * np.clip(ink, 0.03, Y) / Y  # no ink is darker than 3 %, none lighter than paper
    truth = {}
    for f in sheet.fields:
        if f.grey_lightness is not None:
            rgb = grey_of(f.grey_lightness)
            if print_of_sheet is not None:
                continue
        else:
            R = _paint_spectra(np.asarray(labs[f.name], dtype=float)[None], rng, studio.metamerism)
            truth[f.name] = spectrum_to_lab(R)[0]
            rgb = see(R)[0]
        out[_inside(mm, f.x_mm, f.y_mm, f.width_mm, f.height_mm)] = rgb
    return np.maximum(out, 0), truth


def _lens(x: np.ndarray, y: np.ndarray, rng: np.random.Generator, studio: Studio) -> np.ndarray:
    """A lens's shading: light falls off with the square of the distance from the photo's middle."""
    middle = np.array([x.max(), y.max()]) / 2
    off = np.hypot(x.ravel() - middle[0], y.ravel() - middle[1]) / np.hypot(*middle)
    return np.asarray(1 - rng.uniform(*studio.lens) * off**2)


def _kept(photo: np.ndarray, quality: int) -> np.ndarray:
    """The photo as a phone keeps it: JPEG, colour at half the resolution."""
    file = io.BytesIO()
    Image.fromarray(photo).save(file, "JPEG", quality=quality, subsampling=2)
    with Image.open(file) as kept:
        return np.asarray(kept.convert("RGB"))


def _light_of(sheet, mm, rng, studio, faults) -> np.ndarray:
    p = mm / np.array([sheet.width_mm, sheet.height_mm]) * 2 - 1
    slope, bend = rng.uniform(-studio.fall, studio.fall, 2), rng.uniform(-0.06, 0.02)
    light = np.exp(p @ slope + bend * (p**2).sum(axis=1))
    for f in sheet.fields:
        if faults.get(f.name) == "shadowed":
            # An edge of shadow across the card and the paper beside it.
            reach = f.width_mm * 0.55
            light *= np.where(_inside(mm, f.x_mm - 4, f.y_mm - 4, reach + 4, f.height_mm + 8), 0.5, 1.0)
    return light


def _picture(scene, rng, faults, sheet, mm, studio) -> np.ndarray:
    seen = scene * rng.uniform(0.62, 0.80) / np.quantile(scene.max(axis=1), 0.98)
    for f in sheet.fields:
        if faults.get(f.name) == "glossy":
            spot = np.hypot(*(mm - [f.x_mm + f.width_mm * 0.55, f.y_mm + f.height_mm * 0.45]).T)
            seen += 0.5 * np.exp(-0.5 * (spot / 3.0) ** 2)[:, None]
        if faults.get(f.name) == "clipped":  # so bright that red runs out of the photo's range
            seen[_inside(mm, f.x_mm, f.y_mm, f.width_mm, f.height_mm)] *= 2.5
    seen = np.maximum(seen, 0)
    # Photon noise grows with light, read noise does not.
    seen = seen + studio.noise * rng.normal(0, 1, seen.shape) * np.sqrt(2e-5 * seen + 2e-7)
    seen = np.clip(seen, 0, None) ** rng.uniform(0.9, 1.12)
    value = linear_to_srgb(np.clip(seen, 0, 1))
    contrast = rng.uniform(*studio.contrast)
    value = (1 - contrast) * value + contrast * value * value * (3 - 2 * value)
    return np.rint(np.clip(value, 0, 1) * 255).astype(np.uint8)


def _inside(mm: np.ndarray, x: float, y: float, width: float, height: float) -> np.ndarray:
    return (mm[:, 0] >= x) & (mm[:, 0] <= x + width) & (mm[:, 1] >= y) & (mm[:, 1] <= y + height)
