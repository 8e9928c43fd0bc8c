"""Forces against sums done by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import nnls

from bossage.hang.statics import carried_shares, hinge_pull_n, pull_n, ride_up_n, wedge_n, weight_n

places = st.lists(st.integers(0, 40).map(lambda n: n * 50.0), min_size=1, max_size=7)


def test_weight_of_a_kilogram():
    assert weight_n(1000) == pytest.approx(9.80665, rel=1e-12)


def test_pull_by_moments_about_the_foot():
    # 200 N, 60 mm out, 600 mm between cleat line and spacer: 200 · 60 / 600
    assert pull_n(200, 60, 600) == pytest.approx(20)


def test_load_on_each_of_two_cleats_is_the_lever_rule():
    # Two short cleats, middles at 300 and 1100; the leaf weighs 240 N and balances at 500.
    # Moments about the left one: right · 800 = 240 · 200, so right 60 N and left 180 N.
    left, right = carried_shares([300, 1100], 500)
    assert (240 * left, 240 * right) == pytest.approx((180, 60))


def test_a_load_right_over_one_of_two_cleats_is_all_its_own():
    assert carried_shares([0, 800], 800) == pytest.approx((0, 1))


def test_a_load_outside_the_supports_is_carried_by_none():
    assert carried_shares([100, 500], 99) is None
    assert carried_shares([], 0) is None


def test_three_supports_share_alike_only_under_their_middle():
    assert carried_shares([0, 1, 2], 1) == pytest.approx((1 / 3,) * 3)


def test_hinge_by_moments_about_the_lower_one():
    # 101.5 N at 420 mm from the axis, hinges 340 mm apart: 101.5 · 420 / 340
    assert hinge_pull_n(101.5, 420, 340) == pytest.approx(125.38, abs=0.01)


def test_wedge_without_friction_is_the_tangent_of_the_slope():
    assert wedge_n(100, 45, 0) == pytest.approx(100)
    assert wedge_n(100, 30, 0) == pytest.approx(57.735, abs=1e-3)
    # friction 0.2 is an angle of 11.31°: tan(33.69°) is 2/3
    assert wedge_n(100, 45, 0.2) == pytest.approx(200 / 3)


def test_friction_holds_a_flat_slope_by_itself():
    assert wedge_n(100, 10, 0.2) == 0


@given(places, st.floats(0, 2000))
def test_shares_are_in_balance_and_those_of_equal_springs(x, at):
    shares = carried_shares(x, at)
    if shares is None:
        assert not min(x) <= at <= max(x)
        return
    assert math.fsum(shares) == pytest.approx(1)
    assert math.fsum(s * p for s, p in zip(shares, x, strict=True)) == pytest.approx(at, abs=1e-6)
    assert min(shares) >= 0  # not by a hair: a pull below nothing is refused further on
    # independent: of all forces in balance that only push, equal springs take those with the least energy
    heavy = 1e5
    energy = np.vstack([np.eye(len(x)), heavy * np.ones(len(x)), heavy * (np.asarray(x) - at) / 1000])
    least, _ = nnls(energy, np.concatenate([np.zeros(len(x)), [heavy, 0.0]]))
    assert shares == pytest.approx(least, abs=1e-4)


def test_a_load_off_the_middle_works_the_outer_support_harder():
    # five plugs 100 apart and a load 50 off their middle: 1/5 + 50 × 200 / (2 × (100² + 200²)) = 0.3
    assert max(carried_shares([0, 100, 200, 300, 400], 250)) == pytest.approx(0.3)
    # three studs of an elastic row: S1's 609.6, 1016 and 1422.4 mm with the weight at 938.4
    assert max(carried_shares([609.6, 1016, 1422.4], 938.4467)) == pytest.approx(0.42877, abs=1e-4)


def test_a_bevel_that_is_drawn_off_rides_up():
    # weight × tan(45° + atan 0.2) is 1.5 times the weight, with 0.5 three times; beyond 90° friction holds
    assert ride_up_n(100, 45, 0.2) == pytest.approx(150)
    assert ride_up_n(100, 45) == pytest.approx(300)
    assert ride_up_n(100, 60, 0.6) == math.inf
