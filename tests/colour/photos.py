"""Made-up photos of a card sheet: a camera, a light, a tilt, noise, a fall of light, and faults put in on purpose.

The camera sees colours through a matrix near the identity (greys stay neutral in its own white balance), so that greys
alone cannot make it right; a tone curve and a cast of light come on top.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from bossage.colour.card_find import homography, onto_photo
from bossage.colour.card_sheet import CardSheet, card_sheet
from bossage.colour.spaces import into_gamut, lab_to_xyz, linear_to_srgb, xyz_to_linear

WIDTH, HEIGHT = 420, 320


@dataclass
class Shot:
    """One photo and the truth behind it."""

    photo: np.ndarray
    sheet: CardSheet
    corners_px: np.ndarray
    labs: dict[str, np.ndarray]
    faults: dict[str, str] = field(default_factory=dict)


def paint_labs(rng: np.random.Generator, count: int) -> np.ndarray:
    """Colours of painted cards: light tints to full strength, inside sRGB."""
    lab = np.stack(
        [
            rng.uniform(28, 90, count),
            *(rng.uniform(0, 42, count) * f(rng.uniform(0, 6.283, count)) for f in (np.cos, np.sin)),
        ],
        axis=1,
    )
    return into_gamut(lab)


def take_photo(seed: int, *, faults: dict[str, str] | None = None, turn_deg: float | None = None) -> Shot:
    """A photo; `faults` maps a card's name to 'glossy', 'clipped' or 'shadowed'."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(4, 13))
    names = [f"card {i + 1}" for i in range(count)]
    sheet = card_sheet(names)
    labs = dict(zip(names, paint_labs(rng, count), strict=True))
    for name, fault in (faults or {}).items():
        if fault == "clipped":
            labs[name] = np.array([64.0, 62.0, 58.0])
    corners = _corners(rng, sheet, turn_deg)
    H = homography(onto_photo(np.eye(3), sheet.mark_centres_mm), corners)
    x, y = np.meshgrid(np.arange(WIDTH), np.arange(HEIGHT))
    mm = onto_photo(np.linalg.inv(H), np.stack([x.ravel(), y.ravel()], axis=1).astype(float))
    scene = _scene(sheet, labs, mm, rng)
    scene = scene * _light_of(sheet, mm, rng, labs, faults or {})[:, None]
    return Shot(_camera(scene, rng, faults or {}, sheet, mm), sheet, corners, labs, dict(faults or {}))


def _corners(rng: np.random.Generator, sheet: CardSheet, turn_deg: float | None) -> np.ndarray:
    centre = sheet.mark_centres_mm - np.array([sheet.width_mm, sheet.height_mm]) / 2
    turn = np.radians(rng.uniform(-8, 8) if turn_deg is None else turn_deg)
    spin = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    scale = min(WIDTH / sheet.width_mm, HEIGHT / sheet.height_mm) * rng.uniform(0.72, 0.84)
    if abs(np.sin(turn)) > 0.5:
        scale *= 0.75
    flat = centre @ spin.T * scale
    # A tilt of the camera, seen in perspective.
    tilt = rng.uniform(-1, 1, 2) * 3e-4
    return flat / (1 + flat @ tilt)[:, None] + np.array([WIDTH, HEIGHT]) / 2


def _scene(sheet: CardSheet, labs: dict[str, np.ndarray], mm: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """Linear sRGB reflectance of what each pixel looks at: table, paper, marks, greys, cards."""
    table = xyz_to_linear(lab_to_xyz(np.array([rng.uniform(30, 75), rng.uniform(0, 8), rng.uniform(0, 16)])))
    out = np.tile(table, (len(mm), 1))
    paper = xyz_to_linear(lab_to_xyz(np.array([sheet.paper_lightness, 0.0, 0.0])))
    out[_inside(mm, 0, 0, sheet.width_mm, sheet.height_mm)] = paper
    for i, (cx, cy) in enumerate(sheet.mark_centres_mm):
        half = sheet.mark_mm / 2
        out[_inside(mm, cx - half, cy - half, sheet.mark_mm, sheet.mark_mm)] = 0.03
        if i == 0:
            hole = sheet.hole_mm / 2
            out[_inside(mm, cx - hole, cy - hole, sheet.hole_mm, sheet.hole_mm)] = paper
    for f in sheet.fields:
        lab = labs[f.name] if f.grey_lightness is None else np.array([f.grey_lightness, 0.0, 0.0])
        out[_inside(mm, f.x_mm, f.y_mm, f.width_mm, f.height_mm)] = xyz_to_linear(lab_to_xyz(lab))
    return np.maximum(out, 0)


def _light_of(sheet, mm, rng, labs, faults) -> np.ndarray:
    p = mm / np.array([sheet.width_mm, sheet.height_mm]) * 2 - 1
    slope, bend = rng.uniform(-0.15, 0.15, 2), rng.uniform(-0.06, 0.02)
    light = np.exp(p @ slope + bend * (p**2).sum(axis=1))
    for f in sheet.fields:
        if faults.get(f.name) == "shadowed":
            # An edge of shadow across the card and the paper beside it.
            reach = f.width_mm * 0.55
            light *= np.where(_inside(mm, f.x_mm - 4, f.y_mm - 4, reach + 4, f.height_mm + 8), 0.5, 1.0)
    return light


def _camera(scene, rng, faults, sheet, mm) -> np.ndarray:
    mix = np.eye(3) + rng.normal(0, 0.025, (3, 3)) * (1 - np.eye(3))
    mix /= mix.sum(axis=1, keepdims=True)
    cast = np.exp(rng.normal(0, 0.12, 3))
    seen = scene @ mix.T * cast
    paper = 0.85 * cast.max()
    seen *= rng.uniform(0.62, 0.80) / paper
    for f in sheet.fields:
        if faults.get(f.name) == "glossy":
            spot = np.hypot(*(mm - [f.x_mm + f.width_mm * 0.55, f.y_mm + f.height_mm * 0.45]).T)
            seen += 0.5 * np.exp(-0.5 * (spot / 3.0) ** 2)[:, None]
        if faults.get(f.name) == "clipped":  # so bright that red runs out of the photo's range
            seen[_inside(mm, f.x_mm, f.y_mm, f.width_mm, f.height_mm)] *= 2.5
    seen = np.maximum(seen, 0)
    # Photon noise grows with light, read noise does not.
    seen = seen + rng.normal(0, 1, seen.shape) * np.sqrt(2e-5 * seen + 2e-7)
    seen = np.clip(seen, 0, None) ** rng.uniform(0.9, 1.12)
    value = linear_to_srgb(np.clip(seen, 0, 1))
    contrast = rng.uniform(0, 0.25)
    value = (1 - contrast) * value + contrast * value * value * (3 - 2 * value)
    return np.rint(np.clip(value, 0, 1) * 255).astype(np.uint8).reshape(HEIGHT, WIDTH, 3)


def _inside(mm: np.ndarray, x: float, y: float, width: float, height: float) -> np.ndarray:
    return (mm[:, 0] >= x) & (mm[:, 0] <= x + width) & (mm[:, 1] >= y) & (mm[:, 1] <= y + height)
