"""Exact counts at least cost, against scipy's assignment, and the share-out of counts."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from bossage.colour.quotas import assign_by_counts, cut_by_counts, even_counts
from bossage.errors import BossageError


def cost_of(cost: np.ndarray, shade: np.ndarray) -> float:
    return float(cost[np.arange(len(shade)), shade].sum())


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 60), st.integers(1, 7), st.integers(0, 10_000))
def test_no_assignment_is_cheaper(n, shades_n, seed):
    rng = np.random.default_rng(seed)
    cost = rng.integers(0, 6, (n, shades_n)) + rng.choice([0.0, 1e-3], size=(n, shades_n))
    counts = rng.multinomial(n, rng.dirichlet(np.ones(shades_n)))
    shade = assign_by_counts(cost, counts)
    assert np.bincount(shade, minlength=shades_n).tolist() == counts.tolist()
    slots = np.repeat(np.arange(shades_n), counts)
    i, j = linear_sum_assignment(cost[:, slots])
    assert cost_of(cost, shade) == pytest.approx(float(cost[:, slots][i, j].sum()), abs=1e-9)


def test_a_fade_of_1200_blocks_is_the_cheapest():
    rng = np.random.default_rng(7)
    cost = (np.sqrt(rng.random(1200))[:, None] * 11 - np.arange(12)) ** 2 + 3 * rng.random((1200, 12))
    counts = even_counts(1200, 12)
    slots = np.repeat(np.arange(12), counts)
    i, j = linear_sum_assignment(cost[:, slots])
    assert cost_of(cost, assign_by_counts(cost, counts)) == pytest.approx(float(cost[:, slots][i, j].sum()), abs=1e-8)


def test_sorting_and_cutting_is_as_good_as_assigning():
    rng = np.random.default_rng(3)
    wanted = rng.random(300) * 7
    counts = even_counts(300, 8)
    cost = (wanted[:, None] - np.arange(8)) ** 2
    cut = cut_by_counts(np.argsort(wanted), counts)
    assert cost_of(cost, cut) == pytest.approx(cost_of(cost, assign_by_counts(cost, counts)), abs=1e-9)


def test_counts_that_do_not_sum_are_refused():
    with pytest.raises(BossageError, match=r"sum to 9, but there are 10 blocks .* by \+1"):
        assign_by_counts(np.zeros((10, 3)), (3, 3, 3))


@given(st.integers(0, 2000), st.integers(1, 40))
def test_even_counts_are_even(total_n, shades_n):
    counts = even_counts(total_n, shades_n)
    assert sum(counts) == total_n
    assert max(counts) - min(counts) <= 1
