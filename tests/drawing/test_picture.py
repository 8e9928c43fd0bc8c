from __future__ import annotations

import io
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from bossage.drawing.box import Box
from bossage.drawing.picture import Flat, Light, Scene, Solids, linear, lit_picture, png_bytes, shadow


def _tower(height_mm=40.0, half=10, size=301):
    field = np.zeros((size, size))
    middle = size // 2
    field[middle - half : middle + half + 1, middle - half : middle + half + 1] = height_mm
    return field, middle


@pytest.mark.parametrize("elevation_deg", [20, 35, 45, 60])
@pytest.mark.parametrize(("azimuth_deg", "step"), [(0, (0, -1)), (90, (1, 0)), (180, (0, 1)), (270, (-1, 0))])
def test_shadow_of_a_tower_has_the_length_that_trigonometry_says(elevation_deg, azimuth_deg, step):
    px_per_mm = 1.0
    field, middle = _tower()
    dark = shadow(field, px_per_mm=px_per_mm, light=Light(azimuth_deg=azimuth_deg, elevation_deg=elevation_deg))
    row, column, count = middle, middle, 0
    while 0 <= row < 301 and 0 <= column < 301:
        count += bool(dark[row, column])
        row, column = row + step[0], column + step[1]
    # Pixels are asked at their middles, so a length may come out a pixel short or long.
    assert count == pytest.approx(40 / math.tan(math.radians(elevation_deg)) * px_per_mm, abs=1.001)


@pytest.mark.parametrize("azimuth_deg", [12, 30, 45, 57, 80, 100, 135, 160, 200, 225, 250, 290, 315, 350])
def test_slanting_shadow_is_the_tower_shifted_along_the_light(azimuth_deg):
    # The shadow of an upright box on the wall is its footprint swept by height / tan(elevation) away from the light.
    elevation_deg, height_mm = 40.0, 40.0
    field, middle = _tower(height_mm)
    dark = shadow(field, px_per_mm=1.0, light=Light(azimuth_deg=azimuth_deg, elevation_deg=elevation_deg))
    length = height_mm / math.tan(math.radians(elevation_deg))
    away = (-math.cos(math.radians(azimuth_deg)), math.sin(math.radians(azimuth_deg)))  # columns, rows downwards
    rows, columns = np.mgrid[0:301, 0:301]
    swept = np.zeros_like(dark)
    for t in np.linspace(0, length, 400):
        swept |= (abs(columns - middle - away[0] * t) <= 10.5) & (abs(rows - middle - away[1] * t) <= 10.5)
    on_wall = field == 0
    differing = (dark != swept) & on_wall
    # Only pixels on the outline may differ: fewer than the outline is long, none deeper than a pixel.
    assert differing.sum() <= 2 * (length + 42) * 1.5
    assert not dark[~on_wall].any()
    inner = swept & on_wall
    for shift in ((0, 1), (0, -1), (1, 0), (-1, 0), (1, 1), (-1, -1), (1, -1), (-1, 1)):
        inner &= np.roll(swept, shift, axis=(0, 1))
    assert dark[inner].all(), "light leaks into the shadow"


def test_flat_field_has_no_shadow():
    assert not shadow(np.full((50, 60), 12.5), px_per_mm=0.7, light=Light(azimuth_deg=33, elevation_deg=5)).any()


def test_a_thin_wall_across_the_light_leaks_nowhere():
    field = np.zeros((120, 120))
    field[60, :] = 30.0
    for azimuth_deg in (50, 75, 90, 101, 130):
        dark = shadow(field, px_per_mm=1.0, light=Light(azimuth_deg=azimuth_deg, elevation_deg=45))
        reach = int(30 * math.sin(math.radians(azimuth_deg))) - 1
        assert dark[61 : 61 + reach, 50:70].all()


def test_a_block_shades_its_lower_neighbour_by_the_difference_only():
    field = np.zeros((40, 100))
    field[:, 50:] = 20.0
    field[:, :50] = 12.0
    dark = shadow(field, px_per_mm=2.0, light=Light(azimuth_deg=0, elevation_deg=45))
    assert dark[20, :50].sum() == pytest.approx(8 * 2, abs=1)


@given(
    azimuth_deg=st.floats(0, 360),
    elevation_deg=st.floats(10, 80),
    turn=st.sampled_from([1, 2, 3]),
    seed=st.integers(0, 99),
)
@settings(max_examples=30, deadline=None)
def test_turning_the_field_and_the_light_turns_the_shadow(azimuth_deg, elevation_deg, turn, seed):
    field = np.kron(np.random.default_rng(seed).integers(0, 40, (4, 4)), np.ones((30, 30)))
    dark = shadow(field, px_per_mm=1.0, light=Light(azimuth_deg=azimuth_deg, elevation_deg=elevation_deg))
    turned = shadow(
        np.rot90(field, turn),
        px_per_mm=1.0,
        light=Light(azimuth_deg=azimuth_deg + 90 * turn, elevation_deg=elevation_deg),
    )
    assert (np.rot90(dark, turn) != turned).mean() < 0.03


def _scene(**changes):
    def one(*values):
        return np.array(values, dtype=float)

    solids = Solids(
        left_mm=one(20, 50),
        bottom_mm=one(20, 20),
        right_mm=one(50, 80),
        top_mm=one(60, 60),
        height_mm=one(20, 30),
        colour=np.array([linear("#a3b08c"), linear("#8d4d33")]),
    )
    window = Box(left_mm=0, bottom_mm=0, right_mm=100, top_mm=80)
    parts = {"window": window, "wall": linear("#e9e6e1"), "solids": solids}
    return Scene(**{**parts, **changes})


def test_a_face_in_full_light_has_the_colour_of_its_paint():
    picture = lit_picture(_scene(), px_per_mm=2.0)
    assert picture.shape == (160, 200, 3)
    top, left = (80 - 40) * 2, 68 * 2  # the higher block, away from its edges
    assert np.abs(picture[top, left].astype(int) - (0x8D, 0x4D, 0x33)).max() <= 2


def test_the_wall_is_darker_away_from_the_light_only():
    picture = lit_picture(_scene(), px_per_mm=2.0, light=Light(azimuth_deg=180, elevation_deg=45)).astype(int)
    middle = 80
    assert picture[middle, 2 * 90, 0] < picture[middle, 2 * 10, 0] - 20


def test_what_stands_before_covers_the_piece():
    bench = Flat(box=Box(left_mm=0, bottom_mm=0, right_mm=100, top_mm=40), colour=linear("#dedad4"))
    picture = lit_picture(_scene(before=(bench,)), px_per_mm=1.0)
    assert np.abs(picture[70, 60].astype(int) - (0xDE, 0xDA, 0xD4)).max() <= 1


def test_what_lies_outside_the_window_still_casts_its_shadow_in():
    whole = lit_picture(_scene(), px_per_mm=2.0)
    window = Box(left_mm=81, bottom_mm=0, right_mm=100, top_mm=80)
    part = lit_picture(_scene(window=window), px_per_mm=2.0)
    assert np.abs(whole[:, 162:].astype(int) - part.astype(int)).max() <= 12
    assert part.astype(int).min() < 190


def test_a_close_look_at_a_large_piece_shows_what_the_whole_picture_shows_there():
    side, n = 40.0, 24
    column, row = (grid.ravel() * side for grid in np.meshgrid(np.arange(n), np.arange(n)))
    levels = np.random.default_rng(7).integers(10, 60, n * n).astype(float)
    colour = np.tile(linear("#a3b08c"), (n * n, 1))
    solids = Solids(
        left_mm=column, bottom_mm=row, right_mm=column + side, top_mm=row + side, height_mm=levels, colour=colour
    )
    everything = Box(left_mm=0, bottom_mm=0, right_mm=n * side, top_mm=n * side)
    whole = lit_picture(_scene(window=everything, solids=solids), px_per_mm=1.0).astype(int)
    near = Box(left_mm=430, bottom_mm=430, right_mm=530, top_mm=530)
    part = lit_picture(_scene(window=near, solids=solids), px_per_mm=1.0).astype(int)
    same = np.abs(whole[430:530, 430:530] - part).max(axis=2) <= 12
    assert same.mean() > 0.97  # a ray may lie a pixel beside itself where it is counted from another edge


def test_the_file_is_the_same_each_time_and_knows_its_scale():
    picture = lit_picture(_scene(), px_per_mm=2.0)
    file = png_bytes(picture, px_per_mm=2.0)
    assert file == png_bytes(lit_picture(_scene(), px_per_mm=2.0), px_per_mm=2.0)
    read = Image.open(io.BytesIO(file))
    assert read.size == (200, 160)
    assert read.info["dpi"][0] == pytest.approx(50.8, abs=0.1)
