"""Blue-noise ranks: a permutation, even at every cut, wherever the points lie; neighbours as by brute force."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.colour.boards import grid

from bossage.colour.rank import VOID_CLUSTER_MOST, blue_noise_rank, blue_noise_ranks, neighbours_within


def least_gap(points: np.ndarray) -> float:
    gap = np.linalg.norm(points[:, None] - points[None], axis=-1)
    np.fill_diagonal(gap, np.inf)
    return float(gap.min(axis=1).mean())


@pytest.mark.parametrize(
    ("columns", "rows", "gains"),
    [(36, 24, {0.05: 1.3, 0.15: 1.3, 0.3: 1.1}), (90, 60, {0.1: 1.1, 0.15: 1.1, 0.3: 1.05})],
)
def test_every_cut_is_spread_more_evenly_than_by_chance(columns, rows, gains):
    points = grid(columns, rows)
    assert (len(points) > VOID_CLUSTER_MOST) == (columns == 90)
    rank = blue_noise_rank(points, 5)
    chance = np.random.default_rng(5).permutation(len(points))
    for share, gain in gains.items():
        cut = share * len(points)
        assert least_gap(points[rank < cut]) > gain * least_gap(points[chance < cut])


def test_neighbours_differ_in_rank():
    noise = blue_noise_rank(grid(36, 24), 1).reshape(24, 36).astype(float)
    assert np.corrcoef(noise[:, 1:].ravel(), noise[:, :-1].ravel())[0, 1] < -0.2
    large = blue_noise_rank(grid(90, 60), 1).reshape(60, 90).astype(float)
    assert np.corrcoef(large[1:].ravel(), large[:-1].ravel())[0, 1] < -0.2


def test_rims_of_a_piece_get_their_share():
    points = grid(30, 30)
    rim = (points.min(axis=1) == 0) | (points.max(axis=1) == points.max())
    ranks = blue_noise_ranks(points, range(6))
    for share in (0.25, 0.75):
        assert np.mean([(rank[rim] < share * len(points)).mean() for rank in ranks]) == pytest.approx(share, abs=0.01)


@settings(max_examples=30, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 20), st.integers(0, 20)), min_size=1, max_size=60),
    st.floats(0.5, 8),
)
def test_neighbours_are_those_within_reach(cells, radius):
    points = np.array(cells, dtype=float)
    start, other, distance = neighbours_within(points, radius)
    gap = np.linalg.norm(points[:, None] - points[None], axis=-1)
    for i in range(len(points)):
        near = np.flatnonzero((gap[i] <= radius) & (np.arange(len(points)) != i))
        assert sorted(other[start[i] : start[i + 1]]) == near.tolist()
        assert distance[start[i] : start[i + 1]] == pytest.approx(gap[i, other[start[i] : start[i + 1]]])


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(st.floats(0, 500), st.floats(0, 500)), max_size=80), st.integers(0, 99))
def test_any_points_get_a_permutation_that_repeats(cells, seed):
    points = np.array(cells).reshape(-1, 2)
    rank = blue_noise_rank(points, seed)
    assert sorted(rank) == list(range(len(points)))
    assert (rank == blue_noise_rank(points, seed)).all()
    assert (blue_noise_ranks(points, (seed + 1, seed))[1] == rank).all()


def test_large_pieces_get_a_permutation():
    rng = np.random.default_rng(0)
    points = rng.uniform(0, 5000, (6000, 2))
    assert sorted(blue_noise_rank(points, 3)) == list(range(6000))
