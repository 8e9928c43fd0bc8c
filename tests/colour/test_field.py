"""The fade: exact counts, homes, grain, pins, neighbours, independence; and measures that catch a bad one."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.colour.boards import grid, grid_edges

from bossage.colour.differ import clashing_pairs
from bossage.colour.field import Differ, FadeShape, FamilyPlace, spread_shades
from bossage.colour.homes import Box, Home, HomeKind, family_weights, path_coordinate
from bossage.colour.measures import BANDING_MOST, measure_fade
from bossage.colour.quotas import even_counts
from bossage.errors import BossageError, OutOfRange

LEFT = Home(kind=HomeKind.EDGE, x=0, y=0.5)
RIGHT = Home(kind=HomeKind.EDGE, x=1, y=0.5)
BELOW = Home(kind=HomeKind.EDGE, x=0.5, y=0)
ABOVE = Home(kind=HomeKind.EDGE, x=0.5, y=1)
LOWER_LEFT = Home(kind=HomeKind.CORNER, x=0, y=0)
UPPER_RIGHT = Home(kind=HomeKind.CORNER, x=1, y=1)
BETWEEN = Home(kind=HomeKind.BETWEEN)
RIM = Home(kind=HomeKind.RIM)
WHOLE = Home(kind=HomeKind.WHOLE)


def two(first: Home, second: Home, shades_n: int = 6) -> list[FamilyPlace]:
    return [FamilyPlace(shades_n=shades_n, home=first), FamilyPlace(shades_n=shades_n, home=second)]


THREE = [
    FamilyPlace(shades_n=3, home=LOWER_LEFT),
    FamilyPlace(shades_n=4, home=UPPER_RIGHT),
    FamilyPlace(shades_n=2, home=Home(kind=HomeKind.POINT, x=0.8, y=0.2)),
]


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from(list(FadeShape)),
    st.floats(0, 1.5),
    st.integers(0, 1000),
    st.dictionaries(st.integers(0, 95), st.integers(0, 8), max_size=12),
)
def test_counts_are_exact_and_pins_stay(shape, grain, seed, pins):
    points = grid(12, 8)
    counts = [9, 11, 10, 12, 12, 10, 12, 8, 12]
    pins = {block: k for i, (block, k) in enumerate(pins.items()) if list(pins.values())[: i + 1].count(k) <= 8}
    fade = spread_shades(points, THREE, seed=seed, shape=shape, grain=grain, counts=counts, pins=pins)
    assert fade.counts == tuple(counts)
    assert all(fade.shade[block] == k for block, k in pins.items())
    again = spread_shades(points, THREE, seed=seed, shape=shape, grain=grain, counts=counts, pins=pins)
    assert (fade.shade == again.shade).all()


def test_a_path_runs_from_home_to_home():
    fade = spread_shades(grid(14, 10), two(LEFT, RIGHT), seed=1)
    by_column = fade.shade.reshape(10, 14).mean(axis=0)
    assert (np.diff(by_column) > 0).all()
    assert fade.counts == even_counts(140, 12)
    up = spread_shades(grid(16, 9), two(BELOW, ABOVE), seed=1).shade.reshape(9, 16).mean(axis=1)
    assert (np.diff(up) > 0).all()


def test_a_diagonal_path_is_darkest_at_one_corner():
    shade = spread_shades(grid(14, 8), two(LOWER_LEFT, UPPER_RIGHT, 3), seed=2, grain=0.5).shade.reshape(8, 14)
    assert shade[0, 0] == 0
    assert shade[-1, -1] == 5
    assert abs(int(shade[0, -1]) - int(shade[-1, 0])) <= 3


def test_a_radial_path_ends_at_the_rim():
    families = [
        FamilyPlace(shades_n=3, home=Home(kind=HomeKind.POINT, x=0.35, y=0.6)),
        FamilyPlace(shades_n=2, home=BETWEEN),
        FamilyPlace(shades_n=2, home=RIM),
    ]
    shade = spread_shades(grid(16, 16), families, seed=2, grain=0).shade.reshape(16, 16)
    assert shade[9, 5] == 0
    rim = np.concatenate([shade[0], shade[-1], shade[:, 0], shade[:, -1]])
    assert rim.min() >= 5


def test_paths_cross_gaps_between_leaves_as_if_hung():
    left, right = grid(10, 10, 90.0), grid(10, 10, 90.0) + np.array([940.0, 0.0])
    fade = spread_shades(np.concatenate([left, right]), two(LEFT, RIGHT, 4), seed=1, grain=0)
    assert fade.shade[:100].max() <= fade.shade[100:].min()


def test_free_families_own_the_surroundings_of_their_homes():
    shade = spread_shades(grid(20, 12), THREE, seed=4, shape=FadeShape.FREE).shade.reshape(12, 20)
    assert shade[0, 0] == 0
    assert shade[-1, -1] == 3
    assert set(shade[1:4, 15:17].ravel()) <= {7, 8}


def test_families_without_a_place_are_strewn():
    fade = spread_shades(grid(12, 12), [FamilyPlace(shades_n=4, home=WHOLE)], seed=3)
    column = np.tile(np.arange(12), 12)
    assert abs(np.corrcoef(column, fade.shade)[0, 1]) < 0.15
    assert fade.counts == (36, 36, 36, 36)


def test_bands_are_flat_and_drift():
    families = [FamilyPlace(shades_n=1, home=h) for h in (LEFT, BETWEEN, BETWEEN, BETWEEN, RIGHT)]
    fade = spread_shades(grid(30, 10), families, seed=1, shape=FadeShape.BANDS)
    edges = grid_edges(30, 10)
    jump = np.abs(fade.shade[edges[:, 0]] - fade.shade[edges[:, 1]])
    # Flat: most neighbours agree, and where two bands meet they are neighbours in the order.
    assert (jump == 0).mean() > 0.75
    assert (jump <= 1).mean() > 0.97
    starts = [int(np.argmax(row >= 2)) for row in fade.shade.reshape(10, 30)]
    assert max(starts) > min(starts)
    measured = measure_fade(fade.shade, fade.off, edges)
    assert measured.largest_patch_share > 0.9


def test_free_counts_follow_the_fade():
    fade = spread_shades(grid(40, 5), two(LEFT, RIGHT, 2), seed=1, grain=1, free_counts=True)
    # The outer shades are wanted by half a step less of the way each.
    assert fade.counts[1] > fade.counts[0]
    assert sum(fade.counts) == 200


@pytest.mark.parametrize("shape", [FadeShape.PATH, FadeShape.FREE])
@pytest.mark.parametrize("free_counts", [False, True])
def test_neighbours_differ_where_asked(shape, free_counts):
    edges, points = grid_edges(14, 10), grid(14, 10)
    differ = Differ(edges=edges, clash=np.eye(12, dtype=bool))
    plain = spread_shades(points, two(LEFT, RIGHT), seed=3, shape=shape, free_counts=free_counts)
    parted = spread_shades(points, two(LEFT, RIGHT), seed=3, shape=shape, free_counts=free_counts, differ=differ)
    assert clashing_pairs(plain.shade, edges, differ.clash).sum() > 20
    assert parted.clashes == 0
    assert clashing_pairs(parted.shade, edges, differ.clash).sum() == 0
    if not free_counts:
        assert parted.counts == plain.counts
    column = np.tile(np.arange(14), 10)
    # In a path shades rise to the right; free families sit left and right, each darkening outward from its home.
    towards = parted.shade if shape is FadeShape.PATH else parted.shade >= 6
    assert np.corrcoef(column, towards)[0, 1] > (0.85 if shape is FadeShape.PATH else 0.6)


def test_neighbours_that_cannot_differ_are_counted_and_pins_stay():
    edges = grid_edges(4, 4)
    differ = Differ(edges=edges, clash=np.ones((2, 2), dtype=bool))
    pins = {0: 1, 5: 0}
    fade = spread_shades(grid(4, 4), two(LEFT, RIGHT, 1), seed=1, pins=pins, differ=differ)
    assert fade.clashes == len(edges)
    assert (fade.shade[0], fade.shade[5]) == (1, 0)


def test_a_banded_field_is_caught_and_a_grained_one_is_not():
    edges, families = grid_edges(36, 24), [FamilyPlace(shades_n=8, home=LEFT), FamilyPlace(shades_n=0, home=RIGHT)]
    measured = {}
    for grain in (0.0, 1.0, 1.5):
        fade = spread_shades(grid(36, 24), families, seed=3, grain=grain, free_counts=True)
        measured[grain] = measure_fade(fade.shade, fade.off, edges)
    # The reference note measured +0.50 without grain and -0.20 with it.
    assert measured[0.0].banding == pytest.approx(0.5, abs=0.05)
    assert measured[0.0].banding > BANDING_MOST
    assert measured[1.0].banding < 0
    assert measured[1.5].banding < 0
    assert measured[1.5].largest_patch_share < measured[0.0].largest_patch_share


def test_grain_keeps_neighbours_within_a_step():
    edges = grid_edges(36, 24)
    families = [FamilyPlace(shades_n=8, home=LEFT), FamilyPlace(shades_n=0, home=RIGHT)]
    for grain, most in ((1.0, 0.005), (1.5, 0.05)):
        shade = spread_shades(grid(36, 24), families, seed=3, grain=grain, free_counts=True).shade
        assert (np.abs(shade[edges[:, 0]] - shade[edges[:, 1]]) >= 2).mean() <= most


def test_a_figure_in_the_field_is_caught():
    points, edges = grid(20, 20), grid_edges(20, 20)
    fade = spread_shades(points, two(LEFT, RIGHT, 4), seed=1)
    off = fade.off.copy()
    plain = measure_fade(fade.shade, off, edges)
    assert plain.stray_patch <= plain.stray_patch_usual
    cross = (np.abs(points[:, 0] - 600) < 30) & (np.abs(points[:, 1] - 600) < 300)
    off[cross] += 2
    marked = measure_fade(fade.shade, off, edges)
    assert marked.stray_patch >= 9
    assert marked.stray_patch > marked.stray_patch_usual


def test_height_and_shade_are_independent_unless_made_not_to_be():
    rng = np.random.default_rng(2)
    level = rng.permutation(np.repeat([13.0, 18, 24, 29, 35, 40, 46], 20))
    fade = spread_shades(grid(14, 10), two(LEFT, RIGHT), seed=3)
    lightness = [52, 60, 68, 76, 84, 92, 92, 84, 76, 68, 60, 52]
    apart = measure_fade(fade.shade, fade.off, grid_edges(14, 10), lightness=lightness, level_mm=level)
    assert abs(apart.height_correlation) < apart.height_limit
    tied = measure_fade(fade.shade, fade.off, grid_edges(14, 10), level_mm=10 + fade.shade)
    assert tied.height_correlation == pytest.approx(1)


def test_seeds_give_other_fades():
    one, other = (spread_shades(grid(14, 10), two(LEFT, RIGHT), seed=s).shade for s in (1, 2))
    assert (one != other).sum() > 20


def test_refusals():
    with pytest.raises(OutOfRange, match="Grain is 2"):
        spread_shades(grid(4, 4), two(LEFT, RIGHT), seed=1, grain=2)
    with pytest.raises(BossageError, match=r"counts give 4 blocks.*there are 16"):
        spread_shades(grid(4, 4), two(LEFT, RIGHT, 1), seed=1, counts=(2, 2))
    with pytest.raises(BossageError, match="2 blocks are pinned to shade number 1, which may have 1"):
        spread_shades(grid(4, 4), two(LEFT, RIGHT, 1), seed=1, counts=(1, 15), pins={0: 0, 1: 0})


@given(st.floats(0, 1), st.floats(0, 1))
def test_weights_sum_to_one_and_a_home_is_its_own(x, y):
    homes = [LEFT, RIGHT, Home(kind=HomeKind.POINT, x=x, y=y)]
    box = Box(x_mm=0, y_mm=0, width_mm=800, height_mm=600)
    weight, out = family_weights(np.array([[x * 800, y * 600], [400.0, 300.0]]), box, homes)
    assert weight.sum(axis=1) == pytest.approx([1, 1])
    if 0.01 < x < 0.99:
        assert weight[0, 2] > 0.999
        assert out[0, 2] == pytest.approx(0, abs=1e-3)


def test_a_path_between_points_is_half_way_half_way():
    a, b = Home(kind=HomeKind.POINT, x=0.2, y=0.5), Home(kind=HomeKind.MIDDLE)
    box = Box(x_mm=0, y_mm=0, width_mm=100, height_mm=100)
    u = path_coordinate(np.array([[20.0, 50], [35, 50], [50, 50]]), box, a, b)
    assert u == pytest.approx([0, 0.5, 1])
